//! Schema of tests.

use serde_json::{Value as Json, json};

use super::equipment_and_facts::{ask, range};
use super::pieces::{
    file, id, ids, not_offered, offered, parts, prose, sources, table, text, texts, when, with_conditions,
    word,
};
use crate::knowledge::model::Knowledge;
use crate::knowledge::validate::tests::MOST_MINUTES;
use crate::knowledge::validate::words;
use crate::standards::calculation::Calculation;

/// Keys only a reading has.
const OF_A_READING: [&str; 3] = ["unit", "range", "probes"];
/// Keys only a calculation has.
const OF_A_CALCULATION: [&str; 2] = ["calculation", "inputs"];
/// Keys of an outcome only a reading has.
const OF_A_BOUND: [&str; 4] = ["below", "above", "of", "of-reading"];

pub(super) fn tests(knowledge: &Knowledge, catalog: &[Calculation]) -> Json {
    let facts = || knowledge.facts.iter().map(|fact| fact.id.as_str());
    let tests = || knowledge.tests.iter().map(|test| test.id.as_str());
    let units: Vec<&str> = words::UNITS.iter().map(|(symbol, _)| *symbol).collect();
    let entry = table(
        &[
            (
                "kind",
                word(
                    words::SORTS,
                    "A look is picked, a reading typed, a calculation worked out.",
                ),
            ),
            ("name", prose("Short name for lists and search.")),
            ("ask", ask()),
            ("why", prose("Why it is asked.")),
            ("how", texts("How it is done, step by step.")),
            ("words", texts("Other words a person may search by.")),
            (
                "state",
                word(words::STATES, "State of the equipment while it is made."),
            ),
            (
                "job",
                word(
                    words::JOBS,
                    "Whose job it is to make it; left out: the HVAC technician's.",
                ),
            ),
            (
                "hazard",
                word(words::HAZARDS, "What it can do to the person making it."),
            ),
            ("caution", text("What can hurt here and how to keep clear of it.")),
            (
                "exposes",
                super::pieces::several(
                    words::EXPOSURES,
                    "What it opens or comes near to; the caution for it is added.",
                ),
            ),
            ("instrument", prose("Instrument needed, with its category.")),
            (
                "stand-in",
                ids(
                    tests(),
                    "Tests an ordinary meter, eyes or ears can make instead, where the instrument is special.",
                ),
            ),
            (
                "complaints",
                ids(
                    knowledge
                        .trees
                        .iter()
                        .filter(|tree| tree.is_complaint())
                        .map(|tree| tree.id.as_str()),
                    "The complaints it belongs to; left out: all.",
                ),
            ),
            (
                "minutes",
                json!({ "type": "number", "minimum": 0, "maximum": MOST_MINUTES, "description": "Hands-on minutes." }),
            ),
            (
                "parts",
                parts(knowledge, "Asked only of equipment that has all these parts."),
            ),
            (
                "needs",
                ids(facts(), "Facts asked before it, beside those it refers to."),
            ),
            (
                "sureness",
                json!({ "type": "number", "minimum": 0.05, "maximum": 0.999, "description": "How far an answer shows the true state." }),
            ),
            (
                "safety",
                json!({ "type": "boolean", "description": "A safety look, made before any energized test." }),
            ),
            (
                "outcomes-of",
                id(
                    tests(),
                    "The test whose outcomes it has: the same thing, told in one and tried now in the other.",
                ),
            ),
            (
                "unit",
                json!({ "enum": units, "description": "Unit of the reading." }),
            ),
            ("range", range()),
            ("probes", prose("Where the probes go.")),
            ("calculation", calculation(catalog)),
            ("inputs", inputs()),
            ("source", sources()),
            (
                "outcome",
                json!({ "type": "array", "minItems": 2, "items": { "$ref": "#/$defs/outcome" } }),
            ),
        ],
        &[
            "kind", "name", "ask", "why", "state", "hazard", "minutes", "source",
        ],
    );
    let both = |one: &[&'static str], other: &[&'static str]| [one, other].concat();
    let no_bounds = json!({ "outcome": { "items": { "properties": forbidden(&OF_A_BOUND) } } });
    let without_bounds = |kind: &str| {
        json!({
            "if": { "properties": { "kind": { "const": kind } }, "required": ["kind"] },
            "then": { "properties": no_bounds },
        })
    };
    let conditions = [
        when(
            "kind",
            &["look"],
            &["how", "instrument"],
            &both(&OF_A_READING, &OF_A_CALCULATION),
        ),
        when(
            "kind",
            &["reading"],
            &["how", "instrument", "unit", "range", "probes"],
            &OF_A_CALCULATION,
        ),
        when(
            "kind",
            &["calculation"],
            &OF_A_CALCULATION,
            &both(&OF_A_READING, &["how"]),
        ),
        json!({ "oneOf": [{ "required": ["outcome"] }, { "required": ["outcomes-of"] }] }),
        without_bounds("look"),
        without_bounds("calculation"),
    ];
    let mut file = file("lineside: tests", "test", &with_conditions(entry, &conditions));
    file["$defs"] = json!({ "outcome": outcome(knowledge) });
    file
}

fn forbidden(keys: &[&str]) -> Json {
    keys.iter()
        .map(|key| ((*key).to_owned(), Json::Bool(false)))
        .collect::<serde_json::Map<String, Json>>()
        .into()
}

/// The name of a calculation of the catalog.
pub(super) fn calculation(catalog: &[Calculation]) -> Json {
    let names: Vec<&str> = catalog.iter().map(|calculation| calculation.name).collect();
    json!({ "enum": names, "description": "Name of the calculation; see `lineside figure`." })
}

pub(super) fn inputs() -> Json {
    json!({
        "type": "object",
        "additionalProperties": { "type": "string", "pattern": "^(fact|test|fixed):." },
        "description": "Where each input comes from: `fact:ID`, `test:ID` or `fixed:VALUE`.",
    })
}

fn outcome(knowledge: &Knowledge) -> Json {
    let defect = table(
        &[
            ("name", prose("What is wrong, short.")),
            ("hazard", prose("What it can do.")),
            ("job", word(words::JOBS, "Whose job it is.")),
            (
                "correct",
                prose("What it must become; `{output}` names an output of the calculation."),
            ),
            ("source", prose("The rule, or `common practice, no source`.")),
        ],
        &["name", "hazard", "job", "correct", "source"],
    );
    let bound = json!({
        "oneOf": [{ "type": "string" }, { "type": "number", "exclusiveMinimum": 0 }],
        "description": "A figure with its unit, or a plain multiple of what `of` or `of-reading` names.",
    });
    let mut outcome = table(
        &[
            (
                "id",
                json!({ "type": "string", "pattern": super::pieces::ID, "not": { "const": "unknown" } }),
            ),
            ("label", prose("What is shown.")),
            (
                "usual",
                json!({
                    "type": "number", "exclusiveMinimum": 0, "maximum": 1,
                    "description": "Share of callbacks with this outcome; a test's add up to 1.",
                }),
            ),
            ("shows", super::of_effects::shows(knowledge)),
            ("finds", super::of_effects::finds(knowledge)),
            (
                "says-nothing",
                json!({ "type": "boolean", "description": "Not tried, not known, not fitted." }),
            ),
            ("below", bound.clone()),
            ("above", bound),
            (
                "of",
                id(
                    knowledge.facts.iter().map(|fact| fact.id.as_str()),
                    "The fact the figure multiplies.",
                ),
            ),
            (
                "of-reading",
                id(
                    knowledge.tests.iter().map(|test| test.id.as_str()),
                    "The reading the figure multiplies.",
                ),
            ),
            ("defect", defect),
            ("raises", super::of_holds::raises(knowledge)),
            ("parts", offered(knowledge)),
            ("without", not_offered(knowledge)),
        ],
        &["id", "label", "usual"],
    );
    outcome["allOf"] = json!([
        { "not": { "required": ["below", "above"] } },
        { "not": { "required": ["of", "of-reading"] } },
    ]);
    outcome
}
