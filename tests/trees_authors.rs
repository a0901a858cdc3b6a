//! The commands for whoever keeps the knowledge, as they are run: sources, matrix, schema, template, diff.

#![expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use std::path::Path;
use std::process::{Command, Output};

use serde_json::Value as Json;

fn trees(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_lineside"))
        .arg("trees")
        .args(arguments)
        .current_dir(Path::new(env!("CARGO_MANIFEST_DIR")))
        .env_clear()
        .output()
        .unwrap()
}

fn stdout(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).unwrap()
}

fn json(arguments: &[&str]) -> Json {
    let output = trees(arguments);
    assert_eq!(
        output.status.code(),
        Some(0),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    serde_json::from_slice(&output.stdout).unwrap()
}

/// The table adds up to what there is, counted another way.
#[test]
fn sources_count_every_claim_once() {
    let knowledge = lineside::knowledge::embedded().unwrap();
    let counts = &json(&["sources", "--format", "json"])["counts"];
    let sum = |column: &str| -> usize {
        counts
            .as_object()
            .unwrap()
            .values()
            .map(|row| row[column].as_u64().unwrap() as usize)
            .sum()
    };
    assert_eq!(sum("causes"), knowledge.causes.len());
    assert_eq!(sum("tests"), knowledge.tests.len());
    let defects = knowledge
        .tests
        .iter()
        .flat_map(|test| &test.outcomes)
        .filter(|outcome| outcome.defect.is_some())
        .count();
    assert_eq!(sum("defects"), defects);
    let advice: usize = knowledge.causes.iter().map(|cause| cause.prevent.len()).sum();
    assert_eq!(sum("advice"), advice);
}

#[test]
fn sources_of_one_kind_are_listed_and_are_of_that_kind() {
    let data = json(&["sources", "--kind", "from-memory", "--format", "json"]);
    let count: u64 = data["counts"]["from-memory"]
        .as_object()
        .unwrap()
        .values()
        .map(|number| number.as_u64().unwrap())
        .sum();
    let claims = data["claims"].as_array().unwrap();
    assert_eq!(claims.len() as u64, count);
    for claim in claims {
        for source in claim["sources"].as_array().unwrap() {
            assert!(
                source["text"]
                    .as_str()
                    .unwrap()
                    .to_lowercase()
                    .contains("from memory"),
                "{claim}"
            );
        }
    }
    let text = stdout(&trees(&["sources", "--kind", "from-memory", "--of", "defects"]));
    assert!(
        text.lines()
            .skip(2)
            .all(|line| line.starts_with("defect") || line.starts_with("    ")),
        "{text}"
    );
}
