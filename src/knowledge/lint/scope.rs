//! What a rule looks at.

use crate::knowledge::document::{Documents, Section};
use crate::knowledge::finding::Sink;
use crate::knowledge::graph::Reached;
use crate::knowledge::model::{Knowledge, TreeIndex};
use crate::standards::calculation::Calculation;

use super::weights::Weights;

/// What a rule looks at.
pub(super) struct Scope<'l> {
    pub(super) knowledge: &'l Knowledge,
    pub(super) documents: &'l Documents<'l>,
    /// Where a rule puts what it finds.
    pub(super) sink: &'l Sink,
    pub(super) catalog: &'static [Calculation],
    /// What the walks of each complaint can meet.
    pub(super) reached: Vec<(TreeIndex, Reached)>,
    /// What each outcome says of each cause.
    pub(super) weights: Weights,
}

impl<'l> Scope<'l> {
    /// Every question a person is asked: of a fact or a test, by id.
    pub(super) fn questions(&self) -> impl Iterator<Item = (Section, &'l str, &'l str)> {
        let knowledge = self.knowledge;
        let facts = knowledge.facts.iter();
        let tests = knowledge.tests.iter();
        facts
            .map(|fact| (Section::Fact, fact.id.as_str(), fact.ask.as_str()))
            .chain(tests.map(|test| (Section::Test, test.id.as_str(), test.ask.as_str())))
    }
}
