//! What an edited folder changes: every kind of edit to the sound folder, and the examples before and after.

#![expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

#[path = "support/bad_trees.rs"]
mod support;

use std::fs;
use std::path::Path;
use std::process::Command;

use lineside::knowledge::compare::{Change, changes};
use lineside::knowledge::load;
use serde_json::{Value as Json, json};

use support::{CATALOG, bad_trees, copy, laid_over};

/// The sound folder after some texts were replaced, compared with itself before.
fn after(edits: &[(&str, &str, &str)]) -> Vec<Json> {
    let sound = bad_trees().join("sound");
    let edited = laid_over(&sound);
    for (file, old, new) in edits {
        let path = edited.path().join(file);
        let text = fs::read_to_string(&path).unwrap();
        assert!(text.contains(old), "{file}: {old}");
        fs::write(&path, text.replacen(old, new, 1)).unwrap();
    }
    let before = load(Some(&sound), CATALOG).unwrap();
    let after = load(Some(edited.path()), CATALOG).unwrap();
    changes(&before, &after)
        .iter()
        .map(|change: &Change| serde_json::to_value(change).unwrap())
        .collect()
}

#[test]
fn no_edit_is_no_change() {
    assert_eq!(after(&[]), Vec::<Json>::new());
    // Neither is a comment.
    assert_eq!(
        after(&[(
            "causes/joints.toml",
            "[cause.loose",
            "# Seen often.\n[cause.loose"
        )]),
        Vec::<Json>::new()
    );
}

/// What looking a source up showed is told with its figures; a source with other words is a rewording.
#[test]
fn what_looking_sources_up_showed_is_told() {
    let found = after(&[(
        "causes/joints.toml",
        "looked-up = \"supports\"",
        "looked-up = \"not-found\"",
    )]);
    assert_eq!(
        found,
        [json!({
            "change": "setting", "sort": "cause", "id": "loose-joint", "key": "looked-up",
            "from": "1 supports, 1 no-address", "to": "1 not-found, 1 no-address",
        })]
    );
    let reworded = after(&[("causes/joints.toml", "A book on joints", "Another book")]);
    assert_eq!(
        reworded,
        [json!({ "change": "reworded", "sort": "cause", "id": "loose-joint" })]
    );
}

#[test]
fn signs_shares_and_bounds_are_told() {
    let found = after(&[
        (
            "tests/bench.toml",
            "signs = { loose-joint = \"nearly-proves\" }",
            "signs = { loose-joint = 0.8, open-element = \"weak\" }",
        ),
        (
            "tests/bench.toml",
            "above = \"50 mV\"\nlabel = \"50 to 200 mV\"\nusual = 0.1",
            "above = \"60 mV\"\nlabel = \"60 to 200 mV\"\nusual = 0.2",
        ),
        (
            "tests/bench.toml",
            "label = \"50 mV or less\"\nusual = 0.8",
            "label = \"60 mV or less\"\nusual = 0.7",
        ),
    ]);
    let sign = |cause: &str, from: Json, to: &str| json!({ "change": "sign", "test": "joint-drop", "outcome": "bad", "cause": cause, "from": from, "to": to });
    assert!(
        found.contains(&sign("loose-joint", json!("nearly-proves"), "0.8")),
        "{found:?}"
    );
    assert!(
        found.contains(&sign("open-element", json!(null), "weak")),
        "{found:?}"
    );
    let usual = |outcome: &str, from: f64, to: f64| json!({ "change": "usual", "test": "joint-drop", "outcome": outcome, "from": from, "to": to });
    assert!(
        found.contains(&usual("raised", 0.1, 0.2)) && found.contains(&usual("good", 0.8, 0.7)),
        "{found:?}"
    );
    assert!(
        found
            .iter()
            .any(|change| change["change"] == "bound" && change["outcome"] == "raised"),
        "{found:?}"
    );
    assert!(found.contains(&json!({ "change": "reworded", "sort": "test", "id": "joint-drop" })));
    assert_eq!(found.len(), 6, "{found:?}");
}

#[test]
fn routes_and_pools_are_told_by_tree_and_node() {
    let found = after(&[
        (
            "weak-heat.toml",
            "to = { low = \"pick\", unknown = \"pick\" }",
            "to = { low = \"end\", unknown = \"pick\" }",
        ),
        (
            "weak-heat.toml",
            "narrow = [\"joint-drop\", ",
            "narrow = [\"burnt-smell\", \"joint-drop\", ",
        ),
    ]);
    let route = |node: &str, way: &str, from: Json, to: Json| json!({ "change": "route", "tree": "weak-heat", "node": node, "way": way, "from": from, "to": to });
    assert_eq!(
        found,
        [
            route("current", "low", json!("pick"), json!("end")),
            route("pick", "pool burnt-smell", json!(null), json!("in the pool")),
        ]
    );
}

#[test]
fn what_is_new_gone_renamed_or_otherwise_common_is_told() {
    let found = after(&[
        (
            "causes/joints.toml",
            "[cause.open-element]",
            "[cause.broken-element]",
        ),
        (
            "weak-heat.toml",
            "open-element = \"occasional\"",
            "broken-element = { usual = \"rare\", with = { element = \"common\" } }",
        ),
        (
            "weak-heat.toml",
            "loose-joint = \"common\"",
            "loose-joint = \"rare\"",
        ),
        (
            "tests/bench.toml",
            "open-element = \"strong\"",
            "broken-element = \"strong\"",
        ),
        (
            "tests/bench.toml",
            "open-element = \"rules-out\"",
            "broken-element = \"rules-out\"",
        ),
        ("causes/joints.toml", "parts = [\"element\"]", "parts = []"),
        (
            "facts/plate.toml",
            "ask = \"Rated current on the nameplate\"",
            "ask = \"Amps on the nameplate\"",
        ),
    ]);
    for expected in [
        json!({ "change": "removed", "sort": "cause", "id": "open-element" }),
        json!({ "change": "added", "sort": "cause", "id": "broken-element" }),
        json!({ "change": "frequency", "complaint": "weak-heat", "cause": "loose-joint", "from": "common", "to": "rare" }),
        json!({ "change": "setting", "sort": "cause", "id": "loose-joint", "key": "parts", "from": "element", "to": "" }),
        json!({ "change": "reworded", "sort": "fact", "id": "rated-current" }),
        json!({ "change": "sign", "test": "element-current", "outcome": "low", "cause": "open-element", "from": "strong", "to": null }),
    ] {
        assert!(found.contains(&expected), "{expected}\nnot in\n{found:?}");
    }
}

/// One word changed in a copy of the knowledge: exactly that is told, and the case it matters to has moved.
#[test]
fn examples_are_walked_before_and_after() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let edited = tempfile::tempdir().unwrap();
    copy(&root.join("trees"), edited.path());
    let path = edited.path().join("breaker-opens.toml");
    let text: Vec<String> = fs::read_to_string(&path)
        .unwrap()
        .lines()
        .map(|line| {
            if line.starts_with("shared-circuit-overload = ") {
                "shared-circuit-overload = \"rare\"".to_owned()
            } else {
                line.to_owned()
            }
        })
        .collect();
    fs::write(&path, text.join("\n")).unwrap();
    let run = |format: &str| {
        let output = Command::new(env!("CARGO_BIN_EXE_lineside"))
            .args(["trees", "diff", "--format", format])
            .arg(edited.path())
            .current_dir(root)
            .env_clear()
            .output()
            .unwrap();
        assert!(
            output.status.success(),
            "{}",
            String::from_utf8_lossy(&output.stderr)
        );
        String::from_utf8(output.stdout).unwrap()
    };
    let data: Json = serde_json::from_str(&run("json")).unwrap();
    let changes = data["changes"].as_array().unwrap();
    assert_eq!(changes.len(), 1, "{changes:?}");
    assert_eq!(changes[0]["cause"], "shared-circuit-overload");
    assert_eq!(changes[0]["to"], "rare");
    let examples = data["examples"].as_array().unwrap();
    let case = examples
        .iter()
        .find(|example| example["name"] == "freezer-on-the-circuit")
        .unwrap();
    assert_eq!(case["moved"], true, "{case}");
    let probability = |side: &str| case[side]["probability"].as_f64().unwrap();
    assert!(probability("after") < probability("before"), "{case}");
    // A complaint the edit does not touch stands as it stood.
    let other = examples
        .iter()
        .find(|example| example["name"] == "wet-basement")
        .unwrap();
    assert_eq!(other["moved"], false, "{other}");
    let text = run("text");
    assert!(
        text.contains("shared-circuit-overload behind breaker-opens: "),
        "{text}"
    );
    assert!(
        text.contains("freezer-on-the-circuit (intended: shared-circuit-overload)"),
        "{text}"
    );
    assert!(text.contains(" before, "), "{text}");
}

#[test]
fn a_faulty_folder_is_refused_with_its_first_fault() {
    let folder = laid_over(&bad_trees().join("unknown-cause"));
    let output = Command::new(env!("CARGO_BIN_EXE_lineside"))
        .args(["trees", "diff"])
        .arg(folder.path())
        .env_clear()
        .output()
        .unwrap();
    assert_eq!(output.status.code(), Some(1));
    assert!(String::from_utf8_lossy(&output.stderr).contains("lineside trees check"));
}
