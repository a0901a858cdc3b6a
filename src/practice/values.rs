//! Figures that fit a sampled fault: what stands on the plates, and readings inside the sampled outcomes.
//!
//! For faults that the simulated installation has no model of. A figure is plausible for everyday equipment, lies inside its
//! outcome clear of the limits, and the calculations of the case come out as sampled, as far as figures for that are found.

use std::collections::HashMap;

use fastrand::Rng;

use crate::knowledge::indexed::Indexed;
use crate::knowledge::model::{
    Bound, BoundOf, EffectIndex, Fact, FactIndex, Knowledge, TestIndex, TestKind, bound_figure,
};
use crate::quantity::{Quantity, Value, ValueKind, three_figures};
use crate::rig::bench::Because;
use crate::rig::{Figures, Outcomes};
use crate::walk::Walk;

use super::plates::{self, usual};

/// Facts and readings of one exercise.
#[derive(Clone, Debug)]
pub(super) struct Values {
    pub(super) facts: Indexed<FactIndex, Option<Value>>,
    pub(super) readings: HashMap<TestIndex, Quantity>,
}

impl Figures for Values {
    fn reading(&self, test: TestIndex) -> Result<Quantity, Because> {
        self.readings.get(&test).copied().ok_or(Because::NoModel)
    }

    fn fact(&self, fact: FactIndex) -> Option<&Value> {
        self.facts.get(fact)?.as_ref()
    }
}

impl Values {
    pub(super) fn sample(
        walk: &Walk<'_>,
        states: &Indexed<EffectIndex, usize>,
        outcomes: &mut Outcomes,
        rng: &mut Rng,
    ) -> Self {
        let knowledge = walk.knowledge();
        let mut sampling = Sampling {
            walk,
            knowledge,
            outcomes: outcomes.clone(),
            values: Self {
                facts: Indexed::like(&knowledge.facts, None),
                readings: HashMap::new(),
            },
        };
        sampling.plates(states, rng);
        sampling.fit_facts(rng);
        sampling.read_all(rng);
        sampling.fit_readings(rng);
        sampling.fit_outcomes(states, rng);
        *outcomes = sampling.outcomes;
        sampling.values
    }
}

/// Figures while they are sampled.
pub(super) struct Sampling<'w, 'k> {
    pub(super) walk: &'w Walk<'k>,
    pub(super) knowledge: &'k Knowledge,
    pub(super) outcomes: Outcomes,
    pub(super) values: Values,
}

impl Sampling<'_, '_> {
    /// What stands on the plates of such equipment.
    fn plates(&mut self, states: &Indexed<EffectIndex, usize>, rng: &mut Rng) {
        let Some(own) = self.walk.installation() else {
            return;
        };
        let mut plates = plates::of(&own.parts, rng);
        if shares_circuit(self.knowledge, states) {
            plates.push(("circuit-loads", "chest freezer 6 motor; work light 1.5"));
        }
        for (index, fact) in self.knowledge.facts.indexed() {
            if !fact.applies_to(own) {
                continue;
            }
            let plate = plates
                .iter()
                .find(|(id, _)| *id == fact.id)
                .map(|(_, typed)| *typed);
            let first = self
                .walk
                .choices_offered(index)
                .first()
                .map(|choice| choice.id.as_str());
            let typed = match fact.kind {
                ValueKind::Choice => plate.or(first),
                _ => plate,
            };
            self.values.facts[index] = typed.and_then(|typed| self.value(index, typed));
        }
    }

    pub(super) fn value(&self, index: FactIndex, typed: &str) -> Option<Value> {
        self.knowledge.facts[index].read(typed).ok()
    }

    /// Samples every reading, those first that others are held against.
    fn read_all(&mut self, rng: &mut Rng) {
        for _ in 0..4 {
            for test in self.readings() {
                if !self.values.readings.contains_key(&test)
                    && let Some(read) = self.read(test, true, rng)
                {
                    self.values.readings.insert(test, read);
                }
            }
        }
    }

    pub(super) fn readings(&self) -> Vec<TestIndex> {
        self.knowledge
            .tests
            .indexed()
            .filter(|(test, known)| {
                self.outcomes[*test].is_some() && matches!(known.kind, TestKind::Reading { .. })
            })
            .map(|(test, _)| test)
            .collect()
    }

    /// Samples anew what is held against a reading, and what is held against that.
    pub(super) fn follow(&mut self, changed: TestIndex, readings: &[TestIndex], rng: &mut Rng) {
        let mut changed = vec![changed];
        for test in readings {
            let bounds = self.knowledge.tests[*test].outcomes.iter();
            let held = bounds.filter_map(|outcome| match outcome.bound.as_ref()?.of? {
                BoundOf::Reading(other) => Some(other),
                BoundOf::Fact(_) => None,
            });
            if held.into_iter().any(|other| changed.contains(&other))
                && let Some(read) = self.read(*test, true, rng)
            {
                self.values.readings.insert(*test, read);
                changed.push(*test);
            }
        }
    }

    /// How many readings lie outside their outcome.
    pub(super) fn strays(&self, readings: &[TestIndex]) -> usize {
        readings.iter().filter(|test| !self.is_inside(**test)).count()
    }

    fn is_inside(&self, test: TestIndex) -> bool {
        match (self.values.readings.get(&test), self.inside(test)) {
            (Some(read), Some((low, high))) => (low..=high).contains(&read.base),
            (Some(_), None) => false,
            (None, _) => true,
        }
    }

    fn figure(&self, bound: &Bound) -> Option<f64> {
        let of = match bound.of {
            None => None,
            Some(BoundOf::Fact(fact)) => Some(self.values.facts[fact].as_ref()?.quantity()?),
            Some(BoundOf::Reading(other)) => Some(*self.values.readings.get(&other)?),
        };
        bound_figure(bound, of)
    }

    /// Between which amounts a reading lies in its outcome; nothing where what it is held against is not known, or where
    /// nothing is left between the limits.
    fn inside(&self, test: TestIndex) -> Option<(f64, f64)> {
        let known = &self.knowledge.tests[test];
        let TestKind::Reading { range, .. } = known.kind else {
            return None;
        };
        let wanted = self.outcomes[test]?;
        let (mut low, mut high) = range;
        let mut within = |below: bool, figure: f64| {
            if below {
                high = high.min(figure);
            } else {
                low = low.max(figure);
            }
        };
        // The first outcome whose bound holds is the one met: so the bounds of those before it do not hold.
        for (index, outcome) in known.outcomes.indexed() {
            let Some(bound) = &outcome.bound else { continue };
            if index < wanted || known.outcomes[wanted].bound.is_none() {
                within(!bound.below, self.figure(bound)?);
            } else if index == wanted {
                within(bound.below, self.figure(bound)?);
            }
        }
        (low < high).then_some((low, high))
    }

    /// A reading in its outcome, clear of the limits; `everyday` where it may be as it mostly is.
    pub(super) fn read(&self, test: TestIndex, everyday: bool, rng: &mut Rng) -> Option<Quantity> {
        let known = &self.knowledge.tests[test];
        let TestKind::Reading { unit, range, .. } = &known.kind else {
            return None;
        };
        let (low, high) = self.inside(test)?;
        // Far from everyday, for what a broken limit takes.
        let (down, up) = if everyday { (1.0, 1.0) } else { (0.45, 1.7) };
        let usual = self.usual(test).map(|(a, b)| (down * a, up * b));
        let narrowed = usual
            .map(|(a, b)| (low.max(a), high.min(b)))
            .filter(|(a, b)| a < b);
        let (low, high) = narrowed.unwrap_or_else(|| near_limits((low, high), *range));
        for _ in 0..8 {
            let amount = three_figures(low + (high - low) * (0.12 + 0.76 * rng.f64()));
            if low < amount && amount < high {
                return Quantity::new(*unit, amount);
            }
        }
        None
    }

    /// Between which amounts it mostly lies.
    fn usual(&self, test: TestIndex) -> Option<(f64, f64)> {
        let known = &self.knowledge.tests[test];
        let TestKind::Reading { unit, symbol, .. } = &known.kind else {
            return None;
        };
        let outcome = &known.outcomes[self.outcomes[test]?].id;
        let usual = usual(&known.id, outcome)?;
        let of = match &usual.of {
            None => {
                let amount =
                    |figure: f64| Quantity::parse_in(&format!("{figure} {symbol}"), *unit, symbol).ok();
                return Some((amount(usual.low)?.base, amount(usual.high)?.base));
            }
            Some(id) => match (self.knowledge.fact(id), self.knowledge.test(id)) {
                (Some(fact), _) => self.values.facts[fact].as_ref()?.quantity()?.base,
                (None, Some(other)) => self.values.readings.get(&other)?.base,
                (None, None) => return None,
            },
        };
        Some((usual.low * of, usual.high * of))
    }
}

/// A fact as it is typed.
pub(super) fn parsed(fact: &Fact, typed: &str) -> Option<Value> {
    let choices: Vec<&str> = fact.choices.iter().map(|choice| choice.id.as_str()).collect();
    let unit = (!fact.unit.is_empty()).then_some(fact.unit.as_str());
    Value::parse(typed, fact.kind, unit, &choices).ok()
}

/// Where an outcome reaches to the end of what a meter could show, a reading lies near its limit instead.
fn near_limits((low, high): (f64, f64), range: (f64, f64)) -> (f64, f64) {
    match (low <= range.0, high >= range.1) {
        (true, false) if high > 0.0 => (low.max(0.6 * high), high),
        (false, true) if low > 0.0 => (low, high.min(1.5 * low)),
        _ => (low, high),
    }
}

/// Whether other loads are on the circuit, by the sampled state.
fn shares_circuit(knowledge: &Knowledge, states: &Indexed<EffectIndex, usize>) -> bool {
    knowledge
        .effect("circuit-use")
        .is_some_and(|effect| knowledge.effects[effect].states[states[effect]].id != "unit-alone")
}
