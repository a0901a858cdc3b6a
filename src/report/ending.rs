//! What comes after the result: the repair and what leads if its proof fails, or the check that would tell best about each of
//! the causes that lead.

use std::cmp::Ordering;

use crate::inference::choice::Candidate;
use crate::inference::{Standing, gain, repair, stop};
use crate::knowledge::model::{CauseIndex, InputFrom, Job, State, TestIndex, TestKind};
use crate::walk::Walk;

use super::form::{By, Check, Ending, Step, Told};
use super::form::{Conclusion, NextTest};
use super::wording::{finding_text, missing_inputs};

/// A cause this probable stands beside the leader, and so many are named together. Our choice, no source.
pub(super) const NEIGHBOR: f64 = 0.05;

/// Leading causes that each get a check.
const LEADERS: usize = 3;

/// A cause less probable than this is no leader, unless it is the first. Our choice, no source.
const LEAST: f64 = 0.03;

/// A check that moves a cause by less than this, on average, tells nothing of it: one point in a hundred. Our choice, no
/// source.
const LEAST_MOVEMENT: f64 = 0.01;

/// A check that moves a cause by so much tells it well enough to stand before a better one that could not be made. Our choice,
/// no source.
const TELLS: f64 = 0.05;

/// Of a hundred cases of a cause a check answers in so many otherwise than without it, or the cause can hardly give what would
/// tell of it. Our choice, no source.
const PARTS: f64 = 0.2;

/// Once the first cause is ruled out little else is known, so a check must move what then leads by more. Our choice, no source.
const LEAST_MOVEMENT_THEN: f64 = 0.05;

/// A cause that stands below this beside the first one is as good as ruled out, and does not come next when that is. Our choice, no
/// source.
const STILL_OPEN: f64 = 0.005;

/// Share from which a cause that is not settled may be corrected on trial, where no test that can be made is left.
/// Our choice, no source.
const LIKELY: f64 = 0.80;

/// Minutes of repair that may be expected to go to the wrong cause then: a compressor is not changed on a guess.
/// Our choice, no source.
const MOST_IN_VAIN: f64 = 30.0;

/// So many times more seldom than usual is a part told as changed in vain with the cause that it is. Our choice, no source.
const AGAIN: f64 = 2.0;

impl Ending {
    /// Whether the first cause is to be corrected.
    #[must_use]
    pub fn is_decided(&self) -> bool {
        self.step == Step::Repair
    }

    /// A stop for safety.
    fn call() -> Self {
        Self {
            step: Step::Call,
            seen: None,
            told_only: false,
            no_fault: false,
            changed_before: None,
            likeliest: false,
            leaders: Vec::new(),
            check: None,
            make_sure: None,
            why_first: None,
            failing: None,
        }
    }

    pub(super) fn new(walk: &Walk<'_>, standing: &Standing, state: &str, made_safe_by: Option<Job>) -> Self {
        if state == "halted" {
            return Self::call();
        }
        let candidates = walk.candidates();
        let seen = walk
            .seen_itself()
            .map(|finding| finding_text(walk, finding.test, finding.outcome));
        let no_fault = standing
            .ranked()
            .first()
            .is_some_and(|(leader, _)| walk.knowledge().is_all_clear(*leader));
        let to_try = state == "finished" && walk.stop_reason() == Some(stop::Reason::TrialRepair);
        let fits = standing.remainder() < stop::DOES_NOT_FIT;
        let settled = stop::is_settled(standing)
            && !is_between_neighbors(standing, &candidates)
            && !walk.is_clear_by_word_only();
        if fits && (settled || seen.is_some() || to_try) {
            return Self {
                step: Step::Repair,
                failing: failing(walk, standing, &candidates),
                make_sure: before_repair(walk, standing, made_safe_by, walk.to_make_sure()),
                why_first: before_repair(walk, standing, made_safe_by, walk.why_first()),
                told_only: !walk.rests_on_a_finding(),
                no_fault,
                changed_before: changed_before(walk, standing),
                seen,
                ..Self::call()
            };
        }
        let leaders: Vec<Told> = standing
            .ranked()
            .into_iter()
            .take(LEADERS)
            .enumerate()
            .filter(|(place, (_, share))| *place == 0 || *share >= LEAST)
            .map(|(_, (cause, _))| told(walk, standing, &candidates, (cause, LEAST_MOVEMENT), made_safe_by))
            .collect();
        let rank = |check: &Check| Rank {
            waits: check.made_safe_by.is_some(),
            passed_by: check.passed_by,
            moves: check.moves,
        };
        let checks = leaders.iter().filter_map(|told| told.check.as_ref());
        let check = checks.max_by(|a, b| better(&rank(a), &rank(b))).cloned();
        let likeliest = fits && state == "finished" && is_likeliest(walk, standing, &candidates);
        Self {
            failing: likeliest.then(|| failing(walk, standing, &candidates)).flatten(),
            likeliest,
            no_fault,
            changed_before: likeliest.then(|| changed_before(walk, standing)).flatten(),
            why_first: likeliest
                .then(|| before_repair(walk, standing, made_safe_by, walk.why_first()))
                .flatten(),
            step: match &check {
                _ if state == "open" => Step::GoOn,
                Some(_) => Step::Check,
                None => Step::Nothing,
            },
            check,
            leaders,
            ..Self::call()
        }
    }

    /// The tests beside it that would change what is done: none once it is decided.
    pub(super) fn worth_making<'n>(&self, next: &'n [NextTest]) -> Vec<&'n NextTest> {
        let open = !matches!(self.step, Step::Repair | Step::Call);
        next.iter().filter(|test| open && test.decides).collect()
    }
}

/// What was changed in vain, in its words, where that is hardly ever told with the first cause: it would be changed twice.
fn changed_before(walk: &Walk<'_>, standing: &Standing) -> Option<String> {
    let (leader, _) = *standing.ranked().first()?;
    let tests = &walk.knowledge().tests;
    walk.findings().iter().find_map(|finding| {
        let test = &tests[finding.test];
        let told = &test.outcomes[finding.outcome];
        let chance = told.finding(leader)?;
        (test.from_start && chance <= told.usual / AGAIN).then(|| told.label.clone())
    })
}

/// Whether the first cause leads far, its repair is not long enough to be a gamble, and no test that can be made is worth its
/// cost.
fn is_likeliest(walk: &Walk<'_>, standing: &Standing, candidates: &[Candidate]) -> bool {
    let Some((leader, share)) = standing.ranked().first().copied() else {
        return false;
    };
    let in_vain = (1.0 - share) * repair::minutes(&walk.knowledge().causes[leader]);
    let may_tell = |candidate: &Candidate| {
        !walk.was_passed_by(candidate.test) && stop::is_worth(candidate.bits, candidate.cost)
    };
    share >= LIKELY && in_vain <= MOST_IN_VAIN && !candidates.iter().any(may_tell)
}

/// Whether a neighbor of the first cause still counts while a test would tell the two apart.
fn is_between_neighbors(standing: &Standing, candidates: &[Candidate]) -> bool {
    let second = standing.ranked().get(1).map_or(0.0, |(_, share)| *share);
    let telling = |candidate: &Candidate| stop::is_worth(candidate.bits, candidate.cost);
    second >= NEIGHBOR && candidates.iter().any(telling)
}

/// A check that comes before the repair of the first cause.
fn before_repair(
    walk: &Walk<'_>,
    standing: &Standing,
    made_safe_by: Option<Job>,
    candidate: Option<Candidate>,
) -> Option<Check> {
    let candidate = candidate?;
    // What is to be left off is not switched on for it.
    if made_safe_by.is_some() && candidate.state.is_powered() {
        return None;
    }
    let (leader, _) = *standing.ranked().first()?;
    let moves = gain::movement(walk.model()?, standing, candidate.test, leader);
    Some(check(walk, &candidate, moves))
}

/// What leads once the first cause is ruled out by its proof.
fn failing(walk: &Walk<'_>, standing: &Standing, candidates: &[Candidate]) -> Option<Told> {
    let (leader, _) = *standing.ranked().first()?;
    let then = standing.without(leader);
    let fits = |cause: CauseIndex| walk.is_known_to_have(&walk.knowledge().causes[cause].parts);
    let (cause, share) = then.ranked().into_iter().find(|(cause, _)| fits(*cause))?;
    (share > then.remainder() && standing.of(cause) >= STILL_OPEN).then(|| {
        // By then the repair is made.
        told(walk, &then, candidates, (cause, LEAST_MOVEMENT_THEN), None)
    })
}

/// What a check is chosen by.
struct Rank {
    /// Somebody must make it safe before.
    waits: bool,
    /// It was asked and could not be made.
    passed_by: bool,
    /// How far it moves the cause.
    moves: f64,
}

/// Orders checks: what waits until it was made safe, or could not be made, comes first only where nothing else tells.
fn better(a: &Rank, b: &Rank) -> Ordering {
    let key = |rank: &Rank| (rank.moves >= TELLS, !rank.waits, !rank.passed_by);
    key(a).cmp(&key(b)).then(a.moves.total_cmp(&b.moves))
}

/// A cause with the open test that tells it best, on parts that are known to be there, if it moves it by no less than `least` and
/// the cause would answer it otherwise than what stands beside. Where it is to be left off, what switches nothing on comes first.
fn told(
    walk: &Walk<'_>,
    standing: &Standing,
    candidates: &[Candidate],
    (cause, least): (CauseIndex, f64),
    made_safe_by: Option<Job>,
) -> Told {
    let known = &walk.knowledge().causes[cause];
    let best = walk.model().and_then(|model| {
        candidates
            .iter()
            .filter(|candidate| walk.is_known_to_have(&walk.knowledge().tests[candidate.test].parts))
            .map(|candidate| (candidate, gain::movement(model, standing, candidate.test, cause)))
            .filter(|(_, moved)| *moved >= least && *moved >= PARTS * most_moved(standing.of(cause)))
            .max_by(|a, b| {
                let rank = |(candidate, moved): &(&Candidate, f64)| Rank {
                    waits: made_safe_by.is_some() && candidate.state.is_powered(),
                    passed_by: walk.was_passed_by(candidate.test),
                    moves: *moved,
                };
                better(&rank(a), &rank(b))
            })
    });
    Told {
        cause: known.id.clone(),
        name: known.name.clone(),
        probability: standing.of(cause),
        check: best.map(|(candidate, moves)| Check {
            made_safe_by: made_safe_by.filter(|_| candidate.state.is_powered()),
            ..check(walk, candidate, moves)
        }),
    }
}

/// How far a test moves a cause of this share on average where the cause always answers otherwise than what stands beside it; any
/// test moves it by this times the distance (total variation) between what both would answer.
fn most_moved(share: f64) -> f64 {
    2.0 * share * (1.0 - share)
}

fn check(walk: &Walk<'_>, candidate: &Candidate, moves: f64) -> Check {
    let test = &walk.knowledge().tests[candidate.test];
    Check {
        test: test.id.clone(),
        name: test.name.clone(),
        minutes: candidate.minutes,
        by: by(walk, candidate.test),
        state: candidate.state,
        caution: test.caution.clone(),
        needs: missing_inputs(walk, candidate.test),
        passed_by: walk.was_passed_by(candidate.test),
        made_safe_by: None,
        moves,
    }
}

/// Who can make a test; a calculation is whoever's its readings are.
fn by(walk: &Walk<'_>, index: TestIndex) -> By {
    let knowledge = walk.knowledge();
    let test = &knowledge.tests[index];
    let of_readings = || match &test.kind {
        TestKind::Calculation { inputs, .. } => inputs
            .values()
            .filter_map(|from| match from {
                InputFrom::Reading(reading) if walk.reading(*reading).is_none() => Some(by(walk, *reading)),
                _ => None,
            })
            .find(|by| *by == By::Electrician),
        _ => None,
    };
    match test.job {
        Some(Job::Utility) => By::Utility,
        Some(Job::Electrician | Job::UtilityOrElectrician) => By::Electrician,
        _ if test.state == State::Told => By::Customer,
        _ => of_readings().unwrap_or(By::HvacTechnician),
    }
}

/// The text of the conclusion where the fault itself was found but the figures do not settle it.
pub(super) fn found(name: &str, percent: &str, seen: &str, proof: &str) -> Conclusion {
    Conclusion {
        kind: "likely",
        text: format!(
            "Found, seen or measured itself: {name} ({percent}), by: {seen}. Correct it, then prove it: {proof}"
        ),
        stop: None,
    }
}
