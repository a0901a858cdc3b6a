//! The apprentice at the keyboard: an exercise on a screen, one question at a time, marked as an exercise everywhere.
//!
//! It shows and reads, and decides nothing: what a choice comes to is the session's business.

mod ask;
mod debrief;
mod moment;
mod words;

use std::io;

use crate::knowledge::model::TestIndex;
use crate::practice::{Choice, Debrief, Listed, Session, catalog};
use crate::walk::{Question, Refusal, RespondentError, caution};

use super::input::Input;
use super::pick::{ESCAPE, List, Picked, pick};
use super::screen::{Mark, Screen};

pub use debrief::{Part, debrief_lines};
pub use words::happened_lines;

/// An apprentice with a screen and a keyboard, or with lines of text.
pub struct Apprentice {
    screen: Screen,
    input: Input,
    /// Words are explained as they come.
    guided: bool,
    /// Words explained so far.
    explained: Vec<&'static str>,
}

/// Letters beside every moment of an exercise.
const LETTERS: [(char, &str); 9] = [
    ('o', "other test, by words"),
    ('f', "fact"),
    ('c', "calculation"),
    ('?', "reason and steps"),
    ('w', "words"),
    ('k', "known so far"),
    ('l', "what leads (a hint)"),
    ('g', "give up"),
    ('s', "stop"),
];

impl Apprentice {
    /// An apprentice who sees this screen and types here.
    #[must_use]
    pub fn new(screen: Screen, input: Input) -> Self {
        Self {
            screen,
            input,
            guided: false,
            explained: Vec::new(),
        }
    }

    /// Says something that is not a question.
    ///
    /// # Errors
    /// When the screen cannot be written.
    pub fn say(&mut self, text: &str) -> io::Result<()> {
        self.screen.wrapped("", text, None)
    }

    /// Lets the person choose an exercise of the list; nothing when none is wanted. `done` says of each how often it was walked.
    ///
    /// # Errors
    /// When no key can be had.
    pub fn choose(&mut self, listed: &[Listed], done: &[usize]) -> Result<Option<usize>, RespondentError> {
        self.screen.rule("EXERCISES: invented, no real case")?;
        self.screen
            .wrapped("", "Which one? New to it: take the first.", Some(Mark::Strong))?;
        let labels: Vec<String> = listed
            .iter()
            .zip(done)
            .map(|(listed, done)| {
                let walked = match done {
                    0 => String::new(),
                    1 => " (walked once)".to_owned(),
                    times => format!(" (walked {times} times)"),
                };
                format!("level {}: {}{walked}", listed.level.number(), listed.title)
            })
            .collect();
        let offers = ["d draw one", "s stop"].map(str::to_owned);
        match self.pick(&labels, &['d', 's'], &offers)? {
            Picked::Entry(place) => Ok(Some(place)),
            Picked::Letter('d') => Ok(None),
            Picked::Letter(_) | Picked::Stop => Err(RespondentError::Interrupted),
        }
    }

    /// Walks an exercise to its end. `false`: the person stopped before.
    ///
    /// # Errors
    /// When no key can be had.
    pub fn walk(
        &mut self,
        session: &mut Session<'_>,
        listed: Option<&Listed>,
        again: &str,
    ) -> Result<bool, RespondentError> {
        self.guided = listed.is_some_and(|listed| listed.guided);
        if !self.opening(session, listed, again)? {
            return Ok(false);
        }
        while session.ended().is_none() {
            let Some(choice) = self.moment(session)? else {
                return Ok(false);
            };
            match session.act(&choice) {
                Ok(happened) => {
                    if !self.show(session, &happened)? {
                        return Ok(false);
                    }
                }
                Err(refusal) => self.refused(&refusal)?,
            }
        }
        Ok(true)
    }

    fn refused(&mut self, refusal: &Refusal) -> io::Result<()> {
        self.screen
            .wrapped("  not taken: ", &refusal.reason, Some(Mark::Danger))
    }

    /// What the exercise is, and the customer's words. `false`: the person stopped.
    fn opening(
        &mut self,
        session: &Session<'_>,
        listed: Option<&Listed>,
        again: &str,
    ) -> Result<bool, RespondentError> {
        let knowledge = session.walk().knowledge();
        let exercise = session.exercise();
        self.screen
            .rule("EXERCISE: invented, nothing here is a real case")?;
        if let Some(listed) = listed {
            // Whoever takes the first one knows no levels yet.
            let title = if self.guided {
                format!("{} (guided)", listed.title)
            } else {
                format!("{} (level {})", listed.title, listed.level.number())
            };
            self.screen.wrapped("", &title, Some(Mark::Strong))?;
            self.screen.wrapped("teaches    ", &listed.teaches, None)?;
        }
        let customer = format!("\"{}\"", catalog::customer(knowledge, exercise.complaint));
        self.screen
            .wrapped("customer   ", &customer, Some(Mark::Strong))?;
        let complaint = knowledge.trees[exercise.complaint]
            .complaint
            .as_deref()
            .unwrap_or_default();
        self.screen.wrapped("complaint  ", complaint, None)?;
        let kind = &knowledge.equipment[exercise.equipment];
        self.screen.wrapped("equipment  ", &kind.name, None)?;
        let fitted: Vec<&str> = exercise
            .accessories
            .iter()
            .filter_map(|id| knowledge.accessory(id).map(|known| known.name.as_str()))
            .collect();
        if !fitted.is_empty() {
            self.screen.wrapped("fitted     ", &fitted.join("; "), None)?;
        }
        self.screen.wrapped(
            "again      ",
            &format!("lineside practice {again}"),
            Some(Mark::Quiet),
        )?;
        let how = if self.guided {
            "One fault is hidden in this unit. Answer 1 does what a seasoned technician would do next: look, ask or \
             measure, and you see what is found. Read why with ?. As soon as you think you know what is wrong, take \
             2 and say it. Words you may not know are explained below each question."
        } else {
            "One fault is hidden. Go with the walk, or choose any test, fact or calculation. Each costs minutes; \
             what is not safe yet is stopped and explained. Say what it is as soon as you know."
        };
        self.screen.wrapped("", how, None)?;
        self.screen
            .wrapped("  ! ", caution::STANDING_STATEMENT, Some(Mark::Quiet))?;
        Ok(self.wait("go on")? != Waited::Stop)
    }

    /// Waits for a key. Lines that are read one by one wait for nothing.
    fn wait(&mut self, label: &str) -> Result<Waited, RespondentError> {
        if self.screen.term().is_none() {
            return Ok(Waited::On);
        }
        let letters = ['b', 'q', ESCAPE];
        Ok(match self.pick(&[label.to_owned()], &letters, &[])? {
            Picked::Entry(_) => Waited::On,
            Picked::Letter(_) => Waited::Back,
            Picked::Stop => Waited::Stop,
        })
    }

    /// Shows lines a screen at a time. Nothing when the person stops there.
    fn page(&mut self, title: &str, lines: &[String], done: &str) -> Result<Option<()>, RespondentError> {
        let room = self.screen.rows().saturating_sub(4).max(4);
        for (number, page) in lines.chunks(room).enumerate() {
            self.screen.rule(&format!("EXERCISE: {title}"))?;
            for line in page {
                self.screen.line(line)?;
            }
            let left = lines.len().saturating_sub((number + 1) * room);
            let label = if left > 0 {
                format!("more ({left} lines)")
            } else {
                done.to_owned()
            };
            match self.wait(&label)? {
                Waited::On => {}
                Waited::Back => break,
                Waited::Stop => return Ok(None),
            }
        }
        Ok(Some(()))
    }

    /// The head of every moment: that it is an exercise, and what it has cost.
    fn head(&mut self, session: &Session<'_>, what: &str) -> io::Result<()> {
        self.screen
            .rule(&format!("EXERCISE, {}: {what}", words::cost(session)))
    }

    /// Explains the words of a text that were not explained yet, in the first exercise.
    fn explain(&mut self, text: &str) -> io::Result<()> {
        /// More would push the question off a small screen.
        const AT_ONCE: usize = 3;
        if !self.guided {
            return Ok(());
        }
        let known = &self.explained;
        let new: Vec<(&str, &str)> = catalog::explained(text)
            .into_iter()
            .filter(|(word, _)| !known.contains(word))
            .take(AT_ONCE)
            .collect();
        for (word, meaning) in new {
            self.explained.push(word);
            self.screen
                .wrapped(&format!("  {word}: "), meaning, Some(Mark::Quiet))?;
        }
        Ok(())
    }

    /// Shows the debrief until the person leaves it.
    ///
    /// # Errors
    /// When no key can be had.
    pub fn debrief(
        &mut self,
        session: &Session<'_>,
        debrief: &Debrief,
        again: &str,
    ) -> Result<(), RespondentError> {
        let width = self.screen.width();
        let lines = |part: Part| debrief_lines(session, debrief, part, again, width);
        if self.screen.term().is_none() {
            for part in Part::ALL {
                self.screen.rule(&format!("EXERCISE: {}", part.title()))?;
                for line in lines(part) {
                    self.screen.line(&line)?;
                }
            }
            return Ok(());
        }
        let shown: Vec<(Part, Vec<String>)> = Part::ALL.into_iter().map(|part| (part, lines(part))).collect();
        let keys = shown
            .iter()
            .filter(|(part, lines)| *part != Part::Truth && !lines.is_empty());
        let keys: Vec<(char, Part)> = keys.map(|(part, _)| (part.key(), *part)).collect();
        let offers: Vec<String> = keys
            .iter()
            .map(|(key, part)| format!("{key} {}", part.title()))
            .collect();
        let mut letters: Vec<char> = keys.iter().map(|(key, _)| *key).collect();
        letters.extend(['q', ESCAPE]);
        loop {
            let title = format!("EXERCISE over: {}", words::verdict(debrief));
            // Besides it stand the rule, the entry, the letters and the cursor's line.
            let lines = self.screen.wrap_offers(&offers).len();
            let room = self.screen.rows().saturating_sub(lines + 3);
            let first = &shown[0].1;
            // Nothing of it may scroll away unread: what does not fit is read first.
            let (above, last) = first.split_at(first.len().saturating_sub(room));
            if !above.is_empty() && self.page(words::verdict(debrief), above, "go on")?.is_none() {
                return Ok(());
            }
            self.screen.rule(&title)?;
            for line in last {
                self.screen.line(line)?;
            }
            match self.pick(&["End here".to_owned()], &letters, &offers)? {
                Picked::Letter(letter) => {
                    let Some((_, part)) = keys.iter().find(|(key, _)| *key == letter) else {
                        return Ok(());
                    };
                    let text = shown
                        .iter()
                        .find(|(of, _)| of == part)
                        .map_or(&[][..], |(_, text)| text);
                    if self.page(part.title(), text, "back")?.is_none() {
                        return Ok(());
                    }
                }
                Picked::Entry(_) | Picked::Stop => return Ok(()),
            }
        }
    }

    /// Lets the person pick an entry or one of the letters.
    fn pick(
        &mut self,
        entries: &[String],
        letters: &[char],
        offers: &[String],
    ) -> Result<Picked, RespondentError> {
        let mut list = List {
            entries,
            letters,
            offers,
            ..List::default()
        };
        self.input.drain();
        pick(&mut self.screen, &mut self.input, &mut list)
    }

    /// The test the moment is about.
    fn about(session: &Session<'_>) -> Option<TestIndex> {
        session.waiting().or(match session.question() {
            Question::Test { test, .. } | Question::Caution { test, .. } => Some(*test),
            _ => None,
        })
    }
}

/// What was pressed where there is only one thing to do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Waited {
    /// It goes on.
    On,
    /// Back to where it was opened from.
    Back,
    /// The person stops.
    Stop,
}

/// What a letter leads to.
enum Turn {
    /// This choice.
    Do(Choice),
    /// The same moment again.
    Stay,
    /// The person stops.
    Leave,
}
