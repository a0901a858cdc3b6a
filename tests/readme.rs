//! The README says what is so: its commands work, its table lists every calculation, its run is what is printed.

use std::path::Path;
use std::process::Command;

use lineside::standards::registry;

fn readme() -> String {
    std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("README.md"))
        .expect("there is a README")
}

/// Holds a run recorded in the README against what the program prints.
fn is_as_recorded(arguments: &[&str]) {
    let readme = readme();
    let command = format!("$ lineside {}\n", arguments.join(" "));
    let (_, rest) = readme.split_once(&command).expect("the README shows a run");
    let (shown, _) = rest.split_once("\n```").expect("the run ends");
    let output = Command::new(env!("CARGO_BIN_EXE_lineside"))
        .args(arguments)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .env_clear()
        .output()
        .expect("the program starts");
    let printed = String::from_utf8(output.stdout).expect("the result is text");
    assert_eq!(printed.trim_end(), shown, "record the run in README.md anew");
}

#[test]
fn the_recorded_run_is_what_the_program_prints() {
    is_as_recorded(&["diagnose", "--answers", "examples/freezer-on-the-circuit.toml"]);
}

#[test]
fn the_recorded_exercise_is_what_the_program_prints() {
    is_as_recorded(&["practice", "--answers", "examples/practice/first-walk.toml"]);
}

#[test]
fn the_number_of_exercises_is_right() {
    let knowledge = lineside::knowledge::embedded().expect("it is sound");
    let count = lineside::practice::catalog::all(&knowledge).len();
    assert!(
        readme().contains(&format!("`practice list` has {count} exercises")),
        "{count}"
    );
}

#[test]
fn the_two_commands_are_there() {
    let readme = readme();
    assert!(
        readme
            .contains("\ncargo run -- diagnose --answers examples/freezer-on-the-circuit.toml\ncargo test\n")
    );
}

#[test]
fn every_calculation_is_in_the_table() {
    let readme = readme();
    for calculation in registry::all() {
        let row = format!("| `{}` | {} |", calculation.name, calculation.title);
        assert!(readme.contains(&row), "no row: {row}");
    }
}

#[test]
fn every_complaint_is_in_the_table() {
    let readme = readme();
    let knowledge = lineside::knowledge::embedded().expect("it is sound");
    for (tree, complaint) in knowledge.complaints() {
        let row = format!("| {complaint} | `{}` |", tree.id);
        assert!(readme.contains(&row), "no row: {row}");
    }
}
