//! What the letters beside every question do.

use crate::knowledge::model::TestIndex;
use crate::quantity::ValueKind;
use crate::walk::{Question, Reply, RespondentError, Walk};

use super::blocks;
use super::letters::{THINKS_SO, is_back};
use super::person::Person;
use super::pick::Picked;
use super::screen::Mark;
use super::typed::value_prompt;

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
                    THINKS_SO
                } else {
                    "This must be sure."
                };
                self.screen.wrapped("  ", text, None)?;
                Ok(None)
            }
            'b' => self.back(walk),
            'n' => {
                let note = self.input.text(&mut self.screen, "note")?;
                if is_back(&note) {
                    return Ok(None);
                }
                self.noted = Some(note.clone());
                Ok(Some(Reply::Note(note)))
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
                        blocks::why(&self.screen, knowledge, &knowledge.tests[test])
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
        match self.pick_or_back(&steps, "stay here")? {
            Picked::Entry(place) => self.back_over_dangers(walk, place + 1),
            Picked::Letter(_) => Ok(None),
            Picked::Stop => Ok(Some(Reply::Stop)),
        }
    }

    /// Goes back; a danger that was told is only taken back as a slip of the finger, and that stays in the remarks.
    fn back_over_dangers(&mut self, walk: &Walk<'_>, steps: usize) -> Result<Option<Reply>, RespondentError> {
        let back = Reply::Back(steps);
        let dangers = walk.dangers_taken_back(steps);
        if dangers.is_empty() {
            return Ok(Some(back));
        }
        let names: Vec<&str> = dangers.iter().map(|hold| hold.name.as_str()).collect();
        let names = names.join("; ");
        let gone = format!("That takes back a danger: {names}.");
        self.screen.wrapped("  ", &gone, Some(Mark::Danger))?;
        let choices = [
            "It was never so: a slip of the finger, take it back".to_owned(),
            "It was so, or may have been: leave it (what was done about it is told with v)".to_owned(),
        ];
        match self.pick_or_back(&choices, "leave it")? {
            Picked::Entry(0) => {
                self.queued = Some(back);
                Ok(Some(Reply::Note(format!(
                    "Taken back as a slip of the finger: {names}."
                ))))
            }
            Picked::Entry(_) | Picked::Letter(_) => Ok(None),
            Picked::Stop => Ok(Some(Reply::Stop)),
        }
    }

    fn correct(&mut self, walk: &Walk<'_>) -> Result<Option<Reply>, RespondentError> {
        let knowledge = walk.knowledge();
        if walk.installation().is_none() {
            self.screen
                .wrapped("  ", "Facts come after complaint and equipment.", None)?;
            return Ok(None);
        }
        let (facts, names) = blocks::facts(walk);
        self.screen.rule("facts")?;
        let place = match self.pick_or_back(&names, "leave them as they are")? {
            Picked::Entry(place) => place,
            Picked::Letter(_) => return Ok(None),
            Picked::Stop => return Ok(Some(Reply::Stop)),
        };
        let index = facts[place];
        let fact = &knowledge.facts[index];
        self.screen.wrapped("", &fact.ask, Some(Mark::Strong))?;
        self.screen.wrapped("  where: ", &fact.find, None)?;
        let value = if fact.kind == ValueKind::Choice {
            let offered = walk.choices_offered(index);
            let labels: Vec<String> = offered.iter().map(|choice| choice.label.clone()).collect();
            match self.pick_or_back(&labels, "leave them as they are")? {
                Picked::Entry(place) => Some(offered[place].id.clone()),
                Picked::Letter(_) => return Ok(None),
                Picked::Stop => return Ok(Some(Reply::Stop)),
            }
        } else {
            let prompt = format!(
                "{}, or x when it is not known; empty to leave",
                value_prompt(fact)
            );
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
