//! Tests still open, by what they would tell for their cost.

use crate::inference::choice::Candidate;
use crate::inference::price::Priced;
use crate::inference::stop;
use crate::knowledge::model::{CauseIndex, State, TestIndex, TestKind};
use crate::knowledge::order;

use super::calculate::{Depth, Resolution, Wanting, lacking, wanting};
use super::holds::Leave;
use super::posterior::Posterior;
use super::{holds, needs};

impl Posterior<'_> {
    /// Expected drop of the cost of repair by a test, in minutes.
    #[must_use]
    pub fn saves(&self, test: TestIndex) -> f64 {
        self.position().map_or(0.0, |position| position.saves(test))
    }

    /// Whether a test would change what is done: after one of its likelier outcomes one cause stands clear, or another leads.
    #[must_use]
    pub fn decides(&self, test: TestIndex) -> bool {
        self.position().is_some_and(|position| position.decides(test))
    }
}

/// The test of a pool that tells most for its cost, or nothing when it is time to go on. Where the person goes on all the same,
/// that is only where no test is worth its cost; where nothing is wrong by word alone, only where nothing seen or measured is.
pub(super) fn next(walk: &Posterior<'_>, pool: &[TestIndex]) -> Option<Candidate> {
    if walk.pace.is_over() {
        return None;
    }
    let open = admitted(walk, open_now(walk, pool));
    let position = walk.position()?;
    if walk.pace.further {
        return position.best(&position.ranked(open)).cloned();
    }
    if stop::is_settled(position.standing) && walk.is_clear_by_word_only() {
        let seen = open.filter(|priced| priced.state != State::Told);
        return position.best(&position.ranked(seen)).cloned();
    }
    position.next(open)
}

/// Tests from the one that tells most for its cost, those left out that are not to be made.
pub(super) fn ranked(walk: &Posterior<'_>, tests: impl Iterator<Item = TestIndex>) -> Vec<Candidate> {
    walk.position()
        .map_or_else(Vec::new, |position| position.ranked(admitted(walk, tests)))
}

/// The tests no hold bars, and none with power on before the safety look, with what each takes.
fn admitted(walk: &Posterior<'_>, tests: impl Iterator<Item = TestIndex>) -> impl Iterator<Item = Priced> {
    let safe = holds::is_proved_safe(walk);
    tests.map(|test| needs::priced(walk, test)).filter(move |priced| {
        (safe || !priced.state.is_powered()) && walk.leave(priced.test) != Leave::Barred
    })
}

/// The open tests of a pool that can be made now, told ones only as long as they are not told enough.
pub(super) fn open_now<'w>(
    walk: &'w Posterior<'_>,
    pool: &'w [TestIndex],
) -> impl Iterator<Item = TestIndex> + 'w {
    pool.iter().copied().filter(|test| {
        is_open(walk, *test)
            && !is_unable(walk, *test)
            && !walk.is_told_already(*test)
            && (!walk.is_told_enough(*test) || walk.decides(*test))
    })
}

/// Tests offered at once.
const OFFERED: usize = 16;

/// The tests of the nodes passed and of all pools that tell most for their cost, to choose from.
pub(super) fn offered(walk: &Posterior<'_>) -> Vec<TestIndex> {
    let Some(complaint) = walk.complaint() else {
        return Vec::new();
    };
    let pool: Vec<TestIndex> = order::authored(walk.knowledge, complaint);
    ranked(walk, open_now(walk, &pool))
        .into_iter()
        .filter(|candidate| candidate.bits >= stop::LEAST_BITS)
        .map(|candidate| candidate.test)
        .take(OFFERED)
        .collect()
}

/// Whether a test, or a reading it still needs, cannot be made now.
fn is_unable(walk: &Posterior<'_>, test: TestIndex) -> bool {
    walk.is_unable(test)
        || lacking(walk, test)
            .iter()
            .any(|wanting| matches!(wanting, Wanting::Reading(reading) if walk.is_unable(*reading)))
}

fn is_open(walk: &Posterior<'_>, test: TestIndex) -> bool {
    walk.applies(test)
        && match walk.knowledge.tests[test].kind {
            TestKind::Calculation { .. } => {
                walk.resolution(test) == Resolution::Open
                    && !wanting(walk, test, Depth::RequiredOnly).is_empty()
            }
            _ => !walk.answers.contains_key(&test),
        }
}

/// One line that says why a test was chosen.
pub(super) fn reason(walk: &Posterior<'_>, candidate: &Candidate) -> String {
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
fn splits(walk: &Posterior<'_>, test: TestIndex) -> String {
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
