//! Makes the valid form out of the files, collecting every finding on the way.
//!
//! Two passes: the first lists the ids of everything, the second reads each entry with all ids known. An entry
//! with a fault still takes its place in the list, so that one fault is reported once and not again at every
//! mention of the entry. The result may be used only when no finding is an error; [`super::load`] sees to it.

mod causes;
mod cautions;
mod context;
mod effects;
mod facts;
mod holds;
mod inputs;
mod outcomes;
mod requirements;
pub(super) mod routes;
mod sources;
mod states;
mod tests;
mod whole_test;

use context::{Ids, Known};
use states::States;

use crate::standards::calculation::Calculation;

use super::document::{Documents, Entry, Section};
use super::finding::{Code, Finding, Sink};
use super::indexed::Indexed;
use super::model::Knowledge;

/// Makes the valid form; it is whole only when no finding is an error.
pub(super) fn validate<'d>(
    documents: &'d Documents<'d>,
    catalog: &'static [Calculation],
    findings: &mut Vec<Finding>,
) -> Knowledge {
    let sink = Sink::default();
    let knowledge = read(documents, catalog, &sink);
    findings.append(&mut sink.into_findings());
    knowledge
}

fn read<'d>(documents: &'d Documents<'d>, catalog: &'static [Calculation], sink: &'d Sink) -> Knowledge {
    let of = |section| documents.entries(section, sink);
    let equipment_entries = of(Section::Equipment);
    let accessory_entries = of(Section::Accessory);
    let fact_entries = of(Section::Fact);
    let requirement_entries = of(Section::Requirement);
    let hold_entries = of(Section::Hold);
    let effect_entries = of(Section::Effect);
    let family_entries = of(Section::Family);
    let cause_entries = of(Section::Cause);
    let test_entries = of(Section::Test);
    let tree_files = routes::files(documents, sink);

    let mut equipment = facts::equipment(&equipment_entries, documents, sink);
    let accessories = facts::accessories(&accessory_entries, documents, &mut equipment, sink);
    let mut parts: Vec<&str> = equipment
        .iter()
        .flat_map(|kind| kind.parts.iter().map(String::as_str))
        .chain(accessories.iter().map(|accessory| accessory.id.as_str()))
        .collect();
    parts.sort_unstable();
    parts.dedup();
    let ids = |entries: &[Entry<'d>]| entries.iter().map(Entry::id).collect::<Vec<_>>();
    let mut known = Known {
        catalog,
        documents,
        parts: Ids::new("part", Code::UnknownPart, parts),
        fact_ids: Ids::new("fact", Code::UnknownFact, ids(&fact_entries)),
        requirements: Ids::new("requirement", Code::UnknownRequirement, ids(&requirement_entries)),
        holds: Ids::new("hold", Code::UnknownHold, ids(&hold_entries)),
        effect_ids: Ids::new("effect", Code::UnknownEffect, ids(&effect_entries)),
        family_ids: Ids::new("family", Code::UnknownFamily, ids(&family_entries)),
        causes: Ids::new("cause", Code::UnknownCause, ids(&cause_entries)),
        test_ids: Ids::new("test", Code::UnknownTest, ids(&test_entries)),
        trees: Ids::new("tree", Code::UnknownTree, tree_files.iter().map(|tree| tree.id)),
        measured: tests::all_measured(&test_entries),
        facts: Indexed::default(),
        states: States::default(),
        effects: Indexed::default(),
        families: Indexed::default(),
        tests: Indexed::default(),
    };
    known.facts = facts::facts(&fact_entries, known.with(sink)).into();
    let (mut effects, states) = effects::effects(&effect_entries, known.with(sink));
    known.states = states;
    effects::follow(&effect_entries, &mut effects, known.with(sink));
    known.effects = effects.into();
    known.families = effects::families(&family_entries, known.with(sink)).into();
    let causes = causes::causes(&cause_entries, known.with(sink)).into();
    let requirements = requirements::requirements(&requirement_entries, known.with(sink)).into();
    known.tests = tests::tests(&test_entries, &known, sink);
    let holds = holds::holds(&hold_entries, known.with(sink)).into();
    let trees = routes::trees(&tree_files, known.with(sink)).into();
    let Known {
        facts,
        effects,
        families,
        tests,
        ..
    } = known;
    Knowledge {
        equipment: equipment.into(),
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
