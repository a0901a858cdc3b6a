//! The templates for authors: each is filled into the sound folder as an author would do it, and must be found clean.

#![expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use lineside::knowledge::schema::{Section, schema};
use lineside::knowledge::template::{TemplateKind, template};
use lineside::knowledge::{Files, check, load, render};
use serde_json::Value as Json;

use crate::support::bad_trees::{CATALOG, bad_trees};

/// The template with its capitals replaced. The longer ones come first, since some contain others.
fn filled(kind: TemplateKind, with: &[(&str, &str)]) -> String {
    let mut with = with.to_vec();
    with.sort_by_key(|(capitals, _)| std::cmp::Reverse(capitals.len()));
    let mut text = template(kind);
    for (capitals, id) in with {
        assert!(text.contains(capitals), "`{capitals}` is not in the template");
        text = text.replace(capitals, id);
    }
    text
}

/// The sound folder with one file added and lines of the others replaced.
fn check_with(name: &str, text: &str, replaced: &[(&str, &str)]) -> Vec<String> {
    let sound = Files::read(&bad_trees().join("sound")).unwrap();
    for (old, _) in replaced {
        assert!(sound.list.iter().any(|file| file.text.contains(old)), "{old}");
    }
    let mut files: Vec<(String, String)> = sound
        .list
        .iter()
        .map(|file| {
            let mut text = file.text.to_string();
            for (old, new) in replaced {
                text = text.replace(old, new);
            }
            (file.name.clone(), text)
        })
        .collect();
    files.push((name.to_owned(), text.to_owned()));
    let checked = check(Files::in_memory(files), CATALOG);
    checked
        .findings
        .iter()
        .map(|finding| render::line(&checked.files, finding))
        .collect()
}

/// Asks a test of the sound folder's tree.
fn asked(test: &str) -> (&'static str, String) {
    (
        "narrow = [\"joint-drop\"",
        format!("narrow = [\"{test}\", \"joint-drop\""),
    )
}

#[test]
fn a_filled_cause_is_clean() {
    let text = filled(
        TemplateKind::Cause,
        &[
            ("NEW-CAUSE", "cracked-link"),
            ("A-PART", "element"),
            ("AN-EFFECT", "element"),
            ("A-STATE", "open"),
        ],
    );
    let found = (
        "shows = { heat-at = \"joint\" }",
        "shows = { heat-at = \"joint\" }\nfinds = { cracked-link = \"often\" }",
    );
    let findings = check_with("causes/new.toml", &text, &[found]);
    assert!(findings.is_empty(), "{}", findings.join("\n"));
}

#[test]
fn a_cause_that_nothing_finds_yet_is_found() {
    let text = filled(
        TemplateKind::Cause,
        &[
            ("NEW-CAUSE", "cracked-link"),
            ("A-PART", "element"),
            ("AN-EFFECT", "element"),
            ("A-STATE", "open"),
        ],
    );
    let findings = check_with("causes/new.toml", &text, &[]);
    let named = |code: &str| findings.iter().filter(|finding| finding.contains(code)).count();
    assert_eq!(named("[no-direct-finding]"), 1, "{findings:?}");
    // It does what another cause does, and nothing finds it: no test tells the two apart.
    assert_eq!(named("[inseparable-causes]"), 1, "{findings:?}");
    assert_eq!(findings.len(), 2, "{findings:?}");
}

#[test]
fn a_filled_look_is_clean() {
    let text = filled(
        TemplateKind::Look,
        &[
            ("NEW-LOOK", "tab-color"),
            ("FOUND", "blue"),
            ("SOUND", "bright"),
            ("A-PART", "element"),
            ("A-CAUSE", "loose-joint"),
            ("AN-EFFECT", "joint"),
            ("A-STATE", "loose"),
            ("OTHER-STATE", "firm"),
        ],
    );
    let (old, new) = asked("tab-color");
    let findings = check_with("tests/new.toml", &text, &[(old, &new)]);
    assert!(findings.is_empty(), "{}", findings.join("\n"));
}

#[test]
fn a_filled_reading_is_clean() {
    let text = filled(
        TemplateKind::Reading,
        &[
            ("NEW-READING", "one-leg-current"),
            ("A-PART", "element"),
            ("A-FACT", "rated-current"),
            ("A-CAUSE", "loose-joint"),
            ("OTHER-CAUSE", "open-element"),
            ("AN-EFFECT", "joint"),
            ("A-STATE", "loose"),
            ("OTHER-STATE", "firm"),
        ],
    );
    let (old, new) = asked("one-leg-current");
    let findings = check_with("tests/new.toml", &text, &[(old, &new)]);
    assert!(findings.is_empty(), "{}", findings.join("\n"));
}

#[test]
fn a_filled_calculation_is_clean() {
    let text = filled(
        TemplateKind::Calculation,
        &[
            ("NEW-CALCULATION", "rating-again"),
            ("A-CALCULATION", "share-check"),
            ("INPUT-ONE", "rated"),
            ("INPUT-TWO", "measured"),
            ("A-FACT", "rated-current"),
            ("A-READING", "element-current"),
            ("A-PART", "element"),
            ("A-CAUSE", "loose-joint"),
            ("AN-EFFECT", "joint"),
            ("A-STATE", "loose"),
            ("OTHER-STATE", "firm"),
            ("A-VERDICT", "within"),
            ("BROKEN-VERDICT", "over"),
            ("OUTPUT", "limit"),
        ],
    );
    let (old, new) = asked("rating-again");
    let findings = check_with("tests/new.toml", &text, &[(old, &new)]);
    assert!(findings.is_empty(), "{}", findings.join("\n"));
}

#[test]
fn a_filled_tree_is_clean() {
    let text = filled(
        TemplateKind::Tree,
        &[
            ("A-PART", "element"),
            ("A-TEST", "element-current"),
            ("AN-OUTCOME", "low"),
            ("OTHER-TEST", "joint-drop"),
            ("THIRD-TEST", "current-against-rating"),
        ],
    );
    let findings = check_with("no-heat.toml", &text, &[]);
    assert!(findings.is_empty(), "{}", findings.join("\n"));
}

/// What is left in capitals is found, so a template cannot be half filled and go unseen.
#[test]
fn an_id_left_in_capitals_is_found() {
    for kind in [
        TemplateKind::Cause,
        TemplateKind::Look,
        TemplateKind::Reading,
        TemplateKind::Calculation,
    ] {
        let folder = if kind == TemplateKind::Cause {
            "causes"
        } else {
            "tests"
        };
        let findings = check_with(&format!("{folder}/new.toml"), &template(kind), &[]);
        assert!(
            findings.iter().any(|finding| finding.contains("[bad-id]")),
            "{kind:?}: {findings:?}"
        );
    }
}

/// Every key of the schema stands in the template, if only as a comment.
#[test]
fn templates_show_every_key() {
    let knowledge = load(Some(&bad_trees().join("sound")), CATALOG).unwrap();
    let keys = |kind: Section, path: &str| -> Vec<String> {
        let schema = schema(kind, &knowledge, CATALOG);
        let table: &Json = schema.pointer(path).unwrap();
        table["properties"].as_object().unwrap().keys().cloned().collect()
    };
    let cause = keys(Section::Cause, "/properties/cause/additionalProperties");
    let test = keys(Section::Test, "/properties/test/additionalProperties");
    let outcome = keys(Section::Test, "/$defs/outcome");
    let tree = keys(Section::Tree, "/properties/tree");
    let nodes: Vec<String> = (0..6)
        .flat_map(|kind| keys(Section::Tree, &format!("/$defs/node/oneOf/{kind}")))
        .collect();
    let without = |keys: &[String], others: &[&str]| -> Vec<String> {
        keys.iter()
            .filter(|key| !others.contains(&key.as_str()))
            .cloned()
            .collect()
    };
    let (reading, calculation) = (["unit", "range", "probes"], ["calculation", "inputs"]);
    let bounds = ["below", "above", "of", "of-reading"];
    let look = [
        without(&test, &[&reading[..], &calculation].concat()),
        without(&outcome, &bounds),
    ]
    .concat();
    // Only looks are made together.
    let reading = [
        without(&test, &[&calculation[..], &["at-once"]].concat()),
        outcome.clone(),
    ]
    .concat();
    let calculation = [
        without(&test, &["unit", "range", "probes", "how", "at-once"]),
        without(&outcome, &bounds),
    ]
    .concat();
    for (kind, keys) in [
        (TemplateKind::Cause, cause),
        (TemplateKind::Look, look),
        (TemplateKind::Reading, reading),
        (TemplateKind::Calculation, calculation),
        (TemplateKind::Tree, [tree, nodes].concat()),
    ] {
        for key in keys {
            let shown = template(kind).lines().any(|line| {
                line.contains(&format!("{key} = "))
                    || line.starts_with('[') && line.contains(&format!(".{key}"))
            });
            assert!(
                shown || key == "outcome",
                "the template of {kind:?} does not show `{key}`"
            );
        }
    }
}
