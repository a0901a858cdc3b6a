//! A calculation and its result for a program.

use serde_json::{Map, Value as Json, json};

use crate::quantity::{Quantity, Value, ValueKind, Word};
use crate::standards::calculation::{CANNOT_TELL, Calculation, Inputs, Report};
use crate::standards::catalog;

pub(super) fn report_json(calculation: &Calculation, inputs: &Inputs, report: &Report) -> Json {
    let values = |all: &mut dyn Iterator<Item = (String, &Value)>| -> Map<String, Json> {
        all.map(|(name, value)| (name, value_json(value))).collect()
    };
    json!({
        "calculation": report.calculation,
        "inputs": values(&mut inputs.0.iter().map(|(name, value)| (name.clone(), value))),
        "outputs": values(&mut report.outputs.iter().map(|(name, value)| ((*name).to_owned(), value))),
        "verdict": report.verdict,
        "violates": calculation.is_violated_by(report),
        "finding": report.finding,
        "margin": report.limits.iter().map(|limit| limit.margin).reduce(f64::min),
        "working": report.working,
        "limits": report.limits,
        "assumptions": report.assumptions,
        "notes": report.notes,
        "sources": report.sources,
    })
}

/// A value for a program: what is shown, and the amount in its base unit where it has one.
fn value_json(value: &Value) -> Json {
    let amount = |quantity: &Quantity| json!({ "shown": quantity.to_string(), "value": quantity.base, "unit": quantity.kind.base_symbol() });
    match value {
        Value::Quantity(quantity) => amount(quantity),
        Value::Quantities(all) => Json::Array(all.iter().map(amount).collect()),
        Value::Loads(loads) => json!(loads),
        Value::Size(_) | Value::Choice(_) => {
            json!({ "shown": value.to_string(), "value": value.to_string() })
        }
    }
}

pub(super) fn calculation_json(calculation: &Calculation) -> Json {
    let inputs: Vec<_> = calculation
        .inputs
        .iter()
        .map(|input| {
            let range = match (input.range, input.kind) {
                (Some((low, high)), ValueKind::Quantity(kind) | ValueKind::Quantities(kind)) => {
                    json!({ "lowest": low, "highest": high, "unit": kind.base_symbol() })
                }
                _ => Json::Null,
            };
            json!({
                "name": input.name,
                "takes": kind_name(input.kind),
                "unit": input.symbol,
                "choices": input.choices,
                "range": range,
                "default": input.default,
                "required": input.is_required(),
                "instead_of": input.instead_of,
                "only_with": input.only_with,
                "same_as": input.same_as,
                "measured": input.measured,
                "meaning": input.meaning,
            })
        })
        .collect();
    let outputs: Vec<_> = calculation
        .outputs
        .iter()
        .map(|output| {
            let unit = match output.kind {
                ValueKind::Quantity(kind) | ValueKind::Quantities(kind) => kind.base_symbol(),
                ValueKind::Size | ValueKind::Choice | ValueKind::Loads => "",
            };
            json!({ "name": output.name, "takes": kind_name(output.kind), "unit": unit, "meaning": output.meaning })
        })
        .collect();
    let verdicts: Vec<_> = calculation
        .verdicts
        .iter()
        .map(|verdict| json!({ "id": verdict.id, "meaning": verdict.meaning, "violates": verdict.violates }))
        .chain([json!({ "id": CANNOT_TELL, "meaning": "Always possible; the finding says what would tell.", "violates": false })])
        .collect();
    json!({
        "name": calculation.name,
        "title": calculation.title,
        "group": catalog::group_of(calculation.name),
        "inputs": inputs,
        "outputs": outputs,
        "verdicts": verdicts,
    })
}

fn kind_name(kind: ValueKind) -> String {
    match kind {
        ValueKind::Quantity(kind) => kind.word().to_owned(),
        ValueKind::Quantities(kind) => format!("list of {}", kind.word()),
        ValueKind::Size => "conductor-size".to_owned(),
        ValueKind::Choice => "choice".to_owned(),
        ValueKind::Loads => "loads".to_owned(),
    }
}
