//! How well a model and a way of asking find the causes, on cases sampled from the model itself.
//!
//! This measures whether the knowledge can tell its causes apart and at what cost; it says nothing about whether
//! what is said is true. Cases are sampled from a seed, so a score can be repeated.

use std::collections::HashMap;

use fastrand::Rng;
use serde::Serialize;

use crate::knowledge::model::{Equipment, Knowledge, OutcomeIndex, State, TestIndex, TreeIndex};
use crate::knowledge::order;

use super::choice::Position;
use super::price::{self, Priced};
use super::shares::pick;
use super::standing::outcomes_under;
use super::{Answered, Model, Standing, gain, repair, shares, stop};

/// What cases are sampled of.
#[derive(Clone, Debug)]
pub struct Subject {
    /// The causes.
    pub model: Model,
    /// The tests that can be made, in authored order, and what each takes.
    pub tests: Vec<Priced>,
    /// The safety look, where the order begins with it: it is made before everything else.
    pub first: Option<TestIndex>,
    /// Minutes of the repair of each cause, in the order of the model.
    pub repairs: Vec<f64>,
}

impl Subject {
    /// A complaint on some equipment.
    #[must_use]
    pub fn new(knowledge: &Knowledge, complaint: TreeIndex, equipment: &Equipment) -> Self {
        let order = order::authored(knowledge, complaint);
        let model = Model::new(knowledge, complaint, equipment);
        Self {
            tests: price::unasked(knowledge, equipment, &order),
            first: order
                .first()
                .copied()
                .filter(|test| knowledge.tests[*test].safety && knowledge.tests[*test].applies_to(equipment)),
            repairs: repair::all_minutes(knowledge, &model),
            model,
        }
    }
}

/// A way of asking.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Policy {
    /// By the walk's own narrowing: its chooser over all tests, its costs and its reasons to stop, in a walk where nothing was
    /// told in the account and everything can be made.
    Gain,
    /// The tests in the order given, until enough is known.
    InOrder,
}

/// How one case went.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Walked {
    /// How much the case counts: 1 when sampled, its probability when worked out exactly.
    pub weight: f64,
    /// Place of the true cause; the number of causes when it is none of those listed.
    pub truth: usize,
    /// The true cause is one of those listed.
    pub listed: bool,
    /// Place of the cause that led at the end.
    pub led: usize,
    /// Rank of the true cause at the end, from 1.
    pub rank: usize,
    /// Tests made.
    pub tests: usize,
    /// Minutes spent, changes of state included.
    pub minutes: f64,
    /// Energized tests made.
    pub energised: usize,
    /// Probability of the leader at the end.
    pub lead: f64,
    /// Probability of the true cause at the end.
    pub of_truth: f64,
    /// Sum over causes of (P - [true])^2.
    pub brier: f64,
    /// Entropy left at the end, in bits.
    pub left: f64,
}

/// One row of the reliability table.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Bin {
    /// Lower end of the leader's probability.
    pub from: f64,
    /// Cases in the bin.
    pub cases: usize,
    /// What they count together: as many as there are where they were sampled, their probability where worked out
    /// exactly.
    pub weight: f64,
    /// Mean probability of the leader.
    pub said: f64,
    /// Share in which the leader was right.
    pub right: f64,
}

/// A score over many cases.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Score {
    /// Cases walked.
    pub cases: usize,
    /// Share of cases whose cause is listed at all.
    pub listed: f64,
    /// Share with the true cause first, of the cases whose cause is listed.
    pub first: f64,
    /// Share with the true cause in the first three, of the cases whose cause is listed.
    pub first_three: f64,
    /// Mean number of tests.
    pub tests: f64,
    /// Mean minutes.
    pub minutes: f64,
    /// Mean number of energized tests.
    pub energised: f64,
    /// Mean entropy left at the end, in bits.
    pub left: f64,
    /// Mean Brier score, 0 to 2.
    pub brier: f64,
    /// Mean log loss in nats.
    pub log_loss: f64,
    /// Expected calibration error over the bins.
    pub calibration_error: f64,
    /// Reliability table in fifths of the leader's probability.
    pub reliability: Vec<Bin>,
}

/// Samples cases and walks each with a policy.
///
/// The true cause is sampled from the priors, the remainder among them, whose outcomes are the usual ones. `progress`
/// is told after every case and can end the run by answering `false`.
pub fn sample(
    subject: &Subject,
    policy: Policy,
    cases: usize,
    seed: u64,
    progress: &mut dyn FnMut(usize) -> bool,
) -> Vec<Walked> {
    let mut rng = Rng::with_seed(seed);
    let mut chosen = HashMap::new();
    let mut sampled = Vec::with_capacity(cases);
    for number in 0..cases {
        let truth = pick(&mut rng, subject.model.priors());
        sampled.push(case(subject, policy, truth, &mut rng, &mut chosen));
        if !progress(number + 1) {
            break;
        }
    }
    sampled
}

/// What was chosen after some answers; the same answers always lead to the same choice.
type Chosen = HashMap<Vec<(TestIndex, usize)>, Option<Priced>>;

fn case(subject: &Subject, policy: Policy, truth: usize, rng: &mut Rng, chosen: &mut Chosen) -> Walked {
    let mut findings: Vec<Answered> = Vec::new();
    let mut key: Vec<(TestIndex, usize)> = Vec::new();
    let mut state = None;
    let (mut minutes, mut energised) = (0.0, 0);
    loop {
        let next = match chosen.get(&key) {
            Some(next) => *next,
            None => {
                let next = next(subject, policy, &findings, state);
                chosen.insert(key.clone(), next);
                next
            }
        };
        let Some(test) = next else { break };
        let Some(row) = outcomes_under(&subject.model, &findings, test.test, truth) else {
            break;
        };
        minutes += test.minutes_from(state);
        energised += usize::from(test.state.is_powered());
        if test.state.is_prepared() {
            state = Some(test.state);
        }
        let outcome = pick(rng, &row);
        findings.push(Answered::certain(test.test, OutcomeIndex(outcome)));
        key.push((test.test, outcome));
    }
    ended(&subject.model, &findings, truth, 1.0, minutes, energised)
}

/// A case at its end.
fn ended(
    model: &Model,
    findings: &[Answered],
    truth: usize,
    weight: f64,
    minutes: f64,
    energised: usize,
) -> Walked {
    let standing = Standing::new(model, findings);
    let probabilities = standing.probabilities();
    let of_truth = probabilities[truth];
    let listed = truth + 1 < probabilities.len();
    let rank = 1
        + (0..probabilities.len() - 1)
            .filter(|other| match probabilities[*other].total_cmp(&of_truth) {
                std::cmp::Ordering::Greater => true,
                std::cmp::Ordering::Equal => *other < truth,
                std::cmp::Ordering::Less => false,
            })
            .count();
    let led = (0..probabilities.len() - 1)
        .max_by(|a, b| probabilities[*a].total_cmp(&probabilities[*b]).then(b.cmp(a)))
        .unwrap_or(0);
    let squares: f64 = probabilities.iter().map(|p| p * p).sum();
    Walked {
        weight,
        truth,
        listed,
        led,
        rank,
        tests: findings.len(),
        minutes,
        energised,
        lead: probabilities[led],
        of_truth,
        brier: squares - 2.0 * of_truth + 1.0,
        left: shares::entropy(probabilities),
    }
}

/// Works every case out exactly: all answers to every test asked, weighted by their probability.
///
/// Returns nothing when there are more than `most` ways a walk can end. Ways less probable than 1e-9 are left out;
/// the weights of the rest add up to 1 less their sum.
#[must_use]
pub fn expand(subject: &Subject, policy: Policy, most: usize) -> Option<Vec<Walked>> {
    let model = &subject.model;
    let mut ends = Vec::new();
    let start = Way {
        findings: Vec::new(),
        weights: model.priors().to_vec(),
        minutes: 0.0,
        energised: 0,
        state: None,
    };
    let mut open = vec![start];
    let mut ways = 0;
    while let Some(way) = open.pop() {
        let Some(test) = next(subject, policy, &way.findings, way.state) else {
            ways += 1;
            if ways > most {
                return None;
            }
            ends.extend(
                way.weights
                    .iter()
                    .enumerate()
                    .filter(|(_, weight)| **weight > 0.0)
                    .map(|(truth, weight)| {
                        ended(model, &way.findings, truth, *weight, way.minutes, way.energised)
                    }),
            );
            continue;
        };
        open.extend(way.on(model, test));
        if open.len() > most {
            return None;
        }
    }
    Some(ends)
}

/// Ways less probable than this are left out of an exact score.
const LEAST_WAY: f64 = 1e-9;

/// Answers so far, and P(answers and cause) by cause.
struct Way {
    findings: Vec<Answered>,
    weights: Vec<f64>,
    minutes: f64,
    energised: usize,
    state: Option<State>,
}

impl Way {
    fn on(&self, model: &Model, test: Priced) -> Vec<Self> {
        let rows: Option<Vec<Vec<f64>>> = (0..self.weights.len())
            .map(|truth| outcomes_under(model, &self.findings, test.test, truth))
            .collect();
        let Some(rows) = rows else { return Vec::new() };
        (0..rows.first().map_or(0, Vec::len))
            .map(|outcome| {
                let mut findings = self.findings.clone();
                findings.push(Answered::certain(test.test, OutcomeIndex(outcome)));
                let weights = self
                    .weights
                    .iter()
                    .enumerate()
                    .map(|(truth, weight)| weight * rows[truth][outcome])
                    .collect();
                Self {
                    findings,
                    weights,
                    minutes: self.minutes + test.minutes_from(self.state),
                    energised: self.energised + usize::from(test.state.is_powered()),
                    state: if test.state.is_prepared() {
                        Some(test.state)
                    } else {
                        self.state
                    },
                }
            })
            .filter(|way| way.weights.iter().sum::<f64>() > LEAST_WAY)
            .collect()
    }
}

/// The test that a way of asking makes next; nothing when it stops.
#[must_use]
pub fn next(
    subject: &Subject,
    policy: Policy,
    findings: &[Answered],
    state: Option<State>,
) -> Option<Priced> {
    let Subject { model, tests, .. } = subject;
    let priced = |test: TestIndex| tests.iter().find(|priced| priced.test == test).copied();
    let made = |test: TestIndex| findings.iter().any(|finding| finding.test == test);
    if let Some(first) = subject.first.filter(|first| !made(*first)) {
        return priced(first);
    }
    let (done, open): (Vec<Priced>, Vec<Priced>) = tests.iter().partition(|priced| made(priced.test));
    let standing = &Standing::new(model, findings);
    if stop::is_settled(standing) {
        return None;
    }
    match policy {
        Policy::InOrder => {
            // A test that can tell nothing any more is passed over in any order.
            let tells =
                |priced: &&Priced| gain::information(model, standing, priced.test) >= stop::LEAST_BITS;
            open.iter().find(tells).copied()
        }
        Policy::Gain => {
            let asked: usize = done.iter().map(|priced| priced.questions).sum();
            let told = done.iter().filter(|priced| priced.state == State::Told).count();
            let position = Position {
                model,
                standing,
                state,
                repairs: &subject.repairs,
            };
            let waits = |priced: &Priced| {
                priced.state == State::Told && told >= stop::TOLD_FIRST && !position.decides(priced.test)
            };
            let open = open.into_iter().filter(|priced| !waits(priced));
            (asked < stop::MOST_QUESTIONS)
                .then(|| position.next(open))
                .flatten()
                .and_then(|candidate| priced(candidate.test))
        }
    }
}

/// Sums up walked cases.
#[must_use]
pub fn sum_up(walked: &[Walked]) -> Score {
    let cases = walked.len();
    let total: f64 = walked
        .iter()
        .map(|case| case.weight)
        .sum::<f64>()
        .max(f64::MIN_POSITIVE);
    let mean =
        |of: &dyn Fn(&Walked) -> f64| walked.iter().map(|case| case.weight * of(case)).sum::<f64>() / total;
    let reliability = reliability(walked);
    let listed: f64 = walked
        .iter()
        .filter(|case| case.listed)
        .map(|case| case.weight)
        .sum();
    let within = |rank: usize| {
        let right: f64 = walked
            .iter()
            .filter(|case| case.listed && case.rank <= rank)
            .map(|case| case.weight)
            .sum();
        right / listed.max(f64::MIN_POSITIVE)
    };
    Score {
        cases,
        listed: mean(&|case| f64::from(u8::from(case.listed))),
        first: within(1),
        first_three: within(3),
        tests: mean(&|case| case.tests as f64),
        minutes: mean(&|case| case.minutes),
        energised: mean(&|case| case.energised as f64),
        left: mean(&|case| case.left),
        brier: mean(&|case| case.brier),
        log_loss: mean(&|case| -case.of_truth.max(f64::MIN_POSITIVE).ln()),
        calibration_error: calibration_error(&reliability),
        reliability,
    }
}

fn reliability(walked: &[Walked]) -> Vec<Bin> {
    const BINS: usize = 5;
    (0..BINS)
        .filter_map(|bin| {
            let from = bin as f64 / BINS as f64;
            let inside: Vec<&Walked> = walked
                .iter()
                .filter(|case| ((case.lead * BINS as f64) as usize).min(BINS - 1) == bin)
                .collect();
            let weight: f64 = inside.iter().map(|case| case.weight).sum();
            let share = |of: &dyn Fn(&Walked) -> f64| {
                inside.iter().map(|case| case.weight * of(case)).sum::<f64>() / weight
            };
            (weight > 0.0).then(|| Bin {
                from,
                cases: inside.len(),
                weight,
                said: share(&|case| case.lead),
                right: share(&|case| f64::from(u8::from(case.led == case.truth))),
            })
        })
        .collect()
}

/// Expected calibration error: mean distance between what was said and what was right, by what the cases count.
///
/// *Source* Expected calibration error, <https://quantiles.io/benchmark-hub/benchmark/ece>.
#[must_use]
pub fn calibration_error(bins: &[Bin]) -> f64 {
    let cases: f64 = bins.iter().map(|bin| bin.weight).sum();
    bins.iter()
        .map(|bin| bin.weight * (bin.said - bin.right).abs())
        .sum::<f64>()
        / cases.max(f64::MIN_POSITIVE)
}

/// Pairs of true and wrongly leading cause, by how many cases each, most first.
#[must_use]
pub fn confusion(walked: &[Walked]) -> Vec<((usize, usize), usize)> {
    let mut counts: HashMap<(usize, usize), usize> = HashMap::new();
    for case in walked.iter().filter(|case| case.listed && case.led != case.truth) {
        *counts.entry((case.truth, case.led)).or_default() += 1;
    }
    let mut pairs: Vec<_> = counts.into_iter().collect();
    pairs.sort_by(|a, b| b.1.cmp(&a.1).then(a.0.cmp(&b.0)));
    pairs
}
