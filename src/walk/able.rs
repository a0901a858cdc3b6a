//! What a person can do now: kinds of tests by what they take.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::knowledge::model::{State, Test, TestKind};
use crate::quantity::words;

words! {
    /// A kind of test, by what the person needs for it.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
    pub enum Ability {
        /// Somebody who was there can be asked.
        Ask = "ask" => "Ask somebody who was there",
        /// It can be looked at from outside.
        Outside = "outside" => "Look at it from outside",
        /// It can be locked out and opened.
        Open = "open" => "Lock it out, open it and look",
        /// It can be measured locked out.
        MeasureDead = "measure-dead" => "Measure with the power off",
        /// It may run, covers on.
        Run = "run" => "Let it run, covers on",
        /// It can be measured with power on.
        MeasureLive = "measure-live" => "Measure with the power on",
        /// The trouble can be looked at while it lasts.
        Catch = "catch" => "Catch the trouble: it is there now, or can be brought on",
    }
}

impl Ability {
    /// All that a test takes.
    pub(super) fn all_of(test: &Test) -> impl Iterator<Item = Self> {
        let catch = test.while_it_fails.then_some(Self::Catch);
        Self::of(test).into_iter().chain(catch)
    }

    /// What a test takes; nothing for a calculation, which takes what its readings take.
    #[must_use]
    pub fn of(test: &Test) -> Option<Self> {
        let by_meter = matches!(test.kind, TestKind::Reading { .. }) || !test.instrument.is_empty();
        match (&test.kind, test.state) {
            (TestKind::Calculation { .. }, _) => None,
            (_, State::Told) => Some(Self::Ask),
            (_, State::Any) => Some(Self::Outside),
            (_, State::LockedOut) if by_meter => Some(Self::MeasureDead),
            (_, State::LockedOut) => Some(Self::Open),
            (_, State::Running | State::Firing) => Some(Self::Run),
            (_, State::Energised) => Some(Self::MeasureLive),
        }
    }
}
