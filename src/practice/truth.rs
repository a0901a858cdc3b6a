//! What an exercise hides: the fault in a simulated installation, or, where the rig has no model of it, drawn from what its cause does.

use std::rc::Rc;

use fastrand::Rng;

use crate::knowledge::model::{CauseIndex, State};
use crate::quantity::Value;
use crate::rig::{Hidden, NoRig, Simulated};
use crate::walk::Walk;

use super::plates;
use super::values::{Values, parsed};

/// Plates whose figures the simulated installation is built from: what it shows of the circuit follows from these and the fault.
const BUILT_FROM: [&str; 11] = [
    "nameplate-voltage",
    "rated-load-current",
    "locked-rotor-current",
    "fan-full-load-current",
    "blower-full-load-current",
    "heater-power",
    "heater-rated-voltage",
    "run-capacitor-rating",
    "transformer-rating",
    "main-breaker-rating",
    "control-minimum-flame-current",
];

/// The fault with everything that can be found out about it.
#[derive(Clone)]
pub struct Truth {
    /// What is found.
    pub hidden: Hidden,
    /// The installation that gives its readings; or why they are drawn.
    pub simulated: Result<Simulated, String>,
}

impl Truth {
    /// Puts a cause behind a walk whose complaint, equipment and accessories are given; nothing when it cannot be there. The same
    /// walk, cause, seed and knowledge give the same.
    #[must_use]
    pub fn sample(walk: &Walk<'_>, truth: CauseIndex, seed: u64) -> Option<Self> {
        let why = match simulated(walk, truth, seed) {
            Ok(simulated) => {
                return Some(Self {
                    hidden: simulated.hidden.clone(),
                    simulated: Ok(simulated),
                });
            }
            Err(NoRig::NotHere) => return None,
            Err(NoRig::NoModel(no)) => no.why,
            Err(NoRig::NoSolution) => "its circuit cannot be worked out".to_owned(),
            Err(NoRig::NotBrought) => "in a simulated installation it brings no such complaint".to_owned(),
        };
        let hidden = Hidden::sample(walk, truth, seed, &[], |states, outcomes, rng| {
            Rc::new(Values::sample(walk, states, outcomes, rng))
        });
        Some(Self {
            hidden: hidden?,
            simulated: Err(why),
        })
    }

    /// Minutes for which it is let run before the first test in a state.
    pub(super) fn waits(&self, state: State) -> f64 {
        self.simulated
            .as_ref()
            .map_or(0.0, |simulated| simulated.waits(state))
    }
}

/// The cause in an installation with everyday plates.
pub(super) fn simulated(walk: &Walk<'_>, truth: CauseIndex, seed: u64) -> Result<Simulated, NoRig> {
    let knowledge = walk.knowledge();
    let own = walk.installation().ok_or(NoRig::NotHere)?;
    let plates = plates::of(&own.parts, &mut Rng::with_seed(seed ^ 0x91a7_e500_0000_0001));
    let fact = |id: &str| -> Option<Value> {
        let (_, typed) = plates.iter().find(|(of, _)| *of == id)?;
        let index = knowledge.fact(id).filter(|_| BUILT_FROM.contains(&id))?;
        parsed(&knowledge.facts[index], typed)
    };
    Simulated::called_for(walk, truth, &fact, seed)
}
