//! The respondent at the keyboard.

use crate::knowledge::indexed::Indexed;
use crate::knowledge::model::{CauseIndex, State};
use crate::knowledge::render::count;
use crate::walk::{Event, Question, Reply, RespondentError, Walk};

use super::blocks;
use super::input::Input;
use super::letters::{Offer, in_few_words};
use super::pick::{ESCAPE, List, Picked, Said, pick, pick_or_search};
use super::screen::{Mark, Screen};

/// A person with a screen and a keyboard, or with lines of text.
pub struct Person {
    pub(super) screen: Screen,
    pub(super) input: Input,
    opened: bool,
    /// Probabilities by cause before the last answer.
    pub(super) before: Indexed<CauseIndex, f64>,
    /// Ids of the holds that stood before it.
    pub(super) held: Vec<String>,
    /// The next outcome picked is only thought to be true.
    pub(super) unsure: bool,
    /// The letters that mean something at this question.
    pub(super) offers: Vec<Offer>,
    /// One key answered what stood before: why an Enter that follows is not taken for the next answer.
    pub(super) after_key: Option<&'static str>,
    /// Words the complaint was found by, until they were searched for among what was told.
    pub(super) words: String,
    /// What was marked in a list that something else came between.
    pub(super) marks: Vec<String>,
    /// States whose cautions were read in this sitting.
    pub(super) read: Vec<State>,
    /// A remark that was just made, until it was looked through for dangers.
    pub(super) noted: Option<String>,
    /// What was said with the reply before it, and is given next.
    pub(super) queued: Option<Reply>,
}

/// What is said of an Enter after the one key that was enough.
const AFTER_NUMBER: &str = "the number was enough; Enter again takes the marked line";
const AFTER_LETTER: &str = "the letter was enough; Enter again takes the marked line";

impl Person {
    /// A person who sees this screen and types here.
    #[must_use]
    pub fn new(screen: Screen, input: Input) -> Self {
        Self {
            screen,
            input,
            opened: false,
            before: Indexed::default(),
            held: Vec::new(),
            unsure: false,
            offers: Vec::new(),
            after_key: None,
            words: String::new(),
            marks: Vec::new(),
            read: Vec::new(),
            noted: None,
            queued: None,
        }
    }

    /// Shows once what stands before the first question. A reply comes back only when the person stops there.
    ///
    /// # Errors
    /// When the screen cannot be written, or no key can be read.
    pub fn open(&mut self, walk: &Walk<'_>) -> Result<Option<Reply>, RespondentError> {
        if std::mem::replace(&mut self.opened, true) {
            return Ok(None);
        }
        let opening = blocks::opening(&mut self.screen, walk.steps() > 0)?;
        if walk.steps() > 0 {
            for line in &opening {
                self.screen.line(line)?;
            }
            self.remind_of_case(walk)
        } else {
            // The list of complaints would push it off a small screen.
            self.page(&opening, "read; go on")
        }
    }

    /// Asks for one line that may be left empty; `?` says why it is asked. Nothing comes back when the person stops there.
    ///
    /// # Errors
    /// When the screen cannot be written, or nothing can be read.
    pub fn one_line(
        &mut self,
        heading: &str,
        ask: &str,
        (prompt, why): (&str, &str),
    ) -> Result<Option<String>, RespondentError> {
        self.input.drain();
        self.screen.rule(heading)?;
        self.screen.wrapped("", ask, Some(Mark::Strong))?;
        let mut typed = self.input.text(&mut self.screen, prompt);
        if matches!(&typed, Ok(typed) if typed.is_empty()) && self.after_key.take().is_some() {
            let enough = "the number was enough; Enter again leaves this empty";
            self.screen.wrapped("  ", enough, None)?;
            typed = self.input.text(&mut self.screen, prompt);
        }
        while matches!(&typed, Ok(typed) if typed == "?") {
            self.screen.wrapped("  why: ", why, None)?;
            typed = self.input.text(&mut self.screen, prompt);
        }
        match typed {
            Ok(typed) if typed.eq_ignore_ascii_case("s") => Ok(None),
            // Other letters that mean something at a question: there is nothing to say here.
            Ok(typed) if typed.chars().count() == 1 => Ok(Some(String::new())),
            Ok(typed) => Ok(Some(typed)),
            Err(RespondentError::Interrupted) if !self.input.told_to_end() => Ok(None),
            Err(error) => Err(error),
        }
    }

    /// Says something that is not a question, such as where the case is kept.
    ///
    /// # Errors
    /// When the screen cannot be written.
    pub fn say(&mut self, text: &str) -> std::io::Result<()> {
        self.screen.wrapped("", text, None)
    }

    /// Shows what came of the case before a callback, on screens that wait, and asks whether equipment and plate are the same
    /// still. Nothing comes back when the person stops there.
    ///
    /// # Errors
    /// When the screen cannot be written, or no key can be read.
    pub fn visit_before(
        &mut self,
        said: &[String],
        dangers: &[String],
        plate: &[String],
    ) -> Result<Option<bool>, RespondentError> {
        self.screen.rule("the visit before")?;
        let wrapped = |lead: &str, text: &String| self.screen.wrap(lead, text);
        let mut lines: Vec<String> = said.iter().flat_map(|text| wrapped("  ", text)).collect();
        for text in dangers {
            let danger = wrapped("  ! ", text);
            lines.extend(
                danger
                    .iter()
                    .map(|line| self.screen.mark(line, Some(Mark::Danger))),
            );
        }
        if self.page(&lines, "go on")?.is_some() {
            return Ok(None);
        }
        if plate.is_empty() {
            return Ok(Some(false));
        }
        self.screen.rule("equipment and plate, as they were then")?;
        let lines: Vec<String> = plate
            .iter()
            .flat_map(|text| self.screen.wrap("  ", text))
            .collect();
        // With what is asked below them they must stay on the screen.
        let room = self.screen.rows().saturating_sub(8).max(4);
        let (above, last) = lines.split_at(lines.len().saturating_sub(room));
        if !above.is_empty() && self.page(above, "the rest")?.is_some() {
            return Ok(None);
        }
        for line in last {
            self.screen.line(line)?;
        }
        let entries = [
            "The same still: take all of it over".to_owned(),
            "Something was changed: ask all of it anew".to_owned(),
        ];
        let mut list = List {
            entries: &entries,
            ..List::default()
        };
        loop {
            let picked = pick(&mut self.screen, &mut self.input, &mut list)?;
            self.after_key = list.one_key.then_some(AFTER_NUMBER);
            match picked {
                Picked::Entry(place) => return Ok(Some(place == 0)),
                Picked::Stop => return Ok(None),
                Picked::Letter(_) => {}
            }
        }
    }

    /// Reminds a person who goes on with a case of what it was and how it stood, and waits, since the question
    /// would push it off a small screen together with what was said about the file.
    fn remind_of_case(&mut self, walk: &Walk<'_>) -> Result<Option<Reply>, RespondentError> {
        self.screen.rule("so far")?;
        let (first, rest): (Vec<&Event>, Vec<&Event>) = walk
            .entries()
            .iter()
            .filter(|entry| {
                entry.is_step()
                    && !matches!(entry, Event::Offered { .. } | Event::Able { .. } | Event::Further)
            })
            .partition(|entry| {
                matches!(
                    entry,
                    Event::Complaint { .. } | Event::Equipment { .. } | Event::Accessories { .. }
                )
            });
        let mut lines: Vec<String> = first
            .into_iter()
            .flat_map(|step| self.screen.wrap("  ", &blocks::step_words(walk, step)))
            .collect();
        if let Some(last) = rest.last() {
            let answers = count(rest.len(), "answer");
            let line = format!("{answers}, the last: {}", blocks::step_words(walk, last));
            lines.extend(self.screen.wrap("  ", &line));
        }
        // Before anything is asked: the next look may already be in the cabinet.
        lines.extend(blocks::dangers(&self.screen, walk));
        // Above the orders of a stop nothing is said of causes.
        if !matches!(walk.question(), Question::Halt { .. }) {
            lines.extend(blocks::standing(&self.screen, walk, &Indexed::default()));
        }
        lines.extend(blocks::state_again(&self.screen, walk));
        self.page(&lines, "go on")
    }

    /// Picks from a list in which words mean nothing.
    pub(super) fn pick(&mut self, labels: &[String]) -> Result<Picked, RespondentError> {
        let letters = self.letters(false);
        let offers = self.offers_said(false);
        loop {
            let (said, _) = self.pick_in(List {
                entries: labels,
                letters: &letters,
                offers: &offers,
                ..List::default()
            })?;
            if let Said::Picked(picked) = said {
                return Ok(picked);
            }
        }
    }

    /// Picks from a list of a question, and says which entry to go on at.
    pub(super) fn pick_in(&mut self, mut list: List<'_>) -> Result<(Said, usize), RespondentError> {
        list.doubt = self.after_key.take().or(list.doubt);
        let said = if list.words {
            pick_or_search(&mut self.screen, &mut self.input, &mut list)?
        } else {
            Said::Picked(pick(&mut self.screen, &mut self.input, &mut list)?)
        };
        self.after_key = match said {
            Said::Picked(Picked::Letter('x')) => Some(AFTER_LETTER),
            Said::Picked(Picked::Entry(_)) if list.one_key => Some(AFTER_NUMBER),
            _ => None,
        };
        Ok((said, list.at))
    }

    /// The letters that mean something now.
    fn offered(&self, unsure: bool) -> impl Iterator<Item = Offer> {
        self.offers
            .iter()
            .copied()
            .filter(move |(letter, _)| unsure || *letter != 't')
    }

    pub(super) fn letters(&self, unsure: bool) -> Vec<char> {
        self.offered(unsure).map(|(letter, _)| letter).collect()
    }

    pub(super) fn offers_said(&self, unsure: bool) -> Vec<String> {
        let narrow = self.screen.is_narrow();
        self.offered(unsure)
            .map(|(letter, words)| {
                let words = if narrow {
                    in_few_words(letter, words)
                } else {
                    words
                };
                format!("{letter} {words}")
            })
            .collect()
    }

    /// Those, and that any other letter begins words. By lines the prompt says it.
    pub(super) fn offers_and_words(&self, unsure: bool) -> Vec<String> {
        let mut said = self.offers_said(unsure);
        if matches!(self.input, Input::Keys(_)) {
            // The last one says how to leave.
            said.insert(said.len().saturating_sub(1), "other letters: words".to_owned());
        }
        said
    }

    /// Shows lines a screen at a time, and waits after each so that nothing scrolls away unread. Nothing comes back
    /// unless the person stops here.
    pub(super) fn page(&mut self, lines: &[String], done: &str) -> Result<Option<Reply>, RespondentError> {
        let room = self.screen.rows().saturating_sub(4).max(4);
        let waits = self.screen.term().is_some();
        for (number, page) in lines.chunks(room).enumerate() {
            for line in page {
                self.screen.line(line)?;
            }
            if !waits {
                continue;
            }
            let left = lines.len().saturating_sub((number + 1) * room);
            let label = if left > 0 {
                format!("more ({left} lines)")
            } else {
                done.to_owned()
            };
            let mut list = List {
                entries: &[label],
                letters: &['b', 'q', ESCAPE],
                ..List::default()
            };
            let picked = pick(&mut self.screen, &mut self.input, &mut list)?;
            self.after_key = list.one_key.then_some(AFTER_NUMBER);
            match picked {
                Picked::Entry(_) => {}
                Picked::Letter(_) => break,
                Picked::Stop => return Ok(Some(Reply::Stop)),
            }
        }
        self.screen.line("")?;
        Ok(None)
    }

    /// Lets the person pick an entry, or leave the list by `b` or Escape.
    pub(super) fn pick_or_back(&mut self, entries: &[String], back: &str) -> Result<Picked, RespondentError> {
        self.pick_or_letter(entries, &[('b', back)])
    }

    /// The same with other letters besides; a letter that comes back and is none of them leaves.
    pub(super) fn pick_or_letter(
        &mut self,
        entries: &[String],
        letters: &[(char, &str)],
    ) -> Result<Picked, RespondentError> {
        let offers: Vec<String> = letters
            .iter()
            .map(|(letter, words)| match letter {
                'b' if self.screen.term().is_some() => format!("b or Esc: {words}"),
                _ => format!("{letter} {words}"),
            })
            .collect();
        let letters: Vec<char> = letters
            .iter()
            .map(|(letter, _)| *letter)
            .chain([ESCAPE])
            .collect();
        let (said, _) = self.pick_in(List {
            entries,
            letters: &letters,
            offers: &offers,
            ..List::default()
        })?;
        Ok(match said {
            Said::Picked(picked) => picked,
            // No words are read here.
            Said::Words(_) => Picked::Letter('b'),
        })
    }
}
