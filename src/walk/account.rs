//! What is known from the start: the told things that tell most, on one screen.

use crate::inference::{Standing, gain};
use crate::knowledge::model::{State, TestIndex, TestKind};
use crate::knowledge::order;

use super::calculate::Resolution;
use super::posterior::Posterior;

/// Lines of the account at most.
const LINES: usize = 8;

impl Posterior<'_> {
    /// The told things to offer at the start; none once the account was told or the walk has begun.
    ///
    /// They are ranked by what they tell before anything is known, so that the list stays as it is while it is filled in. Those
    /// of the start come last: who was there before is told at every callback, however little it parts the causes.
    pub(super) fn account_lines(&self) -> Vec<TestIndex> {
        let knowledge = self.knowledge;
        let (Some(complaint), Some(model)) = (self.complaint(), self.model()) else {
            return Vec::new();
        };
        if self.pace.account || self.begun || knowledge.trees[complaint].in_order {
            return Vec::new();
        }
        let standing = Standing::new(model, &[]);
        let mut lines: Vec<(f64, TestIndex)> = order::authored(knowledge, complaint)
            .into_iter()
            .filter(|test| {
                let known = &knowledge.tests[*test];
                known.state == State::Told
                    && matches!(known.kind, TestKind::Look)
                    && !known.safety
                    && self.applies(*test)
                    && self.resolution(*test) == Resolution::Open
            })
            .map(|test| (gain::information(model, &standing, test), test))
            .collect();
        lines.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        let first = |(_, test): &(f64, TestIndex)| knowledge.tests[*test].from_start;
        let (always, others): (Vec<_>, Vec<_>) = lines.into_iter().partition(first);
        let room = LINES.saturating_sub(always.len());
        let lines = others.into_iter().take(room).chain(always);
        lines.map(|(_, test)| test).collect()
    }
}
