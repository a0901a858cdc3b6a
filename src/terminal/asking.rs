//! Asks each question in the way that fits it.

use crate::knowledge::model::{FactIndex, TestIndex, TestKind};
use crate::quantity::{Value, ValueKind};
use crate::walk::{
    Event, Given, LEANING_WORD, NO_ACCESSORY, NOTHING, Prompt, Question, Refusal, Reply, Respondent,
    RespondentError, Walk,
};

use super::blocks;
use super::entries::{markable, several};
use super::letters::offers;
use super::marking::Ending;
use super::person::Person;
use super::pick::{List, Picked, Said};
use super::screen::Mark;
use super::typed::value_prompt;
use super::words::Found;

impl Person {
    fn ask(&mut self, walk: &Walk<'_>) -> Result<Reply, RespondentError> {
        if let Some(reply) = self.danger_noted(walk)? {
            return Ok(reply);
        }
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
                    .map(|kind| &knowledge.equipment[kind])
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

    /// The look a remark just made asks for, where it names a danger: a remark alone stops nothing.
    fn danger_noted(&mut self, walk: &Walk<'_>) -> Result<Option<Reply>, RespondentError> {
        if walk.equipment().is_none() {
            // What is looked for hangs on the equipment; the remark waits for it.
            return Ok(None);
        }
        let Some(note) = self.noted.take() else {
            return Ok(None);
        };
        for look in walk.looks_noted(&note) {
            self.screen.wrapped(
                "  ",
                "The note names a danger, and a note stops nothing. Answer this:",
                None,
            )?;
            if let Some(reply) = self.tell(walk, look, None)? {
                return Ok(Some(reply));
            }
        }
        Ok(None)
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

    fn outcome(&mut self, walk: &Walk<'_>, index: TestIndex) -> Result<Reply, RespondentError> {
        let test = &walk.knowledge().tests[index];
        if let TestKind::Reading { symbol, .. } = &test.kind {
            return self.typed(walk, &format!("reading in {symbol}"), Some(index));
        }
        let outcomes: Vec<_> = walk
            .outcomes_offered(index)
            .into_iter()
            .map(|outcome| &test.outcomes[outcome])
            .map(|outcome| (outcome.id.clone(), outcome.label.clone()))
            .collect();
        if let Some((nothing, together)) = several(walk, index) {
            let ending = Ending {
                none: &nothing.label,
                nothing: &nothing.id,
            };
            return self.marked(walk, &together, &ending);
        }
        self.choose(walk, &outcomes, &[], Some(index))
    }

    fn value(
        &mut self,
        walk: &Walk<'_>,
        index: FactIndex,
        about: Option<TestIndex>,
    ) -> Result<Reply, RespondentError> {
        let fact = &walk.knowledge().facts[index];
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

    /// A typed answer; a single letter alone is one of the offers.
    pub(super) fn typed(
        &mut self,
        walk: &Walk<'_>,
        prompt: &str,
        about: Option<TestIndex>,
    ) -> Result<Reply, RespondentError> {
        self.after_key = None;
        loop {
            self.typed_head(walk)?;
            let typed = loop {
                let ask = format!("{prompt}, or a letter, then Enter");
                let typed = self.input.text(&mut self.screen, &ask)?;
                if !typed.is_empty() {
                    break typed;
                }
            };
            let mut characters = typed.chars();
            match (characters.next(), characters.next()) {
                (Some(letter), None) if self.letters(false).contains(&letter.to_ascii_lowercase()) => {
                    if let Some(reply) = self.offer(walk, letter.to_ascii_lowercase(), about)? {
                        return Ok(reply);
                    }
                    self.head(walk)?;
                }
                _ => {
                    let asked = match walk.question() {
                        Question::Fact { fact, .. } => Some(&walk.knowledge().facts[*fact]),
                        _ => None,
                    };
                    return Ok(match self.with_amps(asked, typed)? {
                        Some(typed) => Reply::Answer(typed),
                        None => Reply::CouldNotCheck,
                    });
                }
            }
        }
    }

    /// What stands right above a typed answer: the words that stand for a figure, and the letters.
    fn typed_head(&mut self, walk: &Walk<'_>) -> std::io::Result<()> {
        if let Question::Test { test, .. } = walk.question() {
            self.words_taken(&walk.knowledge().tests[*test])?;
        }
        for line in self.screen.wrap_offers(&self.offers_said(false)) {
            let line = self.screen.mark(&line, Some(Mark::Quiet));
            self.screen.line(&line)?;
        }
        Ok(())
    }
}

impl Respondent for Person {
    fn respond(&mut self, prompt: Prompt<'_, '_>) -> Result<Reply, RespondentError> {
        if let Some(reply) = self.queued.take() {
            return Ok(reply);
        }
        if let Some(reply) = self.open(prompt.walk)? {
            return Ok(reply);
        }
        if let Some(reply) = self.cautions_again(prompt.walk)? {
            return Ok(reply);
        }
        self.input.drain();
        self.offers = offers(prompt.question);
        self.unsure = false;
        self.held = prompt.walk.holds().iter().map(|hold| hold.id.clone()).collect();
        self.before = prompt
            .walk
            .standing()
            .map(|standing| {
                let causes = prompt.walk.knowledge().causes.indices();
                causes.map(|cause| standing.of(cause)).collect()
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

    fn observe(&mut self, event: &Event, understood: Option<&str>, walk: &Walk<'_>) {
        // A screen that cannot be written shows itself at the next question, which fails.
        if let Some(text) = understood {
            let _ = self.screen.wrapped("  understood: ", text, None);
        }
        if let Event::Acknowledged { state, .. } = event {
            self.read.push(*state);
        }
        let _ = match event {
            // Above the orders of a stop nothing is said of causes.
            Event::Standing { .. } if matches!(walk.question(), Question::Halt { .. }) => Ok(()),
            Event::Standing { .. } => blocks::standing(&self.screen, walk, &self.before)
                .iter()
                .try_for_each(|line| self.screen.line(line)),
            // What was understood says a reading, and a fact that is no choice.
            Event::Answer { given, .. } => {
                if !matches!(given, Given::Reading(_)) {
                    let words = blocks::step_words(walk, event);
                    let _ = self.screen.wrapped("  answer: ", &words, None);
                }
                blocks::held_since(&mut self.screen, walk, &mut self.held)
            }
            Event::Calculated { .. } => {
                let _ = blocks::happened(&mut self.screen, walk, event);
                blocks::held_since(&mut self.screen, walk, &mut self.held)
            }
            Event::Complaint { .. }
            | Event::Equipment { .. }
            | Event::Accessories { .. }
            | Event::Offered { .. }
            | Event::Able { .. }
            | Event::Fact {
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
