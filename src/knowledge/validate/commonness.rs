//! How common a cause is behind a callback.

use indexmap::IndexMap;

use crate::knowledge::fields::{Fields, Text, word_of};
use crate::knowledge::finding::{Finding, Stretch};
use crate::knowledge::model::Commonness;
use crate::knowledge::raw::{Placed, Raw};

use super::context::Context;
use super::words;

/// A word, or a table with `usual` and words by part.
pub(super) fn commonness(
    file: usize,
    id: &Text<'_>,
    value: &Placed<Raw<'_>>,
    context: &Context<'_>,
    findings: &mut Vec<Finding>,
) -> Option<Commonness> {
    let place = Stretch {
        file,
        span: value.span(),
    };
    if let Raw::Text(text) = value.get_ref() {
        let text = Text {
            text: text.as_ref(),
            place,
        };
        let usual = word_of("frequency", &text, words::FREQUENCIES, findings)?;
        return Some(Commonness {
            usual,
            with: IndexMap::new(),
        });
    }
    let broken = context.documents.list[file].broken;
    let what = format!("`{}`", id.text);
    let mut fields = Fields::new(what, place, value, broken, findings);
    let usual = fields.word("usual", words::FREQUENCIES, findings);
    let mut with = IndexMap::new();
    for (part, word) in fields.text_pairs("with", findings) {
        let known = context.parts.find(&part, findings).is_some();
        if let Some(word) = word_of("frequency", &word, words::FREQUENCIES, findings).filter(|_| known) {
            with.insert(part.text.to_owned(), word);
        }
    }
    fields.finish(findings);
    Some(Commonness { usual, with })
}
