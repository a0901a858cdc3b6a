//! The rules a knowledge must keep, each with a code.
//!
//! The rules on single files, values, ids and routes are kept by the loader, so that nothing broken can be used;
//! the deeper ones here need the whole and run only in `lineside trees check`. Codes are stable; what each means stands at
//! [`Code`](super::finding::Code). A test demands a bad example under `tests/bad-trees/` for each.

mod cautions;
mod cycles;
mod effects;
mod figures;
mod findings;
mod flags;
mod instruments;
mod judging;
mod offered;
pub(super) mod prompts;
mod prose;
mod reach_of_causes;
mod reach_of_nodes;
mod reading_level;
mod safety;
mod scope;
mod separation;
mod sources;
mod statements;
mod states;
mod telling;
mod unheld;
mod unused;
mod weights;
mod widths;

use super::document::Documents;
use super::finding::Sink;
use super::graph::Reached;
use super::model::Knowledge;

use scope::Scope;
use weights::Weights;

use crate::standards::calculation::Calculation;

/// Rules about one entry at a time; they hold also while some ids are unknown.
pub(super) fn each_entry(knowledge: &Knowledge, documents: &Documents<'_>, sink: &Sink) {
    let scope = Scope {
        knowledge,
        documents,
        sink,
        catalog: &[],
        reached: Vec::new(),
        weights: Weights::default(),
    };
    for rule in [
        prose::check,
        sources::check,
        prompts::check,
        reading_level::check,
        widths::check,
        figures::check,
        cautions::check,
        unheld::check,
        states::check,
    ] {
        rule(&scope);
    }
}

/// Rules about the whole; every id must be known.
pub(super) fn whole(
    knowledge: &Knowledge,
    documents: &Documents<'_>,
    catalog: &'static [Calculation],
    sink: &Sink,
) {
    let complaints = knowledge.trees.indices();
    let reached = complaints
        .filter(|tree| knowledge.trees[*tree].is_complaint())
        .map(|tree| (tree, Reached::from(knowledge, tree)))
        .collect();
    let scope = Scope {
        knowledge,
        documents,
        sink,
        catalog,
        reached,
        weights: Weights::of(knowledge),
    };
    for rule in [
        cycles::check,
        reach_of_nodes::check,
        safety::check,
        separation::check,
        reach_of_causes::check,
        unused::check,
        telling::check,
        judging::check,
        findings::check,
        statements::check,
        effects::check,
        flags::check,
        offered::check,
        instruments::check,
    ] {
        rule(&scope);
    }
}
