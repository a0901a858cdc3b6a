//! What one test would tell: the reading each cause would give, the outcome that is, and how far it parts the causes.

use crate::knowledge::model::{BoundOf, Knowledge, OutcomeIndex, TestIndex, bound_figure};
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

/// Share of the smallest limit of a test by which two readings of one outcome must differ to count: a few microamperes, where the test
/// asks for more than 50 milliamperes, are strays of typical values. Our choice, no source.
const OF_LIMIT: f64 = 0.05;

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

/// What a test would tell.
pub(super) struct Told {
    pub(super) foreseen: TestForeseen,
    /// By place among what is compared: whether some look of the one is read apart from every look of the other.
    pub(super) parts: Vec<Vec<bool>>,
}

/// Works it out; nothing where the sound installation has no reading that can be judged, or the meter cannot tell any two apart.
pub(super) fn of(walk: &Walk<'_>, compared: &Compared, test: TestIndex) -> Option<Told> {
    let read: Vec<Vec<Looked>> = compared
        .supposed
        .iter()
        .map(|supposed| looked(walk, supposed, test))
        .collect();
    // What cannot be judged here, for want of a figure, would only be a number.
    read[0][0][TYPICAL].outcome?;
    let limit = smallest_limit(walk, &compared.supposed[0], test);
    let least = OF_LIMIT * limit;
    let parts: Vec<Vec<bool>> = read
        .iter()
        .map(|one| read.iter().map(|other| parts(one, other, least)).collect())
        .collect();
    if !parts.iter().flatten().any(|parted| *parted) {
        return None;
    }
    let digit = digit(limit);
    let knowledge = walk.knowledge();
    let known = &knowledge.tests[test];
    let lines = compared.supposed.iter().zip(&read);
    let foreseen = TestForeseen {
        test: known.id.clone(),
        name: known.name.clone(),
        state: known.state,
        hazard: known.hazard,
        minutes: known.minutes,
        job: known.job,
        tells: tells(compared, &read, least),
        lines: lines
            .map(|(supposed, looks)| line(knowledge, test, supposed, looks, digit))
            .collect(),
    };
    Some(Told { foreseen, parts })
}

/// Whether some look of the one or the other is read apart from every look of its counterpart.
fn parts(one: &[Looked], other: &[Looked], least: f64) -> bool {
    let from_all =
        |a: &Looked, all: &[Looked]| all.iter().all(|b| apart(a[TYPICAL], b[TYPICAL], least) > 0.0);
    one.iter().any(|look| from_all(look, other)) || other.iter().any(|look| from_all(look, one))
}

fn looked(walk: &Walk<'_>, supposed: &Supposed, test: TestIndex) -> Vec<Looked> {
    let read = |look: &Look| look.sites().map(|site| read(walk, supposed, site, test));
    supposed.looks.iter().map(read).collect()
}

fn read(walk: &Walk<'_>, supposed: &Supposed, site: &Site, test: TestIndex) -> Read {
    let found = site.read(walk.knowledge(), test);
    let of = |what| held_against(walk, supposed, site, what);
    let outcome = found.ok().and_then(|reading| walk.would_be(test, reading, &of));
    Read { found, outcome }
}

/// What a limit multiplies. A figure of the case goes before one of the plate; another reading is that of the same installation.
fn held_against(walk: &Walk<'_>, supposed: &Supposed, site: &Site, what: BoundOf) -> Option<Quantity> {
    match what {
        BoundOf::Reading(other) => site.read(walk.knowledge(), other).ok(),
        BoundOf::Fact(fact) => {
            let given = walk.fact(fact).flatten().and_then(Value::quantity);
            given.or_else(|| supposed.facts.get(fact)?.as_ref()?.quantity())
        }
    }
}

/// The smallest figure a reading is held against in the sound installation, in base units; 0 where it is held against none.
fn smallest_limit(walk: &Walk<'_>, sound: &Supposed, test: TestIndex) -> f64 {
    let outcomes = &walk.knowledge().tests[test].outcomes;
    let site = &sound.looks[0].typical;
    let limits = outcomes.iter().filter_map(|outcome| {
        let bound = outcome.bound.as_ref()?;
        let of = bound.of.and_then(|what| held_against(walk, sound, site, what));
        bound_figure(bound, of).map(f64::abs)
    });
    limits
        .filter(|limit| *limit > 0.0)
        .min_by(f64::total_cmp)
        .unwrap_or(0.0)
}

/// The last digit of the range the meter is on: a hundredth of the smallest limit, or a little less. Our choice, no source.
fn digit(limit: f64) -> f64 {
    if limit > 0.0 {
        10f64.powf((limit / 100.0).log10().floor())
    } else {
        0.0
    }
}

/// Whether two readings are farther apart than both can be off.
fn shows_apart(one: Quantity, other: Quantity) -> bool {
    let off = |reading: Quantity| scale(reading.kind).map(|scale| meter::most_off(scale, reading.base));
    let most = off(one).zip(off(other)).map(|(one, other)| one + other);
    most.is_some_and(|most| (one.base - other.base).abs() > most)
}

/// What it counts that a meter tells two readings apart; 0 where it does not.
fn apart(a: Read, b: Read, least: f64) -> f64 {
    match (a.found, b.found) {
        (Ok(one), Ok(other)) if shows_apart(one, other) && a.outcome != b.outcome => 1.0,
        (Ok(one), Ok(other)) if shows_apart(one, other) && (one.base - other.base).abs() > least => {
            SAME_OUTCOME
        }
        // That it trips or does not run is seen before a meter is out.
        _ => 0.0,
    }
}

/// The chance that two causes sampled by their standing are read apart.
fn tells(compared: &Compared, read: &[Vec<Looked>], least: f64) -> f64 {
    let weights: Vec<f64> = compared.supposed.iter().map(|supposed| supposed.weight).collect();
    let all: f64 = weights.iter().sum();
    let mut sum = 0.0;
    for (a, one) in read.iter().enumerate() {
        for (b, other) in read.iter().enumerate().skip(a + 1) {
            let pairs = || {
                one.iter()
                    .flatten()
                    .flat_map(|x| other.iter().flatten().map(move |y| (x, y)))
            };
            let count = pairs().count();
            let parted: f64 = pairs().map(|(x, y)| apart(*x, *y, least)).sum();
            if count > 0 {
                sum += 2.0 * weights[a] * weights[b] * parted / count as f64;
            }
        }
    }
    if all > 0.0 { sum / (all * all) } else { 0.0 }
}

/// One cause at one test: the looks that come to the same outcome are one way.
fn line(knowledge: &Knowledge, test: TestIndex, supposed: &Supposed, looks: &[Looked], digit: f64) -> Line {
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
    let cause = supposed.cause.map(|cause| &knowledge.causes[cause]);
    Line {
        cause: cause.map(|cause| cause.id.clone()),
        name: supposed.name(knowledge).to_owned(),
        ways: ways
            .into_iter()
            .map(|(typical, all)| way(knowledge, test, typical, &all, digit))
            .collect(),
    }
}

fn way(knowledge: &Knowledge, test: TestIndex, typical: Read, all: &[Read], digit: f64) -> Way {
    let outcome = typical
        .outcome
        .map(|outcome| &knowledge.tests[test].outcomes[outcome]);
    let read = || all.iter().filter_map(|read| read.found.ok());
    let least = read().min_by(|a, b| a.base.total_cmp(&b.base));
    let most = read().max_by(|a, b| a.base.total_cmp(&b.base));
    let none = typical
        .found
        .err()
        .or_else(|| all.iter().find_map(|read| read.found.err()));
    Way {
        outcome: outcome.map(|outcome| outcome.id.clone()),
        label: outcome.map(|outcome| outcome.label.clone()),
        typical: typical.found.ok().map(|typical| reading(typical, digit)),
        range: least
            .zip(most)
            .map(|(least, most)| [reading(least, digit), reading(most, digit)]),
        no_reading: none.map(|why| in_words(why).to_owned()),
    }
}

/// A reading as the meter shows it on the range for this test.
fn reading(quantity: Quantity, digit: f64) -> Reading {
    let rounded = if digit > 0.0 {
        (quantity.base / digit).round() * digit
    } else {
        quantity.base
    };
    let quantity = Quantity {
        base: rounded,
        ..quantity
    };
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
        Because::DoesNotRun => "it does not run",
        Because::NoSuchPart => "there is no such part",
        Because::NoSolution | Because::NoModel => "it cannot be worked out",
    }
}
