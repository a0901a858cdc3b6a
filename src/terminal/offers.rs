//! What the letters beside every question do.

use crate::knowledge::model::{FactIndex, OutcomeIndex, TestIndex, TestKind};
use crate::quantity::ValueKind;
use crate::walk::{Question, Reply, RespondentError, Walk};

use super::blocks;
use super::person::Person;
use super::pick::{List, Picked, pick};
use super::screen::Mark;
use super::typed::value_prompt;

/// What is offered beside a question.
const OFFERS: [(char, &str); 10] = [
    ('x', "cannot check"),
    ('t', "think so, not sure"),
    ('?', "reason and steps"),
    ('b', "back"),
    ('n', "note"),
    ('v', "saw something else"),
    ('f', "facts"),
    ('c', "calculations"),
    ('r', "result so far"),
    ('s', "stop and keep"),
];

/// A letter with what it means.
pub(super) type Offer = (char, &'static str);

/// The letters that mean something at a question. Thinking so without being sure makes sense for what is seen only.
pub(super) fn offers(question: &Question) -> Vec<Offer> {
    OFFERS
        .into_iter()
        .filter(|(letter, _)| match question {
            Question::Complaint => matches!(letter, '?' | 'n' | 's'),
            Question::Equipment => matches!(letter, '?' | 'b' | 'n' | 's'),
            Question::Halt { .. } | Question::Finish => !matches!(letter, 'x' | 't' | '?'),
            Question::Test { .. } => true,
            _ => *letter != 't',
        })
        .map(|(letter, words)| match (letter, question) {
            ('x', Question::Caution { .. }) => (letter, "leave that test out"),
            ('x', Question::Fact { .. } | Question::Accessories) => (letter, "not known"),
            ('x', Question::Offer { .. } | Question::Able { .. }) => (letter, "none of these"),
            ('?', Question::Test { .. } | Question::Caution { .. }) => (letter, words),
            ('?', _) => (letter, "reason"),
            _ => (letter, words),
        })
        .collect()
}

/// What a letter means, where five lines of letters would leave no room for the answers.
pub(super) fn in_few_words(letter: char, words: &'static str) -> &'static str {
    match letter {
        't' => "not sure",
        '?' => "why",
        'v' => "saw other",
        'c' => "figures",
        'r' => "result",
        _ => words,
    }
}

/// Why a question is asked that is not about a test.
fn reason(question: &Question) -> &'static str {
    match question {
        Question::Offer { known: true, .. } => {
            "What somebody can tell costs no tools. What you mark is asked next; the rest is taken as not known, and asked \
             only if it would decide."
        }
        Question::Offer { .. } => {
            "These tell most for their time. What you mark is asked next; the rest counts as what you cannot check today."
        }
        Question::Able { .. } => "Only what you can do now is asked from here on.",
        _ => "Which tree is walked, and what applies, follows from this. It can be taken back.",
    }
}

/// Whether a typed line says what `b` says in a list; so does an empty one.
pub(super) fn is_back(typed: &str) -> bool {
    typed.is_empty() || typed.eq_ignore_ascii_case("b")
}

impl Person {
    /// Does what a letter offers; nothing when the question stays as it is.
    pub(super) fn offer(
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
                Ok((!is_back(&note)).then_some(Reply::Note(note)))
            }
            'v' => self.volunteer(walk, ""),
            'f' => self.correct(walk),
            'c' => {
                let lines = blocks::working(&self.screen, walk);
                self.page(&lines, "back to the question")
            }
            'r' => self.result_so_far(walk),
            '?' => {
                let lines = match about {
                    Some(test) => {
                        let knowledge = walk.knowledge();
                        blocks::why(&self.screen, knowledge, &knowledge.tests[test.0])
                    }
                    None => self.screen.wrap("why       ", reason(walk.question())),
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
            .map(|entry| format!("before: {}", blocks::step_words(walk, entry)))
            .collect();
        if steps.is_empty() {
            self.screen.wrapped("  ", "This is the first question.", None)?;
            return Ok(None);
        }
        // Under a heading of its own the whole screen is there for it.
        self.screen.rule("back")?;
        self.screen
            .wrapped("  ", "Back to where? What came after it is undone.", None)?;
        match self.pick_or_back(&steps, "b stay here")? {
            Picked::Entry(place) => Ok(Some(Reply::Back(place + 1))),
            Picked::Letter(_) => Ok(None),
            Picked::Stop => Ok(Some(Reply::Stop)),
        }
    }

    /// Lets the person pick an entry, or leave the list by `b`.
    pub(super) fn pick_or_back(&mut self, entries: &[String], back: &str) -> Result<Picked, RespondentError> {
        let mut list = List {
            entries,
            letters: &['b'],
            offers: &[back.to_owned()],
            ..List::default()
        };
        pick(&mut self.screen, &mut self.input, &mut list)
    }

    /// Tells the outcome of a test that is not the question; `said` is the outcome the person's words already named.
    pub(super) fn tell(
        &mut self,
        walk: &Walk<'_>,
        index: TestIndex,
        said: Option<OutcomeIndex>,
    ) -> Result<Option<Reply>, RespondentError> {
        let test = &walk.knowledge().tests[index.0];
        if let Some(outcome) = said {
            return Ok(Some(Reply::Volunteer {
                test: test.id.clone(),
                answer: Some(test.outcomes[outcome.0].id.clone()),
            }));
        }
        self.screen.rule("seen or told")?;
        self.screen.wrapped("", &test.ask, Some(Mark::Strong))?;
        if !test.caution.is_empty() {
            self.screen
                .wrapped("  ! caution: ", &test.caution, Some(Mark::Danger))?;
        }
        let answer = if let TestKind::Reading { symbol, .. } = &test.kind {
            self.words_taken(test)?;
            let typed = self
                .input
                .text(&mut self.screen, &format!("reading in {symbol}"))?;
            match typed.as_str() {
                "x" | "X" => {
                    return Ok(Some(Reply::Volunteer {
                        test: test.id.clone(),
                        answer: None,
                    }));
                }
                typed if is_back(typed) => return Ok(None),
                _ => typed,
            }
        } else {
            let offered = walk.outcomes_offered(index);
            let labels: Vec<String> = offered
                .iter()
                .map(|outcome| test.outcomes[outcome.0].label.clone())
                .collect();
            match self.pick_or_back(&labels, "b none of these")? {
                Picked::Entry(place) => test.outcomes[offered[place].0].id.clone(),
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
        let Some(equipment) = walk.installation() else {
            self.screen
                .wrapped("  ", "Facts come after complaint and equipment.", None)?;
            return Ok(None);
        };
        let facts: Vec<FactIndex> = (0..knowledge.facts.len())
            .map(FactIndex)
            .filter(|fact| knowledge.facts[fact.0].applies_to(equipment))
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
        self.screen.rule("facts")?;
        let place = match self.pick_or_back(&names, "b leave them as they are")? {
            Picked::Entry(place) => place,
            Picked::Letter(_) => return Ok(None),
            Picked::Stop => return Ok(Some(Reply::Stop)),
        };
        let index = facts[place];
        let fact = &knowledge.facts[index.0];
        self.screen.wrapped("", &fact.ask, Some(Mark::Strong))?;
        self.screen.wrapped("  where: ", &fact.find, None)?;
        let value = if fact.kind == ValueKind::Choice {
            let offered = walk.choices_offered(index);
            let labels: Vec<String> = offered.iter().map(|choice| choice.label.clone()).collect();
            match self.pick_or_back(&labels, "b leave them as they are")? {
                Picked::Entry(place) => Some(offered[place].id.clone()),
                Picked::Letter(_) => return Ok(None),
                Picked::Stop => return Ok(Some(Reply::Stop)),
            }
        } else {
            let prompt = format!("{}, or x when it is not known", value_prompt(fact));
            let typed = self.input.text(&mut self.screen, &prompt)?;
            match typed.as_str() {
                typed if is_back(typed) => return Ok(None),
                "x" | "X" => None,
                _ => self.with_amps(Some(fact), typed)?,
            }
        };
        Ok(Some(Reply::Correct {
            fact: fact.id.clone(),
            value,
        }))
    }
}
