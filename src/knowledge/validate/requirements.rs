//! Requirements: what a repair must come to, in figures.

use crate::knowledge::document::Entry;
use crate::knowledge::fields::Fields;
use crate::knowledge::finding::Finding;
use crate::knowledge::model::{Fact, Requirement, RequirementIndex};

use super::context::{Context, Measured};
use super::{inputs, words};

pub(super) fn requirements(
    entries: &[Entry<'_>],
    facts: &[Fact],
    measured: &Measured,
    context: &Context<'_>,
    findings: &mut Vec<Finding>,
) -> Vec<Requirement> {
    entries
        .iter()
        .map(|entry| {
            let what = format!("requirement `{}`", entry.id());
            let broken = context.is_broken(entry);
            let mut fields = Fields::new(what, entry.place(), entry.value, broken, findings);
            let name = fields.prose("name", findings);
            let job = fields.word("job", words::JOBS, findings);
            let parts = fields.texts("parts", findings);
            let (calculation, inputs) = inputs::calculation(&mut fields, facts, measured, context, findings);
            let says = fields.text("says", findings);
            fields.finish(findings);
            inputs::check_placeholders(&says, Some(&calculation), context, findings);
            Requirement {
                id: entry.id().to_owned(),
                name,
                job,
                parts: context.parts(&parts, findings),
                calculation,
                inputs,
                says: says.text.to_owned(),
            }
        })
        .collect()
}

/// The requirements an entry names under `requires`.
pub(super) fn named(
    fields: &mut Fields<'_>,
    context: &Context<'_>,
    findings: &mut Vec<Finding>,
) -> Vec<RequirementIndex> {
    fields
        .texts("requires", findings)
        .iter()
        .filter_map(|id| context.requirements.find(id, findings))
        .map(RequirementIndex)
        .collect()
}
