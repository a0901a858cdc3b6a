//! The JSON Schemas of the files against a validator of another project, the files compiled in, the bad examples, and
//! the loader's own lists of keys.

#![expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use std::collections::{BTreeMap, BTreeSet};
use std::fs;

use jsonschema::Validator;
use lineside::knowledge::finding::Code;
use lineside::knowledge::schema::{Section, schema};
use lineside::knowledge::{Files, check, load};
use lineside::quantity::Word;
use lineside::standards::registry;
use serde_json::Value as Json;

use crate::support::bad_trees::{CATALOG, bad_trees};
use lineside::standards::calculation::Calculation;

fn schemas(folder: Option<&std::path::Path>, catalog: &'static [Calculation]) -> Vec<(Section, Json)> {
    let knowledge = load(folder, catalog).unwrap();
    Section::ALL
        .iter()
        .map(|kind| (*kind, schema(*kind, &knowledge, catalog)))
        .collect()
}

fn validators(schemas: &[(Section, Json)]) -> Vec<(Section, Validator)> {
    schemas
        .iter()
        .map(|(kind, schema)| (*kind, jsonschema::draft202012::new(schema).unwrap()))
        .collect()
}

/// What the validator says of one file; nothing when it is not TOML or lies in no folder of the format.
fn faults(validators: &[(Section, Validator)], name: &str, text: &str) -> Option<Vec<String>> {
    let kind = Section::of_file(name)?;
    let data: Json = serde_json::to_value(text.parse::<toml::Table>().ok()?).unwrap();
    let (_, validator) = validators.iter().find(|(known, _)| *known == kind).unwrap();
    Some(
        validator
            .iter_errors(&data)
            .map(|error| format!("{name}{}: {error}", error.instance_path()))
            .collect(),
    )
}

#[test]
fn schemas_are_schemas() {
    for (kind, schema) in schemas(None, registry::all()) {
        assert!(jsonschema::draft202012::meta::is_valid(&schema), "{kind:?}");
    }
}

#[test]
fn every_file_compiled_in_fits_its_schema() {
    let validators = validators(&schemas(None, registry::all()));
    let files = Files::embedded();
    assert!(files.list.len() > 20);
    let wrong: Vec<String> = files
        .list
        .iter()
        .flat_map(|file| faults(&validators, &file.name, &file.text).unwrap())
        .collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Faults of form that an editor underlines while the author types. What needs another file, a sum or a walk is left
/// to `trees check`.
const SEEN_BY_THE_SCHEMA: &[&str] = &[
    "bad-id",
    "dead-end",
    "duplicate-id",
    "empty-prose",
    "missing-key",
    "no-source",
    "node-kind",
    "prompt-too-long",
    "too-few-outcomes",
    "unknown-calculation",
    "unknown-key",
    "unknown-word",
    "wrong-type",
];

#[test]
fn bad_examples_of_form_fail_and_the_others_pass() {
    let sound = bad_trees().join("sound");
    let validators = validators(&schemas(Some(&sound), CATALOG));
    let mut failing = BTreeSet::new();
    for entry in fs::read_dir(bad_trees()).unwrap() {
        let folder = entry.unwrap().path();
        let name = folder.file_name().unwrap().to_str().unwrap().to_owned();
        let files = Files::read(&folder).unwrap();
        let fails = files
            .list
            .iter()
            .any(|file| faults(&validators, &file.name, &file.text).is_some_and(|faults| !faults.is_empty()));
        if fails {
            failing.insert(name);
        }
    }
    let expected: BTreeSet<String> = SEEN_BY_THE_SCHEMA.iter().map(|name| (*name).to_owned()).collect();
    assert_eq!(failing, expected);
}

/// A key nobody would write, put into every table of the sound folder.
const STRANGER: &str = "qqqqqqqqqqqq";

/// The keys the loader takes in each kind of table, as it says them when it meets a stranger: by file and what the
/// finding is about.
fn keys_the_loader_takes() -> BTreeMap<String, BTreeSet<String>> {
    let sound = Files::read(&bad_trees().join("sound")).unwrap();
    let mut keys = BTreeMap::new();
    let files = sound.list.iter().map(|file| {
        let mut text = String::new();
        for line in file.text.lines() {
            let line = line.replace("[{ ", &format!("[{{ {STRANGER} = 1, "));
            let line = line.replace("defect = { ", &format!("defect = {{ {STRANGER} = 1, "));
            text.push_str(&line);
            text.push('\n');
            if line.starts_with('[') {
                text.push_str(&format!("{STRANGER} = 1\n"));
            }
        }
        (file.name.clone(), text)
    });
    let others = [
        "effects/new.toml|effect",
        "families/new.toml|family",
        "accessories/new.toml|accessory",
        "requirements/new.toml|requirement",
    ]
    .map(|other| {
        let (name, key) = other.split_once('|').unwrap();
        (name.to_owned(), format!("[{key}.new]\n{STRANGER} = 1\n"))
    });
    let checked = check(Files::in_memory(files.chain(others)), CATALOG);
    for finding in checked
        .findings
        .iter()
        .filter(|finding| finding.code == Code::UnknownKey)
    {
        let (what, _) = finding.message.split_once(" takes no ").unwrap();
        let listed = finding
            .fix
            .split('`')
            .skip(1)
            .step_by(2)
            .map(str::to_owned)
            .collect();
        keys.insert(what.to_owned(), listed);
    }
    keys
}

fn keys_of(table: &Json) -> BTreeSet<String> {
    table["properties"]
        .as_object()
        .unwrap_or_else(|| panic!("no table: {table}"))
        .keys()
        .cloned()
        .collect()
}

fn without(mut keys: BTreeSet<String>, others: &[&str]) -> BTreeSet<String> {
    for other in others {
        assert!(keys.remove(*other), "`{other}` is in no schema");
    }
    keys
}

#[test]
fn keys_are_those_the_loader_takes() {
    let sound = bad_trees().join("sound");
    let schemas = schemas(Some(&sound), CATALOG);
    let of = |kind: Section| &schemas.iter().find(|(known, _)| *known == kind).unwrap().1;
    let entry = |kind: Section, key: &str| &of(kind)["properties"][key]["additionalProperties"];
    let loader = keys_the_loader_takes();
    let takes = |what: &str| {
        loader
            .get(what)
            .unwrap_or_else(|| panic!("{what} not in {loader:?}"))
    };
    assert_eq!(
        &keys_of(entry(Section::Equipment, "equipment")),
        takes("equipment `heater`")
    );
    let fact = entry(Section::Fact, "fact");
    assert_eq!(&without(keys_of(fact), &[]), takes("fact `rated-current`"));
    assert_eq!(
        &keys_of(&fact["properties"]["choices"]["items"]),
        takes("a choice")
    );
    assert_eq!(
        &keys_of(entry(Section::Accessory, "accessory")),
        takes("accessory `new`")
    );
    let requirement = entry(Section::Requirement, "requirement");
    assert_eq!(&keys_of(requirement), takes("requirement `new`"));
    assert_eq!(&keys_of(entry(Section::Effect, "effect")), takes("effect `new`"));
    assert_eq!(&keys_of(entry(Section::Family, "family")), takes("family `new`"));
    let cause = entry(Section::Cause, "cause");
    assert_eq!(&keys_of(cause), takes("cause `loose-joint`"));
    assert_eq!(
        &keys_of(&cause["properties"]["prevent"]["items"]),
        takes("an advice of `prevent`")
    );
    let sources = cause["properties"]["source"]["items"]["anyOf"]
        .as_array()
        .unwrap();
    assert_eq!(&keys_of(&sources[1]), takes("a source"));
    let test = entry(Section::Test, "test");
    let (reading, calculation) = (["unit", "range", "probes"], ["calculation", "inputs"]);
    let look = without(without(keys_of(test), &reading), &calculation);
    assert_eq!(&look, takes("test `burnt-smell`"));
    assert_eq!(&without(keys_of(test), &calculation), takes("test `joint-drop`"));
    let of_calculation = without(without(keys_of(test), &reading), &["how"]);
    assert_eq!(&of_calculation, takes("test `current-against-rating`"));
    let outcome = &of(Section::Test)["$defs"]["outcome"];
    assert_eq!(&keys_of(outcome), takes("an outcome of `joint-drop`"));
    let bounds = ["below", "above", "of", "of-reading"];
    assert_eq!(
        &without(keys_of(outcome), &bounds),
        takes("an outcome of `burnt-smell`")
    );
    assert_eq!(&keys_of(&outcome["properties"]["defect"]), takes("a defect"));
    let tree = of(Section::Tree);
    assert_eq!(&keys_of(&tree["properties"]["tree"]), takes("tree `weak-heat`"));
    let nodes = tree["$defs"]["node"]["oneOf"].as_array().unwrap();
    for (name, key) in [
        ("smell", "test"),
        ("pick", "narrow"),
        ("first", "through"),
        ("back", "leave"),
        ("stop", "halt"),
        ("end", "close"),
    ] {
        let node = nodes.iter().find(|node| node["required"][0] == key).unwrap();
        assert_eq!(&keys_of(node), takes(&format!("node `{name}`")));
    }
    assert_eq!(nodes.len(), 6);
}
