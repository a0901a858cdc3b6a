//! Sources of causes and tests: a text, or a table with the text and what looking it up showed.

use crate::knowledge::cited::Source;
use crate::knowledge::fields::{Fields, Key};
use crate::knowledge::raw::Raw;

use crate::knowledge::fields::keys::source as keys;

pub(super) fn sources(fields: &mut Fields<'_>, key: Key) -> Vec<Source> {
    let items = fields.items(key, "a list in square brackets");
    let sources = items.filter_map(|item| match item.get_ref() {
        Raw::Text(text) => Some(Source::plain(text)),
        Raw::Table(_) => {
            let mut inner = fields.inner("a source".to_owned(), item);
            let source = Source {
                text: inner.prose(keys::TEXT),
                looked_up: inner.word(keys::LOOKED_UP),
            };
            inner.finish();
            Some(source)
        }
        _ => {
            let expected = "a text in double quotes, or a table with `text` and `looked-up`";
            fields.wrong(key.name, item, expected);
            None
        }
    });
    sources.collect()
}
