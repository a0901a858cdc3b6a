//! What comes and goes, and what whoever lives there tells of it.

use lineside::knowledge::model::Knowledge;
use lineside::knowledge::{self};
use lineside::rig::bench::Stage;
use lineside::rig::case::Site;
use lineside::rig::course::{Course, Trouble};
use lineside::rig::faults::When;
use lineside::rig::states;

fn knowledge() -> Knowledge {
    knowledge::embedded().expect("the knowledge compiled in is sound")
}

/// The first of some hundred sites of a cause on a split unit that is as wanted.
fn site(cause: &str, severity: f64, wanted: impl Fn(&Site) -> bool) -> Site {
    let knowledge = knowledge();
    let equipment = knowledge.equipment("split-air-conditioner").expect("known");
    let bare = knowledge.equipment[equipment].fitted_with(&[]);
    let cause = &knowledge.causes[knowledge.cause(cause).expect("known")];
    (0..300)
        .map(|seed| Site::sample(&bare, cause, Some(severity), seed).expect("it has a model"))
        .find(wanted)
        .expect("one of three hundred is as wanted")
}

fn states_of(site: &Site, effect: &str) -> &'static [&'static str] {
    let course = Course::of(site).expect("it has a solution");
    let all = states::of(site, &course);
    all.iter()
        .find(|(of, _)| *of == effect)
        .map_or(&[], |(_, states)| *states)
}

fn volts(site: &Site, test: &str) -> f64 {
    let stage = lineside::rig::readings::stage_of(test);
    site.at(stage).reading(test).expect("it can be read")
}

/// A transformer that fails when warm reads right at rest and low after ten minutes; the customer tells of minutes.
#[test]
fn a_transformer_that_fails_warm_reads_right_cold() {
    let warm = site("transformer-failing-when-hot", 0.9, |site| {
        site.meets(Stage::Running)
    });
    assert_eq!(warm.fault.when, When::Warm);
    assert!(!warm.meets(Stage::Rest));
    assert!(volts(&warm, "control-voltage-unloaded") > 25.0);
    assert!(volts(&warm, "control-voltage-loaded") < 21.6);
    assert_eq!(states_of(&warm, "moment"), ["after-minutes", "long-run"]);
    assert_eq!(states_of(&warm, "hot-part"), ["fails-hot"]);
    let slight = site("transformer-failing-when-hot", 0.05, |site| site.visit.air < 24.0);
    assert!(
        volts(&slight, "control-voltage-loaded") > 21.6,
        "a mild day is too cool for it"
    );
}

/// A chafed wire that touches with vibration reads sound while it does not touch.
#[test]
fn a_chafed_wire_reads_sound_while_it_does_not_touch() {
    let away = site("chafed-internal-wire", 0.5, |site| {
        site.fault.when == When::Shaken && !site.meets(Stage::Running)
    });
    assert!(volts(&away, "gfci-leakage") < 0.001);
    assert_eq!(states_of(&away, "moment"), ["random"]);
    assert_eq!(states_of(&away, "leak")[0], "comes-and-goes");
    let there = site("chafed-internal-wire", 0.5, |site| {
        site.fault.when == When::Shaken && site.meets(Stage::Running)
    });
    assert!(
        there
            .at(Stage::Running)
            .reading("gfci-leakage")
            .is_ok_and(|amps| amps > 0.01)
            || there.at(Stage::Running).at(Stage::Running).is_err()
    );
}

/// An overloaded compressor goes off on its protector after minutes, and comes back when it has cooled.
#[test]
fn a_protector_opens_after_minutes_and_comes_back() {
    let hard = site("compressor-tripping-on-internal-overload", 0.6, |_| true);
    let course = Course::of(&hard).expect("it has a solution");
    let Trouble::Protector(at, again) = course.hard.trouble() else {
        panic!("{:?}", course.hard.trouble());
    };
    assert!(at > 60.0 && again, "{at}");
    assert_eq!(states_of(&hard, "comes-back")[0], "after-cooling");
}

/// Nobody calls a unit dead, or its breaker tripping, because the volts are a little low; a dead short trips it.
#[test]
fn a_slight_fault_is_not_what_a_grave_one_is_called_for() {
    let slight = site("low-utility-voltage", 0.0, |_| true);
    let course = Course::of(&slight).expect("it has a solution");
    for complaint in ["does-not-run", "breaker-opens", "control-power-lost"] {
        assert_eq!(
            states::brings(&slight, &course, complaint),
            Some(false),
            "{complaint}"
        );
    }
    assert_eq!(states_of(&slight, "opened"), ["none"]);
    let grave = site("grounded-compressor-winding", 1.0, |_| true);
    let course = Course::of(&grave).expect("it has a solution");
    assert_eq!(states::brings(&grave, &course, "breaker-opens"), Some(true));
    assert!(states_of(&grave, "opens-after").contains(&"at-once"));
}
