//! A review as JSON, for other programs.

use serde_json::{Map, Value, json};

use super::figures::Review;
use super::table::{Cell, Table};

/// Version of the form: rises when a field changes its meaning or goes.
const SCHEMA: u32 = 1;

/// The review as one JSON object. Every table is a list of objects, by its id; a share is `{"part", "of"}` and a mean
/// `{"sum", "of"}`, so that nothing is rounded.
#[must_use]
pub fn json(review: &Review) -> Value {
    let scope = &review.scope;
    let tables: Map<String, Value> = review
        .tables
        .iter()
        .map(|table| (table.id.to_owned(), rows(table)))
        .collect();
    let broken: Vec<Value> = review
        .broken
        .iter()
        .map(|broken| json!({ "file": broken.path.display().to_string(), "why": broken.why }))
        .collect();
    json!({
        "schema": SCHEMA,
        "knowledge": review.knowledge,
        "scope": {
            "cases": scope.cases,
            "invented": scope.invented,
            "invented-left-out": scope.invented_left_out,
            "filtered-out": scope.filtered_out,
            "filter": scope.filter,
            "first-month": scope.months.as_ref().map(|(first, _)| first),
            "last-month": scope.months.as_ref().map(|(_, last)| last),
        },
        "tables": tables,
        "not-counted": broken,
    })
}

fn rows(table: &Table) -> Value {
    let row = |cells: &Vec<Cell>| -> Value {
        let fields: Map<String, Value> = table
            .columns
            .iter()
            .zip(cells)
            .map(|(column, cell)| (column.id.to_owned(), value(cell)))
            .collect();
        Value::Object(fields)
    };
    Value::Array(table.rows.iter().map(row).collect())
}

fn value(cell: &Cell) -> Value {
    match cell {
        Cell::Text(text) => json!(text),
        Cell::Named { id, .. } => json!(id),
        Cell::Count(count) => json!(count),
        Cell::Share { part, of } => json!({ "part": part, "of": of }),
        Cell::Seconds { sum, of } | Cell::Mean { sum, of } | Cell::Millionths { sum, of } => {
            json!({ "sum": sum, "of": of })
        }
        Cell::Probability(share) => json!(share),
        Cell::Nothing => Value::Null,
    }
}
