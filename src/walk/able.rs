//! What a person can do now: kinds of tests by what they take.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::knowledge::model::{State, Test, TestKind};

/// A kind of test, by what the person needs for it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Ability {
    /// Somebody who was there can be asked.
    Ask,
    /// It can be looked at from outside.
    Outside,
    /// It can be locked out and opened.
    Open,
    /// It can be measured locked out.
    MeasureDead,
    /// It may run, covers on.
    Run,
    /// It can be measured with power on.
    MeasureLive,
}

impl Ability {
    /// All of them, in the order shown.
    pub const ALL: [Self; 6] = [
        Self::Ask,
        Self::Outside,
        Self::Open,
        Self::MeasureDead,
        Self::Run,
        Self::MeasureLive,
    ];

    /// The word for it in a reply.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::Ask => "ask",
            Self::Outside => "outside",
            Self::Open => "open",
            Self::MeasureDead => "measure-dead",
            Self::Run => "run",
            Self::MeasureLive => "measure-live",
        }
    }

    /// Says it to a person.
    #[must_use]
    pub const fn in_words(self) -> &'static str {
        match self {
            Self::Ask => "Ask somebody who was there",
            Self::Outside => "Look at it from outside",
            Self::Open => "Lock it out, open it and look",
            Self::MeasureDead => "Measure with the power off",
            Self::Run => "Let it run, covers on",
            Self::MeasureLive => "Measure with the power on",
        }
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
