//! Ways that once led to a live, running or burner step, or to work on a live panel, walked one by one.
//!
//! Each walk answers every question in the commonest way except those it names. The same walk without the danger must
//! come to powered steps, so that a walk that goes nowhere proves nothing.

#![expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use std::sync::LazyLock;

use lineside::knowledge;
use lineside::knowledge::model::{Hazard, Job, Knowledge, Place, State, Test, TestKind};
use lineside::quantity::Word;
use lineside::walk::{Event, Question, Reply, Walk};

static KNOWLEDGE: LazyLock<Knowledge> = LazyLock::new(|| knowledge::embedded().unwrap());

/// The commonest answer is not taken: it could not be checked.
const UNKNOWN: &str = "?";

/// What was asked, in order, and how it ended.
struct Walked {
    asked: Vec<String>,
    halt: Option<String>,
}

impl Walked {
    fn powered(&self) -> Vec<&str> {
        let is_powered = |id: &&String| KNOWLEDGE.tests[KNOWLEDGE.test(id).unwrap()].state.is_powered();
        self.asked.iter().filter(is_powered).map(String::as_str).collect()
    }

    fn place(&self, id: &str) -> Option<usize> {
        self.asked.iter().position(|asked| asked == id)
    }

    fn has(&self, id: &str) -> bool {
        self.place(id).is_some()
    }
}

/// How often a walk goes on where it would conclude.
const FURTHER: usize = 40;

fn walk(complaint: &str, equipment: &str, answers: &[(&str, &str)]) -> Walked {
    let mut walk = Walk::new(&KNOWLEDGE);
    step(&mut walk, &Reply::Answer(complaint.to_owned()));
    step(&mut walk, &Reply::Answer(equipment.to_owned()));
    walk_on(walk, answers)
}

/// Goes on to the end with these answers, else the commonest ones.
fn walk_on(mut walk: Walk<'_>, answers: &[(&str, &str)]) -> Walked {
    let mut walked = Walked {
        asked: Vec::new(),
        halt: None,
    };
    let mut gone_on = 0;
    for _ in 0..1_000 {
        let reply = match walk.question() {
            // Whoever goes on must be as safe as before.
            Question::Finish if gone_on < FURTHER => {
                gone_on += 1;
                Reply::Further
            }
            Question::Finish => return walked,
            Question::Halt { advice, .. } => {
                walked.halt = Some(advice.clone());
                return walked;
            }
            Question::Accessories | Question::Fact { .. } => Reply::CouldNotCheck,
            Question::Offer { tests, .. } => {
                let ids: Vec<&str> = tests
                    .iter()
                    .map(|test| KNOWLEDGE.tests[*test].id.as_str())
                    .collect();
                Reply::Answer(ids.join(", "))
            }
            Question::Able { among } => {
                let ids: Vec<&str> = among.iter().map(|ability| ability.word()).collect();
                Reply::Answer(ids.join(", "))
            }
            Question::Test { test, .. } => {
                let test = &KNOWLEDGE.tests[*test];
                walked.asked.push(test.id.clone());
                match answers.iter().find(|(id, _)| *id == test.id) {
                    Some((_, answer)) if *answer == UNKNOWN => Reply::CouldNotCheck,
                    Some((_, answer)) => Reply::Answer((*answer).to_owned()),
                    // Whoever has something to say of one of several looks does not say that all is well.
                    None if names_one_of(test, answers) => Reply::Answer("not-all".to_owned()),
                    None => commonest(test),
                }
            }
            _ => Reply::Accept,
        };
        if !try_step(&mut walk, &reply) {
            step(&mut walk, &Reply::CouldNotCheck);
        }
    }
    panic!("a walk does not end: {:?}", walked.asked);
}

fn names_one_of(test: &Test, answers: &[(&str, &str)]) -> bool {
    let looks = test.at_once.iter().map(|(look, _)| &KNOWLEDGE.tests[*look].id);
    looks
        .into_iter()
        .any(|look| answers.iter().any(|(id, _)| id == look))
}

fn commonest(test: &Test) -> Reply {
    let index = test
        .outcomes
        .indices()
        .max_by(|a, b| test.outcomes[*a].usual.total_cmp(&test.outcomes[*b].usual))
        .unwrap();
    let outcome = &test.outcomes[index];
    if let TestKind::Reading { .. } = test.kind {
        // A reading also takes its outcome in words.
        return Reply::Answer(outcome.id.clone());
    }
    Reply::Answer(outcome.id.clone())
}

fn try_step(walk: &mut Walk<'_>, reply: &Reply) -> bool {
    let Ok(taken) = walk.receive(reply) else {
        return false;
    };
    walk.apply(&taken.event).unwrap();
    true
}

fn step(walk: &mut Walk<'_>, reply: &Reply) {
    assert!(try_step(walk, reply), "{reply:?} to {:?}", walk.question());
}

/// Every complaint with an equipment it is told of, the first that has a burner where there is one.
fn complaints(with_part: Option<&str>) -> Vec<(&'static str, &'static str)> {
    let knowledge: &'static Knowledge = &KNOWLEDGE;
    knowledge
        .complaints()
        .into_iter()
        .filter_map(|(tree, _)| {
            let equipment = knowledge.equipment.iter().find(|kind| {
                let has = |part: &str| kind.parts.iter().any(|own| own == part);
                let mut walk = Walk::new(knowledge);
                step(&mut walk, &Reply::Answer(tree.id.clone()));
                try_step(&mut walk, &Reply::Answer(kind.id.clone()))
                    && with_part.is_none_or(has)
                    && has("disconnect") | with_part.is_some()
            })?;
            Some((tree.id.as_str(), equipment.id.as_str()))
        })
        .collect()
}

/// Every third of them, for the ways that differ only in one proof: an unoptimized walk takes a quarter of a second.
fn some_complaints() -> impl Iterator<Item = (&'static str, &'static str)> {
    complaints(None).into_iter().step_by(3)
}

/// No powered step with these answers.
fn holds_back(complaint: &str, equipment: &str, answers: &[(&str, &str)]) {
    let walked = walk(complaint, equipment, answers);
    assert!(
        walked.powered().is_empty(),
        "{complaint} on {equipment}, {answers:?}: {:?} in {:?}",
        walked.powered(),
        walked.asked
    );
}

#[test]
fn sound_walks_come_to_powered_steps() {
    let mut powered = 0;
    for (complaint, equipment) in complaints(None) {
        powered += usize::from(!walk(complaint, equipment, &[]).powered().is_empty());
    }
    assert!(powered >= 15, "{powered} complaints come to a powered step");
}

#[test]
fn hazards_that_were_not_looked_for_leave_only_dead_looks() {
    for (complaint, equipment) in complaints(None) {
        holds_back(complaint, equipment, &[("hazard-look", UNKNOWN)]);
    }
}

#[test]
fn old_heat_damage_not_repaired_leaves_only_dead_looks_in_every_complaint() {
    for (complaint, equipment) in complaints(None) {
        holds_back(
            complaint,
            equipment,
            &[
                ("hazard-look", "heat-damage"),
                ("burnt-part-mended", "not-yet"),
                ("made-safe", "safe"),
            ],
        );
    }
    for (complaint, equipment) in some_complaints() {
        for seen in ["over-now", "too-hot"] {
            holds_back(
                complaint,
                equipment,
                &[
                    ("hazard-look", seen),
                    ("burnt-part-mended", "not-yet"),
                    ("made-safe", "safe"),
                ],
            );
        }
    }
}

/// "Repaired" says nothing where nobody found what burned: the place was not found, or only what was in sight was seen.
#[test]
fn what_burned_and_was_not_found_is_not_mended() {
    let told = |seen, place| {
        [
            ("hazard-look", seen),
            ("made-safe", "safe"),
            ("burnt-part", place),
            ("burnt-part-mended", "mended"),
        ]
    };
    for (complaint, equipment) in some_complaints() {
        for place in [UNKNOWN, "nothing-in-sight"] {
            holds_back(complaint, equipment, &told("burning-or-smoke", place));
        }
    }
    for seen in ["over-now", "too-hot", "heat-damage"] {
        holds_back("does-not-run", "split-air-conditioner", &told(seen, UNKNOWN));
    }
    for place in ["disconnect", "nothing-burnt"] {
        let found = walk(
            "does-not-run",
            "split-air-conditioner",
            &told("burning-or-smoke", place),
        );
        assert!(!found.powered().is_empty(), "{place}: {:?}", found.asked);
    }
    // Called repaired though nothing was found: what smoked is still there.
    for source in [UNKNOWN, "not-known"] {
        let unexplained = [
            &told("burning-or-smoke", "nothing-burnt")[..],
            &[("smoke-source", source)],
        ];
        holds_back("does-not-run", "split-air-conditioner", &unexplained.concat());
    }
}

/// A grounded winding arcs at the next start, whatever is read meanwhile.
#[test]
fn a_motor_that_does_not_start_is_read_to_ground_before_it_runs() {
    let runs_it = [
        "start-current",
        "pressures-running",
        "compressor-running-current",
        "unit-current-running",
        "voltage-at-unit-running",
    ];
    let starts = |id: &&String| {
        let test = &KNOWLEDGE.tests[KNOWLEDGE.test(id).unwrap()];
        test.state == State::Running || runs_it.contains(&id.as_str())
    };
    for (read, may) in [(UNKNOWN, false), ("low", false), ("open", true)] {
        let told = [
            ("hazard-look", "none"),
            ("what-runs", "compressor-dead"),
            ("unit-to-ground", read),
        ];
        let asked = ["motor-will-not-start", "does-not-run", "weak-cooling-or-heating"]
            .map(|complaint| walk(complaint, "split-air-conditioner", &told).asked)
            .concat();
        let started: Vec<_> = asked.iter().filter(starts).collect();
        assert_eq!(!started.is_empty(), may, "{read}: {started:?}");
    }
}

/// At first only one hazard is told: the shock is proved away, and the water at the board is still to be asked for.
#[test]
fn after_one_hazard_the_others_are_looked_for() {
    let proven = [("hazard-look", "shock-or-tingle"), ("made-safe", "safe")];
    let with = |more: &[(&'static str, &'static str)]| [&proven[..], more].concat();
    for (complaint, equipment) in some_complaints() {
        for more in [
            &[("other-hazards-look", UNKNOWN)][..],
            &[("other-hazards-look", "water"), ("water-dried", UNKNOWN)],
            &[("other-hazards-look", "burnt"), ("burnt-part-mended", "not-yet")],
            &[("other-hazards-look", "several"), ("water-dried", "not-stopped")],
        ] {
            holds_back(complaint, equipment, &with(more));
        }
    }
    for more in [
        &[][..],
        &[("other-hazards-look", "water")],
        &[("other-hazards-look", "several")],
    ] {
        let walked = walk("does-not-run", "split-air-conditioner", &with(more));
        let powered = walked.powered();
        assert!(!powered.is_empty(), "{more:?}: {:?}", walked.asked);
        assert!(walked.place("other-hazards-look") < walked.place(powered[0]));
    }
}

#[test]
fn a_wet_unit_stays_dead_while_anything_of_it_is_open() {
    for open in ["water-dried", "unit-to-ground", "cable-to-ground"] {
        for (complaint, equipment) in some_complaints() {
            holds_back(
                complaint,
                equipment,
                &[
                    ("hazard-look", "water-at-live-parts"),
                    ("made-safe", "safe"),
                    (open, UNKNOWN),
                ],
            );
        }
    }
    holds_back(
        "does-not-run",
        "heat-pump",
        &[
            ("hazard-look", "water-at-live-parts"),
            ("made-safe", "safe"),
            ("water-dried", "stopped-not-dry"),
        ],
    );
}

#[test]
fn a_frame_that_shocked_someone_stays_dead_on_a_weak_proof() {
    for weak in [
        ("ground-conductor-look", "good-at-unit"),
        ("ground-conductor-look", UNKNOWN),
        ("ground-resistance", "0.8 ohm"),
        ("ground-resistance", "2 ohm"),
        ("ground-resistance", UNKNOWN),
        ("metal-volts-breaker-off", UNKNOWN),
        ("unit-to-ground", UNKNOWN),
        ("cable-to-ground", UNKNOWN),
    ] {
        for (complaint, equipment) in some_complaints() {
            holds_back(
                complaint,
                equipment,
                &[("hazard-look", "shock-or-tingle"), ("made-safe", "safe"), weak],
            );
        }
    }
}

#[test]
fn metal_above_two_volts_ends_the_live_steps() {
    let proven = [
        ("hazard-look", "shock-or-tingle"),
        ("made-safe", "safe"),
        ("ground-conductor-look", "whole"),
        ("metal-volts-breaker-off", "0.2 V"),
        ("ground-resistance", "0.1 ohm"),
    ];
    let sound = walk("shock-or-hot-metal", "heat-pump", &proven);
    assert!(sound.has("metal-volts-running"), "{:?}", sound.asked);
    let raised = walk(
        "shock-or-hot-metal",
        "heat-pump",
        &[&proven[..], &[("metal-volts-running", "5 V")]].concat(),
    );
    let at = raised.place("metal-volts-running").unwrap();
    let after: Vec<&String> = raised.asked[at + 1..].iter().collect();
    assert!(
        after
            .iter()
            .all(|id| !KNOWLEDGE.tests[KNOWLEDGE.test(id).unwrap()].state.is_powered()),
        "{after:?}"
    );
}

/// Looks that find a loose joint of the line, by equipment.
const LOOSE: [(&str, &[(&str, &str)]); 2] = [
    (
        "split-air-conditioner",
        &[
            ("disconnect-look", "lug-loose"),
            ("splices-look", "white-loose"),
            ("unit-terminals-pull", "line-nut-loose"),
        ],
    ),
    (
        "gas-furnace",
        &[
            ("splices-look", "hot-loose"),
            ("service-switch-look", "white-loose"),
            ("service-switch-look", "hot-nut-loose"),
        ],
    ),
];

/// Wherever a walk comes to powered steps, it comes to none once the look has found the joint loose.
#[test]
fn a_loose_joint_of_the_line_is_remade_before_anything_is_switched_on() {
    for (equipment, looks) in LOOSE {
        let mut held = 0;
        // Some of the complaints: a walk takes its time.
        for (tree, _) in KNOWLEDGE.complaints().into_iter().step_by(4) {
            let mut begun = Walk::new(&KNOWLEDGE);
            step(&mut begun, &Reply::Answer(tree.id.clone()));
            if !try_step(&mut begun, &Reply::Answer(equipment.to_owned()))
                || walk_on(begun.clone(), &[]).powered().is_empty()
            {
                continue;
            }
            held += 1;
            for (look, found) in looks {
                let mut told = begun.clone();
                let seen = Reply::Volunteer {
                    test: (*look).to_owned(),
                    answer: Some((*found).to_owned()),
                };
                step(&mut told, &seen);
                let walked = walk_on(told, &[(look, found)]);
                let powered = walked.powered();
                assert!(powered.is_empty(), "{}, {look} {found}: {powered:?}", tree.id);
            }
        }
        assert!(held > 1, "{equipment}: {held}");
    }
}

#[test]
fn a_tripped_breaker_is_not_closed_before_the_dead_readings() {
    for when in [
        "after-minutes",
        "with-another-load",
        "after-hours-or-hot-day",
        "at-random",
    ] {
        for missing in ["unit-to-ground", "unit-hot-to-hot"] {
            holds_back(
                "breaker-opens",
                "heat-pump",
                &[("when-does-it-happen", when), (missing, UNKNOWN)],
            );
        }
    }
}

#[test]
fn fuel_is_cleared_before_any_powered_step_at_a_burner() {
    let mut reached = 0;
    for (complaint, equipment) in complaints(Some("burner")) {
        holds_back(complaint, equipment, &[("fuel-hazard-look", UNKNOWN)]);
        let walked = walk(complaint, equipment, &[]);
        if let Some(first) = walked.powered().first() {
            reached += 1;
            assert!(
                walked.place("fuel-hazard-look") < walked.place(first),
                "{complaint} on {equipment}: {:?}",
                walked.asked
            );
        }
        for hazard in ["gas-smell", "fumes"] {
            assert!(
                walk(complaint, equipment, &[("fuel-hazard-look", hazard)])
                    .halt
                    .is_some(),
                "{complaint} on {equipment} goes on at {hazard}"
            );
        }
    }
    assert!(
        reached >= 8,
        "{reached} complaints come to a powered step at a burner"
    );
}

#[test]
fn a_rolled_out_flame_is_not_tried_before_vent_and_exchanger_were_seen() {
    for missing in ["heat-exchanger-look", "vent-and-air-checked"] {
        let walked = walk(
            "flame-lost",
            "gas-furnace",
            &[("rollout-look", "tripped-clean"), (missing, UNKNOWN)],
        );
        let seen = walked.place("rollout-look").unwrap_or(usize::MAX);
        for (place, id) in walked.asked.iter().enumerate().filter(|(place, _)| *place > seen) {
            let test = &KNOWLEDGE.tests[KNOWLEDGE.test(id).unwrap()];
            assert_ne!(test.state, State::Firing, "`{id}` at {place} after a roll-out");
        }
    }
}

#[test]
fn a_panel_is_not_opened_before_it_was_looked_at() {
    for (complaint, equipment) in complaints(None) {
        let walked = walk(complaint, equipment, &[("panel-outside-look", UNKNOWN)]);
        for id in [
            "voltage-at-panel-rest",
            "voltage-at-panel-running",
            "leg-1-voltage",
            "leg-2-voltage",
            "main-pole-drop",
        ] {
            assert!(!walked.has(id), "{complaint}: `{id}` in {:?}", walked.asked);
        }
        let sound = walk(complaint, equipment, &[]);
        if let Some(read) = sound.place("voltage-at-panel-rest") {
            assert!(
                sound.place("panel-outside-look") < Some(read),
                "{complaint}: {:?}",
                sound.asked
            );
        }
    }
}

#[test]
fn nothing_runs_on_three_phases_before_rotation_is_known_and_the_crankcase_is_warm() {
    let unknown = walk(
        "circuit-proving",
        "rooftop-three-phase",
        &[("rotation-meter", UNKNOWN), ("rotation-by-ear", UNKNOWN)],
    );
    assert!(
        // The trace only switches the unit off.
        unknown
            .powered()
            .iter()
            .all(|id| id.starts_with("rotation-") || *id == "circuit-trace"),
        "{:?}",
        unknown.powered()
    );
    let cold = walk(
        "circuit-proving",
        "rooftop-three-phase",
        &[("crankcase-warm", "cold")],
    );
    assert!(
        cold.powered().iter().all(|id| *id == "circuit-trace"),
        "{:?}",
        cold.powered()
    );
    let sound = walk("circuit-proving", "rooftop-three-phase", &[]);
    assert!(
        sound.place("crankcase-warm") < sound.place("rotation-meter"),
        "{:?}",
        sound.asked
    );
    assert!(
        sound.place("rotation-meter") < sound.place("voltage-phase-ab"),
        "{:?}",
        sound.asked
    );
}

#[test]
fn a_panel_with_a_second_source_is_not_taken_for_dead() {
    for (complaint, equipment) in some_complaints() {
        let walked = walk(complaint, equipment, &[("other-sources-look", "not-locked")]);
        for id in [
            "breaker-pulled-look",
            "panel-work-look",
            "subpanel-bond-look",
            "neutral-lifted-ohms",
            "metal-volts-main-off",
        ] {
            assert!(!walked.has(id), "{complaint}: `{id}` in {:?}", walked.asked);
        }
    }
}

#[test]
fn a_part_that_fails_again_is_read_to_its_frame_first() {
    for part in ["igniter-or-heater", "run-capacitor", "blower-motor", "fan-motor"] {
        for missing in ["unit-to-ground", "heater-to-frame"] {
            holds_back(
                "part-fails-again",
                "heat-pump",
                &[("part-again", part), (missing, UNKNOWN)],
            );
        }
    }
}

#[test]
fn a_lead_into_an_open_panel_is_a_shock_hazard_and_says_so() {
    for id in ["ground-resistance", "neutral-lifted-ohms"] {
        let test = &KNOWLEDGE.tests[KNOWLEDGE.test(id).unwrap()];
        assert_eq!(test.hazard, Hazard::Shock, "{id}");
        assert!(test.caution.contains("line lugs"), "{id}");
    }
}

#[test]
fn what_runs_or_burns_says_so_and_what_is_told_switches_nothing() {
    for (id, state) in [
        ("what-runs", State::Told),
        ("what-runs-now", State::Running),
        ("fan-on-runs", State::Running),
        ("dead-part-sound", State::Told),
        ("flame-at-failed-try", State::Told),
        ("flame-at-failed-try-now", State::Firing),
        ("spark-or-glow-seen", State::Told),
        ("spark-or-glow-seen-now", State::Firing),
        ("pilot-look", State::Firing),
        ("thermocouple-millivolts", State::Firing),
        ("lights-when-load-starts", State::Told),
        ("lights-when-load-starts-now", State::Running),
        ("half-dead-look", State::Told),
        ("dims-at-which-start", State::Told),
        ("register-air", State::Running),
        ("emergency-heat-try", State::Running),
        ("mode-reversed", State::Running),
        ("oil-fuel-look", State::Running),
        ("circuit-trace", State::LockedOut),
        ("motor-case-heat", State::LockedOut),
        ("flame-rod-look", State::Firing),
        ("breaker-exchange", State::Energised),
        ("oil-reset-behaviour", State::Firing),
    ] {
        assert_eq!(KNOWLEDGE.tests[KNOWLEDGE.test(id).unwrap()].state, state, "{id}");
    }
}

#[test]
fn what_lies_at_the_service_or_beyond_is_not_left_to_whoever_checks_locally() {
    for cause in &KNOWLEDGE.causes {
        if matches!(cause.place, Place::Utility | Place::Service) {
            assert_ne!(cause.job, Job::CheckLocally, "{}", cause.id);
        }
    }
}

#[test]
fn a_hazard_not_known_to_be_cut_off_ends_with_a_word_of_what_to_do() {
    for hazard in [
        "shock-or-tingle",
        "burning-or-smoke",
        "over-now",
        "too-hot",
        "heat-damage",
        "water-at-live-parts",
    ] {
        for complaint in ["does-not-run", "breaker-opens", "shock-or-hot-metal"] {
            let walked = walk(
                complaint,
                "heat-pump",
                &[("hazard-look", hazard), ("made-safe", UNKNOWN)],
            );
            assert!(
                walked
                    .halt
                    .as_ref()
                    .is_some_and(|advice| advice.contains("not worked on")),
                "{complaint}, {hazard}: {:?}",
                walked.halt
            );
        }
    }
}

/// Somebody comes on another day.
fn comes_again(walk: &mut Walk<'_>) {
    let visit = Event::Visit {
        technician: Some("B".to_owned()),
        program: String::new(),
        knowledge: String::new(),
        learned: None,
    };
    walk.apply(&visit).unwrap();
}

fn tell(walk: &mut Walk<'_>, test: &str, outcome: &str) {
    let told = Reply::Volunteer {
        test: test.to_owned(),
        answer: Some(outcome.to_owned()),
    };
    step(walk, &told);
}

fn begun(complaint: &str, equipment: &str) -> Walk<'static> {
    let knowledge: &'static Knowledge = &KNOWLEDGE;
    let mut walk = Walk::new(knowledge);
    step(&mut walk, &Reply::Answer(complaint.to_owned()));
    step(&mut walk, &Reply::Answer(equipment.to_owned()));
    if *walk.question() == Question::Accessories {
        step(&mut walk, &Reply::CouldNotCheck);
    }
    walk
}

/// The morning after, the house is aired and the burner off: "none of these" is true then, and clears nothing.
#[test]
fn a_carbon_monoxide_alarm_is_not_cleared_by_the_same_look() {
    let stops = |walk: &Walk<'_>| matches!(walk.question(), Question::Halt { .. });
    let mut walk = begun("flame-lost", "gas-furnace");
    tell(&mut walk, "fuel-hazard-look", "fumes");
    assert!(stops(&walk), "{:?}", walk.question());
    tell(&mut walk, "fuel-hazard-look", "none");
    assert!(stops(&walk), "{:?}", walk.question());
    comes_again(&mut walk);
    let Question::Test { test, .. } = walk.question() else {
        panic!("{:?}", walk.question());
    };
    assert_eq!(KNOWLEDGE.tests[*test].id, "fuel-made-right");
    step(&mut walk, &Reply::Answer("only-aired".to_owned()));
    assert!(stops(&walk), "{:?}", walk.question());
    tell(&mut walk, "fuel-made-right", "repaired");
    let with = |more| walk_on(walk.clone(), &[("vent-and-air-checked", "clear"), more]);
    let unseen = with(("heat-exchanger-look", UNKNOWN));
    assert!(
        unseen.halt.is_some() && unseen.powered().is_empty(),
        "{:?}",
        unseen.asked
    );
    let proved = with(("heat-exchanger-look", "sound"));
    assert!(!proved.powered().is_empty(), "{:?}", proved.asked);
    let first = proved.place(proved.powered()[0]);
    assert!(proved.place("fuel-this-visit") < first, "{:?}", proved.asked);
}

/// Whoever smells gas is told to leave, not asked who repaired it; where it was put right at once, that can be told.
#[test]
fn gas_stops_before_anything_is_asked_and_can_be_told_repaired() {
    let mut walk = begun("does-not-run", "gas-furnace");
    tell(&mut walk, "fuel-hazard-look", "gas-smell");
    assert!(matches!(walk.question(), Question::Halt { .. }));
    assert!(
        walk.clears_later()
            .is_some_and(|proof| KNOWLEDGE.tests[proof].id == "fuel-made-right")
    );
    tell(&mut walk, "fuel-made-right", "repaired");
    assert!(!walk_on(walk, &[]).powered().is_empty());
}

#[test]
fn each_further_visit_looks_for_hazards_before_a_powered_step() {
    for (complaint, equipment) in complaints(Some("burner")).into_iter().step_by(3) {
        let mut walk = begun(complaint, equipment);
        tell(&mut walk, "fuel-hazard-look", "none");
        tell(&mut walk, "hazard-look", "none");
        let same = walk_on(walk.clone(), &[]);
        assert!(!same.has("hazards-this-visit"), "{complaint}: {:?}", same.asked);
        comes_again(&mut walk);
        let again = walk_on(walk.clone(), &[]);
        let first = again.powered().first().and_then(|first| again.place(first));
        if first.is_some() {
            for look in ["hazards-this-visit", "fuel-this-visit"] {
                let place = again.place(look);
                assert!(
                    place.is_some() && place < first,
                    "{complaint}: {look} in {:?}",
                    again.asked
                );
            }
        }
        for look in ["hazards-this-visit", "fuel-this-visit"] {
            let unknown = walk_on(walk.clone(), &[(look, UNKNOWN)]);
            assert!(
                unknown.powered().is_empty(),
                "{complaint}: {:?}",
                unknown.powered()
            );
        }
    }
}

/// A danger that nobody said was cleared at the closing stands in the callback, whatever is told or taken back there, until what
/// clears it is given.
#[test]
fn a_danger_left_standing_holds_the_callback() {
    type Told = &'static [(&'static str, &'static str)];
    let cases: [(&str, &str, Told, Told); 3] = [
        (
            "flame-lost",
            "gas-furnace",
            &[("fuel-hazard-look", "gas-smell")],
            &[("fuel-made-right", "repaired")],
        ),
        (
            "flame-lost",
            "gas-furnace",
            &[
                ("hazard-look", "shock-or-tingle"),
                ("shock-kind", "steady-tingle"),
            ],
            &[("ground-resistance", "good")],
        ),
        (
            "control-power-lost",
            "gas-package-unit",
            &[("safety-bridged-look", "bridged")],
            &[("safety-bridged-look", "back")],
        ),
    ];
    for (complaint, equipment, told, cleared) in cases {
        let mut before = begun(complaint, equipment);
        for (test, outcome) in told {
            tell(&mut before, test, outcome);
        }
        let left: Vec<Event> = before
            .dangers()
            .into_iter()
            .flat_map(|hold| before.left_by(hold))
            .collect();
        assert!(!left.is_empty(), "{told:?}");
        let sound = walk(complaint, equipment, &[]);
        assert!(!sound.powered().is_empty(), "{:?}", sound.asked);

        let knowledge: &'static Knowledge = &KNOWLEDGE;
        let mut callback = Walk::new(knowledge);
        assert!(callback.apply_all(&left).is_empty());
        step(&mut callback, &Reply::Answer(complaint.to_owned()));
        step(&mut callback, &Reply::Answer(equipment.to_owned()));
        let names =
            |walk: &Walk<'_>| -> Vec<String> { walk.dangers().iter().map(|hold| hold.id.clone()).collect() };
        assert_eq!(names(&callback), names(&before));
        let unsure = |walk: Walk<'static>| {
            let unknown: Vec<(&str, &str)> = told
                .iter()
                .chain(cleared)
                .map(|(test, _)| (*test, UNKNOWN))
                .collect();
            walk_on(walk, &unknown)
        };
        let mut again = callback.clone();
        again.apply(&Event::Undone { steps: 99 }).unwrap();
        step(&mut again, &Reply::Answer(complaint.to_owned()));
        step(&mut again, &Reply::Answer(equipment.to_owned()));
        for walk in [callback.clone(), again] {
            let walked = unsure(walk);
            assert!(walked.powered().is_empty(), "{told:?}: {:?}", walked.powered());
        }
        let mut none = callback.clone();
        tell(&mut none, "hazard-look", "none");
        let walked = unsure(none);
        assert!(walked.powered().is_empty(), "{told:?}: {:?}", walked.powered());
    }
}

/// "Running" or "energized" by their state, and yet the burner lights.
#[test]
fn what_calls_for_heat_is_not_made_while_the_burner_may_not_be_lit() {
    let told = [("rollout-look", "tripped-clean"), ("what-runs", "burner-dead")];
    for missing in ["vent-and-air-checked", "heat-exchanger-look"] {
        let answers = [&told[..], &[(missing, UNKNOWN)]].concat();
        for complaint in [
            "does-not-run",
            "control-power-lost",
            "display-blank",
            "flame-lost",
        ] {
            let mut walk = begun(complaint, "gas-furnace");
            tell(&mut walk, "rollout-look", "tripped-clean");
            let walked = walk_on(walk, &answers);
            for id in walked.powered() {
                let test = &KNOWLEDGE.tests[KNOWLEDGE.test(id).unwrap()];
                assert!(
                    !test.calls_heat && test.state != State::Firing,
                    "{complaint}: `{id}`"
                );
            }
        }
    }
    let mut walk = begun("electric-heat", "electric-boiler");
    tell(&mut walk, "fault-memory", "limit-or-rollout");
    let walked = walk_on(walk, &[("low-water-look", UNKNOWN)]);
    for id in ["stage-currents", "heater-supply-volts", "what-runs-now"] {
        assert!(!walked.has(id), "{id}: {:?}", walked.asked);
    }
}

#[test]
fn a_note_that_names_a_danger_asks_for_its_look() {
    let walk = begun("does-not-run", "gas-furnace");
    let looks = |note: &str| -> Vec<&str> {
        let looks = walk.looks_noted(note);
        looks
            .into_iter()
            .map(|look| KNOWLEDGE.tests[look].id.as_str())
            .collect()
    };
    assert_eq!(
        looks("Carbon monoxide alarm went off last night"),
        ["fuel-this-visit"]
    );
    assert_eq!(looks("got a tingle from the cabinet"), ["hazards-this-visit"]);
    assert_eq!(looks("panel is wet"), ["hazards-this-visit"]);
    assert_eq!(
        looks("Paper clip jumpered across the rollout switch"),
        ["safety-bridged-look"]
    );
    assert!(looks("filter changed, customer home after four").is_empty());
}

/// Four looks before the first flame are one question; it proves no more than the four would, and only while it stands.
#[test]
fn one_look_at_all_before_the_flame_proves_what_the_four_prove() {
    let looks = [
        "vent-and-air-checked",
        "rollout-look",
        "safety-bridged-look",
        "low-water-look",
    ];
    let begun = |equipment| {
        let mut walk = begun("flame-lost", equipment);
        for look in ["fuel-hazard-look", "hazard-look"] {
            tell(&mut walk, look, "none");
        }
        walk
    };
    for (equipment, fewest) in [("gas-furnace", 3), ("boiler", 4)] {
        let walked = walk_on(begun(equipment), &[]);
        let fires = walked.asked.iter().position(|id| {
            let test = &KNOWLEDGE.tests[KNOWLEDGE.test(id).unwrap()];
            test.state == State::Firing
        });
        let fires = fires.unwrap_or_else(|| panic!("no flame: {:?}", walked.asked));
        assert!(
            walked.place("before-flame-look").is_some_and(|at| at < fires),
            "{:?}",
            walked.asked
        );
        assert!(!looks.iter().any(|look| walked.has(look)), "{:?}", walked.asked);
        for answer in ["not-all", "likely all-well", UNKNOWN] {
            let walked = walk_on(begun(equipment), &[("before-flame-look", answer)]);
            let asked = looks.iter().filter(|look| walked.has(look)).count();
            assert_eq!(asked, fewest, "{answer}: {:?}", walked.asked);
        }
    }
    let stops = |walk: &Walk<'_>| {
        let fires = KNOWLEDGE
            .tests
            .indices()
            .find(|test| KNOWLEDGE.tests[*test].state == State::Firing && walk.applies(*test));
        walk.stopped(fires.unwrap())
            .map(|stopped| KNOWLEDGE.holds[stopped.hold].id.as_str())
    };
    let mut walk = begun("gas-furnace");
    assert!(stops(&walk).is_some_and(|hold| hold.starts_with("burner-un")));
    tell(&mut walk, "before-flame-look", "all-well");
    assert_eq!(stops(&walk), None);
    // Taken back, it proves nothing any more; what was looked at by itself stands.
    tell(&mut walk, "before-flame-look", "not-all");
    assert!(stops(&walk).is_some_and(|hold| hold.starts_with("burner-un")));
    let mut seen = begun("gas-furnace");
    tell(&mut seen, "rollout-look", "tripped-clean");
    tell(&mut seen, "before-flame-look", "all-well");
    assert!(
        stops(&seen).is_some(),
        "a tripped switch is not made good by one look at all"
    );
}

/// A call for heat lights the burner whatever the state of the test is called.
#[test]
fn no_call_lights_a_burner_nobody_looked_at() {
    let mut reached = 0;
    for equipment in ["gas-furnace", "oil-furnace", "boiler", "oil-boiler"] {
        for complaint in [
            "equipment-resets",
            "control-power-lost",
            "does-not-run",
            "flame-lost",
        ] {
            let walked = walk_on(begun(complaint, equipment), &[]);
            let calls = walked.asked.iter().position(|id| {
                let test = &KNOWLEDGE.tests[KNOWLEDGE.test(id).unwrap()];
                test.calls_heat || test.state == State::Firing
            });
            let Some(calls) = calls else { continue };
            reached += 1;
            let looked = walked.place("before-flame-look");
            assert!(
                looked.is_some_and(|at| at < calls),
                "{complaint}, {equipment}: {:?}",
                walked.asked
            );
            let unseen = walk_on(begun(complaint, equipment), &[("vent-and-air-checked", UNKNOWN)]);
            for id in unseen.powered() {
                let test = &KNOWLEDGE.tests[KNOWLEDGE.test(id).unwrap()];
                assert!(
                    !test.calls_heat && test.state != State::Firing,
                    "{complaint}, {equipment}: `{id}`"
                );
            }
        }
    }
    assert!(reached >= 8, "{reached} walks come to a call");
}

/// That a bridged safety is back says that it had been bridged: why it opened is looked at before heat is called.
#[test]
fn a_safety_that_was_bridged_leaves_its_trace() {
    let mut walk = begun("flame-lost", "gas-furnace");
    for (look, answer) in [
        ("fuel-hazard-look", "none"),
        ("hazard-look", "none"),
        ("before-flame-look", "all-well"),
    ] {
        tell(&mut walk, look, answer);
    }
    tell(&mut walk, "safety-bridged-look", "bridged");
    let held = |walk: &Walk<'_>| {
        walk.holds()
            .iter()
            .map(|hold| hold.id.clone())
            .collect::<Vec<_>>()
    };
    assert_eq!(held(&walk), ["bridged"]);
    tell(&mut walk, "safety-bridged-look", "none");
    assert_eq!(
        held(&walk),
        ["bridged"],
        "that none is bridged does not say that one is back"
    );
    tell(&mut walk, "safety-bridged-look", "back");
    assert_eq!(held(&walk), ["was-bridged"]);
    let walked = walk_on(walk.clone(), &[]);
    let calls = walked.asked.iter().position(|id| {
        let test = &KNOWLEDGE.tests[KNOWLEDGE.test(id).unwrap()];
        test.calls_heat || test.state == State::Firing
    });
    for look in ["rollout-look", "vent-and-air-checked"] {
        assert!(
            walked.place(look).is_some_and(|at| Some(at) < calls),
            "{look}: {:?}",
            walked.asked
        );
    }
    let defects = walk.defects();
    assert!(
        defects
            .iter()
            .any(|defect| KNOWLEDGE.tests[defect.test].id == "safety-bridged-look"),
        "the record must keep it"
    );
}
