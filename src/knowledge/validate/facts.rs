//! Equipment and facts.

use crate::knowledge::document::{Documents, Entry, check_id};
use crate::knowledge::fields::{Fields, Text};
use crate::knowledge::finding::{Code, Finding};
use crate::knowledge::model::{Accessory, Equipment, Fact, FactChoice};
use crate::knowledge::nearest;
use crate::quantity::{Kind, Quantity, ValueKind};

use super::context::Context;
use super::words;

pub(super) fn equipment(
    entries: &[Entry<'_>],
    documents: &Documents<'_>,
    findings: &mut Vec<Finding>,
) -> Vec<Equipment> {
    let mut list = Vec::with_capacity(entries.len());
    for entry in entries {
        let what = format!("equipment `{}`", entry.id());
        let broken = documents.list[entry.file].broken;
        let mut fields = Fields::new(what, entry.place(), entry.value, broken, findings);
        let name = fields.prose("name", findings);
        let parts = fields.texts("parts", findings);
        for part in &parts {
            check_id(part.text, part.place.clone(), findings);
        }
        fields.finish(findings);
        let parts = parts.iter().map(|part| part.text.to_owned()).collect();
        list.push(Equipment {
            id: entry.id().to_owned(),
            name,
            parts,
            accessories: Vec::new(),
        });
    }
    list
}

/// Accessories, which become parts of every equipment they can be fitted to.
pub(super) fn accessories(
    entries: &[Entry<'_>],
    documents: &Documents<'_>,
    equipment: &mut [Equipment],
    findings: &mut Vec<Finding>,
) -> Vec<Accessory> {
    let mut list = Vec::with_capacity(entries.len());
    for entry in entries {
        let what = format!("accessory `{}`", entry.id());
        let broken = documents.list[entry.file].broken;
        let mut fields = Fields::new(what, entry.place(), entry.value, broken, findings);
        let name = fields.prose("name", findings);
        let mut parts = Vec::new();
        for part in fields.texts("parts", findings) {
            if equipment
                .iter()
                .any(|kind| kind.parts.iter().any(|own| own == part.text))
            {
                parts.push(part.text.to_owned());
            } else {
                findings.push(Finding::error(
                    Code::UnknownPart,
                    part.place,
                    format!("no equipment has the part `{}`", part.text),
                    "name a part of an equipment the accessory is fitted to",
                ));
            }
        }
        fields.finish(findings);
        list.push(Accessory {
            id: entry.id().to_owned(),
            name,
            parts,
        });
    }
    for kind in equipment {
        let fitting: Vec<String> = list
            .iter()
            .filter(|accessory| accessory.parts.iter().all(|part| kind.parts.contains(part)))
            .map(|accessory| accessory.id.clone())
            .collect();
        kind.parts.extend(fitting.iter().cloned());
        kind.accessories = fitting;
    }
    list
}

pub(super) fn facts(entries: &[Entry<'_>], context: &Context<'_>, findings: &mut Vec<Finding>) -> Vec<Fact> {
    let mut list = Vec::with_capacity(entries.len());
    for entry in entries {
        let what = format!("fact `{}`", entry.id());
        let mut fields = Fields::new(
            what,
            entry.place(),
            entry.value,
            context.is_broken(entry),
            findings,
        );
        let name = fields.prose("name", findings);
        let ask = fields.prose("ask", findings);
        let find = fields.prose("find", findings);
        let kind = kind(&mut fields, findings);
        let unit = unit(&mut fields, kind, findings);
        let figures = fields.texts("range", findings);
        let range = match kind {
            ValueKind::Quantity(kind) | ValueKind::Quantities(kind) => {
                range(&fields, &figures, kind, &unit, findings)
            }
            _ => {
                if let Some(figure) = figures.first() {
                    findings.push(Finding::error(
                        Code::UnknownKey,
                        figure.place.clone(),
                        format!("{} has a `range` but is no quantity", fields.what()),
                        "remove `range`",
                    ));
                }
                None
            }
        };
        let choices = choices(&mut fields, kind, context, findings);
        let parts = fields.texts("parts", findings);
        fields.finish(findings);
        list.push(Fact {
            id: entry.id().to_owned(),
            name,
            ask,
            find,
            kind,
            unit,
            range,
            choices,
            parts: context.parts(&parts, findings),
        });
    }
    list
}

fn kind(fields: &mut Fields<'_>, findings: &mut Vec<Finding>) -> ValueKind {
    let text = fields.text("kind", findings);
    let found = words::FACT_KINDS
        .iter()
        .find(|(word, _)| *word == text.text)
        .map(|(_, kind)| *kind)
        .or_else(|| Kind::named(text.text).map(ValueKind::Quantity));
    found.unwrap_or_else(|| {
        if !text.text.is_empty() {
            let known = Kind::ALL
                .iter()
                .map(|kind| kind.name())
                .chain(words::FACT_KINDS.iter().map(|(word, _)| *word));
            findings.push(Finding::error(
                Code::UnknownWord,
                text.place.clone(),
                format!("`{}` is no kind of fact", text.text),
                nearest::did_you_mean(
                    text.text,
                    known,
                    "use `size`, `choice`, `loads`, `currents` or a quantity",
                ),
            ));
        }
        ValueKind::Size
    })
}

/// The unit of a number typed without one; empty for a count, and for what is no quantity.
fn unit(fields: &mut Fields<'_>, kind: ValueKind, findings: &mut Vec<Finding>) -> String {
    let (ValueKind::Quantity(kind) | ValueKind::Quantities(kind)) = kind else {
        // Not asked for, so that `finish` refuses it.
        return String::new();
    };
    if kind.base_symbol().is_empty() {
        return fields
            .text_if("unit", findings)
            .map_or_else(String::new, |text| text.text.to_owned());
    }
    let text = fields.text("unit", findings);
    if !text.text.is_empty()
        && let Err(error) = Quantity::parse(&format!("1 {}", text.text), kind)
    {
        findings.push(Finding::error(
            Code::KindMismatch,
            text.place,
            error.to_string(),
            format!(
                "write the unit a technician types most, such as `{}`",
                kind.usual_symbol()
            ),
        ));
        return kind.usual_symbol().to_owned();
    }
    text.text.to_owned()
}

/// The two ends of a range; nothing when none is written or after a finding.
pub(super) fn range(
    fields: &Fields<'_>,
    figures: &[Text<'_>],
    kind: Kind,
    symbol: &str,
    findings: &mut Vec<Finding>,
) -> Option<(f64, f64)> {
    let [low, high] = figures else {
        if !figures.is_empty() {
            findings.push(Finding::error(
                Code::BadFigure,
                fields.place_of("range"),
                format!("`range` has {} figures, expected 2", figures.len()),
                "write the lowest and the highest, such as `[\"0 V\", \"700 V\"]`",
            ));
        }
        return None;
    };
    let low_base = figure(low, kind, symbol, findings)?;
    let high_base = figure(high, kind, symbol, findings)?;
    if low_base >= high_base {
        findings.push(Finding::error(
            Code::BadFigure,
            fields.place_of("range"),
            format!("`{}` is not below `{}`", low.text, high.text),
            "write the lowest first",
        ));
        return None;
    }
    Some((low_base, high_base))
}

/// One figure with its unit, in base units.
pub(super) fn figure(text: &Text<'_>, kind: Kind, symbol: &str, findings: &mut Vec<Finding>) -> Option<f64> {
    match Quantity::parse_in(text.text, kind, symbol) {
        Ok(quantity) => Some(quantity.base),
        Err(error) => {
            findings.push(Finding::error(
                Code::BadFigure,
                text.place.clone(),
                error.to_string(),
                format!("write {} with its unit", kind.with_article()),
            ));
            None
        }
    }
}

fn choices(
    fields: &mut Fields<'_>,
    kind: ValueKind,
    context: &Context<'_>,
    findings: &mut Vec<Finding>,
) -> Vec<FactChoice> {
    let mut choices: Vec<FactChoice> = Vec::new();
    let file = fields.place().file;
    let broken = context.documents.list[file].broken;
    let written = fields.tables("choices", findings);
    let is_choice = kind == ValueKind::Choice;
    if is_choice == written.is_empty() && !broken {
        let (message, fix) = if is_choice {
            (
                format!("{} has no `choices`", fields.what()),
                "add `choices = [{ id = \"...\", label = \"...\" }]`",
            )
        } else {
            (
                format!("{} has `choices` but its kind is not `choice`", fields.what()),
                "remove `choices`",
            )
        };
        let code = if is_choice {
            Code::MissingKey
        } else {
            Code::UnknownKey
        };
        findings.push(Finding::error(code, fields.place_of("choices"), message, fix));
    }
    for value in written {
        let place = crate::knowledge::finding::Stretch {
            file,
            span: value.span(),
        };
        let mut inner = Fields::new("a choice".to_owned(), place, value, broken, findings);
        let id = inner.text("id", findings);
        let label = inner.prose("label", findings);
        let fit = context.fit(&mut inner, findings);
        inner.finish(findings);
        if !id.text.is_empty() {
            check_id(id.text, id.place.clone(), findings);
        }
        if choices.iter().any(|choice| choice.id == id.text) {
            findings.push(Finding::error(
                Code::DuplicateId,
                id.place.clone(),
                format!("choice `{}` stands twice", id.text),
                "give one of them another id, or remove it",
            ));
        }
        choices.push(FactChoice {
            id: id.text.to_owned(),
            label,
            fit,
        });
    }
    choices
}
