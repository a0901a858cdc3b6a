//! Answers that are typed: readings, and values from the plate.

use crate::knowledge::model::{Fact, Test};
use crate::quantity::{Value, ValueKind};
use crate::walk::{RespondentError, sayings};

use super::person::Person;
use super::screen::Mark;

impl Person {
    /// Asks for the amps of a load that was named without; nothing where they are not known.
    pub(super) fn with_amps(
        &mut self,
        fact: Option<&Fact>,
        typed: String,
    ) -> Result<Option<String>, RespondentError> {
        let is_whole = |fact: &Fact| {
            fact.kind != ValueKind::Loads
                || typed.contains(|c: char| c.is_ascii_digit())
                || Value::parse(&typed, fact.kind, None, &[]).is_ok()
        };
        if fact.is_none_or(is_whole) {
            return Ok(Some(typed));
        }
        let ask = format!("amps of {typed}, or x for not known");
        let amps = self.input.text(&mut self.screen, &ask)?;
        Ok((!amps.eq_ignore_ascii_case("x")).then(|| format!("{typed} {amps}")))
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
        ValueKind::Loads => "name and amps, as `sump pump 9; freezer 6`, or none".to_owned(),
        _ if fact.unit.is_empty() => "number".to_owned(),
        _ => format!("value in {}", fact.unit),
    }
}
