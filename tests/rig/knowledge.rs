//! The rig against the knowledge: every cause and every reading test has its model or its reason, and sound installations read sound.

use std::collections::{BTreeMap, BTreeSet};

use lineside::knowledge::model::{BoundOf, Knowledge, Outcome, TestIndex, TestKind, bound_figure};
use lineside::knowledge::{self};
use lineside::quantity::Quantity;
use lineside::rig::MODELED;
use lineside::rig::bench::{Because, Bench};
use lineside::rig::case::{self, Site};
use lineside::rig::course::Course;
use lineside::rig::faults::{self, Model};
use lineside::rig::installation::{Call, Installation};
use lineside::rig::states;

fn knowledge() -> Knowledge {
    knowledge::embedded().expect("the knowledge compiled in is sound")
}

fn readings(knowledge: &Knowledge) -> impl Iterator<Item = TestIndex> {
    let tests = knowledge.tests.iter().enumerate();
    tests
        .filter(|(_, test)| matches!(test.kind, TestKind::Reading { .. }))
        .map(|(place, _)| TestIndex(place))
}

#[test]
fn every_cause_has_a_model_or_a_reason() {
    let knowledge = knowledge();
    let models = faults::all().expect("the table can be read");
    let causes: BTreeSet<&str> = knowledge.causes.iter().map(|cause| cause.id.as_str()).collect();
    let named: BTreeSet<&str> = models.keys().map(String::as_str).collect();
    let lacks: Vec<&&str> = causes.difference(&named).collect();
    let beyond: Vec<&&str> = named.difference(&causes).collect();
    assert!(
        lacks.is_empty() && beyond.is_empty(),
        "`src/rig/faults.toml` lacks {lacks:?}, and names {beyond:?}, which are no causes. What a cause changes goes under \
         `fault`; where a meter reads what it reads in a sound installation, why under `sound`; else why under `unmodeled`"
    );
    let mut counts = [0; 3];
    for model in models.values() {
        match model {
            Model::Changes(ways) => {
                assert!(ways.iter().all(|way| !way.is_empty()));
                counts[0] += 1;
            }
            Model::Sound(why) | Model::Nothing(why) if why.len() < 4 => panic!("no reason: {model:?}"),
            Model::Sound(_) => counts[1] += 1,
            Model::Nothing(_) => counts[2] += 1,
        }
    }
    println!(
        "{} causes change values, {} read sound, {} without a model",
        counts[0], counts[1], counts[2]
    );
}

#[test]
fn every_reading_test_has_a_model() {
    let knowledge = knowledge();
    let tests: BTreeSet<&str> = readings(&knowledge)
        .map(|test| knowledge.tests[test].id.as_str())
        .collect();
    let named: BTreeSet<&str> = MODELED.iter().copied().collect();
    let lacks: Vec<&&str> = tests.difference(&named).collect();
    let beyond: Vec<&&str> = named.difference(&tests).collect();
    assert!(
        lacks.is_empty() && beyond.is_empty(),
        "`src/rig/readings.rs` lacks {lacks:?}, and names {beyond:?}, which are no reading tests"
    );
}

/// The outcome a reading falls in; nothing where its bound needs a figure that is not known.
fn outcome<'k>(
    knowledge: &'k Knowledge,
    test: TestIndex,
    value: f64,
    fact: &dyn Fn(&str) -> Option<f64>,
    reading: &dyn Fn(TestIndex) -> Option<f64>,
) -> Option<&'k Outcome> {
    let test = &knowledge.tests[test];
    let TestKind::Reading { unit, .. } = test.kind else {
        return None;
    };
    for outcome in test.outcomes.iter().filter(|outcome| outcome.bound.is_some()) {
        let bound = outcome.bound.as_ref()?;
        let of = match bound.of {
            None => None,
            Some(BoundOf::Fact(of)) => Some(fact(&knowledge.facts[of].id)?),
            Some(BoundOf::Reading(of)) => Some(reading(of)?),
        };
        let of = of.and_then(|of| Quantity::new(unit, of));
        let figure = bound_figure(bound, of)?;
        if bound.below && value < figure || !bound.below && value > figure {
            return Some(outcome);
        }
    }
    test.outcomes.iter().find(|outcome| outcome.bound.is_none())
}

/// A fact as the plate of the rig has it.
fn of_plate(bench: &Bench) -> impl Fn(&str) -> Option<f64> {
    let plate = bench.installation.plate.clone();
    let device = bench.installation.rating();
    move |id| match id {
        "nameplate-voltage" => Some(plate.nameplate_volts),
        "protective-device-rating" | "panel-breaker-rating" => Some(device),
        "main-breaker-rating" => Some(plate.main),
        "rated-load-current" => Some(plate.rated_load),
        "locked-rotor-current" => Some(plate.locked_rotor),
        "fan-full-load-current" => Some(plate.fan),
        "blower-full-load-current" => Some(plate.blower),
        "run-capacitor-rating" => Some(1e-6 * plate.microfarad),
        "control-minimum-flame-current" => Some(1e-6 * plate.least_flame),
        "unit-running-current" => {
            let own = if bench_has_indoor(&plate.parts) {
                0.0
            } else {
                plate.blower + plate.draft
            };
            Some((plate.rated_load + plate.fan + own).max(plate.heater / plate.volts + own))
        }
        _ => None,
    }
}

fn bench_has_indoor(parts: &[String]) -> bool {
    let has = |part: &str| parts.iter().any(|own| own == part);
    has("outdoor-control-cable") || has("circuit-neutral") && has("disconnect")
}

/// What nothing wrong reads must be what the knowledge calls right, on all equipment. Left out: what is right depends on a house.
#[test]
fn a_sound_installation_reads_sound() {
    let knowledge = knowledge();
    let mut wrong = Vec::new();
    for equipment in knowledge.equipment.iter().filter(|kind| !kind.parts.is_empty()) {
        let bare = equipment.fitted_with(&[]);
        for mode in [Call::Cooling, Call::Heat] {
            let plate = case::plate(&bare, &|_| None);
            if mode == Call::Cooling && plate.rated_load == 0.0 {
                continue;
            }
            let bench = Bench::new(Installation::sound(plate), mode);
            let fact = of_plate(&bench);
            for test in readings(&knowledge).filter(|test| knowledge.tests[*test].applies_to(&bare)) {
                let known = &knowledge.tests[test];
                let read = match bench.reading(&known.id) {
                    Ok(read) => read,
                    Err(Because::NoSuchPart | Because::DoesNotRun) => continue,
                    Err(because) => panic!("{} {}: {because:?}", bare.id, known.id),
                };
                let other = |of: TestIndex| bench.reading(&knowledge.tests[of].id).ok();
                let found = outcome(&knowledge, test, read, &fact, &other);
                let defect = found.is_some_and(|found| found.defect.is_some() || !found.raises.is_empty());
                if defect {
                    let id = &found.expect("found").id;
                    wrong.push(format!("{} {mode:?} {}: {read} is `{id}`", bare.id, known.id));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// A cause whose direct finding is a reading: where the fault is grave, the meter must show the finding on most equipment.
#[test]
fn grave_faults_show_their_direct_findings() {
    let knowledge = knowledge();
    let mut hits: BTreeMap<(String, String), [usize; 2]> = BTreeMap::new();
    for (place, cause) in knowledge.causes.iter().enumerate() {
        let kinds = knowledge.equipment.iter().filter(|kind| !kind.parts.is_empty());
        let bare = kinds.map(|kind| kind.fitted_with(&[]));
        // Every third kind: enough to see it, and a minute less.
        for bare in bare.filter(|kind| cause.applies_to(kind)).step_by(3) {
            let Ok(site) = Site::sample(&bare, cause, Some(0.9), place as u64) else {
                continue;
            };
            let fact = of_plate(&site.bench);
            for test in readings(&knowledge).filter(|test| knowledge.tests[*test].applies_to(&bare)) {
                let known = &knowledge.tests[test];
                let (Some((best, chance)), Ok(read)) = (finding(known, place), site.bench.reading(&known.id))
                else {
                    continue;
                };
                if chance < 0.6 {
                    continue;
                }
                let other = |of: TestIndex| site.bench.reading(&knowledge.tests[of].id).ok();
                let shown = outcome(&knowledge, test, read, &fact, &other);
                let entry = hits.entry((cause.id.clone(), known.id.clone())).or_default();
                entry[usize::from(shown.is_some_and(|shown| shown.id == best))] += 1;
            }
        }
    }
    let (mut agree, mut not) = (0, Vec::new());
    for ((cause, test), [misses, hits]) in &hits {
        if hits > misses {
            agree += 1
        } else {
            not.push(format!("{cause} at {test}: {hits} of {}", hits + misses))
        }
    }
    println!(
        "{agree} of {} direct readings show what the knowledge says; not:\n{}",
        hits.len(),
        not.join("\n")
    );
    assert!(
        10 * agree >= 8 * hits.len(),
        "{agree} of {}\n{}",
        hits.len(),
        not.join("\n")
    );
}

/// Every test has a model, follows from states that an installation decides, or is listed as neither.
#[test]
fn every_test_is_modeled_from_states_or_listed() {
    let knowledge = knowledge();
    let listed: BTreeMap<String, Vec<String>> = states::looks_without_model(&knowledge).into_iter().collect();
    assert!(listed.len() > 20, "{}", listed.len());
    for test in &knowledge.tests {
        let shows = test.outcomes.iter().flat_map(|outcome| &outcome.shows);
        let mut shows = shows.map(|shown| knowledge.effects[shown.effect].id.as_str());
        let from_states = shows.any(|effect| states::DECIDED.contains(&effect));
        let counted = match test.kind {
            TestKind::Reading { .. } => MODELED.contains(&test.id.as_str()),
            TestKind::Calculation { .. } => true,
            TestKind::Look => from_states != listed.contains_key(&test.id),
        };
        assert!(counted, "{}", test.id);
    }
}

/// The list of what an installation decides is what it decides: over all causes, on every third kind of equipment.
#[test]
fn what_is_said_to_be_decided_is() {
    let knowledge = knowledge();
    let mut decided: BTreeSet<&str> = BTreeSet::new();
    for (truth, cause) in knowledge.causes.indexed() {
        let kinds = knowledge.equipment.iter().filter(|kind| !kind.parts.is_empty());
        let bare = kinds.map(|kind| kind.fitted_with(&[]));
        for bare in bare.filter(|kind| cause.applies_to(kind)).step_by(3) {
            let Ok(site) = Site::sample(&bare, cause, Some(0.9), truth.0 as u64) else {
                continue;
            };
            // A supply so bad that no load settles on it.
            let Ok(course) = Course::of(&site) else { continue };
            let of_call = states::of_call(&knowledge, truth, None, &site, &course);
            decided.extend(of_call.iter().map(|(effect, _)| *effect));
        }
    }
    let listed: BTreeSet<&str> = states::DECIDED.into_iter().collect();
    assert_eq!(decided, listed);
}

/// The outcome that finds a cause, with its share.
fn finding(test: &lineside::knowledge::model::Test, cause: usize) -> Option<(String, f64)> {
    let mut best: Option<(String, f64)> = None;
    for outcome in &test.outcomes {
        if let Some((_, chance)) = outcome.finds.iter().find(|(of, _)| of.0 == cause)
            && *chance > 3.0 * outcome.usual
            && best.as_ref().is_none_or(|(_, most)| chance > most)
        {
            best = Some((outcome.id.clone(), *chance));
        }
    }
    best
}

/// The same seed gives the same site, and its meter reads near the truth.
#[test]
fn a_meter_is_off_by_no_more_than_its_error() {
    let knowledge = knowledge();
    let equipment = knowledge.equipment("package-unit").expect("it is known");
    let bare = knowledge.equipment[equipment].fitted_with(&[]);
    let cause = &knowledge.causes[knowledge.cause("loose-disconnect-lug").expect("it is known")];
    let mut different = 0;
    for seed in 0..20 {
        let [one, two] = [(); 2].map(|()| Site::sample(&bare, cause, None, seed).expect("it has a model"));
        for test in readings(&knowledge) {
            let read = one.read(&knowledge, test);
            assert_eq!(read, two.read(&knowledge, test));
            let (Ok(read), Ok(truth)) = (read, one.bench.reading(&knowledge.tests[test].id)) else {
                continue;
            };
            let within = if truth == one.bench.installation.values.panel_air {
                1.1
            } else {
                0.021 * truth.abs() + 0.11
            };
            assert!(
                (read.base - truth).abs() <= within,
                "{}: {read:?} of {truth}",
                knowledge.tests[test].id
            );
            different += usize::from((read.base - truth).abs() > 1e-3 * truth.abs());
        }
    }
    assert!(different > 100, "the meter must have an error");
}
