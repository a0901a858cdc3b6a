//! The causes with their probabilities at one moment: what is called the posterior elsewhere.

use std::sync::OnceLock;

use crate::knowledge::indexed::Indexed;
use crate::knowledge::model::{CauseIndex, OutcomeIndex, TestIndex};

use super::answered::Answered;
use super::network::{Network, Weights};
use super::showing::Showing;
use super::{Model, shares};

/// Probabilities of all causes and of the remainder, given some findings.
#[derive(Clone, Debug)]
pub struct Standing {
    causes: Vec<CauseIndex>,
    probabilities: Vec<f64>,
    findings: Vec<Answered>,
    /// What each cause worth asking about would bring, after these findings; worked out when it is first asked for.
    beliefs: OnceLock<Vec<(usize, Vec<f64>)>>,
    /// What each test would show, likewise.
    expected: OnceLock<Indexed<TestIndex, OnceLock<Option<Expected>>>>,
}

/// What a test would show, by the causes worth asking about.
#[derive(Clone, Debug)]
pub struct Expected {
    /// Places of the causes worth asking about.
    pub places: Vec<usize>,
    /// Probability of each of them, and P(outcome | cause, findings) by outcome.
    pub causes: Vec<(f64, Vec<f64>)>,
    /// Entropy of each of these, then of what is usual, in bits.
    pub entropies: Vec<f64>,
    /// Probability of all others together.
    pub rest: f64,
    /// P(outcome) under these: as usual.
    pub usual: Vec<f64>,
}

impl Expected {
    /// P(outcome | cause, findings) of the cause at a place, as usual for one hardly worth asking about.
    #[must_use]
    pub fn row(&self, place: usize) -> &[f64] {
        let known = self.places.iter().position(|known| *known == place);
        known.map_or(&self.usual, |known| &self.causes[known].1)
    }
}

impl PartialEq for Standing {
    fn eq(&self, other: &Self) -> bool {
        self.causes == other.causes && self.probabilities == other.probabilities
    }
}

/// Causes less probable than this are taken to answer the next test as usual: they hardly count.
/// Our choice, no source.
const WORTH_ASKING: f64 = 0.002;

impl Standing {
    /// Works out the standing by Bayes' rule, in log space.
    ///
    /// Findings of tests that do not apply are left out. The order of findings does not matter.
    #[must_use]
    pub fn new(model: &Model, findings: &[Answered]) -> Self {
        let logs: Vec<f64> = log_evidence(model, findings)
            .iter()
            .zip(model.priors())
            .map(|(evidence, prior)| prior.ln() + evidence)
            .collect();
        Self {
            causes: model.causes().to_vec(),
            probabilities: normalize(&logs),
            findings: findings.to_vec(),
            beliefs: OnceLock::new(),
            expected: OnceLock::new(),
        }
    }

    /// What a test not yet answered would show, after these findings; nothing for a test that does not apply.
    #[must_use]
    pub fn expected(&self, model: &Model, test: TestIndex) -> Option<&Expected> {
        let rows = self.expected.get_or_init(|| {
            let tests = model.network().map_or(0, |(_, showings)| showings.len());
            (0..tests).map(|_| OnceLock::new()).collect()
        });
        rows.get(test)?
            .get_or_init(|| self.work_out(model, test))
            .as_ref()
    }

    /// The standing were one cause ruled out: what it holds goes to the others as they stand.
    #[must_use]
    pub fn without(&self, cause: CauseIndex) -> Self {
        let mut probabilities = self.probabilities.clone();
        if let Some(place) = self.causes.iter().position(|known| *known == cause) {
            probabilities[place] = 0.0;
        }
        let logs: Vec<f64> = probabilities.iter().map(|share| share.ln()).collect();
        Self {
            causes: self.causes.clone(),
            probabilities: normalize(&logs),
            findings: self.findings.clone(),
            beliefs: OnceLock::new(),
            expected: OnceLock::new(),
        }
    }

    /// The standing after one more answer.
    #[must_use]
    pub fn with(&self, model: &Model, answer: Answered) -> Self {
        let mut findings = self.findings.clone();
        findings.push(answer);
        Self::new(model, &findings)
    }

    /// Probabilities of the causes and the remainder after one more answer; nothing for a test that does not apply.
    ///
    /// Causes hardly worth asking about are taken to answer as usual.
    #[must_use]
    pub fn after(&self, model: &Model, test: TestIndex, outcome: OutcomeIndex) -> Option<Vec<f64>> {
        let expected = self.expected(model, test)?;
        let mut shares: Vec<f64> = self
            .probabilities
            .iter()
            .map(|share| share * expected.usual[outcome.place()])
            .collect();
        for (place, (share, row)) in expected.places.iter().zip(&expected.causes) {
            shares[*place] = share * row[outcome.place()];
        }
        let total: f64 = shares.iter().sum();
        shares.iter_mut().for_each(|share| *share /= total);
        Some(shares)
    }

    fn work_out(&self, model: &Model, test: TestIndex) -> Option<Expected> {
        let (network, showings) = model.network()?;
        let showing = showings[test].as_ref()?;
        let beliefs = self.beliefs.get_or_init(|| self.work_out_beliefs(model));
        let causes: Vec<(f64, Vec<f64>)> = beliefs
            .iter()
            .map(|(place, beliefs)| (self.probabilities[*place], showing.row(network, *place, beliefs)))
            .collect();
        Some(Expected {
            entropies: causes
                .iter()
                .map(|(_, row)| shares::entropy(row))
                .chain([shares::entropy(showing.unfound())])
                .collect(),
            rest: 1.0 - causes.iter().map(|(share, _)| share).sum::<f64>(),
            usual: showing.unfound().to_vec(),
            places: beliefs.iter().map(|(place, _)| *place).collect(),
            causes,
        })
    }

    fn work_out_beliefs(&self, model: &Model) -> Vec<(usize, Vec<f64>)> {
        let Some((network, showings)) = model.network() else {
            return Vec::new();
        };
        let common = weights(network, showings, &self.findings, None);
        let altogether = |place: usize| {
            self.findings.iter().any(|finding| {
                showings[finding.test]
                    .as_ref()
                    .is_some_and(|showing| showing.is_altogether(place, finding))
            })
        };
        (0..self.probabilities.len())
            .filter(|place| self.probabilities[*place] >= WORTH_ASKING)
            .map(|place| {
                let (own, alone) = (network.own(place), model.alone(place));
                let beliefs = if altogether(place) {
                    let weights = weights(network, showings, &self.findings, Some(place));
                    network.beliefs_from(alone, own, &weights)
                } else {
                    network.beliefs_from(alone, own, &common)
                };
                (place, beliefs)
            })
            .collect()
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

    /// Place of the leading cause, the first of those that stand alike; nothing when none is listed.
    #[must_use]
    pub fn leader(&self) -> Option<usize> {
        (0..self.probabilities.len() - 1).max_by(|a, b| {
            self.probabilities[*a]
                .total_cmp(&self.probabilities[*b])
                .then(b.cmp(a))
        })
    }

    /// Probability of the leading cause, or 0 when there is none.
    #[must_use]
    pub fn lead(&self) -> f64 {
        self.leader().map_or(0.0, |place| self.probabilities[place])
    }
}

/// Natural log of P(findings | cause), relative to what is usual without any cause, for every cause and then the
/// remainder.
pub(super) fn log_evidence(model: &Model, findings: &[Answered]) -> Vec<f64> {
    let mut logs = vec![0.0; model.priors().len()];
    if let Some((network, showings)) = model.network() {
        let common = weights(network, showings, findings, None);
        let finders: Vec<(&Showing, &Answered)> = findings
            .iter()
            .filter_map(|finding| Some((showings[finding.test].as_ref()?, finding)))
            .collect();
        for (place, log) in logs.iter_mut().enumerate() {
            let own: f64 = finders
                .iter()
                .map(|(showing, finding)| showing.log_own(place, finding))
                .sum();
            let altogether = finders
                .iter()
                .any(|(showing, finding)| showing.is_altogether(place, finding));
            let states = if altogether {
                network.log_weight(
                    network.own(place),
                    &weights(network, showings, findings, Some(place)),
                )
            } else {
                network.log_weight(network.own(place), &common)
            };
            *log = own + states;
        }
        return logs;
    }
    for finding in findings {
        let Some(likelihoods) = model.likelihoods(finding.test) else {
            continue;
        };
        // Only the rows that differ from the usual share are touched.
        let usual = finding.likelihood(likelihoods.usual()).ln();
        for (cause, row) in likelihoods.rows() {
            logs[*cause] += finding.likelihood(row).ln() - usual;
        }
    }
    logs
}

/// P(outcome | cause, findings) of a test by outcome, for one place of the model, the remainder the last; nothing for a test
/// that does not apply.
pub(super) fn outcomes_under(
    model: &Model,
    findings: &[Answered],
    test: TestIndex,
    place: usize,
) -> Option<Vec<f64>> {
    let Some((network, showings)) = model.network() else {
        return Some(model.likelihoods(test)?.row(place).to_vec());
    };
    let showing = showings[test].as_ref()?;
    let beliefs = network.beliefs(
        network.own(place),
        &weights(network, showings, findings, Some(place)),
    );
    Some(showing.row(network, place, &beliefs))
}

/// What findings say of the states of effects; for one cause, without the answers that stand for it altogether.
pub(super) fn weights(
    network: &Network,
    showings: &Indexed<TestIndex, Option<Showing>>,
    findings: &[Answered],
    place: Option<usize>,
) -> Weights {
    let mut weights = network.nothing();
    for finding in findings {
        let Some(showing) = &showings[finding.test] else {
            continue;
        };
        if !place.is_some_and(|place| showing.is_altogether(place, finding)) {
            showing.weigh(network, finding, &mut weights);
        }
    }
    weights
}

/// Natural log of P(finding) by the usual shares alone, of all findings together.
pub(super) fn log_usual(model: &Model, findings: &[Answered]) -> f64 {
    findings
        .iter()
        .filter_map(|finding| {
            let usual = match model.network() {
                Some((_, showings)) => finding.likelihood(showings[finding.test].as_ref()?.usual()),
                None => finding.likelihood(model.likelihoods(finding.test)?.usual()),
            };
            Some(usual.ln())
        })
        .sum()
}

/// Weight of evidence of one finding for a cause against "something not listed", in bits.
///
/// Positive speaks for the cause.
fn weight_by_table(model: &Model, finding: &Answered, cause: usize) -> f64 {
    model.likelihoods(finding.test).map_or(0.0, |likelihoods| {
        let ratio = finding.likelihood(likelihoods.row(cause)) / finding.likelihood(likelihoods.usual());
        ratio.log2()
    })
}

/// What one finding does to one cause, beside all the other findings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weight {
    /// Weight of evidence against "something not listed", in bits; positive speaks for the cause.
    pub bits: f64,
    /// The cause is more probable with the finding than without it. It can be so although the cause rather has it otherwise,
    /// where its rivals have it otherwise still more.
    pub raises: bool,
}

/// Weights of every finding for every cause: by place of the finding, then of the cause.
///
/// It is what the finding adds to the others, so answers that say the same add little each.
#[must_use]
pub fn weigh(model: &Model, findings: &[Answered]) -> Vec<Vec<Weight>> {
    let causes = model.causes().len();
    let whole = log_evidence(model, findings);
    let odds = log_odds(model, &whole);
    (0..findings.len())
        .map(|place| {
            let mut others = findings.to_vec();
            others.remove(place);
            let without = log_evidence(model, &others);
            let odds_without = log_odds(model, &without);
            let against_remainder = |logs: &[f64], cause: usize| logs[cause] - logs[causes];
            (0..causes)
                .map(|cause| Weight {
                    bits: if model.network().is_none() {
                        weight_by_table(model, &findings[place], cause)
                    } else {
                        (against_remainder(&whole, cause) - against_remainder(&without, cause))
                            / std::f64::consts::LN_2
                    },
                    raises: odds[cause] > odds_without[cause],
                })
                .collect()
        })
        .collect()
}

/// Natural log of the odds of each cause against all the rest, from the log of its evidence.
fn log_odds(model: &Model, evidence: &[f64]) -> Vec<f64> {
    let logs: Vec<f64> = evidence
        .iter()
        .zip(model.priors())
        .map(|(evidence, prior)| prior.ln() + evidence)
        .collect();
    let shares = normalize(&logs);
    let total: f64 = shares.iter().sum();
    (0..model.causes().len())
        .map(|cause| {
            // Taken from the total, what little is left beside a share near 1 would be rounding.
            let rest = if shares[cause] < 0.5 {
                total - shares[cause]
            } else {
                let others = shares.iter().enumerate().filter(|(place, _)| *place != cause);
                others.map(|(_, share)| share).sum()
            };
            shares[cause].ln() - rest.ln()
        })
        .collect()
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
