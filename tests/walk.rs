//! Whole walks over the knowledge compiled in: what must hold whatever is answered.

use lineside::knowledge;
use lineside::knowledge::model::{
    EquipmentIndex, Hold, Knowledge, Outcome, OutcomeIndex, State, Test, TestIndex, TestKind,
};
use lineside::quantity::{ValueKind, Word};
use lineside::walk::{AnswerFile, Because, Event, Given, NOTHING, Question, Reply, Walk, drive};
use proptest::prelude::*;
use std::sync::LazyLock;

static KNOWLEDGE: LazyLock<Knowledge> =
    LazyLock::new(|| knowledge::embedded().expect("the knowledge compiled in is sound"));

/// More questions than there can be: every complaint, equipment, fact, test and caution once.
const MOST_STEPS: usize = 1_000;

/// Some ids with commas between them, or the word for none of them.
fn first_of<'i>(ids: impl Iterator<Item = &'i str>, count: usize) -> String {
    match ids.take(count).collect::<Vec<_>>().join(", ") {
        none if none.is_empty() => NOTHING.to_owned(),
        some => some,
    }
}

/// Answers the present question with whatever the number picks; some answers are "could not check".
pub(crate) fn any_reply(walk: &Walk<'_>, pick: u32) -> Reply {
    let knowledge = walk.knowledge();
    let nth = |count: usize| (pick as usize / 7) % count.max(1);
    match walk.question() {
        Question::Complaint => {
            let ids: Vec<&str> = knowledge
                .trees
                .iter()
                .filter(|tree| tree.complaint.is_some())
                .map(|tree| tree.id.as_str())
                .collect();
            Reply::Answer(ids[nth(ids.len())].to_owned())
        }
        Question::Equipment => Reply::Answer(
            knowledge.equipment[EquipmentIndex(nth(knowledge.equipment.len()))]
                .id
                .clone(),
        ),
        Question::Accessories => {
            let own = &walk.installation().expect("the equipment is known").accessories;
            match nth(own.len() + 2) {
                0 => Reply::CouldNotCheck,
                1 => Reply::Answer("none".to_owned()),
                count => Reply::Answer(own[..count - 1].join(", ")),
            }
        }
        Question::Offer { tests, .. } => {
            let ids = tests.iter().map(|test| knowledge.tests[*test].id.as_str());
            Reply::Answer(first_of(ids, nth(tests.len() + 1)))
        }
        Question::Able { among } => {
            let ids = among.iter().map(|ability| ability.word());
            Reply::Answer(first_of(ids, nth(among.len() + 1)))
        }
        Question::Caution { .. } | Question::Halt { .. } | Question::Finish => Reply::Accept,
        _ if pick.is_multiple_of(7) => Reply::CouldNotCheck,
        Question::Fact { fact, .. } => {
            let fact = &knowledge.facts[*fact];
            match fact.kind {
                ValueKind::Choice => Reply::Answer(fact.choices[nth(fact.choices.len())].id.clone()),
                ValueKind::Size => Reply::Answer(["14", "12", "10", "8", "6", "1/0"][nth(6)].to_owned()),
                ValueKind::Loads => Reply::Answer("freezer 6 motor; lamp 1.5".to_owned()),
                ValueKind::Quantities(_) => Reply::Answer("60, 30".to_owned()),
                ValueKind::Quantity(kind) => {
                    let (low, high) = fact.range.unwrap_or((1.0, 10.0));
                    let share = f64::from(pick % 97) / 96.0;
                    let base = if fact.unit.is_empty() {
                        (low + (high - low) * share).round()
                    } else {
                        low + (high - low) * share
                    };
                    let quantity = lineside::quantity::Quantity::new(kind, base).expect("finite");
                    Reply::Answer(quantity.exact())
                }
            }
        }
        Question::Test { test, .. } => {
            let test = &knowledge.tests[*test];
            match &test.kind {
                TestKind::Reading { unit, range, .. } => {
                    let share = f64::from(pick % 97) / 96.0;
                    let base = range.0 + (range.1 - range.0) * share;
                    let quantity = lineside::quantity::Quantity::new(*unit, base).expect("finite");
                    Reply::Answer(quantity.exact())
                }
                _ => Reply::Answer(test.outcomes[OutcomeIndex(nth(test.outcomes.len()))].id.clone()),
            }
        }
    }
}

fn step(walk: &mut Walk<'_>, reply: &Reply) {
    let taken = walk.receive(reply).unwrap_or_else(|refusal| {
        panic!("{:?} refused at {:?}: {refusal}", reply, walk.question());
    });
    walk.apply(&taken.event)
        .expect("ids of the walk's own events are known");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_answers_end_and_probabilities_sum_to_one(picks in proptest::collection::vec(any::<u32>(), MOST_STEPS)) {
        let mut walk = Walk::new(&KNOWLEDGE);
        let mut asked = Vec::new();
        let ended = picks.iter().any(|pick| {
            if matches!(walk.question(), Question::Finish | Question::Halt { .. }) {
                return true;
            }
            if let Question::Test { test, because } = walk.question() {
                // A danger found anew asks for its proof anew; nothing else is asked twice.
                let anew = matches!(because, Because::Clears(hold) if KNOWLEDGE.holds[*hold].proved_anew);
                assert!(anew || !asked.contains(test), "asked twice: {}", KNOWLEDGE.tests[*test].id);
                asked.push(*test);
            }
            let reply = any_reply(&walk, *pick);
            step(&mut walk, &reply);
            if let Some(standing) = walk.standing() {
                let total: f64 = standing.probabilities().iter().sum();
                assert!((total - 1.0).abs() < 1e-9 && standing.probabilities().iter().all(|p| p.is_finite()));
            }
            false
        });
        prop_assert!(ended, "still asking after {MOST_STEPS} answers");
    }

    #[test]
    fn back_undoes_exactly(
        picks in proptest::collection::vec(any::<u32>(), 3..40),
        back in 1usize..6,
        again in any::<u32>(),
    ) {
        let mut walk = Walk::new(&KNOWLEDGE);
        // The walk before each step that counts as one.
        let mut before = Vec::new();
        for pick in picks {
            if matches!(walk.question(), Question::Finish | Question::Halt { .. }) {
                break;
            }
            let reply = any_reply(&walk, pick);
            let taken = walk.receive(&reply).expect("the reply fits");
            if taken.event.is_step() {
                before.push(walk.clone());
            }
            walk.apply(&taken.event).expect("known ids");
        }
        let back = back.min(before.len());
        step(&mut walk, &Reply::Back(back));
        let then = &before[before.len() - back];
        prop_assert_eq!(walk.question(), then.question());
        prop_assert_eq!(walk.standing(), then.standing());
        prop_assert_eq!(walk.calculated(), then.calculated());
        prop_assert_eq!(walk.entries(), then.entries());
        // And the way from there on is the same.
        if !matches!(walk.question(), Question::Finish | Question::Halt { .. }) {
            let mut other = then.clone();
            let reply = any_reply(&walk, again);
            step(&mut walk, &reply);
            step(&mut other, &reply);
            prop_assert_eq!(walk.question(), other.question());
        }
    }

    #[test]
    fn replaying_the_events_gives_the_same_walk(picks in proptest::collection::vec(any::<u32>(), 3..60)) {
        let mut walk = Walk::new(&KNOWLEDGE);
        let mut events: Vec<Event> = Vec::new();
        for pick in picks {
            if matches!(walk.question(), Question::Finish | Question::Halt { .. }) {
                break;
            }
            let reply = if pick.is_multiple_of(11) && walk.steps() > 0 { Reply::Back(1) } else { any_reply(&walk, pick) };
            let taken = walk.receive(&reply).expect("the reply fits");
            walk.apply(&taken.event).expect("known ids");
            events.push(taken.event);
        }
        let mut again = Walk::new(&KNOWLEDGE);
        for event in &events {
            again.apply(event).expect("known ids");
        }
        prop_assert_eq!(walk.question(), again.question());
        prop_assert_eq!(walk.standing(), again.standing());
    }

    #[test]
    fn no_energised_test_before_a_safety_look_and_its_caution(picks in proptest::collection::vec(any::<u32>(), 200)) {
        let mut walk = Walk::new(&KNOWLEDGE);
        let mut safe = false;
        let mut accepted = None;
        for pick in picks {
            match walk.question().clone() {
                Question::Finish | Question::Halt { .. } => break,
                Question::Caution { state, .. } => accepted = Some(state),
                Question::Test { test, .. } => {
                    let test = &KNOWLEDGE.tests[test];
                    if test.state == State::Energised {
                        prop_assert!(safe, "`{}` before any safety look", test.id);
                        prop_assert!(!test.caution.is_empty(), "`{}` has no caution", test.id);
                        prop_assert_eq!(accepted, Some(test.state), "`{}` without accepted cautions", &test.id);
                    }
                    safe |= test.safety;
                }
                _ => {}
            }
            let reply = any_reply(&walk, pick);
            step(&mut walk, &reply);
        }
    }
}

/// What is advised next must not undo what the tree held back.
#[test]
fn nothing_energised_is_advised_after_a_low_reading_to_ground_or_a_stop() {
    let answers = |pairs: &[(&str, &str)]| {
        let mut text = String::from("complaint = \"breaker-opens\"\nequipment = \"heat-pump\"\n[answers]\n");
        for (test, outcome) in pairs {
            text.push_str(&format!("{test} = \"{outcome}\"\n"));
        }
        let mut answers = AnswerFile::parse(&text, &KNOWLEDGE).expect("valid answers");
        let mut walk = Walk::new(&KNOWLEDGE);
        drive::<std::convert::Infallible>(&mut walk, &mut answers, &mut |_: &Event| Ok(())).expect("it ends");
        walk
    };
    let opens = [
        ("hazard-look", "none"),
        ("which-device-opened", "panel-breaker"),
        ("time-to-trip", "instantly"),
    ];
    for start in ["at-switch-on", "at-compressor-or-motor-start"] {
        for ground in ["low", "leaks"] {
            let more = [("when-does-it-happen", start), ("unit-to-ground", ground)];
            let walk = answers(&[&opens[..], &more[..]].concat());
            for candidate in walk.candidates() {
                let test = &KNOWLEDGE.tests[candidate.test];
                assert_ne!(
                    candidate.state,
                    State::Energised,
                    "{start}, {ground}: `{}`",
                    test.id
                );
            }
        }
    }
    // What burnt and is not repaired is only looked at dead, in every complaint.
    let burnt = [
        ("hazard-look", "burning-or-smoke"),
        ("made-safe", "safe"),
        ("burnt-part-mended", "not-yet"),
    ];
    for candidate in answers(&burnt).candidates() {
        let test = &KNOWLEDGE.tests[candidate.test];
        assert_ne!(
            candidate.state,
            State::Energised,
            "burnt, not repaired: `{}`",
            test.id
        );
    }
    let walk = answers(&[("hazard-look", "burning-or-smoke"), ("made-safe", "spreading")]);
    assert!(matches!(walk.question(), Question::Halt { .. }));
    assert!(
        walk.candidates()
            .iter()
            .all(|candidate| candidate.state != State::Energised)
    );
}

#[test]
fn correcting_a_fact_changes_what_depended_on_it() {
    let mut walk = Walk::new(&KNOWLEDGE);
    let volunteer = |test: &str, answer: &str| Reply::Volunteer {
        test: test.to_owned(),
        answer: Some(answer.to_owned()),
    };
    let fact = |id: &str, value: &str| Reply::Correct {
        fact: id.to_owned(),
        value: Some(value.to_owned()),
    };
    step(&mut walk, &Reply::Answer("breaker-opens".to_owned()));
    step(&mut walk, &Reply::Answer("split-air-conditioner".to_owned()));
    step(&mut walk, &volunteer("hazard-look", "none"));
    step(&mut walk, &fact("protective-device-rating", "50 A"));
    step(&mut walk, &fact("minimum-circuit-ampacity", "23.5"));
    step(&mut walk, &fact("maximum-overcurrent-protection", "40"));
    let test = KNOWLEDGE
        .test("nameplate-against-device")
        .expect("the test is there");
    assert!(
        walk.defects().iter().any(|defect| defect.test == test),
        "50 A on a 40 A maximum is a defect"
    );
    step(&mut walk, &fact("protective-device-rating", "40"));
    assert!(
        !walk.defects().iter().any(|defect| defect.test == test),
        "40 A at most 40 A is none"
    );
}

fn standing_after(answers: &[(&str, &str)], cause: &str) -> f64 {
    let mut walk = Walk::new(&KNOWLEDGE);
    step(&mut walk, &Reply::Answer("breaker-opens".to_owned()));
    step(&mut walk, &Reply::Answer("room-unit".to_owned()));
    step(
        &mut walk,
        &Reply::Correct {
            fact: "nameplate-voltage".to_owned(),
            value: Some("115 V".to_owned()),
        },
    );
    for (test, answer) in answers {
        step(
            &mut walk,
            &Reply::Volunteer {
                test: (*test).to_owned(),
                answer: Some((*answer).to_owned()),
            },
        );
    }
    let cause = KNOWLEDGE.cause(cause).expect("the cause is listed");
    walk.standing()
        .expect("complaint and equipment are known")
        .of(cause)
}

#[test]
fn what_is_only_thought_counts_less_than_what_is_sure() {
    let cause = "shared-circuit-overload";
    let before = standing_after(&[], cause);
    let thought = standing_after(&[("circuit-trace", "likely other-loads")], cause);
    let sure = standing_after(&[("circuit-trace", "other-loads")], cause);
    assert!(before < thought && thought < sure, "{before} {thought} {sure}");
}

#[test]
fn a_reading_at_a_limit_is_shared_between_its_sides() {
    // Low is less than 114 V (ANSI C84.1, Range A); the meter's standard uncertainty is about 0.7 V there.
    let cause = "low-utility-voltage";
    let [clear_low, at_limit, clear_normal] =
        ["108 V", "114 V", "120 V"].map(|reading| standing_after(&[("leg-1-voltage", reading)], cause));
    assert!(
        clear_low > at_limit && at_limit > clear_normal,
        "{clear_low} {at_limit} {clear_normal}"
    );
    // No cliff: a tenth of a volt across the limit moves the standing by little.
    let across = ["113.9 V", "114.1 V"].map(|reading| standing_after(&[("leg-1-voltage", reading)], cause));
    assert!(
        (across[0] - across[1]).abs() < 0.3 * (clear_low - clear_normal),
        "{across:?}"
    );
}

/// Whatever raises a hold bars what the hold stops, in every complaint, in what is asked and in what is advised, as long
/// as nothing that would clear it can be checked.
#[test]
fn once_a_hold_is_raised_nothing_it_stops_is_asked_or_advised() {
    let mut raising = 0;
    // What is calculated cannot be told by itself.
    let told = |test: &&Test| !matches!(test.kind, TestKind::Calculation { .. });
    for test in KNOWLEDGE.tests.iter().filter(told) {
        for outcome in test.outcomes.iter().filter(|_| !is_relative(test)) {
            for hold in outcome.raises.iter().map(|hold| &KNOWLEDGE.holds[*hold]) {
                raising += 1;
                let equipment = KNOWLEDGE
                    .equipment
                    .iter()
                    .find(|kind| test.applies_to(kind) && hold.applies_to(kind))
                    .unwrap_or_else(|| panic!("`{}` applies to nothing", test.id));
                for complaint in ["breaker-opens", "does-not-run", "lights-dim"] {
                    let mut walk = Walk::new(&KNOWLEDGE);
                    step(&mut walk, &Reply::Answer(complaint.to_owned()));
                    step(&mut walk, &Reply::Answer(equipment.id.clone()));
                    if matches!(walk.question(), Question::Accessories) {
                        step(&mut walk, &Reply::CouldNotCheck);
                    }
                    let answer = match &test.kind {
                        TestKind::Reading { .. } => a_reading_in(test, outcome),
                        _ => outcome.id.clone(),
                    };
                    step(
                        &mut walk,
                        &Reply::Volunteer {
                            test: test.id.clone(),
                            answer: Some(answer),
                        },
                    );
                    assert!(
                        walk.holds().iter().any(|up| up.id == hold.id),
                        "{}/{}",
                        test.id,
                        outcome.id
                    );
                    let result = lineside::report::CaseResult::new(&walk).expect("it is known");
                    match walk.question() {
                        // Of several it may be the first that is said.
                        Question::Halt { advice, .. } => assert!(
                            outcome
                                .raises
                                .iter()
                                .any(|hold| *advice == KNOWLEDGE.holds[*hold].says),
                            "{}/{}: {advice}",
                            test.id,
                            outcome.id
                        ),
                        _ => {
                            // One that ends the walk asks for what would clear it first.
                            assert!(
                                hold.call.is_none() || !hold.cleared_by.is_empty(),
                                "{} ends no walk",
                                hold.id
                            );
                            assert!(result.cautions.contains(&hold.says), "{}", hold.id);
                        }
                    }
                    nothing_is_asked_that(
                        hold,
                        &mut walk,
                        &format!("{complaint}: after {}/{}", test.id, outcome.id),
                    );
                }
            }
        }
    }
    assert!(raising > 10, "{raising} outcomes raise a hold");
}

fn is_stopped(hold: &Hold, test: TestIndex) -> bool {
    hold.stops.contains(&KNOWLEDGE.tests[test].state) || hold.stops_tests.contains(&test)
}

/// Walks to the end, nothing being checkable, and fails when the hold is not kept.
fn nothing_is_asked_that(hold: &Hold, walk: &mut Walk<'_>, told: &str) {
    for _ in 0..MOST_STEPS {
        let reply = match walk.question() {
            Question::Test { test: asked, .. } => {
                let id = &KNOWLEDGE.tests[*asked].id;
                assert!(!is_stopped(hold, *asked), "{told}: `{id}` is asked");
                // The safe answer where there is one, so that the walk goes on past the hazards.
                match id.as_str() {
                    "hazard-look" => Reply::Answer("none".to_owned()),
                    _ => Reply::CouldNotCheck,
                }
            }
            Question::Fact { .. } | Question::Offer { .. } => Reply::CouldNotCheck,
            Question::Able { among } => {
                let ids: Vec<&str> = among.iter().map(|ability| ability.word()).collect();
                Reply::Answer(ids.join(", "))
            }
            Question::Finish | Question::Halt { .. } => break,
            _ => Reply::Accept,
        };
        step(walk, &reply);
    }
    for candidate in walk.candidates() {
        assert!(!is_stopped(hold, candidate.test), "{told}: advised");
    }
}

/// A walk with this complaint and equipment, and these answers told.
fn told<'k>(
    knowledge: &'k Knowledge,
    complaint: &str,
    equipment: &str,
    answers: &[(&str, &str)],
) -> Walk<'k> {
    let mut walk = Walk::new(knowledge);
    step(&mut walk, &Reply::Answer(complaint.to_owned()));
    step(&mut walk, &Reply::Answer(equipment.to_owned()));
    if matches!(walk.question(), Question::Accessories) {
        step(&mut walk, &Reply::CouldNotCheck);
    }
    for (test, answer) in answers {
        let seen = Reply::Volunteer {
            test: (*test).to_owned(),
            answer: Some((*answer).to_owned()),
        };
        step(&mut walk, &seen);
    }
    walk
}

fn is_held(walk: &Walk<'_>, hold: &str) -> bool {
    walk.holds().iter().any(|up| up.id == hold)
}

/// "Perhaps nothing" is no look: what only an unsure answer speaks for stays held, with the sure answer it falls.
#[test]
fn an_answer_nobody_is_sure_of_clears_no_hold() {
    for outcome in [
        "none",
        "shock-or-tingle",
        "burning-or-smoke",
        "heat-damage",
        "water-at-live-parts",
    ] {
        let unsure = format!("likely {outcome}");
        let unsure = told(
            &KNOWLEDGE,
            "does-not-run",
            "split-air-conditioner",
            &[("hazard-look", &unsure)],
        );
        assert!(is_held(&unsure, "not-looked"), "{outcome}");
        let sure = told(
            &KNOWLEDGE,
            "does-not-run",
            "split-air-conditioner",
            &[("hazard-look", outcome)],
        );
        assert!(!is_held(&sure, "not-looked"), "{outcome}");
    }
    let proofs = [("burnt-part", "disconnect"), ("burnt-part-mended", "mended")];
    let with = |last: &str| {
        let answers = [
            ("hazard-look", "heat-damage"),
            proofs[0],
            ("burnt-part-mended", last),
        ];
        told(&KNOWLEDGE, "does-not-run", "split-air-conditioner", &answers)
    };
    assert!(is_held(&with("likely mended"), "heat-damage"));
    assert!(!is_held(&with("mended"), "heat-damage"));
}

/// A short does not go away because nobody could take the reading a second time; only a reading clears it.
#[test]
fn what_raised_a_hold_and_could_not_be_made_again_still_holds() {
    let mut raising = 0;
    for test in KNOWLEDGE.tests.iter() {
        let raises = |outcome: &&Outcome| !outcome.raises.is_empty();
        if matches!(test.kind, TestKind::Calculation { .. }) || is_relative(test) {
            continue;
        }
        for outcome in test.outcomes.iter().filter(raises) {
            let Some(equipment) = KNOWLEDGE.equipment.iter().find(|kind| test.applies_to(kind)) else {
                continue;
            };
            let answer = match &test.kind {
                TestKind::Reading { .. } => a_reading_in(test, outcome),
                _ => outcome.id.clone(),
            };
            let mut walk = told(&KNOWLEDGE, "lights-dim", &equipment.id, &[(&test.id, &answer)]);
            let up: Vec<String> = walk.holds().iter().map(|hold| hold.id.clone()).collect();
            for _ in 0..2 {
                let again = Event::Answer {
                    test: test.id.clone(),
                    given: Given::CouldNotCheck,
                    volunteered: false,
                    typed: "could not check".to_owned(),
                };
                walk.apply(&again).expect("its id is known");
            }
            for hold in outcome.raises.iter().map(|hold| &KNOWLEDGE.holds[*hold]) {
                let was = up.contains(&hold.id);
                raising += usize::from(was);
                assert!(
                    !was || is_held(&walk, &hold.id),
                    "{}/{}: {}",
                    test.id,
                    outcome.id,
                    hold.id
                );
            }
        }
    }
    assert!(raising > 10, "{raising} outcomes raise a hold");
    let read = |readings: &[&str]| {
        let answers: Vec<(&str, &str)> = readings
            .iter()
            .map(|reading| ("unit-to-ground", *reading))
            .collect();
        told(&KNOWLEDGE, "does-not-run", "split-air-conditioner", &answers)
    };
    assert!(is_held(&read(&["low"]), "short-or-ground"));
    assert!(!is_held(&read(&["low", "open"]), "short-or-ground"));
}

/// What is calculated is as new as the readings it is made from: a proof given before them is older than the danger.
#[test]
fn a_proof_older_than_a_calculated_danger_does_not_clear_it() {
    let mut knowledge = KNOWLEDGE.clone();
    let proof = knowledge.test("unit-to-ground").expect("known");
    let open = knowledge.tests[proof].outcome("open").expect("known");
    let lost = knowledge
        .holds
        .indices()
        .find(|hold| knowledge.holds[*hold].id == "neutral-lost")
        .expect("known");
    knowledge.holds[lost].proved_anew = true;
    knowledge.holds[lost].cleared_by = vec![(proof, vec![open])];
    let legs = [
        ("leg-1-voltage", "119 V"),
        ("leg-2-voltage", "121 V"),
        ("leg-1-with-load", "104 V"),
        ("leg-2-with-load", "130 V"),
    ];
    let proof = [("unit-to-ground", "open")];
    let with = |answers: &[(&str, &str)]| {
        let walk = told(&knowledge, "lights-dim", "split-air-conditioner", answers);
        is_held(&walk, "neutral-lost")
    };
    assert!(with(&legs));
    assert!(with(&[&proof[..], &legs[..]].concat()));
    assert!(!with(&[&legs[..], &proof[..]].concat()));
}

/// Metal and neutrals are bad now and then: another reading does not end them, their proofs do.
#[test]
fn what_comes_and_goes_is_held_until_it_is_proved_gone() {
    let read = |answers: &[(&str, &str)]| told(&KNOWLEDGE, "does-not-run", "split-air-conditioner", answers);
    let metal = [("metal-volts-running", "80 V"), ("metal-volts-running", "0.2 V")];
    let proofs = [
        ("metal-volts-breaker-off", "0.2 V"),
        ("ground-conductor-look", "whole"),
        ("ground-resistance", "0.2 ohm"),
        ("unit-to-ground", "open"),
        ("cable-to-ground", "clear"),
    ];
    assert!(is_held(&read(&metal), "live-frame"));
    assert!(!is_held(&read(&[&metal[..], &proofs[..]].concat()), "live-frame"));
    assert!(is_held(&read(&[&proofs[..], &metal[..]].concat()), "live-frame"));
    let leg = [("leg-1-voltage", "60 V"), ("leg-1-voltage", "120 V")];
    assert!(is_held(&read(&leg), "neutral-lost"));
    let mended = [&leg[..], &[("supply-made-good", "mended")]].concat();
    assert!(!is_held(&read(&mended), "neutral-lost"));
    let not_yet = [&mended[..], &[("supply-made-good", "not-yet")]].concat();
    assert!(is_held(&read(&not_yet), "neutral-lost"));
    // Taking the answer back takes the hold back too.
    let mut walk = read(&leg[..1]);
    assert!(is_held(&walk, "neutral-lost"));
    step(&mut walk, &Reply::Back(1));
    assert!(!is_held(&walk, "neutral-lost"));
}

/// What to do now is told before anybody is asked whether others have made it good, and nothing hands-on is advised.
#[test]
fn a_stop_for_live_metal_comes_before_its_proof() {
    let mut walk = told(
        &KNOWLEDGE,
        "does-not-run",
        "split-air-conditioner",
        &[("metal-volts-breaker-off", "80 V")],
    );
    assert!(
        matches!(walk.question(), Question::Halt { .. }),
        "{:?}",
        walk.question()
    );
    for candidate in walk.candidates() {
        assert!(
            !candidate.state.is_prepared(),
            "{}",
            KNOWLEDGE.tests[candidate.test].id
        );
    }
    let mended = Reply::Volunteer {
        test: "supply-made-good".to_owned(),
        answer: Some("mended".to_owned()),
    };
    step(&mut walk, &mended);
    assert!(!matches!(walk.question(), Question::Halt { .. }));
}

/// With the plate gone a reading comes to no outcome; where it would be wrong on any plate it holds all the same.
#[test]
fn a_reading_that_is_wrong_on_any_plate_holds_without_the_plate() {
    for (equipment, test, reading, held) in [
        ("split-air-conditioner", "voltage-at-unit-rest", "60 V", true),
        ("split-air-conditioner", "voltage-at-unit-rest", "480 V", true),
        ("split-air-conditioner", "voltage-at-unit-rest", "240 V", false),
        ("split-air-conditioner", "voltage-at-unit-rest", "120 V", false),
        ("rooftop-three-phase", "voltage-phase-ab", "5 V", true),
        ("rooftop-three-phase", "voltage-phase-ab", "480 V", false),
    ] {
        let walk = told(&KNOWLEDGE, "does-not-run", equipment, &[(test, reading)]);
        assert_eq!(
            is_held(&walk, "leg-missing"),
            held,
            "{equipment}, {test} {reading}"
        );
    }
}

/// Whether a reading is told only with a fact, or another reading, beside it.
fn is_relative(test: &Test) -> bool {
    let mut bounds = test.outcomes.iter().filter_map(|outcome| outcome.bound.as_ref());
    bounds.any(|bound| bound.of.is_some())
}

/// A reading that comes out in this outcome, between its bound and that of the outcome beyond it.
fn a_reading_in(test: &Test, outcome: &Outcome) -> String {
    let TestKind::Reading { range, unit, .. } = &test.kind else {
        panic!("`{}` is no reading", test.id)
    };
    let bound = outcome.bound.as_ref().expect("what raises a hold has a bound");
    assert!(bound.of.is_none(), "`{}` is held against a fact", test.id);
    let ends = test
        .outcomes
        .iter()
        .filter_map(|other| other.bound.as_ref())
        .filter(|other| other.of.is_none() && other.below == bound.below)
        .map(|other| other.figure);
    let far = if bound.below {
        ends.filter(|end| *end < bound.figure).fold(range.0, f64::max)
    } else {
        ends.filter(|end| *end > bound.figure).fold(range.1, f64::min)
    };
    lineside::quantity::Quantity::new(*unit, f64::midpoint(far, bound.figure))
        .expect("finite")
        .exact()
}
