//! Written reasons that are no longer needed.

use crate::knowledge::document::Section;
use crate::knowledge::finding::{Code, Finding};
use crate::knowledge::model::CauseIndex;

use super::{Scope, separation};

pub(super) fn check(scope: &Scope<'_>, findings: &mut Vec<Finding>) {
    let knowledge = scope.knowledge;
    for (index, cause) in knowledge.causes.iter().enumerate() {
        for (other, place, _) in scope.documents.pairs(Section::Cause, &cause.id, "same-signs-as") {
            let Some(other) = knowledge.cause(&other) else {
                continue;
            };
            let needless = !separation::can_meet(knowledge, cause, &knowledge.causes[other.0])
                || separation::is_separated(scope, CauseIndex(index), other);
            if needless {
                findings.push(Finding::warning(
                    Code::NeedlessExcuse,
                    place,
                    format!(
                        "`{}` and `{}` are told apart, or never meet",
                        cause.id, knowledge.causes[other.0].id
                    ),
                    "remove it from `same-signs-as`",
                ));
            }
        }
    }
}
