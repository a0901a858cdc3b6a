//! What happens over minutes and hours.

use lineside::rig::clock::{Clock, DISCOLORS, Day, JOINTS, What};
use lineside::rig::faults::{self, Model};
use lineside::rig::installation::{Call, Installation, Plate};

use super::circuits::{AIR_HANDLER, PACKAGE, SPLIT};

fn installation(parts: &str, cause: Option<(&str, f64)>) -> Installation {
    let parts: Vec<String> = parts.split_whitespace().map(str::to_owned).collect();
    let sound = Installation::sound(Plate::of(&parts, &|_| None));
    match cause {
        None => sound,
        Some((cause, severity)) => {
            let Some(Model::Changes(ways)) = faults::of(cause) else {
                panic!("{cause} has a model");
            };
            sound.with(&ways[0], severity, 1)
        }
    }
}

/// What happens from an afternoon hour on with a call standing, in seconds from its start.
fn afternoon(installation: &Installation, day: Day, call: Call, minutes: f64) -> Vec<(f64, What)> {
    let mut clock = Clock::new(installation, day, 15.0, 7);
    clock.run(call, minutes).expect("it has a solution");
    let begun = 15.0 * 3600.0;
    clock
        .happened()
        .iter()
        .map(|(at, what)| (at - begun, *what))
        .collect()
}

fn first(happened: &[(f64, What)], wanted: What) -> Option<f64> {
    happened
        .iter()
        .find(|(_, what)| *what == wanted)
        .map(|(at, _)| *at)
}

#[test]
fn a_sound_unit_runs_through_a_hot_afternoon() {
    for (parts, call) in [
        (SPLIT, Call::Cooling),
        (PACKAGE, Call::Cooling),
        (AIR_HANDLER, Call::Heat),
    ] {
        let happened = afternoon(&installation(parts, None), Day::HOT, call, 300.0);
        let others = happened
            .iter()
            .filter(|(_, what)| *what != What::StageCloses)
            .count();
        assert_eq!(others, 0, "{parts}: {happened:?}");
    }
}

/// A breaker in a hot panel with a unit that works hard: good in the morning and on a mild day, gone after some minutes of a hot one.
#[test]
fn a_hot_panel_trips_on_a_hot_afternoon_only() {
    let mut hot = installation(SPLIT, Some(("hot-panel-ambient-derating", 0.9)));
    hot.values.head = 1.4;
    let on_hot_day = first(
        &afternoon(&hot, Day::HOT, Call::Cooling, 120.0),
        What::BreakerTrips,
    );
    let on_mild_day = first(
        &afternoon(&hot, Day::MILD, Call::Cooling, 120.0),
        What::BreakerTrips,
    );
    let minutes = on_hot_day.expect("it trips") / 60.0;
    assert!((2.0..60.0).contains(&minutes), "{minutes}");
    assert_eq!(on_mild_day, None);
}

#[test]
fn a_weak_breaker_trips_after_minutes() {
    let mut weak = installation(SPLIT, Some(("weak-or-worn-breaker", 0.9)));
    weak.values.head = 1.8;
    let seconds = first(
        &afternoon(&weak, Day::HOT, Call::Cooling, 120.0),
        What::BreakerTrips,
    );
    let minutes = seconds.expect("it trips") / 60.0;
    assert!((0.5..60.0).contains(&minutes), "{minutes}");
}

/// A compressor that cannot turn is off on its protector in some ten seconds, and tries again in about half an hour.
#[test]
fn a_locked_compressor_cycles_on_its_protector() {
    let locked = installation(SPLIT, Some(("locked-compressor", 0.5)));
    let happened = afternoon(&locked, Day::HOT, Call::Cooling, 90.0);
    let opens = first(&happened, What::ProtectorOpens).expect("it opens");
    let resets = first(&happened, What::ProtectorResets).expect("it closes again");
    assert!((5.0..30.0).contains(&opens), "{opens}");
    assert!((900.0..3600.0).contains(&(resets - opens)), "{}", resets - opens);
    let again = happened
        .iter()
        .filter(|(_, what)| *what == What::ProtectorOpens)
        .count();
    assert!(again >= 2, "{happened:?}");
}

#[test]
fn a_short_to_ground_opens_the_breaker_at_once() {
    let shorted = installation(SPLIT, Some(("grounded-compressor-winding", 1.0)));
    let at = first(
        &afternoon(&shorted, Day::MILD, Call::Cooling, 5.0),
        What::BreakerTrips,
    );
    assert!(at.expect("it trips") <= 10.0);
}

#[test]
fn a_loose_lug_discolors_and_a_sound_one_does_not() {
    let loose = installation(SPLIT, Some(("loose-disconnect-lug", 0.9)));
    let happened = afternoon(&loose, Day::HOT, Call::Cooling, 60.0);
    assert!(
        first(&happened, What::JointDiscolors("lug")).is_some(),
        "{happened:?}"
    );
    let sound = installation(SPLIT, None);
    let mut clock = Clock::new(&sound, Day::HOT, 15.0, 1);
    clock.run(Call::Cooling, 60.0).expect("it has a solution");
    for (place, (name, _)) in JOINTS.iter().enumerate() {
        assert!(
            clock.joint_rise(place) < DISCOLORS / 3.0,
            "{name}: {}",
            clock.joint_rise(place)
        );
    }
}

#[test]
fn a_sequencer_closes_its_stages_one_by_one_and_opens_them() {
    let sound = installation(AIR_HANDLER, None);
    let mut clock = Clock::new(&sound, Day::MILD, 6.0, 1);
    clock.run(Call::Heat, 5.0).expect("it has a solution");
    clock.run(Call::Rest, 5.0).expect("it has a solution");
    let closes: Vec<f64> = clock
        .happened()
        .iter()
        .filter(|(_, what)| *what == What::StageCloses)
        .map(|(at, _)| *at)
        .collect();
    assert_eq!(closes.len(), 2, "{:?}", clock.happened());
    assert!((20.0..=40.0).contains(&(closes[1] - closes[0])));
    assert!(clock.happened().iter().any(|(_, what)| *what == What::StageOpens));
}

#[test]
fn a_contactor_on_a_long_thin_cable_chatters() {
    let thin = installation(SPLIT, Some(("contactor-chatter-weak-control", 0.4)));
    let happened = afternoon(&thin, Day::HOT, Call::Cooling, 5.0);
    assert!(first(&happened, What::Chatters).is_some(), "{happened:?}");
}

#[test]
fn the_air_is_warmest_at_four_in_the_afternoon() {
    assert!((Day::HOT.air(16.0) - 38.0).abs() < 1e-9);
    assert!((Day::HOT.air(4.0) - 24.0).abs() < 1e-9);
}
