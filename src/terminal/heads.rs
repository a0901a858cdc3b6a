//! What stands above the answers of a question.

use crate::walk::{Question, Reply, RespondentError, Walk};

use super::blocks;
use super::entries::{is_by_words, markable, several};
use super::person::Person;
use super::screen::Mark;

impl Person {
    /// What stands above the answers of a question; drawn again whenever something else stood below it, so that the question
    /// is never out of sight. A reply comes back only when the person stops there.
    pub(super) fn head(&mut self, walk: &Walk<'_>) -> Result<Option<Reply>, RespondentError> {
        match walk.question() {
            Question::Complaint | Question::Finish => {}
            Question::Equipment => self.asked("the equipment", "What equipment is it?")?,
            Question::Accessories => {
                self.marking_head("what is fitted besides", "What else is fitted to it?", walk)?;
            }
            Question::Offer { known: true, .. } => self.marking_head(
                "what is known already",
                "What is known of it? Ask whoever is here.",
                walk,
            )?,
            Question::Offer { known: false, .. } => {
                self.marking_head(
                    "what can be checked next",
                    "Which of these can you check now?",
                    walk,
                )?;
            }
            Question::Able { .. } => self.marking_head(
                "what can be done now",
                "Several could not be checked. What can you do now? Nothing else is asked from here on.",
                walk,
            )?,
            Question::Fact { fact, .. } => blocks::fact_head(&mut self.screen, walk, *fact)?,
            Question::Test { test, because } => {
                blocks::test_head(&mut self.screen, walk, *test, because)?;
                if let Some((_, together)) = several(walk, *test) {
                    self.screen.wrapped("  ", how_to_mark(together.len() + 1), None)?;
                }
            }
            Question::Caution { state, test } => {
                let heading = blocks::state_ahead(*state);
                self.screen.rule(heading)?;
                let cautions = blocks::cautions(&self.screen, walk, *state, *test);
                let offers = self.screen.wrap_offers(&self.offers_said(false)).len();
                // None may scroll away unread: what does not fit above its answer is read page by page.
                if cautions.len() + offers + 3 > self.screen.rows() {
                    if let Some(reply) = self.page(&cautions, "read; go on")? {
                        return Ok(Some(reply));
                    }
                    self.screen.rule(heading)?;
                } else {
                    for line in &cautions {
                        self.screen.line(line)?;
                    }
                }
            }
            Question::Halt { advice, call } => {
                self.screen.rule("STOP")?;
                self.screen.wrapped("  ! ", advice, Some(Mark::Danger))?;
                self.screen.wrapped("  call: ", call, Some(Mark::Danger))?;
                if let Some(proof) = walk.clears_later() {
                    let name = &walk.knowledge().tests[proof].name;
                    self.screen
                        .wrapped("  then: ", &format!("once that is done, v and \"{name}\""), None)?;
                }
            }
        }
        Ok(None)
    }

    /// Shows the cautions of a state once more that were accepted in an earlier sitting: that may have been on another day and
    /// by another person. A reply comes back only when the person stops there.
    pub(super) fn cautions_again(&mut self, walk: &Walk<'_>) -> Result<Option<Reply>, RespondentError> {
        let Question::Test { test, .. } = walk.question() else {
            return Ok(None);
        };
        let state = walk.knowledge().tests[*test].state;
        if !state.is_prepared() || self.read.iter().any(|read| read.covers(state)) {
            return Ok(None);
        }
        self.read.push(state);
        self.screen.rule(blocks::state_ahead(state))?;
        let mut lines = self.screen.wrap(
            "  ",
            "These were accepted before this sitting. They hold for whoever works now: read them again.",
        );
        lines.extend(blocks::cautions(&self.screen, walk, state, *test));
        self.page(&lines, "go on")
    }

    pub(super) fn asked(&mut self, heading: &str, ask: &str) -> std::io::Result<()> {
        self.screen.rule(heading)?;
        self.screen.wrapped("", ask, Some(Mark::Strong))
    }

    /// The head of a list in which entries are marked, with how that is done in a list of its length.
    pub(super) fn marking_head(&mut self, heading: &str, ask: &str, walk: &Walk<'_>) -> std::io::Result<()> {
        let entries = markable(walk).len() + 1 + usize::from(is_by_words(walk));
        self.asked(heading, &format!("{ask} {}", how_to_mark(entries)))
    }
}

/// How entries are marked in a list of so many.
const fn how_to_mark(entries: usize) -> &'static str {
    /// Most entries that one digit is enough for.
    const ONE_DIGIT: usize = 9;
    if entries > ONE_DIGIT {
        "Mark by number and Enter; when done, 1 and Enter."
    } else {
        "Mark by number; when done, 1."
    }
}
