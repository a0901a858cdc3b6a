//! Schema of holds.

use serde_json::{Value as Json, json};

use super::pieces::{by_id, file, ids, parts, prose, sources, table};
use crate::knowledge::model::Knowledge;
use crate::knowledge::validate::words;

pub(super) fn holds(knowledge: &Knowledge) -> Json {
    let states: Vec<&str> = words::STATES.iter().map(|(word, _)| *word).collect();
    let entry = table(
        &[
            (
                "name",
                prose("What it is, such as `heat damage that is not repaired`."),
            ),
            (
                "stops",
                json!({ "type": "array", "items": { "enum": states }, "description": "States of tests that are not made." }),
            ),
            (
                "stops-tests",
                ids(
                    knowledge.tests.iter().map(|test| test.id.as_str()),
                    "Tests that are not made, whatever their state.",
                ),
            ),
            (
                "from-start",
                json!({ "type": "boolean", "description": "It holds before anything raises it." }),
            ),
            (
                "proved-anew",
                json!({ "type": "boolean", "description": "What clears it counts only when given after it was last raised." }),
            ),
            (
                "parts",
                parts(knowledge, "Only for equipment that has all these parts."),
            ),
            (
                "cleared-by",
                by_id(
                    knowledge.tests.iter().map(|test| test.id.as_str()),
                    &json!({ "type": "array", "items": { "type": "string" } }),
                    "Each of these tests must come out so.",
                ),
            ),
            ("says", prose("What the person is told while it holds.")),
            (
                "call",
                prose("Whom to call: once raised, it ends the walk, and `says` is what to do now."),
            ),
            ("source", sources()),
        ],
        &["name", "says", "source"],
    );
    file("lineside: holds", "hold", &entry)
}

/// The holds an outcome or a complaint raises.
pub(super) fn raises(knowledge: &Knowledge) -> Json {
    ids(
        knowledge.holds.iter().map(|hold| hold.id.as_str()),
        "What must be cleared before some tests are made.",
    )
}
