//! Schema of effects and families, and of what causes and outcomes say of them.

use serde_json::{Value as Json, json};

use super::pieces::{ID, file, prose, table};
use crate::knowledge::chance::CHANCES;
use crate::knowledge::model::Knowledge;

pub(super) fn effects(knowledge: &Knowledge) -> Json {
    let state = table(
        &[
            (
                "usual",
                json!({
                    "type": "number", "exclusiveMinimum": 0, "exclusiveMaximum": 1,
                    "description": "How often it is met among all callbacks; an effect's add up to 1.",
                }),
            ),
            ("says", prose("The state in words that follow \"because\".")),
        ],
        &["usual", "says"],
    );
    let entry = table(
        &[
            ("name", prose("What it is, short.")),
            (
                "states",
                json!({
                    "type": "object", "minProperties": 2,
                    "propertyNames": { "pattern": ID }, "additionalProperties": state,
                }),
            ),
            (
                "follows",
                json!({
                    "type": "object",
                    "propertyNames": { "pattern": ID },
                    "additionalProperties": { "type": "object", "additionalProperties": chances() },
                    "properties": known(knowledge, &json!({})),
                    "description": "How it is shared where another effect, or the complaint, is in a state.",
                }),
            ),
        ],
        &["name", "states"],
    );
    file("lineside: effects", "effect", &entry)
}

pub(super) fn families(knowledge: &Knowledge) -> Json {
    let entry = table(&[("does", does(knowledge))], &["does"]);
    file("lineside: families", "family", &entry)
}

/// A chance: a word or a number.
fn chance() -> Json {
    let words: Vec<&str> = CHANCES.iter().map(|(word, _)| *word).collect();
    json!({ "anyOf": [{ "enum": words }, { "type": "number", "exclusiveMinimum": 0, "exclusiveMaximum": 1 }] })
}

fn chances() -> Json {
    json!({ "type": "object", "propertyNames": { "pattern": ID }, "additionalProperties": chance() })
}

/// Every effect there is, offered with the same schema.
fn known(knowledge: &Knowledge, each: &Json) -> Json {
    knowledge
        .effects
        .iter()
        .map(|effect| (effect.id.clone(), each.clone()))
        .collect::<serde_json::Map<String, Json>>()
        .into()
}

/// The key `does`.
pub(super) fn does(knowledge: &Knowledge) -> Json {
    json!({
        "type": "object",
        "propertyNames": { "pattern": ID },
        "properties": known(knowledge, &chances()),
        "additionalProperties": chances(),
        "description": "For each effect that matters, how often which state; the rest is shared as usual.",
    })
}

/// The key `shows`.
pub(super) fn shows(knowledge: &Knowledge) -> Json {
    let states = json!({
        "anyOf": [
            { "type": "string", "pattern": ID },
            { "type": "array", "minItems": 1, "items": { "type": "string", "pattern": ID } },
        ],
    });
    json!({
        "type": "object",
        "propertyNames": { "pattern": ID },
        "properties": known(knowledge, &states),
        "additionalProperties": states,
        "description": "For each effect, the states under which this outcome is met.",
    })
}

/// The key `finds`.
pub(super) fn finds(knowledge: &Knowledge) -> Json {
    super::pieces::by_id(
        knowledge.causes.iter().map(|cause| cause.id.as_str()),
        &chance(),
        "P(this outcome | cause), for the causes it finds.",
    )
}

/// The key `base`.
pub(super) fn base() -> Json {
    let words: Vec<&str> = crate::knowledge::validate::words::FREQUENCIES
        .iter()
        .map(|(word, _)| *word)
        .collect();
    let word = json!({ "enum": words });
    json!({
        "anyOf": [word, table(
            &[
                ("usual", word.clone()),
                ("with", json!({ "type": "object", "additionalProperties": word })),
            ],
            &["usual"],
        )],
        "description": "How common it is behind a callback, wherever its parts are; or by part.",
    })
}
