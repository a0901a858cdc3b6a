//! The pieces every schema is made of.

use serde_json::{Map, Value as Json, json};

use crate::knowledge::model::Knowledge;
use crate::knowledge::validate::words;

/// Kebab-case, as the loader demands.
pub(super) const ID: &str = "^[a-z0-9]+(-[a-z0-9]+)*$";

/// A text a person reads.
pub(super) fn prose(says: &str) -> Json {
    json!({ "type": "string", "pattern": "\\S", "description": says })
}

/// A text that may be empty.
pub(super) fn text(says: &str) -> Json {
    json!({ "type": "string", "description": says })
}

/// A list of texts.
pub(super) fn texts(says: &str) -> Json {
    json!({ "type": "array", "items": { "type": "string", "pattern": "\\S" }, "description": says })
}

/// Sources: at least one.
pub(super) fn sources() -> Json {
    json!({
        "type": "array",
        "minItems": 1,
        "items": { "anyOf": [
            { "type": "string", "pattern": "\\S" },
            table(
                &[
                    ("text", prose("The source.")),
                    (
                        "looked-up",
                        word(words::LOOKED_UP, "What looking it up showed about this claim."),
                    ),
                ],
                &["text", "looked-up"],
            ),
        ] },
        "description": "Title and address, standard with edition and section, `common practice, no source`, or `from memory`.",
    })
}

/// One of the words of a list the loader uses.
pub(super) fn word<T>(words: &[(&'static str, T)], says: &str) -> Json {
    let words: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
    json!({ "enum": words, "description": says })
}

/// Several of the words of a list the loader uses.
pub(super) fn several<T>(words: &[(&'static str, T)], says: &str) -> Json {
    let words: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
    json!({ "type": "array", "items": { "enum": words }, "description": says })
}

/// An id, with those there are offered.
pub(super) fn id<'a>(known: impl Iterator<Item = &'a str>, says: &str) -> Json {
    let known: Vec<&str> = known.collect();
    json!({
        "anyOf": [{ "enum": known }, { "type": "string", "pattern": ID }],
        "description": says,
    })
}

/// A list of ids.
pub(super) fn ids<'a>(known: impl Iterator<Item = &'a str>, says: &str) -> Json {
    json!({ "type": "array", "items": id(known, says), "description": says })
}

/// Names of the parts some equipment has.
pub(super) fn parts(knowledge: &Knowledge, says: &str) -> Json {
    let mut parts: Vec<&str> = knowledge
        .equipment
        .iter()
        .flat_map(|equipment| equipment.parts.iter().map(String::as_str))
        .collect();
    parts.sort_unstable();
    parts.dedup();
    ids(parts.into_iter(), says)
}

/// The parts equipment must have for something to be offered.
pub(super) fn offered(knowledge: &Knowledge) -> Json {
    parts(knowledge, "Offered only for equipment that has all these parts.")
}

/// The parts that keep something from being offered.
pub(super) fn not_offered(knowledge: &Knowledge) -> Json {
    parts(
        knowledge,
        "Not offered for equipment that has one of these parts.",
    )
}

/// A table from ids to values of one form, with the ids there are offered as keys.
pub(super) fn by_id<'a>(known: impl Iterator<Item = &'a str>, value: &Json, says: &str) -> Json {
    let keys: Map<String, Json> = known.map(|id| (id.to_owned(), value.clone())).collect();
    json!({
        "type": "object",
        "properties": keys,
        "propertyNames": { "pattern": ID },
        "additionalProperties": value,
        "description": says,
    })
}

/// A table with these keys and no other.
pub(super) fn table(keys: &[(&str, Json)], required: &[&str]) -> Json {
    let keys: Map<String, Json> = keys
        .iter()
        .map(|(key, value)| ((*key).to_owned(), value.clone()))
        .collect();
    json!({
        "type": "object",
        "properties": keys,
        "required": required,
        "additionalProperties": false,
    })
}

/// The same table with conditions.
pub(super) fn with_conditions(mut table: Json, conditions: &[Json]) -> Json {
    table["allOf"] = json!(conditions);
    table
}

/// When a key is one of some words: what must be there, and what must not.
pub(super) fn when(key: &str, words: &[&str], required: &[&str], forbidden: &[&str]) -> Json {
    let forbidden: Map<String, Json> = forbidden
        .iter()
        .map(|key| ((*key).to_owned(), Json::Bool(false)))
        .collect();
    json!({
        "if": { "properties": { key: { "enum": words } }, "required": [key] },
        "then": { "required": required, "properties": forbidden },
    })
}

/// A file of entries `[key.ID]`.
pub(super) fn file(title: &str, key: &str, entry: &Json) -> Json {
    json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": title,
        "type": "object",
        "properties": {
            key: {
                "type": "object",
                "propertyNames": { "pattern": ID },
                "additionalProperties": entry,
            },
        },
        "additionalProperties": false,
    })
}
