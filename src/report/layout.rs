//! Lines of a width: what the text of a result is set with.

use super::visible::visible;
use super::wording::lower_first;

/// How the text is laid out.
#[derive(Clone, Copy, Debug)]
pub struct Layout {
    /// Columns available, at least 40.
    pub width: usize,
    /// Marks headings with escape sequences.
    pub color: bool,
}

/// Wrapping that fills each line before the next: what a technician reads is not set for looks.
pub(crate) fn plain_wrap<'a>(width: usize) -> textwrap::Options<'a> {
    textwrap::Options::new(width)
        .wrap_algorithm(textwrap::WrapAlgorithm::FirstFit)
        .word_separator(textwrap::WordSeparator::AsciiSpace)
        .word_splitter(textwrap::WordSplitter::NoHyphenation)
}

/// Words behind a lead, which further lines are set in by.
pub(crate) fn set_in(width: usize, lead: &str, words: &str) -> Vec<String> {
    let rest = " ".repeat(lead.chars().count());
    let options = plain_wrap(width).initial_indent(lead).subsequent_indent(&rest);
    let lines = textwrap::wrap(words, options).into_iter();
    lines.map(|line| line.into_owned()).collect()
}

pub(super) struct Page {
    layout: Layout,
    pub(super) text: String,
}

impl Page {
    pub(super) fn new(layout: Layout) -> Self {
        Self {
            layout,
            text: String::new(),
        }
    }

    pub(super) fn line(&mut self, line: &str) {
        self.text.push_str(line);
        self.text.push('\n');
    }

    pub(super) fn heading(&mut self, title: &str) {
        if !self.text.is_empty() {
            self.line("");
        }
        self.emphasized(title);
    }

    fn emphasized(&mut self, line: &str) {
        if self.layout.color {
            self.line(&format!("\u{1b}[1m{line}\u{1b}[0m"));
        } else {
            self.line(line);
        }
    }

    pub(super) fn strong(&mut self, text: &str) {
        let text = visible(text).replace(" %", "\u{a0}%");
        let options = plain_wrap(self.layout.width).subsequent_indent("   ");
        for line in textwrap::wrap(&text, options) {
            self.emphasized(&line.replace('\u{a0}', " "));
        }
    }

    pub(super) fn paragraph(&mut self, indent: &str, text: &str) {
        self.indented(indent, indent, text);
    }

    pub(super) fn item(&mut self, mark: &str, text: &str) {
        self.indented(&format!("{mark} "), "  ", text);
    }

    fn indented(&mut self, first: &str, further: &str, text: &str) {
        let options = plain_wrap(self.layout.width)
            .initial_indent(first)
            .subsequent_indent(further);
        for line in textwrap::wrap(&visible(text), options) {
            self.line(&line);
        }
    }

    pub(super) fn labeled(&mut self, label: &str, text: &str) {
        self.behind(&format!("   {label:<12}"), &lower_label(label, text));
    }

    /// Wrapped text behind a lead, which its further lines are set in by.
    pub(super) fn behind(&mut self, lead: &str, text: &str) {
        for line in self.hung(lead, text) {
            self.line(&line);
        }
    }

    /// The same, emphasized.
    pub(super) fn strong_behind(&mut self, lead: &str, text: &str) {
        for line in self.hung(lead, text) {
            self.emphasized(&line);
        }
    }

    fn hung(&self, lead: &str, text: &str) -> Vec<String> {
        // A figure keeps its percent sign on its line.
        let text = visible(text).replace(" %", "\u{a0}%");
        let lines = set_in(self.layout.width, lead, &text).into_iter();
        lines.map(|line| line.replace('\u{a0}', " ")).collect()
    }
}

/// Evidence reads on from its label; everything else is a sentence of its own.
fn lower_label(label: &str, text: &str) -> String {
    match label {
        "for" | "against" => lower_first(text),
        _ => text.to_owned(),
    }
}
