//! The respondent at the keyboard.

use crate::knowledge::model::{FactIndex, Test, TestIndex, TestKind};
use crate::quantity::{Value, ValueKind};
use crate::walk::{
    Event, Given, LEANING_WORD, NO_ACCESSORY, NOTHING, Prompt, Question, Refusal, Reply, Respondent,
    RespondentError, Walk, sayings,
};

use super::blocks;
use super::input::Input;
use super::offers::offers;
use super::pick::{ESCAPE, Picked, pick};
use super::screen::{Mark, Screen};

/// A person with a screen and a keyboard, or with lines of text.
pub struct Person {
    pub(super) screen: Screen,
    pub(super) input: Input,
    opened: bool,
    /// Probabilities by cause before the last answer.
    before: Vec<f64>,
    /// The next outcome picked is only thought to be true.
    pub(super) unsure: bool,
}

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

    fn ask(&mut self, prompt: Prompt<'_, '_>) -> Result<Reply, RespondentError> {
        let walk = prompt.walk;
        let knowledge = walk.knowledge();
        match prompt.question {
            Question::Complaint => {
                self.screen.rule("the complaint")?;
                self.screen
                    .wrapped("", "What is the complaint?", Some(Mark::Strong))?;
                let trees: Vec<_> = knowledge
                    .complaints()
                    .into_iter()
                    .map(|(tree, complaint)| (tree.id.clone(), complaint.to_owned()))
                    .collect();
                self.choose(walk, &trees, None)
            }
            Question::Equipment => {
                self.screen.rule("the equipment")?;
                self.screen
                    .wrapped("", "What equipment is it?", Some(Mark::Strong))?;
                let kinds: Vec<_> = walk
                    .equipment_offered()
                    .into_iter()
                    .map(|kind| &knowledge.equipment[kind.0])
                    .map(|kind| (kind.id.clone(), kind.name.clone()))
                    .collect();
                self.choose(walk, &kinds, None)
            }
            Question::Accessories => {
                self.screen.rule("what is fitted besides")?;
                self.screen
                    .wrapped("", "What else is fitted to it?", Some(Mark::Strong))?;
                let knowledge = walk.knowledge();
                let own = walk.installation().map_or(&[][..], |own| &own.accessories);
                let choices: Vec<(&str, &str)> = own
                    .iter()
                    .map(|id| {
                        let name = knowledge.accessory(id).map_or(id.as_str(), |known| &known.name);
                        (id.as_str(), name)
                    })
                    .collect();
                self.marked(walk, &choices, "None of these", NO_ACCESSORY)
            }
            Question::Offer { tests, known } => {
                let (head, ask) = if *known {
                    (
                        "what is known already",
                        "What is known of it? Mark it; it is asked then. What stays open counts as not known.",
                    )
                } else {
                    (
                        "what can be checked next",
                        "Which of these can you check now? The rest is left out.",
                    )
                };
                self.screen.rule(head)?;
                self.screen.wrapped("", ask, Some(Mark::Strong))?;
                let knowledge = walk.knowledge();
                let choices: Vec<(&str, &str)> = tests
                    .iter()
                    .map(|test| &knowledge.tests[test.0])
                    .map(|test| (test.id.as_str(), test.name.as_str()))
                    .collect();
                self.marked(walk, &choices, "None of these", NOTHING)
            }
            Question::Able { among } => {
                self.screen.rule("what can be done now")?;
                self.screen.wrapped(
                    "",
                    "Several could not be checked. What can you do now? The rest is left out.",
                    Some(Mark::Strong),
                )?;
                let choices: Vec<(&str, &str)> = among
                    .iter()
                    .map(|ability| (ability.id(), ability.in_words()))
                    .collect();
                self.marked(walk, &choices, "Nothing more", NOTHING)
            }
            Question::Fact { fact, wanted_by } => {
                blocks::fact_head(&mut self.screen, walk, *fact)?;
                self.value(walk, *fact, *wanted_by)
            }
            Question::Test { test, because } => {
                blocks::test_head(&mut self.screen, walk, *test, because)?;
                self.outcome(walk, *test)
            }
            Question::Caution { state, test } => {
                blocks::cautions(&mut self.screen, walk, *state, *test)?;
                self.accept(walk, "Read, understood and done: go on", Some(*test))
            }
            Question::Halt { advice, call } => {
                self.screen.rule("STOP")?;
                self.screen.wrapped("  ! ", advice, Some(Mark::Danger))?;
                self.screen.wrapped("  call: ", call, Some(Mark::Danger))?;
                self.accept(walk, "End here", None)
            }
            Question::Finish => self.finish(walk),
        }
    }

    /// A choice among ids with their labels.
    fn choose(
        &mut self,
        walk: &Walk<'_>,
        choices: &[(String, String)],
        about: Option<TestIndex>,
    ) -> Result<Reply, RespondentError> {
        let labels: Vec<String> = choices.iter().map(|(_, label)| label.clone()).collect();
        loop {
            match self.pick(
                &labels,
                about.is_some() && matches!(walk.question(), Question::Test { .. }),
            )? {
                Picked::Entry(place) => return Ok(Reply::Answer(self.as_sure(walk, &choices[place].0))),
                Picked::Stop => return Ok(Reply::Stop),
                Picked::Letter(letter) => {
                    if let Some(reply) = self.offer(walk, letter, about)? {
                        return Ok(reply);
                    }
                    self.remind(walk, about)?;
                }
            }
        }
    }

    /// Any number of entries, by id and words: picking one marks it or takes the mark back, and the first entry ends it.
    fn marked(
        &mut self,
        walk: &Walk<'_>,
        choices: &[(&str, &str)],
        none: &str,
        nothing: &str,
    ) -> Result<Reply, RespondentError> {
        let mut marked: Vec<&str> = Vec::new();
        loop {
            let end = if marked.is_empty() { none } else { "That is all" };
            let mut labels = vec![end.to_owned()];
            labels.extend(
                choices
                    .iter()
                    .map(|(id, words)| format!("[{}] {words}", if marked.contains(id) { "x" } else { " " })),
            );
            match self.pick(&labels, false)? {
                Picked::Entry(0) if marked.is_empty() => return Ok(Reply::Answer(nothing.to_owned())),
                Picked::Entry(0) => return Ok(Reply::Answer(marked.join(", "))),
                Picked::Entry(place) => {
                    let id = choices[place - 1].0;
                    match marked.iter().position(|known| *known == id) {
                        Some(known) => {
                            marked.remove(known);
                        }
                        None => marked.push(id),
                    }
                }
                Picked::Stop => return Ok(Reply::Stop),
                Picked::Letter(letter) => {
                    if let Some(reply) = self.offer(walk, letter, None)? {
                        return Ok(reply);
                    }
                }
            }
        }
    }

    /// Shows the question again after something else stood below it.
    fn remind(&mut self, walk: &Walk<'_>, about: Option<TestIndex>) -> std::io::Result<()> {
        let knowledge = walk.knowledge();
        let ask = match (walk.question(), about) {
            (Question::Fact { fact, .. }, _) => &knowledge.facts[fact.0].ask,
            (Question::Test { .. }, Some(test)) => &knowledge.tests[test.0].ask,
            _ => return Ok(()),
        };
        self.screen.wrapped("", ask, Some(Mark::Strong))
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
            match self.pick(&[label.to_owned()], false)? {
                Picked::Entry(_) => return Ok(Reply::Accept),
                Picked::Stop => return Ok(Reply::Stop),
                Picked::Letter(letter) => {
                    if let Some(reply) = self.offer(walk, letter, about)? {
                        return Ok(reply);
                    }
                }
            }
        }
    }

    pub(super) fn pick(&mut self, labels: &[String], unsure: bool) -> Result<Picked, RespondentError> {
        let letters: Vec<char> = offers(unsure).map(|(letter, _)| letter).collect();
        let lines = self.offer_lines(unsure);
        pick(&mut self.screen, &mut self.input, labels, &letters, &lines)
    }

    fn offer_lines(&self, unsure: bool) -> Vec<String> {
        self.letter_lines(offers(unsure))
    }

    /// Letters with what they do, in lines.
    pub(super) fn letter_lines<'w>(&self, offers: impl Iterator<Item = (char, &'w str)>) -> Vec<String> {
        let all: Vec<String> = offers
            .map(|(letter, words)| format!("{letter} {words}").replace(' ', "\u{a0}"))
            .collect();
        // No-break spaces keep an offer on one line; they are plain spaces on the screen.
        self.screen
            .wrap("  ", &all.join("  "))
            .into_iter()
            .map(|line| line.replace('\u{a0}', " "))
            .collect()
    }

    fn outcome(&mut self, walk: &Walk<'_>, index: TestIndex) -> Result<Reply, RespondentError> {
        let test = &walk.knowledge().tests[index.0];
        if let TestKind::Reading { symbol, .. } = &test.kind {
            self.words_taken(test)?;
            return self.typed(walk, &format!("reading in {symbol}"), Some(index));
        }
        let outcomes: Vec<_> = walk
            .outcomes_offered(index)
            .into_iter()
            .map(|outcome| &test.outcomes[outcome.0])
            .map(|outcome| (outcome.id.clone(), outcome.label.clone()))
            .collect();
        self.choose(walk, &outcomes, Some(index))
    }

    /// Says which words stand for a figure the person does not have.
    pub(super) fn words_taken(&mut self, test: &Test) -> std::io::Result<()> {
        self.screen.wrapped(
            "  no figure? type: ",
            &sayings(test).join(", "),
            Some(Mark::Quiet),
        )
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
            return self.choose(walk, &choices, about);
        }
        let prompt = match fact.kind {
            ValueKind::Size => "size".to_owned(),
            ValueKind::Loads => "loads".to_owned(),
            _ if fact.unit.is_empty() => "number".to_owned(),
            _ => format!("value in {}", fact.unit),
        };
        self.typed(walk, &prompt, about)
    }

    /// A typed answer; a single letter alone is one of the offers.
    fn typed(
        &mut self,
        walk: &Walk<'_>,
        prompt: &str,
        about: Option<TestIndex>,
    ) -> Result<Reply, RespondentError> {
        for line in self.offer_lines(false) {
            let line = self.screen.mark(&line, Some(Mark::Quiet));
            self.screen.line(&line)?;
        }
        loop {
            let typed = self
                .input
                .text(&mut self.screen, &format!("{prompt}, or a letter, then Enter"))?;
            let mut characters = typed.chars();
            match (characters.next(), characters.next()) {
                (None, _) => {}
                (Some(letter), None)
                    if offers(false).any(|(offer, _)| offer == letter.to_ascii_lowercase()) =>
                {
                    if let Some(reply) = self.offer(walk, letter.to_ascii_lowercase(), about)? {
                        return Ok(reply);
                    }
                    self.remind(walk, about)?;
                }
                _ => return Ok(Reply::Answer(typed)),
            }
        }
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
            match pick(
                &mut self.screen,
                &mut self.input,
                &[label],
                &['b', 'q', ESCAPE],
                &[],
            )? {
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
        if !self.opened {
            self.opened = true;
            let opening = blocks::opening(&mut self.screen)?;
            let stop = if prompt.walk.steps() > 0 {
                for line in &opening {
                    self.screen.line(line)?;
                }
                self.remind_of_case(prompt.walk)?
            } else {
                // The list of complaints would push it off a small screen.
                self.page(&opening, "read; go on")?
            };
            if let Some(reply) = stop {
                return Ok(reply);
            }
        }
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
        match self.ask(prompt) {
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
