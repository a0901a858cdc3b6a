//! The respondent at the keyboard.

use crate::knowledge::model::{FactIndex, TestIndex, TestKind};
use crate::knowledge::search;
use crate::quantity::{Value, ValueKind};
use crate::walk::{
    Event, Given, LEANING_WORD, Prompt, Question, Refusal, Reply, Respondent, RespondentError, Walk,
};

use super::blocks;
use super::input::Input;
use super::pick::{Picked, pick};
use super::screen::{Mark, Screen};

/// A person with a screen and a keyboard, or with lines of text.
pub struct Person {
    screen: Screen,
    input: Input,
    opened: bool,
    /// Probabilities by cause before the last answer.
    before: Vec<f64>,
    /// The next outcome picked is only thought to be true.
    unsure: bool,
}

/// What is offered beside every question.
const OFFERS: [(char, &str); 9] = [
    ('x', "cannot check"),
    ('t', "think so, not sure"),
    ('?', "why and how"),
    ('b', "back"),
    ('n', "note"),
    ('v', "saw something else"),
    ('f', "facts"),
    ('c', "calculations"),
    ('s', "stop and keep"),
];

/// The offers; thinking so without being sure makes sense for what is seen only.
fn offers(unsure: bool) -> impl Iterator<Item = (char, &'static str)> {
    OFFERS
        .into_iter()
        .filter(move |(letter, _)| unsure || *letter != 't')
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
            .filter(|entry| entry.is_step())
            .partition(|entry| matches!(entry, Event::Complaint { .. } | Event::Equipment { .. }));
        let mut lines: Vec<String> = first
            .into_iter()
            .flat_map(|step| self.screen.wrap("  ", &step_words(walk, step)))
            .collect();
        if let Some(last) = rest.last() {
            let count = match rest.len() {
                1 => "1 answer".to_owned(),
                count => format!("{count} answers"),
            };
            let line = format!("{count}, the last: {}", step_words(walk, last));
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
                    .trees
                    .iter()
                    .filter_map(|tree| Some((tree.id.clone(), tree.complaint.clone()?)))
                    .collect();
                self.choose(walk, &trees, None)
            }
            Question::Equipment => {
                self.screen.rule("the equipment")?;
                self.screen
                    .wrapped("", "What equipment is it?", Some(Mark::Strong))?;
                let kinds: Vec<_> = knowledge
                    .equipment
                    .iter()
                    .map(|kind| (kind.id.clone(), kind.name.clone()))
                    .collect();
                self.choose(walk, &kinds, None)
            }
            Question::Fact { fact, wanted_by } => {
                blocks::fact_head(&mut self.screen, walk, *fact)?;
                self.value(walk, *fact, Some(*wanted_by))
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
            Question::Finish => {
                self.screen.rule("time to conclude")?;
                let why = walk
                    .stop_reason()
                    .map_or("the tree has nothing more to ask here", |reason| {
                        reason.in_words()
                    });
                self.screen.wrapped("  ", why, None)?;
                self.accept(walk, "Show the result and end", None)
            }
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

    fn pick(&mut self, labels: &[String], unsure: bool) -> Result<Picked, RespondentError> {
        let letters: Vec<char> = offers(unsure).map(|(letter, _)| letter).collect();
        let lines = self.offer_lines(unsure);
        pick(&mut self.screen, &mut self.input, labels, &letters, &lines)
    }

    fn offer_lines(&self, unsure: bool) -> Vec<String> {
        let all: Vec<String> = offers(unsure)
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
            return self.typed(walk, &format!("reading in {symbol}"), Some(index));
        }
        let outcomes: Vec<_> = test
            .outcomes
            .iter()
            .map(|outcome| (outcome.id.clone(), outcome.label.clone()))
            .collect();
        self.choose(walk, &outcomes, Some(index))
    }

    fn value(
        &mut self,
        walk: &Walk<'_>,
        index: FactIndex,
        about: Option<TestIndex>,
    ) -> Result<Reply, RespondentError> {
        let fact = &walk.knowledge().facts[index.0];
        if fact.kind == ValueKind::Choice {
            let choices: Vec<_> = fact
                .choices
                .iter()
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

    /// Does what a letter offers; nothing when the question stays as it is.
    fn offer(
        &mut self,
        walk: &Walk<'_>,
        letter: char,
        about: Option<TestIndex>,
    ) -> Result<Option<Reply>, RespondentError> {
        match letter {
            'x' => Ok(Some(Reply::CouldNotCheck)),
            't' => {
                self.unsure = matches!(walk.question(), Question::Test { .. });
                let text = if self.unsure {
                    "Pick what you think; it counts less."
                } else {
                    "This must be sure."
                };
                self.screen.wrapped("  ", text, None)?;
                Ok(None)
            }
            'b' => self.back(walk),
            'n' => {
                let note = self.input.text(&mut self.screen, "note")?;
                Ok((!note.is_empty()).then_some(Reply::Note(note)))
            }
            'v' => self.volunteer(walk),
            'f' => self.correct(walk),
            'c' => {
                let lines = blocks::working(&self.screen, walk);
                self.page(&lines, "back to the question")
            }
            '?' => {
                let lines = match about {
                    Some(test) => blocks::why(&self.screen, &walk.knowledge().tests[test.0]),
                    None => self.screen.wrap(
                        "why       ",
                        "Which tree is walked, and what applies, follows from this. It can be taken back.",
                    ),
                };
                self.page(&lines, "back to the question")
            }
            _ => Ok(Some(Reply::Stop)),
        }
    }

    fn back(&mut self, walk: &Walk<'_>) -> Result<Option<Reply>, RespondentError> {
        /// Steps offered; further back takes more than one turn.
        const MOST: usize = 8;
        let steps: Vec<String> = walk
            .entries()
            .iter()
            .rev()
            .filter(|entry| entry.is_step())
            .take(MOST)
            .map(|entry| format!("before: {}", step_words(walk, entry)))
            .collect();
        if steps.is_empty() {
            self.screen.wrapped("  ", "This is the first question.", None)?;
            return Ok(None);
        }
        self.screen
            .wrapped("  ", "Back to where? What came after it is undone.", None)?;
        let stay = [self.screen.wrap("  ", "b stay here").concat()];
        match pick(&mut self.screen, &mut self.input, &steps, &['b'], &stay)? {
            Picked::Entry(place) => Ok(Some(Reply::Back(place + 1))),
            Picked::Letter(_) => Ok(None),
            Picked::Stop => Ok(Some(Reply::Stop)),
        }
    }

    fn volunteer(&mut self, walk: &Walk<'_>) -> Result<Option<Reply>, RespondentError> {
        /// Tests offered for one search.
        const MOST: usize = 8;
        let words = self
            .input
            .text(&mut self.screen, "words for what you saw or measured")?;
        if words.is_empty() {
            return Ok(None);
        }
        let found: Vec<TestIndex> = search::tests(walk.knowledge(), &words)
            .into_iter()
            .filter(|test| {
                walk.applies(*test)
                    && !matches!(walk.knowledge().tests[test.0].kind, TestKind::Calculation { .. })
            })
            .take(MOST)
            .collect();
        if found.is_empty() {
            self.screen.wrapped(
                "  ",
                "No test fits these words. Try others, or keep it as a note.",
                None,
            )?;
            return Ok(None);
        }
        let names: Vec<String> = found
            .iter()
            .map(|test| walk.knowledge().tests[test.0].name.clone())
            .collect();
        let stay = [self.screen.wrap("  ", "b none of these").concat()];
        let place = match pick(&mut self.screen, &mut self.input, &names, &['b'], &stay)? {
            Picked::Entry(place) => place,
            Picked::Letter(_) => return Ok(None),
            Picked::Stop => return Ok(Some(Reply::Stop)),
        };
        let index = found[place];
        let test = &walk.knowledge().tests[index.0];
        self.screen.wrapped("", &test.ask, Some(Mark::Strong))?;
        if !test.caution.is_empty() {
            self.screen
                .wrapped("  ! caution: ", &test.caution, Some(Mark::Danger))?;
        }
        let answer = if let TestKind::Reading { symbol, .. } = &test.kind {
            let typed = self
                .input
                .text(&mut self.screen, &format!("reading in {symbol}"))?;
            if typed.is_empty() {
                return Ok(None);
            }
            typed
        } else {
            let labels: Vec<String> = test
                .outcomes
                .iter()
                .map(|outcome| outcome.label.clone())
                .collect();
            match pick(&mut self.screen, &mut self.input, &labels, &['b'], &stay)? {
                Picked::Entry(place) => test.outcomes[place].id.clone(),
                Picked::Letter(_) => return Ok(None),
                Picked::Stop => return Ok(Some(Reply::Stop)),
            }
        };
        Ok(Some(Reply::Volunteer {
            test: test.id.clone(),
            answer: Some(answer),
        }))
    }

    fn correct(&mut self, walk: &Walk<'_>) -> Result<Option<Reply>, RespondentError> {
        let knowledge = walk.knowledge();
        let Some(equipment) = walk.equipment() else {
            self.screen
                .wrapped("  ", "Facts come after complaint and equipment.", None)?;
            return Ok(None);
        };
        let facts: Vec<FactIndex> = (0..knowledge.facts.len())
            .map(FactIndex)
            .filter(|fact| knowledge.facts[fact.0].applies_to(&knowledge.equipment[equipment.0]))
            .collect();
        let names: Vec<String> = facts
            .iter()
            .map(|fact| {
                let name = &knowledge.facts[fact.0].name;
                match walk.fact(*fact) {
                    Some(Some(value)) => format!("{name}: {value}"),
                    Some(None) => format!("{name}: not found"),
                    None => format!("{name}: not asked yet"),
                }
            })
            .collect();
        let stay = [self.screen.wrap("  ", "b leave them as they are").concat()];
        let place = match pick(&mut self.screen, &mut self.input, &names, &['b'], &stay)? {
            Picked::Entry(place) => place,
            Picked::Letter(_) => return Ok(None),
            Picked::Stop => return Ok(Some(Reply::Stop)),
        };
        let index = facts[place];
        let fact = &knowledge.facts[index.0];
        self.screen.wrapped("", &fact.ask, Some(Mark::Strong))?;
        self.screen.wrapped("  where: ", &fact.find, None)?;
        let value = if fact.kind == ValueKind::Choice {
            let labels: Vec<String> = fact.choices.iter().map(|choice| choice.label.clone()).collect();
            match pick(&mut self.screen, &mut self.input, &labels, &['b'], &stay)? {
                Picked::Entry(place) => Some(fact.choices[place].id.clone()),
                Picked::Letter(_) => return Ok(None),
                Picked::Stop => return Ok(Some(Reply::Stop)),
            }
        } else {
            let typed = self
                .input
                .text(&mut self.screen, "value, or x when it is not known")?;
            match typed.as_str() {
                "" => return Ok(None),
                "x" | "X" => None,
                _ => Some(typed),
            }
        };
        Ok(Some(Reply::Correct {
            fact: fact.id.clone(),
            value,
        }))
    }

    /// Shows lines a screen at a time, and waits after each so that nothing scrolls away unread. Nothing comes back
    /// unless the person stops here.
    fn page(&mut self, lines: &[String], done: &str) -> Result<Option<Reply>, RespondentError> {
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
            match pick(&mut self.screen, &mut self.input, &[label], &['b'], &[])? {
                Picked::Entry(_) => {}
                Picked::Letter(_) => break,
                Picked::Stop => return Ok(Some(Reply::Stop)),
            }
        }
        self.screen.line("")?;
        Ok(None)
    }
}

/// An earlier step in a few words.
fn step_words(walk: &Walk<'_>, entry: &Event) -> String {
    let knowledge = walk.knowledge();
    match entry {
        Event::Complaint { complaint } => knowledge
            .tree(complaint)
            .and_then(|tree| knowledge.trees[tree.0].complaint.clone())
            .unwrap_or_else(|| complaint.clone()),
        Event::Equipment { equipment } => knowledge.equipment(equipment).map_or_else(
            || equipment.clone(),
            |kind| knowledge.equipment[kind.0].name.clone(),
        ),
        Event::Fact { fact, value, .. } => {
            let name = knowledge
                .fact(fact)
                .map_or(fact.as_str(), |fact| knowledge.facts[fact.0].name.as_str());
            let label = |id: &String| {
                let fact = &knowledge.facts[knowledge.fact(fact)?.0];
                let choice = fact.choices.iter().find(|choice| choice.id == *id)?;
                Some(choice.label.clone())
            };
            match value {
                Some(Value::Choice(id)) => format!("{name}: {}", label(id).unwrap_or_else(|| id.clone())),
                Some(value) => format!("{name}: {value}"),
                None => format!("{name}: not found"),
            }
        }
        Event::Answer { test, given, .. } => {
            let Some(test) = knowledge.test(test).map(|test| &knowledge.tests[test.0]) else {
                return test.clone();
            };
            let answer = match given {
                Given::Leaning(id) => test.outcome(id).map_or_else(
                    || id.clone(),
                    |outcome| format!("{} (thought so)", test.outcomes[outcome.0].label),
                ),
                Given::Outcome(id) => test
                    .outcome(id)
                    .map_or_else(|| id.clone(), |outcome| test.outcomes[outcome.0].label.clone()),
                Given::Reading(quantity) => quantity.to_string(),
                Given::CouldNotCheck => "could not check".to_owned(),
            };
            format!("{}: {answer}", test.name)
        }
        _ => String::new(),
    }
}

impl Respondent for Person {
    fn respond(&mut self, prompt: Prompt<'_, '_>) -> Result<Reply, RespondentError> {
        if !self.opened {
            self.opened = true;
            blocks::opening(&mut self.screen)?;
            if prompt.walk.steps() > 0 {
                let stop = self.remind_of_case(prompt.walk)?;
                if let Some(reply) = stop {
                    return Ok(reply);
                }
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
        self.ask(prompt)
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
            Event::Answer { .. } => self.screen.wrapped("  answer: ", &step_words(walk, event), None),
            Event::Complaint { .. } | Event::Equipment { .. } => {
                self.screen.wrapped("  answer: ", &step_words(walk, event), None)
            }
            // Other values are said by what was understood; a choice and "not found" are not.
            Event::Fact {
                value: None | Some(Value::Choice(_)),
                ..
            } => self.screen.wrapped("  answer: ", &step_words(walk, event), None),
            Event::Note { .. } => self.screen.wrapped("  ", "Note kept.", None),
            Event::Undone { steps } => self.screen.wrapped("  ", &format!("{steps} taken back."), None),
            other => blocks::happened(&mut self.screen, walk, other),
        };
    }
}
