//! How firm a conclusion is: does another cause lead when one answer is left out?

use crate::knowledge::model::CauseIndex;

use super::{Answered, Model, Standing};

/// An answer that the conclusion hangs on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hinge {
    /// Place of the finding.
    pub finding: usize,
    /// The cause that leads without it.
    pub then_leads: CauseIndex,
    /// How many times more probable that cause is than today's leader, by all the other answers.
    pub times: f64,
}

/// Answers without which another cause leads; none means the conclusion is firm in this sense.
#[must_use]
pub fn hinges(model: &Model, findings: &[Answered]) -> Vec<Hinge> {
    let Some((leader, _)) = Standing::new(model, findings).ranked().first().copied() else {
        return Vec::new();
    };
    (0..findings.len())
        .filter_map(|place| {
            let mut others = findings.to_vec();
            others.remove(place);
            let without = Standing::new(model, &others);
            let (then_leads, share) = *without.ranked().first()?;
            (then_leads != leader).then(|| Hinge {
                finding: place,
                then_leads,
                times: share / without.of(leader).max(f64::MIN_POSITIVE),
            })
        })
        .collect()
}
