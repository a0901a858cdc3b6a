//! Schema of trees.

use serde_json::{Value as Json, json};

use super::pieces::{ID, id, ids, not_offered, offered, prose, table, texts};
use crate::knowledge::model::Knowledge;
use crate::knowledge::validate::routes::{ALL, LAST_RANK};
use crate::knowledge::validate::words;

/// A node, or a node of another tree.
const ROUTE: &str = "^([a-z0-9]+(-[a-z0-9]+)*/)?[a-z0-9]+(-[a-z0-9]+)*$";

pub(super) fn trees(knowledge: &Knowledge) -> Json {
    let head = table(
        &[
            (
                "complaint",
                prose("The complaint in a technician's words; left out in a shared tree."),
            ),
            ("words", texts("Other words a person may say.")),
            ("parts", offered(knowledge)),
            ("without", not_offered(knowledge)),
            (
                "rank",
                json!({ "type": "number", "minimum": 1, "maximum": LAST_RANK, "description": "Where it stands in the list of complaints, low first." }),
            ),
            ("requires", super::of_requirements::requires(knowledge)),
            ("raises", super::of_holds::raises(knowledge)),
            (
                "in-order",
                json!({ "type": "boolean", "description": "Every step is asked, also one that would tell nothing of the cause." }),
            ),
            (
                "start",
                json!({ "type": "string", "pattern": ID, "description": "The node it begins at." }),
            ),
        ],
        &["start"],
    );
    json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "lineside: one tree, for a complaint or shared by several",
        "type": "object",
        "properties": {
            "tree": head,
            "node": {
                "type": "object",
                "propertyNames": { "pattern": ID },
                "additionalProperties": { "$ref": "#/$defs/node" },
            },
        },
        "required": ["tree"],
        "additionalProperties": false,
        "$defs": { "node": node(knowledge) },
    })
}

fn route(says: &str) -> Json {
    json!({ "type": "string", "pattern": ROUTE, "description": says })
}

/// A node does one thing, so it has the keys of one kind.
fn node(knowledge: &Knowledge) -> Json {
    let kinds: Vec<Json> = words::NODE_KINDS
        .iter()
        .map(|kind| node_of(kind, knowledge))
        .collect();
    json!({ "oneOf": kinds })
}

fn node_of(kind: &str, knowledge: &Knowledge) -> Json {
    let tests = || knowledge.tests.iter().map(|test| test.id.as_str());
    let then = || ("then", route("Where to go then: `node` or `tree/node`."));
    match kind {
        "test" => table(
            &[
                ("test", id(tests(), "The test made here.")),
                (
                    "to",
                    json!({
                        "type": "object",
                        "propertyNames": { "pattern": ID },
                        "additionalProperties": { "type": "string", "pattern": ROUTE },
                        "description": "Where each outcome leads; `unknown` is \"could not check\", `absent` that the test does not apply to the equipment.",
                    }),
                ),
                (
                    "next",
                    route("Where every outcome leads that `to` does not name."),
                ),
            ],
            &["test"],
        ),
        "narrow" => {
            let mut pool = ids(tests(), "The tests the engine may pick from.");
            pool["minItems"] = json!(1);
            pool["uniqueItems"] = json!(true);
            let pool = json!({ "anyOf": [pool, { "const": ALL, "description": "Every test that belongs to the complaint." }] });
            table(&[("narrow", pool), then()], &["narrow", "then"])
        }
        "through" => table(
            &[
                (
                    "through",
                    id(
                        knowledge
                            .trees
                            .iter()
                            .filter(|tree| !tree.is_complaint())
                            .map(|tree| tree.id.as_str()),
                        "The shared tree gone through from its start.",
                    ),
                ),
                then(),
            ],
            &["through", "then"],
        ),
        "halt" => table(
            &[
                ("halt", prose("What to do now.")),
                ("call", prose("Whom to call.")),
            ],
            &["halt", "call"],
        ),
        other => table(&[(other, json!({ "const": true }))], &[other]),
    }
}
