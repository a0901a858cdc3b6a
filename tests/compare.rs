//! What an edited folder changes: every kind of edit to the sound folder, and the examples before and after.

#![expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use std::fs;
use std::path::Path;
use std::process::Command;

use lineside::knowledge::compare::{Change, changes};
use lineside::knowledge::load;
use serde_json::{Value as Json, json};

use crate::support::bad_trees::{CATALOG, bad_trees, copy, laid_over};

/// An effect the sound folder is given besides, which follows from another one.
const DROP: &str = r#"
[effect.drop]
name = "What the joint drops"
states.small = { usual = 0.8, says = "the joint drops little" }
states.high = { usual = 0.2, says = "the joint drops much" }
follows.joint.loose = { high = "mostly" }
"#;
const SAID: [(&str, &str, &str); 2] = [
    (
        "causes/joints.toml",
        "does.heat-at = { joint = \"often\" }\n",
        "does.heat-at = { joint = \"often\" }\ndoes.drop = { high = \"mostly\" }\n",
    ),
    (
        "tests/bench.toml",
        "shows = { joint = \"loose\" }\nfinds = { loose-joint = \"often\" }\n",
        "shows = { joint = \"loose\", drop = \"high\" }\nfinds = { loose-joint = 0.8 }\n",
    ),
];

fn edit(folder: &Path, edits: &[(&str, &str, &str)]) {
    for (file, old, new) in edits {
        let path = folder.join(file);
        let text = fs::read_to_string(&path).unwrap();
        assert!(text.contains(old), "{file}: {old}");
        fs::write(&path, text.replacen(old, new, 1)).unwrap();
    }
}

/// The sound folder with one effect more.
fn speaking() -> tempfile::TempDir {
    let folder = laid_over(&bad_trees().join("sound"));
    fs::write(folder.path().join("effects/drop.toml"), DROP).unwrap();
    edit(folder.path(), &SAID);
    folder
}

/// The folder after some texts were replaced, compared with itself before.
fn after(edits: &[(&str, &str, &str)]) -> Vec<Json> {
    let (sound, edited) = (speaking(), speaking());
    edit(edited.path(), edits);
    let before = load(Some(sound.path()), CATALOG).unwrap();
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

/// What weighs a repair is no rewording, and words of the format are told as written.
#[test]
fn what_a_repair_takes_and_whose_it_is_is_told() {
    let found = after(&[
        (
            "causes/joints.toml",
            "job = \"hvac-technician\"\nparts",
            "job = \"electrician\"\nrepair-minutes = 40\nparts",
        ),
        ("facts/plate.toml", "[\"1 A\", \"100 A\"]", "[\"1 A\", \"90 A\"]"),
    ]);
    let setting = |sort: &str, id: &str, key: &str, from: &str, to: &str| json!({ "change": "setting", "sort": sort, "id": id, "key": key, "from": from, "to": to });
    assert_eq!(
        found,
        [
            setting(
                "fact",
                "rated-current",
                "range",
                "1 to 100 in base units",
                "1 to 90 in base units"
            ),
            setting("cause", "loose-joint", "job", "hvac-technician", "electrician"),
            setting("cause", "loose-joint", "repair-minutes", "", "40"),
        ]
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
fn what_outcomes_say_their_shares_and_bounds_are_told() {
    let found = after(&[
        (
            "tests/bench.toml",
            "shows = { joint = \"loose\", drop = \"high\" }\nfinds = { loose-joint = 0.8 }",
            "shows = { joint = \"loose\", drop = [\"high\", \"small\"] }\nfinds = { loose-joint = 0.6, open-element = \"seldom\" }",
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
        (
            "tests/bench.toml",
            "id = \"within\"\nsays-nothing = true\n",
            "id = \"within\"\n",
        ),
        (
            "tests/bench.toml",
            "minutes = 3\n",
            "minutes = 3\nsureness = 0.9\n",
        ),
    ]);
    let finds = |cause: &str, from: Json, to: &str| json!({ "change": "finds", "test": "joint-drop", "outcome": "bad", "cause": cause, "from": from, "to": to });
    let usual = |outcome: &str, from: f64, to: f64| json!({ "change": "usual", "test": "joint-drop", "outcome": outcome, "from": from, "to": to });
    for expected in [
        finds("loose-joint", json!("0.8"), "0.6"),
        finds("open-element", json!(null), "0.05"),
        json!({ "change": "shows", "test": "joint-drop", "outcome": "bad", "effect": "drop", "from": "high", "to": "high or small" }),
        usual("raised", 0.1, 0.2),
        usual("good", 0.8, 0.7),
        json!({ "change": "setting", "sort": "outcome", "id": "current-against-rating/within", "key": "says-nothing", "from": "true", "to": "false" }),
        json!({ "change": "setting", "sort": "test", "id": "joint-drop", "key": "sureness", "from": "", "to": "0.9" }),
        json!({ "change": "reworded", "sort": "test", "id": "joint-drop" }),
    ] {
        assert!(found.contains(&expected), "{expected}\nnot in\n{found:?}");
    }
    assert!(
        found
            .iter()
            .any(|change| change["change"] == "bound" && change["outcome"] == "raised"),
        "{found:?}"
    );
    assert_eq!(found.len(), 9, "{found:?}");
}

/// What is said of effects: by a cause, by its family (told once, not with each cause), and by the effects themselves.
#[test]
fn what_causes_families_and_effects_say_is_told() {
    let shares = |sort: &str, id: &str, of: &str, from: &str, to: &str| json!({ "change": "shares", "sort": sort, "id": id, "of": of, "from": from, "to": to });
    assert_eq!(
        after(&[(
            "causes/joints.toml",
            "does.drop = { high = \"mostly\" }",
            "does.drop = { high = \"often\" }"
        )]),
        [shares(
            "cause",
            "loose-joint",
            "drop",
            "high 0.8, small 0.2",
            "high 0.5, small 0.5"
        )]
    );
    assert_eq!(
        after(&[("families/joints.toml", "\"mostly\"", "\"seldom\"")]),
        [shares(
            "family",
            "joint",
            "joint",
            "firm 0.2, loose 0.8",
            "firm 0.95, loose 0.05"
        )]
    );
    let of_effect = after(&[(
        "effects/drop.toml",
        "follows.joint.loose = { high = \"mostly\" }",
        "follows.joint.loose = { high = \"often\" }\nfollows.joint.firm = { high = 0.1 }",
    )]);
    assert_eq!(
        of_effect,
        [
            shares(
                "effect",
                "drop",
                "joint/loose",
                "high 0.8, small 0.2",
                "high 0.5, small 0.5"
            ),
            json!({ "change": "shares", "sort": "effect", "id": "drop", "of": "joint/firm", "from": null, "to": "high 0.1, small 0.9" }),
        ]
    );
    let states = after(&[
        (
            "effects/heater.toml",
            "states.firm = { usual = 0.8,",
            "states.firm = { usual = 0.7,",
        ),
        (
            "effects/heater.toml",
            "states.loose = { usual = 0.2, says = \"the joint is loose\" }",
            "states.loose = { usual = 0.2, says = \"it is loose\" }\nstates.burnt = { usual = 0.1, says = \"it is burnt\" }",
        ),
    ]);
    for expected in [
        json!({ "change": "setting", "sort": "state", "id": "joint/firm", "key": "usual", "from": "0.8", "to": "0.7" }),
        json!({ "change": "added", "sort": "state", "id": "joint/burnt" }),
        json!({ "change": "reworded", "sort": "effect", "id": "joint" }),
    ] {
        assert!(states.contains(&expected), "{expected}\nnot in\n{states:?}");
    }
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
            "causes/joints.toml",
            "base = \"common\"\nfamily = \"joint\"",
            "base = { usual = \"rare\", with = { element = \"common\" } }",
        ),
        (
            "tests/bench.toml",
            "finds = { open-element",
            "finds = { broken-element",
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
        json!({ "change": "setting", "sort": "cause", "id": "loose-joint", "key": "base", "from": "common", "to": "rare; with element common" }),
        json!({ "change": "setting", "sort": "cause", "id": "loose-joint", "key": "family", "from": "joint", "to": "" }),
        json!({ "change": "setting", "sort": "cause", "id": "loose-joint", "key": "parts", "from": "element", "to": "" }),
        json!({ "change": "reworded", "sort": "fact", "id": "rated-current" }),
    ] {
        assert!(found.contains(&expected), "{expected}\nnot in\n{found:?}");
    }
}

/// A cause confined to other equipment in a copy of the knowledge: exactly that is told, and its case has moved.
#[test]
fn examples_are_walked_before_and_after() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let edited = tempfile::tempdir().unwrap();
    copy(&root.join("trees"), edited.path());
    edit(
        edited.path(),
        &[(
            "causes/protection.toml",
            "[cause.shared-circuit-overload]\n",
            "[cause.shared-circuit-overload]\nparts = [\"inducer\"]\n",
        )],
    );
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
    assert_eq!(changes[0]["id"], "shared-circuit-overload");
    assert_eq!(changes[0]["to"], "inducer");
    let examples = data["examples"].as_array().unwrap();
    let case = examples
        .iter()
        .find(|example| example["name"] == "freezer-on-the-circuit")
        .unwrap();
    assert_eq!(case["moved"], true, "{case}");
    let probability = |side: &str| case[side]["probability"].as_f64().unwrap();
    assert!(probability("after") < probability("before"), "{case}");
    // A case in which that cause plays no part stands as it stood.
    let other = examples
        .iter()
        .find(|example| example["name"] == "wet-basement")
        .unwrap();
    assert_eq!(other["moved"], false, "{other}");
    let text = run("text");
    assert!(
        text.contains("shared-circuit-overload, parts: new `inducer`"),
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
