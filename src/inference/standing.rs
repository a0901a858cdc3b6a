//! The causes with their probabilities at one moment.

use crate::knowledge::model::{CauseIndex, OutcomeIndex, TestIndex};

use super::Model;

/// One answered test.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// The test.
    pub test: TestIndex,
    /// Its outcome, or the one most leaned to.
    pub outcome: OutcomeIndex,
    /// What the observation alone says of each outcome, scale-free; nothing when the outcome is certain.
    leaning: Option<Vec<f64>>,
}

impl Finding {
    /// A certain answer.
    #[must_use]
    pub fn certain(test: TestIndex, outcome: OutcomeIndex) -> Self {
        Self {
            test,
            outcome,
            leaning: None,
        }
    }

    /// An answer nobody is sure of, as virtual evidence: how likely the observation is under each outcome.
    ///
    /// The scale does not matter. Returns nothing unless some weight is above 0 and all are finite.
    #[must_use]
    pub fn leaning(test: TestIndex, weights: Vec<f64>) -> Option<Self> {
        let total: f64 = weights.iter().sum();
        let sound = weights.iter().all(|weight| weight.is_finite() && *weight >= 0.0) && total > 0.0;
        let most = weights
            .iter()
            .enumerate()
            .max_by(|a, b| a.1.total_cmp(b.1))
            .map(|(place, _)| place);
        let outcome = OutcomeIndex(most.filter(|_| sound)?);
        let weights = weights.iter().map(|weight| weight / total).collect();
        Some(Self {
            test,
            outcome,
            leaning: Some(weights),
        })
    }

    /// How likely the observation is under a cause, given P(outcome | cause) by outcome.
    #[must_use]
    pub fn likelihood(&self, row: &[f64]) -> f64 {
        match &self.leaning {
            None => row[self.outcome.0],
            Some(weights) => weights
                .iter()
                .zip(row)
                .map(|(weight, share)| weight * share)
                .sum(),
        }
    }

    /// Share of the observation that falls on one of the test's outcomes, by place; they add up to 1.
    #[must_use]
    pub fn share(&self, outcome: usize) -> f64 {
        self.leaning.as_ref().map_or_else(
            || f64::from(u8::from(outcome == self.outcome.0)),
            |weights| weights[outcome],
        )
    }

    /// Share of the observation that falls on its outcome: 1 when it is certain.
    #[must_use]
    pub fn certainty(&self) -> f64 {
        self.leaning
            .as_ref()
            .map_or(1.0, |weights| weights[self.outcome.0])
    }
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
            let usual = finding.likelihood(likelihoods.usual()).ln();
            for (cause, row) in likelihoods.rows() {
                logs[*cause] += exponent * (finding.likelihood(row).ln() - usual);
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
pub fn weight_of_evidence(model: &Model, findings: &[Finding], finding: &Finding, cause: usize) -> f64 {
    model.likelihoods(finding.test).map_or(0.0, |likelihoods| {
        let ratio = finding.likelihood(likelihoods.row(cause)) / finding.likelihood(likelihoods.usual());
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

/// Natural log of the sum of what some natural logs stand for.
pub(super) fn log_sum(logs: &[f64]) -> f64 {
    let highest = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    if highest == f64::NEG_INFINITY {
        return highest;
    }
    highest + logs.iter().map(|log| (log - highest).exp()).sum::<f64>().ln()
}

/// Turns log weights into probabilities that sum to 1.
fn normalize(logs: &[f64]) -> Vec<f64> {
    let highest = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    if highest == f64::NEG_INFINITY {
        // Every cause is excluded, the remainder too: nothing listed explains this, and nothing else is left.
        let mut shares = vec![0.0; logs.len()];
        if let Some(remainder) = shares.last_mut() {
            *remainder = 1.0;
        }
        return shares;
    }
    let weights: Vec<f64> = logs.iter().map(|log| (log - highest).exp()).collect();
    let total: f64 = weights.iter().sum();
    weights.iter().map(|weight| weight / total).collect()
}
