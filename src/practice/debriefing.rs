//! Works out the debrief of a run that ended.

use crate::inference::{Answered, Standing, gain};
use crate::knowledge::model::TestIndex;

use super::advice;
use super::debrief::{Debrief, Parted, Pointer, Shows, Way};
use super::habit::Habit;
use super::session::Session;
use super::step::{Did, Ending};

/// Below this a finding hardly pointed anywhere. Our choice, no source.
const POINTS: f64 = 1.5;

/// Findings and tests named at most.
const MOST: usize = 5;

impl Debrief {
    /// Works it out; nothing while the run goes on.
    #[must_use]
    pub fn of(session: &Session<'_>) -> Option<Self> {
        let ending = session.ended()?;
        let engine = session.walked_by_the_engine();
        let (own, engine) = (way(session), way(&engine));
        let (pointed, away) = pointers(session);
        let mut debrief = Self {
            truth: session.hidden().truth(),
            named: match ending {
                Ending::Named(cause) => Some(cause),
                Ending::GaveUp => None,
            },
            stood: session.truth(),
            named_stood: match ending {
                Ending::Named(cause) => session.walk().standing().map(|standing| standing.of(cause)),
                Ending::GaveUp => None,
            },
            pointed,
            away,
            would_show: would_show(session),
            parted: parted(&own, &engine),
            own,
            engine,
            wrong: session.wrong().to_vec(),
            hints: session.hints(),
            habit: Habit::none(),
        };
        debrief.habit = advice::of(session, &debrief);
        Some(debrief)
    }
}

fn way(session: &Session<'_>) -> Way {
    Way {
        steps: session.steps().to_vec(),
        tests: session.tests(),
        minutes: session.minutes(),
        live: session.live(),
        worst: session.worst(),
        named: match session.ended() {
            Some(Ending::Named(cause)) => Some(cause),
            _ => None,
        },
        halted: session.is_halted(),
    }
}

/// Leaves each finding out in turn: by how much the truth stands better with it than without.
fn pointers(session: &Session<'_>) -> (Vec<Pointer>, Vec<Pointer>) {
    let walk = session.walk();
    let Some(model) = walk.model() else {
        return (Vec::new(), Vec::new());
    };
    let odds = |findings: &[Answered]| {
        let stands = Standing::new(model, findings).of(session.hidden().truth());
        // Kept off 0 and 1, where a ratio says nothing.
        let stands = stands.clamp(1e-9, 1.0 - 1e-9);
        stands / (1.0 - stands)
    };
    let all = odds(walk.findings());
    let mut pointers: Vec<Pointer> = walk
        .findings()
        .iter()
        .map(|finding| {
            let others: Vec<Answered> = walk
                .findings()
                .iter()
                .filter(|other| other.test != finding.test)
                .cloned()
                .collect();
            Pointer {
                test: finding.test,
                found: found_in(session, finding.test),
                times: all / odds(&others),
            }
        })
        .collect();
    pointers.sort_by(|a, b| b.times.total_cmp(&a.times).then(a.test.cmp(&b.test)));
    let away: Vec<Pointer> = pointers
        .iter()
        .rev()
        .filter(|one| one.times < 1.0 / POINTS)
        .take(MOST)
        .cloned()
        .collect();
    pointers.retain(|one| one.times > POINTS);
    pointers.truncate(MOST);
    (pointers, away)
}

fn found_in(session: &Session<'_>, test: TestIndex) -> String {
    let steps = session.steps().iter().rev();
    let made = steps
        .filter(|step| step.did == Did::Test(test))
        .map(|step| step.found.clone())
        .next();
    made.unwrap_or_else(|| {
        let knowledge = session.walk().knowledge();
        let known = session
            .walk()
            .findings()
            .iter()
            .find(|finding| finding.test == test);
        known.map_or_else(String::new, |finding| {
            knowledge.tests[test].outcomes[finding.outcome].label.clone()
        })
    })
}

/// Tests not made that show the fault itself, the cheapest first.
pub(super) fn would_show(session: &Session<'_>) -> Vec<Shows> {
    let knowledge = session.walk().knowledge();
    let made: Vec<Did> = session.steps().iter().map(|step| step.did).collect();
    let mut shows: Vec<(f64, Shows)> = session
        .hidden()
        .showing(knowledge)
        .into_iter()
        .filter(|test| !made.contains(&Did::Test(*test)))
        .filter_map(|test| {
            let known = &knowledge.tests[test];
            let outcome = session.hidden().outcome(test)?;
            let shows = Shows {
                test,
                found: known.outcomes[outcome].label.clone(),
                minutes: known.minutes,
            };
            Some((gain::cost(known, session.walk().state()), shows))
        })
        .collect();
    shows.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.test.cmp(&b.1.test)));
    shows.into_iter().map(|(_, shows)| shows).take(2).collect()
}

pub(super) fn parted(own: &Way, engine: &Way) -> Option<Parted> {
    let (own, engine) = (own.tests_made(), engine.tests_made());
    let after = own.iter().zip(&engine).take_while(|(a, b)| a == b).count();
    let parted = Parted {
        after,
        own: own.get(after).copied(),
        engine: engine.get(after).copied(),
    };
    (parted.own.is_some() || parted.engine.is_some()).then_some(parted)
}
