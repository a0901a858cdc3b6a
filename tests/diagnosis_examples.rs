//! Every worked example of `tests/diagnosis/examples.toml`, most of them published, worked out by this program. The
//! source stands beside each example in that file.

#![expect(
    clippy::unwrap_used,
    reason = "a test may stop where its data is not as written"
)]

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use lineside::inference::evidence::Likelihoods;
use lineside::inference::gain::{information, predictive};
use lineside::inference::score::{Bin, calibration_error};
use lineside::inference::shares::entropy;
use lineside::inference::{Answered, Model, Standing, conflict, learn, meter, repair};
use lineside::knowledge::model::{OutcomeIndex, TestIndex};
use serde::Deserialize;

#[path = "diagnosis/identify.rs"]
mod identify;

#[derive(Deserialize)]
struct File {
    example: Vec<Example>,
    constructed: Vec<Example>,
}

#[derive(Deserialize)]
struct Example {
    id: String,
    inputs: toml::Table,
    check: Vec<Check>,
}

#[derive(Deserialize)]
struct Check {
    name: String,
    computed: f64,
    tol: f64,
    published: Option<f64>,
    agrees: Option<bool>,
}

/// Numbers of an input, however deep they are nested.
fn numbers(value: &toml::Value) -> Vec<f64> {
    match value {
        toml::Value::Float(number) => vec![*number],
        toml::Value::Integer(number) => vec![*number as f64],
        toml::Value::Array(items) => items.iter().flat_map(numbers).collect(),
        toml::Value::Table(table) => table.values().flat_map(numbers).collect(),
        _ => Vec::new(),
    }
}

struct Inputs<'a>(&'a toml::Table);

impl Inputs<'_> {
    fn get(&self, path: &str) -> &toml::Value {
        let mut parts = path.split('.');
        let first = self
            .0
            .get(parts.next().unwrap())
            .unwrap_or_else(|| panic!("no input {path}"));
        parts.fold(first, |value, part| {
            value.get(part).unwrap_or_else(|| panic!("no input {path}"))
        })
    }

    fn list(&self, path: &str) -> Vec<f64> {
        numbers(self.get(path))
    }

    fn one(&self, path: &str) -> f64 {
        self.list(path)[0]
    }

    fn rows(&self, path: &str) -> Vec<Vec<f64>> {
        self.get(path).as_array().unwrap().iter().map(numbers).collect()
    }
}

/// A model without a remainder. Each test is given as one row per cause, over its outcomes.
fn model(priors: &[f64], tests: Vec<Vec<Vec<f64>>>) -> Model {
    let likelihoods = tests
        .into_iter()
        .map(|rows| Likelihoods::from_rows(vec![1.0 / rows[0].len() as f64; rows[0].len()], rows))
        .collect();
    Model::from_tables([priors, &[0.0]].concat(), likelihoods)
}

/// One yes-or-no finding per list of P(yes | cause).
fn yes_or_no(priors: &[f64], yes: &[Vec<f64>]) -> Model {
    model(
        priors,
        yes.iter()
            .map(|of| of.iter().map(|p| vec![*p, 1.0 - p]).collect())
            .collect(),
    )
}

fn turned(rows: &[Vec<f64>]) -> Vec<Vec<f64>> {
    (0..rows[0].len())
        .map(|column| rows.iter().map(|row| row[column]).collect())
        .collect()
}

fn certain(test: usize, outcome: usize) -> Answered {
    Answered::certain(TestIndex(test), OutcomeIndex(outcome))
}

fn all_yes(count: usize) -> Vec<Answered> {
    (0..count).map(|test| certain(test, 0)).collect()
}

fn posterior(model: &Model, findings: &[Answered]) -> Vec<f64> {
    Standing::new(model, findings).probabilities().to_vec()
}

fn chances(model: &Model, findings: &[Answered], test: usize) -> Vec<f64> {
    predictive(
        model.likelihoods(TestIndex(test)).unwrap(),
        &posterior(model, findings),
    )
}

type Values = BTreeMap<String, f64>;

/// Largest distance between what was said and what was right in any bin.
fn largest_calibration_error(bins: &[Bin]) -> f64 {
    bins.iter()
        .map(|bin| (bin.said - bin.right).abs())
        .fold(0.0, f64::max)
}

/// Hidden states of a network as causes of a model: every assignment with its joint probability, and what it says
/// of each finding.
struct States {
    priors: Vec<f64>,
    of: Vec<Vec<bool>>,
}

impl States {
    fn of(variables: usize, joint: impl Fn(&[bool]) -> f64) -> Self {
        let of: Vec<Vec<bool>> = (0..1_usize << variables)
            .map(|set| (0..variables).map(|place| set >> place & 1 == 1).collect())
            .collect();
        Self {
            priors: of.iter().map(|state| joint(state)).collect(),
            of,
        }
    }

    fn chance(&self, probabilities: &[f64], holds: impl Fn(&[bool]) -> bool) -> f64 {
        self.of
            .iter()
            .zip(probabilities)
            .filter(|(state, _)| holds(state))
            .map(|(_, p)| p)
            .sum()
    }
}

fn pick(p: f64, holds: bool) -> f64 {
    if holds { p } else { 1.0 - p }
}

/// A finding of certain state has likelihood 1 or 0; a double-precision zero is kept away from the logarithm.
fn sure(holds: bool) -> f64 {
    if holds { 1.0 - 1e-15 } else { 1e-15 }
}

fn alarm(inputs: &Inputs<'_>) -> Values {
    let alarm = |intruder: bool, tremor: bool| match (intruder, tremor) {
        (true, true) => inputs.one("p_alarm.intruder_tremor"),
        (true, false) => inputs.one("p_alarm.intruder_only"),
        (false, true) => inputs.one("p_alarm.tremor_only"),
        (false, false) => inputs.one("p_alarm.neither"),
    };
    let states = States::of(3, |s| {
        pick(inputs.one("p_intruder"), s[0])
            * pick(inputs.one("p_tremor"), s[1])
            * pick(alarm(s[0], s[1]), s[2])
    });
    let caller = |name: &str| -> Vec<f64> {
        let of =
            |state: &Vec<bool>| inputs.one(&format!("{name}.{}", if state[2] { "alarm" } else { "quiet" }));
        states.of.iter().map(of).collect()
    };
    let seen = |place: usize| {
        states
            .of
            .iter()
            .map(|state| sure(state[place]))
            .collect::<Vec<f64>>()
    };
    let model = yes_or_no(
        &states.priors,
        &[
            caller("p_caller1"),
            caller("p_caller2"),
            seen(2),
            seen(1),
            seen(0),
        ],
    );
    let intruder = |findings: &[Answered]| states.chance(&posterior(&model, findings), |state| state[0]);
    [
        (
            "P(intruder | both callers)",
            intruder(&[certain(0, 0), certain(1, 0)]),
        ),
        ("P(intruder | alarm)", intruder(&[certain(2, 0)])),
        (
            "P(intruder | alarm, tremor)",
            intruder(&[certain(2, 0), certain(3, 0)]),
        ),
        ("P(caller1 | intruder)", chances(&model, &[certain(4, 0)], 0)[0]),
        ("P(caller2 | intruder)", chances(&model, &[certain(4, 0)], 1)[0]),
    ]
    .map(|(name, value)| (name.to_owned(), value))
    .into()
}

/// Variables: travel, smoke, t, l, b; either = t or l.
fn chest(inputs: &Inputs<'_>) -> Values {
    let one = |path: &str| inputs.one(path);
    let states = States::of(5, |s| {
        pick(one("p_travel"), s[0])
            * pick(one("p_smoke"), s[1])
            * pick(one(if s[0] { "p_t.travel" } else { "p_t.no" }), s[2])
            * pick(one(if s[1] { "p_l.smoke" } else { "p_l.no" }), s[3])
            * pick(one(if s[1] { "p_b.smoke" } else { "p_b.no" }), s[4])
    });
    let either = |s: &[bool]| s[2] || s[3];
    let x: Vec<f64> = states
        .of
        .iter()
        .map(|s| one(if either(s) { "p_x.either" } else { "p_x.not" }))
        .collect();
    let d: Vec<f64> = states
        .of
        .iter()
        .map(|s| {
            one(match (either(s), s[4]) {
                (true, true) => "p_d.either_b",
                (true, false) => "p_d.either_only",
                (false, true) => "p_d.b_only",
                (false, false) => "p_d.none",
            })
        })
        .collect();
    let seen = |place: usize| states.of.iter().map(|s| sure(s[place])).collect::<Vec<f64>>();
    let model = yes_or_no(&states.priors, &[seen(0), d, x, seen(1), seen(3)]);
    let (travel, dyspnoea, x_ray, no_x_ray) = (certain(0, 0), certain(1, 0), certain(2, 0), certain(2, 1));
    let (no_smoke, l) = (certain(3, 1), certain(4, 0));
    let chance = |findings: &[Answered], holds: &dyn Fn(&[bool]) -> bool| {
        states.chance(&posterior(&model, findings), holds)
    };
    let base = [travel.clone(), dyspnoea.clone()];
    [
        ("P(smoke | travel, d)", chance(&base, &|s| s[1])),
        ("P(t | travel, d)", chance(&base, &|s| s[2])),
        ("P(l | travel, d)", chance(&base, &|s| s[3])),
        ("P(b | travel, d)", chance(&base, &|s| s[4])),
        ("P(either | travel, d)", chance(&base, &either)),
        ("P(x | travel, d)", chances(&model, &base, 2)[0]),
        ("P(t) prior", chance(&[], &|s| s[2])),
        ("P(d) prior", chances(&model, &[], 1)[0]),
        (
            "P(l | d, x)",
            chance(&[dyspnoea.clone(), x_ray.clone()], &|s| s[3]),
        ),
        (
            "P(t | travel, d, x)",
            chance(&[travel.clone(), dyspnoea.clone(), x_ray.clone()], &|s| s[2]),
        ),
        (
            "P(b | travel, d, not x)",
            chance(&[travel.clone(), dyspnoea.clone(), no_x_ray.clone()], &|s| s[4]),
        ),
        (
            "conflict bits of {d, x}",
            conflict::conflict(&model, &[dyspnoea.clone(), x_ray]),
        ),
        (
            "conflict bits of {travel, d, not x}",
            conflict::conflict(&model, &[travel, dyspnoea, no_x_ray]),
        ),
        (
            "conflict bits of {not smoke, l}",
            conflict::conflict(&model, &[no_smoke, l]),
        ),
    ]
    .map(|(name, value)| (name.to_owned(), value))
    .into()
}

/// Components M1, M2, M3, A1, A2, each faulty with probability p; a faulty part may output anything. A state says
/// of a point the value it must have, or nothing where a faulty part stands before it.
fn circuit(inputs: &Inputs<'_>) -> Values {
    let p = inputs.one("component_fault_probability");
    let joint = |s: &[bool]| s.iter().map(|faulty| pick(p, *faulty)).product::<f64>();
    // X, Y, Z as a state and the readings (10 and 12) force them; `None` where nothing does.
    let forced = |s: &[bool]| -> Option<[Option<i32>; 3]> {
        let mut v = [(!s[0]).then_some(6), (!s[1]).then_some(6), (!s[2]).then_some(6)];
        for _ in 0..3 {
            for (sound, a, b, sum) in [(!s[3], 0, 1, 10), (!s[4], 1, 2, 12)] {
                if sound {
                    match (v[a], v[b]) {
                        (Some(x), Some(y)) if x + y != sum => return None,
                        (Some(x), None) => v[b] = Some(sum - x),
                        (None, Some(y)) => v[a] = Some(sum - y),
                        _ => {}
                    }
                }
            }
        }
        Some(v)
    };
    let mut states = States::of(5, joint);
    let consistent: Vec<Option<[Option<i32>; 3]>> = states.of.iter().map(|s| forced(s)).collect();
    for (prior, values) in states.priors.iter_mut().zip(&consistent) {
        if values.is_none() {
            *prior = 0.0;
        }
    }
    let total: f64 = states.priors.iter().sum();
    states.priors.iter_mut().for_each(|prior| *prior /= total);
    let only = |faulty: &[usize]| {
        states.chance(&states.priors, |s| {
            (0..5).all(|part| s[part] == faulty.contains(&part))
        })
    };
    let mass = |point: usize, value: Option<i32>| {
        states
            .priors
            .iter()
            .zip(&consistent)
            .filter(|(_, v)| v.is_some_and(|v| v[point] == value))
            .map(|(p, _)| p)
            .sum::<f64>()
    };
    let spread = |point: usize| {
        let shares: Vec<f64> = (-20..40)
            .map(|value| mass(point, Some(value)))
            .chain([mass(point, None)])
            .collect();
        entropy(&shares)
    };
    [
        ("P(A1 only)", only(&[3])),
        ("P(M1 only)", only(&[0])),
        ("P(M2 and A2 only)", only(&[1, 4])),
        ("P(X predicted 6)", mass(0, Some(6))),
        ("P(X predicted 4)", mass(0, Some(4))),
        ("P(Y predicted 6)", mass(1, Some(6))),
        ("P(Z predicted 6)", mass(2, Some(6))),
        ("outcome entropy of X, bits", spread(0)),
        ("outcome entropy of Y, bits", spread(1)),
        ("outcome entropy of Z, bits", spread(2)),
    ]
    .map(|(name, value)| (name.to_owned(), value))
    .into()
}

/// Parts in a row, each bad with p.
fn chain(inputs: &Inputs<'_>) -> Values {
    let (n, p) = (inputs.one("n") as usize, inputs.one("p_bad"));
    let states = States::of(n, |s| s.iter().map(|bad| pick(p, *bad)).product());
    // The example takes a point to read wrong as soon as any part before it is bad.
    let wrong = |s: &[bool], upto: usize| s[..upto].iter().any(|bad| *bad);
    let end: Vec<f64> = states.of.iter().map(|s| sure(wrong(s, n))).collect();
    let model = yes_or_no(&states.priors, &[end]);
    let after = posterior(&model, &[certain(0, 0)]);
    let single = |s: &[bool]| s.iter().filter(|bad| **bad).count() == 1 && s[0];
    [
        (
            "P(all good)",
            states.chance(&states.priors, |s| s.iter().all(|bad| !bad)),
        ),
        (
            "P(exactly one given part bad)",
            states.chance(&states.priors, single),
        ),
        ("P(given single fault | wrong end)", states.chance(&after, single)),
        (
            "P(middle point still right | wrong end)",
            states.chance(&after, |s| !wrong(s, n / 2)),
        ),
        (
            "P(first point still right | wrong end)",
            states.chance(&after, |s| !wrong(s, 1)),
        ),
    ]
    .map(|(name, value)| (name.to_owned(), value))
    .into()
}

/// Expected number of tests to halve the candidates, for the strategies of the puzzle.
fn intermittent(inputs: &Inputs<'_>) -> Values {
    let shows = inputs.one("p_fail_if_bad_in_group");
    let bits = |group: f64| {
        let model = yes_or_no(&[group, 1.0 - group], &[vec![shows, 1e-300]]);
        information(&model, &Standing::new(&model, &[]), TestIndex(0))
    };
    // A fixed half fails after 1/s tests on average when it holds the fault, which it does half the time; the
    // published count is for a half that is known to be good by never failing: 2/s in all.
    let fixed = 2.0 / shows;
    // A group of share f is tried until it fails: expected tests 1/(f s) bring log2(1/f) bits.
    let until_it_fails = |share: f64| 1.0 / (share * shows) / (1.0 / share).log2();
    let cycle = |groups: f64| {
        // Groups in turn; the one with the fault fails with chance s each round. Rounds before the failing one are
        // (1 - s)/s, each of as many tests as there are groups; then it is in the middle of its round.
        let tests = groups * (1.0 - shows) / shows + f64::midpoint(groups, 1.0);
        tests / groups.log2()
    };
    let best = (1..1000)
        .map(|share| bits(f64::from(share) / 1000.0))
        .fold(0.0, f64::max);
    [
        ("fixed half", fixed),
        ("fraction 1/e", until_it_fails((-1.0_f64).exp())),
        ("alternate halves", cycle(2.0)),
        ("cycle thirds", cycle(3.0)),
        ("information optimum", 1.0 / best),
        ("capacity of one such test, bits", best),
    ]
    .map(|(name, value)| (name.to_owned(), value))
    .into()
}

fn values(id: &str, inputs: &Inputs<'_>) -> Values {
    let named = |pairs: Vec<(String, f64)>| pairs.into_iter().collect::<Values>();
    let s = |name: &str| name.to_owned();
    match id {
        "alarm-network-posterior" => alarm(inputs),
        "search-two-boxes-p-over-c" => {
            let probabilities = [inputs.list("p"), vec![0.0]].concat();
            let costs = inputs.list("cost");
            assert_eq!(repair::best_order(&probabilities, &costs), [0, 1]);
            named(vec![
                (
                    s("expected cost order 1-2"),
                    repair::expected_cost(&[0, 1], &probabilities, &costs, 0.0),
                ),
                (
                    s("expected cost order 2-1"),
                    repair::expected_cost(&[1, 0], &probabilities, &costs, 0.0),
                ),
            ])
        }
        "search-with-overlook" => {
            let model = yes_or_no(&inputs.list("prior"), &[inputs.list("likelihood_of_not_found")]);
            let after = posterior(&model, &[certain(0, 0)]);
            (0..3)
                .map(|box_| (format!("P(box {} | nothing in box 3)", box_ + 1), after[box_]))
                .collect()
        }
        "naive-bayes-four-findings" => {
            let (prior, findings) = (inputs.list("prior"), inputs.rows("findings"));
            let after = posterior(&yes_or_no(&prior, &findings), &all_yes(4));
            let raw = |class: usize| prior[class] * findings.iter().map(|f| f[class]).product::<f64>();
            named(vec![
                (s("P(yes | findings)"), after[0]),
                (s("P(no | findings)"), after[1]),
                (s("unnormalized yes"), raw(0)),
                (s("unnormalized no"), raw(1)),
            ])
        }
        "information-gain-four-tests" => {
            let names = ["outlook", "humidity", "wind", "temperature"];
            let tests = names
                .iter()
                .map(|name| turned(&inputs.rows(&format!("tests.{name}"))))
                .collect();
            let model = model(&inputs.list("prior"), tests);
            let start = Standing::new(&model, &[]);
            let mut values: Values = names
                .iter()
                .enumerate()
                .map(|(test, name)| {
                    (
                        format!("gain {name}"),
                        information(&model, &start, TestIndex(test)),
                    )
                })
                .collect();
            values.insert(s("prior entropy bits"), entropy(start.probabilities()));
            values.insert(s("gain humidity, truncated print"), values["gain humidity"]);
            values
        }
        "test-or-act-three-states" => {
            let outcomes = ["low", "middle", "high"];
            let rows: Vec<Vec<f64>> = outcomes
                .iter()
                .map(|name| inputs.list(&format!("test_outcomes.{name}")))
                .collect();
            // The table lists P(outcome | state) by state in the order low, middle, high.
            let by_outcome: Vec<Vec<f64>> = rows.clone();
            let prior = inputs.list("prior");
            let model = model(&prior, vec![turned(&by_outcome)]);
            let payoff = inputs.list("payoff_if_act");
            let act = |p: &[f64]| {
                p.iter()
                    .zip(&payoff)
                    .map(|(p, v)| p * v)
                    .sum::<f64>()
                    .max(inputs.one("payoff_if_not"))
            };
            let chance = chances(&model, &[], 0);
            let with: f64 = (0..3)
                .map(|o| chance[o] * act(&posterior(&model, &[certain(0, o)])[..3]))
                .sum();
            let perfect: f64 = prior.iter().zip(&payoff).map(|(p, v)| p * v.max(0.0)).sum();
            named(vec![
                (s("expected value without test"), act(&prior)),
                (
                    s("expected value with test, net of its cost"),
                    with - inputs.one("test_cost"),
                ),
                (s("P(low)"), chance[0]),
                (s("P(middle)"), chance[1]),
                (s("P(high)"), chance[2]),
                (s("value of the test (gross)"), with - act(&prior)),
                (s("value of perfect information"), perfect - act(&prior)),
            ])
        }
        "two-tests-not-worth-their-cost" => {
            let good = inputs.one("prior_good");
            let first = inputs.list("p_pos1");
            let model = yes_or_no(&[good, 1.0 - good], std::slice::from_ref(&first));
            let act = |p: f64| {
                (p * inputs.one("payoff_good") + (1.0 - p) * inputs.one("payoff_bad"))
                    .max(inputs.one("payoff_refuse"))
            };
            let chance = chances(&model, &[], 0);
            let after = |outcome: usize| posterior(&model, &[certain(0, outcome)])[0];
            let one: f64 = (0..2).map(|o| chance[o] * act(after(o))).sum::<f64>() - inputs.one("test1_cost");
            // The second test may depend on the first one's answer.
            let second = ["p_pos2_given_pos1", "p_pos2_given_neg1"].map(|name| inputs.list(name));
            let both: f64 = (0..2)
                .map(|o| {
                    let p = after(o);
                    let model = yes_or_no(&[p, 1.0 - p], std::slice::from_ref(&second[o]));
                    let chance_of = chances(&model, &[], 0);
                    chance[o]
                        * (0..2)
                            .map(|b| chance_of[b] * act(posterior(&model, &[certain(0, b)])[0]))
                            .sum::<f64>()
                })
                .sum();
            named(vec![
                (s("expected value, no test"), act(good)),
                (s("expected value, first test only"), one),
                (s("expected value, both tests"), both - inputs.one("both_cost")),
                (s("P(good | first test negative)"), after(1)),
            ])
        }
        "clairvoyant-plus-guarantee" => {
            let one = |name: &str| inputs.one(name);
            let profit = |bad: bool, guarantee: bool| {
                let (plain, covered) = if bad {
                    (one("repair_bad"), one("guarantee_repair_bad"))
                } else {
                    (one("repair_good"), one("guarantee_repair_good"))
                };
                one("base_profit")
                    - if guarantee {
                        one("guarantee_price") + covered
                    } else {
                        plain
                    }
            };
            let known = |bad: bool| profit(bad, true).max(profit(bad, false)) - one("information_cost");
            let good = one("prior_good");
            let mean = good * known(false) + (1.0 - good) * known(true);
            let square = good * (known(false) - mean).powi(2) + (1.0 - good) * (known(true) - mean).powi(2);
            let blind = [true, false].map(|g| good * profit(false, g) + (1.0 - good) * profit(true, g));
            named(vec![
                (s("expected profit"), mean),
                (s("profit if bad"), known(true)),
                (s("profit if good"), known(false)),
                (s("standard deviation"), square.sqrt()),
                (s("expected profit with no information"), blind[0].max(blind[1])),
            ])
        }
        "value-of-information-not-additive" => {
            let (a, b) = (inputs.rows("option_a"), inputs.rows("option_b"));
            let mean = |o: &[Vec<f64>]| o.iter().map(|row| row[0] * row[1]).sum::<f64>();
            let blind = mean(&a).max(mean(&b));
            let know_a: f64 = a.iter().map(|row| row[0] * row[1].max(mean(&b))).sum();
            let know_b: f64 = b.iter().map(|row| row[0] * row[1].max(mean(&a))).sum();
            let both: f64 = a
                .iter()
                .flat_map(|x| b.iter().map(move |y| x[0] * y[0] * x[1].max(y[1])))
                .sum();
            named(vec![
                (s("value of perfect information on A"), know_a - blind),
                (s("value of perfect information on B"), know_b - blind),
                (s("value of perfect information on both"), both - blind),
            ])
        }
        "eight-node-chest-network" => chest(inputs),
        "uncertain-finding-likelihood-vector" => {
            // One row per answer in the file; rows per cause here.
            let model = model(&inputs.list("prior"), vec![turned(&inputs.rows("answer_table"))]);
            let vector = inputs.list("likelihood_vector");
            let leaning = |scale: f64| {
                Answered::leaning(TestIndex(0), vector.iter().map(|v| v * scale).collect()).unwrap()
            };
            let soft = posterior(&model, &[leaning(1.0)]);
            let scaled = posterior(&model, &[leaning(40.0)]);
            assert!((soft[0] - scaled[0]).abs() < 1e-12, "the scale must not matter");
            let hard = posterior(&model, &[certain(0, 1)]);
            let risk = inputs.list("p_risk");
            let risk_of = |p: &[f64]| p[0] * risk[0] + p[1] * risk[1];
            // P(answer | vector): each answer in proportion to its weight and prior chance, the cause known.
            let table = inputs.rows("answer_table");
            let late = |weights: &[f64]| {
                let prior = inputs.list("prior");
                let mut total = 0.0;
                let mut late = 0.0;
                for cause in 0..2 {
                    for (answer, name) in ["normal", "slow"].iter().enumerate() {
                        let p = prior[cause] * table[answer][cause] * weights[answer];
                        let at_risk = inputs.one(&format!("p_late.risk_{name}"));
                        let safe = inputs.one(&format!("p_late.safe_{name}"));
                        total += p;
                        late += p * (risk[cause] * at_risk + (1.0 - risk[cause]) * safe);
                    }
                }
                late / total
            };
            named(vec![
                (s("P(snow | vector)"), soft[0]),
                (s("P(risk | vector)"), risk_of(&soft)),
                (s("P(late | vector)"), late(&vector)),
                (s("P(snow | slow, certain)"), hard[0]),
                (s("P(risk | slow, certain)"), risk_of(&hard)),
                (s("P(late | slow, certain)"), late(&[0.0, 1.0])),
            ])
        }
        "three-sources-one-defect" => {
            let after = posterior(
                &yes_or_no(&inputs.list("prior"), &inputs.rows("findings")),
                &all_yes(1),
            );
            (0..3)
                .map(|m| (format!("P(machine {} | defect)", m + 1), after[m]))
                .collect()
        }
        "suppliers-two-and-four" => {
            let two = yes_or_no(&inputs.list("prior_two"), &[inputs.list("defect_two")]);
            let four = yes_or_no(&inputs.list("prior_four"), &[inputs.list("defect_four")]);
            named(vec![
                (s("P(defect), two suppliers"), chances(&two, &[], 0)[0]),
                (
                    s("P(first | defect), two suppliers"),
                    posterior(&two, &all_yes(1))[0],
                ),
                (s("P(defect), four suppliers"), chances(&four, &[], 0)[0]),
                (
                    s("P(second | defect), four suppliers"),
                    posterior(&four, &all_yes(1))[1],
                ),
            ])
        }
        "same-test-twice" => {
            let once = yes_or_no(&inputs.list("prior"), &inputs.rows("findings_once"));
            let twice = yes_or_no(&inputs.list("prior"), &inputs.rows("findings_twice"));
            named(vec![
                (s("P(fault | one positive)"), posterior(&once, &all_yes(1))[0]),
                (s("P(fault | two positives)"), posterior(&twice, &all_yes(2))[0]),
            ])
        }
        "one-bad-among-129" => {
            let n = inputs.one("items");
            let even = vec![1.0 / n; n as usize];
            // 127 items and one pair as 128 leaves, halved 7 times; the pair needs one more test.
            let balanced = 7.0 + 2.0 / n;
            let single_first = 1.0 + (n - 1.0) / n * 7.0;
            named(vec![
                (s("expected tests, balanced"), balanced),
                (s("expected tests, single item first"), single_first),
                (s("Huffman lower bound"), identify::huffman(&even, 2)),
                (s("entropy lower bound bits"), entropy(&even)),
            ])
        }
        "odd-ball-three-outcome-tests" => {
            let n = inputs.one("hypotheses");
            let answers = inputs.one("outcomes_per_test");
            // Balls on each pan and beside: each ball on a pan counts for either side, each beside for balance.
            let weighing = |pan: f64| {
                let beside = 12.0 - 2.0 * pan;
                entropy(&[2.0 * pan / n, 2.0 * pan / n, 2.0 * beside / n])
            };
            named(vec![
                (s("bits to find"), entropy(&vec![1.0 / n; n as usize])),
                (s("bits of a 4-4-4 first weighing"), weighing(4.0)),
                (
                    s("distinguishable outcomes of three tests"),
                    answers.powf(inputs.one("tests")),
                ),
                (s("bits of a 6-6 first weighing"), weighing(6.0)),
                (s("bits of a 5-5-2 first weighing"), weighing(5.0)),
                (s("bits of a 3-3-6 first weighing"), weighing(3.0)),
            ])
        }
        "triangle-deck-twenty-questions" => {
            let deck = |n: usize| {
                let total = (n * (n + 1) / 2) as f64;
                (1..=n).map(|k| k as f64 / total).collect::<Vec<f64>>()
            };
            let mut values: Values = [2, 3, 4, 5, 8, 10]
                .map(|n| (format!("average questions n={n}"), identify::huffman(&deck(n), 2)))
                .into();
            values.insert(s("entropy n=10"), entropy(&deck(10)));
            values
        }
        "intermittent-fault-tests-per-bit" => intermittent(inputs),
        "calibration-error-table" => {
            let rows = inputs.get("bins").as_array().unwrap();
            let of = |row: &toml::Value, key: &str| numbers(&row[key])[0];
            let bins: Vec<Bin> = rows
                .iter()
                .map(|row| Bin {
                    from: 0.0,
                    cases: of(row, "count") as usize,
                    weight: of(row, "count"),
                    said: of(row, "mean_confidence"),
                    right: of(row, "accuracy"),
                })
                .collect();
            let mean = |of: fn(&Bin) -> f64| {
                bins.iter().map(|bin| bin.cases as f64 * of(bin)).sum::<f64>()
                    / bins.iter().map(|bin| bin.cases as f64).sum::<f64>()
            };
            named(vec![
                (s("expected calibration error"), calibration_error(&bins)),
                (s("maximum calibration error"), largest_calibration_error(&bins)),
                (s("mean confidence"), mean(|bin| bin.said)),
                (s("accuracy"), mean(|bin| bin.right)),
            ])
        }
        "log-score-one-case" => {
            let forecast = inputs.list("forecast");
            let truth = inputs.one("true_index") as usize;
            let squares: f64 = forecast.iter().map(|p| p * p).sum();
            named(vec![
                (s("log loss, nats"), -forecast[truth].ln()),
                (s("log loss, bits"), -forecast[truth].log2()),
                (s("Brier score, sum form"), squares - 2.0 * forecast[truth] + 1.0),
            ])
        }
        "zero-pseudo-counts-kill-causes" => {
            let counts = inputs.list("counts");
            let even = vec![1.0 / 6.0; 6];
            let none = learn::shares(&even, &counts, 0.0);
            let ones = learn::shares(&even, &counts, 6.0);
            named(vec![
                (s("posterior mean category 5"), none[4]),
                (s("posterior mean category 6"), none[5]),
                (s("posterior mean category 1"), none[0]),
                (s("posterior mean category 1 with alpha 1 each"), ones[0]),
                (s("posterior mean category 5 with alpha 1 each"), ones[4]),
            ])
        }
        "strong-prior-few-cases" => {
            let (a, b) = (inputs.one("alpha"), inputs.one("beta"));
            let prior = [a / (a + b), b / (a + b)];
            let first = learn::shares(&prior, &[1.0, 0.0], a + b);
            let then = learn::shares(&first, &[100.0, 200.0], a + b + 1.0);
            named(vec![
                (s("mean after one success"), first[0]),
                (s("mean after a further 100 of 300"), then[0]),
            ])
        }
        "multiplier-adder-circuit" => circuit(inputs),
        "four-inverter-chain" => chain(inputs),
        "test-with-inconclusive-answer" => {
            let tests = vec![
                turned(&inputs.rows("test1.table")),
                turned(&inputs.rows("test2.table")),
            ];
            let model = model(&inputs.list("prior"), tests);
            let start = Standing::new(&model, &[]);
            let defect = |test: usize, outcome: usize| posterior(&model, &[certain(test, outcome)])[1];
            named(vec![
                (s("P(test1 inconclusive)"), chances(&model, &[], 0)[2]),
                (s("P(defect | test1 defect)"), defect(0, 1)),
                (s("P(defect | test1 inconclusive)"), defect(0, 2)),
                (s("P(defect | test2 defect)"), defect(1, 1)),
                (
                    s("information of test1, bits"),
                    information(&model, &start, TestIndex(0)),
                ),
                (
                    s("information of test2, bits"),
                    information(&model, &start, TestIndex(1)),
                ),
            ])
        }
        "repair-order-four-causes" => {
            let probabilities = [inputs.list("p"), inputs.list("remainder")].concat();
            let (costs, hand_over) = (inputs.list("cost"), inputs.one("handover_cost"));
            let best = repair::best_order(&probabilities, &costs);
            assert_eq!(best, [3, 1, 2, 0]);
            named(vec![
                (
                    s("best expected cost (24 orders tried)"),
                    repair::expected_cost(&best, &probabilities, &costs, hand_over),
                ),
                (
                    s("expected cost in order of probability"),
                    repair::expected_cost(&[0, 1, 2, 3], &probabilities, &costs, hand_over),
                ),
            ])
        }
        "test-then-repair" => {
            let priors = inputs.list("prior");
            let yes = inputs.list("p_yes");
            let rows = yes.iter().map(|p| vec![*p, 1.0 - p]).collect::<Vec<_>>();
            let likelihoods = Likelihoods::from_rows(rows[3].clone(), rows[..3].to_vec());
            let model = Model::from_tables(priors, vec![likelihoods]);
            let (costs, hand_over) = (inputs.list("repair_cost"), inputs.one("handover_cost"));
            let p = posterior(&model, &[]);
            let now = repair::expected_cost(&repair::best_order(&p, &costs), &p, &costs, hand_over);
            let gain = repair::value(
                &model,
                &Standing::new(&model, &[]),
                TestIndex(0),
                &costs,
                hand_over,
            );
            named(vec![
                (s("expected repair cost now"), now),
                (s("expected repair cost after the test"), now - gain),
                (s("net gain of the test"), gain - inputs.one("test_cost")),
            ])
        }
        "reading-near-a-limit" => {
            let pieces = meter::shares(inputs.one("reading"), inputs.one("u"), &inputs.list("limits"));
            let weights: Vec<f64> = pieces.iter().map(|(_, share)| *share).collect();
            let model = model(&inputs.list("prior"), vec![inputs.rows("bin_table")]);
            let soft = posterior(
                &model,
                &[Answered::leaning(TestIndex(0), weights.clone()).unwrap()],
            );
            let exact = posterior(&model, &[certain(0, 1)]);
            let mut values: Values = ["low", "ok", "high"]
                .iter()
                .zip(&weights)
                .map(|(name, w)| (format!("weight {name}"), *w))
                .collect();
            values.extend((0..3).map(|c| (format!("posterior cause {}", c + 1), soft[c])));
            values.insert(s("posterior cause 1 if the reading were exact"), exact[0]);
            values
        }
        "contradicting-finding" => {
            let priors = inputs.list("prior");
            let tests = inputs.rows("findings");
            let likelihoods = tests
                .iter()
                .map(|f| {
                    let rows: Vec<Vec<f64>> = f.iter().map(|p| vec![*p, 1.0 - p]).collect();
                    Likelihoods::from_rows(rows[2].clone(), rows[..2].to_vec())
                })
                .collect();
            let model = Model::from_tables(priors, likelihoods);
            let all = all_yes(3);
            let without = |skip: usize| -> Vec<Answered> {
                (0..3)
                    .filter(|test| *test != skip)
                    .map(|test| certain(test, 0))
                    .collect()
            };
            let after = posterior(&model, &all);
            assert!(conflict::is_contradictory(&model, &all));
            assert_eq!(conflict::doubt(&model, &all).unwrap().finding, 1);
            let surprise = conflict::surprise(&model, &all[..1], &all[1]).unwrap();
            let mut values = named(vec![
                (s("conflict bits, all three"), conflict::conflict(&model, &all)),
                (s("posterior cause 1"), after[0]),
                (s("posterior cause 2"), after[1]),
                (s("posterior remainder"), after[2]),
                (s("surprise bits of finding 2 after finding 1"), surprise.bits),
                (
                    s("posterior cause 1 without finding 2"),
                    posterior(&model, &without(1))[0],
                ),
            ]);
            values.extend((0..3).map(|skip| {
                (
                    format!("conflict bits without finding {}", skip + 1),
                    conflict::conflict(&model, &without(skip)),
                )
            }));
            values
        }
        "shop-cases-against-authored-prior" => {
            let (authored, strength) = (inputs.list("authored"), inputs.one("strength"));
            let few = learn::shares(&authored, &inputs.list("few"), strength);
            let many = learn::shares(&authored, &inputs.list("many"), strength);
            let weak = learn::shares(&authored, &inputs.list("few"), 5.0);
            named(vec![
                (s("cause 2 after 3 cases"), few[1]),
                (s("cause 1 after 3 cases"), few[0]),
                (s("cause 2 after 100 cases"), many[1]),
                (s("cause 2 after 3 cases if strength were 5"), weak[1]),
            ])
        }
        "five-states-five-tests" => {
            let p = inputs.list("p");
            let matrix: Vec<Vec<bool>> = inputs
                .rows("matrix")
                .iter()
                .map(|row| row.iter().map(|x| *x > 0.5).collect())
                .collect();
            let (unit, costs) = (inputs.list("unit_costs"), inputs.list("costs"));
            let model = yes_or_no(&p, &turned(&inputs.rows("matrix")));
            named(vec![
                (
                    s("optimal expected tests"),
                    identify::least_cost(&p, &matrix, &unit).unwrap(),
                ),
                (
                    s("greedy information gain expected tests"),
                    identify::greedy_cost(&model, &[], &unit),
                ),
                (s("entropy bound"), entropy(&p)),
                (s("Huffman bound"), identify::huffman(&p, 2)),
                (
                    s("optimal expected cost with costs"),
                    identify::least_cost(&p, &matrix, &costs).unwrap(),
                ),
                (
                    s("greedy gain-per-cost expected cost"),
                    identify::greedy_cost(&model, &[], &costs),
                ),
            ])
        }
        other => panic!("no working for `{other}`"),
    }
}

#[test]
fn every_example_is_reproduced() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/diagnosis/examples.toml");
    let file: File = toml::from_str(&fs::read_to_string(path).unwrap()).unwrap();
    let mut wrong = Vec::new();
    let mut checks = 0;
    for example in file.example.iter().chain(&file.constructed) {
        let values = values(&example.id, &Inputs(&example.inputs));
        for check in &example.check {
            checks += 1;
            let Some(value) = values.get(&check.name) else {
                wrong.push(format!("{}: `{}` is not worked out", example.id, check.name));
                continue;
            };
            // The file's own figure has ten digits; the tolerance beside it is that of the published print.
            if (value - check.computed).abs() > check.tol.min(1e-5) {
                wrong.push(format!(
                    "{}: `{}` is {value}, expected {}",
                    example.id, check.name, check.computed
                ));
            }
            if let (Some(published), Some(agrees)) = (check.published, check.agrees)
                && ((value - published).abs() <= check.tol) != agrees
            {
                wrong.push(format!(
                    "{}: `{}` is {value}, published {published}",
                    example.id, check.name
                ));
            }
        }
    }
    assert!(
        wrong.is_empty(),
        "{} of {checks}:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}
