//! Sources of causes and tests: a text, or a table with the text and what looking it up showed.

use crate::knowledge::cited::Source;
use crate::knowledge::fields::Fields;
use crate::knowledge::finding::Finding;
use crate::knowledge::raw::Raw;

use super::words;

pub(super) fn sources(fields: &mut Fields<'_>, findings: &mut Vec<Finding>) -> Vec<Source> {
    let mut sources = Vec::new();
    for item in fields.list("source", findings) {
        match item.get_ref() {
            Raw::Text(text) => sources.push(Source::plain(text)),
            Raw::Table(_) => {
                let place = fields.place_in_file(item);
                let mut inner = Fields::new("a source".to_owned(), place, item, fields.broken(), findings);
                let text = inner.prose("text", findings);
                let looked_up = inner.word("looked-up", words::LOOKED_UP, findings);
                inner.finish(findings);
                sources.push(Source { text, looked_up });
            }
            _ => fields.wrong(
                "source",
                item,
                "a text in double quotes, or a table with `text` and `looked-up`",
                findings,
            ),
        }
    }
    sources
}
