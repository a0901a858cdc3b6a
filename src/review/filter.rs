//! Which cases of all are looked at.

use crate::journal::life::Reached;
use crate::knowledge::search;

use super::names::{Name, Names};
use super::row::Row;

/// What a case must be to count. What is left out does not matter.
#[derive(Clone, Debug, Default)]
pub struct Filter {
    /// Opened at this second or later, since 1970.
    pub from: Option<i64>,
    /// Opened before this second.
    pub until: Option<i64>,
    /// Id of the complaint.
    pub complaint: Option<String>,
    /// Id of the equipment.
    pub equipment: Option<String>,
    /// Id of the cause it was closed with; `not-listed` for those the knowledge does not have.
    pub cause: Option<String>,
    /// Words in the name of who came last, whatever their case.
    pub technician: Option<String>,
    /// Words in the place or unit, whatever their case.
    pub place: Option<String>,
    /// How far it got.
    pub reached: Option<Reached>,
}

impl Filter {
    pub(super) fn takes(&self, row: &Row, names: &Names) -> bool {
        let is = |wanted: &Option<String>, name: Option<Name>| {
            wanted
                .as_deref()
                .is_none_or(|wanted| name.is_some_and(|name| names.text(name).eq_ignore_ascii_case(wanted)))
        };
        let cause = self.cause.as_deref().is_none_or(|wanted| {
            row.closing.is_some_and(|closing| match closing.cause {
                Some(cause) => names.text(cause) == wanted,
                None => wanted == crate::inference::learn::NOT_LISTED,
            })
        });
        // As `case list` does: every word, in any order.
        let has = |words: &str, name: Name| search::has_all(names.text(name), words);
        let place = self.place.as_deref().is_none_or(|words| {
            [row.place, row.unit]
                .into_iter()
                .flatten()
                .any(|name| has(words, name))
        });
        let technician = self
            .technician
            .as_deref()
            .is_none_or(|words| row.technician.is_some_and(|name| has(words, name)));
        self.from.is_none_or(|from| row.opened >= from)
            && self.until.is_none_or(|until| row.opened < until)
            && is(&self.complaint, row.complaint)
            && is(&self.equipment, row.equipment)
            && technician
            && cause
            && place
            && self.reached.is_none_or(|reached| {
                let proved = row.closing.map(|closing| closing.proved);
                reached.takes(row.stage, proved, row.halted)
            })
    }

    /// The filter in words, for the head of a review; empty when every case counts.
    #[must_use]
    pub fn in_words(&self) -> String {
        let day = |seconds: i64| {
            jiff::Timestamp::from_second(seconds)
                .map_or_else(|_| String::new(), |at| at.strftime("%Y-%m-%d").to_string())
        };
        let mut words = Vec::new();
        words.extend(self.from.map(|from| format!("opened from {}", day(from))));
        words.extend(self.until.map(|until| format!("opened before {}", day(until))));
        for (what, value) in [
            ("complaint", &self.complaint),
            ("equipment", &self.equipment),
            ("cause", &self.cause),
            ("technician", &self.technician),
            ("place", &self.place),
        ] {
            words.extend(value.as_ref().map(|value| format!("{what} {value}")));
        }
        words.extend(self.reached.map(|reached| reached.in_words().to_owned()));
        words.join(", ")
    }
}
