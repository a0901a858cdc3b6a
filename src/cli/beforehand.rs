//! What the settings say of every case, told to the walk as soon as it can take it.

use crate::standards::CODE_EDITION;
use crate::walk::{Event, Prompt, Question, Refusal, Reply, Respondent, RespondentError, Walk};

/// A respondent for whom the edition is told beforehand. A case that has one keeps it.
pub(super) struct Beforehand<'a> {
    inner: &'a mut dyn Respondent,
    edition: Option<&'a str>,
    telling: bool,
}

impl<'a> Beforehand<'a> {
    pub(super) fn new(inner: &'a mut dyn Respondent, edition: Option<&'a str>) -> Self {
        Self {
            inner,
            edition,
            telling: false,
        }
    }

    /// The edition, when this is the moment to tell it: once, after what equipment it is, where none is known yet and
    /// the person has not taken it back.
    fn edition_now(&mut self, prompt: Prompt<'_, '_>) -> Option<String> {
        if matches!(
            prompt.question,
            Question::Complaint | Question::Equipment | Question::Accessories
        ) {
            return None;
        }
        let edition = self.edition.take()?;
        let fact = prompt.walk.knowledge().fact(CODE_EDITION)?;
        prompt.walk.fact(fact).is_none().then(|| edition.to_owned())
    }
}

impl Respondent for Beforehand<'_> {
    fn respond(&mut self, prompt: Prompt<'_, '_>) -> Result<Reply, RespondentError> {
        if let Some(edition) = self.edition_now(prompt) {
            self.telling = true;
            return Ok(Reply::Correct {
                fact: CODE_EDITION.to_owned(),
                value: Some(edition),
            });
        }
        self.inner.respond(prompt)
    }

    fn refused(&mut self, refusal: &Refusal) {
        if std::mem::take(&mut self.telling) {
            super::printing::remark(&format!("the edition of the settings is not used: {refusal}"));
        } else {
            self.inner.refused(refusal);
        }
    }

    fn observe(&mut self, event: &Event, understood: Option<&str>, walk: &Walk<'_>) {
        self.telling = false;
        self.inner.observe(event, understood, walk);
    }
}
