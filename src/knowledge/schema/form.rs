//! The schema of each form a key of the format can have.

use serde_json::{Map, Value as Json, json};

use crate::knowledge::chance::CHANCES;
use crate::knowledge::fields::words;
use crate::knowledge::fields::{Form, Key, Of};
use crate::knowledge::lint::prompts;
use crate::knowledge::model::{Frequency, Knowledge};
use crate::knowledge::validate::routes::ALL;
use crate::quantity::Word;
use crate::standards::calculation::Calculation;

/// Kebab-case, as the loader demands.
pub(super) const ID: &str = "^[a-z0-9]+(-[a-z0-9]+)*$";

/// A node, or a node of another tree.
const ROUTE: &str = "^([a-z0-9]+(-[a-z0-9]+)*/)?[a-z0-9]+(-[a-z0-9]+)*$";

/// What is offered for completion.
pub(super) struct Offered<'k> {
    pub(super) knowledge: &'k Knowledge,
    pub(super) catalog: &'k [Calculation],
}

impl<'k> Offered<'k> {
    fn ids(&self, of: Of) -> Vec<&'k str> {
        let known = self.knowledge;
        let trees = |complaint: bool| {
            let trees = known.trees.iter().filter(|tree| tree.is_complaint() == complaint);
            trees.map(|tree| tree.id.as_str()).collect()
        };
        match of {
            Of::Part => {
                let parts = known.equipment.iter().flat_map(|kind| &kind.parts);
                let mut parts: Vec<&str> = parts.map(String::as_str).collect();
                parts.sort_unstable();
                parts.dedup();
                parts
            }
            Of::Fact => known.facts.iter().map(|fact| fact.id.as_str()).collect(),
            Of::Requirement => known.requirements.iter().map(|one| one.id.as_str()).collect(),
            Of::Hold => known.holds.iter().map(|hold| hold.id.as_str()).collect(),
            Of::Test => known.tests.iter().map(|test| test.id.as_str()).collect(),
            Of::Complaint => trees(true),
            Of::SharedTree => trees(false),
        }
    }
}

/// A table with these keys and no other.
pub(super) fn table(keys: &[Key], offered: &Offered<'_>) -> Json {
    let properties: Map<String, Json> = keys
        .iter()
        .map(|key| (key.name.to_owned(), property(*key, offered)))
        .collect();
    let required = keys.iter().filter(|key| key.is_required);
    json!({
        "type": "object",
        "properties": properties,
        "required": required.map(|key| key.name).collect::<Vec<_>>(),
        "additionalProperties": false,
    })
}

fn property(key: Key, offered: &Offered<'_>) -> Json {
    let mut property = of(key.form, offered);
    if !key.says.is_empty() {
        property["description"] = json!(key.says);
    }
    property
}

fn of(form: Form, offered: &Offered<'_>) -> Json {
    let effects = || offered.knowledge.effects.iter().map(|effect| effect.id.as_str());
    let tests = || offered.ids(Of::Test).into_iter();
    match form {
        Form::Prose => prose(),
        Form::Text => json!({ "type": "string" }),
        Form::Texts => list(&prose()),
        Form::Question => {
            let mut question = prose();
            question["maxLength"] = json!(prompts::LONGEST);
            question
        }
        Form::Flag => json!({ "type": "boolean" }),
        Form::True => json!({ "const": true }),
        Form::Number(lowest, highest) => json!({ "type": "number", "minimum": lowest, "maximum": highest }),
        Form::Share(_, highest) => {
            let highest_of = if highest < 1.0 {
                "exclusiveMaximum"
            } else {
                "maximum"
            };
            json!({ "type": "number", "exclusiveMinimum": 0, highest_of: 1 })
        }
        Form::Word(words) => json!({ "enum": words }),
        Form::Words(words) => list(&json!({ "enum": words })),
        Form::FactKind => json!({ "enum": words::fact_kinds() }),
        Form::OwnId | Form::Node => id(),
        Form::OwnOutcome => json!({ "type": "string", "pattern": ID, "not": { "const": "unknown" } }),
        Form::Id(named) => known(&offered.ids(named)),
        Form::Ids(named) => list(&known(&offered.ids(named))),
        Form::Route => json!({ "type": "string", "pattern": ROUTE }),
        Form::Routes => by_id(None, &of(Form::Route, offered)),
        Form::Pool => {
            let mut pool = list(&known(&offered.ids(Of::Test)));
            pool["minItems"] = json!(1);
            pool["uniqueItems"] = json!(true);
            json!({ "anyOf": [pool, { "const": ALL, "description": "Every test that belongs to the complaint." }] })
        }
        Form::Table(keys) => table(keys, offered),
        Form::Tables(keys) => list(&table(keys, offered)),
        Form::Outcomes => json!({ "type": "array", "minItems": 2, "items": { "$ref": "#/$defs/outcome" } }),
        Form::Sources(keys) => {
            let mut sources = list(&json!({ "anyOf": [prose(), table(keys, offered)] }));
            sources["minItems"] = json!(1);
            sources
        }
        Form::Range => json!({ "type": "array", "items": prose(), "minItems": 2, "maxItems": 2 }),
        Form::Bound => {
            json!({ "oneOf": [{ "type": "string" }, { "type": "number", "exclusiveMinimum": 0 }] })
        }
        Form::Calculation => {
            let names: Vec<&str> = offered
                .catalog
                .iter()
                .map(|calculation| calculation.name)
                .collect();
            json!({ "enum": names })
        }
        Form::Inputs => json!({
            "type": "object",
            "additionalProperties": { "type": "string", "pattern": "^(fact|test|fixed):." },
        }),
        Form::Commonness(keys) => json!({ "anyOf": [frequency(), table(keys, offered)] }),
        Form::CommonnessByPart => json!({ "type": "object", "additionalProperties": frequency() }),
        Form::States(keys) => {
            let mut states = by_id(None, &table(keys, offered));
            states["minProperties"] = json!(2);
            states
        }
        Form::Does => by_id(Some(effects().collect()), &by_id(None, &chance())),
        Form::Follows => {
            let rows = json!({ "type": "object", "additionalProperties": by_id(None, &chance()) });
            let mut follows = by_id(None, &rows);
            follows["properties"] = effects()
                .map(|id| (id.to_owned(), json!({})))
                .collect::<Map<_, _>>()
                .into();
            follows
        }
        Form::Shows => {
            let several = json!({ "type": "array", "minItems": 1, "items": id() });
            by_id(Some(effects().collect()), &json!({ "anyOf": [id(), several] }))
        }
        Form::Finds => {
            let causes = offered.knowledge.causes.iter().map(|cause| cause.id.as_str());
            by_id(Some(causes.collect()), &chance())
        }
        Form::AtOnce => by_id(Some(tests().collect()), &id()),
        Form::Proofs => by_id(Some(tests().collect()), &list(&json!({ "type": "string" }))),
    }
}

/// A text a person reads.
fn prose() -> Json {
    json!({ "type": "string", "pattern": "\\S" })
}

fn list(item: &Json) -> Json {
    json!({ "type": "array", "items": item })
}

fn id() -> Json {
    json!({ "type": "string", "pattern": ID })
}

/// An id, with those there are offered.
fn known(ids: &[&str]) -> Json {
    json!({ "anyOf": [{ "enum": ids }, id()] })
}

/// A table from ids to values of one form, some ids offered as keys.
fn by_id(offered: Option<Vec<&str>>, value: &Json) -> Json {
    let mut table = json!({
        "type": "object",
        "propertyNames": { "pattern": ID },
        "additionalProperties": value,
    });
    if let Some(ids) = offered {
        let keys: Map<String, Json> = ids.into_iter().map(|id| (id.to_owned(), value.clone())).collect();
        table["properties"] = keys.into();
    }
    table
}

/// A chance: a word or a number.
fn chance() -> Json {
    let words: Vec<&str> = CHANCES.iter().map(|(word, _)| *word).collect();
    json!({ "anyOf": [{ "enum": words }, { "type": "number", "exclusiveMinimum": 0, "exclusiveMaximum": 1 }] })
}

fn frequency() -> Json {
    json!({ "enum": Frequency::WORDS })
}
