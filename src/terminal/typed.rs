//! Answers that are typed: readings, and values from the plate.

use crate::knowledge::model::{Fact, Test, TestIndex};
use crate::quantity::ValueKind;
use crate::walk::{Question, Reply, RespondentError, Walk, sayings};

use super::person::Person;
use super::screen::Mark;

impl Person {
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
                        Question::Fact { fact, .. } => Some(&walk.knowledge().facts[fact.0]),
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

    /// Asks for the amps of a load that was named without; nothing where they are not known.
    pub(super) fn with_amps(
        &mut self,
        fact: Option<&Fact>,
        typed: String,
    ) -> Result<Option<String>, RespondentError> {
        let has_figure = typed.contains(|c: char| c.is_ascii_digit());
        if has_figure || fact.is_none_or(|fact| fact.kind != ValueKind::Loads) {
            return Ok(Some(typed));
        }
        let ask = format!("amps of {typed}, or x for not known");
        let amps = self.input.text(&mut self.screen, &ask)?;
        Ok((!amps.eq_ignore_ascii_case("x")).then(|| format!("{typed} {amps}")))
    }

    /// What stands right above a typed answer: the words that stand for a figure, and the letters.
    fn typed_head(&mut self, walk: &Walk<'_>) -> std::io::Result<()> {
        if let Question::Test { test, .. } = walk.question() {
            self.words_taken(&walk.knowledge().tests[test.0])?;
        }
        for line in self.screen.wrap_offers(&self.offers_said(false)) {
            let line = self.screen.mark(&line, Some(Mark::Quiet));
            self.screen.line(&line)?;
        }
        Ok(())
    }

    /// Says which words stand for a figure the person does not have.
    pub(super) fn words_taken(&mut self, test: &Test) -> std::io::Result<()> {
        self.screen.wrapped(
            "  no figure? type: ",
            &sayings(test).join(", "),
            Some(Mark::Quiet),
        )
    }
}

/// What a typed value is asked by.
pub(super) fn value_prompt(fact: &Fact) -> String {
    match fact.kind {
        ValueKind::Size => "size".to_owned(),
        ValueKind::Loads => "name and amps, as `sump pump 9; freezer 6`".to_owned(),
        _ if fact.unit.is_empty() => "number".to_owned(),
        _ => format!("value in {}", fact.unit),
    }
}
