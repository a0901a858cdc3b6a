//! After a run: the truth, what pointed to it, the way taken beside the engine's, and the one habit to change.

use crate::inference::{Finding, Standing, gain};
use crate::knowledge::model::{CauseIndex, Hazard, Knowledge, TestIndex};

use super::habit::{self, Habit};
use super::session::Session;
use super::step::{Did, Ending, Step, Unsafe};

/// A way through an exercise.
#[derive(Clone, Debug, PartialEq)]
pub struct Way {
    /// Its steps.
    pub steps: Vec<Step>,
    /// Looks, readings and told things.
    pub tests: usize,
    /// Minutes.
    pub minutes: f64,
    /// Steps with live parts or flame.
    pub live: usize,
    /// The worst a step could do to a person.
    pub worst: Hazard,
    /// The cause named at its end; the engine names what leads.
    pub named: Option<CauseIndex>,
    /// It was stopped for safety.
    pub halted: bool,
}

/// What a finding did for the truth.
#[derive(Clone, Debug, PartialEq)]
pub struct Pointer {
    /// The test.
    pub test: TestIndex,
    /// What was found.
    pub found: String,
    /// How many times likelier it made the truth, beside all else that was found; below 1 it pointed away.
    pub times: f64,
}

/// Where the two ways parted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Parted {
    /// Tests made alike before.
    pub after: usize,
    /// What the apprentice did there; nothing when the way ended.
    pub own: Option<TestIndex>,
    /// What the engine did there.
    pub engine: Option<TestIndex>,
}

/// A test that shows the fault itself and was not made.
#[derive(Clone, Debug, PartialEq)]
pub struct Shows {
    /// The test.
    pub test: TestIndex,
    /// What it would have come to.
    pub found: String,
    /// Its minutes.
    pub minutes: f64,
}

/// Everything said at the end.
#[derive(Clone, Debug, PartialEq)]
pub struct Debrief {
    /// What was wrong.
    pub truth: CauseIndex,
    /// What was named; nothing when the truth was asked for.
    pub named: Option<CauseIndex>,
    /// Probability of the truth by what the apprentice had found.
    pub stood: f64,
    /// Probability of what was named, likewise; nothing when the truth was asked for.
    pub named_stood: Option<f64>,
    /// What was found that pointed to the truth, the strongest first.
    pub pointed: Vec<Pointer>,
    /// What was found that pointed away.
    pub away: Vec<Pointer>,
    /// What would have shown the fault itself and was not made, the cheapest first.
    pub would_show: Vec<Shows>,
    /// The apprentice's way.
    pub own: Way,
    /// The engine's.
    pub engine: Way,
    /// Where they parted; nothing when they did not.
    pub parted: Option<Parted>,
    /// Unsafe choices.
    pub wrong: Vec<Unsafe>,
    /// Hints asked for.
    pub hints: usize,
    /// What to do otherwise the next time.
    pub habit: Habit,
}

/// Below this a finding hardly pointed anywhere. Our choice, no source.
const POINTS: f64 = 1.5;

/// Findings and tests named at most.
const MOST: usize = 5;

impl Debrief {
    /// Whether the cause that was named is the truth.
    #[must_use]
    pub fn is_right(&self) -> bool {
        self.named == Some(self.truth)
    }

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
        debrief.habit = habit::of(session, &debrief);
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
    let odds = |findings: &[Finding]| {
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
            let others: Vec<Finding> = walk
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
            knowledge.tests[test.0].outcomes[finding.outcome.0].label.clone()
        })
    })
}

/// Tests not made that show the fault itself, the cheapest first.
fn would_show(session: &Session<'_>) -> Vec<Shows> {
    let knowledge = session.walk().knowledge();
    let made: Vec<Did> = session.steps().iter().map(|step| step.did).collect();
    let mut shows: Vec<(f64, Shows)> = session
        .hidden()
        .showing(knowledge)
        .into_iter()
        .filter(|test| !made.contains(&Did::Test(*test)))
        .filter_map(|test| {
            let known = &knowledge.tests[test.0];
            let outcome = session.hidden().outcome(test)?;
            let shows = Shows {
                test,
                found: known.outcomes[outcome.0].label.clone(),
                minutes: known.minutes,
            };
            Some((gain::cost(known, session.walk().state()), shows))
        })
        .collect();
    shows.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.test.cmp(&b.1.test)));
    shows.into_iter().map(|(_, shows)| shows).take(2).collect()
}

/// The tests of a way, in order.
fn tests(way: &Way) -> Vec<TestIndex> {
    way.steps
        .iter()
        .filter_map(|step| match step.did {
            Did::Test(test) => Some(test),
            Did::Fact(_) => None,
        })
        .collect()
}

fn parted(own: &Way, engine: &Way) -> Option<Parted> {
    let (own, engine) = (tests(own), tests(engine));
    let after = own.iter().zip(&engine).take_while(|(a, b)| a == b).count();
    let parted = Parted {
        after,
        own: own.get(after).copied(),
        engine: engine.get(after).copied(),
    };
    (parted.own.is_some() || parted.engine.is_some()).then_some(parted)
}

/// The test not made that tells two causes apart best for its minutes, by how differently they have it come out.
pub(super) fn tells_apart(
    session: &Session<'_>,
    knowledge: &Knowledge,
    first: CauseIndex,
    second: CauseIndex,
) -> Option<TestIndex> {
    let model = session.walk().model()?;
    let (first, second) = (model.place(first)?, model.place(second)?);
    let made: Vec<Did> = session.steps().iter().map(|step| step.did).collect();
    let score = |test: TestIndex| -> Option<f64> {
        let likelihoods = model.likelihoods(test)?;
        let (one, other) = (likelihoods.row(first), likelihoods.row(second));
        let apart: f64 = one.iter().zip(other).map(|(a, b)| (a - b).abs()).sum::<f64>() / 2.0;
        // Another calculation or reading of the same thing is no better for being quick.
        Some(apart / (5.0 + gain::cost(&knowledge.tests[test.0], session.walk().state())).sqrt())
    };
    (0..knowledge.tests.len())
        .map(TestIndex)
        .filter(|test| !made.contains(&Did::Test(*test)) && session.hidden().outcome(*test).is_some())
        .filter_map(|test| Some((score(test)?, test)))
        .max_by(|a, b| a.0.total_cmp(&b.0).then(b.1.cmp(&a.1)))
        .map(|(_, test)| test)
}
