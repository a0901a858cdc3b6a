//! A case as one page of HTML for one reader, with its one-line diagram.
//!
//! The page fetches nothing and runs nothing: style, diagram and small pictures stand in it, and its own policy forbids
//! the rest. It has no link, so no address of a note can become one. Everything that comes from a case goes through
//! `said`, the one way from text to markup. The page is well-formed XML too, so that a test can read it.

mod blocks;
mod one_line;

use maud::{DOCTYPE, Markup, PreEscaped, html};

use crate::drawing::said;
use crate::quantity::Word;
use crate::report::CaseResult;
use crate::report::page::{Block, Page, Reader};

/// Style sheet of the page and its diagram.
pub const STYLE: &str = include_str!("case.css");

/// What XML closes and `html!` would not; nothing of a case is in it.
const META: &str = "<meta charset=\"utf-8\"/>\n<meta name=\"viewport\" content=\"width=device-width, \
                    initial-scale=1\"/>\n<meta name=\"color-scheme\" content=\"light dark\"/>\n<meta \
                    http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'; \
                    img-src data:\"/>\n<meta name=\"referrer\" content=\"no-referrer\"/>\n";

/// Writes the page.
#[must_use]
pub fn write(page: &Page, result: &CaseResult) -> String {
    let markup = html! {
        (DOCTYPE)
        html xmlns="http://www.w3.org/1999/xhtml" lang="en" {
            head {
                (PreEscaped(META))
                title {
                    (said(&page.title))
                    @if page.reader != Reader::Customer { ": " (said(&result.complaint_name)) }
                }
                style { (PreEscaped(STYLE)) }
            }
            body class=(page.reader.word()) {
                header {
                    h1 { (said(&page.title)) }
                    @if !page.head.is_empty() {
                        (blocks::pairs(&page.head))
                    }
                    @for line in &page.lead {
                        p class="lead" { (said(line)) }
                    }
                }
                main {
                    @for section in &page.sections {
                        section {
                            @if section.folded {
                                details {
                                    summary { h2 { (said(&section.title)) } span class="hint" { "open to read or to print" } }
                                    (pieces(&section.blocks, result))
                                }
                            } @else {
                                h2 { (said(&section.title)) }
                                (pieces(&section.blocks, result))
                            }
                        }
                    }
                }
                footer {
                    @for line in &page.foot {
                        p { (said(line)) }
                    }
                }
            }
        }
    };
    let mut text = markup.into_string();
    text.push('\n');
    text
}

fn pieces(blocks: &[Block], result: &CaseResult) -> Markup {
    html! { @for block in blocks { (blocks::block(block, result)) } }
}
