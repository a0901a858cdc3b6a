//! Causes no walk can bring forward.

use crate::knowledge::document::Section;
use crate::knowledge::finding::Code;
use crate::knowledge::model::CauseIndex;

use super::scope::Scope;
use super::weights;

/// Under each complaint a cause comes under, and on each equipment that can have both, a test must be asked that can
/// raise it: by finding it, or by showing what it does.
pub(super) fn check(scope: &Scope<'_>) {
    let knowledge = scope.knowledge;
    let asked: Vec<_> = scope
        .reached
        .iter()
        .map(|(tree, reached)| (*tree, reached.tests(knowledge)))
        .collect();
    for (index, cause) in knowledge.causes.iter().enumerate() {
        let raising = |kind, tests: &std::collections::BTreeSet<_>| {
            tests.iter().any(|test| {
                scope.weights.raises(*test, CauseIndex(index)) && knowledge.tests[*test].applies_to(kind)
            })
        };
        let mut kinds = 0;
        let mut unraised: Vec<(&str, &str)> = Vec::new();
        for (tree, tests) in asked
            .iter()
            .filter(|(tree, _)| weights::comes_under(knowledge, cause, *tree))
        {
            let complaint = &knowledge.trees[*tree];
            for kind in &knowledge.equipment {
                if cause.applies_to(kind) && complaint.fit.fits(kind) {
                    kinds += 1;
                    if !raising(kind, tests) {
                        unraised.push((&complaint.id, &kind.id));
                    }
                }
            }
        }
        let why = match unraised.first() {
            None if kinds > 0 => continue,
            None => "no equipment has it under a complaint it comes under".to_owned(),
            Some((complaint, kind)) => {
                let more = match unraised.len() - 1 {
                    0 => String::new(),
                    more => format!(", and so in {more} more"),
                };
                format!("no test asked in `{complaint}` of `{kind}` speaks for it{more}")
            }
        };
        scope.sink.error(
            Code::UnreachableCause,
            scope.documents.entry(Section::Cause, &cause.id),
            format!("no walk can bring `{}` forward: {why}", cause.id),
            "ask a test there that `finds` it or `shows` what it does, or take the complaint out of `does.complaint`",
        );
    }
}
