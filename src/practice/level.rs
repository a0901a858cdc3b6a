//! How hard a hidden fault is to find, by what it takes to see it.

use serde::{Deserialize, Serialize};

use crate::knowledge::model::{CauseIndex, State, TestIndex, TestKind};
use crate::walk::Walk;

use super::hidden::proofs;

/// How hard an exercise is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(into = "u8", try_from = "u8")]
pub enum Level {
    /// The fault can be seen, heard or asked for, with nothing live.
    Seen,
    /// It is measured with the power off, or seen while it runs.
    MeasuredDead,
    /// It is measured live, worked out, or shows itself only now and then.
    MeasuredLive,
}

/// A test that finds a fault at least this often is counted on. Our choice, no source.
const OFTEN: f64 = 0.5;

impl Level {
    /// All of them, easiest first.
    pub const ALL: [Self; 3] = [Self::Seen, Self::MeasuredDead, Self::MeasuredLive];

    /// Its number, from 1.
    #[must_use]
    pub const fn number(self) -> u8 {
        match self {
            Self::Seen => 1,
            Self::MeasuredDead => 2,
            Self::MeasuredLive => 3,
        }
    }

    /// What it takes, in words.
    #[must_use]
    pub const fn in_words(self) -> &'static str {
        match self {
            Self::Seen => "the fault can be seen, heard or asked for, with nothing live",
            Self::MeasuredDead => "it is measured with the power off, or seen while it runs",
            Self::MeasuredLive => "it is measured live, worked out, or shows itself only now and then",
        }
    }

    /// The level of a cause in a walk whose equipment is given: that of the easiest test that mostly finds it.
    #[must_use]
    pub fn of(walk: &Walk<'_>, cause: CauseIndex) -> Self {
        (0..walk.knowledge().tests.len())
            .map(TestIndex)
            .filter(|test| walk.applies(*test) && finds(walk, *test, cause) >= OFTEN)
            .map(|test| Self::of_test(walk, test))
            .min()
            .unwrap_or(Self::MeasuredLive)
    }

    fn of_test(walk: &Walk<'_>, test: TestIndex) -> Self {
        let known = &walk.knowledge().tests[test.0];
        match (&known.kind, known.state) {
            (TestKind::Look, State::Told | State::Any | State::LockedOut) => Self::Seen,
            (TestKind::Reading { .. }, State::Any | State::LockedOut) | (TestKind::Look, State::Running) => {
                Self::MeasuredDead
            }
            _ => Self::MeasuredLive,
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
