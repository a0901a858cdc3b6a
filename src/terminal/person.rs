//! The respondent at the keyboard.

use crate::knowledge::model::{FactIndex, TestIndex, TestKind};
use crate::quantity::{Value, ValueKind};
use crate::walk::{
    Event, Given, LEANING_WORD, NO_ACCESSORY, NOTHING, Prompt, Question, Refusal, Reply, Respondent,
    RespondentError, Walk,
};

use super::blocks;
use super::input::Input;
use super::marking::{Ending, markable};
use super::offers::{Offer, in_few_words, offers};
use super::pick::{ESCAPE, List, Picked, Said, pick, pick_or_search};
use super::screen::{Mark, Screen};
use super::typed::value_prompt;
use super::words::Found;

/// A person with a screen and a keyboard, or with lines of text.
pub struct Person {
    pub(super) screen: Screen,
    pub(super) input: Input,
    opened: bool,
    /// Probabilities by cause before the last answer.
    before: Vec<f64>,
    /// The next outcome picked is only thought to be true.
    pub(super) unsure: bool,
    /// The letters that mean something at this question.
    offers: Vec<Offer>,
    /// One key answered what stood before: why an Enter that follows is not taken for the next answer.
    pub(super) after_key: Option<&'static str>,
    /// Words the complaint was found by, until they were searched for among what was told.
    pub(super) words: String,
    /// What was marked in a list that something else came between.
    pub(super) marks: Vec<String>,
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
            before: Vec::new(),
            unsure: false,
            offers: Vec::new(),
            after_key: None,
            words: String::new(),
            marks: Vec::new(),
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
        let opening = blocks::opening(&mut self.screen)?;
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

    /// Asks for one line that may be left empty. Nothing comes back when the person stops there.
    ///
    /// # Errors
    /// When the screen cannot be written, or nothing can be read.
    pub fn one_line(
        &mut self,
        heading: &str,
        ask: &str,
        prompt: &str,
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
            let count = match rest.len() {
                1 => "1 answer".to_owned(),
                count => format!("{count} answers"),
            };
            let line = format!("{count}, the last: {}", blocks::step_words(walk, last));
            lines.extend(self.screen.wrap("  ", &line));
        }
        lines.extend(blocks::standing(&self.screen, walk, &[]));
        lines.extend(blocks::state_again(&self.screen, walk));
        self.page(&lines, "go on")
    }

    fn ask(&mut self, walk: &Walk<'_>) -> Result<Reply, RespondentError> {
        match walk.question() {
            Question::Complaint => return self.complaint(walk),
            Question::Finish => return self.finish(walk),
            _ => {}
        }
        if let Some(reply) = self.head(walk)? {
            return Ok(reply);
        }
        let knowledge = walk.knowledge();
        match walk.question() {
            Question::Complaint | Question::Finish => Ok(Reply::Stop),
            Question::Equipment => {
                let kinds = walk.equipment_offered();
                // A kind keeps its number whatever the complaint.
                let numbers: Vec<usize> = kinds.iter().map(|kind| kind.0 + 1).collect();
                let kinds: Vec<_> = kinds
                    .into_iter()
                    .map(|kind| &knowledge.equipment[kind.0])
                    .map(|kind| (kind.id.clone(), kind.name.clone()))
                    .collect();
                self.choose(walk, &kinds, &numbers, None)
            }
            Question::Accessories => {
                let ending = Ending {
                    none: "Nothing else is fitted",
                    nothing: NO_ACCESSORY,
                };
                self.marked(walk, &markable(walk), &ending)
            }
            Question::Offer { known, .. } => {
                let none = if *known {
                    "Nothing of this is known: go on"
                } else {
                    "None of these can be checked: go on"
                };
                let nothing = NOTHING;
                self.marked(walk, &markable(walk), &Ending { none, nothing })
            }
            Question::Able { .. } => {
                let ending = Ending {
                    none: "Nothing more can be done now",
                    nothing: NOTHING,
                };
                self.marked(walk, &markable(walk), &ending)
            }
            Question::Fact { fact, wanted_by } => self.value(walk, *fact, *wanted_by),
            Question::Test { test, .. } => self.outcome(walk, *test),
            Question::Caution { test, .. } => {
                self.accept(walk, "Read, understood and done: go on", Some(*test))
            }
            Question::Halt { .. } => self.accept(walk, "End here", None),
        }
    }

    /// A choice among ids with their labels; they are numbered from 1 where no numbers are given.
    fn choose(
        &mut self,
        walk: &Walk<'_>,
        choices: &[(String, String)],
        numbers: &[usize],
        about: Option<TestIndex>,
    ) -> Result<Reply, RespondentError> {
        let labels: Vec<String> = choices.iter().map(|(_, label)| label.clone()).collect();
        let unsure = about.is_some() && matches!(walk.question(), Question::Test { .. });
        loop {
            let letters = self.letters(unsure);
            let offers = self.offers_and_words(unsure);
            let (said, _) = self.pick_in(List {
                entries: &labels,
                numbers,
                letters: &letters,
                offers: &offers,
                words: true,
                ..List::default()
            })?;
            let reply = match said {
                Said::Picked(Picked::Entry(place)) => {
                    return Ok(Reply::Answer(self.as_sure(walk, &choices[place].0)));
                }
                Said::Picked(Picked::Stop) => return Ok(Reply::Stop),
                Said::Picked(Picked::Letter(letter)) => self.offer(walk, letter, about)?,
                Said::Words(words) => match self.found(walk, &words, &labels)? {
                    Found::Entry(place) => {
                        return Ok(Reply::Answer(self.as_sure(walk, &choices[place].0)));
                    }
                    Found::Reply(reply) => Some(reply),
                    Found::Nothing => None,
                },
            };
            if let Some(reply) = reply {
                return Ok(reply);
            }
            // The question stands here already, so nothing else can come of drawing it.
            self.head(walk)?;
        }
    }

    /// The id picked, marked when the person is not sure of it. Only outcomes of tests can be thought so.
    fn as_sure(&mut self, walk: &Walk<'_>, id: &str) -> String {
        let unsure = std::mem::take(&mut self.unsure) && matches!(walk.question(), Question::Test { .. });
        if unsure {
            format!("{LEANING_WORD}{id}")
        } else {
            id.to_owned()
        }
    }

    fn accept(
        &mut self,
        walk: &Walk<'_>,
        label: &str,
        about: Option<TestIndex>,
    ) -> Result<Reply, RespondentError> {
        loop {
            match self.pick(&[label.to_owned()])? {
                Picked::Entry(_) => return Ok(Reply::Accept),
                Picked::Stop => return Ok(Reply::Stop),
                Picked::Letter(letter) => {
                    if let Some(reply) = self.offer(walk, letter, about)? {
                        return Ok(reply);
                    }
                    // Nothing is accepted that is not on the screen.
                    if let Some(reply) = self.head(walk)? {
                        return Ok(reply);
                    }
                }
            }
        }
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

    fn outcome(&mut self, walk: &Walk<'_>, index: TestIndex) -> Result<Reply, RespondentError> {
        let test = &walk.knowledge().tests[index.0];
        if let TestKind::Reading { symbol, .. } = &test.kind {
            return self.typed(walk, &format!("reading in {symbol}"), Some(index));
        }
        let outcomes: Vec<_> = walk
            .outcomes_offered(index)
            .into_iter()
            .map(|outcome| &test.outcomes[outcome.0])
            .map(|outcome| (outcome.id.clone(), outcome.label.clone()))
            .collect();
        self.choose(walk, &outcomes, &[], Some(index))
    }

    fn value(
        &mut self,
        walk: &Walk<'_>,
        index: FactIndex,
        about: Option<TestIndex>,
    ) -> Result<Reply, RespondentError> {
        let fact = &walk.knowledge().facts[index.0];
        if fact.kind == ValueKind::Choice {
            let choices: Vec<_> = walk
                .choices_offered(index)
                .into_iter()
                .map(|choice| (choice.id.clone(), choice.label.clone()))
                .collect();
            return self.choose(walk, &choices, &[], about);
        }
        let prompt = value_prompt(fact);
        self.typed(walk, &prompt, about)
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
}

impl Respondent for Person {
    fn respond(&mut self, prompt: Prompt<'_, '_>) -> Result<Reply, RespondentError> {
        if let Some(reply) = self.open(prompt.walk)? {
            return Ok(reply);
        }
        self.input.drain();
        self.offers = offers(prompt.question);
        self.unsure = false;
        self.before = prompt
            .walk
            .standing()
            .map(|standing| {
                (0..prompt.walk.knowledge().causes.len())
                    .map(|cause| standing.of(crate::knowledge::model::CauseIndex(cause)))
                    .collect()
            })
            .unwrap_or_default();
        match self.ask(prompt.walk) {
            // Ctrl-C at a text prompt comes as a signal; it means the same there as in a list.
            Err(RespondentError::Interrupted) if !self.input.told_to_end() => Ok(Reply::Stop),
            answer => answer,
        }
    }

    fn refused(&mut self, refusal: &Refusal) {
        // A screen that cannot be written shows itself at the next question, which fails.
        let _ = self
            .screen
            .wrapped("  not taken: ", &refusal.reason, Some(Mark::Danger));
    }

    fn understood(&mut self, text: &str) {
        let _ = self.screen.wrapped("  understood: ", text, None);
    }

    fn observe(&mut self, event: &Event, walk: &Walk<'_>) {
        let _ = match event {
            Event::Standing { .. } => blocks::standing(&self.screen, walk, &self.before)
                .iter()
                .try_for_each(|line| self.screen.line(line)),
            // What was understood from a reading is said already.
            Event::Answer {
                given: Given::Reading(_),
                ..
            } => return,
            Event::Answer { .. } => self
                .screen
                .wrapped("  answer: ", &blocks::step_words(walk, event), None),
            Event::Complaint { .. }
            | Event::Equipment { .. }
            | Event::Accessories { .. }
            | Event::Offered { .. }
            | Event::Able { .. } => self
                .screen
                .wrapped("  answer: ", &blocks::step_words(walk, event), None),
            // Other values are said by what was understood; a choice and "not found" are not.
            Event::Fact {
                value: None | Some(Value::Choice(_)),
                ..
            } => self
                .screen
                .wrapped("  answer: ", &blocks::step_words(walk, event), None),
            Event::Note { .. } => self.screen.wrapped("  ", "Note kept.", None),
            Event::Undone { steps } => self.screen.wrapped("  ", &format!("{steps} taken back."), None),
            other => blocks::happened(&mut self.screen, walk, other),
        };
    }
}
