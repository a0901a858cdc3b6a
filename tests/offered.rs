//! What is offered at a question: only what the equipment at hand can have.

use std::sync::LazyLock;

use lineside::knowledge::{self, model::Knowledge, order};
use lineside::walk::{AnswerFile, Event, Question, Reply, Walk};

static KNOWLEDGE: LazyLock<Knowledge> = LazyLock::new(|| knowledge::embedded().expect("it is sound"));

fn begun(complaint: &str, equipment: &str) -> Walk<'static> {
    let mut walk = Walk::new(&KNOWLEDGE);
    for event in [
        Event::Complaint {
            complaint: complaint.to_owned(),
        },
        Event::Equipment {
            equipment: equipment.to_owned(),
        },
    ] {
        walk.apply(&event).expect("its ids are known");
    }
    walk
}

fn outcomes(walk: &Walk<'_>, test: &str) -> Vec<String> {
    let test = KNOWLEDGE.test(test).expect("it is there");
    walk.outcomes_offered(test)
        .iter()
        .map(|outcome| KNOWLEDGE.tests[test].outcomes[*outcome].id.clone())
        .collect()
}

#[test]
fn what_the_equipment_does_not_have_is_not_among_the_answers() {
    for (equipment, test, missing, kept) in [
        ("gas-furnace", "what-runs", "electric-heat-dead", "burner-dead"),
        ("boiler", "what-runs", "electric-heat-dead", "pump-or-zone-dead"),
        ("heat-pump", "what-runs", "burner-dead", "electric-heat-dead"),
        ("room-unit", "what-runs", "pump-or-zone-dead", "compressor-dead"),
        (
            "gas-furnace",
            "when-does-it-happen",
            "on-heat-stages",
            "after-minutes",
        ),
        ("oil-furnace", "load-when-it-burns", "electric-heat", "no-pattern"),
        ("electric-air-handler", "part-again", "compressor", "blower-motor"),
        ("boiler", "ground-by-lifting", "compressor", "burner-part"),
    ] {
        let offered = outcomes(&begun("breaker-opens", equipment), test);
        assert!(
            !offered.iter().any(|id| id == missing),
            "{equipment}: {offered:?}"
        );
        assert!(offered.iter().any(|id| id == kept), "{equipment}: {offered:?}");
    }
    for test in ["what-changed", "replaced-without-cure", "new-part-effect"] {
        let test = &KNOWLEDGE.tests[KNOWLEDGE.test(test).expect("it is there")];
        assert!(
            test.outcomes
                .iter()
                .all(|outcome| !outcome.label.contains("heater kit")),
            "an oil furnace has no heater kit: {}",
            test.id
        );
    }
}

#[test]
fn a_fact_of_which_one_choice_fits_is_known_and_not_asked() {
    let phases = KNOWLEDGE.fact("supply-phases").expect("it is there");
    let known = |equipment: &str| {
        begun("breaker-opens", equipment)
            .fact(phases)
            .flatten()
            .map(ToString::to_string)
    };
    assert_eq!(known("room-unit").as_deref(), Some("single"));
    assert_eq!(known("gas-furnace").as_deref(), Some("single"));
    assert_eq!(known("rooftop-three-phase").as_deref(), Some("three"));
    assert_eq!(known("building-supply"), None);
}

#[test]
fn the_equipment_offered_can_have_the_complaint() {
    let offered = |complaint: &str| {
        let mut walk = Walk::new(&KNOWLEDGE);
        walk.apply(&Event::Complaint {
            complaint: complaint.to_owned(),
        })
        .expect("it is there");
        walk.equipment_offered()
            .iter()
            .map(|kind| KNOWLEDGE.equipment[*kind].id.as_str())
            .collect::<Vec<_>>()
    };
    assert_eq!(
        offered("phase-lost-or-unbalanced"),
        ["rooftop-three-phase", "three-phase-split"]
    );
    assert!(!offered("electric-heat").contains(&"gas-furnace"));
    assert!(!offered("flame-lost").contains(&"heat-pump"));
    assert_eq!(offered("breaker-opens").len(), KNOWLEDGE.equipment.len());
}

#[test]
fn every_question_of_every_equipment_leaves_at_least_two_answers() {
    for kind in &KNOWLEDGE.equipment {
        let walk = begun("breaker-opens", &kind.id);
        for (place, test) in KNOWLEDGE.tests.iter().enumerate() {
            let index = knowledge::model::TestIndex(place);
            if walk.applies(index) {
                let left = walk.outcomes_offered(index).len();
                assert!(left >= 2, "`{}` leaves {left} on `{}`", test.id, kind.id);
            }
        }
    }
}

#[test]
fn an_answer_file_that_gives_what_does_not_fit_is_taken_and_told_so() {
    let text = "complaint = \"electric-heat\"\nequipment = \"gas-furnace\"\n[facts]\nsupply-phases = \"three\"\n\
                [answers]\nhazard-look = \"none\"\nwhat-runs = \"electric-heat-dead\"\n";
    let answers = AnswerFile::parse(text, &KNOWLEDGE).expect("it is taken");
    let said = answers.misfits();
    assert_eq!(said.len(), 3, "{said:?}");
    assert!(
        said[0].starts_with("line 2: `gas-furnace` is not offered after"),
        "{said:?}"
    );
    assert!(
        said[1].starts_with("line 4: ") && said[1].contains("`Three phases`"),
        "{said:?}"
    );
    assert!(said[2].starts_with("line 7: ") && said[2].contains("is not offered for `Gas furnace`"));
}

/// An answer that does not fit is rare under every cause, and weighs between them as its signs say.
#[test]
fn an_answer_that_does_not_fit_leaves_a_standing_that_can_be_told() {
    let mut walk = begun("does-not-run", "gas-furnace");
    let reply = Reply::Volunteer {
        test: "what-runs".to_owned(),
        answer: Some("electric-heat-dead".to_owned()),
    };
    let taken = walk.receive(&reply).expect("it is taken");
    assert!(taken.misfit.is_some());
    walk.apply(&taken.event).expect("its ids are known");
    let standing = walk.standing().expect("it is known");
    let total: f64 = standing.probabilities().iter().sum();
    assert!(
        (total - 1.0).abs() < 1e-9 && standing.remainder() < 0.9,
        "{total}"
    );
}

#[test]
fn an_unknown_complaint_brings_no_second_error() {
    let text = "complaint = \"breaker-open\"\nequipment = \"gas-furnace\"\n";
    let errors = AnswerFile::parse(text, &KNOWLEDGE).expect_err("there is no such complaint");
    assert_eq!(errors.len(), 1, "{errors:?}");
    let text = "complaint = \"breaker-open\"\nequipment = \"gas-furnac\"\n";
    let errors = AnswerFile::parse(text, &KNOWLEDGE).expect_err("there is neither");
    assert_eq!(errors.len(), 2, "{errors:?}");
    assert!(errors[1].to_string().contains("gas-furnace"), "{errors:?}");
}

/// Who was there before is told at every callback, and parts the causes too little to be among the eight by itself.
#[test]
fn what_was_changed_before_is_among_what_may_be_known_from_the_start() {
    let changed = KNOWLEDGE.test("replaced-without-cure").expect("it is there");
    let mut offered = 0;
    for (tree, _) in KNOWLEDGE.complaints() {
        let mut walk = Walk::new(&KNOWLEDGE);
        let complaint = tree.id.clone();
        walk.apply(&Event::Complaint { complaint }).expect("it is known");
        let equipment = KNOWLEDGE.equipment[walk.equipment_offered()[0]].id.clone();
        walk.apply(&Event::Equipment { equipment }).expect("it is known");
        let fitted = Some(Vec::new());
        walk.apply(&Event::Accessories { fitted }).expect("it is known");
        let Question::Offer { tests, known: true } = walk.question() else {
            continue;
        };
        assert!(tests.len() <= 8, "{}: {}", tree.id, tests.len());
        let asked = order::authored(&KNOWLEDGE, KNOWLEDGE.tree(&tree.id).expect("it is there"));
        assert_eq!(tests.contains(&changed), asked.contains(&changed), "{}", tree.id);
        offered += usize::from(tests.contains(&changed));
    }
    assert!(offered > 8, "{offered}");
}
