//! `lineside trees` as a person runs it: what is printed and how it exits.

#![expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use std::path::Path;
use std::process::{Command, Output};

fn trees(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_lineside"))
        .arg("trees")
        .args(arguments)
        .current_dir(Path::new(env!("CARGO_MANIFEST_DIR")))
        .env_clear()
        .output()
        .unwrap()
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).unwrap()
}

/// The sound folder names a calculation of the tests' own catalog, so the real one has one thing to say.
const FOLDER: &str = "tests/bad-trees/sound";

#[test]
fn check_names_file_line_rule_and_fix_and_exits_with_1() {
    let output = trees(&["check", "--trees", FOLDER]);
    assert_eq!(output.status.code(), Some(1));
    let text = text(&output.stdout);
    assert!(
        text.contains("error[unknown-calculation]: no calculation `share-check`"),
        "{text}"
    );
    assert!(text.contains("tests/bench.toml:"), "{text}");
    assert!(text.contains("= help: "), "{text}");
    assert!(text.contains("9 files checked: 1 error, 0 warnings"), "{text}");
}

#[test]
fn check_prints_the_same_as_data() {
    let output = trees(&["check", "--trees", FOLDER, "--format", "json"]);
    assert_eq!(output.status.code(), Some(1));
    let data: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(data["errors"], 1);
    assert_eq!(data["findings"][0]["code"], "unknown-calculation");
    assert_eq!(data["findings"][0]["at"]["text"], "\"share-check\"");
}

#[test]
fn short_form_has_one_line_for_each_finding() {
    let output = trees(&["check", "--trees", FOLDER, "--format", "short"]);
    let text = text(&output.stdout);
    assert_eq!(
        text.lines()
            .filter(|line| line.contains("[unknown-calculation]"))
            .count(),
        1,
        "{text}"
    );
}

#[test]
fn wrong_usage_exits_with_2() {
    assert_eq!(trees(&["chekc"]).status.code(), Some(2));
    assert_eq!(trees(&["list", "nonsense"]).status.code(), Some(2));
}

#[test]
fn unknown_rule_and_missing_folder_are_named() {
    let output = trees(&["check", "--only", "unknown-caus"]);
    assert_eq!(output.status.code(), Some(1));
    assert!(
        text(&output.stderr).contains("did you mean `unknown-cause`?"),
        "{}",
        text(&output.stderr)
    );
    let output = trees(&["check", "--trees", "no/such/folder"]);
    assert_eq!(output.status.code(), Some(1));
    assert!(
        text(&output.stderr).contains("no/such/folder"),
        "{}",
        text(&output.stderr)
    );
}

#[test]
fn list_gives_every_fact_as_data() {
    let output = trees(&["list", "facts", "--format", "json"]);
    assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
    let data: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    let voltage = data["facts"]
        .as_array()
        .unwrap()
        .iter()
        .find(|fact| fact["id"] == "nameplate-voltage")
        .unwrap();
    assert_eq!(voltage["takes"], "voltage");
}

/// What is listed for programs against the loaded knowledge: complaints of a cause, states of effects, what outcomes say.
#[test]
fn list_gives_causes_effects_and_tests_as_data() {
    let knowledge = lineside::knowledge::embedded().unwrap();
    let output = trees(&["list", "--format", "json"]);
    let data: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    let effects = data["effects"].as_array().unwrap();
    assert_eq!(effects.len(), knowledge.effects.len());
    for (listed, effect) in effects.iter().zip(&knowledge.effects) {
        assert_eq!(listed["id"], effect.id.as_str());
        assert_eq!(listed["states"].as_array().unwrap().len(), effect.states.len());
    }
    let causes = data["causes"].as_array().unwrap();
    for (place, listed) in causes.iter().enumerate() {
        let own = knowledge.complaints_of(lineside::knowledge::model::CauseIndex(place));
        let complaints = listed["complaints"].as_object().unwrap();
        assert_eq!(complaints.len(), own.len());
        for (tree, share) in own {
            assert_eq!(complaints[&knowledge.trees[tree].id], share);
        }
    }
    for (listed, test) in data["tests"].as_array().unwrap().iter().zip(&knowledge.tests) {
        for (listed, outcome) in listed["outcomes"].as_array().unwrap().iter().zip(&test.outcomes) {
            assert_eq!(listed["shows"].as_object().unwrap().len(), outcome.shows.len());
            assert_eq!(listed["finds"].as_object().unwrap().len(), outcome.finds.len());
            assert_eq!(listed["says_nothing"], outcome.says_nothing);
        }
    }
}
