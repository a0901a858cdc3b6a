//! Two faults at once: would a pair of causes explain the answers far better than any single one?

use crate::knowledge::model::CauseIndex;

use super::standing::log_evidence;
use super::{Answered, Model, Standing};

/// How many times more probable a pair must be than the best single cause to be worth saying.
///
/// Ten to one, the strong step of the table of strengths; our choice, no source.
const FAR_BETTER: f64 = 10.0;

/// Causes considered as partners: the leading ones, and for each finding the cause it speaks for most.
const MOST_LEADERS: usize = 8;

/// Two causes that together explain the answers far better than any single one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pair {
    /// The two causes, the more probable one first.
    pub causes: [CauseIndex; 2],
    /// How many times more probable the pair is than the best single cause.
    pub times: f64,
}

/// Looks for a pair that explains the answers far better than any single cause.
///
/// The prior of a pair is the product of its priors, so a pair has to earn its rarity. Where two causes are both
/// present an outcome is as likely as under the cause that makes it likelier, if either makes it likelier than
/// usual; else as under the one that makes it least likely. (Our reading of noisy-OR for outcomes that exclude
/// each other; renormalized over the test.)
#[must_use]
pub fn better_pair(model: &Model, findings: &[Answered]) -> Option<Pair> {
    let standing = Standing::new(model, findings);
    let single = match model.network() {
        Some(_) => log_evidence(model, findings)
            .iter()
            .zip(model.priors())
            .take(model.causes().len())
            .map(|(evidence, prior)| evidence + prior.ln())
            .fold(f64::NEG_INFINITY, f64::max),
        None => (0..model.causes().len())
            .map(|place| log_single(model, findings, place))
            .fold(f64::NEG_INFINITY, f64::max),
    };
    let partners = partners(model, findings, &standing);
    let mut best: Option<(f64, [usize; 2])> = None;
    for (number, first) in partners.iter().enumerate() {
        for second in &partners[number + 1..] {
            let log = log_pair(model, findings, *first, *second);
            if best.is_none_or(|(known, _)| log > known) {
                best = Some((log, [*first, *second]));
            }
        }
    }
    let (log, mut places) = best?;
    let times = (log - single).exp();
    if times < FAR_BETTER {
        return None;
    }
    places.sort_by(|a, b| standing.probabilities()[*b].total_cmp(&standing.probabilities()[*a]));
    Some(Pair {
        causes: places.map(|place| model.causes()[place]),
        times,
    })
}

fn partners(model: &Model, findings: &[Answered], standing: &Standing) -> Vec<usize> {
    let place = |cause: CauseIndex| model.causes().iter().position(|c| *c == cause);
    let mut places: Vec<usize> = standing
        .ranked()
        .into_iter()
        .take(MOST_LEADERS)
        .filter_map(|(cause, _)| place(cause))
        .collect();
    for finding in findings {
        let Some(likelihoods) = model.likelihoods(finding.test) else {
            continue;
        };
        let usual = finding.likelihood(likelihoods.usual());
        let spoken_for = likelihoods
            .rows()
            .iter()
            .map(|(cause, row)| (finding.likelihood(row) / usual * model.priors()[*cause], *cause))
            .max_by(|a, b| a.0.total_cmp(&b.0));
        if let Some((_, cause)) = spoken_for
            && !places.contains(&cause)
        {
            places.push(cause);
        }
    }
    places
}

fn log_single(model: &Model, findings: &[Answered], cause: usize) -> f64 {
    let evidence: f64 = findings
        .iter()
        .filter_map(|finding| {
            let row = model.likelihoods(finding.test)?.row(cause);
            Some(finding.likelihood(row).ln())
        })
        .sum();
    model.priors()[cause].ln() + evidence
}

fn log_pair(model: &Model, findings: &[Answered], first: usize, second: usize) -> f64 {
    if let Some((network, showings)) = model.network() {
        let own = network.together(first, second);
        let mut weights = network.nothing();
        let mut log = model.priors()[first].ln() + model.priors()[second].ln();
        for finding in findings {
            let Some(showing) = &showings[finding.test] else {
                continue;
            };
            let ones = [first, second].map(|place| (showing.is_altogether(place, finding), place));
            let found = ones.into_iter().filter(|(altogether, _)| *altogether);
            let best = found
                .map(|(_, place)| showing.log_own(place, finding))
                .fold(f64::NEG_INFINITY, f64::max);
            if best > f64::NEG_INFINITY {
                log += best;
            } else {
                showing.weigh(network, finding, &mut weights);
            }
        }
        return log + network.log_weight(&own, &weights);
    }
    let evidence: f64 = findings
        .iter()
        .filter_map(|finding| {
            let likelihoods = model.likelihoods(finding.test)?;
            let row = together(
                likelihoods.usual(),
                likelihoods.row(first),
                likelihoods.row(second),
            );
            Some(finding.likelihood(&row).ln())
        })
        .sum();
    model.priors()[first].ln() + model.priors()[second].ln() + evidence
}

/// P(outcome) where two causes are both present.
fn together(usual: &[f64], first: &[f64], second: &[f64]) -> Vec<f64> {
    let mut row: Vec<f64> = usual
        .iter()
        .zip(first.iter().zip(second))
        .map(|(usual, (a, b))| if a.max(*b) > *usual { a.max(*b) } else { a.min(*b) })
        .collect();
    let total: f64 = row.iter().sum();
    row.iter_mut().for_each(|share| *share /= total);
    row
}
