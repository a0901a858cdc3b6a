//! Text on the screen: wrapping, marking, paging.

use std::io::{self, Write};

use console::Term;

use crate::report::visible::{visible, visible_beside_marks};

/// What the screen can do, decided once by whoever starts the program.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Look {
    /// Escape sequences for bold and color may be used.
    pub color: bool,
}

/// Meaning of a marked piece of text. The words say it too.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Mark {
    /// A question or a heading.
    Strong,
    /// Something that can hurt, or a defect.
    Danger,
    /// Something that is only at hand.
    Quiet,
}

/// Where the talk goes.
pub struct Screen {
    term: Option<Term>,
    plain: Box<dyn Write>,
    look: Look,
    /// Lines written since the last rule, that line included: what stands above a list and must stay in sight.
    head: usize,
}

impl Screen {
    /// Talks on a terminal.
    #[must_use]
    pub fn terminal(term: Term, look: Look) -> Self {
        Self {
            term: Some(term),
            plain: Box::new(io::sink()),
            look,
            head: 0,
        }
    }

    /// Talks into a stream that is no terminal.
    #[must_use]
    pub fn stream(out: Box<dyn Write>, look: Look) -> Self {
        Self {
            term: None,
            plain: out,
            look,
            head: 0,
        }
    }

    /// Columns: those of the terminal within reason, 80 elsewhere.
    pub(super) fn width(&self) -> usize {
        // One column stays free, since some terminals wrap when the last one is written.
        self.term
            .as_ref()
            .and_then(Term::size_checked)
            .map_or(80, |(_, columns)| {
                usize::from(columns.clamp(40, 100)).saturating_sub(1)
            })
    }

    /// Whether words are marked by escape sequences.
    pub(super) fn has_color(&self) -> bool {
        self.look.color
    }

    /// Rows of the terminal; many where there is none.
    pub(super) fn rows(&self) -> usize {
        self.term
            .as_ref()
            .and_then(Term::size_checked)
            .map_or(usize::MAX, |(rows, _)| usize::from(rows.max(8)))
    }

    /// How many lines stand since the last rule, that line included.
    pub(super) fn head(&self) -> usize {
        self.head
    }

    /// Takes lines back that were cleared again.
    pub(super) fn cleared(&mut self, lines: usize) {
        self.head = self.head.saturating_sub(lines);
    }

    pub(super) fn line(&mut self, text: &str) -> io::Result<()> {
        self.head += 1;
        match &self.term {
            Some(term) => term.write_line(&visible_beside_marks(text)),
            None => writeln!(self.plain, "{}", visible_beside_marks(text)),
        }
    }

    /// Writes without ending the line, and shows it at once.
    pub(super) fn part(&mut self, text: &str) -> io::Result<()> {
        let text = &visible(text);
        match &self.term {
            Some(term) => {
                term.write_str(text)?;
                term.flush()
            }
            None => {
                write!(self.plain, "{text}")?;
                self.plain.flush()
            }
        }
    }

    /// Writes wrapped text behind a lead, which the further lines are set in by.
    pub(super) fn wrapped(&mut self, lead: &str, text: &str, mark: Option<Mark>) -> io::Result<()> {
        for line in self.wrap(lead, text) {
            let line = self.mark(&line, mark);
            self.line(&line)?;
        }
        Ok(())
    }

    pub(super) fn wrap(&self, lead: &str, text: &str) -> Vec<String> {
        // Before the line is measured, since a character that is written out takes more room.
        let text = visible(text);
        let rest = " ".repeat(console::measure_text_width(lead));
        let options = crate::report::text::plain_wrap(self.width())
            .initial_indent(lead)
            .subsequent_indent(&rest);
        text.lines()
            .enumerate()
            .flat_map(|(number, line)| {
                let options = if number == 0 {
                    options.clone()
                } else {
                    options.clone().initial_indent(&rest)
                };
                textwrap::wrap(line, options)
                    .into_iter()
                    .map(|line| line.into_owned())
                    .collect::<Vec<_>>()
            })
            .collect()
    }

    pub(super) fn mark(&self, text: &str, mark: Option<Mark>) -> String {
        let code = match (self.look.color, mark) {
            (false, _) | (_, None) => return text.to_owned(),
            (true, Some(Mark::Strong)) => "1",
            (true, Some(Mark::Danger)) => "1;31",
            (true, Some(Mark::Quiet)) => "2",
        };
        format!("\u{1b}[{code}m{}\u{1b}[0m", visible(text))
    }

    /// A line across with a few words in it.
    pub(super) fn rule(&mut self, words: &str) -> io::Result<()> {
        let width = self.width();
        let left = format!("== {} ", visible(words));
        let line = format!("{left}{}", "=".repeat(width.saturating_sub(left.chars().count())));
        let line = self.mark(&console::truncate_str(&line, width, ""), Some(Mark::Quiet));
        self.line("")?;
        self.head = 0;
        self.line(&line)
    }

    pub(super) fn term(&self) -> Option<&Term> {
        self.term.as_ref()
    }
}
