//! A page as text for a terminal or a file.

use crate::report::CaseResult;
use crate::report::visible::visible;

use super::super::layout::{Layout, plain_wrap};
use super::block::{Block, Card, Page, Table};

/// Renders a page as text.
#[must_use]
pub fn render(page: &Page, result: &CaseResult, layout: Layout) -> String {
    let mut sheet = Sheet {
        layout,
        text: String::new(),
    };
    sheet.title(&page.title.to_uppercase());
    for pair in &page.head {
        sheet.labeled("", pair.label, &pair.text);
    }
    if !page.lead.is_empty() {
        sheet.text.push('\n');
    }
    for line in &page.lead {
        sheet.wrapped("", "", line);
    }
    for section in &page.sections {
        if matches!(section.blocks.as_slice(), [Block::OneLine]) {
            continue;
        }
        sheet.text.push('\n');
        sheet.title(&section.title.to_uppercase());
        for block in &section.blocks {
            write(&mut sheet, block, result);
        }
    }
    sheet.text.push('\n');
    for line in &page.foot {
        sheet.wrapped("", "", line);
    }
    sheet.text
}

fn write(sheet: &mut Sheet, block: &Block, result: &CaseResult) {
    match block {
        Block::Text(text) | Block::Strong(text) => sheet.wrapped("", "", text),
        Block::Heading(text) => sheet.title(text),
        Block::Points(points) => {
            for point in points {
                sheet.wrapped("- ", "  ", point);
            }
        }
        Block::Cautions(points) => {
            for point in points {
                sheet.wrapped("! ", "  ", point);
            }
        }
        Block::Card(Card { title, mark, pairs }) => {
            let mark = mark
                .as_deref()
                .map_or_else(String::new, |mark| format!(" ({mark})"));
            sheet.wrapped("* ", "  ", &format!("{title}{mark}"));
            for pair in pairs {
                sheet.labeled("   ", pair.label, &pair.text);
            }
        }
        Block::Table(Table { heads, rows }) => {
            for row in rows {
                let cells: Vec<String> = heads
                    .iter()
                    .zip(row)
                    .map(|(head, cell)| match cell.as_str() {
                        "" => format!("{}: ____", head.to_lowercase()),
                        cell => cell.to_owned(),
                    })
                    .collect();
                sheet.wrapped("- ", "  ", &cells.join(" | "));
            }
        }
        Block::OneLine => {}
        Block::Photographs => {
            for photograph in &result.head.photographs {
                let shows = photograph.shows.as_deref().unwrap_or("photograph");
                let line = format!("{shows}: {}, SHA-256 {}", photograph.path, photograph.sha256);
                sheet.wrapped("- ", "  ", &line);
            }
        }
        Block::Signatures(who) => {
            for who in who {
                sheet
                    .text
                    .push_str(&format!("\n{who}: ____________________  date: __________\n"));
            }
        }
    }
}

struct Sheet {
    layout: Layout,
    text: String,
}

impl Sheet {
    fn title(&mut self, text: &str) {
        let text = visible(text);
        for line in textwrap::wrap(&text, plain_wrap(self.layout.width)) {
            if self.layout.color {
                self.text.push_str(&format!("\u{1b}[1m{line}\u{1b}[0m\n"));
            } else {
                self.text.push_str(&format!("{line}\n"));
            }
        }
    }

    fn wrapped(&mut self, first: &str, rest: &str, text: &str) {
        let options = plain_wrap(self.layout.width)
            .initial_indent(first)
            .subsequent_indent(rest);
        for line in textwrap::wrap(&visible(text), options) {
            self.text.push_str(&line);
            self.text.push('\n');
        }
    }

    fn labeled(&mut self, indent: &str, label: &str, text: &str) {
        const COLUMN: usize = 12;
        // A label longer than its column still stands apart from its text.
        let label = format!("{} ", label.to_lowercase());
        let first = format!("{indent}{label:<COLUMN$}");
        let rest = " ".repeat(indent.len() + COLUMN);
        self.wrapped(&first, &rest, text);
    }
}
