//! What goes into a calculation and what may come out of it.

use indexmap::IndexMap;

use crate::knowledge::fields::{Fields, Key, Text};
use crate::knowledge::finding::Code;
use crate::knowledge::model::InputFrom;
use crate::knowledge::nearest;
use crate::quantity::{Value, ValueKind, choice_among};
use crate::standards::calculation::{Calculation, Input};

use super::context::Context;

/// The calculation of that name, if the catalog has it.
pub(super) fn find(name: &str, context: Context<'_>) -> Option<&'static Calculation> {
    context
        .catalog
        .iter()
        .find(|calculation| calculation.name == name)
}

/// The calculation an entry names, and where its inputs come from.
pub(super) fn calculation(
    fields: &mut Fields<'_>,
    [calculation, inputs]: [Key; 2],
    context: Context<'_>,
) -> (String, IndexMap<String, InputFrom>) {
    let name = fields.text(calculation);
    let known = find(name.text, context);
    if known.is_none() && !name.text.is_empty() {
        context.sink.error(
            Code::UnknownCalculation,
            name.place.clone(),
            format!("no calculation `{}`", name.text),
            nearest::did_you_mean(
                name.text,
                context.catalog.iter().map(|calculation| calculation.name),
                "see the list of `lineside figure`",
            ),
        );
    }
    let mut taken = IndexMap::new();
    for (input, from) in fields.text_pairs(inputs) {
        let declared = known.and_then(|known| declared(known, &input, context));
        // A faulty source is reported once; the input is not also missing.
        let source = source(&from, declared, context)
            .unwrap_or_else(|| InputFrom::Fixed(Value::Choice(String::new())));
        taken.insert(input.owned(), source);
    }
    for input in known.map_or(&[][..], |known| known.inputs) {
        if input.required && input.default.is_none() && !taken.contains_key(input.name) && !fields.broken() {
            context.sink.error(
                Code::MissingInput,
                fields.place_of_key(inputs.name),
                format!(
                    "`{}` needs the input `{}`: {}",
                    name.text, input.name, input.meaning
                ),
                format!(
                    "add `{} = \"fact:...\"` or `\"test:...\"` to `inputs`",
                    input.name
                ),
            );
        }
    }
    (name.owned(), taken)
}

/// Every `{output}` of a text must be an output of the calculation, if there is one.
pub(super) fn check_placeholders(text: &Text<'_>, calculation: Option<&str>, context: Context<'_>) {
    let known: Vec<&str> = match calculation.map(|name| find(name, context)) {
        Some(Some(known)) => known.outputs.iter().map(|output| output.name).collect(),
        // A calculation that is not known is reported where it is named.
        Some(None) => return,
        None => Vec::new(),
    };
    for part in text.text.split('{').skip(1) {
        let name = part.split('}').next().unwrap_or_default();
        if !part.contains('}') || !known.contains(&name) {
            context.sink.error(
                Code::UnknownOutput,
                text.place.clone(),
                format!("`{{{name}}}` is no output of this test"),
                nearest::did_you_mean(
                    name,
                    known.iter().copied(),
                    "only a calculation has outputs to name",
                ),
            );
        }
    }
}

fn declared(calculation: &Calculation, input: &Text<'_>, context: Context<'_>) -> Option<&'static Input> {
    let found = calculation
        .inputs
        .iter()
        .find(|declared| declared.name == input.text);
    if found.is_none() {
        let known: Vec<&str> = calculation.inputs.iter().map(|declared| declared.name).collect();
        context.sink.error(
            Code::UnknownInput,
            input.place.clone(),
            format!("`{}` takes no `{}`", calculation.name, input.text),
            nearest::did_you_mean(
                input.text,
                known.iter().copied(),
                &format!("use {}", nearest::one_of(&known)),
            ),
        );
    }
    found
}

fn source(from: &Text<'_>, input: Option<&Input>, context: Context<'_>) -> Option<InputFrom> {
    let (sort, rest) = from.text.split_once(':').unwrap_or(("", ""));
    let rest = Text {
        text: rest,
        place: from.place.clone(),
    };
    let refuse = |code: Code, message: String, fix: &str| {
        context.sink.error(code, from.place.clone(), message, fix);
    };
    match sort {
        "fact" => {
            let index = context.find(&context.fact_ids, &rest)?;
            let fact = &context.facts[index];
            if let Some(input) = input {
                let given: Vec<&str> = fact.choices.iter().map(|choice| choice.id.as_str()).collect();
                match_kind(from, input, fact.kind, &given, context);
            }
            Some(InputFrom::Fact(index))
        }
        "test" => {
            let index = context.find(&context.test_ids, &rest)?;
            let Some(kind) = context.measured[index] else {
                refuse(
                    Code::KindMismatch,
                    format!("test `{}` is no reading, so it gives no number", rest.text),
                    "name a reading",
                );
                return None;
            };
            if let Some(input) = input {
                match_kind(from, input, ValueKind::Quantity(kind), &[], context);
            }
            Some(InputFrom::Reading(index))
        }
        "fixed" => {
            let input = input?;
            let symbol = (!input.symbol.is_empty()).then_some(input.symbol);
            let value = Value::parse(rest.text, input.kind, symbol, input.choices);
            let report = |error: &crate::quantity::ReadError| {
                refuse(
                    Code::BadFigure,
                    error.to_string(),
                    &format!("write {}", input.kind.wanted()),
                );
            };
            value.inspect_err(report).ok().map(InputFrom::Fixed)
        }
        _ => {
            refuse(
                Code::UnknownWord,
                format!("`{}` says not where the input comes from", from.text),
                "write `fact:ID`, `test:ID` or `fixed:VALUE`",
            );
            None
        }
    }
}

fn match_kind(from: &Text<'_>, input: &Input, given: ValueKind, choices: &[&str], context: Context<'_>) {
    let refuse = |message: String, fix: String| {
        context
            .sink
            .error(Code::KindMismatch, from.place.clone(), message, fix);
    };
    if given != input.kind {
        let (given, wanted) = (given.wanted(), input.kind.wanted());
        refuse(
            format!("`{}` is {given}, expected {wanted}", from.text),
            format!("give `{}` something of its kind", input.name),
        );
        return;
    }
    if input.choices.is_empty() {
        return;
    }
    let stranger = |choice: &&&str| choice_among(choice, input.choices).is_none();
    if let Some(stranger) = choices.iter().find(stranger) {
        refuse(
            format!(
                "`{}` may be `{stranger}`, which `{}` does not take",
                from.text, input.name
            ),
            format!("offer {} only", nearest::one_of(input.choices)),
        );
    }
}
