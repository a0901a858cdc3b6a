//! Calculations of the walk: made as soon as their inputs are known, and counted as evidence.

use indexmap::IndexMap;

use crate::knowledge::model::{FactIndex, InputFrom, RequirementIndex, TestIndex, TestKind};
use crate::quantity::Value;
use crate::standards::calculation::{Calculation, InputError, Inputs, Report};
use crate::standards::registry;

use super::Walk;
use super::state::{Answer, Calculated, Resolution};

/// The input every rule of the code takes: nothing is worked out from it alone.
const CODE_EDITION: &str = "code-edition";

/// An input of a calculation that is not there yet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Wanting {
    Fact(FactIndex),
    Reading(TestIndex),
}

/// Makes every calculation whose required inputs are known.
pub(super) fn all(walk: &Walk<'_>) -> Vec<Calculated> {
    let mut made = Vec::new();
    for (index, test) in walk.knowledge.tests.iter().enumerate() {
        let index = TestIndex(index);
        let TestKind::Calculation { calculation, inputs } = &test.kind else {
            continue;
        };
        let Some(calculation) = registry::find(calculation) else {
            continue;
        };
        if !walk.applies(index) {
            continue;
        }
        let Some(given) = gather(walk, calculation, inputs) else {
            continue;
        };
        let result = (calculation.run)(&given);
        // A calculation that needs one of several inputs says so only when it runs.
        if !matches!(result, Err(InputError::Missing { .. })) {
            made.push(Calculated { test: index, result });
        }
    }
    made
}

/// What a repair must come to, as far as the facts of the case tell.
#[derive(Clone, Debug, PartialEq)]
pub enum Required {
    /// Worked out.
    Made(Box<Report>),
    /// The reason why these facts give nothing.
    Impossible(InputError),
    /// It waits for these facts and readings, by name.
    Wants(Vec<String>),
}

impl Walk<'_> {
    /// Works out a requirement; nothing when it does not apply to this equipment.
    #[must_use]
    pub fn required(&self, requirement: RequirementIndex) -> Option<Required> {
        let requirement = &self.knowledge.requirements[requirement];
        if !requirement.applies_to(self.installation()?) {
            return None;
        }
        let calculation = registry::find(&requirement.calculation)?;
        let wanted = |wants: &dyn Fn(&str) -> bool| {
            requirement
                .inputs
                .iter()
                .filter(|(name, _)| wants(name))
                .filter_map(|(_, from)| self.lacking(from))
                .collect()
        };
        let Some(given) = gather(self, calculation, &requirement.inputs) else {
            return Some(Required::Wants(wanted(&|name| is_required(calculation, name))));
        };
        Some(match (calculation.run)(&given) {
            // One of several inputs is needed; only the calculation can say so.
            Err(InputError::Missing { input, .. }) => {
                let named: Vec<String> = wanted(&|name| name == input);
                // It may stand for others of which the requirement hands on one.
                let of_it = || wanted(&|name| name != CODE_EDITION);
                Required::Wants(if named.is_empty() { of_it() } else { named })
            }
            Err(error) => Required::Impossible(error),
            Ok(report) => Required::Made(Box::new(report)),
        })
    }

    /// Facts not asked yet that the repair of the leading cause, or any repair after this complaint, is sized by: what the
    /// requirements wait for, each once.
    #[must_use]
    pub fn sizing_facts(&self) -> Vec<FactIndex> {
        let knowledge = self.knowledge;
        let (Some(complaint), Some(own)) = (self.complaint(), self.installation()) else {
            return Vec::new();
        };
        let leader = self
            .standing()
            .and_then(|standing| standing.ranked().first().copied());
        let by_cause = leader.map_or(&[][..], |(cause, _)| &knowledge.causes[cause].requires);
        let mut facts = Vec::new();
        for requirement in by_cause.iter().chain(&knowledge.trees[complaint].requires) {
            let requirement = &knowledge.requirements[*requirement];
            if !requirement.applies_to(own) {
                continue;
            }
            for from in requirement.inputs.values() {
                if let InputFrom::Fact(fact) = from
                    && self.fact(*fact).is_none()
                    && fact_applies(self, *fact)
                    && !facts.contains(fact)
                {
                    facts.push(*fact);
                }
            }
        }
        facts
    }

    /// The name of the fact or reading an input waits for.
    fn lacking(&self, from: &InputFrom) -> Option<String> {
        match from {
            InputFrom::Fact(fact) if self.fact(*fact).flatten().is_none() => {
                Some(self.knowledge.facts[*fact].name.clone())
            }
            InputFrom::Reading(test) if self.reading(*test).is_none() => {
                Some(self.knowledge.tests[*test].name.clone())
            }
            _ => None,
        }
    }
}

/// The inputs known, or nothing when a required one is not.
fn gather(walk: &Walk<'_>, calculation: &Calculation, from: &IndexMap<String, InputFrom>) -> Option<Inputs> {
    let mut inputs = Inputs::default();
    for (name, source) in from {
        let value = match source {
            InputFrom::Fact(fact) => walk.fact(*fact).flatten().cloned(),
            InputFrom::Reading(test) => walk.reading(*test).map(Value::Quantity),
            InputFrom::Fixed(value) => Some(value.clone()),
        };
        match value {
            Some(value) => {
                inputs.0.insert(name.clone(), value);
            }
            None if is_required(calculation, name) => return None,
            None => {}
        }
    }
    Some(inputs)
}

fn is_required(calculation: &Calculation, name: &str) -> bool {
    calculation
        .inputs
        .iter()
        .any(|input| input.name == name && input.required)
}

/// What is known of the outcome of a calculation.
pub(super) fn resolution(walk: &Walk<'_>, test: TestIndex) -> Resolution {
    if let Some(made) = walk.calculated().iter().find(|made| made.test == test) {
        let verdict = made.result.as_ref().map(|report| report.verdict).ok();
        return verdict
            .and_then(|verdict| walk.knowledge.tests[test].outcome(verdict))
            .map_or(Resolution::Unknown, Resolution::Known);
    }
    if wanting(walk, test, Depth::RequiredOnly).is_empty() {
        Resolution::Unknown
    } else {
        Resolution::Open
    }
}

/// Which inputs to ask for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Depth {
    /// Only those without which it cannot be made.
    RequiredOnly,
    /// Also facts that make it better.
    AllFacts,
}

/// Inputs not asked yet. Empty when everything was asked, or when a required one is known to be unknowable.
pub(super) fn wanting(walk: &Walk<'_>, test: TestIndex, depth: Depth) -> Vec<Wanting> {
    let TestKind::Calculation { calculation, inputs } = &walk.knowledge.tests[test].kind else {
        return Vec::new();
    };
    let Some(calculation) = registry::find(calculation) else {
        return Vec::new();
    };
    let (mut required, mut optional) = (Vec::new(), Vec::new());
    for (name, source) in inputs {
        let is_required = is_required(calculation, name);
        match source {
            InputFrom::Fact(fact) => match walk.fact(*fact) {
                Some(Some(_)) => {}
                Some(None) if is_required => return Vec::new(),
                Some(None) => {}
                None if !fact_applies(walk, *fact) && is_required => return Vec::new(),
                None if !fact_applies(walk, *fact) => {}
                None if is_required => required.push(Wanting::Fact(*fact)),
                None => optional.push(Wanting::Fact(*fact)),
            },
            InputFrom::Reading(reading) => match walk.derived.answers.get(reading) {
                Some(Answer::Reading(_)) => {}
                Some(_) if is_required => return Vec::new(),
                None if is_required && !walk.applies(*reading) => return Vec::new(),
                None if is_required => required.push(Wanting::Reading(*reading)),
                _ => {}
            },
            InputFrom::Fixed(_) => {}
        }
    }
    let lacks_one = || {
        gather(walk, calculation, inputs)
            .is_some_and(|given| matches!((calculation.run)(&given), Err(InputError::Missing { .. })))
    };
    // With everything required there it may still want one of several optional inputs; only it can say so.
    if depth == Depth::AllFacts || (required.is_empty() && lacks_one()) {
        required.append(&mut optional);
    }
    required
}

/// Required inputs without a value, whether never asked or not to be had so far: what making it after all would take.
pub(super) fn lacking(walk: &Walk<'_>, test: TestIndex) -> Vec<Wanting> {
    let TestKind::Calculation { calculation, inputs } = &walk.knowledge.tests[test].kind else {
        return Vec::new();
    };
    let Some(calculation) = registry::find(calculation) else {
        return Vec::new();
    };
    let asked_next = wanting(walk, test, Depth::RequiredOnly);
    let without_value = inputs
        .iter()
        .filter(|(name, _)| is_required(calculation, name))
        .filter_map(|(_, from)| match from {
            InputFrom::Fact(fact) if walk.fact(*fact).flatten().is_none() => Some(Wanting::Fact(*fact)),
            InputFrom::Reading(reading) if walk.reading(*reading).is_none() => {
                Some(Wanting::Reading(*reading))
            }
            _ => None,
        });
    let mut all: Vec<Wanting> = without_value.collect();
    all.extend(asked_next);
    let mut once = Vec::new();
    for wanting in all {
        if !once.contains(&wanting) {
            once.push(wanting);
        }
    }
    once
}

/// Whether a fact makes sense on this equipment.
pub(super) fn fact_applies(walk: &Walk<'_>, fact: FactIndex) -> bool {
    walk.installation()
        .is_some_and(|own| walk.knowledge.facts[fact].applies_to(own))
}
