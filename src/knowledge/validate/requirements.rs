//! Requirements: what a repair must come to, in figures.

use crate::knowledge::document::Entry;
use crate::knowledge::model::Requirement;

use super::context::Context;
use super::inputs;
use crate::knowledge::fields::keys::requirement as keys;

pub(super) fn requirements(entries: &[Entry<'_>], context: Context<'_>) -> Vec<Requirement> {
    entries.iter().map(|entry| requirement(entry, context)).collect()
}

fn requirement<'c>(entry: &Entry<'c>, context: Context<'c>) -> Requirement {
    let mut fields = context.fields("requirement", entry);
    let name = fields.prose(keys::NAME);
    let job = fields.word(keys::JOB);
    let parts = context.parts(&mut fields, keys::PARTS);
    let (calculation, inputs) = inputs::calculation(&mut fields, [keys::CALCULATION, keys::INPUTS], context);
    let says = fields.text(keys::SAYS);
    fields.finish();
    inputs::check_placeholders(&says, Some(&calculation), context);
    Requirement {
        id: entry.id().to_owned(),
        name,
        job,
        parts,
        calculation,
        inputs,
        says: says.owned(),
    }
}
