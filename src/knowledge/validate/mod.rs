//! Makes the valid form out of the files, collecting every finding on the way.
//!
//! Two passes: the first lists the ids of everything, the second reads each entry with all ids known. An entry
//! with a fault still takes its place in the list, so that one fault is reported once and not again at every
//! mention of the entry. The result may be used only when no finding is an error; [`super::load`] sees to it.

mod causes;
mod commonness;
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

use rustc_hash::FxHashMap;

use crate::standards::registry::Calculation;

use super::document::{Documents, Entry, Section};
use super::fields::{Fields, Text};
use super::finding::{Code, Finding};
use super::model::{Equipment, Fit, Knowledge};
use super::nearest;

/// The ids of one section and their places in the list.
struct Ids<'d> {
    places: FxHashMap<&'d str, usize>,
    /// What one of them is, for messages.
    noun: &'static str,
    code: Code,
}

impl<'d> Ids<'d> {
    fn new(noun: &'static str, code: Code, ids: impl IntoIterator<Item = &'d str>) -> Self {
        let places = ids
            .into_iter()
            .enumerate()
            .map(|(place, id)| (id, place))
            .collect();
        Self { places, noun, code }
    }

    fn find(&self, text: &Text<'_>, findings: &mut Vec<Finding>) -> Option<usize> {
        let found = self.places.get(text.text).copied();
        if found.is_none() {
            let noun = self.noun;
            findings.push(Finding::error(
                self.code,
                text.place.clone(),
                format!("no {noun} `{}`", text.text),
                nearest::did_you_mean_after(
                    findings.len(),
                    text.text,
                    self.places.keys().copied(),
                    &format!("write that {noun}, or use the id of one there is"),
                ),
            ));
        }
        found
    }
}

/// Everything the second pass looks ids up in.
struct Context<'d> {
    parts: Ids<'d>,
    facts: Ids<'d>,
    requirements: Ids<'d>,
    holds: Ids<'d>,
    effects: Ids<'d>,
    families: Ids<'d>,
    causes: Ids<'d>,
    tests: Ids<'d>,
    trees: Ids<'d>,
    catalog: &'static [Calculation],
    documents: &'d Documents<'d>,
}

impl Context<'_> {
    fn parts(&self, texts: &[Text<'_>], findings: &mut Vec<Finding>) -> Vec<String> {
        texts
            .iter()
            .filter(|text| self.parts.find(text, findings).is_some())
            .map(|text| text.text.to_owned())
            .collect()
    }

    /// The keys `parts` and `without`: the equipment something is offered for.
    fn fit(&self, fields: &mut Fields<'_>, findings: &mut Vec<Finding>) -> Fit {
        let parts = fields.texts("parts", findings);
        let without = fields.texts("without", findings);
        Fit {
            parts: self.parts(&parts, findings),
            without: self.parts(&without, findings),
        }
    }

    fn is_broken(&self, entry: &Entry<'_>) -> bool {
        self.documents.list[entry.file].broken
    }
}

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
    let equipment: Vec<Equipment> = equipment;
    Knowledge {
        equipment,
        accessories,
        facts,
        requirements,
        holds,
        effects,
        families,
        causes,
        tests,
        trees,
        fingerprint: documents.files.fingerprint(),
    }
}
