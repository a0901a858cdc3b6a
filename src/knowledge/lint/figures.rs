//! Figures that contradict each other.

use crate::knowledge::document::Section;
use crate::knowledge::fields::keys::outcome as keys;
use crate::knowledge::fields::keys::test::RANGE;
use crate::knowledge::finding::{Code, Finding};
use crate::knowledge::model::{Bound, CauseIndex, Outcome, OutcomeIndex, Test, TestKind};
use crate::quantity::{Kind, Quantity};

use super::scope::Scope;

/// Rounding of chances written with two decimals; beyond it a sum is a slip.
const SUM_TOLERANCE: f64 = 0.02;

/// How far a figure in a label may be from its bound, as a share of it: rounding, not another figure.
const SAME: f64 = 0.005;

pub(super) fn check(scope: &Scope<'_>) {
    for test in &scope.knowledge.tests {
        chances(scope, test);
        let TestKind::Reading {
            unit, symbol, range, ..
        } = &test.kind
        else {
            continue;
        };
        for (index, outcome) in test.outcomes.indexed() {
            let Some(bound) = &outcome.bound else { continue };
            beyond(scope, test, index, bound, *range);
            label(scope, test, (index, outcome), bound, (*unit, symbol));
        }
    }
}

/// A plain bound beyond the readings that are believed is never reached, or always.
fn beyond(scope: &Scope<'_>, test: &Test, index: OutcomeIndex, bound: &Bound, (low, high): (f64, f64)) {
    let idle = if bound.below {
        bound.figure <= low || bound.figure > high
    } else {
        bound.figure >= high || bound.figure < low
    };
    if bound.of.is_some() || !idle {
        return;
    }
    let key = if bound.below { keys::BELOW } else { keys::ABOVE };
    scope.sink.push(
        Finding::error(
            Code::BoundOutOfRange,
            scope.documents.outcome(&test.id, index.place(), key),
            format!(
                "every reading that is believed lies on one side of this `{}`, so outcome `{}` is taken never or always",
                key.name, test.outcomes[index].id
            ),
            "correct the bound or the `range` of the reading",
        )
        .also(
            scope.documents.key(Section::Test, &test.id, RANGE),
            "the readings that are believed",
        ),
    );
}

/// Chances of one cause over the outcomes of one test cannot be more than 1 together, and with one for every outcome
/// they must be 1.
fn chances(scope: &Scope<'_>, test: &Test) {
    let mut causes: Vec<CauseIndex> = Vec::new();
    for (cause, _) in test.outcomes.iter().flat_map(|outcome| &outcome.finds) {
        if !causes.contains(cause) {
            causes.push(*cause);
        }
    }
    for cause in causes {
        let stated: Vec<(usize, f64)> = test
            .outcomes
            .iter()
            .enumerate()
            .filter_map(|(index, outcome)| Some((index, outcome.finding(cause)?)))
            .collect();
        let sum: f64 = stated.iter().map(|(_, chance)| chance).sum();
        let short = stated.len() == test.outcomes.len() && sum < 1.0 - SUM_TOLERANCE;
        if sum <= 1.0 + SUM_TOLERANCE && !short {
            continue;
        }
        let id = &scope.knowledge.causes[cause].id;
        let places: Vec<_> = stated
            .iter()
            .map(|(index, _)| scope.documents.finding(&test.id, *index, id))
            .collect();
        let mut finding = Finding::error(
            Code::ChanceSum,
            places[0].clone(),
            format!(
                "the chances of `{id}` in `{}` add up to {sum:.2}, expected 1 at most, and 1 when every outcome has one",
                test.id
            ),
            "correct them: one of the outcomes happens, whatever the cause",
        );
        for place in &places[1..] {
            finding = finding.also(place.clone(), "added to it");
        }
        scope.sink.push(finding);
    }
}

/// A label that opens with a figure must open with the figure of its bound.
fn label(
    scope: &Scope<'_>,
    test: &Test,
    (index, outcome): (OutcomeIndex, &Outcome),
    bound: &Bound,
    (unit, symbol): (Kind, &str),
) {
    let Some(said) = said(&outcome.label) else { return };
    let Some(agrees) = agrees(&said, bound, unit, symbol) else {
        return;
    };
    if agrees {
        return;
    }
    let key = if bound.below { keys::BELOW } else { keys::ABOVE };
    scope.sink.push(
        Finding::error(
            Code::LabelAgainstBound,
            scope.documents.outcome(&test.id, index.place(), keys::LABEL),
            format!(
                "the label of outcome `{}` says another figure than its bound",
                outcome.id
            ),
            "make the label say what the bound does, or the other way around",
        )
        .also(scope.documents.outcome(&test.id, index.place(), key), "the bound"),
    );
}

/// The figure a label opens with.
#[derive(Debug, PartialEq)]
enum Said {
    /// "More than 5 V"
    Above(String),
    /// "Below 114 V"
    Below(String),
    /// "2 to 5 V"
    Between(String, String),
}

const OPENINGS: &[(&str, bool)] = &[
    ("more than ", true),
    ("above ", true),
    ("over ", true),
    ("less than ", false),
    ("below ", false),
    ("under ", false),
];

fn said(label: &str) -> Option<Said> {
    let text = label.to_lowercase();
    for (words, is_above) in OPENINGS {
        if let Some(rest) = text.strip_prefix(words) {
            let figure = figure(rest)?;
            return Some(if *is_above {
                Said::Above(figure)
            } else {
                Said::Below(figure)
            });
        }
    }
    let (low, rest) = text.split_once(" to ")?;
    let low = low.trim();
    low.parse::<f64>().ok()?;
    let high = figure(rest)?;
    let unit = high.split_once(' ').map_or("", |(_, unit)| unit);
    Some(Said::Between(format!("{low} {unit}"), high))
}

/// A number and the word behind it: "5 v", "10 %".
fn figure(text: &str) -> Option<String> {
    let mut words = text.split_whitespace();
    let number = words.next()?.trim_end_matches([',', ':', ';']);
    number.parse::<f64>().ok()?;
    let unit = words.next()?.trim_end_matches([',', ':', ';', '.']);
    Some(format!("{number} {unit}"))
}

/// Whether the words agree with the bound; nothing when they are about something else.
fn agrees(said: &Said, bound: &Bound, unit: Kind, symbol: &str) -> Option<bool> {
    let same = |one: f64, other: f64| (one - other).abs() <= SAME * other.abs().max(f64::MIN_POSITIVE);
    if bound.of.is_some() {
        // "More than 3 % below the panel" is `below = 0.97`, so both the share and what lacks of 1 will do.
        let percent = |text: &String| text.strip_suffix(" %")?.parse::<f64>().ok();
        let share = |text: &String| {
            let share = percent(text)? / 100.0;
            let lacking = (1.0 - bound.figure).abs();
            Some(same(share, bound.figure) || (share - lacking).abs() < SAME)
        };
        return match said {
            Said::Above(figure) | Said::Below(figure) => share(figure),
            Said::Between(low, high) => Some(share(low)? || share(high)?),
        };
    }
    // Units were made lowercase with the label, so only the reading's own unit is recognized.
    let amount = |text: &String| {
        let (number, written) = text.split_once(' ')?;
        (written == symbol.to_lowercase()).then_some(())?;
        Quantity::parse_in(&format!("{number} {symbol}"), unit, symbol)
            .ok()
            .map(|quantity| quantity.base)
    };
    match said {
        Said::Above(figure) => Some(!bound.below && same(amount(figure)?, bound.figure)),
        Said::Below(figure) => Some(bound.below && same(amount(figure)?, bound.figure)),
        Said::Between(low, high) => {
            let (low, high) = (amount(low)?, amount(high)?);
            Some(same(if bound.below { high } else { low }, bound.figure))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bound(below: bool, figure: f64) -> Bound {
        Bound {
            below,
            figure,
            of: None,
        }
    }

    #[test]
    fn labels_are_read_as_a_person_reads_them() {
        assert_eq!(said("More than 0.2 V"), Some(Said::Above("0.2 v".to_owned())));
        assert_eq!(said("Below 114 V"), Some(Said::Below("114 v".to_owned())));
        assert_eq!(
            said("2 to 5 V"),
            Some(Said::Between("2 v".to_owned(), "5 v".to_owned()))
        );
        assert_eq!(said("Almost nothing"), None);
        assert_eq!(said("More than one phase"), None);
    }

    #[test]
    fn a_label_agrees_with_its_bound_or_not() {
        let volts = |label: &str, bound: &Bound| agrees(&said(label).unwrap(), bound, Kind::Voltage, "V");
        assert_eq!(volts("Below 114 V", &bound(true, 114.0)), Some(true));
        assert_eq!(volts("Below 113 V", &bound(true, 114.0)), Some(false));
        assert_eq!(volts("Above 114 V", &bound(true, 114.0)), Some(false));
        assert_eq!(volts("2 to 5 V", &bound(false, 2.0)), Some(true));
        assert_eq!(volts("2 to 5 V", &bound(false, 5.0)), Some(false));
        assert_eq!(volts("More than 10 mV", &bound(false, 5.0)), None);
    }
}
