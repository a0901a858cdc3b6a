//! Causes.

use crate::knowledge::document::Entry;
use crate::knowledge::fields::Fields;
use crate::knowledge::finding::{Finding, Stretch};
use crate::knowledge::model::{Cause, Effect, Family, Prevention};

use super::context::Context;
use super::effects::{self, States};
use super::{exposures, requirements, sources, words};

/// What causes may speak of.
#[derive(Clone, Copy)]
pub(super) struct Said<'s, 'd> {
    pub(super) effects: &'s [Effect],
    pub(super) families: &'s [Family],
    pub(super) states: &'s States<'d>,
}

pub(super) fn causes(
    entries: &[Entry<'_>],
    said: Said<'_, '_>,
    context: &Context<'_>,
    findings: &mut Vec<Finding>,
) -> Vec<Cause> {
    entries
        .iter()
        .map(|entry| cause(entry, said, context, findings))
        .collect()
}

fn cause(entry: &Entry<'_>, said: Said<'_, '_>, context: &Context<'_>, findings: &mut Vec<Finding>) -> Cause {
    let what = format!("cause `{}`", entry.id());
    let broken = context.is_broken(entry);
    let mut fields = Fields::new(what, entry.place(), entry.value, broken, findings);
    let name = fields.prose("name", findings);
    let place = fields.word("place", words::PLACES, findings);
    let job = fields.word("job", words::JOBS, findings);
    let parts = fields.texts("parts", findings);
    let mechanism = fields.prose("mechanism", findings);
    let remedy = fields.prose("remedy", findings);
    let proof = fields.prose("proof", findings);
    let caution = fields.prose("caution", findings);
    let caution = exposures::with_caution(caution, &mut fields, findings);
    let repair_minutes = fields.number_if("repair-minutes", 1.0, 10_000.0, findings);
    let requires = requirements::named(&mut fields, context, findings);
    let mut prevent = Vec::new();
    for value in fields.tables("prevent", findings) {
        let place = Stretch {
            file: entry.file,
            span: value.span(),
        };
        let mut inner = Fields::new(
            "an advice of `prevent`".to_owned(),
            place,
            value,
            broken,
            findings,
        );
        let text = inner.prose("text", findings);
        let rule = inner.text_if("rule", findings).map(|rule| rule.text.to_owned());
        inner.finish(findings);
        prevent.push(Prevention { text, rule });
    }
    let of_effects = effects::of_cause(
        &mut fields,
        entry.file,
        said.effects,
        said.families,
        said.states,
        context,
        findings,
    );
    let source = sources::sources(&mut fields, findings);
    fields.finish(findings);
    Cause {
        id: entry.id().to_owned(),
        name,
        place,
        job,
        parts: context.parts(&parts, findings),
        base: of_effects.base,
        family: of_effects.family,
        does: of_effects.does,
        mechanism,
        remedy,
        proof,
        caution,
        repair_minutes,
        requires,
        prevent,
        source,
    }
}
