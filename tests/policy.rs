//! The way of choosing tests against the best possible one on small models, calibration on sampled cases, and that the
//! score measures the way the walk asks.

use std::path::Path;

use lineside::inference::evidence::Likelihoods;
use lineside::inference::gain::{information, pair_information};
use lineside::inference::price::Priced;
use lineside::inference::score::{Policy, Subject, expand, next, sample, sum_up};
use lineside::inference::{Answered, Model, Standing, optimal};
use lineside::knowledge::model::{Knowledge, OutcomeIndex, State, TestIndex};
use lineside::knowledge::{self, load};
use lineside::walk::{Question, Reply, Walk};

use crate::support::bad_trees::{CATALOG, laid_over};

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
    let both = pair_information(&model, &standing, TestIndex(0), TestIndex(1));
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
fn an_exact_score_is_what_sampling_comes_to() {
    let small = small(3);
    let tests = small
        .tests
        .iter()
        .map(|(test, minutes)| Priced {
            test: *test,
            minutes: *minutes,
            charge: 0.0,
            questions: 1,
            state: State::Any,
        })
        .collect();
    let subject = Subject {
        model: small.model,
        tests,
        first: None,
        repairs: small.repairs,
    };
    let exact = expand(&subject, Policy::Gain, 10_000).expect("it is small");
    let total: f64 = exact.iter().map(|case| case.weight).sum();
    assert!((total - 1.0).abs() < 1e-6, "{total}");
    let (exact, sampled) = (
        sum_up(&exact),
        sum_up(&sample(&subject, Policy::Gain, 40_000, 5, &mut |_| true)),
    );
    // 40,000 cases: three standard errors of a share are below 0.0075.
    for (exact, sampled) in [
        (exact.first, sampled.first),
        (exact.first_three, sampled.first_three),
        (exact.brier, sampled.brier),
        (exact.tests / 10.0, sampled.tests / 10.0),
    ] {
        assert!((exact - sampled).abs() < 0.01, "{exact} {sampled}");
    }
    // Worked out exactly, what is said is right but for rounding, bin by bin.
    assert!(exact.calibration_error < 1e-9, "{}", exact.calibration_error);
    assert!(expand(&subject, Policy::Gain, 1).is_none());
}

#[test]
fn what_is_said_is_what_is_right_on_sampled_cases() {
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
        let subject = Subject::new(&knowledge, tree, &knowledge.equipment[equipment]);
        all.extend(sample(&subject, Policy::Gain, 150, 7, &mut |_| true));
    }
    let score = sum_up(&all);
    // Cases are sampled by what each outcome is under a cause, made to add up to 1; the evidence is not
    // (`RARER_OTHERWISE`). So the leader is overrated: from 0.8 on by 6.4 points of 474 cases in the way the walk asks,
    // and by 5 in the one-step choice that was measured here before.
    for bin in score.reliability.iter().filter(|bin| bin.cases >= 100) {
        assert!((bin.said - bin.right).abs() <= 0.07, "{bin:?}");
    }
    assert!(score.reliability.iter().any(|bin| bin.cases >= 100));
}

/// A complaint with three causes and looks of different cost, state and hazard.
fn narrowing_only() -> Knowledge {
    let folder = laid_over(&Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/policy"));
    load(Some(folder.path()), CATALOG).expect("the knowledge of this test is sound")
}

/// Walks every way on from here, and holds each choice of the walk against that of the score; counts them.
fn compare(walk: &Walk<'_>, subject: &Subject, compared: &mut usize) {
    let knowledge = walk.knowledge();
    let reply = |text: &str| Reply::Answer(text.to_owned());
    let on = |reply: &Reply, compared: &mut usize| {
        let mut further = walk.clone();
        let taken = further.receive(reply).expect("it is taken");
        further.apply(&taken.event).expect("a known id");
        compare(&further, subject, compared);
    };
    let scored = || next(subject, Policy::Gain, walk.findings(), walk.state()).map(|priced| priced.test);
    match walk.question() {
        Question::Complaint => on(&reply("weak-heat"), compared),
        Question::Equipment => on(&reply("heater"), compared),
        Question::Caution { .. } => on(&Reply::Accept, compared),
        Question::Test { test, .. } => {
            assert_eq!(scored(), Some(*test), "after {:?}", walk.entries());
            *compared += 1;
            for outcome in &knowledge.tests[*test].outcomes {
                on(&reply(&outcome.id), compared);
            }
        }
        Question::Finish => {
            assert_eq!(scored(), None, "after {:?}", walk.entries());
            *compared += 1;
        }
        // The danger found ends the walk, not the choosing.
        Question::Halt { .. } => {}
        other => panic!("nothing else is asked here: {other:?}"),
    }
}

#[test]
fn the_score_asks_what_the_walk_asks() {
    let knowledge = narrowing_only();
    let heater = knowledge.equipment("heater").expect("known");
    let complaint = knowledge.tree("weak-heat").expect("known");
    let subject = Subject::new(&knowledge, complaint, &knowledge.equipment[heater]);
    let mut compared = 0;
    compare(&Walk::new(&knowledge), &subject, &mut compared);
    assert!(compared > 20, "only {compared} choices were compared");
}
