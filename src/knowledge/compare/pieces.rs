//! What entries of every sort are compared by.

use std::collections::BTreeMap;

use serde::Serialize;
use serde_json::Value as Json;

use crate::knowledge::cited::{LookedUp, Source};
use crate::knowledge::model::{InputFrom, Knowledge};

use super::change::{Change, Sort};

/// Where the inputs of a calculation come from, as written in the files.
pub(super) fn inputs_text(knowledge: &Knowledge, inputs: &indexmap::IndexMap<String, InputFrom>) -> String {
    let from = |from: &InputFrom| match from {
        InputFrom::Fact(fact) => format!("fact:{}", knowledge.facts[*fact].id),
        InputFrom::Reading(test) => format!("test:{}", knowledge.tests[*test].id),
        InputFrom::Fixed(value) => format!("fixed:{value}"),
    };
    let texts: Vec<String> = inputs
        .iter()
        .map(|(input, source)| format!("{input} = {}", from(source)))
        .collect();
    texts.join(", ")
}

/// A word of the format, as written in the files.
pub(super) fn written(word: &impl Serialize) -> String {
    let word = serde_json::to_value(word).ok();
    word.as_ref()
        .and_then(Json::as_str)
        .unwrap_or_default()
        .to_owned()
}

/// The words of the sources alone.
pub(super) fn texts(sources: &[Source]) -> Vec<&str> {
    sources.iter().map(|source| source.text.as_str()).collect()
}

/// What looking the sources up showed, counted: "2 supports, 1 not-yet".
pub(super) fn looked_up(sources: &[Source]) -> String {
    let counted = LookedUp::ALL.into_iter().filter_map(|result| {
        let number = sources.iter().filter(|source| source.looked_up == result).count();
        (number > 0).then(|| format!("{number} {}", result.as_written()))
    });
    counted.collect::<Vec<_>>().join(", ")
}

pub(super) fn setting(
    sort: Sort,
    id: &str,
    key: &'static str,
    from: &str,
    to: &str,
    changes: &mut Vec<Change>,
) {
    if from != to {
        changes.push(Change::Setting {
            sort,
            id: id.to_owned(),
            key,
            from: from.to_owned(),
            to: to.to_owned(),
        });
    }
}

pub(super) fn reworded(sort: Sort, id: &str, is_so: bool, changes: &mut Vec<Change>) {
    if is_so {
        changes.push(Change::Reworded {
            sort,
            id: id.to_owned(),
        });
    }
}

/// Keys with another value, with what they had and have.
pub(super) fn differences(
    before: &BTreeMap<String, String>,
    after: &BTreeMap<String, String>,
) -> Vec<(String, Option<String>, Option<String>)> {
    let gone = before.iter().filter_map(|(key, from)| match after.get(key) {
        Some(to) if to == from => None,
        to => Some((key.clone(), Some(from.clone()), to.cloned())),
    });
    let new = after
        .iter()
        .filter(|(key, _)| !before.contains_key(*key))
        .map(|(key, to)| (key.clone(), None, Some(to.clone())));
    gone.chain(new).collect()
}
