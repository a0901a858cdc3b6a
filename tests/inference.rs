//! The arithmetic of the standing and of the gain against published worked examples, and its invariants.

use lineside::inference::evidence::Likelihoods;
use lineside::inference::gain::information;
use lineside::inference::shares::entropy;
use lineside::inference::{Answered, Model, Standing};
use lineside::knowledge::model::{OutcomeIndex, TestIndex};
use proptest::prelude::*;

fn finding(test: usize, outcome: usize) -> Answered {
    Answered::certain(TestIndex(test), OutcomeIndex(outcome))
}

/// Two causes and an impossible remainder; each test lists P(answer | yes), P(answer | no) by answer.
fn two_class(prior_yes: f64, tests: &[&[[f64; 2]]]) -> Model {
    let likelihoods = tests
        .iter()
        .map(|answers| {
            let row = |class: usize| answers.iter().map(|answer| answer[class]).collect::<Vec<f64>>();
            let even = vec![1.0 / answers.len() as f64; answers.len()];
            Likelihoods::from_rows(even, vec![row(0), row(1)])
        })
        .collect();
    Model::from_tables(vec![prior_yes, 1.0 - prior_yes, 0.0], likelihoods)
}

/// Source: "Course forum: naive Bayes weather example",
/// <https://groups.google.com/g/wekamooc-general/c/p7XbSZMR2TI>: P(yes | four findings) = 0.205, P(no) = 0.795.
#[test]
fn four_independent_findings_as_published() {
    let pair = |yes: f64, no: f64| [[yes, no], [1.0 - yes, 1.0 - no]];
    let tests = [
        pair(2.0 / 9.0, 0.6),
        pair(1.0 / 3.0, 0.2),
        pair(1.0 / 3.0, 0.8),
        pair(1.0 / 3.0, 0.6),
    ];
    let tests: Vec<&[[f64; 2]]> = tests.iter().map(|test| test.as_slice()).collect();
    let model = two_class(9.0 / 14.0, &tests);
    let findings: Vec<Answered> = (0..4).map(|test| finding(test, 0)).collect();
    let standing = Standing::new(&model, &findings);
    assert!(
        (standing.probabilities()[0] - 0.205).abs() < 0.0005,
        "{standing:?}"
    );
    assert!(
        (standing.probabilities()[1] - 0.795).abs() < 0.0005,
        "{standing:?}"
    );
}

/// Source: "Q&A: Bayesian updating, object in one of three boxes", <https://math.techqa.club/bayesian-updating-4558597>:
/// after a look at box 3 that finds a thing there 7 times in 10 and found nothing: 4/13, 6/13, 3/13.
#[test]
fn a_search_that_may_overlook_as_published() {
    let rows = vec![vec![1.0, 0.0], vec![1.0, 0.0], vec![0.3, 0.7]];
    let model = Model::from_tables(
        vec![0.2, 0.3, 0.5, 0.0],
        vec![Likelihoods::from_rows(vec![0.5, 0.5], rows)],
    );
    let standing = Standing::new(&model, &[finding(0, 0)]);
    for (got, published) in
        standing
            .probabilities()
            .iter()
            .zip([0.307_692_307_7, 0.461_538_461_5, 0.230_769_230_8])
    {
        assert!((got - published).abs() < 1e-9, "{standing:?}");
    }
}

/// Source: "Decision tree builder page", <https://skoservice-algovisualize.pages.dev/ml/decision-tree/>: prior
/// entropy 0.940 bit; gains 0.2467, 0.1518, 0.0481 and 0.0292 bit.
#[test]
fn information_of_four_tests_as_published() {
    let outlook = [[2.0 / 9.0, 0.6], [4.0 / 9.0, 0.0], [3.0 / 9.0, 0.4]];
    let humidity = [[1.0 / 3.0, 0.8], [2.0 / 3.0, 0.2]];
    let wind = [[2.0 / 3.0, 0.4], [1.0 / 3.0, 0.6]];
    let temperature = [[2.0 / 9.0, 0.4], [4.0 / 9.0, 0.4], [3.0 / 9.0, 0.2]];
    let model = two_class(9.0 / 14.0, &[&outlook, &humidity, &wind, &temperature]);
    let standing = Standing::new(&model, &[]);
    assert!((entropy(standing.probabilities()) - 0.940).abs() < 0.0005);
    for (test, published) in [0.2467, 0.1518, 0.0481, 0.0292].into_iter().enumerate() {
        let got = information(&model, &standing, TestIndex(test));
        assert!((got - published).abs() < 0.000_06, "test {test}: {got}");
    }
}

/// A random model: 2 to 8 causes and a remainder, 1 to 6 tests of 2 to 4 outcomes, all shares above 0.
fn any_model() -> impl Strategy<Value = (Model, Vec<usize>)> {
    let shares = |n: usize| {
        proptest::collection::vec(0.01f64..1.0, n).prop_map(|weights| {
            let total: f64 = weights.iter().sum();
            weights.iter().map(|weight| weight / total).collect::<Vec<f64>>()
        })
    };
    (2usize..8, proptest::collection::vec(2usize..5, 1..7)).prop_flat_map(move |(causes, outcomes)| {
        let tests: Vec<_> = outcomes
            .iter()
            .map(|&n| {
                (shares(n), proptest::collection::vec(shares(n), causes))
                    .prop_map(|(usual, rows)| Likelihoods::from_rows(usual, rows))
            })
            .collect();
        (shares(causes + 1), tests)
            .prop_map(move |(priors, tests)| (Model::from_tables(priors, tests), outcomes.clone()))
    })
}

/// A random model with one answer to each of its tests.
fn answered_model() -> impl Strategy<Value = (Model, Vec<Answered>)> {
    any_model().prop_flat_map(|(model, outcomes)| {
        let answers: Vec<_> = outcomes.iter().map(|&n| 0..n).collect();
        answers.prop_map(move |answers| {
            let findings = answers
                .iter()
                .enumerate()
                .map(|(test, &outcome)| finding(test, outcome))
                .collect();
            (model.clone(), findings)
        })
    })
}

/// The slow and obvious way: multiply everything out for every cause, then divide by the sum.
fn by_enumeration(model: &Model, findings: &[Answered]) -> Vec<f64> {
    let causes = model.priors().len() - 1;
    let mut joint: Vec<f64> = model.priors().to_vec();
    for finding in findings {
        let likelihoods = model
            .likelihoods(finding.test)
            .expect("every test of the model applies");
        for (cause, share) in joint.iter_mut().enumerate() {
            *share *= if cause < causes {
                likelihoods.given(cause, finding.outcome)
            } else {
                likelihoods.usual()[finding.outcome.place()]
            };
        }
    }
    let total: f64 = joint.iter().sum();
    joint.iter().map(|share| share / total).collect()
}

proptest! {
    #[test]
    fn standing_is_full_enumeration_and_sums_to_one((model, findings) in answered_model()) {
        let standing = Standing::new(&model, &findings);
        let slow = by_enumeration(&model, &findings);
        for (fast, slow) in standing.probabilities().iter().zip(&slow) {
            prop_assert!((fast - slow).abs() < 1e-12);
        }
        prop_assert!((standing.probabilities().iter().sum::<f64>() - 1.0).abs() < 1e-12);
    }

    #[test]
    fn the_order_of_answers_does_not_matter(
        (model, findings, shuffled) in answered_model().prop_flat_map(|(model, findings)| {
            (Just(model), Just(findings.clone()), Just(findings).prop_shuffle())
        })
    ) {
        let (a, b) = (Standing::new(&model, &findings), Standing::new(&model, &shuffled));
        for (a, b) in a.probabilities().iter().zip(b.probabilities()) {
            prop_assert!((a - b).abs() < 1e-12);
        }
    }

    #[test]
    fn what_is_expected_after_a_test_is_what_stands_before((model, findings) in answered_model()) {
        let (before, asked) = findings.split_at(findings.len() - 1);
        let standing = Standing::new(&model, before);
        let test = asked[0].test;
        let likelihoods = model.likelihoods(test).expect("every test of the model applies");
        let mut expected = vec![0.0; standing.probabilities().len()];
        let mut entropy_after = 0.0;
        for outcome in 0..likelihoods.usual().len() {
            let chance: f64 = standing.probabilities().iter().enumerate().map(|(cause, p)| {
                let share = if cause + 1 < standing.probabilities().len() {
                    likelihoods.given(cause, OutcomeIndex(outcome))
                } else {
                    likelihoods.usual()[outcome]
                };
                p * share
            }).sum();
            let mut findings = before.to_vec();
            findings.push(finding(test.0, outcome));
            let after = Standing::new(&model, &findings);
            entropy_after += chance * entropy(after.probabilities());
            for (sum, p) in expected.iter_mut().zip(after.probabilities()) {
                *sum += chance * p;
            }
        }
        for (expected, p) in expected.iter().zip(standing.probabilities()) {
            prop_assert!((expected - p).abs() < 1e-10);
        }
        // The gain is the expected drop of entropy, worked out the long way.
        let gain = information(&model, &standing, test);
        prop_assert!((gain - (entropy(standing.probabilities()) - entropy_after)).abs() < 1e-9);
    }

    #[test]
    fn an_answer_that_says_nothing_moves_nothing((model, findings) in answered_model(), shares in 0.1f64..0.9) {
        let causes = model.priors().len() - 1;
        let mut tests: Vec<Likelihoods> = (0..findings.len())
            .map(|test| model.likelihoods(TestIndex(test)).expect("applies").clone())
            .collect();
        let flat = vec![shares, 1.0 - shares];
        tests.push(Likelihoods::from_rows(flat.clone(), vec![flat; causes]));
        let wider = Model::from_tables(model.priors().to_vec(), tests);
        let mut with = findings.clone();
        with.push(finding(findings.len(), 1));
        let (a, b) = (Standing::new(&wider, &findings), Standing::new(&wider, &with));
        for (a, b) in a.probabilities().iter().zip(b.probabilities()) {
            prop_assert!((a - b).abs() < 1e-12);
        }
    }
}
