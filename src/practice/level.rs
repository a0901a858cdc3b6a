//! How hard a hidden fault is to find, by what it takes to see it.

use serde::{Deserialize, Serialize};

use crate::knowledge::model::{CauseIndex, State, TestIndex, TestKind};
use crate::walk::Walk;

use crate::rig::proofs;

/// How hard an exercise is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(into = "u8", try_from = "u8")]
pub enum Level {
    /// The fault can be asked for, seen or heard from outside.
    Outside,
    /// It is seen or measured locked out.
    LockedOut,
    /// It is seen or measured with power on, worked out, or shows itself only now and then.
    PowerOn,
}

/// A test that finds a fault at least this often is counted on. Our choice, no source.
const OFTEN: f64 = 0.6;

impl Level {
    /// All of them, easiest first.
    pub const ALL: [Self; 3] = [Self::Outside, Self::LockedOut, Self::PowerOn];

    /// Its number, from 1.
    #[must_use]
    pub const fn number(self) -> u8 {
        match self {
            Self::Outside => 1,
            Self::LockedOut => 2,
            Self::PowerOn => 3,
        }
    }

    /// What it takes, in words.
    #[must_use]
    pub const fn in_words(self) -> &'static str {
        match self {
            Self::Outside => "the fault can be asked for, seen or heard from outside",
            Self::LockedOut => "it is seen or measured locked out",
            Self::PowerOn => "it takes power on, is worked out, or shows itself only now and then",
        }
    }

    /// The level of a cause in a walk whose equipment is given: that of the easiest test that mostly finds it.
    #[must_use]
    pub fn of(walk: &Walk<'_>, cause: CauseIndex) -> Self {
        walk.knowledge()
            .tests
            .indices()
            .filter(|test| walk.applies(*test) && finds(walk, *test, cause) >= OFTEN)
            .map(|test| Self::of_test(walk, test))
            .min()
            .unwrap_or(Self::PowerOn)
    }

    fn of_test(walk: &Walk<'_>, test: TestIndex) -> Self {
        let known = &walk.knowledge().tests[test];
        match (&known.kind, known.state) {
            (TestKind::Look, State::Told | State::Any) => Self::Outside,
            (TestKind::Look | TestKind::Reading { .. }, State::LockedOut) => Self::LockedOut,
            _ => Self::PowerOn,
        }
    }
}

fn finds(walk: &Walk<'_>, test: TestIndex, cause: CauseIndex) -> f64 {
    proofs(walk, test, cause).iter().map(|(_, chance)| chance).sum()
}

impl From<Level> for u8 {
    fn from(level: Level) -> Self {
        level.number()
    }
}

impl TryFrom<u8> for Level {
    type Error = String;

    fn try_from(number: u8) -> Result<Self, String> {
        Self::ALL
            .into_iter()
            .find(|level| level.number() == number)
            .ok_or_else(|| format!("there is no level {number}, expected 1, 2 or 3"))
    }
}
