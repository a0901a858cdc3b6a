//! What every calculation of the registry owes its caller, and the verdicts of each at and around its limits.
//!
//! A case here is text as a person would type it, so that reading, working and verdict are tested together.
//! Published worked examples stand in `published.rs`.

#![expect(clippy::unwrap_used, reason = "a failed unwrap fails the test")]

use indexmap::IndexMap;
use lineside::quantity::{ConductorSize, Kind, Load, Quantity, Value, ValueKind};
use lineside::standards::{calculation, registry};
use proptest::prelude::*;

use crate::figures::{figure, output, refused, verdict};
use lineside::standards::calculation::{CANNOT_TELL, Calculation, Inputs, Report};

#[test]
fn names_are_unique_kebab_case_and_found() {
    let mut names = Vec::new();
    for calculation in registry::all() {
        let ids = std::iter::once(calculation.name)
            .chain(calculation.inputs.iter().map(|input| input.name))
            .chain(calculation.outputs.iter().map(|output| output.name))
            .chain(calculation.verdicts.iter().map(|verdict| verdict.id));
        for id in ids {
            assert!(
                !id.is_empty()
                    && id
                        .chars()
                        .all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-'),
                "{id}"
            );
        }
        assert_eq!(
            registry::find(calculation.name).map(|found| found.name),
            Some(calculation.name)
        );
        names.push(calculation.name);
    }
    names.sort_unstable();
    let count = names.len();
    names.dedup();
    assert_eq!(names.len(), count);
}

#[test]
fn every_default_can_be_read_and_lies_in_its_range() {
    for calculation in registry::all() {
        for input in calculation.inputs {
            if let Some(default) = input.default {
                let mut inputs = Inputs::default();
                inputs
                    .parse(calculation, input.name, default)
                    .unwrap_or_else(|error| panic!("{error}"));
                assert!(!input.required, "{} {}", calculation.name, input.name);
            }
            if let (ValueKind::Choice, []) = (input.kind, input.choices) {
                panic!("{} {} has no choices", calculation.name, input.name);
            }
            assert!(input.meaning.ends_with('.'), "{}", input.meaning);
        }
    }
}

#[test]
fn protection_against_the_nameplate() {
    let name = "protection-check";
    let limits = [
        ("minimum-circuit-ampacity", "31"),
        ("maximum-overcurrent-protection", "40 A"),
    ];
    let device = |amps| [("protective-device-rating", amps), limits[0], limits[1]];
    // At exactly the maximum and at exactly the minimum the rule is kept: "not above", "not below".
    verdict(name, &device("40"), "within");
    verdict(name, &device("31"), "within");
    let report = verdict(name, &device("50"), "above-maximum");
    output(&report, "allowed-maximum", "40 A");
    output(&report, "least-device", "35 A");
    assert!(
        report
            .limits
            .iter()
            .any(|limit| (limit.margin + 0.25).abs() < 1e-12),
        "{:?}",
        report.limits
    );
    verdict(name, &device("30"), "below-minimum");
    // With the minimum alone it can be called too small, never within: nobody has looked whether it is too large.
    let minimum = |amps| [("protective-device-rating", amps), limits[0]];
    verdict(name, &minimum("30"), "below-minimum");
    refused(
        name,
        &minimum("60"),
        "`maximum-overcurrent-protection` is missing",
    );
    verdict(name, &[("protective-device-rating", "40"), limits[1]], "within");
    let mut fused = device("40").to_vec();
    fused.extend([
        ("nameplate-device-kind", "fuse-only"),
        ("protective-device-kind", "breaker"),
    ]);
    verdict(name, &fused, "fuse-required");
    fused[4].1 = "fuse";
    verdict(name, &fused, "within");
    refused(
        name,
        &[("protective-device-rating", "40")],
        "`maximum-overcurrent-protection` is missing",
    );
    refused(
        name,
        &[
            ("protective-device-rating", "40"),
            ("minimum-circuit-ampacity", "45"),
            ("maximum-overcurrent-protection", "40"),
        ],
        "above `maximum-overcurrent-protection`",
    );
    refused(
        name,
        &[("protective-device-rating", "40 V")],
        "is a voltage, expected a current",
    );
    refused(name, &[("breaker", "40")], "no input `breaker`");
}

#[test]
fn circuits_brought_together() {
    let name = "circuits-fed-as-one";
    let case = |device, supplied| {
        [
            ("protective-device-rating", device),
            ("nameplate-circuits", "60, 30"),
            ("circuits-supplied", supplied),
        ]
    };
    verdict(name, &case("60", "2"), "as-marked");
    let report = verdict(name, &case("90", "1"), "merged");
    output(&report, "circuits-required", "2");
    output(&report, "largest-circuit", "60 A");
    verdict(name, &case("90", "2"), CANNOT_TELL);
}

#[test]
fn everything_on_a_shared_circuit() {
    let name = "shared-circuit-load";
    let case = |device, unit, loads| {
        [
            ("protective-device-rating", device),
            ("unit-running-current", unit),
            ("circuit-loads", loads),
        ]
    };
    let report = verdict(
        name,
        &case("20", "12", "freezer 6 motor; lamp 1.5; heat tape 3"),
        "over-breaker",
    );
    output(&report, "total-current", "22.5 A");
    // 22.5 + 0.25 x 12
    output(&report, "sizing-current", "25.5 A");
    assert!(
        report.finding.contains("`heat tape` at 3 A takes it over"),
        "{}",
        report.finding
    );
    // Exactly the rating is allowed: "shall not exceed". Above 80 % of it is called tight (common practice, no source).
    verdict(name, &case("20", "10", "freezer 6 motor; lamp 4"), "tight");
    verdict(name, &case("20", "10", "lamp 6"), "within");
    verdict(name, &case("20", "10", "lamp 6.1"), "tight");
    // Half of the circuit exactly is allowed, a hair more is not (NEC 210.23).
    verdict(name, &case("20", "10.1", "lamp 1"), "fixed-over-half");
    verdict(name, &case("30", "16", "lamp 1"), "within");
    // A continuous load counts at 125 % (NEC 210.20(A)): 8 + 1.25 x 9.7 is above 20.
    verdict(name, &case("20", "8", "heat tape 9.7 continuous"), "over-breaker");
    verdict(name, &case("20", "8", "heat tape 9.6 continuous"), "tight");
    let mut wired = case("20", "8", "lamp 1").to_vec();
    wired.push(("conductor-size", "14"));
    let report = verdict(name, &wired, "over-conductor");
    assert!(report.finding.contains("15 A at most"), "{}", report.finding);
    wired[3].1 = "12";
    verdict(name, &wired, "within");
    // 9.5 + 8 + 0.25 x 9.5 is 19.9 A; with 9 A of lamps 20.9 A, above 20 A at 60 C terminals and below 25 A at 75 C.
    let mut close = case("20", "9.5", "lamp 9").to_vec();
    close.push(("conductor-size", "12"));
    verdict(name, &close, CANNOT_TELL);
    close.push(("terminal-rating", "75"));
    verdict(name, &close, "tight");
    close[4].1 = "60";
    verdict(name, &close, "over-conductor");
    refused(name, &case("20", "8", "lamp 60 W"), "watts divided by volts");
}

#[test]
fn conductors_where_it_is_hot() {
    let name = "conductor-check";
    let base = [
        ("minimum-circuit-ampacity", "31"),
        ("conductor-size", "10"),
        ("conductor-metal", "copper"),
    ];
    let with = |more: &[(&'static str, &'static str)]| [&base[..], more].concat();
    // NEC Table 310.16: 10 AWG copper 30 / 35 / 40 A.
    let marked = [("conductor-insulation", "60"), ("terminal-rating", "60")];
    verdict(name, &with(&marked), "too-small");
    // Unmarked it may be one or the other, so no limit is called broken.
    verdict(name, &with(&[]), CANNOT_TELL);
    verdict(name, &with(&marked[..1]), "too-small");
    let report = verdict(
        name,
        &with(&[("conductor-insulation", "90"), ("terminal-rating", "75")]),
        "enough",
    );
    output(&report, "usable-ampacity", "35 A");
    output(&report, "least-size", "10 AWG");
    output(&report, "preferred-size", "8 AWG");
    // 40 A x 0.76 at 55 C is 30.4 A, below 31 A although the terminals allow 35 A.
    let hot = [
        ("conductor-insulation", "90"),
        ("terminal-rating", "75"),
        ("ambient-temperature", "130 F"),
    ];
    let report = verdict(name, &with(&hot), "too-small-when-hot");
    output(&report, "usable-ampacity", "30.4 A");
    output(&report, "least-size", "8 AWG");
    // An ambient at which the insulation may not be used at all.
    let report = verdict(name, &with(&[("ambient-temperature", "60 C")]), "too-small");
    output(&report, "usable-ampacity", "0 A");
    assert!(!report.outputs.contains_key("least-size"));
    refused(
        name,
        &[
            ("minimum-circuit-ampacity", "10"),
            ("conductor-size", "14"),
            ("conductor-metal", "aluminium"),
        ],
        "12 AWG to 500 kcmil",
    );
    refused(name, &with(&[("ambient-temperature", "400 F")]), "-40 C to 85 C");
    // A metric size is used as the next thinner gauge: 6 mm2 as 10 AWG.
    let report = verdict(
        name,
        &[
            ("minimum-circuit-ampacity", "30"),
            ("conductor-size", "6 mm2"),
            ("conductor-metal", "copper"),
        ],
        "enough",
    );
    assert!(
        report.working[0].substituted.contains("6 mm2 (as 10 AWG)"),
        "{:?}",
        report.working[0]
    );
}

#[test]
fn terminals_without_a_marking_follow_the_size_of_the_circuit() {
    // NEC 110.14(C)(1): 75 C above 100 A. 1 AWG copper: 110 A at 60 C, 130 A at 75 C.
    let case = |amps| {
        [
            ("minimum-circuit-ampacity", amps),
            ("conductor-size", "1"),
            ("conductor-metal", "copper"),
            ("conductor-insulation", "75"),
        ]
    };
    output(
        &verdict("conductor-check", &case("100"), "enough"),
        "usable-ampacity",
        "110 A",
    );
    output(
        &verdict("conductor-check", &case("101"), "enough"),
        "usable-ampacity",
        "130 A",
    );
}

#[test]
fn heaters_at_the_voltage_present() {
    let name = "heater-current";
    let case = |amps: &'static str| {
        [
            ("heater-power", "9.6"),
            ("heater-rated-voltage", "240"),
            ("supply-voltage", "208"),
            ("measured-current", amps),
        ]
    };
    let report = verdict(name, &case("34.7"), "as-expected");
    output(&report, "expected-current", "34.67 A");
    output(&report, "element-resistance", "6 ohm");
    output(&report, "expected-power", "7.21 kW");
    verdict(name, &case("17.3"), "low");
    verdict(name, &case("40"), "high");
    verdict(name, &case("34.7")[..3], CANNOT_TELL);
    // 31.2 A is exactly 90 %; a meter good for 3 % cannot say on which side the current is.
    let mut close = case("31.5").to_vec();
    verdict(name, &close, "as-expected");
    close.push(("meter-error", "3 %"));
    let report = verdict(name, &close, CANNOT_TELL);
    assert!(
        report.finding.starts_with("too close to call with this meter"),
        "{}",
        report.finding
    );
}

#[test]
fn running_current_against_rated() {
    let case = |amps| [("measured-current", amps), ("rated-load-current", "20")];
    verdict("running-current-check", &case("9.9"), "below");
    verdict("running-current-check", &case("10"), "normal");
    output(
        &verdict("running-current-check", &case("22"), "normal"),
        "share-of-rated",
        "110 %",
    );
    verdict("running-current-check", &case("22.1"), "above");
}

/// A 240 V circuit of 75 ft of 10 AWG copper with 20 A running: 0.186 ohm of conductor.
fn stretch(more: &[(&'static str, &'static str)]) -> Vec<(&'static str, &'static str)> {
    let base = [
        ("running-current", "20"),
        ("panel-voltage-at-rest", "242"),
        ("panel-voltage-running", "240"),
        ("conductor-size", "10"),
        ("conductor-length", "75 ft"),
        ("voltage-resolution", "0.1"),
    ];
    [&base[..], more].concat()
}

#[test]
fn ohms_are_found_in_the_stretch_that_has_them() {
    let name = "stretch-resistance";
    let sound = stretch(&[
        ("disconnect-voltage-at-rest", "242"),
        ("disconnect-voltage-running", "236.2"),
        ("unit-voltage-at-rest", "242"),
        ("unit-voltage-running", "235.8"),
    ]);
    let report = verdict(name, &sound, "as-expected");
    output(&report, "supply-resistance", "0.1 ohm");
    output(&report, "branch-resistance", "0.19 ohm");
    output(&report, "expected-branch-resistance", "0.186 ohm");
    output(&report, "whip-resistance", "0.02 ohm");
    output(&report, "joint-heat", "0 W");

    // 0.25 ohm more between panel and disconnect: 5 V at 20 A, about 100 W.
    let burnt = stretch(&[
        ("disconnect-voltage-running", "231.2"),
        ("unit-voltage-running", "230.8"),
    ]);
    let report = verdict(name, &burnt, "excess-panel-to-disconnect");
    assert!(
        report.finding.contains("between panel and disconnect"),
        "{}",
        report.finding
    );
    let heat = report.outputs["joint-heat"].quantity().unwrap().base;
    assert!((90.0..=101.0).contains(&heat), "{heat}");
    assert!(
        report
            .assumptions
            .iter()
            .any(|text| text.contains("`disconnect-voltage-at-rest` not given"))
    );

    let whip = stretch(&[
        ("disconnect-voltage-running", "236.2"),
        ("unit-voltage-running", "231"),
    ]);
    verdict(name, &whip, "excess-disconnect-to-unit");

    let mut supply = stretch(&[("unit-voltage-running", "225")]);
    supply[2].1 = "230";
    verdict(name, &supply, "excess-before-panel");

    // Without the disconnect the place is not known.
    let report = verdict(name, &stretch(&[("unit-voltage-running", "230.8")]), CANNOT_TELL);
    assert!(
        report.finding.contains("read at the disconnect"),
        "{}",
        report.finding
    );
}

#[test]
fn a_long_sound_run_is_called_long_and_a_small_current_is_not_judged() {
    let name = "stretch-resistance";
    let mut long = stretch(&[
        ("disconnect-voltage-running", "230.2"),
        ("unit-voltage-running", "229.9"),
    ]);
    long[4].1 = "200 ft";
    verdict(name, &long, "long-or-thin");

    let mut small = stretch(&[
        ("disconnect-voltage-running", "241"),
        ("unit-voltage-running", "241"),
    ]);
    small[0].1 = "3";
    small[2].1 = "241";
    small[5].1 = "1";
    let report = verdict(name, &small, CANNOT_TELL);
    assert!(
        report.finding.contains("cannot tell less than"),
        "{}",
        report.finding
    );

    // Rounding may make a stretch lose a little less than nothing; no negative ohms are shown.
    let mut rounded = stretch(&[
        ("disconnect-voltage-running", "240.2"),
        ("unit-voltage-running", "240.2"),
    ]);
    rounded[0].1 = "10";
    output(
        &verdict(name, &rounded, "as-expected"),
        "branch-resistance",
        "0 ohm",
    );

    let mut none = stretch(&[("disconnect-voltage-running", "242")]);
    none[0].1 = "0";
    verdict(name, &none, CANNOT_TELL);

    let mut rose = stretch(&[("disconnect-voltage-running", "240")]);
    rose[2].1 = "244";
    let report = verdict(name, &rose, CANNOT_TELL);
    assert!(report.finding.contains("supply moved"), "{}", report.finding);

    refused(
        name,
        &stretch(&[("unit-voltage-at-rest", "121"), ("unit-voltage-running", "119")]),
        "same two conductors",
    );
    verdict(name, &stretch(&[]), CANNOT_TELL);
}

#[test]
fn readings_in_whole_volts_leave_more_in_doubt_than_tenths() {
    // 0.9 V too much at 10 A is 9 W. Whole volts cannot tell it from rounding and drift; tenths can.
    let case = |rest: &'static str, running: &'static str, disconnect: &'static str| {
        [
            ("running-current", "10"),
            ("panel-voltage-at-rest", rest),
            ("panel-voltage-running", running),
            ("disconnect-voltage-at-rest", rest),
            ("disconnect-voltage-running", disconnect),
            ("conductor-size", "10"),
            ("conductor-length", "20 ft"),
        ]
    };
    let report = verdict("stretch-resistance", &case("242", "241", "240"), "as-expected");
    assert!(
        report.assumptions.iter().any(|text| text.contains("whole volts")),
        "{:?}",
        report.assumptions
    );
    assert!(
        report
            .notes
            .iter()
            .any(|text| text.contains("a joint that makes less than 10 W would not show"))
    );
    let tenths = case("242.4", "241.4", "239.6");
    let report = verdict("stretch-resistance", &tenths, "excess-panel-to-disconnect");
    assert!(
        report
            .assumptions
            .iter()
            .any(|text| text.contains("tenths of a volt")),
        "{:?}",
        report.assumptions
    );
}

#[test]
fn a_furnace_on_one_hundred_twenty_volts_is_judged_too() {
    // 12 AWG, 60 ft, 9 A: conductor 0.238 ohm, 2.1 V. A joint of 0.5 ohm adds 4.5 V and makes 40 W.
    let case = |unit: &'static str| {
        [
            ("running-current", "9"),
            ("panel-voltage-at-rest", "121.0"),
            ("panel-voltage-running", "120.2"),
            ("unit-voltage-at-rest", "121.0"),
            ("unit-voltage-running", unit),
            ("disconnect-voltage-at-rest", "121.0"),
            ("disconnect-voltage-running", unit),
            ("conductor-size", "12"),
            ("conductor-length", "60 ft"),
            ("voltage-resolution", "0.1"),
        ]
    };
    verdict("stretch-resistance", &case("117.9"), "as-expected");
    verdict("stretch-resistance", &case("113.4"), "excess-panel-to-disconnect");
}

#[test]
fn capacitors_under_load() {
    let name = "capacitor-under-load";
    let case = |amps: &'static str| {
        [
            ("capacitor-current", amps),
            ("capacitor-voltage", "370"),
            ("run-capacitor-rating", "45"),
        ]
    };
    let report = verdict(name, &case("6.28"), "within");
    output(&report, "measured-capacitance", "45 uF");
    output(&report, "lowest-allowed", "42.3 uF");
    verdict(name, &case("5.5"), "low");
    verdict(name, &case("6.9"), "high");
    verdict(name, &case("0.1"), "open");
    verdict(name, &case("0"), "open");
    let mut loose = case("5.7").to_vec();
    verdict(name, &loose, "low");
    loose.push(("tolerance", "10"));
    verdict(name, &loose, "within");
    refused(name, &[("tolerance", "0.06")], "the range of sense");
}

#[test]
fn legs_that_move_together_or_apart() {
    let name = "leg-balance";
    let case = |one, two, loaded_one, loaded_two| {
        [
            ("leg-1-voltage", one),
            ("leg-2-voltage", two),
            ("leg-1-loaded", loaded_one),
            ("leg-2-loaded", loaded_two),
        ]
    };
    verdict(name, &case("121", "121", "119.5", "121.5"), "balanced");
    let report = verdict(name, &case("121", "121", "112", "130"), "opposite-shift");
    output(&report, "neutral-shift", "9 V");
    output(&report, "leg-difference", "18 V");
    verdict(name, &case("121", "121", "116", "121.4"), "one-leg-sags");
    verdict(name, &case("121", "121", "116", "116"), "balanced");
    verdict(name, &case("121", "121", "", "")[..2], "balanced");
    verdict(
        name,
        &[("leg-1-voltage", "132"), ("leg-2-voltage", "108")],
        "opposite-shift",
    );
    verdict(
        name,
        &[("leg-1-voltage", "122"), ("leg-2-voltage", "117")],
        CANNOT_TELL,
    );
    refused(
        name,
        &[("leg-1-voltage", "240"), ("leg-2-voltage", "240")],
        "from one leg to neutral",
    );
    refused(
        name,
        &[
            ("leg-1-voltage", "121"),
            ("leg-2-voltage", "121"),
            ("leg-2-loaded", "119"),
        ],
        "`leg-1-loaded` is missing",
    );
}

#[test]
fn circuits_of_electric_heat() {
    let name = "heat-circuit-size";
    let case = |kilowatts, device| {
        [
            ("heater-power", kilowatts),
            ("heater-rated-voltage", "240"),
            ("blower-full-load-current", "3"),
            ("protective-device-rating", device),
        ]
    };
    // 9.6 kW at 240 V with 3 A: 53.75 A, 60 A device (2017 questions and answers on 424.3(B),
    // https://www.mikeholt.com/newsletters.php?action=display&letterID=2089).
    let report = verdict(name, &case("9.6", "60"), "within");
    output(&report, "required-ampacity", "53.75 A");
    output(&report, "least-device", "60 A");
    verdict(name, &case("9.6", "50"), "below-minimum");
    verdict(name, &case("9.6", "70"), "over-sixty");
    verdict(name, &case("15", "90"), CANNOT_TELL);
    // 15 kW behind a 60 A device: right when a second circuit takes its part, too small when it is the only one.
    let mut parts = case("15", "60").to_vec();
    verdict(name, &parts, CANNOT_TELL);
    parts.push(("circuits-supplied", "2"));
    verdict(name, &parts, CANNOT_TELL);
    parts[4].1 = "1";
    verdict(name, &parts, "below-minimum");
    let mut divided = case("15", "90").to_vec();
    divided.push(("elements-divided", "yes"));
    verdict(name, &divided, "within");
    divided[4].1 = "no";
    verdict(name, &divided, "over-sixty");
}

#[test]
fn the_control_transformer() {
    let case = |amps| [("transformer-rating", "40"), ("secondary-current", amps)];
    let report = verdict("control-load", &case("1.2"), "within");
    output(&report, "rated-secondary-current", "1.67 A");
    output(&report, "load-share", "72 %");
    verdict("control-load", &case("1.5"), "near-limit");
    verdict("control-load", &case("1.7"), "over");
}

/// A value of the kind an input takes, inside its range, from two random numbers between 0 and 1.
fn sample(input: &calculation::Input, along: f64, pick: usize) -> Value {
    let amount = |kind| {
        let (low, high) = input.range.unwrap_or((0.0, 1000.0));
        // Small amounts matter as much as large ones, so the range is walked on a bent scale.
        let base = low + (high - low) * along * along * along;
        let base = if kind == lineside::quantity::Kind::Count {
            base.round()
        } else {
            base
        };
        Quantity::new(kind, base).unwrap()
    };
    match input.kind {
        ValueKind::Quantity(kind) => Value::Quantity(amount(kind)),
        ValueKind::Quantities(kind) => Value::Quantities(vec![amount(kind); 1 + pick % 3]),
        ValueKind::Size => Value::Size(ConductorSize::ALL[pick % ConductorSize::ALL.len()]),
        ValueKind::Choice => Value::Choice(input.choices[pick % input.choices.len()].to_owned()),
        ValueKind::Loads => Value::Loads(vec![Load {
            name: "load".to_owned(),
            amps: along * 30.0,
            continuous: pick.is_multiple_of(2),
            motor: pick.is_multiple_of(3),
        }]),
    }
}

#[track_caller]
fn check_shape(calculation: &Calculation, report: &Report) {
    let known = calculation
        .verdicts
        .iter()
        .any(|verdict| verdict.id == report.verdict);
    assert!(known || report.verdict == CANNOT_TELL, "{}", report.verdict);
    assert!(!report.finding.is_empty());
    for (name, value) in &report.outputs {
        let output = calculation
            .outputs
            .iter()
            .find(|output| output.name == *name)
            .expect("a declared output");
        match (output.kind, value) {
            (ValueKind::Quantity(kind), Value::Quantity(quantity)) => {
                assert_eq!(quantity.kind, kind, "{name}");
                assert!(quantity.base.is_finite(), "{name}");
                // What is measured from zero is never below it, and nothing is colder than absolute zero.
                let lowest = match kind {
                    Kind::Temperature => -273.15,
                    Kind::TemperatureRise | Kind::Ratio => f64::MIN,
                    _ => 0.0,
                };
                assert!(
                    quantity.base >= lowest - 1e-6,
                    "{}: {name} is {quantity}",
                    calculation.name
                );
                let is_share_of_supply = ["drop-share", "power-factor"].contains(name);
                assert!(
                    !is_share_of_supply || quantity.base <= 1.0 + 1e-9,
                    "{}: {name} is {quantity}",
                    calculation.name
                );
            }
            (ValueKind::Quantities(kind), Value::Quantities(all)) => {
                assert!(
                    all.iter()
                        .all(|quantity| quantity.kind == kind && quantity.base.is_finite()),
                    "{name}"
                );
            }
            (ValueKind::Size, Value::Size(_)) | (ValueKind::Choice, Value::Choice(_)) => {}
            (expected, found) => panic!("{name} is {found:?}, declared {expected:?}"),
        }
    }
    let json = serde_json::to_string(report).unwrap();
    for never in ["NaN", "inf ", "null"] {
        assert!(!json.contains(never), "{never} in {json}");
    }
}

proptest! {
    #[test]
    fn no_inputs_in_range_make_a_panic_or_a_number_that_is_none(
        numbers in prop::collection::vec((0.0..=1.0_f64, any::<usize>(), 0..4_u8), 24),
    ) {
        for calculation in registry::all() {
            let mut inputs = Inputs(IndexMap::new());
            for (input, (along, pick, left_out)) in calculation.inputs.iter().zip(&numbers) {
                if input.required || *left_out > 0 {
                    inputs.0.insert(input.name.to_owned(), sample(input, *along, *pick));
                }
            }
            if let Ok(report) = (calculation.run)(&inputs) {
                check_shape(calculation, &report);
            }
        }
    }

    #[test]
    fn a_hotter_place_never_raises_what_a_conductor_may_carry(
        at in 4..ConductorSize::ALL.len(), cooler in -40.0..85.0_f64, warmer in -40.0..85.0_f64, column in 0..3_usize,
    ) {
        let (cooler, warmer) = (cooler.min(warmer), cooler.max(warmer));
        let usable = |ambient: f64| {
            let report = figure("conductor-check", &[
                ("minimum-circuit-ampacity", "20"),
                ("conductor-size", &ConductorSize::ALL[at].to_string()),
                ("conductor-metal", "copper"),
                ("conductor-insulation", ["60", "75", "90"][column]),
                ("ambient-temperature", &format!("{ambient} C")),
            ]).unwrap();
            report.outputs["usable-ampacity"].quantity().unwrap().base
        };
        prop_assert!(usable(warmer) <= usable(cooler));
    }

    #[test]
    fn the_unit_a_number_is_typed_in_does_not_change_the_verdict(amps in 1.0..100.0_f64, volts in 100.0..480.0_f64) {
        let case = |voltage: String, current: String| figure("heater-current", &[
            ("heater-power", "9.6 kW"), ("heater-rated-voltage", "240 V"),
            ("supply-voltage", &voltage), ("measured-current", &current),
        ]).unwrap().verdict;
        let plain = case(format!("{volts} V"), format!("{amps} A"));
        prop_assert_eq!(case(format!("{} kV", volts / 1000.0), format!("{} mA", amps * 1000.0)), plain);
    }

    #[test]
    fn more_ohms_in_a_stretch_are_never_less_suspicious(drop in 0.0..20.0_f64, more in 0.0..20.0_f64) {
        let is_excess = |drop: f64| {
            let unit = format!("{}", 240.0 - 3.8 - drop);
            let report = figure("stretch-resistance", &[
                ("running-current", "20"), ("panel-voltage-at-rest", "242"), ("panel-voltage-running", "240"),
                ("disconnect-voltage-at-rest", "242"), ("disconnect-voltage-running", &unit),
                ("conductor-size", "10"), ("conductor-length", "75 ft"), ("voltage-resolution", "0.1"),
            ]).unwrap();
            report.verdict == "excess-panel-to-disconnect"
        };
        prop_assert!(!is_excess(drop) || is_excess(drop + more));
    }
}
