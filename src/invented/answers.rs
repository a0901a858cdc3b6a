//! What a test shows when a cause is true, sampled.

use fastrand::Rng;

use crate::inference::Model;
use crate::knowledge::model::{Bound, BoundOf, OutcomeIndex, TestIndex, TestKind, bound_figure};
use crate::quantity::{Quantity, Value, ValueKind, three_figures};
use crate::walk::Walk;

/// P(outcome | cause) by outcome: the model's own. `truth` is the place of a cause in the model; one behind the last is
/// something not listed. Nothing for a test that does not apply.
pub(super) fn shares(model: &Model, test: TestIndex, truth: usize) -> Option<Vec<f64>> {
    Some(model.likelihoods(test)?.row(truth).to_vec())
}

/// An outcome as it would be typed: a figure for a reading where one can be found, else the id.
pub(super) fn typed(walk: &Walk<'_>, test: TestIndex, outcome: OutcomeIndex, rng: &mut Rng) -> String {
    reading(walk, test, outcome, rng)
        .unwrap_or_else(|| walk.knowledge().tests[test].outcomes[outcome].id.clone())
}

/// A figure inside an outcome: near its bound, since that is where readings of faults lie.
fn reading(walk: &Walk<'_>, test: TestIndex, outcome: OutcomeIndex, rng: &mut Rng) -> Option<String> {
    let known = &walk.knowledge().tests[test];
    let TestKind::Reading { unit, range, .. } = known.kind else {
        return None;
    };
    let (mut low, mut high) = range;
    match &known.outcomes[outcome].bound {
        Some(bound) => {
            let figure = figure(walk, bound)?;
            let size = figure.abs().max(1e-9);
            if bound.below {
                high = figure;
                low = low.max(figure - 0.4 * size);
            } else {
                low = figure;
                high = high.min(figure + 0.6 * size);
            }
        }
        None => {
            for bound in known.outcomes.iter().filter_map(|outcome| outcome.bound.as_ref()) {
                let figure = figure(walk, bound)?;
                if bound.below {
                    low = low.max(figure);
                } else {
                    high = high.min(figure);
                }
            }
            // An open side: not far beyond the side that is known.
            if low > 0.0 && high > 3.0 * low {
                high = 1.5 * low;
            }
        }
    }
    if low >= high {
        return None;
    }
    let amount = three_figures(low + (high - low) * (0.1 + 0.8 * rng.f64()));
    if amount <= low || amount >= high {
        return None;
    }
    Quantity::new(unit, amount).map(|quantity| quantity.keyed(3))
}

fn figure(walk: &Walk<'_>, bound: &Bound) -> Option<f64> {
    let of = match bound.of {
        None => None,
        Some(BoundOf::Fact(fact)) => match walk.fact(fact) {
            Some(Some(Value::Quantity(value))) => Some(*value),
            _ => return None,
        },
        Some(BoundOf::Reading(other)) => Some(walk.reading(other)?),
    };
    bound_figure(bound, of)
}

/// Nameplate and circuit of an everyday unit, so that calculations come out as they mostly do: within their limits. What
/// is not among these stands on no plate anybody could read.
const USUAL: [(&str, &[&str]); 18] = [
    ("nameplate-voltage", &["230 V", "208 V", "240 V"]),
    ("minimum-circuit-ampacity", &["17.8 A", "18.9 A"]),
    ("maximum-overcurrent-protection", &["30 A"]),
    ("protective-device-rating", &["30 A"]),
    ("panel-breaker-rating", &["30 A"]),
    ("heater-device-rating", &["60 A"]),
    ("rated-load-current", &["13.4 A", "13.5 A"]),
    ("locked-rotor-current", &["68 A", "72 A"]),
    ("fan-full-load-current", &["1.1 A", "0.9 A"]),
    ("blower-full-load-current", &["4.3 A"]),
    ("conductor-size", &["#10"]),
    ("conductor-length", &["42 ft", "65 ft"]),
    ("run-capacitor-rating", &["35 uF", "40 uF"]),
    ("transformer-rating", &["40 VA"]),
    ("heater-power", &["9.6 kW"]),
    ("heater-rated-voltage", &["240 V"]),
    ("main-breaker-rating", &["200 A", "150 A"]),
    ("circuits-supplied", &["1"]),
];

/// A value of a fact as it would be typed; nothing where it could not be found.
pub(super) fn fact(
    walk: &Walk<'_>,
    fact: crate::knowledge::model::FactIndex,
    rng: &mut Rng,
) -> Option<String> {
    let known = &walk.knowledge().facts[fact];
    if known.kind == ValueKind::Choice {
        let offered = walk.choices_offered(fact);
        let first = offered.first()?;
        // The first choice of most facts is the everyday one.
        let choice = if rng.u8(..10) < 7 {
            first
        } else {
            offered.get(rng.usize(..offered.len()))?
        };
        return Some(choice.id.clone());
    }
    let (_, values) = USUAL.iter().find(|(id, _)| *id == known.id)?;
    values
        .get(rng.usize(..values.len()))
        .map(|value| (*value).to_owned())
}
