//! Do the answers fit together, and if not, which one is to be doubted?

use super::standing::{log_evidence, log_sum, log_usual};
use super::{Answered, Model, Standing, sensitivity};

/// Extra surprise from which an answer is called surprising, in bits. Our choice, no source.
pub const SURPRISING_BITS: f64 = 3.0;

/// How far the others must speak for another cause, in bits, for an answer to be doubted: about twelve to one.
///
/// Our choice, no source. With it about one sound invented account in twenty names an answer to doubt.
pub const DOUBTFUL_BITS: f64 = 3.6;

/// How far the conflict must drop without an answer for it to be doubted, in bits. Our choice, no source.
pub const SETTLING_BITS: f64 = 1.0;

/// How unexpected one answer was, after others.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Surprise {
    /// -log2 P(answer | the others).
    pub bits: f64,
    /// What was to be expected on average: the entropy of the predicted answers.
    pub expected: f64,
}

impl Surprise {
    /// Whether it is far above what was to be expected.
    #[must_use]
    pub fn is_high(&self) -> bool {
        self.bits - self.expected > SURPRISING_BITS
    }
}

/// An answer that the others speak against.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Doubt {
    /// Its place among the findings.
    pub finding: usize,
    /// How far the others speak for the cause that leads without it, or how far the conflict drops without it, in bits.
    pub bits: f64,
}

/// Surprise of a finding after others.
///
/// Returns nothing for a test that does not apply.
#[must_use]
pub fn surprise(model: &Model, before: &[Answered], finding: &Answered) -> Option<Surprise> {
    let predicted = predictive(model, &Standing::new(model, before), finding)?;
    let bits = -finding.likelihood(&predicted).log2();
    Some(Surprise {
        bits,
        expected: super::shares::entropy(&predicted),
    })
}

/// P(outcome) of a finding's test, by outcome.
fn predictive(model: &Model, standing: &Standing, finding: &Answered) -> Option<Vec<f64>> {
    super::gain::predicted(model, standing, finding.test)
}

/// Conflict of the findings: log2 of the product of their single probabilities over their joint probability.
///
/// Positive: together they are rarer than if they were independent; negative: they support each other. (The measure of
/// data conflict: Conference on Uncertainty in Artificial Intelligence, 1990, pages 519 to 528 -
/// <https://mlanthology.org/uai/1990/jensen1990uai-analysis/>; Bayesian Networks and Decision Graphs, 2nd edition
/// (2007), from memory.)
#[must_use]
pub fn conflict(model: &Model, findings: &[Answered]) -> f64 {
    log_product(model, findings) - log_joint(model, findings)
}

/// Whether the findings clash under every listed cause: no cause makes them likelier than chance would.
///
/// A rare but genuine case also conflicts, but some cause explains it: P(findings | cause) is then at least the
/// product of the single probabilities. (Rule from memory.)
#[must_use]
pub fn is_contradictory(model: &Model, findings: &[Answered]) -> bool {
    let product = log_product(model, findings);
    let logs = log_likelihoods(model, findings);
    conflict(model, findings) > 0.0 && logs[..logs.len() - 1].iter().all(|log| *log < product)
}

/// The answer to doubt: without it another cause leads, and the others make that one more probable than the leader by
/// more than [`DOUBTFUL_BITS`]; where the answers clash under every cause, the one whose removal settles the conflict best, by
/// more than [`SETTLING_BITS`].
#[must_use]
pub fn doubt(model: &Model, findings: &[Answered]) -> Option<Doubt> {
    let (doubted, bar) = if is_contradictory(model, findings) {
        let whole = conflict(model, findings);
        let without = |place: usize| {
            let mut others = findings.to_vec();
            others.remove(place);
            conflict(model, &others)
        };
        let doubts = (0..findings.len()).map(|finding| Doubt {
            finding,
            bits: whole - without(finding),
        });
        (most_doubted(doubts), SETTLING_BITS)
    } else {
        let hinges = sensitivity::hinges(model, findings);
        let doubts = hinges.into_iter().map(|hinge| Doubt {
            finding: hinge.finding,
            bits: hinge.times.log2(),
        });
        (most_doubted(doubts), DOUBTFUL_BITS)
    };
    doubted.filter(|doubt| doubt.bits > bar)
}

fn most_doubted(doubts: impl Iterator<Item = Doubt>) -> Option<Doubt> {
    doubts.max_by(|a, b| a.bits.total_cmp(&b.bits))
}

/// log2 P(finding) of each finding from the priors alone, added up.
fn log_product(model: &Model, findings: &[Answered]) -> f64 {
    let start = Standing::new(model, &[]);
    findings
        .iter()
        .filter_map(|finding| {
            let predicted = predictive(model, &start, finding)?;
            Some(finding.likelihood(&predicted).log2())
        })
        .sum()
}

/// log2 P(findings | cause) by cause, then for the remainder.
pub(super) fn log_likelihoods(model: &Model, findings: &[Answered]) -> Vec<f64> {
    let usual = log_usual(model, findings);
    log_evidence(model, findings)
        .into_iter()
        .map(|log| (log + usual) / std::f64::consts::LN_2)
        .collect()
}

/// log2 P(findings).
fn log_joint(model: &Model, findings: &[Answered]) -> f64 {
    let logs: Vec<f64> = log_likelihoods(model, findings)
        .iter()
        .zip(model.priors())
        .map(|(log, prior)| log * std::f64::consts::LN_2 + prior.ln())
        .collect();
    log_sum(&logs) / std::f64::consts::LN_2
}
