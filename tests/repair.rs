//! What a repair must come to: worked out from the facts of a case, against published tables.

use std::convert::Infallible;
use std::sync::LazyLock;

use lineside::knowledge::{self, model::Knowledge};
use lineside::report::layout::Layout;
use lineside::report::text::render;
use lineside::report::{CaseResult, RequirementShown};
use lineside::standards::citation::unknown_sections;
use lineside::walk::{AnswerFile, Event, Walk, drive};

static KNOWLEDGE: LazyLock<Knowledge> = LazyLock::new(|| knowledge::embedded().expect("it is sound"));

fn result(text: &str) -> CaseResult {
    let mut answers = AnswerFile::parse(text, &KNOWLEDGE).expect("a valid answer file");
    let mut walk = Walk::new(&KNOWLEDGE);
    drive::<Infallible>(&mut walk, &mut answers, &mut |_: &Event| Ok(())).expect("it ends");
    CaseResult::new(&walk).expect("complaint and equipment are known")
}

fn required(text: &str) -> Vec<RequirementShown> {
    result(text).requirements
}

/// The whole result as text, with single spaces.
fn shown_as_text(text: &str) -> String {
    let layout = Layout {
        width: 80,
        color: false,
    };
    let text = render(&result(text), layout);
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn entry<'r>(shown: &'r [RequirementShown], id: &str) -> &'r RequirementShown {
    shown
        .iter()
        .find(|entry| entry.requirement == id)
        .unwrap_or_else(|| panic!("`{id}` is not among {shown:?}"))
}

/// A unit on a circuit that was meant for a smaller one, with the facts of its nameplate.
fn bigger_unit(facts: &str) -> String {
    format!(
        "complaint = \"breaker-opens\"\nequipment = \"split-air-conditioner\"\n[facts]\nprotective-device-rating = \"60 A\"\n{facts}[answers]\nhazard-look = \"none\"\nwhat-changed = \"larger-unit-or-heat\"\nwhen-does-it-happen = \"after-minutes\"\ntime-to-trip = \"minutes\"\nunit-newer-than-circuit = \"newer-and-larger\"\n"
    )
}

#[test]
fn conductor_device_and_ground_come_from_the_nameplate() {
    let shown = required(&bigger_unit(
        "minimum-circuit-ampacity = \"28.4 A\"\nmaximum-overcurrent-protection = \"45 A\"\nconductor-size = \"12 AWG\"\nconductor-metal = \"copper\"\nconductor-insulation = \"60\"\nterminal-rating = \"60\"\n",
    ));
    // NEC Table 310.16 (310.15(B)(16) before 2020): 10 AWG copper carries 30 A in the 60 C column, 12 AWG 20 A.
    let conductor = entry(&shown, "branch-conductor");
    assert!(
        conductor
            .must_be
            .as_deref()
            .is_some_and(|text| text.starts_with("10 AWG or larger: it carries 30 A")),
        "{conductor:?}"
    );
    // NEC 240.6(A): 30 A is the smallest standard rating not below 28.4 A; the nameplate allows 45 A.
    let device = entry(&shown, "protective-device");
    assert!(
        device
            .must_be
            .as_deref()
            .is_some_and(|text| text.starts_with("Not below 30 A and not above 45 A")),
        "{device:?}"
    );
    // NEC Table 250.122: 10 AWG copper for a device of 60 A.
    let ground = entry(&shown, "equipment-ground");
    assert!(
        ground
            .must_be
            .as_deref()
            .is_some_and(|text| text.starts_with("10 AWG copper or larger")),
        "{ground:?}"
    );
}

/// The grounding conductor of a bigger unit, as the result words it.
fn ground(device: &str, more: &str) -> String {
    let case = bigger_unit(&format!(
        "minimum-circuit-ampacity = \"28.4 A\"\nmaximum-overcurrent-protection = \"45 A\"\nconductor-metal = \"copper\"\nconductor-insulation = \"75\"\nterminal-rating = \"75\"\n{more}"
    ))
    .replace(
        "protective-device-rating = \"60 A\"",
        &format!("protective-device-rating = \"{device}\""),
    );
    let shown = required(&case);
    entry(&shown, "equipment-ground")
        .must_be
        .clone()
        .unwrap_or_default()
}

/// NEC Table 250.122, copper: 14 AWG to 15 A, 12 AWG to 20 A, 10 AWG to 60 A, 8 AWG to 100 A
/// (<https://brunsengineering.com/nec-table-250-122/>).
#[test]
fn the_ground_is_sized_for_the_device_the_repair_puts_in() {
    // A 15 A breaker is about to go: 14 AWG would burn off behind the 45 A that may replace it.
    let replaced = ground("15 A", "conductor-size = \"14 AWG\"\n");
    assert!(
        replaced.starts_with("10 AWG copper or larger behind a 45 A device"),
        "{replaced}"
    );
    // So is a 100 A one, which would ask for 8 AWG.
    let lowered = ground("100 A", "conductor-size = \"14 AWG\"\n");
    assert!(
        lowered.starts_with("10 AWG copper or larger behind a 45 A device"),
        "{lowered}"
    );
    // One that suits the nameplate stays, and counts.
    let kept = ground("40 A", "conductor-size = \"10 AWG\"\n");
    assert!(
        kept.starts_with("10 AWG copper or larger behind a 40 A device"),
        "{kept}"
    );
    // 250.122(B): 8 AWG where 10 AWG carries 28.4 A, so 10 AWG grows by 16510 / 10380 to 8 AWG (Chapter 9 Table 8).
    let grown = ground("40 A", "conductor-size = \"8 AWG\"\n");
    assert!(grown.starts_with("8 AWG copper or larger"), "{grown}");
    // 40 A fuses behind a 100 A breaker: the wire up to the fuses stands behind the breaker.
    let fused = ground(
        "40 A",
        "conductor-size = \"10 AWG\"\npanel-breaker-rating = \"100 A\"\n",
    );
    assert!(
        fused.starts_with("8 AWG copper or larger behind a 100 A device"),
        "{fused}"
    );
}

#[test]
fn the_conductor_up_to_the_fuses_suits_the_breaker_ahead_of_them() {
    let conductor = |panel: &str| {
        let shown = required(
            &bigger_unit(&format!(
                "minimum-circuit-ampacity = \"28.4 A\"\nmaximum-overcurrent-protection = \"45 A\"\nconductor-metal = \"copper\"\nconductor-insulation = \"75\"\nterminal-rating = \"75\"\n{panel}"
            ))
            .replace("protective-device-rating = \"60 A\"", "protective-device-rating = \"40 A\""),
        );
        entry(&shown, "branch-conductor")
            .must_be
            .clone()
            .unwrap_or_default()
    };
    // NEC Table 310.16, 75 C copper: 10 AWG 35 A, 4 AWG 85 A, 3 AWG 100 A. 85 A may stand behind 90 A (240.4(B)).
    assert!(conductor("").starts_with("10 AWG or larger"));
    let behind = conductor("panel-breaker-rating = \"100 A\"\n");
    assert!(behind.starts_with("3 AWG or larger"), "{behind}");
}

#[test]
fn what_is_missing_is_named() {
    let shown = required(&bigger_unit(""));
    let conductor = entry(&shown, "branch-conductor");
    assert_eq!(conductor.must_be, None);
    assert_eq!(conductor.needs, ["Minimum circuit ampacity"]);
}

const COMES_AND_GOES: &str = "complaint = \"equipment-resets\"\nequipment = \"gas-furnace\"\n[facts]\ntime-between-failures = \"10 h\"\n[answers]\nhazard-look = \"none\"\n";

/// Failures at random: none in T with probability exp(-T / mean), so 95 % needs 3.0 times the mean (the rule of
/// three; J. A. Hanley and A. Lippman-Hand, JAMA 249 (1983) 1743, from memory).
#[test]
fn an_intermittent_must_run_clean_three_times_its_usual_interval() {
    let shown = required(COMES_AND_GOES);
    let clean = entry(&shown, "clean-run");
    assert!(
        clean
            .must_be
            .as_deref()
            .is_some_and(|text| text.starts_with("30 hours without")),
        "{clean:?}"
    );
    // What is run is not "must be".
    assert!(shown_as_text(COMES_AND_GOES).contains("must run 30 hours without a failure"));
}

#[test]
fn what_does_not_apply_is_not_required() {
    let shown = required(&bigger_unit("minimum-circuit-ampacity = \"28.4 A\"\n"));
    assert!(
        shown.iter().all(|entry| entry.requirement != "heat-circuit"),
        "{shown:?}"
    );
}

/// Every section that advice names is in the map of editions, so that none is printed whatever the edition is.
#[test]
fn the_sections_of_every_piece_of_advice_are_in_the_map() {
    let unknown: Vec<_> = KNOWLEDGE
        .causes
        .iter()
        .flat_map(|cause| cause.prevent.iter().map(move |piece| (&cause.id, piece)))
        .filter_map(|(cause, piece)| Some((cause, unknown_sections(piece.rule.as_deref()?))))
        .filter(|(_, sections)| !sections.is_empty())
        .collect();
    assert!(
        unknown.is_empty(),
        "add these sections to src/standards/tables/rules.toml: {unknown:?}"
    );
}

#[test]
fn advice_names_the_section_of_the_edition_in_force() {
    let rules = |edition: &str| {
        let text = bigger_unit(&format!("code-edition = \"{edition}\"\n"));
        let mut answers = AnswerFile::parse(&text, &KNOWLEDGE).expect("a valid answer file");
        let mut walk = Walk::new(&KNOWLEDGE);
        drive::<Infallible>(&mut walk, &mut answers, &mut |_: &Event| Ok(())).expect("it ends");
        CaseResult::new(&walk)
            .expect("complaint and equipment are known")
            .prevention
            .into_iter()
            .filter_map(|piece| piece.rule)
            .collect::<Vec<_>>()
            .join("\n")
    };
    let (old, new) = (rules("2017"), rules("2026"));
    assert!(old.contains("NEC 2017 "), "{old}");
    assert!(!old.contains("NEC 2023 ") && !old.contains("as of"), "{old}");
    assert!(new.contains("as of 2023, not checked for 2026"), "{new}");
}

/// 10 kW at 240 V with 3 A of blower ask for 125 % of 44.67 A: 55.83 A (NEC 424.4(B); the way of the 2017 questions and answers on
/// 424.3(B), https://www.mikeholt.com/newsletters.php?action=display&letterID=2089). The outdoor unit's 40 A breaker does not feed it.
#[test]
fn the_heat_of_a_split_system_is_held_against_its_own_breaker() {
    let case = |equipment: &str, facts: &str| {
        let case = result(&format!(
            "complaint = \"breaker-opens\"\nequipment = \"{equipment}\"\n[facts]\nnameplate-voltage = \"240 V\"\nprotective-device-rating = \"40 A\"\nheater-power = \"10 kW\"\nheater-rated-voltage = \"240 V\"\nblower-full-load-current = \"3 A\"\nnameplate-circuits = \"60\"\ncircuits-supplied = 1\n{facts}[answers]\nhazard-look = \"none\"\nwhen-does-it-happen = \"on-heat-stages\"\ntime-to-trip = \"over-half-hour\"\nwhich-device-opened = \"panel-breaker\"\n"
        ));
        let heat = case.defects.iter().any(|defect| defect.test == "heat-circuit");
        (heat, case.requirements)
    };
    let (wrong, shown) = case("heat-pump", "");
    assert!(!wrong, "{shown:?}");
    assert!(!case("heat-pump", "heater-device-rating = \"60 A\"\n").0);
    assert!(case("heat-pump", "heater-device-rating = \"50 A\"\n").0);
    assert!(case("electric-air-handler", "heater-device-rating = \"50 A\"\n").0);
}
