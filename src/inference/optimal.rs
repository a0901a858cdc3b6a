//! The best possible policy on small models, by dynamic programming.

use std::collections::HashMap;

use crate::knowledge::model::{OutcomeIndex, TestIndex};

use super::evidence::Likelihoods;
use super::{Answered, Model, Standing, gain, repair};

/// Largest number of states worked out: 3 to the 12th, twelve yes-or-no tests.
pub const MOST_STATES: usize = 531_441;

/// Least expected cost of finding and repairing, each test used at most once.
///
/// A state is the set of answers so far; its cost is the lesser of repairing at once and of the best test with
/// what follows. Returns nothing when the model has more than [`MOST_STATES`] states.
///
/// *Arguments* `tests`: with their costs, in the unit of `costs`.
#[must_use]
pub fn least_cost(model: &Model, tests: &[(TestIndex, f64)], costs: &[f64], hand_over: f64) -> Option<f64> {
    let states = tests.iter().try_fold(1_usize, |states, (test, _)| {
        states
            .checked_mul(1 + model.likelihoods(*test)?.usual().len())
            .filter(|states| *states <= MOST_STATES)
    });
    states?;
    let mut known = HashMap::new();
    Some(from(
        model,
        tests,
        costs,
        hand_over,
        &mut vec![None; tests.len()],
        &mut known,
    ))
}

/// The likeliest causes of a model and its most telling tests, as a model small enough to be solved.
///
/// What is left out of the causes goes to the remainder. `tests` are given with their costs.
#[must_use]
pub fn reduced(
    model: &Model,
    tests: &[(TestIndex, f64)],
    causes: usize,
    kept: usize,
) -> (Model, Vec<(TestIndex, f64)>, Vec<usize>) {
    let priors = model.priors();
    let mut places: Vec<usize> = (0..priors.len() - 1).collect();
    places.sort_by(|a, b| priors[*b].total_cmp(&priors[*a]).then(a.cmp(b)));
    places.truncate(causes);
    let start = Standing::new(model, &[]);
    let worth = |(test, cost): &(TestIndex, f64)| gain::information(model, &start, *test) / cost;
    let mut chosen: Vec<(TestIndex, f64)> = tests.to_vec();
    chosen.sort_by(|a, b| worth(b).total_cmp(&worth(a)).then(a.0.cmp(&b.0)));
    chosen.truncate(kept);
    let likelihoods: Vec<Likelihoods> = chosen
        .iter()
        .filter_map(|(test, _)| {
            let all = model.likelihoods(*test)?;
            let rows = places.iter().map(|place| all.row(*place).to_vec()).collect();
            Some(Likelihoods::from_rows(all.usual().to_vec(), rows))
        })
        .collect();
    let mut small: Vec<f64> = places.iter().map(|place| priors[*place]).collect();
    small.push(1.0 - small.iter().sum::<f64>());
    let numbered = chosen
        .iter()
        .enumerate()
        .map(|(number, (_, cost))| (TestIndex(number), *cost))
        .collect();
    (Model::from_tables(small, likelihoods), numbered, places)
}

fn from(
    model: &Model,
    tests: &[(TestIndex, f64)],
    costs: &[f64],
    hand_over: f64,
    answers: &mut Vec<Option<u8>>,
    known: &mut HashMap<Vec<Option<u8>>, f64>,
) -> f64 {
    if let Some(cost) = known.get(answers) {
        return *cost;
    }
    let standing = Standing::new(model, &findings(tests, answers));
    let probabilities = standing.probabilities();
    let order = repair::best_order(probabilities, costs);
    let mut least = repair::expected_cost(&order, probabilities, costs, hand_over);
    for (place, (test, own)) in tests.iter().enumerate() {
        let Some(likelihoods) = model.likelihoods(*test).filter(|_| answers[place].is_none()) else {
            continue;
        };
        let mut cost = *own;
        for (outcome, chance) in gain::predictive(likelihoods, probabilities)
            .into_iter()
            .enumerate()
        {
            if chance <= 0.0 || cost >= least {
                continue;
            }
            answers[place] = u8::try_from(outcome).ok();
            cost += chance * from(model, tests, costs, hand_over, answers, known);
            answers[place] = None;
        }
        least = least.min(cost);
    }
    known.insert(answers.clone(), least);
    least
}

fn findings(tests: &[(TestIndex, f64)], answers: &[Option<u8>]) -> Vec<Answered> {
    tests
        .iter()
        .zip(answers)
        .filter_map(|((test, _), answer)| {
            Some(Answered::certain(*test, OutcomeIndex(usize::from((*answer)?))))
        })
        .collect()
}

/// Expected cost of the one-step policy on the same terms: the test with the largest value above its cost, else the
/// cheapest repair; where one step sees nothing, the best pair of tests is tried.
#[must_use]
pub fn policy_cost(model: &Model, tests: &[(TestIndex, f64)], costs: &[f64], hand_over: f64) -> f64 {
    follow(model, tests, costs, hand_over, &mut vec![None; tests.len()])
}

fn follow(
    model: &Model,
    tests: &[(TestIndex, f64)],
    costs: &[f64],
    hand_over: f64,
    answers: &mut Vec<Option<u8>>,
) -> f64 {
    let findings = findings(tests, answers);
    let standing = Standing::new(model, &findings);
    let probabilities = standing.probabilities();
    let open: Vec<(usize, TestIndex, f64)> = tests
        .iter()
        .enumerate()
        .filter(|(place, _)| answers[*place].is_none())
        .map(|(place, (test, cost))| (place, *test, *cost))
        .collect();
    let chosen = choose(model, &standing, &open, costs, hand_over);
    let Some((place, test, own)) = chosen else {
        let order = repair::best_order(probabilities, costs);
        return repair::expected_cost(&order, probabilities, costs, hand_over);
    };
    let Some(likelihoods) = model.likelihoods(test) else {
        return own;
    };
    let mut cost = own;
    for (outcome, chance) in gain::predictive(likelihoods, probabilities)
        .into_iter()
        .enumerate()
    {
        if chance > 0.0 {
            answers[place] = u8::try_from(outcome).ok();
            cost += chance * follow(model, tests, costs, hand_over, answers);
            answers[place] = None;
        }
    }
    cost
}

/// The test worth making now: by one step, or by two where one sees nothing.
fn choose(
    model: &Model,
    standing: &Standing,
    open: &[(usize, TestIndex, f64)],
    costs: &[f64],
    hand_over: f64,
) -> Option<(usize, TestIndex, f64)> {
    let worth = |test: TestIndex, own: f64| repair::value(model, standing, test, costs, hand_over) - own;
    let best = open
        .iter()
        .map(|(place, test, own)| (worth(*test, *own), (*place, *test, *own)))
        .max_by(|a, b| a.0.total_cmp(&b.0))?;
    if best.0 > 0.0 {
        return Some(best.1);
    }
    // Two tests can pay together where neither does alone.
    open.iter()
        .map(|(place, test, own)| {
            (
                two_steps(model, standing, (*test, *own), open, costs, hand_over),
                (*place, *test, *own),
            )
        })
        .filter(|(value, _)| *value > 1e-9)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, chosen)| chosen)
}

/// Value of a test when the best further test may follow each of its answers, less both costs.
fn two_steps(
    model: &Model,
    standing: &Standing,
    (first, own): (TestIndex, f64),
    open: &[(usize, TestIndex, f64)],
    costs: &[f64],
    hand_over: f64,
) -> f64 {
    let Some(likelihoods) = model.likelihoods(first) else {
        return f64::NEG_INFINITY;
    };
    let chances = gain::predictive(likelihoods, standing.probabilities());
    let alone = repair::value(model, standing, first, costs, hand_over) - own;
    let further: f64 = chances
        .iter()
        .enumerate()
        .filter(|(_, chance)| **chance > 0.0)
        .map(|(outcome, chance)| {
            let with = standing.with(model, Answered::certain(first, OutcomeIndex(outcome)));
            let best = open
                .iter()
                .filter(|(_, test, _)| *test != first)
                .map(|(_, test, cost)| repair::value(model, &with, *test, costs, hand_over) - cost)
                .fold(0.0, f64::max);
            chance * best
        })
        .sum();
    alone + further
}
