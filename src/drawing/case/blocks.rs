//! The pieces of a page as markup.

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use maud::{Markup, PreEscaped, html};

use crate::report::page::{Block, Card, Pair, Table};
use crate::report::{CaseResult, PhotographShown};

use super::one_line;
use crate::drawing::said;

/// Writes a piece.
pub(super) fn block(block: &Block, result: &CaseResult) -> Markup {
    match block {
        Block::Text(text) => html! { p { (said(text)) } },
        Block::Strong(text) => html! { p class="strong" { (said(text)) } },
        Block::Heading(text) => html! { h3 class="subject" { (said(text)) } },
        Block::Points(points) => html! { ul { @for point in points { li { (said(point)) } } } },
        Block::Cautions(points) => {
            html! { ul class="cautions" { @for point in points { li { (said(point)) } } } }
        }
        Block::Card(card) => self::card(card),
        Block::Table(table) => self::table(table),
        Block::OneLine => one_line::picture(&result.one_line),
        Block::Photographs => photographs(result),
        Block::Signatures(who) => html! {
            div class="signatures" {
                @for who in who {
                    div { span class="line" {} span { (said(who)) ", date" } }
                }
            }
        },
    }
}

/// Labels with what they say.
pub(super) fn pairs(pairs: &[Pair]) -> Markup {
    html! {
        dl {
            @for pair in pairs {
                div class=[class_of(pair.label)] { dt { (said(pair.label)) } dd { (said(&pair.text)) } }
            }
        }
    }
}

/// What must be done and what can hurt stand out.
fn class_of(label: &str) -> Option<&'static str> {
    match label {
        "Must be" | "Work" => Some("must"),
        "Caution" | "Hazard" => Some("warn"),
        _ => None,
    }
}

fn card(card: &Card) -> Markup {
    html! {
        article {
            h3 {
                (said(&card.title))
                @if let Some(mark) = &card.mark { " " span class="mark" { (said(mark)) } }
            }
            (pairs(&card.pairs))
        }
    }
}

fn table(table: &Table) -> Markup {
    html! {
        table {
            thead { tr { @for head in &table.heads { th scope="col" { (said(head)) } } } }
            tbody {
                @for row in &table.rows {
                    tr {
                        @for (head, cell) in table.heads.iter().zip(row) {
                            td data-head=(said(head)) class=[cell.is_empty().then_some("blank")] { (said(cell)) }
                        }
                    }
                }
            }
        }
    }
}

fn photographs(result: &CaseResult) -> Markup {
    html! {
        div class="photographs" {
            @for photograph in &result.head.photographs {
                (self::photograph(photograph, &result.head.clock(photograph.at)))
            }
        }
    }
}

fn photograph(photograph: &PhotographShown, at: &str) -> Markup {
    let shows = photograph.shows.as_deref().unwrap_or("Photograph");
    html! {
        figure {
            @match &photograph.picture {
                Some(Ok(jpeg)) => (image(jpeg, shows)),
                Some(Err(why)) => p class="missing" { "Not shown: " (said(why)) },
                None => p class="missing" { "Not shown: it was not looked for." },
            }
            figcaption {
                b { (said(shows)) } ", " (at)
                span class="seal" { (said(&photograph.path)) ", SHA-256 " code { (said(&photograph.sha256)) } }
            }
        }
    }
}

/// A picture inside the page. `html!` would not close the element, as XML wants it.
fn image(jpeg: &[u8], shows: &str) -> Markup {
    let alternative = html! { (said(shows)) }.into_string();
    PreEscaped(format!(
        "<img alt=\"{alternative}\" src=\"data:image/jpeg;base64,{}\"/>",
        STANDARD.encode(jpeg)
    ))
}
