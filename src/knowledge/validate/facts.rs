//! Equipment and facts.

use crate::knowledge::document::{Documents, Entry, check_id};
use crate::knowledge::fields::{Fields, Key, Text};
use crate::knowledge::finding::{Code, Sink};
use crate::knowledge::model::{Accessory, Equipment, Fact, FactChoice};
use crate::knowledge::nearest;
use crate::quantity::{Kind, Quantity, ValueKind};

use super::context::{Context, open};
use crate::knowledge::fields::keys::{accessory, choice, equipment, fact as keys};
use crate::knowledge::fields::words;

pub(super) fn equipment(entries: &[Entry<'_>], documents: &Documents<'_>, sink: &Sink) -> Vec<Equipment> {
    let equipment = entries.iter().map(|entry| {
        let mut fields = open("equipment", entry, documents, sink);
        let name = fields.prose(equipment::NAME);
        let parts = fields.texts(equipment::PARTS);
        for part in &parts {
            check_id(part.text, part.place.clone(), sink);
        }
        fields.finish();
        Equipment {
            id: entry.id().to_owned(),
            name,
            parts: parts.iter().map(Text::owned).collect(),
            accessories: Vec::new(),
        }
    });
    equipment.collect()
}

/// Accessories, which become parts of every equipment they can be fitted to.
pub(super) fn accessories(
    entries: &[Entry<'_>],
    documents: &Documents<'_>,
    equipment: &mut [Equipment],
    sink: &Sink,
) -> Vec<Accessory> {
    let mut list = Vec::with_capacity(entries.len());
    for entry in entries {
        let mut fields = open("accessory", entry, documents, sink);
        let name = fields.prose(accessory::NAME);
        let mut parts = Vec::new();
        for part in fields.texts(accessory::PARTS) {
            if equipment
                .iter()
                .any(|kind| kind.parts.iter().any(|own| own == part.text))
            {
                parts.push(part.owned());
            } else {
                sink.error(
                    Code::UnknownPart,
                    part.place,
                    format!("no equipment has the part `{}`", part.text),
                    "name a part of an equipment the accessory is fitted to",
                );
            }
        }
        fields.finish();
        list.push(Accessory {
            id: entry.id().to_owned(),
            name,
            parts,
        });
    }
    for kind in equipment {
        let fits = |accessory: &&Accessory| accessory.parts.iter().all(|part| kind.parts.contains(part));
        let fitting: Vec<String> = list.iter().filter(fits).map(|one| one.id.clone()).collect();
        kind.parts.extend(fitting.iter().cloned());
        kind.accessories = fitting;
    }
    list
}

pub(super) fn facts(entries: &[Entry<'_>], context: Context<'_>) -> Vec<Fact> {
    entries.iter().map(|entry| fact(entry, context)).collect()
}

fn fact<'c>(entry: &Entry<'c>, context: Context<'c>) -> Fact {
    let mut fields = context.fields("fact", entry);
    let name = fields.prose(keys::NAME);
    let ask = fields.prose(keys::ASK);
    let find = fields.prose(keys::FIND);
    let kind = kind(&mut fields, context);
    let unit = unit(&mut fields, kind, context);
    let figures = fields.texts(keys::RANGE);
    let range = match kind {
        ValueKind::Quantity(kind) | ValueKind::Quantities(kind) => {
            range(&fields, keys::RANGE, &figures, kind, &unit, context)
        }
        _ => {
            if let Some(figure) = figures.first() {
                context.sink.error(
                    Code::UnknownKey,
                    figure.place.clone(),
                    format!("{} has a `range` but is no quantity", fields.what()),
                    "remove `range`",
                );
            }
            None
        }
    };
    let choices = choices(&mut fields, kind, context);
    let of_the_trouble = fields.flag(keys::OF_THE_TROUBLE);
    let parts = context.parts(&mut fields, keys::PARTS);
    fields.finish();
    Fact {
        id: entry.id().to_owned(),
        name,
        ask,
        find,
        kind,
        unit,
        range,
        choices,
        of_the_trouble,
        parts,
    }
}

fn kind(fields: &mut Fields<'_>, context: Context<'_>) -> ValueKind {
    let text = fields.text(keys::KIND);
    let found = words::fact_kind(text.text);
    if found.is_none() && !text.text.is_empty() {
        context.sink.error(
            Code::UnknownWord,
            text.place.clone(),
            format!("`{}` is no kind of fact", text.text),
            nearest::did_you_mean(
                text.text,
                words::fact_kinds(),
                "use `size`, `choice`, `loads`, `currents` or a quantity",
            ),
        );
    }
    found.unwrap_or(ValueKind::Size)
}

/// The unit of a number typed without one; empty for a count, and for what is no quantity.
fn unit(fields: &mut Fields<'_>, kind: ValueKind, context: Context<'_>) -> String {
    let (ValueKind::Quantity(kind) | ValueKind::Quantities(kind)) = kind else {
        // Not asked for, so that `finish` refuses it.
        return String::new();
    };
    if kind.base_symbol().is_empty() {
        return fields.prose_if(keys::UNIT).unwrap_or_default();
    }
    let text = fields.text(keys::UNIT);
    if !text.text.is_empty()
        && let Err(error) = Quantity::parse(&format!("1 {}", text.text), kind)
    {
        context.sink.error(
            Code::KindMismatch,
            text.place,
            error.to_string(),
            format!(
                "write the unit a technician types most, such as `{}`",
                kind.usual_symbol()
            ),
        );
        return kind.usual_symbol().to_owned();
    }
    text.owned()
}

/// The two ends of a range; nothing when none is written or after a finding.
pub(super) fn range(
    fields: &Fields<'_>,
    key: Key,
    figures: &[Text<'_>],
    kind: Kind,
    symbol: &str,
    context: Context<'_>,
) -> Option<(f64, f64)> {
    let refuse = |message: String, fix: &str| {
        context
            .sink
            .error(Code::BadFigure, fields.place_of(key), message, fix);
    };
    let [low, high] = figures else {
        if !figures.is_empty() {
            refuse(
                format!("`range` has {} figures, expected 2", figures.len()),
                "write the lowest and the highest, such as `[\"0 V\", \"700 V\"]`",
            );
        }
        return None;
    };
    let low_base = figure(low, kind, symbol, context)?;
    let high_base = figure(high, kind, symbol, context)?;
    if low_base >= high_base {
        refuse(
            format!("`{}` is not below `{}`", low.text, high.text),
            "write the lowest first",
        );
        return None;
    }
    Some((low_base, high_base))
}

/// One figure with its unit, in base units.
pub(super) fn figure(text: &Text<'_>, kind: Kind, symbol: &str, context: Context<'_>) -> Option<f64> {
    match Quantity::parse_in(text.text, kind, symbol) {
        Ok(quantity) => Some(quantity.base),
        Err(error) => {
            context.sink.error(
                Code::BadFigure,
                text.place.clone(),
                error.to_string(),
                format!("write {} with its unit", kind.with_article()),
            );
            None
        }
    }
}

fn choices(fields: &mut Fields<'_>, kind: ValueKind, context: Context<'_>) -> Vec<FactChoice> {
    let mut choices: Vec<FactChoice> = Vec::new();
    let written = fields.items(keys::CHOICES, "a list of tables");
    let refuse = |code: Code, what: &str, fix: &str| {
        let message = format!("{} {what}", fields.what());
        context
            .sink
            .error(code, fields.place_of(keys::CHOICES), message, fix);
    };
    match (kind == ValueKind::Choice, written.len() == 0) {
        _ if fields.broken() => {}
        (true, true) => refuse(
            Code::MissingKey,
            "has no `choices`",
            "add `choices = [{ id = \"...\", label = \"...\" }]`",
        ),
        (false, false) => refuse(
            Code::UnknownKey,
            "has `choices` but its kind is not `choice`",
            "remove `choices`",
        ),
        _ => {}
    }
    for value in written {
        let mut inner = fields.inner("a choice".to_owned(), value);
        let id = inner.text(choice::ID);
        let label = inner.prose(choice::LABEL);
        let fit = context.fit(&mut inner, [choice::PARTS, choice::WITHOUT]);
        inner.finish();
        if !id.text.is_empty() {
            check_id(id.text, id.place.clone(), context.sink);
        }
        if choices.iter().any(|choice| choice.id == id.text) {
            context.sink.error(
                Code::DuplicateId,
                id.place.clone(),
                format!("choice `{}` stands twice", id.text),
                "give one of them another id, or remove it",
            );
        }
        choices.push(FactChoice {
            id: id.owned(),
            label,
            fit,
        });
    }
    choices
}
