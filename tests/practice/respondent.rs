//! The hidden fault as a respondent: whoever walks is answered by it, always the same.

use lineside::quantity::Word;
use lineside::rig::Hidden;
use lineside::walk::{Prompt, Question, Refusal, Reply, Respondent, RespondentError};

/// Answers a walk from a hidden fault: everything that can be told or made is, and what is not to be found is said so.
#[derive(Clone)]
pub(super) struct Installation {
    hidden: Hidden,
    refused: Option<Refusal>,
}

impl Installation {
    /// The installation with this fault.
    pub(super) fn new(hidden: Hidden) -> Self {
        Self {
            hidden,
            refused: None,
        }
    }
}

impl Respondent for Installation {
    fn respond(&mut self, prompt: Prompt<'_, '_>) -> Result<Reply, RespondentError> {
        if let Some(refused) = &self.refused {
            return Err(RespondentError::Refused {
                reason: refused.reason.clone(),
            });
        }
        let knowledge = prompt.walk.knowledge();
        let or_not = |answer: Option<String>| answer.map_or(Reply::CouldNotCheck, Reply::Answer);
        Ok(match prompt.question {
            // These are given before the fault is sampled.
            Question::Complaint | Question::Equipment | Question::Accessories => {
                return Err(RespondentError::Refused {
                    reason: "complaint, equipment and accessories are given with the exercise".to_owned(),
                });
            }
            Question::Offer { tests, .. } => {
                Reply::listed(tests.iter().map(|test| knowledge.tests[*test].id.as_str()))
            }
            Question::Able { among } => Reply::listed(among.iter().map(|ability| ability.word())),
            Question::Fact { fact, .. } => or_not(self.hidden.fact(*fact)),
            Question::Test { test, .. } => or_not(self.hidden.answer(knowledge, *test)),
            Question::Caution { .. } | Question::Halt { .. } | Question::Finish => Reply::Accept,
        })
    }

    fn refused(&mut self, refusal: &Refusal) {
        self.refused = Some(refusal.clone());
    }
}
