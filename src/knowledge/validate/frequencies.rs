//! How common each cause is behind a complaint: the `[frequency]` table of the complaint's tree.
//!
//! It stands with the complaint and not with the cause, because a frequency means something only beside those of
//! the rival causes, and because a new complaint then needs no change in the file of every cause.

use indexmap::IndexMap;

use crate::knowledge::document::type_name;
use crate::knowledge::fields::{Fields, Text, pairs_of, word_of};
use crate::knowledge::finding::{Code, Finding, Place};
use crate::knowledge::model::{Cause, Commonness};
use crate::knowledge::raw::{Placed, Raw};

use super::routes::TreeFile;
use super::{Context, words};

/// Gives every cause its frequencies.
pub(super) fn read(
    files: &[TreeFile<'_>],
    context: &Context<'_>,
    causes: &mut [Cause],
    findings: &mut Vec<Finding>,
) {
    for tree in files {
        let document = &context.documents.list[tree.file];
        let Some((key, value)) = document.root.get_key_value("frequency") else {
            continue;
        };
        let place = Place {
            file: tree.file,
            span: key.span(),
        };
        if !tree.is_complaint {
            findings.push(Finding::error(
                Code::MisplacedFrequency,
                place,
                format!(
                    "tree `{}` is shared, it is no complaint with frequencies",
                    tree.id
                ),
                "move `[frequency]` to the complaints that lead here, or give the tree a `complaint`",
            ));
            continue;
        }
        let Some(table) = value.get_ref().as_table() else {
            findings.push(Finding::error(
                Code::WrongType,
                place,
                format!("`frequency` is {}, expected a table", type_name(value.get_ref())),
                "write `[frequency]`, and a line `cause-id = \"common\"` for each cause",
            ));
            continue;
        };
        for (id, value) in pairs_of(tree.file, table) {
            let found = context.causes.find(&id, findings);
            let listed = commonness(tree.file, &id, value, context, findings);
            if let (Some(cause), Some(listed)) = (found, listed) {
                causes[cause].frequency.insert(tree.id.to_owned(), listed);
            }
        }
    }
}

/// One line: a word, or a table with `usual` and words by part.
pub(super) fn commonness(
    file: usize,
    id: &Text<'_>,
    value: &Placed<Raw<'_>>,
    context: &Context<'_>,
    findings: &mut Vec<Finding>,
) -> Option<Commonness> {
    let place = Place {
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
    let what = format!("frequency of `{}`", id.text);
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
