//! What is chosen by words or from a list: a test, a fact, a calculation, the cause.

use crate::knowledge::model::{CauseIndex, TestIndex, TestKind};
use crate::knowledge::search;
use crate::practice::{Choice, Session};
use crate::walk::RespondentError;

use super::super::blocks;
use super::super::pick::{ESCAPE, Picked};
use super::super::screen::Mark;
use super::{Apprentice, Turn, words};

/// Entries offered for one search.
const MOST: usize = 8;

impl Apprentice {
    /// A look or reading found by words.
    pub(super) fn other_test(&mut self, session: &Session<'_>) -> Result<Turn, RespondentError> {
        let knowledge = session.walk().knowledge();
        let typed = self.text("words for what to look at or measure")?;
        let Some(typed) = typed else {
            return Ok(Turn::Leave);
        };
        if typed.is_empty() {
            return Ok(Turn::Stay);
        }
        let found: Vec<TestIndex> = search::tests(knowledge, &typed)
            .into_iter()
            .filter(|test| session.has(*test))
            .filter(|test| !matches!(knowledge.tests[*test].kind, TestKind::Calculation { .. }))
            .take(MOST)
            .collect();
        let labels: Vec<String> = found
            .iter()
            .map(|test| &knowledge.tests[*test])
            .map(|test| format!("{} ({})", test.name, words::takes(test)))
            .collect();
        self.one_of(&labels, "No test fits these words. Try others.", |place| {
            Choice::Test(knowledge.tests[found[place]].id.clone())
        })
    }

    /// A fact from plate or panel.
    pub(super) fn fact(&mut self, session: &Session<'_>) -> Result<Turn, RespondentError> {
        let (facts, labels) = blocks::facts(session.walk());
        self.one_of(&labels, "This equipment has no plate.", |place| {
            Choice::Fact(session.walk().knowledge().facts[facts[place]].id.clone())
        })
    }

    /// A calculation; what it lacks is looked up or named.
    pub(super) fn calculation(&mut self, session: &Session<'_>) -> Result<Turn, RespondentError> {
        let knowledge = session.walk().knowledge();
        let calculations: Vec<TestIndex> = knowledge
            .tests
            .indices()
            .filter(|test| session.has(*test))
            .filter(|test| matches!(knowledge.tests[*test].kind, TestKind::Calculation { .. }))
            .collect();
        let labels: Vec<String> = calculations
            .iter()
            .map(|test| {
                let readings = session.walk().takes(*test).readings.len();
                let name = &knowledge.tests[*test].name;
                match readings {
                    0 => name.clone(),
                    1 => format!("{name} (1 reading first)"),
                    readings => format!("{name} ({readings} readings first)"),
                }
            })
            .collect();
        self.one_of(&labels, "Nothing is calculated for this equipment.", |place| {
            Choice::Calculation(knowledge.tests[calculations[place]].id.clone())
        })
    }

    /// The cause, found by words: the end.
    pub(super) fn name(&mut self, session: &Session<'_>) -> Result<Turn, RespondentError> {
        let knowledge = session.walk().knowledge();
        let Some(typed) = self.text("words for what is wrong")? else {
            return Ok(Turn::Leave);
        };
        if typed.is_empty() {
            return Ok(Turn::Stay);
        }
        let here = |cause: &CauseIndex| {
            session
                .walk()
                .model()
                .is_some_and(|model| model.place(*cause).is_some())
        };
        let found: Vec<CauseIndex> = search::causes(knowledge, &typed)
            .into_iter()
            .filter(here)
            .take(MOST)
            .collect();
        let labels: Vec<String> = found
            .iter()
            .map(|cause| knowledge.causes[*cause].name.clone())
            .collect();
        if !labels.is_empty() {
            let ask = "Which of these is it? The exercise ends with it.";
            self.screen.wrapped("", ask, Some(Mark::Strong))?;
        }
        let none = "No cause fits these words. Try the part and what is wrong with it.";
        self.one_of(&labels, none, |place| {
            Choice::Name(knowledge.causes[found[place]].id.clone())
        })
    }

    /// Asks once more, since it ends the exercise.
    pub(super) fn give_up(&mut self) -> Result<Turn, RespondentError> {
        let labels = [
            "Show me what it was; the exercise ends".to_owned(),
            "Go on".to_owned(),
        ];
        Ok(match self.pick(&labels, &['b'], &[])? {
            Picked::Entry(0) => Turn::Do(Choice::GiveUp),
            Picked::Entry(_) | Picked::Letter(_) => Turn::Stay,
            Picked::Stop => Turn::Leave,
        })
    }

    /// A line of text; nothing when Ctrl-C ends the exercise there.
    fn text(&mut self, prompt: &str) -> Result<Option<String>, RespondentError> {
        match self.input.text(&mut self.screen, prompt) {
            Err(RespondentError::Interrupted) if !self.input.told_to_end() => Ok(None),
            Ok(typed) => Ok(Some(typed)),
            Err(error) => Err(error),
        }
    }

    /// Lets one of some entries be picked, and makes the choice of its place; says `none` where there are none.
    fn one_of(
        &mut self,
        labels: &[String],
        none: &str,
        choice: impl FnOnce(usize) -> Choice,
    ) -> Result<Turn, RespondentError> {
        if labels.is_empty() {
            self.screen.wrapped("  ", none, None)?;
            return Ok(Turn::Stay);
        }
        let stay = ["b or Esc: none of these".to_owned()];
        Ok(match self.pick(labels, &['b', ESCAPE], &stay)? {
            Picked::Entry(place) => Turn::Do(choice(place)),
            Picked::Letter(_) => Turn::Stay,
            Picked::Stop => Turn::Leave,
        })
    }
}
