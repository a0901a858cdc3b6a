//! The respondent at the keyboard.

use crate::knowledge::model::{FactIndex, Test, TestIndex, TestKind};
use crate::knowledge::search;
use crate::quantity::{Value, ValueKind};
use crate::walk::{
    Event, Given, LEANING_WORD, NO_ACCESSORY, NOTHING, Prompt, Question, Refusal, Reply, Respondent,
    RespondentError, Walk, sayings,
};

use super::blocks;
use super::input::Input;
use super::offers::{Offer, in_few_words, offers};
use super::pick::{ESCAPE, List, Picked, Said, pick, pick_or_search};
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
    /// The letters that mean something at this question.
    offers: Vec<Offer>,
    /// The last question was answered by the letter x in a list.
    after_letter: bool,
    /// Words the complaint was found by, until they were searched for among what was told.
    words: String,
    /// What was marked in a list that something else came between.
    marks: Vec<String>,
}

/// Complaints offered for one search.
const MOST_FOUND: usize = 9;

/// An entry that ends a list in which entries are marked.
struct Ending<'a> {
    /// Its words while nothing is marked.
    none: &'a str,
    /// The answer it then gives.
    nothing: &'a str,
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
            offers: Vec::new(),
            after_letter: false,
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
        match self.input.text(&mut self.screen, prompt) {
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

    fn ask(&mut self, prompt: Prompt<'_, '_>) -> Result<Reply, RespondentError> {
        let walk = prompt.walk;
        let knowledge = walk.knowledge();
        match prompt.question {
            Question::Complaint => self.complaint(walk),
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
                let ask = "What else is fitted to it? Mark by number. When done: 1.";
                self.screen.wrapped("", ask, Some(Mark::Strong))?;
                let knowledge = walk.knowledge();
                let own = walk.installation().map_or(&[][..], |own| &own.accessories);
                let choices: Vec<(&str, &str)> = own
                    .iter()
                    .map(|id| {
                        let name = knowledge.accessory(id).map_or(id.as_str(), |known| &known.name);
                        (id.as_str(), name)
                    })
                    .collect();
                let ending = Ending {
                    none: "Nothing else is fitted",
                    nothing: NO_ACCESSORY,
                };
                self.marked(walk, &choices, &ending)
            }
            Question::Offer { tests, known } => {
                let (head, ask, none) = if *known {
                    (
                        "what is known already",
                        "What is known of it? Mark by number what you know or somebody here can tell you. When done: 1.",
                        "Nothing of this is known: go on",
                    )
                } else {
                    (
                        "what can be checked next",
                        "Which of these can you check now? Mark by number. When done: 1.",
                        "None of these can be checked: go on",
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
                let nothing = NOTHING;
                self.marked(walk, &choices, &Ending { none, nothing })
            }
            Question::Able { among } => {
                self.screen.rule("what can be done now")?;
                self.screen.wrapped(
                    "",
                    "Several could not be checked. What can you do now? Mark by number; nothing else is asked from here on. \
                     When done: 1.",
                    Some(Mark::Strong),
                )?;
                let choices: Vec<(&str, &str)> = among
                    .iter()
                    .map(|ability| (ability.id(), ability.in_words()))
                    .collect();
                let ending = Ending {
                    none: "Nothing more can be done now",
                    nothing: NOTHING,
                };
                self.marked(walk, &choices, &ending)
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
                let heading = blocks::state_ahead(*state);
                self.screen.rule(heading)?;
                let cautions = blocks::cautions(&self.screen, walk, *state, *test);
                let offers = self.screen.wrap_offers(&self.offers_said(false)).len();
                // None may scroll away unread: what does not fit above its answer is read page by page.
                if cautions.len() + offers + 3 > self.screen.rows() {
                    if let Some(reply) = self.page(&cautions, "read; go on")? {
                        return Ok(reply);
                    }
                    self.screen.rule(heading)?;
                } else {
                    for line in &cautions {
                        self.screen.line(line)?;
                    }
                }
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

    /// The complaint, from the whole list or from what fits the words typed.
    fn complaint(&mut self, walk: &Walk<'_>) -> Result<Reply, RespondentError> {
        let knowledge = walk.knowledge();
        self.screen.rule("the complaint")?;
        let ask = "What is the complaint? Pick it, or type a few words.";
        self.screen.wrapped("", ask, Some(Mark::Strong))?;
        let all: Vec<(&str, &str)> = knowledge
            .complaints()
            .into_iter()
            .map(|(tree, complaint)| (tree.id.as_str(), complaint))
            .collect();
        let labels: Vec<String> = all.iter().map(|(_, complaint)| (*complaint).to_owned()).collect();
        // By keys every letter begins a word here, so none can mean anything else.
        let by_keys = matches!(self.input, Input::Keys(_));
        let (letters, offers) = if by_keys {
            let offers = ["letters: find it by words", "Ctrl-C stop and keep"].map(str::to_owned);
            (Vec::new(), offers.to_vec())
        } else {
            (self.letters(false), self.offers_said(false))
        };
        loop {
            let mut list = List {
                entries: &labels,
                letters: &letters,
                offers: &offers,
                ..List::default()
            };
            let words = match pick_or_search(&mut self.screen, &mut self.input, &mut list)? {
                Said::Picked(Picked::Entry(place)) => return Ok(Reply::Answer(all[place].0.to_owned())),
                Said::Picked(Picked::Stop) => return Ok(Reply::Stop),
                Said::Picked(Picked::Letter(letter)) => {
                    if let Some(reply) = self.offer(walk, letter, None)? {
                        return Ok(reply);
                    }
                    continue;
                }
                Said::Words(words) if words.chars().count() < 2 => continue,
                Said::Words(words) => words,
            };
            let found: Vec<&(&str, &str)> = search::complaints(knowledge, &words)
                .into_iter()
                .filter_map(|tree| all.iter().find(|(id, _)| *id == tree.id))
                .take(MOST_FOUND)
                .collect();
            if found.is_empty() {
                let none = format!("No complaint fits \u{201c}{words}\u{201d}. Here are all of them.");
                self.screen.wrapped("  ", &none, None)?;
                continue;
            }
            self.screen
                .wrapped("  ", &format!("These fit \u{201c}{words}\u{201d}:"), None)?;
            let names: Vec<String> = found
                .iter()
                .map(|(_, complaint)| (*complaint).to_owned())
                .collect();
            match self.pick_or_back(&names, "b none of these: show all")? {
                Picked::Entry(place) => {
                    self.words = words;
                    return Ok(Reply::Answer(found[place].0.to_owned()));
                }
                Picked::Letter(_) => {}
                Picked::Stop => return Ok(Reply::Stop),
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

    /// Any number of entries, by id and words: picking one marks it or takes the mark back, and the first entry ends it.
    fn marked(
        &mut self,
        walk: &Walk<'_>,
        choices: &[(&str, &str)],
        ending: &Ending<'_>,
    ) -> Result<Reply, RespondentError> {
        let by_words = matches!(walk.question(), Question::Offer { known: true, .. });
        // What was marked before something else was told is still marked.
        let earlier = std::mem::take(&mut self.marks);
        let mut marked: Vec<&str> = choices
            .iter()
            .map(|(id, _)| *id)
            .filter(|id| earlier.iter().any(|known| known == id))
            .collect();
        let mut at = 0;
        loop {
            let end = match marked.len() {
                0 => ending.none.to_owned(),
                1 => "That is all: go on with the 1 marked".to_owned(),
                count => format!("That is all: go on with the {count} marked"),
            };
            let mut labels = vec![end];
            labels.extend(
                choices
                    .iter()
                    .map(|(id, words)| format!("[{}] {words}", if marked.contains(id) { "x" } else { " " })),
            );
            if by_words {
                labels.push("Something else that was told or seen, by words".to_owned());
            }
            let (picked, next) = self.pick_in(List {
                entries: &labels,
                letters: &self.letters(false),
                offers: &self.offers_said(false),
                at,
                marks: true,
                ..List::default()
            })?;
            at = next;
            let reply = match picked {
                Picked::Entry(0) if marked.is_empty() => return Ok(Reply::Answer(ending.nothing.to_owned())),
                Picked::Entry(0) => return Ok(Reply::Answer(marked.join(", "))),
                Picked::Entry(place) if place > choices.len() => {
                    let words = std::mem::take(&mut self.words);
                    self.volunteer(walk, &words)?
                }
                Picked::Entry(place) => {
                    let id = choices[place - 1].0;
                    match marked.iter().position(|known| *known == id) {
                        Some(known) => {
                            marked.remove(known);
                        }
                        None => marked.push(id),
                    }
                    None
                }
                Picked::Stop => return Ok(Reply::Stop),
                Picked::Letter(letter) => self.offer(walk, letter, None)?,
            };
            if let Some(reply) = reply {
                if !matches!(reply, Reply::Back(_) | Reply::CouldNotCheck) {
                    self.marks = marked.into_iter().map(str::to_owned).collect();
                }
                return Ok(reply);
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
        self.pick_in(List {
            entries: labels,
            letters: &self.letters(unsure),
            offers: &self.offers_said(unsure),
            ..List::default()
        })
        .map(|(picked, _)| picked)
    }

    /// Picks from a list of a question, and says which entry to go on at.
    fn pick_in(&mut self, mut list: List<'_>) -> Result<(Picked, usize), RespondentError> {
        list.after_letter = std::mem::take(&mut self.after_letter);
        let picked = pick(&mut self.screen, &mut self.input, &mut list)?;
        self.after_letter = picked == Picked::Letter('x');
        Ok((picked, list.at))
    }

    /// The letters that mean something now.
    fn offered(&self, unsure: bool) -> impl Iterator<Item = Offer> {
        self.offers
            .iter()
            .copied()
            .filter(move |(letter, _)| unsure || *letter != 't')
    }

    fn letters(&self, unsure: bool) -> Vec<char> {
        self.offered(unsure).map(|(letter, _)| letter).collect()
    }

    fn offers_said(&self, unsure: bool) -> Vec<String> {
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
        self.after_letter = false;
        for line in self.screen.wrap_offers(&self.offers_said(false)) {
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
                (Some(letter), None) if self.letters(false).contains(&letter.to_ascii_lowercase()) => {
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
            let mut list = List {
                entries: &[label],
                letters: &['b', 'q', ESCAPE],
                ..List::default()
            };
            match pick(&mut self.screen, &mut self.input, &mut list)? {
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
