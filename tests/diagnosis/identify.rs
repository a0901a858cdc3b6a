//! Finding one of several states with certain tests: what the program's own choice costs, beside the best tree and what none can
//! beat, both slow and plain, for the published examples.

use lineside::inference::gain::{information, predictive};
use lineside::inference::{Answered, Model, Standing};
use lineside::knowledge::model::{OutcomeIndex, TestIndex};

/// States that can be worked out exactly: the subsets of more would not fit.
const MOST_STATES: usize = 16;

/// Least expected cost of telling the states apart, by dynamic programming over the sets of states left.
///
/// *Formula* J(S) = 0 for one state, else the least over tests that split S of P(S) k(t) + J(S yes) + J(S no).
///
/// *Arguments* `probabilities` of the states; `answers[state][test]`; `costs` by test.
///
/// *Returns* nothing when there are more than [`MOST_STATES`] states or some cannot be told apart.
///
/// *Source* Optimal Binary Identification Procedures (1972), which gives the dynamic program; Test Sequencing Problems
/// Arising in Test Planning and Design for Testability (1999).
pub(super) fn least_cost(probabilities: &[f64], answers: &[Vec<bool>], costs: &[f64]) -> Option<f64> {
    let states = probabilities.len();
    if states > MOST_STATES {
        return None;
    }
    let mut least: Vec<Option<f64>> = vec![None; 1 << states];
    for set in 1_usize..1 << states {
        if set.count_ones() == 1 {
            least[set] = Some(0.0);
            continue;
        }
        let weight: f64 = members(set, states).map(|state| probabilities[state]).sum();
        // Subsets have smaller numbers than the sets they are in, so both halves are known already.
        least[set] = (0..costs.len())
            .filter_map(|test| {
                let yes = split(set, states, answers, test);
                let no = set & !yes;
                (yes != 0 && no != 0).then_some(weight * costs[test] + least[yes]? + least[no]?)
            })
            .min_by(f64::total_cmp);
    }
    least[(1 << states) - 1]
}

/// Expected cost of always making the test that tells most by the program's own measure, for its cost.
///
/// *Arguments* a model whose tests are answered yes or no for certain, what is answered already, `costs` by test.
pub(super) fn greedy_cost(model: &Model, answered: &[Answered], costs: &[f64]) -> f64 {
    let standing = Standing::new(model, answered);
    // Nearer than rounding to 1, one state is left; gains as near as that are the same, and the first test is made.
    const ROUNDING: f64 = 1e-9;
    if standing.lead() > 1.0 - ROUNDING {
        return 0.0;
    }
    let rate = |test: usize| information(model, &standing, TestIndex(test)) / costs[test];
    let best = (1..costs.len()).fold(0, |best, test| {
        if rate(test) > rate(best) + ROUNDING {
            test
        } else {
            best
        }
    });
    let table = model.likelihoods(TestIndex(best)).expect("every test applies");
    let rest: f64 = predictive(table, standing.probabilities())
        .iter()
        .enumerate()
        .filter(|(_, chance)| **chance > 0.0)
        .map(|(outcome, chance)| {
            let answer = Answered::certain(TestIndex(best), OutcomeIndex(outcome));
            chance * greedy_cost(model, &[answered, &[answer]].concat(), costs)
        })
        .sum();
    costs[best] + rest
}

fn members(set: usize, states: usize) -> impl Iterator<Item = usize> {
    (0..states).filter(move |state| set & (1 << state) != 0)
}

fn split(set: usize, states: usize, answers: &[Vec<bool>], test: usize) -> usize {
    members(set, states)
        .filter(|state| answers[*state][test])
        .map(|state| 1 << state)
        .sum()
}

/// Least expected number of tests with `answers` outcomes each that identify one of the causes surely: the cost of
/// the Huffman code of their probabilities.
///
/// *Arguments* `probabilities`: above 0, sum 1; `answers`: at least 2.
///
/// *Source* Twenty Questions Games Always End With Yes,
/// <https://koineu.com/en/posts/2010/03/2010-03-01-94610-twenty_questions_games_always_end_with_yes>.
pub(super) fn huffman(probabilities: &[f64], answers: usize) -> f64 {
    let answers = answers.max(2);
    let mut weights: Vec<f64> = probabilities
        .iter()
        .copied()
        .filter(|weight| *weight > 0.0)
        .collect();
    // With more than two answers the code is filled up so that every step joins as many as there are answers.
    while weights.len() > 1 && !(weights.len() - 1).is_multiple_of(answers - 1) {
        weights.push(0.0);
    }
    let mut cost = 0.0;
    while weights.len() > 1 {
        weights.sort_by(|a, b| b.total_cmp(a));
        let joined: f64 = weights.split_off(weights.len() - answers).iter().sum();
        cost += joined;
        weights.push(joined);
    }
    cost
}
