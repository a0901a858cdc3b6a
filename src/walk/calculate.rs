//! Second phase: the calculations, made as soon as their inputs are known, and what is known of every test's outcome.

use std::ops::Deref;

use indexmap::IndexMap;

use crate::knowledge::indexed::Indexed;
use crate::knowledge::model::{FactIndex, InputFrom, OutcomeIndex, RequirementIndex, TestIndex, TestKind};
use crate::quantity::Value;
use crate::standards::CODE_EDITION;
use crate::standards::calculation::{Calculation, InputError, Inputs, Report};
use crate::standards::registry;

use super::answers::{Answer, Answers};

/// An input of a calculation that is not there yet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Wanting {
    Fact(FactIndex),
    Reading(TestIndex),
}

/// What is known of a test's outcome.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Resolution {
    /// Not asked, or a calculation whose inputs are not all asked.
    Open,
    /// Asked, but without an outcome: could not be checked, or the figures cannot tell.
    Unknown,
    /// This outcome.
    Known(OutcomeIndex),
}

/// A calculation that was made, with its working, or the reason it could not be made.
#[derive(Clone, Debug, PartialEq)]
pub struct Calculated {
    /// The test it belongs to.
    pub test: TestIndex,
    /// What came out.
    pub result: Result<Report, InputError>,
}

/// What was given, and what was calculated from it.
#[derive(Clone, Debug)]
pub struct Worked<'k> {
    given: Answers<'k>,
    calculated: Vec<Calculated>,
    resolutions: Indexed<TestIndex, Resolution>,
}

impl<'k> Deref for Worked<'k> {
    type Target = Answers<'k>;

    fn deref(&self) -> &Self::Target {
        &self.given
    }
}

impl<'k> Worked<'k> {
    /// Makes every calculation whose required inputs are known.
    pub(super) fn of(given: Answers<'k>) -> Self {
        let tests = &given.knowledge.tests;
        let calculated: Vec<Calculated> = tests
            .indices()
            .filter_map(|test| {
                let result = calculate(&given, test)?;
                Some(Calculated { test, result })
            })
            .collect();
        let resolutions = tests
            .indices()
            .map(|test| match &tests[test].kind {
                TestKind::Calculation { .. } => {
                    let made = calculated.iter().find(|made| made.test == test);
                    resolved(&given, test, made)
                }
                _ => answered(&given, test, given.answers.get(&test)),
            })
            .collect();
        Self {
            given,
            calculated,
            resolutions,
        }
    }

    /// What is known of a test's outcome.
    #[must_use]
    pub fn resolution(&self, test: TestIndex) -> Resolution {
        self.resolutions[test]
    }

    /// Calculations that could be made, in the order of the files.
    #[must_use]
    pub fn calculated(&self) -> &[Calculated] {
        &self.calculated
    }
}

/// The calculation a test is made by, with where its inputs come from.
fn made_by<'k>(
    given: &Answers<'k>,
    test: TestIndex,
) -> Option<(&'static Calculation, &'k IndexMap<String, InputFrom>)> {
    let TestKind::Calculation { calculation, inputs } = &given.knowledge.tests[test].kind else {
        return None;
    };
    Some((registry::find(calculation)?, inputs))
}

/// The result of a calculation that applies and whose required inputs are known.
fn calculate(given: &Answers<'_>, test: TestIndex) -> Option<Result<Report, InputError>> {
    let (calculation, inputs) = made_by(given, test)?;
    if !given.applies(test) {
        return None;
    }
    let result = (calculation.run)(&gather(given, calculation, inputs)?);
    // A calculation that needs one of several inputs says so only when it runs.
    (!matches!(result, Err(InputError::Missing { .. }))).then_some(result)
}

/// What is known of the outcome of a calculation.
fn resolved(given: &Answers<'_>, test: TestIndex, made: Option<&Calculated>) -> Resolution {
    if let Some(made) = made {
        let verdict = made.result.as_ref().map(|report| report.verdict).ok();
        return verdict
            .and_then(|verdict| given.knowledge.tests[test].outcome(verdict))
            .map_or(Resolution::Unknown, Resolution::Known);
    }
    if wanting(given, test, Depth::RequiredOnly).is_empty() {
        Resolution::Unknown
    } else {
        Resolution::Open
    }
}

/// What this answer tells of the outcome of a look or a reading.
pub(super) fn answered(given: &Answers<'_>, test: TestIndex, answer: Option<&Answer>) -> Resolution {
    match answer {
        None => Resolution::Open,
        Some(Answer::CouldNotCheck) => Resolution::Unknown,
        Some(Answer::Outcome(outcome) | Answer::Leaning(outcome)) => Resolution::Known(*outcome),
        Some(Answer::Reading(quantity)) => given
            .classify(test, *quantity)
            .map_or(Resolution::Unknown, Resolution::Known),
    }
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

impl Answers<'_> {
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
                // It may stand for others of which the requirement hands on one; from the edition alone nothing is worked out.
                let of_it = || wanted(&|name| name != CODE_EDITION);
                Required::Wants(if named.is_empty() { of_it() } else { named })
            }
            Err(error) => Required::Impossible(error),
            Ok(report) => Required::Made(Box::new(report)),
        })
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
fn gather(
    given: &Answers<'_>,
    calculation: &Calculation,
    from: &IndexMap<String, InputFrom>,
) -> Option<Inputs> {
    let mut inputs = Inputs::default();
    for (name, source) in from {
        let value = match source {
            InputFrom::Fact(fact) => given.fact(*fact).flatten().cloned(),
            InputFrom::Reading(test) => given.reading(*test).map(Value::Quantity),
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

/// Which inputs to ask for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Depth {
    /// Only those without which it cannot be made.
    RequiredOnly,
    /// Also facts that make it better.
    AllFacts,
}

/// Inputs not asked yet, those the test itself needs first. Empty when everything was asked, or when a required one is known to be
/// unknowable.
pub(super) fn wanting(given: &Answers<'_>, test: TestIndex, depth: Depth) -> Vec<Wanting> {
    let Some((calculation, inputs)) = made_by(given, test) else {
        return Vec::new();
    };
    let (mut needed, mut required, mut optional) = (Vec::new(), Vec::new(), Vec::new());
    let needs = &given.knowledge.tests[test].needs;
    for (name, source) in inputs {
        let is_required = is_required(calculation, name);
        match source {
            InputFrom::Fact(fact) => match given.fact(*fact) {
                Some(Some(_)) => {}
                Some(None) if is_required => return Vec::new(),
                Some(None) => {}
                None if !fact_applies(given, *fact) && is_required => return Vec::new(),
                None if !fact_applies(given, *fact) => {}
                None if needs.contains(fact) => needed.push(Wanting::Fact(*fact)),
                None if is_required => required.push(Wanting::Fact(*fact)),
                None => optional.push(Wanting::Fact(*fact)),
            },
            InputFrom::Reading(reading) => match given.answers.get(reading) {
                Some(Answer::Reading(_)) => {}
                Some(_) if is_required => return Vec::new(),
                None if is_required && !given.applies(*reading) => return Vec::new(),
                None if is_required => required.push(Wanting::Reading(*reading)),
                _ => {}
            },
            InputFrom::Fixed(_) => {}
        }
    }
    let lacks_one = || {
        gather(given, calculation, inputs)
            .is_some_and(|given| matches!((calculation.run)(&given), Err(InputError::Missing { .. })))
    };
    // With everything required there it may still want one of several optional inputs; only it can say so.
    if depth == Depth::AllFacts || (required.is_empty() && lacks_one()) {
        required.append(&mut optional);
    }
    needed.append(&mut required);
    needed
}

/// Required inputs without a value, whether never asked or not to be had so far: what making it after all would take.
pub(super) fn lacking(given: &Answers<'_>, test: TestIndex) -> Vec<Wanting> {
    let Some((calculation, inputs)) = made_by(given, test) else {
        return Vec::new();
    };
    let asked_next = wanting(given, test, Depth::RequiredOnly);
    let without_value = inputs
        .iter()
        .filter(|(name, _)| is_required(calculation, name))
        .filter_map(|(_, from)| match from {
            InputFrom::Fact(fact) if given.fact(*fact).flatten().is_none() => Some(Wanting::Fact(*fact)),
            InputFrom::Reading(reading) if given.reading(*reading).is_none() => {
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
pub(super) fn fact_applies(given: &Answers<'_>, fact: FactIndex) -> bool {
    given
        .installation()
        .is_some_and(|own| given.knowledge.facts[fact].applies_to(own))
}
