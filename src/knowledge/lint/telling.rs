//! Tests whose answer changes nothing.

use std::collections::BTreeSet;

use crate::knowledge::document::Section;
use crate::knowledge::finding::Code;
use crate::knowledge::model::{NodeKind, TestIndex};

use super::scope::Scope;

pub(super) fn check(scope: &Scope<'_>) {
    let knowledge = scope.knowledge;
    let read: BTreeSet<TestIndex> = knowledge.tests.iter().flat_map(|test| test.readings()).collect();
    let parting: BTreeSet<TestIndex> = knowledge
        .trees
        .iter()
        .flat_map(|tree| &tree.nodes)
        .filter_map(|node| match &node.kind {
            NodeKind::Test { test, to, .. } if to.iter().any(|at| Some(at) != to.first()) => Some(*test),
            _ => None,
        })
        .collect();
    let clearing: BTreeSet<TestIndex> = knowledge
        .holds
        .iter()
        .flat_map(|hold| hold.cleared_by.iter().map(|(proof, _)| *proof))
        .collect();
    for (index, test) in knowledge.tests.iter().enumerate() {
        if clearing.contains(&TestIndex(index)) || !test.at_once.is_empty() {
            continue;
        }
        let outcomes = test.outcomes.iter();
        let defective = outcomes.clone().any(|outcome| outcome.defect.is_some());
        let speaking = outcomes.filter(|outcome| !(outcome.shows.is_empty() && outcome.finds.is_empty()));
        let speaking = speaking.count();
        let silent = test
            .outcomes
            .iter()
            .filter(|outcome| outcome.says_nothing)
            .count();
        if speaking == 1 && silent == test.outcomes.len() - 1 && !defective {
            scope.sink.warning(
                Code::OneSided,
                scope.documents.entry(Section::Test, &test.id),
                format!("every outcome of `{}` but one says nothing", test.id),
                "where the thing was looked for and not met, leave out `says-nothing`",
            );
        }
        if speaking == 0
            && !defective
            && !read.contains(&TestIndex(index))
            && !parting.contains(&TestIndex(index))
        {
            scope.sink.warning(
                Code::TellsNothing,
                scope.documents.entry(Section::Test, &test.id),
                format!(
                    "`{}` shows no effect, finds no cause, and every outcome leads to the same place",
                    test.id
                ),
                "say what its outcomes mean for the causes, or remove it",
            );
        }
    }
}
