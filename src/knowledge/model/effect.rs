//! What can be found out about a fault.

use serde::{Deserialize, Serialize};

use super::index::EffectIndex;

/// The effect whose states are the complaints; every case tells it by itself, and no test shows it.
pub const COMPLAINT: &str = "complaint";

/// Something about a fault that can be found out: one of a few states.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Effect {
    /// Kebab-case id.
    pub id: String,
    /// What it is, short.
    pub name: String,
    /// Its states; their usual shares add up to 1.
    pub states: Vec<EffectState>,
    /// Shares of the states on some complaints, by the complaint's place among the states of the effect `complaint`.
    pub on_complaint: Vec<(usize, Vec<f64>)>,
    /// The effect it follows from.
    pub follows: Option<Follows>,
}

/// A state of an effect.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct EffectState {
    /// Kebab-case id.
    pub id: String,
    /// How often it is met among all callbacks.
    pub usual: f64,
    /// The state in words that follow "because": "the 24 V is gone".
    pub says: String,
    /// In it nothing is wrong.
    pub all_clear: bool,
}

/// What an effect follows from.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Follows {
    /// The other effect.
    pub effect: EffectIndex,
    /// Shares of the states where the other one is in a state, by that state; nothing where it changes nothing.
    pub given: Vec<Option<Vec<f64>>>,
}

/// How often a cause brings which state of an effect.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Does {
    /// Each effect stands once with a cause.
    pub effect: EffectIndex,
    /// P(state | cause), whatever the complaint; adds up to 1.
    pub shares: Vec<f64>,
    /// It stands with the cause's family, not with the cause itself.
    pub from_family: bool,
}

/// What is common to a kind of causes.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Family {
    /// Kebab-case id.
    pub id: String,
    /// What each cause of it brings that says nothing else.
    pub does: Vec<Does>,
}

/// States of one effect under which an outcome is met.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Shown {
    /// Each effect stands once with an outcome.
    pub effect: EffectIndex,
    /// The states, by place.
    pub states: Vec<usize>,
}
