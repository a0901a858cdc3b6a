//! Expected cost of repair, and what a test is worth by it.

use crate::knowledge::model::{Cause, Knowledge, OutcomeIndex, Place, TestIndex};

use super::{Answered, Model, Standing, gain};

/// Minutes to hand a case over whose cause is not listed. Our choice, no source.
pub const HAND_OVER_MINUTES: f64 = 180.0;

/// Minutes a repair takes with its proof: those of the cause, or a figure for the place it sits at.
///
/// The figures by place are our choice, no source; they only weigh tests against repairs.
#[must_use]
pub fn minutes(cause: &Cause) -> f64 {
    cause.repair_minutes.unwrap_or(match cause.place {
        Place::Utility | Place::Service => 120.0,
        Place::Panel | Place::Branch => 90.0,
        Place::Disconnect | Place::Unit => 45.0,
        Place::Load => 120.0,
        Place::Control | Place::NotElectrical => 40.0,
    })
}

/// Minutes of the repair of each cause, in the order of the model.
#[must_use]
pub fn all_minutes(knowledge: &Knowledge, model: &Model) -> Vec<f64> {
    let causes = model.causes().iter();
    causes.map(|cause| minutes(&knowledge.causes[*cause])).collect()
}

/// Expected cost of trying repairs in an order, with what remains handed over.
///
/// *Formula* ECR = sum over k of c_k (1 - sum of P over the repairs before k) + P(R) C_R.
///
/// *Arguments* `order`: places into `probabilities`; `probabilities`: of the causes, then of the remainder;
/// `costs`: of the repairs, in minutes, above 0; `hand_over`: cost of handing over, in minutes.
///
/// *Limits* one fault, repairs that fix their own cause surely, costs that do not depend on each other.
///
/// *Source* Decision-Theoretic Troubleshooting: A Framework for Repair and Experiment (1996), arXiv 1302.3563.
#[must_use]
pub fn expected_cost(order: &[usize], probabilities: &[f64], costs: &[f64], hand_over: f64) -> f64 {
    let mut left = 1.0;
    let mut total = 0.0;
    for place in order {
        total += costs[*place] * left;
        left -= probabilities[*place];
    }
    total + probabilities.last().copied().unwrap_or(0.0) * hand_over
}

/// The cheapest order of repairs: by probability over cost, largest first; ties in the order given.
///
/// *Source* The Cost of Troubleshooting Cost Clusters with Inside Information (p/c rule); see
/// [`expected_cost`].
#[must_use]
pub fn best_order(probabilities: &[f64], costs: &[f64]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..costs.len()).collect();
    order.sort_by(|a, b| {
        (probabilities[*b] / costs[*b])
            .total_cmp(&(probabilities[*a] / costs[*a]))
            .then(a.cmp(b))
    });
    order
}

/// Expected drop of the cost of repair by a test, before its own cost, in minutes; at least 0.
///
/// The one-step "observe, then repair" rule of the source named at [`expected_cost`].
#[must_use]
pub fn value(model: &Model, standing: &Standing, test: TestIndex, costs: &[f64], hand_over: f64) -> f64 {
    let least = |shares: &[f64]| expected_cost(&best_order(shares, costs), shares, costs, hand_over);
    let Some(chances) = gain::predicted(model, standing, test) else {
        return 0.0;
    };
    let after: f64 = chances
        .iter()
        .enumerate()
        .filter(|(_, chance)| **chance > 0.0)
        .map(|(outcome, chance)| {
            let outcome = OutcomeIndex(outcome);
            let after = standing.after(model, test, outcome).unwrap_or_else(|| {
                let with = standing.with(model, Answered::certain(test, outcome));
                with.probabilities().to_vec()
            });
            chance * least(&after)
        })
        .sum();
    (least(standing.probabilities()) - after).max(0.0)
}
