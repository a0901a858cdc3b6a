//! Makes the calculations of an exercise come out as sampled, by trying other figures.

use fastrand::Rng;
use indexmap::IndexMap;

use crate::knowledge::indexed::Indexed;
use crate::knowledge::model::{EffectIndex, FactIndex, InputFrom, OutcomeIndex, TestIndex, TestKind};
use crate::quantity::Value;
use crate::rig::contradicted;
use crate::standards::calculation::Inputs;
use crate::standards::registry;

use super::plates;
use super::values::Sampling;

/// Trials to make the calculations come out as sampled: of facts alone, then of readings, then of their outcomes.
const FACT_TRIALS: usize = 300;
const READING_TRIALS: usize = 800;
const OUTCOME_TRIALS: usize = 200;

/// A calculation and what it should come to.
struct Wanted<'k> {
    calculation: &'k str,
    inputs: &'k IndexMap<String, InputFrom>,
    verdict: &'k str,
}

impl Sampling<'_, '_> {
    /// Calculations that apply and have a sampled outcome: test, name, inputs, outcome's id. Of facts alone, or all.
    fn calculations(&self, all: bool) -> Vec<Wanted<'_>> {
        self.knowledge
            .tests
            .iter()
            .zip(&self.outcomes)
            .filter_map(|(test, outcome)| {
                let TestKind::Calculation { calculation, inputs } = &test.kind else {
                    return None;
                };
                let reads = inputs.values().any(|from| matches!(from, InputFrom::Reading(_)));
                (all || !reads).then_some(Wanted {
                    calculation,
                    inputs,
                    verdict: &test.outcomes[(*outcome)?].id,
                })
            })
            .collect()
    }

    /// How many calculations come out otherwise than sampled. What cannot be made does not count.
    fn misses(&self, wanted: &[Wanted<'_>]) -> usize {
        wanted
            .iter()
            .filter(|wanted| {
                self.verdict(wanted)
                    .is_some_and(|verdict| verdict != wanted.verdict)
            })
            .count()
    }

    fn verdict(&self, wanted: &Wanted<'_>) -> Option<&'static str> {
        let calculation = registry::find(wanted.calculation)?;
        let mut inputs = Inputs::default();
        for (name, from) in wanted.inputs {
            let value = match from {
                InputFrom::Fact(fact) => self.values.facts[*fact].clone(),
                InputFrom::Reading(test) => self.values.readings.get(test).copied().map(Value::Quantity),
                InputFrom::Fixed(value) => Some(value.clone()),
            };
            if let Some(value) = value {
                inputs.0.insert(name.clone(), value);
            }
        }
        (calculation.run)(&inputs).ok().map(|report| report.verdict)
    }

    /// Changes facts one at a time while the calculations of facts alone come nearer to what was sampled.
    pub(super) fn fit_facts(&mut self, rng: &mut Rng) {
        let own: Vec<FactIndex> = self
            .knowledge
            .facts
            .indices()
            .filter(|fact| self.values.facts[*fact].is_some())
            .filter(|fact| !plates::others(&self.knowledge.facts[*fact].id).is_empty())
            .collect();
        let mut misses = self.misses(&self.calculations(false));
        for _ in 0..FACT_TRIALS {
            if misses == 0 || own.is_empty() {
                return;
            }
            let fact = own[rng.usize(..own.len())];
            let others = plates::others(&self.knowledge.facts[fact].id);
            let typed = &others[rng.usize(..others.len())];
            let before = self.values.facts[fact].clone();
            self.values.facts[fact] = self.value(fact, typed);
            let now = self.misses(&self.calculations(false));
            // Sideways too: two facts may have to change before one calculation does.
            if now <= misses {
                misses = now;
            } else {
                self.values.facts[fact] = before;
            }
        }
    }

    /// Samples readings anew while the calculations come nearer to what was sampled and every reading stays in its
    /// outcome.
    pub(super) fn fit_readings(&mut self, rng: &mut Rng) {
        let readings: Vec<TestIndex> = self.readings();
        let mut misses = self.misses(&self.calculations(true));
        let mut outside = self.strays(&readings);
        for trial in 0..READING_TRIALS {
            if misses == 0 || readings.is_empty() {
                return;
            }
            let before = self.values.readings.clone();
            let test = readings[rng.usize(..readings.len())];
            if let Some(read) = self.read(test, trial % 3 != 0, rng) {
                self.values.readings.insert(test, read);
            }
            self.follow(test, &readings, rng);
            let now = self.misses(&self.calculations(true));
            let strays = self.strays(&readings);
            if now <= misses && strays <= outside {
                (misses, outside) = (now, strays);
            } else {
                self.values.readings = before;
            }
        }
    }

    /// Where a calculation still comes out otherwise, tries the other outcomes of its readings that fit the states: three phases are
    /// read one by one, and which of them is missing is nobody's state.
    pub(super) fn fit_outcomes(&mut self, states: &Indexed<EffectIndex, usize>, rng: &mut Rng) {
        let readings: Vec<TestIndex> = self.readings();
        let mut misses = self.misses(&self.calculations(true));
        let mut outside = self.strays(&readings);
        for _ in 0..OUTCOME_TRIALS {
            if misses == 0 || readings.is_empty() {
                return;
            }
            let wanting = self.inputs_of_missed();
            if wanting.is_empty() {
                return;
            }
            let test = wanting[rng.usize(..wanting.len())];
            let known = &self.knowledge.tests[test];
            let others: Vec<OutcomeIndex> = known
                .outcomes
                .indices()
                .filter(|outcome| contradicted(known, *outcome, states) == 0)
                .collect();
            if others.is_empty() {
                continue;
            }
            let before = (self.values.readings.clone(), self.outcomes[test]);
            self.outcomes[test] = Some(others[rng.usize(..others.len())]);
            if let Some(read) = self.read(test, rng.bool(), rng) {
                self.values.readings.insert(test, read);
            }
            self.follow(test, &readings, rng);
            let (now, strays) = (self.misses(&self.calculations(true)), self.strays(&readings));
            if now < misses && strays <= outside {
                (misses, outside) = (now, strays);
            } else {
                (self.values.readings, self.outcomes[test]) = before;
            }
        }
    }

    /// The readings that calculations which come out otherwise are made from.
    fn inputs_of_missed(&self) -> Vec<TestIndex> {
        self.calculations(true)
            .iter()
            .filter(|wanted| {
                self.verdict(wanted)
                    .is_some_and(|verdict| verdict != wanted.verdict)
            })
            .flat_map(|wanted| wanted.inputs.values())
            .filter_map(|from| match from {
                InputFrom::Reading(test) if self.outcomes[*test].is_some() => Some(*test),
                _ => None,
            })
            .collect()
    }
}
