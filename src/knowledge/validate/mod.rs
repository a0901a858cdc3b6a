//! Makes the valid form out of the files, collecting every finding on the way.
//!
//! Two passes: the first lists the ids of everything, the second reads each entry with all ids known. An entry
//! with a fault still takes its place in the list, so that one fault is reported once and not again at every
//! mention of the entry. The result may be used only when no finding is an error; [`super::load`] sees to it.

mod causes;
mod commonness;
mod context;
mod effects;
mod exposures;
mod facts;
mod holds;
mod inputs;
mod outcomes;
mod requirements;
pub(super) mod routes;
mod sources;
pub(super) mod tests;
pub(super) mod words;

use context::{Context, Ids};

use crate::standards::calculation::Calculation;

use super::document::{Documents, Entry, Section};
use super::finding::{Code, Finding};
use super::model::Knowledge;

/// Makes the valid form; it is whole only when no finding is an error.
pub(super) fn validate<'d>(
    documents: &'d Documents<'d>,
    catalog: &'static [Calculation],
    findings: &mut Vec<Finding>,
) -> Knowledge {
    let equipment_entries = documents.entries(Section::Equipment, findings);
    let accessory_entries = documents.entries(Section::Accessory, findings);
    let fact_entries = documents.entries(Section::Fact, findings);
    let requirement_entries = documents.entries(Section::Requirement, findings);
    let hold_entries = documents.entries(Section::Hold, findings);
    let effect_entries = documents.entries(Section::Effect, findings);
    let family_entries = documents.entries(Section::Family, findings);
    let cause_entries = documents.entries(Section::Cause, findings);
    let test_entries = documents.entries(Section::Test, findings);
    let tree_files = routes::files(documents, findings);

    let mut equipment = facts::equipment(&equipment_entries, documents, findings);
    let accessories = facts::accessories(&accessory_entries, documents, &mut equipment, findings);
    let mut parts: Vec<&str> = equipment
        .iter()
        .flat_map(|e| e.parts.iter().map(String::as_str))
        .chain(accessories.iter().map(|accessory| accessory.id.as_str()))
        .collect();
    parts.sort_unstable();
    parts.dedup();
    let context = Context {
        parts: Ids::new("part", Code::UnknownPart, parts),
        facts: Ids::new("fact", Code::UnknownFact, fact_entries.iter().map(Entry::id)),
        requirements: Ids::new(
            "requirement",
            Code::UnknownRequirement,
            requirement_entries.iter().map(Entry::id),
        ),
        holds: Ids::new("hold", Code::UnknownHold, hold_entries.iter().map(Entry::id)),
        effects: Ids::new(
            "effect",
            Code::UnknownEffect,
            effect_entries.iter().map(Entry::id),
        ),
        families: Ids::new(
            "family",
            Code::UnknownFamily,
            family_entries.iter().map(Entry::id),
        ),
        causes: Ids::new("cause", Code::UnknownCause, cause_entries.iter().map(Entry::id)),
        tests: Ids::new("test", Code::UnknownTest, test_entries.iter().map(Entry::id)),
        trees: Ids::new("tree", Code::UnknownTree, tree_files.iter().map(|tree| tree.id)),
        catalog,
        documents,
    };
    let facts = facts::facts(&fact_entries, &context, findings);
    let (effects, states) = effects::effects(&effect_entries, &context, findings);
    let families = effects::families(&family_entries, &effects, &states, &context, findings);
    let said = causes::Said {
        effects: &effects,
        families: &families,
        states: &states,
    };
    let causes = causes::causes(&cause_entries, said, &context, findings);
    let measured = tests::all_measured(&test_entries);
    let requirements =
        requirements::requirements(&requirement_entries, &facts, &measured, &context, findings);
    let tests = tests::tests(&test_entries, &facts, &states, &context, findings);
    let holds = holds::holds(&hold_entries, &tests, &context, findings);
    let trees = routes::trees(&tree_files, &tests, &context, findings);
    drop(context);
    Knowledge {
        equipment: equipment.into(),
        accessories,
        facts: facts.into(),
        requirements: requirements.into(),
        holds: holds.into(),
        effects: effects.into(),
        families: families.into(),
        causes: causes.into(),
        tests,
        trees: trees.into(),
        fingerprint: documents.files.fingerprint(),
    }
}
