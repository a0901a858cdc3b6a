//! What one test would tell: the reading each cause would give, the outcome that is, and how far it parts the causes.

use crate::knowledge::model::{BoundOf, Knowledge, OutcomeIndex, TestIndex};
use crate::quantity::{Kind, Quantity, Value};
use crate::walk::Walk;

use super::super::bench::Because;
use super::super::case::{Site, scale};
use super::super::meter;
use super::causes::{Compared, Look, Supposed};
use super::{Line, Reading, TestForeseen, Way};

/// What two readings of the same outcome count beside two of different ones: the walk goes on alike, but a person sees them differ.
/// Our choice, no source.
const SAME_OUTCOME: f64 = 0.5;

/// Figures of a reading that is calculated: it is no better than the meter's one or two percent.
const FIGURES: i32 = 3;

/// What is read at one site, and the outcome that is.
#[derive(Clone, Copy, PartialEq)]
struct Read {
    found: Result<Quantity, Because>,
    outcome: Option<OutcomeIndex>,
}

/// What is read where a cause looks one way: mild, typical, severe.
type Looked = [Read; 3];

const TYPICAL: usize = 1;

/// What a test would tell; nothing where the sound installation has no such reading, or the meter cannot tell any two apart.
pub(super) fn of(walk: &Walk<'_>, compared: &Compared, test: TestIndex) -> Option<TestForeseen> {
    let read: Vec<Vec<Looked>> = compared
        .supposed
        .iter()
        .map(|supposed| looked(walk, supposed, test))
        .collect();
    read[0][0][TYPICAL].found.ok()?;
    let typical: Vec<Read> = read.iter().flatten().map(|look| look[TYPICAL]).collect();
    let differ = |a: &Read| typical.iter().any(|b| apart(*a, *b) > 0.0);
    if !typical.iter().any(differ) {
        return None;
    }
    let knowledge = walk.knowledge();
    let known = &knowledge.tests[test.0];
    let lines = compared.supposed.iter().zip(&read);
    Some(TestForeseen {
        test: known.id.clone(),
        name: known.name.clone(),
        state: known.state,
        hazard: known.hazard,
        minutes: known.minutes,
        job: known.job,
        tells: tells(compared, &read),
        lines: lines
            .map(|(supposed, looks)| line(knowledge, test, supposed, looks))
            .collect(),
    })
}

fn looked(walk: &Walk<'_>, supposed: &Supposed, test: TestIndex) -> Vec<Looked> {
    let read = |look: &Look| look.sites().map(|site| read(walk, supposed, site, test));
    supposed.looks.iter().map(read).collect()
}

fn read(walk: &Walk<'_>, supposed: &Supposed, site: &Site, test: TestIndex) -> Read {
    let knowledge = walk.knowledge();
    let found = site.read(knowledge, test);
    // A figure of the case goes before one of the plate; another reading is that of the same installation.
    let of = |what| match what {
        BoundOf::Reading(other) => site.read(knowledge, other).ok(),
        BoundOf::Fact(fact) => {
            let given = walk.fact(fact).flatten().and_then(Value::quantity);
            given.or_else(|| supposed.facts.get(fact.0)?.as_ref()?.quantity())
        }
    };
    let outcome = found.ok().and_then(|reading| walk.would_be(test, reading, &of));
    Read { found, outcome }
}

/// Whether a meter tells two readings apart, and what that counts; 0 where it does not.
fn apart(a: Read, b: Read) -> f64 {
    match (a.found, b.found) {
        (Ok(one), Ok(other)) => {
            let off = |reading: Quantity| scale(reading.kind).map(|scale| meter::most_off(scale, reading.base));
            let most = off(one).zip(off(other)).map(|(one, other)| one + other);
            match most {
                Some(most) if (one.base - other.base).abs() > most => {
                    if a.outcome == b.outcome {
                        SAME_OUTCOME
                    } else {
                        1.0
                    }
                }
                _ => 0.0,
            }
        }
        (Err(why), Ok(_)) | (Ok(_), Err(why)) => f64::from(u8::from(is_seen(why))),
        (Err(one), Err(other)) => f64::from(u8::from(one != other && is_seen(one) && is_seen(other))),
    }
}

/// Whether the person sees why there is no reading; else the rig only cannot say.
fn is_seen(why: Because) -> bool {
    matches!(why, Because::Trips | Because::DoesNotRun)
}

/// The chance that two causes drawn by their standing are read apart.
fn tells(compared: &Compared, read: &[Vec<Looked>]) -> f64 {
    let weights: Vec<f64> = compared.supposed.iter().map(|supposed| supposed.weight).collect();
    let all: f64 = weights.iter().sum();
    let mut sum = 0.0;
    for (a, one) in read.iter().enumerate() {
        for (b, other) in read.iter().enumerate().skip(a + 1) {
            let pairs = || one.iter().flatten().flat_map(|x| other.iter().flatten().map(move |y| (x, y)));
            let count = pairs().count();
            let parted: f64 = pairs().map(|(x, y)| apart(*x, *y)).sum();
            if count > 0 {
                sum += 2.0 * weights[a] * weights[b] * parted / count as f64;
            }
        }
    }
    if all > 0.0 { sum / (all * all) } else { 0.0 }
}

/// One cause at one test: the looks that come to the same outcome are one way.
fn line(knowledge: &Knowledge, test: TestIndex, supposed: &Supposed, looks: &[Looked]) -> Line {
    let mut ways: Vec<(Read, Vec<Read>)> = Vec::new();
    for look in looks {
        let typical = look[TYPICAL];
        let alike = |way: &&mut (Read, Vec<Read>)| {
            way.0.outcome == typical.outcome && way.0.found.err() == typical.found.err()
        };
        match ways.iter_mut().find(alike) {
            Some((_, all)) => all.extend(look),
            None => ways.push((typical, look.to_vec())),
        }
    }
    let cause = supposed.cause.map(|cause| &knowledge.causes[cause.0]);
    Line {
        cause: cause.map(|cause| cause.id.clone()),
        name: cause.map_or("nothing wrong here", |cause| &cause.name).to_owned(),
        ways: ways
            .into_iter()
            .map(|(typical, all)| way(knowledge, test, typical, &all))
            .collect(),
    }
}

fn way(knowledge: &Knowledge, test: TestIndex, typical: Read, all: &[Read]) -> Way {
    let outcome = typical
        .outcome
        .map(|outcome| &knowledge.tests[test.0].outcomes[outcome.0]);
    let read = || all.iter().filter_map(|read| read.found.ok());
    let least = read().min_by(|a, b| a.base.total_cmp(&b.base));
    let most = read().max_by(|a, b| a.base.total_cmp(&b.base));
    let none = typical.found.err().or_else(|| all.iter().find_map(|read| read.found.err()));
    Way {
        outcome: outcome.map(|outcome| outcome.id.clone()),
        label: outcome.map(|outcome| outcome.label.clone()),
        typical: typical.found.ok().map(reading),
        range: least.zip(most).map(|(least, most)| [reading(least), reading(most)]),
        no_reading: none.map(|why| in_words(why).to_owned()),
    }
}

fn reading(quantity: Quantity) -> Reading {
    Reading {
        value: quantity.base,
        unit: quantity.kind.base_symbol().to_owned(),
        shown: match quantity.kind {
            Kind::Temperature => quantity.in_both_scales(),
            _ => quantity.keyed(FIGURES),
        },
    }
}

fn in_words(why: Because) -> &'static str {
    match why {
        Because::Trips => "the breaker trips at once",
        Because::DoesNotRun => "what should run for it does not",
        Because::NoSuchPart => "there is no such part",
        Because::NoSolution | Because::NoModel => "it cannot be worked out",
    }
}
