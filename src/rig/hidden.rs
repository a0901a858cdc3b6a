//! A hidden fault: sampled once, so that everything found out about it fits together.
//!
//! First the state of every effect is sampled from what the cause brings together (`Model::sample_states`, exact by the
//! network of effects), and how plainly the fault shows itself where a test finds it directly. A state that does not fit
//! what the installation does gives way. Every answer follows from these: an outcome that shows another state than the one
//! sampled is not met where an outcome shows that one. Nobody errs here, so no answer is sampled from how sure a test is;
//! that is for real cases, whose answers people give.

use std::rc::Rc;

use fastrand::Rng;

use crate::knowledge::indexed::Indexed;
use crate::knowledge::model::{
    BoundOf, CauseIndex, EffectIndex, FactIndex, Knowledge, OutcomeIndex, TestIndex, TestKind,
};
use crate::quantity::{Quantity, Value};
use crate::walk::Walk;

use super::bench::Because;
use super::outcomes::{self, is_proof};

/// Who knows the figures of an installation: its readings, and what stands on its plates.
pub trait Figures {
    /// What a meter reads at a test.
    ///
    /// # Errors
    /// Why it cannot be read; `NoModel` where no figure stands for what was sampled, which is told in words then.
    fn reading(&self, test: TestIndex) -> Result<Quantity, Because>;
    /// What a fact is; nothing where it is not to be found.
    fn fact(&self, fact: FactIndex) -> Option<&Value>;
}

/// What every test comes to.
pub type Outcomes = Indexed<TestIndex, Option<OutcomeIndex>>;

/// A fault that is there, with everything that can be found out about it.
#[derive(Clone)]
pub struct Hidden {
    truth: CauseIndex,
    states: Indexed<EffectIndex, usize>,
    /// By test; nothing where it does not apply, or cannot be read.
    outcomes: Outcomes,
    figures: Rc<dyn Figures>,
}

/// Figures a meter shows. Readings are sampled with three, so none is lost.
const FIGURES: i32 = 4;

/// Samples of the states until those and what is found directly say the same; then the nearest is taken.
const TRIES: usize = 200;

/// Times that states are sampled anew where they would be a second fault.
const SWEEPS: usize = 60;

impl Hidden {
    /// Samples all of it for a walk whose complaint, equipment and accessories are given. `fitting`: which states of some
    /// effects fit, the best one first. `figures` makes the figures of what was sampled, and may change outcomes for them.
    ///
    /// Nothing when they are not, or when the cause is none of those the equipment can have. The same walk, cause, seed,
    /// figures and knowledge give the same fault.
    #[must_use]
    pub fn sample(
        walk: &Walk<'_>,
        truth: CauseIndex,
        seed: u64,
        fitting: &[(EffectIndex, Vec<usize>)],
        figures: impl FnOnce(&Indexed<EffectIndex, usize>, &mut Outcomes, &mut Rng) -> Rc<dyn Figures>,
    ) -> Option<Self> {
        let knowledge = walk.knowledge();
        let model = walk.model()?;
        let place = model.place(truth)?;
        let mut rng = Rng::with_seed(seed ^ 0x9ac7_1ce0_0000_0001);
        // Drawn before the states: among many tries the plainest faults clash oftenest and would be met least.
        let plain = rng.f64();
        let mut nearest: Option<(usize, _, _)> = None;
        for _ in 0..TRIES {
            let mut states = model.sample_states(place, &mut rng)?;
            fit(&mut states, fitting);
            let found = outcomes::found(walk, truth, &states, plain, &mut rng);
            let clashes = outcomes::clashes(knowledge, &states, &found);
            if nearest.as_ref().is_none_or(|(least, ..)| clashes < *least) {
                nearest = Some((clashes, states, found));
            }
            if clashes == 0 {
                break;
            }
        }
        let (_, mut states, found) = nearest?;
        let mut all = outcomes::of_all(walk, truth, &states, &found, &mut rng);
        for _ in 0..SWEEPS {
            let second = outcomes::second_faults(knowledge, truth, &all);
            if second.is_empty() {
                break;
            }
            let mut fresh = model.sample_states(place, &mut rng)?;
            fit(&mut fresh, fitting);
            outcomes::resample(knowledge, &second, &found, &fresh, &mut states);
            all = outcomes::of_all(walk, truth, &states, &found, &mut rng);
        }
        let figures = figures(&states, &mut all, &mut rng);
        Some(Self {
            truth,
            states,
            outcomes: all,
            figures,
        })
    }

    /// The same as somebody meets it while the fault is away, which is sampled in `away`: the running unit shows nothing but
    /// what shows the fault itself.
    #[must_use]
    pub fn met_while_away(mut self, knowledge: &Knowledge, away: &Self) -> Self {
        let showing = self.showing(knowledge);
        for (test, known) in knowledge.tests.indexed() {
            let looks = matches!(known.kind, TestKind::Look) && known.state.is_powered();
            if looks && !showing.contains(&test) {
                self.outcomes[test] = away.outcomes[test];
            }
        }
        self
    }

    /// The same, its readings having the outcomes that their figures fall into.
    #[must_use]
    pub fn judged(mut self, walk: &Walk<'_>) -> Self {
        let of = |what: BoundOf| match what {
            BoundOf::Fact(fact) => self.figures.fact(fact)?.quantity(),
            BoundOf::Reading(other) => self.figures.reading(other).ok(),
        };
        for (test, known) in walk.knowledge().tests.indexed() {
            if self.outcomes[test].is_none() || !matches!(known.kind, TestKind::Reading { .. }) {
                continue;
            }
            match self.figures.reading(test) {
                // What it is held against may not be to be found; then nobody can judge it.
                Ok(read) => self.outcomes[test] = walk.would_be(test, read, &of),
                Err(Because::NoModel) => {}
                Err(_) => self.outcomes[test] = None,
            }
        }
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

    /// What a look or reading comes to; nothing where it does not apply or cannot be read. What a calculation comes to follows from its facts
    /// and readings.
    #[must_use]
    pub fn outcome(&self, test: TestIndex) -> Option<OutcomeIndex> {
        self.outcomes.get(test).copied().flatten()
    }

    /// The answer to a look or reading as a person would type it; nothing where it cannot be checked.
    #[must_use]
    pub fn answer(&self, knowledge: &Knowledge, test: TestIndex) -> Option<String> {
        let known = &knowledge.tests[test];
        let in_words = || {
            let own = self.outcome(test)?;
            // Looks that are made together are as well as each of them is.
            let well = |(other, outcome): &(TestIndex, OutcomeIndex)| {
                self.outcome(*other).is_none_or(|found| found == *outcome)
            };
            let together = (!known.at_once.is_empty())
                .then(|| OutcomeIndex(usize::from(!known.at_once.iter().all(well))));
            Some(known.outcomes.get(together.unwrap_or(own))?.id.clone())
        };
        match known.kind {
            TestKind::Calculation { .. } => None,
            TestKind::Reading { .. } => match self.figures.reading(test) {
                Ok(read) => Some(read.keyed(FIGURES)),
                Err(Because::NoModel) => in_words(),
                Err(_) => None,
            },
            TestKind::Look => in_words(),
        }
    }

    /// Why a reading cannot be taken; nothing where it can, or where no installation says so.
    #[must_use]
    pub fn why_not(&self, knowledge: &Knowledge, test: TestIndex) -> Option<Because> {
        let reads = matches!(knowledge.tests[test].kind, TestKind::Reading { .. });
        self.figures.reading(test).err().filter(|_| reads)
    }

    /// A fact as a person would type it; nothing where it is not to be found.
    #[must_use]
    pub fn fact(&self, fact: FactIndex) -> Option<String> {
        self.figures.fact(fact).map(Value::exact)
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
