//! Whoever comes with a meter: on what day and hour, and whether a fault that comes and goes is there at the moment of a test.

use fastrand::Rng;

use super::bench::Stage;
use super::clock::{SHAKES, warm_at, warmth};
use super::day::Day;
use super::faults::When;
use super::installation::{Call, RATED_AIR};

/// Seconds a unit has run when it is read running: what the tests ask for.
const TEN_MINUTES: f64 = 600.0;

/// Minutes for which it is let run where the customer says that it comes with the run: he has told how long it takes, and nobody reads
/// after ten minutes what comes after twenty. A judgment.
pub const WAITS: f64 = 30.0;

/// Chance that it is still wet when somebody comes, that a large load of the building is on where the unit runs for a test, and that
/// something moves what is loose while the power is on and nothing runs. Judgments, no source.
const STILL_WET: f64 = 0.4;
const LOADED: f64 = 0.5;
const MOVED: f64 = 0.1;

/// One visit.
#[derive(Clone, Debug, PartialEq)]
pub struct Visit {
    /// Outdoor air, C.
    pub air: f64,
    wet: bool,
    loaded: bool,
    /// One number from 0 to 1 for each stage: how seldom it shakes just then.
    still: [f64; 9],
}

impl Visit {
    /// A visit at which whatever comes and goes is there: the plate's hot day.
    pub const AT_WORST: Self = Self {
        air: RATED_AIR,
        wet: true,
        loaded: true,
        still: [0.0; 9],
    };

    /// Samples one for a call that is tried: half the days are as hot, or as cold where heat is called, as when it was
    /// called in.
    #[must_use]
    pub fn sample(mode: Call, rng: &mut Rng) -> Self {
        let day = match (rng.bool(), mode) {
            (true, Call::Heat) => Day::COLD,
            (true, _) => Day::HOT,
            (false, _) => Day::MILD,
        };
        let hour = 8.0 + 9.0 * rng.f64();
        Self {
            air: day.air(hour),
            wet: rng.f64() < STILL_WET,
            loaded: rng.f64() < LOADED,
            still: [(); 9].map(|()| rng.f64()),
        }
    }

    /// Whether a fault is there at a stage.
    #[must_use]
    pub fn meets(&self, when: When, severity: f64, stage: Stage) -> bool {
        let runs = matches!(
            stage,
            Stage::Running | Stage::Heating | Stage::Blowing | Stage::AfterHeat
        );
        match when {
            When::Always => true,
            When::Warm => runs && warmth(60.0 * WAITS, self.air) > warm_at(severity),
            When::Shaken => {
                let often = SHAKES.0 + (SHAKES.1 - SHAKES.0) * severity;
                let chance = if runs {
                    1.0 - (-often * TEN_MINUTES / 3600.0).exp()
                } else {
                    MOVED
                };
                self.still[stage as usize] < chance
            }
            When::Wet => self.wet,
            When::Loaded => self.loaded && (runs || stage == Stage::TestLoad),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A warm part is met running and not at rest; the slightest only on a hot day.
    #[test]
    fn a_warm_part_fails_only_after_a_run() {
        let visit = Visit::AT_WORST;
        assert!(visit.meets(When::Warm, 0.9, Stage::Running));
        assert!(!visit.meets(When::Warm, 0.9, Stage::Rest));
        assert!(visit.meets(When::Warm, 0.0, Stage::Running), "a hot day");
        let morning = Visit {
            air: Day::MILD.air(8.0),
            ..visit
        };
        assert!(!morning.meets(When::Warm, 0.0, Stage::Running));
    }

    #[test]
    fn a_grave_fault_that_shakes_is_met_oftener() {
        let mut rng = Rng::with_seed(3);
        let mut met = [0, 0];
        for _ in 0..400 {
            let visit = Visit::sample(Call::Cooling, &mut rng);
            for (place, severity) in [0.0, 1.0].into_iter().enumerate() {
                met[place] += usize::from(visit.meets(When::Shaken, severity, Stage::Running));
            }
        }
        assert!((30..110).contains(&met[0]) && met[1] > 350, "{met:?}");
    }
}
