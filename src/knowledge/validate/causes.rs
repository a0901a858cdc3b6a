//! Causes.

use indexmap::IndexMap;

use crate::knowledge::document::Entry;
use crate::knowledge::fields::{Fields, Text, word_of};
use crate::knowledge::finding::Code;
use crate::knowledge::model::{Cause, Commonness, Does, Frequency, Prevention};
use crate::knowledge::raw::Raw;
use crate::quantity::Word;

use super::context::Context;
use super::{cautions::with_exposures, effects, sources};
use crate::knowledge::fields::keys::{advice, base, cause as keys};

pub(super) fn causes(entries: &[Entry<'_>], context: Context<'_>) -> Vec<Cause> {
    entries.iter().map(|entry| cause(entry, context)).collect()
}

fn cause<'c>(entry: &Entry<'c>, context: Context<'c>) -> Cause {
    let mut fields = context.fields("cause", entry);
    let name = fields.prose(keys::NAME);
    let place = fields.word(keys::PLACE);
    let job = fields.word(keys::JOB);
    let parts = context.parts(&mut fields, keys::PARTS);
    let base = commonness(&mut fields, context);
    let family = fields
        .text_if(keys::FAMILY)
        .and_then(|name| context.find(&context.family_ids, &name));
    let mut does = effects::does(&mut fields, keys::DOES, context);
    for common in family.iter().flat_map(|family| &context.families[*family].does) {
        if !does.iter().any(|own| own.effect == common.effect) {
            does.push(Does {
                from_family: true,
                ..common.clone()
            });
        }
    }
    let cause = Cause {
        id: entry.id().to_owned(),
        name,
        place,
        job,
        parts,
        base,
        family,
        does,
        mechanism: fields.prose(keys::MECHANISM),
        remedy: fields.prose(keys::REMEDY),
        proof: fields.prose(keys::PROOF),
        caution: with_exposures(fields.prose(keys::CAUTION), &mut fields, keys::EXPOSES),
        repair_minutes: fields.number_if(keys::REPAIR_MINUTES),
        requires: context.all(&context.requirements, &mut fields, keys::REQUIRES),
        why_first: context.all(&context.test_ids, &mut fields, keys::WHY_FIRST),
        prevent: prevent(&mut fields),
        formerly: formerly(&mut fields, context),
        source: sources::sources(&mut fields, keys::SOURCE),
    };
    fields.finish();
    cause
}

/// Earlier ids, none of which may be that of a cause there is: a kept case would then mean two.
fn formerly(fields: &mut Fields<'_>, context: Context<'_>) -> Vec<String> {
    let ids = fields.texts(keys::FORMERLY);
    for id in ids.iter().filter(|id| context.causes.has(id.text)) {
        context.sink.error(
            Code::DuplicateId,
            id.place.clone(),
            format!("`{}` is the id of a cause there is", id.text),
            "leave out what is no earlier id",
        );
    }
    ids.iter().map(Text::owned).collect()
}

fn prevent(fields: &mut Fields<'_>) -> Vec<Prevention> {
    let items = fields.items(keys::PREVENT, "a list of tables");
    let advices = items.map(|value| {
        let mut inner = fields.inner("an advice of `prevent`".to_owned(), value);
        let advice = Prevention {
            text: inner.prose(advice::TEXT),
            rule: inner.prose_if(advice::RULE),
        };
        inner.finish();
        advice
    });
    advices.collect()
}

/// How common a cause is: a word, or a table with `usual` and words by part.
fn commonness(fields: &mut Fields<'_>, context: Context<'_>) -> Option<Commonness> {
    let frequency = |text: &Text<'_>| word_of::<Frequency>("frequency", text, Frequency::ALL, context.sink);
    let value = fields.value(keys::BASE)?;
    if let Raw::Text(text) = value.get_ref() {
        let place = fields.at(value);
        return Some(Commonness {
            usual: frequency(&Text { text, place })?,
            with: IndexMap::new(),
        });
    }
    let mut inner = fields.inner("`base`".to_owned(), value);
    let usual = inner.word(base::USUAL);
    let mut with = IndexMap::new();
    for (part, word) in inner.text_pairs(base::WITH) {
        let known = context.find(&context.parts, &part).is_some();
        if let Some(word) = frequency(&word).filter(|_| known) {
            with.insert(part.owned(), word);
        }
    }
    inner.finish();
    Some(Commonness { usual, with })
}
