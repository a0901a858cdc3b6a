//! The test that tells two causes apart best.

use crate::inference::gain;
use crate::knowledge::model::{CauseIndex, Knowledge, TestIndex};

use super::session::Session;
use super::step::Did;

/// The test not made that tells two causes apart best for its minutes, by how differently they have it come out.
pub(super) fn tells_apart(
    session: &Session<'_>,
    knowledge: &Knowledge,
    first: CauseIndex,
    second: CauseIndex,
) -> Option<TestIndex> {
    let model = session.walk().model()?;
    let (first, second) = (model.place(first)?, model.place(second)?);
    let made: Vec<Did> = session.steps().iter().map(|step| step.did).collect();
    let score = |test: TestIndex| -> Option<f64> {
        let likelihoods = model.likelihoods(test)?;
        let (one, other) = (likelihoods.row(first), likelihoods.row(second));
        let apart: f64 = one.iter().zip(other).map(|(a, b)| (a - b).abs()).sum::<f64>() / 2.0;
        // Another calculation or reading of the same thing is no better for being quick.
        Some(apart / (5.0 + gain::cost(&knowledge.tests[test], session.walk().state())).sqrt())
    };
    knowledge
        .tests
        .indices()
        .filter(|test| !made.contains(&Did::Test(*test)) && session.hidden().outcome(*test).is_some())
        .filter_map(|test| Some((score(test)?, test)))
        .max_by(|a, b| a.0.total_cmp(&b.0).then(b.1.cmp(&a.1)))
        .map(|(_, test)| test)
}
