//! The JSON result against its own published schema, judged by a validator of another project; and how much of it there is.

use std::convert::Infallible;
use std::fs;
use std::path::Path;
use std::process::Command;

use lineside::knowledge;
use lineside::report::{CaseResult, SCHEMA, schema};
use lineside::walk::{AnswerFile, Event, Walk, drive};
use serde_json::Value as Json;

/// The same schema, but no object may have a key it does not name: what is written and not documented is found.
fn closed(mut schema: Json) -> Json {
    match &mut schema {
        Json::Object(keys) => {
            if keys.contains_key("properties") && !keys.contains_key("additionalProperties") {
                keys.insert("additionalProperties".to_owned(), Json::Bool(false));
            }
            for value in keys.values_mut() {
                *value = closed(value.take());
            }
        }
        Json::Array(items) => {
            for item in items {
                *item = closed(item.take());
            }
        }
        _ => {}
    }
    schema
}

#[test]
fn the_schema_is_a_schema_and_is_printed() {
    assert!(jsonschema::draft202012::meta::is_valid(&schema()));
    let output = Command::new(env!("CARGO_BIN_EXE_lineside"))
        .args(["report", "--schema"])
        .env_clear()
        .output()
        .unwrap();
    assert!(output.status.success());
    assert_eq!(serde_json::from_slice::<Json>(&output.stdout).unwrap(), schema());
}

#[test]
fn every_example_fits_the_schema_and_is_cut_to_what_counts() {
    let knowledge = knowledge::embedded().unwrap();
    let validator = jsonschema::draft202012::new(&closed(schema())).unwrap();
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples");
    let mut lengths = Vec::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|ending| ending != "toml") {
            continue;
        }
        let text = fs::read_to_string(&path).unwrap();
        let mut answers = AnswerFile::parse(&text, &knowledge).unwrap();
        let mut walk = Walk::new(&knowledge);
        drive::<Infallible>(&mut walk, &mut answers, &mut |_: &Event| Ok(())).unwrap();
        let whole = CaseResult::new(&walk).unwrap();
        let all = whole.standing.len();
        assert_eq!(whole.left_out.causes, 0);
        let result = whole.shortened();
        let json = serde_json::to_value(&result).unwrap();
        let faults: Vec<String> = validator
            .iter_errors(&json)
            .map(|error| format!("{}: {error}", error.instance_path()))
            .collect();
        assert!(faults.is_empty(), "{}: {}", path.display(), faults.join("\n"));
        assert_eq!(json["schema"], SCHEMA);
        assert!((1..=10).contains(&result.standing.len()));
        assert!(result.standing[1..].iter().all(|cause| cause.probability >= 0.01));
        assert_eq!(result.standing.len() + result.left_out.causes, all);
        let sum: f64 = result.standing.iter().map(|cause| cause.probability).sum();
        let total = sum + result.left_out.probability + result.unexplained.probability;
        assert!((total - 1.0).abs() < 1e-9, "{}: {total}", path.display());
        lengths.push(serde_json::to_string_pretty(&result).unwrap().len());
    }
    // Schema 1 came to 262 kB in the median.
    lengths.sort_unstable();
    assert!(lengths[lengths.len() / 2] < 60_000, "{lengths:?}");
}

/// A validator that lets everything through would pass the test above.
#[test]
fn a_spoiled_result_does_not_fit() {
    let validator = jsonschema::draft202012::new(&closed(schema())).unwrap();
    let knowledge = knowledge::embedded().unwrap();
    let text = "complaint = \"part-burnt\"\nequipment = \"boiler\"\n[answers]\nhazard-look = \"none\"\n";
    let mut answers = AnswerFile::parse(text, &knowledge).unwrap();
    let mut walk = Walk::new(&knowledge);
    drive::<Infallible>(&mut walk, &mut answers, &mut |_: &Event| Ok(())).unwrap();
    let sound = serde_json::to_value(CaseResult::new(&walk).unwrap().shortened()).unwrap();
    assert!(validator.is_valid(&sound));
    for (pointer, spoiled) in [
        ("/standing/0/probability", Json::from("much")),
        ("/standing/0/where", Json::from("attic")),
        ("/given/0/kind", Json::Null),
        ("/schema", Json::from(-1)),
    ] {
        let mut json = sound.clone();
        *json.pointer_mut(pointer).unwrap() = spoiled;
        assert!(!validator.is_valid(&json), "{pointer}");
    }
    let mut json = sound.clone();
    json.as_object_mut()
        .unwrap()
        .insert("undocumented".to_owned(), Json::Null);
    assert!(!validator.is_valid(&json));
}
