//! The rig as a respondent: its answers fit together, and a walk against it can be had again.

use lineside::knowledge::model::{Knowledge, TestKind};
use lineside::knowledge::{self};
use lineside::rig::Rig;
use lineside::rig::closed_loop::{self, Case, Wanted};
use lineside::rig::readings::stage_of;
use lineside::walk::{Event, Walk};

fn knowledge() -> Knowledge {
    knowledge::embedded().expect("the knowledge compiled in is sound")
}

/// One case in so many, of all causes and equipment.
fn some(knowledge: &Knowledge, step: usize) -> Vec<Case> {
    let wanted = Wanted {
        severities: 1,
        seed: 5,
        ..Wanted::default()
    };
    closed_loop::cases(knowledge, wanted)
        .into_iter()
        .step_by(step)
        .map(|case| closed_loop::called(knowledge, case, wanted))
        .collect()
}

fn begun<'k>(knowledge: &'k Knowledge, case: &Case) -> Walk<'k> {
    let mut walk = Walk::new(knowledge);
    let complaint = knowledge.trees[case.complaint].id.clone();
    let equipment = knowledge.equipment[case.equipment].id.clone();
    walk.apply(&Event::Complaint { complaint }).expect("a known id");
    walk.apply(&Event::Equipment { equipment }).expect("a known id");
    walk
}

#[test]
fn a_case_walked_again_is_the_same() {
    let knowledge = knowledge();
    let case = some(&knowledge, 500)[1];
    let [one, two] = [(); 2].map(|()| closed_loop::walk(&knowledge, &case).expect("it can be built"));
    assert_eq!(one, two);
    assert!(one.questions > 3 && !one.way.is_empty());
}

/// A reading asked twice is the same, and lies near what physics gives; a look asked twice is the same.
#[test]
fn answers_stay_the_same() {
    let knowledge = knowledge();
    let mut readings = 0;
    for case in some(&knowledge, 450) {
        let walk = begun(&knowledge, &case);
        let Ok(rig) = Rig::sample(&walk, case.truth, case.severity, case.seed) else {
            continue;
        };
        for test in knowledge.tests.indices().filter(|test| walk.applies(*test)) {
            let answer = rig.answer(&knowledge, test);
            assert_eq!(answer, rig.answer(&knowledge, test));
            let known = &knowledge.tests[test];
            if matches!(known.kind, TestKind::Reading { .. }) {
                let bench = rig.site().at(stage_of(&known.id));
                let truth = bench.reading(&known.id);
                assert_eq!(answer.is_some(), truth.is_ok(), "{}", known.id);
                readings += usize::from(answer.is_some());
            }
        }
    }
    assert!(readings > 50, "{readings}");
}

/// Grave faults of one joint on a package unit must be found by the walk: five of six, so that a blind rig or walk shows.
#[test]
fn plain_faults_are_found() {
    let knowledge = knowledge();
    let equipment = knowledge.equipment("package-unit").expect("known");
    let causes = [
        ("loose-disconnect-lug", "does-not-run"),
        ("failed-run-capacitor", "motor-will-not-start"),
        ("contactor-coil-open", "does-not-run"),
        ("low-utility-voltage", "lights-dim"),
        ("locked-compressor", "motor-will-not-start"),
        ("sequencer-stuck-closed", "electric-heat"),
    ];
    let found = causes.into_iter().filter(|(cause, complaint)| {
        let case = Case {
            truth: knowledge.cause(cause).expect("known"),
            equipment,
            complaint: knowledge.tree(complaint).expect("known"),
            severity: 0.9,
            seed: 11,
            felt: true,
        };
        let ended = closed_loop::walk(&knowledge, &case).expect("it can be built");
        (1..=3).contains(&ended.rank)
    });
    assert!(found.count() >= 5);
}
