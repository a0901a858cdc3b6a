//! Text and JSON, and the command that prints them.

use std::fs;
use std::process::Command;

use lineside::report::layout::Layout;
use lineside::report::predicted;
use lineside::rig::predict;

use super::{MOTOR, example, knowledge, walked};

#[test]
fn no_line_is_wider_than_the_screen_and_each_test_shows_a_difference() {
    let knowledge = knowledge();
    let mut shown = 0;
    for entry in fs::read_dir(example("")).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|ending| ending != "toml") {
            continue;
        }
        let answers = fs::read_to_string(&path).unwrap();
        let prediction = predict::of(&walked(&knowledge, &answers)).unwrap();
        for width in [60, 80] {
            for line in predicted::render(&prediction, Layout { width, color: false }).lines() {
                assert!(
                    line.chars().count() <= width,
                    "{} at {width}: {line}",
                    path.display()
                );
            }
        }
        assert!(prediction.tests.len() <= 8);
        for test in &prediction.tests {
            let mut ways = test.lines.iter().flat_map(|line| &line.ways);
            let first = ways.next().unwrap();
            assert!(
                ways.any(|way| way.typical != first.typical),
                "{}: {test:#?}",
                path.display()
            );
            shown += 1;
        }
    }
    assert!(shown > 100, "{shown}");
}

#[test]
fn the_command_prints_text_and_json_and_leaves_the_case_as_it_was() {
    let folder = tempfile::tempdir().unwrap();
    let run = |arguments: &[&str]| {
        let output = Command::new(env!("CARGO_BIN_EXE_lineside"))
            .args(arguments)
            .current_dir(folder.path())
            .env_clear()
            .env("HOME", folder.path())
            .output()
            .unwrap();
        assert!(output.status.success(), "{arguments:?}: {output:?}");
        String::from_utf8(output.stdout).unwrap()
    };
    fs::write(folder.path().join("motor.toml"), MOTOR).unwrap();
    run(&["diagnose", "--answers", "motor.toml", "--case", "case.jsonl"]);
    let before = fs::read(folder.path().join("case.jsonl")).unwrap();
    let text = run(&["predict", "--case", "case.jsonl"]);
    assert_eq!(text, run(&["predict", "--answers", "motor.toml"]));
    assert!(
        text.contains("ENERGIZED") && text.contains("nothing wrong here"),
        "{text}"
    );
    let json = run(&["predict", "--case", "case.jsonl", "--format", "json"]);
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    let typical = &json["tests"][0]["lines"][0]["ways"][0]["typical"];
    assert!(
        typical["value"].is_f64() && typical["shown"].is_string(),
        "{typical}"
    );
    assert_eq!(json["equipment"], "split-air-conditioner");
    assert_eq!(json["causes"][0]["cause"], "failed-run-capacitor");
    assert_eq!(before, fs::read(folder.path().join("case.jsonl")).unwrap());
}

/// Every prediction of an example fits the schema that is printed, and has no key that it does not name.
#[test]
fn every_prediction_fits_its_schema() {
    let schema = predict::schema();
    assert!(jsonschema::draft202012::meta::is_valid(&schema));
    let output = Command::new(env!("CARGO_BIN_EXE_lineside"))
        .args(["predict", "--schema"])
        .env_clear()
        .output()
        .unwrap();
    assert!(output.status.success(), "{output:?}");
    assert_eq!(
        serde_json::from_slice::<serde_json::Value>(&output.stdout).unwrap(),
        schema
    );
    let mut closed = schema;
    closed["additionalProperties"] = false.into();
    for of in closed["$defs"].as_object_mut().unwrap().values_mut() {
        if of.get("properties").is_some() {
            of["additionalProperties"] = false.into();
        }
    }
    let validator = jsonschema::draft202012::new(&closed).unwrap();
    let knowledge = knowledge();
    for entry in fs::read_dir(example("")).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|ending| ending != "toml") {
            continue;
        }
        let answers = fs::read_to_string(&path).unwrap();
        let prediction = predict::of(&walked(&knowledge, &answers)).unwrap();
        let json = serde_json::to_value(&prediction).unwrap();
        let faults: Vec<String> = validator
            .iter_errors(&json)
            .map(|error| error.to_string())
            .collect();
        assert!(faults.is_empty(), "{}: {}", path.display(), faults.join("\n"));
    }
}
