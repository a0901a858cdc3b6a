//! The entry of a family: what its causes have in common.

use crate::drawing::words;
use crate::knowledge::model::{FamilyIndex, Knowledge};
use crate::knowledge::render::count;

use super::markup;

/// Writes the entry.
pub(super) fn write(page: &mut String, knowledge: &Knowledge, index: FamilyIndex) {
    let family = &knowledge.families[index];
    let causes: Vec<String> = knowledge
        .causes
        .iter()
        .filter(|cause| cause.family == Some(index))
        .map(|cause| markup::link("cause", &cause.id, &cause.name))
        .collect();
    markup::open(
        page,
        &format!("family-{}", family.id),
        &words::spoken(&family.id),
        false,
        &count(causes.len(), "cause"),
    );
    let said = family.does.iter().map(|does| markup::does(knowledge, does));
    let heading = "What its causes do, where they say nothing else";
    markup::list(page, heading, markup::List::Links, said);
    markup::links(page, "Its causes", causes);
    markup::foot(page, &family.id, &[]);
    markup::close(page);
}
