//! The commands for whoever keeps the knowledge, as they are run: sources, matrix, schema, template, diff.

#![expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use std::path::Path;
use std::process::{Command, Output};

use serde_json::Value as Json;

use crate::support::bad_trees::{bad_trees, laid_over};

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

/// Every source with an address is counted by what looking it up showed, counted another way.
#[test]
fn sources_are_counted_by_what_looking_them_up_showed() {
    let knowledge = lineside::knowledge::embedded().unwrap();
    let counts = &json(&["sources", "--format", "json"])["looked-up"];
    let addressed = |texts: &[lineside::knowledge::cited::Source]| {
        texts.iter().filter(|source| source.text.contains("://")).count()
    };
    let of = |column: &str| -> usize {
        ["supports", "mixed", "contradicts", "not-found", "not-yet"]
            .iter()
            .map(|result| counts[*result][column].as_u64().unwrap() as usize)
            .sum()
    };
    let causes: usize = knowledge
        .causes
        .iter()
        .map(|cause| addressed(&cause.source))
        .sum();
    assert_eq!(of("causes"), causes);
    let tests: usize = knowledge.tests.iter().map(|test| addressed(&test.source)).sum();
    assert_eq!(of("tests"), tests);
    let bare = knowledge
        .causes
        .iter()
        .filter(|cause| addressed(&cause.source) == 0);
    assert_eq!(counts["no-address"]["causes"], bare.count());
    assert_eq!(counts["contradicts"]["causes"], 0);
}

/// The sound folder has one source looked up, beside one that is not, and one cause without any address.
#[test]
fn sources_of_one_result_are_listed_alone() {
    let folder = laid_over(&bad_trees().join("sound"));
    let edit = |file: &str, edit: &dyn Fn(&str) -> String| {
        let path = folder.path().join(file);
        std::fs::write(&path, edit(&std::fs::read_to_string(&path).unwrap())).unwrap();
    };
    // The command has the real catalog, which lacks the calculation of this folder.
    let calculation = "current-against-rating";
    edit("tests/bench.toml", &|text| {
        let (kept, _) = text.split_once(&format!("[test.{calculation}]")).unwrap();
        kept.to_owned()
    });
    edit("weak-heat.toml", &|text| {
        text.replace(&format!(", \"{calculation}\""), "")
    });
    let sound = ["--trees", folder.path().to_str().unwrap()];
    let list = |result: &str| {
        let asked = ["sources", "--of", "causes", "--looked-up", result];
        stdout(&trees(&[&asked[..], &sound].concat()))
    };
    assert_eq!(
        list("supports"),
        "1 claim with a source of this result: read, supports the claim\n\n\
         cause   loose-joint: Loose joint\n        A book on joints, https://example.org/joints\n"
    );
    assert_eq!(
        list("no-address"),
        "1 claim without any address\n\ncause   open-element: Open element\n        from memory\n"
    );
    assert!(list("not-yet").starts_with("0 claims"));
    let table = stdout(&trees(&[&["sources"][..], &sound].concat()));
    let (_, second) = table.split_once("source looked up").unwrap();
    let figures: Vec<Vec<&str>> = second
        .lines()
        .filter(|line| line.starts_with("read,") || line.starts_with("claims without"))
        .map(|line| line[30..].split_whitespace().collect())
        .collect();
    assert_eq!(figures[0], ["1", "0", "0", "0", "1"]);
    assert_eq!(figures[3], ["1", "3", "0", "1", "5"]);
}

/// Every cell of the matrix as CSV against the likelihoods of the model that a walk uses: nothing that stands out is left
/// out, and nothing else is in.
#[test]
fn matrix_as_csv_holds_what_stands_out() {
    let knowledge = lineside::knowledge::embedded().unwrap();
    let place = ["--complaint", "breaker-opens", "--equipment", "heat-pump"];
    let text = stdout(&trees(&[&["matrix", "--format", "csv"][..], &place].concat()));
    let model = breaker_on_heat_pump(&knowledge);
    let mut lines = text.lines();
    let header: Vec<&str> = lines.next().unwrap().split(',').collect();
    let rows: Vec<Vec<&str>> = lines.map(|line| line.split(',').collect()).collect();
    assert!(header.len() > 100 && rows.len() > 50);
    let mut said = 0;
    for row in &rows {
        assert_eq!(row.len(), header.len());
        let cause = model.place(knowledge.cause(row[0]).unwrap()).unwrap();
        for (test, cell) in header.iter().zip(row).skip(1) {
            let index = knowledge.test(test).unwrap();
            let likelihoods = model.likelihoods(index).unwrap();
            let outcomes = knowledge.tests[index].outcomes.iter();
            let expected: Vec<String> = outcomes
                .zip(likelihoods.row(cause).iter().zip(likelihoods.usual()))
                .filter(|(_, (own, usual))| *own / *usual >= 1.5 || *usual / *own >= 1.5)
                .map(|(outcome, (own, _))| format!("{}:{own:.3}", outcome.id))
                .collect();
            assert_eq!(*cell, expected.join(" "), "{} {test}", row[0]);
            said += expected.len();
        }
    }
    assert!(said > 10_000, "{said}");
}

fn breaker_on_heat_pump(knowledge: &lineside::knowledge::model::Knowledge) -> lineside::inference::Model {
    lineside::inference::Model::new(
        knowledge,
        knowledge.tree("breaker-opens").unwrap(),
        &knowledge.equipment[knowledge.equipment("heat-pump").unwrap()],
    )
}

/// What is said of a cause, and what tests show under it, against the files and the model.
#[test]
fn about_a_cause_says_whence_and_why() {
    let knowledge = lineside::knowledge::embedded().unwrap();
    let id = "loose-disconnect-lug";
    let place = ["--complaint", "breaker-opens", "--equipment", "heat-pump"];
    let data = json(&[&["about", id, "--format", "json"][..], &place].concat());
    let index = knowledge.cause(id).unwrap();
    let cause = &knowledge.causes[index];
    let effects = data["effects"].as_array().unwrap();
    assert_eq!(effects.len(), knowledge.effects.len());
    let from = |word: &str| effects.iter().filter(|effect| effect["from"] == word).count();
    let own = cause.does.iter().filter(|does| !does.from_family).count();
    assert_eq!((from("cause"), from("family")), (own, cause.does.len() - own));
    assert!(from("follows") > 0 && from("usual") > 0);
    let model = breaker_on_heat_pump(&knowledge);
    let tests = data["tests"].as_array().unwrap();
    assert!(tests.len() > 100);
    let mut last = f64::INFINITY;
    let mut shown = 0;
    for test in tests {
        let known = knowledge.test(test["test"].as_str().unwrap()).unwrap();
        let likelihoods = model.likelihoods(known).unwrap();
        let known = &knowledge.tests[known];
        let outcome = known.outcome(test["outcome"].as_str().unwrap()).unwrap();
        let figure = |key: &str| test[key].as_f64().unwrap();
        let row = likelihoods.row(model.place(index).unwrap());
        assert!((figure("share") - row[outcome.place()]).abs() < 1e-9, "{test}");
        assert!(
            (figure("usual") - likelihoods.usual()[outcome.place()]).abs() < 1e-9,
            "{test}"
        );
        assert!(figure("ratio") <= last, "most telling first");
        last = figure("ratio");
        if let Some(effect) = test["reason"]["effect"].as_str() {
            let effect = knowledge.effect(effect).unwrap();
            let shows = &known.outcomes[outcome].shows;
            assert!(shows.iter().any(|shown| shown.effect == effect), "{test}");
            shown += 1;
        }
    }
    assert!(shown > 20, "{shown}");
}

#[test]
fn about_a_cause_fits_the_screen_and_says_it_in_words() {
    for cause in ["loose-disconnect-lug", "board-failed-after-surge"] {
        let text = stdout(&trees(&["about", cause, "--all"]));
        for line in text.lines() {
            assert!(line.chars().count() <= 80, "{line}");
        }
        for part in [
            "Called in for",
            "What it does",
            "From its family, ",
            "As usual: ",
            "Outcomes that name this cause",
            "because ",
        ] {
            assert!(text.contains(part), "{part}\n{text}");
        }
    }
    let output = trees(&["about", "loose-disconect-lug"]);
    assert_eq!(output.status.code(), Some(1));
    let error = String::from_utf8(output.stderr).unwrap();
    assert!(error.contains("did you mean `loose-disconnect-lug`?"), "{error}");
}

/// The best test of every pair against a plain sum over the likelihoods of the model that the walk uses.
#[test]
fn matrix_agrees_with_the_likelihoods_a_walk_uses() {
    use lineside::knowledge::model::TestIndex;
    let knowledge = lineside::knowledge::embedded().unwrap();
    let arguments = [
        "--complaint",
        "breaker-opens",
        "--equipment",
        "heat-pump",
        "--format",
        "json",
    ];
    let mut command = vec!["matrix"];
    command.extend(arguments);
    let data = json(&command);
    let model = breaker_on_heat_pump(&knowledge);
    let pairs = data["pairs"].as_array().unwrap();
    assert!(pairs.len() > 500);
    for pair in pairs.iter().step_by(23) {
        let place = |key: &str| {
            model
                .place(knowledge.cause(pair[key].as_str().unwrap()).unwrap())
                .unwrap()
        };
        let ratio = |test: usize| {
            let likelihoods = model.likelihoods(TestIndex(test)).unwrap();
            let (one, other) = (likelihoods.row(place("first")), likelihoods.row(place("second")));
            // The mean log ratio when the first is true and when the second is, half and half.
            let mean = |truth: &[f64], rival: &[f64]| -> f64 {
                truth.iter().zip(rival).map(|(p, q)| p * (p.ln() - q.ln())).sum()
            };
            (0.5 * (mean(one, other) + mean(other, one))).exp()
        };
        let best = &pair["best"];
        let test = knowledge.test(best["test"].as_str().unwrap()).unwrap();
        assert!(
            (best["ratio"].as_f64().unwrap() - ratio(test.0)).abs() < 1e-9,
            "{pair}"
        );
    }
}

#[test]
fn matrix_of_two_causes_names_the_most_telling_test_first() {
    let data = json(&[
        "matrix",
        "loose-splice",
        "weak-or-worn-breaker",
        "--format",
        "json",
    ]);
    let ratios: Vec<f64> = data["tests"]
        .as_array()
        .unwrap()
        .iter()
        .map(|test| test["ratio"].as_f64().unwrap())
        .collect();
    assert!(
        ratios.len() > 3 && ratios.is_sorted_by(|a, b| a >= b),
        "{ratios:?}"
    );
    let text = stdout(&trees(&["matrix", "loose-splice", "weak-or-worn-breaker"]));
    let first = data["tests"][0]["test"].as_str().unwrap();
    let place = text.find(first).unwrap();
    for other in data["tests"].as_array().unwrap().iter().skip(1) {
        let other = text.find(&format!(" {} (", other["test"].as_str().unwrap()));
        assert!(other.is_none_or(|other| other > place), "{text}");
    }
    let output = trees(&["matrix", "loose-splise"]);
    assert_eq!(output.status.code(), Some(1));
    let error = String::from_utf8(output.stderr).unwrap();
    assert!(error.contains("did you mean `loose-splice`?"), "{error}");
}

#[test]
fn schema_and_template_print_what_the_library_gives() {
    use lineside::knowledge::template::{TemplateKind, template};
    for kind in [
        "equipment",
        "accessories",
        "facts",
        "requirements",
        "causes",
        "tests",
        "trees",
    ] {
        let schema = json(&["schema", kind]);
        assert_eq!(schema["$schema"], "https://json-schema.org/draft/2020-12/schema");
    }
    assert_eq!(
        stdout(&trees(&["template", "reading"])),
        template(TemplateKind::Reading)
    );
    assert_eq!(trees(&["template", "poem"]).status.code(), Some(2));
}
