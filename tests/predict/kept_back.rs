//! What is not shown: tests already made, tests a hold stops, everything after a stop; and causes that are not put in.

use std::fs;

use lineside::report::predicted;
use lineside::rig::faults::{self, Model};
use lineside::rig::plates;
use lineside::rig::predict::{self, Prediction};
use lineside::walk::{Event, Given};

use super::{LAYOUT, MOTOR, at, example, knowledge, typical, walked};

#[test]
fn a_test_already_made_is_not_shown() {
    let knowledge = knowledge();
    let before = predict::of(&walked(&knowledge, MOTOR)).unwrap();
    let amps = typical(&before, "unit-current-running", None);
    let after = predict::of(&walked(
        &knowledge,
        &format!("{MOTOR}unit-current-running = '{amps:.1} A'\n"),
    ))
    .unwrap();
    assert!(after.tests.iter().all(|test| test.test != "unit-current-running"));
    assert!(!after.tests.is_empty());
    let mut not_taken = walked(&knowledge, MOTOR);
    not_taken
        .apply(&Event::Answer {
            test: "unit-current-running".to_owned(),
            given: Given::CouldNotCheck,
            volunteered: true,
            typed: String::new(),
        })
        .unwrap();
    at(&predict::of(&not_taken).unwrap(), "unit-current-running");
}

fn powered(prediction: &Prediction) -> usize {
    prediction
        .tests
        .iter()
        .filter(|test| test.state.is_powered())
        .count()
}

#[test]
fn a_hold_keeps_back_what_it_stops_and_says_why() {
    let knowledge = knowledge();
    assert!(powered(&predict::of(&walked(&knowledge, MOTOR)).unwrap()) > 3);
    let live = format!("{MOTOR}metal-volts-running = '90 V'\n");
    for (answers, hold) in [
        (live, "live-metal"),
        (MOTOR.replace("hazard-look = 'none'", ""), "not-looked"),
    ] {
        let walk = walked(&knowledge, &answers);
        let prediction = predict::of(&walk).unwrap();
        assert_eq!(powered(&prediction), 0, "{hold}");
        let held = prediction.held.iter().find(|held| held.hold == hold).unwrap();
        assert!(held.readings > 10, "{held:?}");
        let text = predicted::render(&prediction, LAYOUT);
        let flat = text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(flat.contains(&held.says), "{flat}");
        for test in &prediction.tests {
            assert_eq!(walk.stopped(knowledge.test(&test.test).unwrap()), None);
        }
    }
}

#[test]
fn after_a_stop_for_safety_nothing_is_shown_but_the_stop() {
    let knowledge = knowledge();
    let stopped = fs::read_to_string(example("two-boards-later.toml")).unwrap();
    let prediction = predict::of(&walked(&knowledge, &stopped)).unwrap();
    assert!(prediction.tests.is_empty());
    let said = prediction.stopped.as_ref().unwrap();
    assert!(said.contains("Call: "), "{said}");
    let text = predicted::render(&prediction, LAYOUT);
    assert!(
        text.contains("STOPPED FOR SAFETY") && !text.contains("READINGS"),
        "{text}"
    );
}

/// The length and size that were given are what a thin or long conductor is: changing them again would count the fault twice.
#[test]
fn what_the_facts_say_is_not_changed_again_and_what_has_no_model_says_so() {
    for (cause, key, fact) in [
        (
            "breaker-larger-than-nameplate-max",
            "breaker-size",
            Some("protective-device-rating"),
        ),
        ("old-circuit-new-bigger-unit", "wire", Some("conductor-size")),
        ("long-run-voltage-drop", "wire", Some("conductor-length")),
        ("generator-cord-too-thin", "wire", None),
    ] {
        assert_eq!(plates::said_by(cause, key), fact, "{cause}");
    }
    let knowledge = knowledge();
    let mut said = 0;
    let mut unmodeled = 0;
    for (tree, _) in knowledge.complaints() {
        if !tree
            .fit
            .fits(&knowledge.equipment[knowledge.equipment("package-unit").unwrap()])
        {
            continue;
        }
        let answers = format!(
            "complaint = '{}'\nequipment = 'package-unit'\n[facts]\nconductor-size = '12'\nconductor-length = '150 ft'\n\
             protective-device-rating = '60 A'\nheater-power = '9600 W'\n[answers]\nhazard-look = 'none'\n",
            tree.id
        );
        let prediction = predict::of(&walked(&knowledge, &answers)).unwrap();
        for cause in [
            "long-run-voltage-drop",
            "undersized-branch-conductor",
            "old-circuit-new-bigger-unit",
        ] {
            assert!(
                prediction.causes.iter().all(|compared| compared.cause != cause),
                "{cause}"
            );
        }
        said += prediction
            .as_sound
            .iter()
            .filter(|aside| aside.why.contains("in the facts given"))
            .count();
        for aside in &prediction.no_model {
            assert_eq!(faults::of(&aside.cause), Some(&Model::Nothing(aside.why.clone())));
            let text = predicted::render(&prediction, LAYOUT);
            let flat = text.split_whitespace().collect::<Vec<_>>().join(" ");
            assert!(
                prediction.stopped.is_some() || flat.contains(&format!("no model: {}", aside.why)),
                "{flat}"
            );
            unmodeled += 1;
        }
    }
    assert!(said > 0 && unmodeled > 0, "{said} {unmodeled}");
}
