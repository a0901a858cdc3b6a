//! Published worked examples, run through the same registry as `lineside figure`.
//!
//! Each example stands as data under `published/` with its source. A number must agree within the tolerance its
//! rounding supports; an example flagged as wrongly published must differ from it, and give what is correct.

#![expect(clippy::unwrap_used, reason = "a failed unwrap fails the test")]

use std::collections::{BTreeMap, BTreeSet};

use lineside::quantity::{Quantity, Value, ValueKind};
use lineside::standards::calculation::{Inputs, Report};
use lineside::standards::registry;
use serde::Deserialize;

#[derive(Deserialize)]
struct File {
    example: Vec<Example>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Example {
    id: String,
    source: String,
    question: String,
    published: toml::Table,
    tolerance: String,
    #[serde(default)]
    edition: Option<String>,
    #[serde(default)]
    flagged: bool,
    note: String,
    run: Vec<Run>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Run {
    calculation: String,
    inputs: BTreeMap<String, String>,
    #[serde(default)]
    expect: BTreeMap<String, String>,
    verdict: Option<String>,
    #[serde(default)]
    correct: BTreeMap<String, String>,
}

fn examples() -> Vec<Example> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/published");
    let mut paths: Vec<_> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    paths.sort();
    paths
        .into_iter()
        .filter(|path| path.extension().is_some_and(|extension| extension == "toml"))
        .flat_map(|path| {
            let text = std::fs::read_to_string(&path).unwrap();
            toml::from_str::<File>(&text)
                .unwrap_or_else(|error| panic!("{}: {error}", path.display()))
                .example
        })
        .collect()
}

fn run(run: &Run) -> Result<Report, String> {
    let calculation =
        registry::find(&run.calculation).ok_or_else(|| format!("no calculation {}", run.calculation))?;
    let mut inputs = Inputs::default();
    for (name, text) in &run.inputs {
        inputs
            .parse(calculation, name, text)
            .map_err(|error| error.to_string())?;
    }
    (calculation.run)(&inputs).map_err(|error| error.to_string())
}

/// Says whether a result agrees with a published text, within a share of the published figure.
fn agrees(found: &Value, published: &str, tolerance: f64) -> Result<bool, String> {
    let number = |found: &Quantity, text: &str| {
        let expected = Quantity::parse(text, found.kind).map_err(|error| error.to_string())?;
        Ok((found.base - expected.base).abs() <= tolerance * expected.base.abs())
    };
    match found {
        Value::Quantity(found) => number(found, published),
        Value::Quantities(all) => {
            let texts: Vec<_> = published.split(',').collect();
            let each: Result<Vec<bool>, String> = all
                .iter()
                .zip(&texts)
                .map(|(found, text)| number(found, text))
                .collect();
            Ok(all.len() == texts.len() && each?.into_iter().all(|same| same))
        }
        other => {
            let kind = if matches!(other, Value::Size(_)) {
                ValueKind::Size
            } else {
                ValueKind::Choice
            };
            Value::parse(published, kind, None, &[published])
                .map(|expected| expected == *other)
                .map_err(|error| error.to_string())
        }
    }
}

fn tolerance(text: &str) -> f64 {
    // "exact" leaves room for binary arithmetic only.
    if text == "exact" {
        1e-6
    } else {
        text.trim_end_matches('%').trim().parse::<f64>().unwrap() / 100.0
    }
}

#[test]
fn every_published_example_is_reproduced() {
    let mut wrong = Vec::new();
    for example in examples() {
        let tolerance = tolerance(&example.tolerance);
        for (at, case) in example.run.iter().enumerate() {
            let mut say = |what: String| wrong.push(format!("{} run {}: {what}", example.id, at + 1));
            let report = match run(case) {
                Ok(report) => report,
                Err(error) => {
                    say(error);
                    continue;
                }
            };
            if let Some(verdict) = case
                .verdict
                .as_deref()
                .filter(|verdict| *verdict != report.verdict)
            {
                say(format!(
                    "verdict {}, expected {verdict}: {}",
                    report.verdict, report.finding
                ));
            }
            for (name, published) in &case.expect {
                let Some(found) = report.outputs.get(name.as_str()) else {
                    say(format!("no output {name}"));
                    continue;
                };
                let same = agrees(found, published, tolerance);
                match (case.correct.get(name), same) {
                    (None, Ok(true)) => {}
                    (None, Ok(false)) => say(format!("{name} is {found}, published {published}")),
                    (Some(_), Ok(true)) => {
                        say(format!("{name} is {found} as published, though flagged as wrong"))
                    }
                    // What is correct is known to three or four figures.
                    (Some(correct), Ok(false)) => match agrees(found, correct, 0.002) {
                        Ok(true) => {}
                        Ok(false) => say(format!("{name} is {found}, correct is {correct}")),
                        Err(error) => say(error),
                    },
                    (_, Err(error)) => say(error),
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{} differ:\n{}", wrong.len(), wrong.join("\n"));
}

#[test]
fn every_example_is_there_with_its_source_and_checks_something() {
    let examples = examples();
    assert!(examples.len() >= 103, "{} are left", examples.len());
    let ids: BTreeSet<_> = examples.iter().map(|example| &example.id).collect();
    assert_eq!(ids.len(), examples.len(), "ids are unique");
    for example in &examples {
        assert!(
            example.source.contains("http") || example.source.starts_with("from memory"),
            "{}",
            example.id
        );
        assert!(!example.question.is_empty() && !example.published.is_empty() && !example.note.is_empty());
        assert!(example.edition.as_deref() != Some(""));
        assert!(!example.run.is_empty());
        let flagged = example.run.iter().any(|run| !run.correct.is_empty());
        assert_eq!(
            example.flagged, flagged,
            "{}: a flagged example names what is correct",
            example.id
        );
        for run in &example.run {
            assert!(!run.expect.is_empty() || run.verdict.is_some(), "{}", example.id);
        }
    }
}

#[test]
fn every_number_published_is_compared() {
    // Counts the published figures against the compared ones, so that none is dropped on the way into our names.
    for example in examples() {
        let published = example.published.len();
        let figures = |run: &Run| {
            run.expect
                .values()
                .map(|text| text.split(',').count())
                .sum::<usize>()
        };
        let compared: usize = example
            .run
            .iter()
            .map(|run| figures(run) + usize::from(run.verdict.is_some()))
            .sum();
        assert!(
            compared >= published || example.flagged,
            "{}: {compared} of {published}",
            example.id
        );
    }
}
