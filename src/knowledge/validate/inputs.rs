//! What goes into a calculation and what may come out of it.

use indexmap::IndexMap;

use crate::knowledge::fields::{Fields, Text};
use crate::knowledge::finding::{Code, Finding};
use crate::knowledge::model::{Fact, FactIndex, InputFrom, TestIndex};
use crate::knowledge::nearest;
use crate::quantity::{Value, ValueKind, choice_among};
use crate::standards::calculation::{Calculation, Input};

use super::context::{Context, Measured};

/// The calculation of that name, if the catalog has it.
pub(super) fn find(name: &str, context: &Context<'_>) -> Option<&'static Calculation> {
    context
        .catalog
        .iter()
        .find(|calculation| calculation.name == name)
}

/// The calculation an entry names, and where its inputs come from.
pub(super) fn calculation(
    fields: &mut Fields<'_>,
    facts: &[Fact],
    measured: &Measured,
    context: &Context<'_>,
    findings: &mut Vec<Finding>,
) -> (String, IndexMap<String, InputFrom>) {
    let name = fields.text("calculation", findings);
    let known = find(name.text, context);
    if known.is_none() && !name.text.is_empty() {
        findings.push(Finding::error(
            Code::UnknownCalculation,
            name.place.clone(),
            format!("no calculation `{}`", name.text),
            nearest::did_you_mean(
                name.text,
                context.catalog.iter().map(|calculation| calculation.name),
                "see the list of `lineside figure`",
            ),
        ));
    }
    let mut inputs = IndexMap::new();
    for (input, from) in fields.text_pairs("inputs", findings) {
        let declared = known.and_then(|known| declared(known, &input, findings));
        if let Some(source) = source(&from, declared, facts, measured, context, findings) {
            inputs.insert(input.text.to_owned(), source);
        } else {
            // A faulty source is reported once; the input is not also missing.
            inputs.insert(
                input.text.to_owned(),
                InputFrom::Fixed(Value::Choice(String::new())),
            );
        }
    }
    for input in known.map_or(&[][..], |known| known.inputs) {
        if input.required && input.default.is_none() && !inputs.contains_key(input.name) && !fields.broken() {
            findings.push(Finding::error(
                Code::MissingInput,
                fields.place_of_key("inputs"),
                format!(
                    "`{}` needs the input `{}`: {}",
                    name.text, input.name, input.meaning
                ),
                format!(
                    "add `{} = \"fact:...\"` or `\"test:...\"` to `inputs`",
                    input.name
                ),
            ));
        }
    }
    (name.text.to_owned(), inputs)
}

/// Every `{output}` of a text must be an output of the calculation, if there is one.
pub(super) fn check_placeholders(
    text: &Text<'_>,
    calculation: Option<&str>,
    context: &Context<'_>,
    findings: &mut Vec<Finding>,
) {
    let known: Vec<&str> = match calculation.map(|name| find(name, context)) {
        Some(Some(known)) => known.outputs.iter().map(|output| output.name).collect(),
        // A calculation that is not known is reported where it is named.
        Some(None) => return,
        None => Vec::new(),
    };
    for part in text.text.split('{').skip(1) {
        let name = part.split('}').next().unwrap_or_default();
        if !part.contains('}') || !known.contains(&name) {
            findings.push(Finding::error(
                Code::UnknownOutput,
                text.place.clone(),
                format!("`{{{name}}}` is no output of this test"),
                nearest::did_you_mean(
                    name,
                    known.iter().copied(),
                    "only a calculation has outputs to name",
                ),
            ));
        }
    }
}

fn declared(
    calculation: &Calculation,
    input: &Text<'_>,
    findings: &mut Vec<Finding>,
) -> Option<&'static Input> {
    let found = calculation
        .inputs
        .iter()
        .find(|declared| declared.name == input.text);
    if found.is_none() {
        let known: Vec<&str> = calculation.inputs.iter().map(|declared| declared.name).collect();
        findings.push(Finding::error(
            Code::UnknownInput,
            input.place.clone(),
            format!("`{}` takes no `{}`", calculation.name, input.text),
            nearest::did_you_mean(
                input.text,
                known.iter().copied(),
                &format!("use {}", nearest::one_of(&known)),
            ),
        ));
    }
    found
}

fn source(
    from: &Text<'_>,
    input: Option<&Input>,
    facts: &[Fact],
    measured: &Measured,
    context: &Context<'_>,
    findings: &mut Vec<Finding>,
) -> Option<InputFrom> {
    let Some((sort, rest)) = from.text.split_once(':') else {
        findings.push(bad_source(from));
        return None;
    };
    let rest = Text {
        text: rest,
        place: from.place.clone(),
    };
    match sort {
        "fact" => {
            let index = context.facts.find(&rest, findings)?;
            let fact = &facts[index];
            if let Some(input) = input {
                let given: Vec<&str> = fact.choices.iter().map(|choice| choice.id.as_str()).collect();
                match_kind(from, input, fact.kind, &given, findings);
            }
            Some(InputFrom::Fact(FactIndex(index)))
        }
        "test" => {
            let index = context.tests.find(&rest, findings)?;
            let Some(kind) = measured[index] else {
                findings.push(Finding::error(
                    Code::KindMismatch,
                    from.place.clone(),
                    format!("test `{}` is no reading, so it gives no number", rest.text),
                    "name a reading",
                ));
                return None;
            };
            if let Some(input) = input {
                match_kind(from, input, ValueKind::Quantity(kind), &[], findings);
            }
            Some(InputFrom::Reading(TestIndex(index)))
        }
        "fixed" => {
            let input = input?;
            let symbol = (!input.symbol.is_empty()).then_some(input.symbol);
            match Value::parse(rest.text, input.kind, symbol, input.choices) {
                Ok(value) => Some(InputFrom::Fixed(value)),
                Err(error) => {
                    findings.push(Finding::error(
                        Code::BadFigure,
                        from.place.clone(),
                        error.to_string(),
                        format!("write {}", input.kind.wanted()),
                    ));
                    None
                }
            }
        }
        _ => {
            findings.push(bad_source(from));
            None
        }
    }
}

fn bad_source(from: &Text<'_>) -> Finding {
    Finding::error(
        Code::UnknownWord,
        from.place.clone(),
        format!("`{}` says not where the input comes from", from.text),
        "write `fact:ID`, `test:ID` or `fixed:VALUE`",
    )
}

fn match_kind(
    from: &Text<'_>,
    input: &Input,
    given: ValueKind,
    choices: &[&str],
    findings: &mut Vec<Finding>,
) {
    if given != input.kind {
        findings.push(Finding::error(
            Code::KindMismatch,
            from.place.clone(),
            format!(
                "`{}` is {}, expected {}",
                from.text,
                given.wanted(),
                input.kind.wanted()
            ),
            format!("give `{}` something of its kind", input.name),
        ));
        return;
    }
    if input.choices.is_empty() {
        return;
    }
    if let Some(stranger) = choices
        .iter()
        .find(|choice| choice_among(choice, input.choices).is_none())
    {
        findings.push(Finding::error(
            Code::KindMismatch,
            from.place.clone(),
            format!(
                "`{}` may be `{stranger}`, which `{}` does not take",
                from.text, input.name
            ),
            format!("offer {} only", nearest::one_of(input.choices)),
        ));
    }
}
