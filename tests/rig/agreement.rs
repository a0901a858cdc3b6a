//! What the knowledge says against what physics does: the comparison itself, its reasons, and the command.

use std::process::Command;

use lineside::knowledge::model::Knowledge;
use lineside::knowledge::{self};
use lineside::rig::MODELED;
use lineside::rig::agreement::{self, Compared, What};
use lineside::rig::closed_loop::Wanted;

fn knowledge() -> Knowledge {
    knowledge::embedded().expect("the knowledge compiled in is sound")
}

fn compared(knowledge: &Knowledge, cause: &str, effect: &str) -> Compared {
    let only = knowledge.effect(effect).map(What::Effect);
    let wanted = Wanted {
        cause: knowledge.cause(cause),
        equipment: knowledge.equipment("split-air-conditioner"),
        severities: 6,
        seed: 1,
        ..Wanted::default()
    };
    let mut found = agreement::compare(knowledge, wanted, only, &|_| ());
    assert_eq!(found.len(), 1, "{cause} at {effect}");
    found.remove(0)
}

/// Shares are shares, and a dead capacitor is the state of the capacitor it is.
#[test]
fn physics_finds_the_state_a_fault_is_in() {
    let knowledge = knowledge();
    let weak = compared(&knowledge, "failed-run-capacitor", "capacitor");
    for shares in [&weak.said, &weak.physics] {
        assert!((shares.iter().sum::<f64>() - 1.0).abs() < 1e-9, "{shares:?}");
    }
    assert!(weak.stated && weak.samples == 6);
    let place = |id: &str| {
        let places = 0..weak.physics.len();
        let found = places
            .into_iter()
            .find(|place| weak.state(&knowledge, *place) == id);
        weak.physics[found.expect("a state")]
    };
    assert!(place("weak") + place("open") > 0.99, "{weak:?}");
}

/// Each reason names a cause and an effect or a reading test that there are.
#[test]
fn every_reason_is_of_something() {
    let knowledge = knowledge();
    for (cause, what) in agreement::reasons().expect("the table can be read") {
        assert!(
            cause.is_none_or(|cause| knowledge.cause(cause).is_some()),
            "{cause:?}"
        );
        assert!(
            knowledge.effect(what).is_some() || MODELED.contains(&what),
            "{what}"
        );
    }
}

#[test]
fn the_command_prints_text_and_json() {
    let run = |more: &[&str]| {
        let output = Command::new(env!("CARGO_BIN_EXE_lineside"))
            .args([
                "trees",
                "physics",
                "--cause",
                "loose-disconnect-lug",
                "--effect",
                "lost-at",
            ])
            .args([
                "--equipment",
                "split-air-conditioner",
                "--severities",
                "2",
                "--all",
            ])
            .args(more)
            .env_clear()
            .output()
            .expect("it starts");
        assert!(output.status.success(), "{output:?}");
        String::from_utf8(output.stdout).expect("text")
    };
    assert!(run(&[]).contains("loose-disconnect-lug: lost-at, "));
    let json: serde_json::Value = serde_json::from_str(&run(&["--format", "json"])).expect("JSON");
    let line = &json["lines"][0];
    assert_eq!(line["of"], "lost-at");
    assert_eq!(line["samples"], 2);
    assert!(
        line["apart"]
            .as_f64()
            .is_some_and(|apart| (0.0..=1.0).contains(&apart))
    );
    let unknown = Command::new(env!("CARGO_BIN_EXE_lineside"))
        .args(["trees", "physics", "--effect", "lost"])
        .env_clear()
        .output()
        .expect("it starts");
    assert_eq!(unknown.status.code(), Some(1));
}
