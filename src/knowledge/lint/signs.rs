//! Signs that move nothing.

use crate::knowledge::finding::{Code, Finding};
use crate::knowledge::model::{CauseIndex, Sign, Strength, Test};

use super::Scope;

pub(super) fn check(scope: &Scope<'_>, findings: &mut Vec<Finding>) {
    for test in &scope.knowledge.tests {
        idle(scope, test, findings);
        even(scope, test, findings);
    }
}

/// Signs for a cause that no equipment shares with the test: whoever wrote them thought the two can meet, so some
/// `parts` are wrong. A weak sign or one against it is what care for every cause leaves behind, and stands.
fn idle(scope: &Scope<'_>, test: &Test, findings: &mut Vec<Finding>) {
    let mut said: Vec<CauseIndex> = Vec::new();
    for (index, outcome) in test.outcomes.iter().enumerate() {
        for (cause, sign) in &outcome.signs {
            let speaks_for = match sign {
                Sign::Word(strength) => *strength >= Strength::Moderate,
                Sign::Chance(chance) => *chance > outcome.usual,
            };
            if !speaks_for {
                continue;
            }
            let known = &scope.knowledge.causes[cause.0];
            let counts = scope
                .knowledge
                .equipment
                .iter()
                .any(|equipment| test.applies_to(equipment) && known.applies_to(equipment));
            // Said once for a test, at the first outcome that has it.
            if counts || said.contains(cause) {
                continue;
            }
            said.push(*cause);
            findings.push(Finding::warning(
                Code::IdleSign,
                scope.documents.sign(&test.id, index, &known.id),
                format!(
                    "no equipment has the parts of both test `{}` and cause `{}`, so this never counts",
                    test.id, known.id
                ),
                "remove the sign, or correct the `parts` of one of them",
            ));
        }
    }
}

/// The same word at every outcome leaves the shares as they were.
fn even(scope: &Scope<'_>, test: &Test, findings: &mut Vec<Finding>) {
    let Some(first) = test.outcomes.first() else {
        return;
    };
    for (cause, sign) in &first.signs {
        let everywhere = matches!(sign, Sign::Word(_))
            && test
                .outcomes
                .iter()
                .all(|outcome| outcome.signs.contains(&(*cause, *sign)));
        if everywhere {
            let id = &scope.knowledge.causes[cause.0].id;
            findings.push(Finding::warning(
                Code::EvenSigns,
                scope.documents.sign(&test.id, 0, id),
                format!(
                    "every outcome of `{}` says the same about `{id}`, which together says nothing",
                    test.id
                ),
                "say what differs between the outcomes when this is the cause, or remove the signs",
            ));
        }
    }
}
