//! A case in a row: its facts, with every name kept once beside all rows.

use serde::{Deserialize, Serialize};

use crate::journal::life::Stage;

use super::facts::Facts;
use super::names::{Name, Names};

/// A closing, with its names.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(super) struct RowClosing {
    pub(super) cause: Option<Name>,
    pub(super) not_listed: Option<Name>,
    pub(super) proved: bool,
    pub(super) in_danger: bool,
    pub(super) at: i64,
}

impl RowClosing {
    /// How it was closed, in words.
    pub(super) const fn how(&self) -> &'static str {
        match (self.proved, self.in_danger) {
            (_, true) => "a danger stood",
            (true, false) => "proved",
            (false, false) => "guess",
        }
    }
}

/// What one of several people did, with its names.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub(super) struct RowHand {
    pub(super) technician: Option<Name>,
    pub(super) made: Box<[Name]>,
    pub(super) accepted: [u32; 4],
}

/// A case in a row. The fields are those of [`Facts`].
#[derive(Clone, Debug, Serialize, Deserialize)]
pub(super) struct Row {
    pub(super) id: Name,
    pub(super) opened: i64,
    pub(super) month: Name,
    pub(super) stage: Stage,
    pub(super) invented: bool,
    pub(super) complaint: Option<Name>,
    pub(super) equipment: Option<Name>,
    pub(super) technician: Option<Name>,
    pub(super) place: Option<Name>,
    pub(super) unit: Option<Name>,
    pub(super) visits: u32,
    pub(super) seconds: i64,
    pub(super) made: Box<[Name]>,
    pub(super) skipped: Box<[Name]>,
    pub(super) surprising: Box<[Name]>,
    pub(super) accepted: [u32; 4],
    pub(super) hands: Box<[RowHand]>,
    pub(super) halted: bool,
    pub(super) leader: Option<(Name, u32)>,
    pub(super) remainder: u32,
    pub(super) callback_of: Option<Name>,
    pub(super) repaired: Option<Name>,
    pub(super) replaced: Box<[(Name, Name)]>,
    pub(super) closing: Option<RowClosing>,
    pub(super) closed_otherwise: bool,
}

impl Row {
    pub(super) fn new(facts: &Facts, names: &mut Names) -> Self {
        let mut name = |text: &Option<String>| text.as_deref().map(|text| names.of(text));
        let complaint = name(&facts.complaint);
        let equipment = name(&facts.equipment);
        let technician = name(&facts.technician);
        let place = name(&facts.place);
        let unit = name(&facts.unit);
        let callback_of = name(&facts.callback_of);
        let repaired = name(&facts.repaired);
        let closing = facts.closing.as_ref().map(|closing| RowClosing {
            cause: name(&closing.cause),
            not_listed: name(&closing.not_listed),
            proved: closing.proved,
            in_danger: closing.in_danger,
            at: closing.at,
        });
        let hands = facts
            .hands
            .iter()
            .map(|hand| RowHand {
                technician: hand.technician.as_deref().map(|name| names.of(name)),
                made: names.of_each(&hand.made),
                accepted: hand.accepted,
            })
            .collect();
        Self {
            id: names.of(&facts.id),
            opened: facts.opened,
            month: names.of(&super::facts::month(facts.opened)),
            stage: facts.stage,
            invented: facts.invented,
            complaint,
            equipment,
            technician,
            place,
            unit,
            visits: facts.visits,
            seconds: facts.seconds,
            made: names.of_each(&facts.made),
            skipped: names.of_each(&facts.skipped),
            surprising: names.of_each(&facts.surprising),
            accepted: facts.accepted,
            hands,
            halted: facts.halted,
            leader: facts
                .leader
                .as_ref()
                .map(|(cause, share)| (names.of(cause), *share)),
            remainder: facts.remainder,
            callback_of,
            repaired,
            replaced: facts
                .replaced
                .iter()
                .map(|(test, outcome)| (names.of(test), names.of(outcome)))
                .collect(),
            closing,
            closed_otherwise: facts.closed_otherwise,
        }
    }
}
