//! The hidden fault of an exercise: sampled once, so that everything found out about it fits together.
//!
//! First the state of every effect is sampled from what the cause brings together (`Model::sample_states`, exact by the
//! network of effects), and how plainly the fault shows itself where a test finds it directly. Every answer follows
//! from these: an outcome that shows another state than the one sampled is not met where an outcome shows that one.
//! Nobody errs in an exercise, so no answer is sampled from how sure a test is; that is for real cases, whose answers
//! people give.

use std::rc::Rc;

use fastrand::Rng;

use crate::knowledge::indexed::Indexed;
use crate::knowledge::model::{
    CauseIndex, EffectIndex, FactIndex, Knowledge, OutcomeIndex, TestIndex, TestKind,
};
use crate::quantity::Value;
use crate::walk::Walk;

use super::meter::Meter;
use super::outcomes::{self, Teller, is_proof};
use super::values::Values;

/// A fault that is there, with everything that can be found out about it.
#[derive(Clone)]
pub struct Hidden {
    truth: CauseIndex,
    states: Indexed<EffectIndex, usize>,
    /// By test; nothing where the test does not apply.
    outcomes: Indexed<TestIndex, Option<OutcomeIndex>>,
    meter: Rc<dyn Meter>,
}

/// Figures a meter shows. Readings are sampled with three, so none is lost.
const FIGURES: i32 = 4;

/// Samples of the states until those and what is found directly say the same; then the nearest is taken.
const TRIES: usize = 200;

/// Times that states are sampled anew where they would be a second fault.
const SWEEPS: usize = 60;

impl Hidden {
    /// Samples all of it for a walk whose complaint, equipment and accessories are given.
    ///
    /// Nothing when they are not, or when the cause is none of those the equipment can have. The same walk, cause, seed and
    /// knowledge give the same fault.
    #[must_use]
    pub fn sample(walk: &Walk<'_>, truth: CauseIndex, seed: u64) -> Option<Self> {
        Self::sample_where(walk, truth, seed, &[], None)
    }

    /// The same where figures come from elsewhere, and with them which states of some effects fit, the best one first:
    /// a sampled state that is none of them gives way to that. Whoever is asked there knows what there is to tell.
    #[must_use]
    pub fn sample_where(
        walk: &Walk<'_>,
        truth: CauseIndex,
        seed: u64,
        fitting: &[(EffectIndex, Vec<usize>)],
        meter: Option<Rc<dyn Meter>>,
    ) -> Option<Self> {
        let model = walk.model()?;
        let place = model.place(truth)?;
        let mut rng = Rng::with_seed(seed ^ 0x9ac7_1ce0_0000_0001);
        let teller = match meter {
            Some(_) => Teller::Knowing,
            None => Teller::Sparing,
        };
        // Drawn before the states: among many tries the plainest faults clash oftenest and would be met least.
        let plain = (teller == Teller::Knowing).then(|| rng.f64());
        let mut nearest: Option<(usize, _, _)> = None;
        for _ in 0..TRIES {
            let mut states = model.sample_states(place, &mut rng)?;
            fit(&mut states, fitting);
            let found = outcomes::found(walk, truth, &states, plain, &mut rng);
            let clashes = outcomes::clashes(walk.knowledge(), &states, &found);
            if nearest.as_ref().is_none_or(|(least, ..)| clashes < *least) {
                nearest = Some((clashes, states, found));
            }
            if clashes == 0 {
                break;
            }
        }
        let (_, mut states, found) = nearest?;
        let mut all = outcomes::of_all(walk, truth, &states, &found, teller, &mut rng);
        for _ in 0..SWEEPS {
            let second = outcomes::second_faults(walk.knowledge(), truth, &all);
            if second.is_empty() {
                break;
            }
            let mut fresh = model.sample_states(place, &mut rng)?;
            fit(&mut fresh, fitting);
            outcomes::resample(walk.knowledge(), &second, &found, &fresh, &mut states);
            all = outcomes::of_all(walk, truth, &states, &found, teller, &mut rng);
        }
        let meter = match meter {
            Some(meter) => meter,
            None => Rc::new(Values::sample(walk, &states, &mut all, &mut rng)),
        };
        Some(Self {
            truth,
            states,
            outcomes: all,
            meter,
        })
    }

    /// The same fault, its figures from elsewhere.
    #[must_use]
    pub fn read_by(mut self, meter: Rc<dyn Meter>) -> Self {
        self.meter = meter;
        self
    }

    /// The cause.
    #[must_use]
    pub fn truth(&self) -> CauseIndex {
        self.truth
    }

    /// The state of every effect.
    #[must_use]
    pub fn states(&self) -> &Indexed<EffectIndex, usize> {
        &self.states
    }

    /// Tests that show the fault itself: what they come to proves it.
    #[must_use]
    pub fn showing(&self, knowledge: &Knowledge) -> Vec<TestIndex> {
        let shows = |test: &TestIndex| {
            self.outcome(*test).is_some_and(|outcome| {
                let outcome = &knowledge.tests[*test].outcomes[outcome];
                outcome
                    .finding(self.truth)
                    .is_some_and(|chance| is_proof(outcome, chance))
            })
        };
        knowledge
            .tests
            .indices()
            .filter(shows)
            .filter(|test| !matches!(knowledge.tests[*test].kind, TestKind::Calculation { .. }))
            .collect()
    }

    /// What a look or reading comes to; nothing where it does not apply. What a calculation comes to follows from its facts
    /// and readings.
    #[must_use]
    pub fn outcome(&self, test: TestIndex) -> Option<OutcomeIndex> {
        self.outcomes.get(test).copied().flatten()
    }

    /// The answer to a look or reading as a person would type it; nothing where it cannot be checked.
    #[must_use]
    pub fn answer(&self, knowledge: &Knowledge, test: TestIndex) -> Option<String> {
        let known = &knowledge.tests[test];
        let outcome = self.outcome(test)?;
        if !known.at_once.is_empty() {
            let well = |(other, outcome): &(TestIndex, OutcomeIndex)| {
                self.outcome(*other).is_none_or(|found| found == *outcome)
            };
            let all = usize::from(!known.at_once.iter().all(well));
            return Some(known.outcomes.get(OutcomeIndex(all))?.id.clone());
        }
        match known.kind {
            TestKind::Calculation { .. } => None,
            TestKind::Reading { .. } => Some(
                self.meter
                    .reading(test)
                    .map_or_else(|| known.outcomes[outcome].id.clone(), |read| read.keyed(FIGURES)),
            ),
            TestKind::Look => Some(known.outcomes[outcome].id.clone()),
        }
    }

    /// A fact as a person would type it; nothing where it is not to be found.
    #[must_use]
    pub fn fact(&self, fact: FactIndex) -> Option<String> {
        self.meter.fact(fact).map(Value::exact)
    }
}

/// Lets the states give way that do not fit.
fn fit(states: &mut Indexed<EffectIndex, usize>, fitting: &[(EffectIndex, Vec<usize>)]) {
    for (effect, fits) in fitting {
        if let Some(best) = fits.first()
            && !fits.contains(&states[*effect])
        {
            states[*effect] = *best;
        }
    }
}
