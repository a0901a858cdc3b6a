//! What is to be put right, to what figures, and what keeps it from coming back.

use crate::knowledge::model::RequirementIndex;
use crate::quantity::{Kind, Value, Word};
use crate::standards::calculation::Report;
use crate::standards::citation::{in_edition, source_in_edition};
use crate::standards::{CODE_EDITION, Edition};
use crate::walk::{Required, Walk};

use super::basis::{inputs_of, shown_by};
use super::form::{CauseStanding, DefectShown, PreventionShown, RequirementShown};

pub(super) fn defects(walk: &Walk<'_>) -> Vec<DefectShown> {
    let knowledge = walk.knowledge();
    let edition = edition(walk);
    walk.defects()
        .into_iter()
        .filter_map(|found| {
            let test = &knowledge.tests[found.test];
            let outcome = &test.outcomes[found.outcome];
            let defect = outcome.defect.as_ref()?;
            let report = walk
                .calculated()
                .iter()
                .find(|made| made.test == found.test)
                .and_then(|made| made.result.as_ref().ok());
            Some(DefectShown {
                test: test.id.clone(),
                outcome: outcome.id.clone(),
                name: defect.name.clone(),
                sure: found.sure,
                finding: report.map(|report| report.finding.clone()).or_else(|| {
                    walk.reading(found.test)
                        .map(|reading| format!("{}: {reading}.", test.name))
                }),
                shown_by: shown_by(walk, found.test, found.outcome),
                hazard: defect.hazard.clone(),
                trade: defect.job,
                correct: fill(&defect.correct, report),
                source: source_in_edition(&defect.source, edition),
            })
        })
        .collect()
}

/// What the causes that lead and the complaint require, each once.
pub(super) fn requirements(walk: &Walk<'_>, causes: &[CauseStanding]) -> Vec<RequirementShown> {
    let knowledge = walk.knowledge();
    let mut wanted: Vec<RequirementIndex> = Vec::new();
    for cause in led(causes) {
        if let Some(cause) = knowledge.cause(&cause.cause) {
            wanted.extend(&knowledge.causes[cause].requires);
        }
    }
    if let Some(complaint) = walk.complaint() {
        wanted.extend(&knowledge.trees[complaint].requires);
    }
    let mut shown: Vec<RequirementShown> = Vec::new();
    for index in wanted {
        let requirement = &knowledge.requirements[index];
        if shown.iter().any(|known| known.requirement == requirement.id) {
            continue;
        }
        let Some(required) = walk.required(index) else {
            continue;
        };
        let mut entry = RequirementShown {
            requirement: requirement.id.clone(),
            name: requirement.name.clone(),
            trade: requirement.job,
            must_be: None,
            inputs: inputs_of(walk, &requirement.inputs),
            report: None,
            problem: None,
            needs: Vec::new(),
        };
        match required {
            Required::Made(report) => {
                // A verdict that cannot be had leaves outputs out; their places must not be shown as words.
                let says = fill(&requirement.says, Some(&report));
                entry.must_be = (!says.contains('{')).then_some(says);
                entry.report = Some(*report);
            }
            Required::Impossible(error) => entry.problem = Some(error.to_string()),
            Required::Wants(needs) => entry.needs = needs,
        }
        shown.push(entry);
    }
    shown
}

/// The causes whose repair is advised on: the first three, none below a tenth.
fn led(causes: &[CauseStanding]) -> impl Iterator<Item = &CauseStanding> {
    causes.iter().take(3).filter(|cause| cause.probability >= 0.10)
}

/// Puts the outputs of a calculation into the wording of a defect.
fn fill(text: &str, report: Option<&Report>) -> String {
    let Some(report) = report else {
        return text.to_owned();
    };
    report
        .outputs
        .iter()
        .fold(text.to_owned(), |text, (name, value)| {
            text.replace(&format!("{{{name}}}"), &in_words(value))
        })
}

fn is_time(value: &Value) -> bool {
    matches!(value, Value::Quantity(quantity) if quantity.kind == Kind::Time)
}

/// A value as it is said in a sentence: a time with its unit in full.
fn in_words(value: &Value) -> String {
    let text = value.to_string();
    let is_time = is_time(value);
    let whole = TIMES
        .iter()
        .find_map(|(unit, word)| Some((text.strip_suffix(unit)?, word)));
    match whole {
        Some(("1", word)) if is_time => format!("1 {}", word.trim_end_matches('s')),
        Some((figure, word)) if is_time => format!("{figure} {word}"),
        _ => text,
    }
}

/// Units of time by their symbols behind a figure, and in full.
const TIMES: [(&str, &str); 4] = [
    (" d", "days"),
    (" h", "hours"),
    (" min", "minutes"),
    (" s", "seconds"),
];

/// What stands before what a requirement comes to: it must run so long, where that begins with an output that is a time, or
/// be this.
pub(super) fn must(entry: &RequirementShown) -> &'static str {
    let begins_with = |value: &Value| {
        let must_be = entry.must_be.as_deref().unwrap_or_default();
        is_time(value) && must_be.starts_with(&in_words(value))
    };
    let mut outputs = entry.report.iter().flat_map(|report| &report.outputs);
    if outputs.any(|(_, value)| begins_with(value)) {
        "must run"
    } else {
        "must be"
    }
}

/// Advice of the causes that lead, each piece once.
pub(super) fn prevention(walk: &Walk<'_>, causes: &[CauseStanding]) -> Vec<PreventionShown> {
    let knowledge = walk.knowledge();
    let edition = edition(walk);
    let mut advice: Vec<PreventionShown> = Vec::new();
    for shown in led(causes) {
        let Some(cause) = knowledge.cause(&shown.cause) else {
            continue;
        };
        for piece in &knowledge.causes[cause].prevent {
            if advice.iter().all(|known| known.text != piece.text) {
                advice.push(PreventionShown {
                    cause: shown.cause.clone(),
                    text: piece.text.clone(),
                    rule: piece.rule.as_deref().map(|rule| in_edition(rule, edition)),
                });
            }
        }
    }
    advice
}

/// The edition of the code the case was told; it decides what every section is called.
fn edition(walk: &Walk<'_>) -> Option<Edition> {
    let fact = walk.knowledge().fact(CODE_EDITION)?;
    match walk.fact(fact).flatten()? {
        Value::Choice(id) => Edition::of_word(id),
        _ => None,
    }
}
