//! The way of choosing tests against the best possible one on small models, and calibration on drawn cases.

use lineside::inference::evidence::Likelihoods;
use lineside::inference::gain::{information, pair_information};
use lineside::inference::score::{Policy, TestCost, draw, expand, sum_up};
use lineside::inference::{Answered, Model, Standing, optimal};
use lineside::knowledge::model::{OutcomeIndex, State, TestIndex};
use lineside::knowledge::{self, order};
use lineside::walk;

/// A repeatable model: causes and a remainder, yes-or-no and three-way tests, costs of tests and repairs.
struct Small {
    model: Model,
    tests: Vec<(TestIndex, f64)>,
    repairs: Vec<f64>,
}

fn small(seed: u64) -> Small {
    let mut rng = fastrand::Rng::with_seed(seed);
    let causes = rng.usize(3..6);
    let tests = rng.usize(3..6);
    let shares = |n: usize, rng: &mut fastrand::Rng| {
        let weights: Vec<f64> = (0..n).map(|_| 0.03 + rng.f64()).collect();
        let total: f64 = weights.iter().sum();
        weights.iter().map(|weight| weight / total).collect::<Vec<f64>>()
    };
    let priors = shares(causes + 1, &mut rng);
    let likelihoods = (0..tests)
        .map(|_| {
            let outcomes = rng.usize(2..4);
            let usual = shares(outcomes, &mut rng);
            let rows = (0..causes)
                .map(|_| {
                    // Mostly one outcome, as a sign makes it.
                    let likely = rng.usize(0..outcomes);
                    let mut row = shares(outcomes, &mut rng);
                    row[likely] += 4.0 * rng.f64();
                    let total: f64 = row.iter().sum();
                    row.iter().map(|share| share / total).collect()
                })
                .collect();
            Likelihoods::from_rows(usual, rows)
        })
        .collect();
    Small {
        model: Model::from_tables(priors, likelihoods),
        tests: (0..tests)
            .map(|test| (TestIndex(test), 2.0 + 18.0 * rng.f64()))
            .collect(),
        repairs: (0..causes).map(|_| 15.0 + 120.0 * rng.f64()).collect(),
    }
}

#[test]
fn on_small_models_the_policy_is_within_15_percent_of_the_optimum() {
    let mut ratios = Vec::new();
    for seed in 0..60 {
        let small = small(seed);
        let best =
            optimal::least_cost(&small.model, &small.tests, &small.repairs, 180.0).expect("it is small");
        let policy = optimal::policy_cost(&small.model, &small.tests, &small.repairs, 180.0);
        assert!(
            policy >= best - 1e-9,
            "seed {seed}: {policy} below the optimum {best}"
        );
        ratios.push(policy / best);
    }
    let worst = ratios.iter().copied().fold(0.0, f64::max);
    let mean = ratios.iter().sum::<f64>() / ratios.len() as f64;
    assert!(worst <= 1.15, "worst {worst}, mean {mean}");
}

#[test]
fn two_steps_see_what_one_step_does_not() {
    // Two fair coins: the cause is whether they agree. Neither coin tells anything alone.
    let halves = vec![0.5, 0.5];
    let rows = |agree: [f64; 2], differ: [f64; 2]| {
        vec![agree.to_vec(), differ.to_vec(), agree.to_vec(), differ.to_vec()]
    };
    // Causes 0 and 1 are "agree" (both heads, both tails), 2 and 3 "differ"; the repair groups are the pairs.
    let first = Likelihoods::from_rows(halves.clone(), rows([0.99, 0.01], [0.01, 0.99]));
    let second = Likelihoods::from_rows(
        halves,
        vec![
            vec![0.99, 0.01],
            vec![0.01, 0.99],
            vec![0.01, 0.99],
            vec![0.99, 0.01],
        ],
    );
    let model = Model::from_tables(vec![0.25, 0.25, 0.25, 0.25, 0.0], vec![first, second]);
    let standing = Standing::new(&model, &[]);
    let one = information(&model, &standing, TestIndex(0));
    let both = pair_information(&model, &standing, &[], TestIndex(0), TestIndex(1));
    // The chain rule: what the second adds after the first, averaged over the first's answers.
    let mut expected = one;
    for outcome in 0..2 {
        let with = [Answered::certain(TestIndex(0), OutcomeIndex(outcome))];
        expected += 0.5 * information(&model, &Standing::new(&model, &with), TestIndex(1));
    }
    assert!((both - expected).abs() < 1e-12, "{both} {expected}");
    assert!(both > one);
}

#[test]
fn an_exact_score_is_what_drawing_comes_to() {
    let small = small(3);
    let tests: Vec<TestCost> = small
        .tests
        .iter()
        .map(|(test, minutes)| TestCost {
            test: *test,
            minutes: *minutes,
            charge: 0.0,
            state: State::Any,
            first: false,
        })
        .collect();
    let exact = expand(&small.model, &tests, Policy::Gain, 10_000).expect("it is small");
    let total: f64 = exact.iter().map(|case| case.weight).sum();
    assert!((total - 1.0).abs() < 1e-6, "{total}");
    let (exact, drawn) = (
        sum_up(&exact),
        sum_up(&draw(&small.model, &tests, Policy::Gain, 40_000, 5, &mut |_| {
            true
        })),
    );
    // 40,000 cases: three standard errors of a share are below 0.0075.
    for (exact, drawn) in [
        (exact.first, drawn.first),
        (exact.first_three, drawn.first_three),
        (exact.brier, drawn.brier),
        (exact.tests / 10.0, drawn.tests / 10.0),
    ] {
        assert!((exact - drawn).abs() < 0.01, "{exact} {drawn}");
    }
    // Worked out exactly, what is said is right but for rounding, bin by bin.
    assert!(exact.calibration_error < 1e-9, "{}", exact.calibration_error);
    assert!(expand(&small.model, &tests, Policy::Gain, 1).is_none());
}

#[test]
fn what_is_said_is_what_is_right_on_drawn_cases() {
    let knowledge = knowledge::embedded().expect("the knowledge compiled in is sound");
    let mut all = Vec::new();
    for (complaint, kind) in [
        ("breaker-opens", "split-air-conditioner"),
        ("breaker-opens", "electric-air-handler"),
        ("equipment-resets", "gas-furnace"),
        ("part-burnt", "heat-pump"),
    ] {
        let (tree, equipment) = (
            knowledge.tree(complaint).expect("known"),
            knowledge.equipment(kind).expect("known"),
        );
        let model = Model::new(&knowledge, tree, &knowledge.equipment[equipment]);
        let tests = walk::test_costs(&knowledge, equipment, &order::authored(&knowledge, tree));
        all.extend(draw(&model, &tests, Policy::Gain, 150, 7, &mut |_| true));
    }
    let score = sum_up(&all);
    for bin in score.reliability.iter().filter(|bin| bin.cases >= 100) {
        assert!((bin.said - bin.right).abs() <= 0.05, "{bin:?}");
    }
    assert!(score.reliability.iter().any(|bin| bin.cases >= 100));
}
