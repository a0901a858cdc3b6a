//! Dangers that were seen or measured and stop nothing.
//!
//! A figure over its limit on paper is for the repair; what a look or a reading shows is there now.

use crate::knowledge::fields::keys::outcome::DEFECT;
use crate::knowledge::finding::Code;
use crate::knowledge::model::TestKind;

use super::scope::Scope;

/// What a hazard says when it can hurt before anybody has put it right.
const HURTS: [&str; 6] = ["fire", "fires", "shock", "shocks", "burst", "bursts"];

pub(super) fn check(scope: &Scope<'_>) {
    for test in &scope.knowledge.tests {
        if matches!(test.kind, TestKind::Calculation { .. }) {
            continue;
        }
        for (index, outcome) in test.outcomes.indexed() {
            let Some(defect) = &outcome.defect else { continue };
            let hazard = defect.hazard.to_ascii_lowercase();
            let mut words = hazard.split(|letter: char| !letter.is_ascii_alphabetic());
            if !outcome.raises.is_empty()
                || outcome.unheld.is_some()
                || !words.any(|word| HURTS.contains(&word))
            {
                continue;
            }
            scope.sink.error(
                Code::UnheldDanger,
                scope.documents.outcome(&test.id, index.place(), DEFECT),
                format!(
                    "outcome `{}` of test `{}` says \u{201c}{}\u{201d} and holds nothing",
                    outcome.id, test.id, defect.hazard
                ),
                "name the hold it `raises`, or say `unheld`: why work may go on",
            );
        }
    }
}
