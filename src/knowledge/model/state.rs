//! What state the equipment is in during a test, and what that can do to a person.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::quantity::words;

words! {
    /// What state the equipment is in while a test is made, from the least exposed to the most.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
    pub enum State {
        /// Nothing is touched or tried: it is told, remembered, or read from paper.
        Told = "told" => "told",
        /// It does not matter: looking from outside, arithmetic. Nothing is switched or started for it.
        Any = "any" => "nothing to open",
        /// Disconnected, locked, proved dead.
        LockedOut = "locked-out" => "locked out",
        /// It is switched on, or runs, with its covers on.
        Running = "running" => "RUNNING",
        /// Live parts are exposed or probed.
        Energised = "energised" => "ENERGIZED",
        /// The burner is called for or fires.
        Firing = "firing" => "BURNER ON",
    }
}

impl State {
    /// Whether the equipment has power or flame while the test is made.
    #[must_use]
    pub const fn is_powered(self) -> bool {
        matches!(self, Self::Running | Self::Energised | Self::Firing)
    }

    /// Whether the equipment must be brought into this state first.
    #[must_use]
    pub const fn is_prepared(self) -> bool {
        !matches!(self, Self::Told | Self::Any)
    }

    /// Whether a person who has accepted the cautions of `self` has accepted those of `needed`.
    #[must_use]
    pub fn covers(self, needed: Self) -> bool {
        self == needed || (self == Self::Energised && needed == Self::Running)
    }
}

words! {
    /// What a test can do to the person making it.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
    pub enum Hazard {
        /// Nothing.
        None = "none" => "no hazard",
        /// Minor: sharp edges, a ladder.
        Low = "low" => "low hazard",
        /// Hot parts.
        Burn = "burn" => "burn hazard",
        /// A charged capacitor.
        StoredEnergy = "stored-energy" => "stored-energy hazard",
        /// Electric shock.
        Shock = "shock" => "shock hazard",
        /// Shock and arc flash.
        ShockAndArc = "shock-and-arc" => "shock and arc hazard",
    }
}
