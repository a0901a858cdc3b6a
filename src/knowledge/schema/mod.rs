//! JSON Schema (draft 2020-12) of each kind of file, for editors that complete and check TOML.
//!
//! Keys, words, units and bounds are those the loader reads by. Ids are offered for completion and any well-formed
//! one is taken, since a file may name what another is about to define: whether an id exists, and all that needs more
//! than one file, is for `lineside trees check`.
//!
//! *Source* JSON Schema draft 2020-12, <https://json-schema.org/draft/2020-12>.

mod form;

use serde_json::{Value as Json, json};

use super::fields::{keys, words};
use super::model::Knowledge;
use crate::quantity::{Kind, Word};
use crate::standards::calculation::Calculation;
use form::{ID, Offered, table};

pub use super::document::Section;

/// The schema of one kind of file, with the ids of the knowledge in use offered for completion.
#[must_use]
pub fn schema(section: Section, knowledge: &Knowledge, catalog: &[Calculation]) -> Json {
    let offered = Offered { knowledge, catalog };
    let (title, keys) = match section {
        Section::Equipment => ("kinds of equipment", keys::equipment::KEYS),
        Section::Accessory => ("accessories", keys::accessory::KEYS),
        Section::Fact => ("facts of an installation", keys::fact::KEYS),
        Section::Requirement => ("requirements", keys::requirement::KEYS),
        Section::Hold => ("holds", keys::hold::KEYS),
        Section::Effect => ("effects", keys::effect::KEYS),
        Section::Family => ("families", keys::family::KEYS),
        Section::Cause => ("causes", keys::cause::KEYS),
        Section::Test => ("tests", keys::test::KEYS),
        Section::Tree => ("one tree, for a complaint or shared by several", keys::tree::KEYS),
    };
    let mut entry = table(keys, &offered);
    match section {
        Section::Fact => entry["allOf"] = facts_by_kind(),
        Section::Test => entry["allOf"] = tests_by_kind(),
        _ => {}
    }
    let mut file = json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": format!("lineside: {title}"),
        "type": "object",
        "additionalProperties": false,
    });
    let by_id = |each: &Json| json!({ "type": "object", "propertyNames": { "pattern": ID }, "additionalProperties": each });
    if section == Section::Tree {
        file["properties"] = json!({ "tree": entry, "node": by_id(&json!({ "$ref": "#/$defs/node" })) });
        file["required"] = json!(["tree"]);
        let nodes = keys::NODES.map(|keys| table(keys, &offered));
        file["$defs"] = json!({ "node": { "oneOf": nodes } });
    } else {
        file["properties"] = json!({ section.word(): by_id(&entry) });
    }
    if section == Section::Test {
        let mut outcome = table(keys::outcome::KEYS, &offered);
        outcome["allOf"] = json!([
            { "not": { "required": ["below", "above"] } },
            { "not": { "required": ["of", "of-reading"] } },
        ]);
        file["$defs"] = json!({ "outcome": outcome });
    }
    file
}

/// When the kind is one of some words: the keys that must be there, and those that must not.
fn when(kinds: &[&str], required: &[&str], forbidden: &[&str]) -> Json {
    json!({
        "if": { "properties": { "kind": { "enum": kinds } }, "required": ["kind"] },
        "then": { "required": required, "properties": none_of(forbidden) },
    })
}

fn none_of(keys: &[&str]) -> serde_json::Map<String, Json> {
    let keys = keys.iter();
    keys.map(|key| ((*key).to_owned(), Json::Bool(false))).collect()
}

/// What each kind of fact must have and must not have.
fn facts_by_kind() -> Json {
    // A ratio and a count may go without a unit.
    let with_unit = Kind::ALL.iter().filter(|kind| !kind.base_symbol().is_empty());
    let with_unit: Vec<&str> = with_unit.map(|kind| kind.word()).chain(["currents"]).collect();
    let mut no_choices = words::fact_kinds();
    no_choices.retain(|kind| *kind != "choice");
    json!([
        when(&with_unit, &["unit"], &[]),
        when(&["choice"], &["choices"], &["unit", "range"]),
        when(&["size", "loads"], &[], &["unit", "range"]),
        when(&no_choices, &[], &["choices"]),
    ])
}

/// What each kind of test must have and must not have.
fn tests_by_kind() -> Json {
    let bounds = none_of(&["below", "above", "of", "of-reading"]);
    let without_bounds = |kind: &str| {
        json!({
            "if": { "properties": { "kind": { "const": kind } }, "required": ["kind"] },
            "then": { "properties": { "outcome": { "items": { "properties": bounds } } } },
        })
    };
    json!([
        when(
            &["look"],
            &["how", "instrument"],
            &["unit", "range", "probes", "calculation", "inputs"],
        ),
        when(
            &["reading"],
            &["how", "instrument", "unit", "range", "probes"],
            &["calculation", "inputs"],
        ),
        when(
            &["calculation"],
            &["calculation", "inputs"],
            &["unit", "range", "probes", "how"],
        ),
        { "oneOf": [{ "required": ["outcome"] }, { "required": ["outcomes-of"] }] },
        without_bounds("look"),
        without_bounds("calculation"),
    ])
}
