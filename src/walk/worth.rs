//! Tests still open, by what they would tell for their cost.

use crate::inference::{gain, repair, stop};
use crate::knowledge::model::{CauseIndex, OutcomeIndex, State, TestIndex, TestKind};
use crate::knowledge::order;

use super::calculate::{Depth, Wanting, lacking, wanting};
use super::holds::Leave;
use super::state::Resolution;
use super::{Question, Walk};
use super::{holds, needs};

/// A test that could be made now.
#[derive(Clone, Debug, PartialEq)]
pub struct Candidate {
    /// The test.
    pub test: TestIndex,
    /// Expected information in bits.
    pub bits: f64,
    /// Hands-on minutes, with the readings a calculation still needs and the change of state.
    pub minutes: f64,
    /// Minutes with the charge for hazard: what the choice is made by.
    pub cost: f64,
    /// State the equipment must be in.
    pub state: State,
}

impl Walk<'_> {
    /// Why it is time to conclude, over every test worth coming back to; nothing while a test is worth making.
    #[must_use]
    pub fn stop_reason(&self) -> Option<stop::Reason> {
        stop_reason(self, best(self, &self.candidates()).as_ref())
    }

    /// Expected drop of the cost of repair by a test, in minutes.
    #[must_use]
    pub fn saves(&self, test: TestIndex) -> f64 {
        saves(self, test)
    }

    /// Whether a test would change what is done: after one of its likelier outcomes one cause stands clear, or another leads.
    #[must_use]
    pub fn decides(&self, test: TestIndex) -> bool {
        decides(self, test)
    }

    /// Tests worth coming back to, from the one that tells most for its cost: those of the nodes passed, without an
    /// outcome so far, whether never reached or only not checkable today.
    ///
    /// Where the tree has kept the walk off energized tests, none is among them; nor after a stop for safety.
    #[must_use]
    pub fn candidates(&self) -> Vec<Candidate> {
        let halted = matches!(self.question(), Question::Halt { .. });
        let open =
            |test: &TestIndex| self.applies(*test) && !matches!(self.resolution(*test), Resolution::Known(_));
        // What cannot be made now is still what would tell.
        let passed = self.derived.passed.iter().copied().filter(open);
        let mut candidates = rank(self, passed, |_| true);
        // In the walk a hold's proof is asked first; in what is advised, a test that waits for one has no place.
        candidates.retain(|candidate| {
            self.leave(candidate.test) == Leave::Free && (!halted || !candidate.state.is_powered())
        });
        candidates
    }
}

/// Open tests of a pool, from the one that tells most for its cost.
pub(super) fn ranked(walk: &Walk<'_>, pool: &[TestIndex]) -> Vec<Candidate> {
    let now = |test| !is_unable(walk, test) && (!walk.is_told_enough(test) || decides(walk, test));
    rank(
        walk,
        pool.iter().copied().filter(|test| is_open(walk, *test)),
        now,
    )
}

fn rank(
    walk: &Walk<'_>,
    tests: impl Iterator<Item = TestIndex>,
    may: impl Fn(TestIndex) -> bool,
) -> Vec<Candidate> {
    let (Some(model), Some(standing)) = (walk.model(), walk.standing()) else {
        return Vec::new();
    };
    let safe = holds::is_proved_safe(walk);
    let mut candidates: Vec<Candidate> = tests
        .filter_map(|test| {
            let state = state_needed(walk, test);
            if (state.is_powered() && !safe) || walk.leave(test) == Leave::Barred || !may(test) {
                return None;
            }
            let bits = gain::information(model, standing, test);
            let cost = needs::cost_with_inputs(walk, test);
            let minutes = minutes(walk, test, state);
            Some(Candidate {
                test,
                bits,
                minutes,
                cost,
                state,
            })
        })
        .collect();
    candidates.sort_by(|a, b| {
        (b.bits / b.cost)
            .total_cmp(&(a.bits / a.cost))
            .then(a.test.cmp(&b.test))
    });
    candidates
}

/// Scores within this share of the best are alike; then the lower hazard and the greater saving decide.
const ALIKE: f64 = 0.9;

/// The test to make: the one that tells most for its cost, among those alike the least hazardous, then the one that
/// saves most repair; where none is worth its cost alone, the first of two that are together.
pub(super) fn best(walk: &Walk<'_>, ranked: &[Candidate]) -> Option<Candidate> {
    let worth: Vec<&Candidate> = ranked
        .iter()
        .filter(|candidate| stop::is_worth(candidate.bits, candidate.cost))
        .collect();
    let Some(first) = worth.first() else {
        return first_of_pair(walk, ranked);
    };
    let score = |candidate: &Candidate| candidate.bits / candidate.cost;
    worth
        .iter()
        .take_while(|candidate| score(candidate) >= ALIKE * score(first))
        .min_by(|a, b| {
            let hazard = |candidate: &Candidate| walk.knowledge.tests[candidate.test].hazard;
            hazard(a)
                .cmp(&hazard(b))
                .then_with(|| saves(walk, b.test).total_cmp(&saves(walk, a.test)))
                .then(a.test.cmp(&b.test))
        })
        .map(|candidate| (*candidate).clone())
}

/// Expected drop of the cost of repair by a test, in minutes.
pub(super) fn saves(walk: &Walk<'_>, test: TestIndex) -> f64 {
    let Some(model) = walk.model() else { return 0.0 };
    let costs: Vec<f64> = model
        .causes()
        .iter()
        .map(|cause| repair::minutes(&walk.knowledge.causes[*cause]))
        .collect();
    repair::value(model, walk.findings(), test, &costs, repair::HAND_OVER_MINUTES)
}

/// Why to stop now, given the best test worth making, if any.
pub(super) fn stop_reason(walk: &Walk<'_>, best: Option<&Candidate>) -> Option<stop::Reason> {
    let standing = walk.standing()?;
    let leader = standing.ranked().first().map(|(cause, _)| *cause)?;
    let minutes = repair::minutes(&walk.knowledge.causes[leader]);
    let pace = &walk.derived.pace;
    if pace.is_over() && !stop::is_settled(standing) {
        return Some(if pace.exhausted {
            stop::Reason::NothingCanBeMade
        } else {
            stop::Reason::LongEnough
        });
    }
    stop::reason(standing, minutes, best.map(|candidate| candidate.cost))
}

/// Cheapest tests tried in pairs where no single test is worth its cost.
const PAIRED: usize = 6;

/// The first of two tests that are worth their cost together, where neither is alone.
pub(super) fn first_of_pair(walk: &Walk<'_>, ranked: &[Candidate]) -> Option<Candidate> {
    let (model, standing) = (walk.model()?, walk.standing()?);
    let mut cheapest: Vec<&Candidate> = ranked.iter().collect();
    cheapest.sort_by(|a, b| a.cost.total_cmp(&b.cost).then(a.test.cmp(&b.test)));
    cheapest.truncate(PAIRED);
    let mut best: Option<(f64, &Candidate)> = None;
    for first in &cheapest {
        for second in cheapest.iter().filter(|second| second.test != first.test) {
            let bits = gain::pair_information(model, standing, walk.findings(), first.test, second.test);
            let cost = first.cost + second.cost;
            if stop::is_worth(bits, cost) && best.is_none_or(|(known, _)| bits / cost > known) {
                best = Some((bits / cost, first));
            }
        }
    }
    best.map(|(_, first)| first.clone())
}

/// Tests offered at once.
const OFFERED: usize = 16;

/// The tests of the nodes passed and of all pools that tell most for their cost, to choose from.
pub(super) fn offered(walk: &Walk<'_>) -> Vec<TestIndex> {
    let Some(complaint) = walk.complaint() else {
        return Vec::new();
    };
    let pool: Vec<TestIndex> = order::authored(walk.knowledge, complaint);
    ranked(walk, &pool)
        .into_iter()
        .filter(|candidate| candidate.bits >= stop::LEAST_BITS)
        .map(|candidate| candidate.test)
        .take(OFFERED)
        .collect()
}

/// Whether a test, or a reading it still needs, cannot be made now.
fn is_unable(walk: &Walk<'_>, test: TestIndex) -> bool {
    walk.is_unable(test)
        || lacking(walk, test)
            .iter()
            .any(|wanting| matches!(wanting, Wanting::Reading(reading) if walk.is_unable(*reading)))
}

/// An outcome less likely than this does not count for whether a test would decide. Our choice, no source.
const LIKELY_ENOUGH: f64 = 0.1;

/// Whether a test would decide: after one of its likelier outcomes one cause stands clear, or another one leads.
pub(super) fn decides(walk: &Walk<'_>, test: TestIndex) -> bool {
    let (Some(model), Some(standing)) = (walk.model(), walk.standing()) else {
        return false;
    };
    let Some(chances) = gain::predicted(model, standing, test) else {
        return false;
    };
    let leader = |shares: &[f64]| {
        let listed = &shares[..shares.len().saturating_sub(1)];
        listed
            .iter()
            .enumerate()
            .max_by(|a, b| a.1.total_cmp(b.1))
            .map(|(place, share)| (place, *share))
    };
    let now = leader(standing.probabilities()).map(|(place, _)| place);
    chances.iter().enumerate().any(|(outcome, chance)| {
        *chance >= LIKELY_ENOUGH
            && standing
                .after(model, test, OutcomeIndex(outcome))
                .and_then(|after| leader(&after))
                .is_some_and(|(place, share)| Some(place) != now || share >= stop::STRONG_ENOUGH)
    })
}

fn is_open(walk: &Walk<'_>, test: TestIndex) -> bool {
    walk.applies(test)
        && match walk.knowledge.tests[test].kind {
            TestKind::Calculation { .. } => {
                walk.resolution(test) == Resolution::Open
                    && !wanting(walk, test, Depth::RequiredOnly).is_empty()
            }
            _ => !walk.derived.answers.contains_key(&test),
        }
}

/// The most exposed state a test or one of its missing inputs needs.
pub(super) fn state_needed(walk: &Walk<'_>, test: TestIndex) -> State {
    let own = walk.knowledge.tests[test].state;
    lacking(walk, test)
        .iter()
        .filter_map(|wanting| match wanting {
            Wanting::Reading(reading) => Some(walk.knowledge.tests[*reading].state),
            Wanting::Fact(_) => None,
        })
        .fold(own, State::max)
}

fn minutes(walk: &Walk<'_>, test: TestIndex, state: State) -> f64 {
    let own = walk.knowledge.tests[test].minutes;
    let inputs: f64 = lacking(walk, test)
        .iter()
        .map(|wanting| match wanting {
            Wanting::Fact(_) => 0.5,
            Wanting::Reading(reading) => walk.knowledge.tests[*reading].minutes,
        })
        .sum();
    own + inputs + gain::change_of_state(state, walk.state())
}

/// One line that says why a test was chosen.
pub(super) fn reason(walk: &Walk<'_>, candidate: &Candidate) -> String {
    let minutes = candidate.minutes.round().max(1.0);
    let unit = if minutes > 1.5 { "minutes" } else { "minute" };
    let state = match (candidate.state, walk.state()) {
        (State::Told | State::Any, _) => "nothing to open",
        (State::LockedOut, Some(State::LockedOut)) => "you are already locked out",
        (State::LockedOut, _) => "needs the equipment locked out",
        (State::Running, Some(State::Running | State::Energised)) => "it is on already",
        (State::Running, _) => "needs the equipment on, covers on",
        (State::Energised, Some(State::Energised)) => "you are already energized",
        (State::Energised, _) => "needs the equipment energized",
        (State::Firing, Some(State::Firing)) => "the burner is on already",
        (State::Firing, _) => "needs the burner called for",
    };
    format!("{}, {minutes:.0} {unit}, {state}", splits(walk, candidate.test))
}

/// Which causes a test would move most.
fn splits(walk: &Walk<'_>, test: TestIndex) -> String {
    let (Some(model), Some(standing)) = (walk.model(), walk.standing()) else {
        return "next in order".to_owned();
    };
    let Some(likelihoods) = model.likelihoods(test) else {
        return "next in order".to_owned();
    };
    let leaders: Vec<CauseIndex> = standing
        .ranked()
        .iter()
        .take(2)
        .map(|(cause, _)| *cause)
        .collect();
    let row = |cause: CauseIndex| {
        let place = model.causes().iter().position(|c| *c == cause)?;
        likelihoods
            .rows()
            .iter()
            .find(|(of, _)| *of == place)
            .map(|(_, row)| row.clone())
    };
    match leaders.as_slice() {
        [first, second] => {
            let rows = [row(*first), row(*second)].map(|r| r.unwrap_or_else(|| likelihoods.usual().to_vec()));
            // Total variation distance: how differently the two leaders would have it come out.
            let apart: f64 = rows[0]
                .iter()
                .zip(&rows[1])
                .map(|(a, b)| (a - b).abs())
                .sum::<f64>()
                / 2.0;
            if apart >= 0.3 {
                "tells the two leaders apart".to_owned()
            } else if row(*first).is_some() {
                "bears on the leader".to_owned()
            } else {
                "sorts the causes behind the leader".to_owned()
            }
        }
        _ => "bears on the leader".to_owned(),
    }
}
