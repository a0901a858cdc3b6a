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
    /// Columns where there is no terminal to be asked.
    columns: u16,
    /// What was said since the last rule, that line included: what stands above a list and must stay in sight.
    said: Vec<Said>,
    /// The lines that took.
    head: usize,
}

/// A piece of what was said, kept as it was before it was wrapped, so that another width can wrap it anew.
#[derive(Clone, Debug)]
enum Said {
    Rule(String),
    Line(String),
    Wrapped {
        lead: String,
        text: String,
        mark: Option<Mark>,
    },
}

/// Columns where nobody says how many there are.
const USUAL_COLUMNS: u16 = 80;

/// Fewest and most columns written in: what is narrower wraps by itself, and longer lines are hard to read.
const COLUMNS: (u16, u16) = (20, 120);

impl Screen {
    /// Talks on a terminal.
    #[must_use]
    pub fn terminal(term: Term, look: Look) -> Self {
        Self {
            term: Some(term),
            plain: Box::new(io::sink()),
            look,
            columns: USUAL_COLUMNS,
            said: Vec::new(),
            head: 0,
        }
    }

    /// Talks into a stream in plain lines, of so many columns where that is known.
    #[must_use]
    pub fn stream(out: Box<dyn Write>, look: Look, columns: Option<u16>) -> Self {
        Self {
            term: None,
            plain: out,
            look,
            columns: columns.unwrap_or(USUAL_COLUMNS.saturating_add(1)),
            said: Vec::new(),
            head: 0,
        }
    }

    /// Columns written in: those of the terminal within reason.
    pub(super) fn width(&self) -> usize {
        let columns = self
            .term
            .as_ref()
            .and_then(Term::size_checked)
            .map_or(self.columns, |(_, columns)| columns);
        // One column stays free, since some terminals wrap when the last one is written.
        usize::from(columns.clamp(COLUMNS.0, COLUMNS.1)).saturating_sub(1)
    }

    /// Whether there is so little room in a line that few words must do.
    pub(super) fn is_narrow(&self) -> bool {
        /// Columns from which on the usual words do. Our choice, no source.
        const ROOMY: usize = 55;
        self.width() < ROOMY
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

    pub(super) fn line(&mut self, text: &str) -> io::Result<()> {
        self.head += 1;
        self.said.push(Said::Line(text.to_owned()));
        self.passing_line(text)
    }

    /// Writes a line that will be cleared again, such as one of a list: it is no part of what was said.
    pub(super) fn passing_line(&mut self, text: &str) -> io::Result<()> {
        match &self.term {
            Some(term) => term.write_line(&visible_beside_marks(text)),
            None => writeln!(self.plain, "{}", visible_beside_marks(text)),
        }
    }

    /// Clears the terminal and says anew what was said since the last rule, at the width there is now.
    pub(super) fn said_again(&mut self) -> io::Result<()> {
        if let Some(term) = &self.term {
            term.clear_screen()?;
        }
        self.head = 0;
        for said in std::mem::take(&mut self.said) {
            match said {
                Said::Rule(words) => self.ruled(&words)?,
                Said::Line(text) => self.line(&text)?,
                Said::Wrapped { lead, text, mark } => self.wrapped(&lead, &text, mark)?,
            }
        }
        Ok(())
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
            self.head += 1;
            self.passing_line(&line)?;
        }
        self.said.push(Said::Wrapped {
            lead: lead.to_owned(),
            text: text.to_owned(),
            mark,
        });
        Ok(())
    }

    pub(super) fn wrap(&self, lead: &str, text: &str) -> Vec<String> {
        let lead_width = console::measure_text_width(lead);
        // Behind a long lead a column of single words would be hard to read.
        let indent = if lead_width * 2 > self.width() {
            4
        } else {
            lead_width
        };
        self.wrap_led(lead, &" ".repeat(indent), text)
    }

    /// Wraps text behind a lead; the further lines stand behind another one.
    fn wrap_led(&self, lead: &str, rest: &str, text: &str) -> Vec<String> {
        // Before the line is measured, since a character that is written out takes more room.
        let text = visible(text);
        let options = crate::report::layout::plain_wrap(self.width())
            .initial_indent(lead)
            .subsequent_indent(rest);
        text.lines()
            .enumerate()
            .flat_map(|(number, line)| {
                let options = if number == 0 {
                    options.clone()
                } else {
                    options.clone().initial_indent(rest)
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
        self.line("")?;
        self.head = 0;
        self.said.clear();
        self.ruled(words)
    }

    fn ruled(&mut self, words: &str) -> io::Result<()> {
        let width = self.width();
        // No word of it is cut off: it may be the one that says what is dangerous.
        let mut lines = self.wrap_led("== ", "   ", words);
        if let Some(last) = lines.last_mut() {
            last.push(' ');
            let rest = width.saturating_sub(console::measure_text_width(last));
            last.push_str(&"=".repeat(rest));
        }
        self.said.push(Said::Rule(words.to_owned()));
        for line in lines {
            let line = self.mark(line.trim_end(), Some(Mark::Quiet));
            self.head += 1;
            self.passing_line(&line)?;
        }
        Ok(())
    }

    /// Wraps what is offered beside a question; no offer is broken in two.
    pub(super) fn wrap_offers(&self, offers: &[String]) -> Vec<String> {
        if offers.is_empty() {
            return Vec::new();
        }
        // No-break spaces keep an offer on one line; they are plain spaces on the screen.
        let all: Vec<String> = offers.iter().map(|offer| offer.replace(' ', "\u{a0}")).collect();
        self.wrap("  ", &all.join("  "))
            .into_iter()
            .map(|line| line.replace('\u{a0}', " "))
            .collect()
    }

    pub(super) fn term(&self) -> Option<&Term> {
        self.term.as_ref()
    }
}
