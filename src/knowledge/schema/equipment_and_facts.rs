//! Schemas of equipment, accessories and facts.

use serde_json::{Value as Json, json};

use super::pieces::{file, not_offered, offered, parts, prose, table, text, texts, when, with_conditions};
use crate::knowledge::lint::prompts;
use crate::knowledge::model::Knowledge;
use crate::knowledge::validate::words;
use crate::quantity::Kind;

pub(super) fn equipment(knowledge: &Knowledge) -> Json {
    let entry = table(
        &[
            ("name", prose("Name shown to a person.")),
            (
                "parts",
                parts(
                    knowledge,
                    "Parts it has; what needs a part it lacks is not asked.",
                ),
            ),
        ],
        &["name"],
    );
    file("lineside: kinds of equipment", "equipment", &entry)
}

pub(super) fn accessories(knowledge: &Knowledge) -> Json {
    let entry = table(
        &[
            ("name", prose("Name shown to a person.")),
            (
                "parts",
                parts(knowledge, "Fitted only to equipment that has all these parts."),
            ),
        ],
        &["name"],
    );
    file("lineside: accessories", "accessory", &entry)
}

pub(super) fn facts(knowledge: &Knowledge) -> Json {
    let others: Vec<&str> = words::FACT_KINDS.iter().map(|(word, _)| *word).collect();
    let quantities: Vec<&str> = Kind::ALL.iter().map(|kind| kind.name()).collect();
    let kinds: Vec<&str> = quantities.iter().chain(&others).copied().collect();
    // A ratio and a count may go without a unit.
    let with_unit: Vec<&str> = Kind::ALL
        .iter()
        .filter(|kind| !kind.base_symbol().is_empty())
        .map(|kind| kind.name())
        .chain(["currents"])
        .collect();
    let no_choices: Vec<&str> = kinds.iter().copied().filter(|kind| *kind != "choice").collect();
    let choice = table(
        &[
            ("id", json!({ "type": "string", "pattern": super::pieces::ID })),
            ("label", prose("What is shown.")),
            ("parts", offered(knowledge)),
            ("without", not_offered(knowledge)),
        ],
        &["id", "label"],
    );
    let entry = table(
        &[
            ("name", prose("Short name.")),
            ("ask", ask()),
            ("find", prose("Where to find it.")),
            (
                "kind",
                json!({ "enum": kinds, "description": "What it takes: a quantity, a size, a choice, loads or currents." }),
            ),
            ("unit", text("Unit of a number typed without one.")),
            ("range", range()),
            (
                "choices",
                json!({ "type": "array", "items": choice, "description": "What is offered, when the kind is `choice`." }),
            ),
            (
                "parts",
                parts(knowledge, "Asked only of equipment that has all these parts."),
            ),
        ],
        &["name", "ask", "find", "kind"],
    );
    let conditions = [
        when("kind", &with_unit, &["unit"], &[]),
        when("kind", &["choice"], &["choices"], &["unit", "range"]),
        when("kind", &["size", "loads"], &[], &["unit", "range"]),
        when("kind", &no_choices, &[], &["choices"]),
    ];
    file(
        "lineside: facts of an installation",
        "fact",
        &with_conditions(entry, &conditions),
    )
}

/// A question: two lines of 60 columns.
pub(super) fn ask() -> Json {
    let mut ask = prose("The question, in two lines of 60 columns.");
    ask["maxLength"] = json!(prompts::LONGEST);
    ask
}

/// The two ends of what is believed.
pub(super) fn range() -> Json {
    let mut range = texts("Lowest and highest amount believed, each with its unit.");
    range["minItems"] = json!(2);
    range["maxItems"] = json!(2);
    range
}
