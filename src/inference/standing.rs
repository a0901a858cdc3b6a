//! The causes with their probabilities at one moment.

use crate::knowledge::model::{CauseIndex, OutcomeIndex, TestIndex};

use super::Model;

/// One answered test.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Finding {
    /// The test.
    pub test: TestIndex,
    /// Its outcome.
    pub outcome: OutcomeIndex,
}

/// Probabilities of all causes and of the remainder, given some findings.
#[derive(Clone, Debug, PartialEq)]
pub struct Standing {
    causes: Vec<CauseIndex>,
    probabilities: Vec<f64>,
}

impl Standing {
    /// Works out the standing by Bayes' rule, in log space.
    ///
    /// Findings of one echo group are tempered: each counts with the exponent 1/k, k findings in the group, so
    /// that looking at the same thing k ways weighs like looking once. (Common practice for dependent
    /// evidence.) Findings of tests that do not apply are left out. The order of findings does not matter.
    #[must_use]
    pub fn new(model: &Model, findings: &[Finding]) -> Self {
        let mut logs: Vec<f64> = model.priors().iter().map(|prior| prior.ln()).collect();
        for finding in findings {
            let Some(likelihoods) = model.likelihoods(finding.test) else {
                continue;
            };
            let exponent = exponent(model, findings, finding.test);
            // Adding the same amount to every cause changes nothing, so only the rows that differ from
            // the usual share are touched.
            let usual = likelihoods.usual()[finding.outcome.0].ln();
            for (cause, row) in likelihoods.rows() {
                logs[*cause] += exponent * (row[finding.outcome.0].ln() - usual);
            }
        }
        Self {
            causes: model.causes().to_vec(),
            probabilities: normalize(&logs),
        }
    }

    /// Probabilities of the causes in the model's order, then of the remainder; they sum to 1.
    #[must_use]
    pub fn probabilities(&self) -> &[f64] {
        &self.probabilities
    }

    /// Probability that the cause is none of those listed.
    #[must_use]
    pub fn remainder(&self) -> f64 {
        self.probabilities.last().copied().unwrap_or(1.0)
    }

    /// Probability of one cause; 0 when the equipment cannot have it.
    #[must_use]
    pub fn of(&self, cause: CauseIndex) -> f64 {
        self.causes
            .iter()
            .position(|c| *c == cause)
            .map_or(0.0, |place| self.probabilities[place])
    }

    /// The causes from most to least probable; ties in the order of the files.
    #[must_use]
    pub fn ranked(&self) -> Vec<(CauseIndex, f64)> {
        let mut ranked: Vec<(CauseIndex, f64)> = self
            .causes
            .iter()
            .copied()
            .zip(self.probabilities.iter().copied())
            .collect();
        ranked.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
        ranked
    }

    /// Probability of the leading cause, or 0 when there is none.
    #[must_use]
    pub fn lead(&self) -> f64 {
        self.probabilities[..self.probabilities.len() - 1]
            .iter()
            .copied()
            .fold(0.0, f64::max)
    }
}

/// Weight of evidence of one finding for a cause against "something not listed", in bits.
///
/// Positive speaks for the cause. Tempered like the standing itself.
#[must_use]
pub fn weight_of_evidence(model: &Model, findings: &[Finding], finding: Finding, cause: usize) -> f64 {
    model.likelihoods(finding.test).map_or(0.0, |likelihoods| {
        let ratio = likelihoods.given(cause, finding.outcome) / likelihoods.usual()[finding.outcome.0];
        exponent(model, findings, finding.test) * ratio.log2()
    })
}

/// Share with which a finding counts: 1 over the findings in its echo group.
pub(super) fn exponent(model: &Model, findings: &[Finding], test: TestIndex) -> f64 {
    match model.echo(test) {
        None => 1.0,
        Some(group) => {
            let answered = findings
                .iter()
                .filter(|f| model.echo(f.test) == Some(group))
                .count();
            1.0 / answered.max(1) as f64
        }
    }
}

/// Turns log weights into probabilities that sum to 1.
fn normalize(logs: &[f64]) -> Vec<f64> {
    let highest = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let weights: Vec<f64> = logs.iter().map(|log| (log - highest).exp()).collect();
    let total: f64 = weights.iter().sum();
    weights.iter().map(|weight| weight / total).collect()
}
