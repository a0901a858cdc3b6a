//! What entries of every sort are compared by.

use std::collections::BTreeMap;

use crate::knowledge::cited::{LookedUp, Source};
use crate::knowledge::indexed::{Indexed, Ordinal};
use crate::knowledge::lookup::Named;
use crate::quantity::Word;

use super::change::{Change, Sort};

/// The ids of some entries of a list, as written in the files.
pub(super) fn ids<I: Ordinal, T: Named>(of: &Indexed<I, T>, named: &[I]) -> String {
    let ids: Vec<&str> = named.iter().map(|index| of[*index].id()).collect();
    ids.join(", ")
}

/// The words of the sources alone.
pub(super) fn texts(sources: &[Source]) -> Vec<&str> {
    sources.iter().map(|source| source.text.as_str()).collect()
}

/// What looking the sources up showed, counted: "2 supports, 1 not-yet".
pub(super) fn looked_up(sources: &[Source]) -> String {
    let counted = LookedUp::ALL.iter().filter_map(|result| {
        let number = sources
            .iter()
            .filter(|source| source.looked_up == *result)
            .count();
        (number > 0).then(|| format!("{number} {}", result.word()))
    });
    counted.collect::<Vec<_>>().join(", ")
}

/// Pairs two lists by id: what is gone, what is new, and what is in both to be looked at closer.
pub(super) fn lists<'k, T: Named>(
    sort: Sort,
    within: Option<&str>,
    before: &'k [T],
    after: &'k [T],
    changes: &mut Vec<Change>,
    mut both: impl FnMut(&'k T, &'k T, &mut Vec<Change>),
) {
    let id = |entry: &T| {
        within.map_or_else(
            || entry.id().to_owned(),
            |outer| format!("{outer}/{}", entry.id()),
        )
    };
    let find = |list: &'k [T], id: &str| list.iter().find(|other| other.id() == id);
    for old in before.iter().filter(|old| find(after, old.id()).is_none()) {
        changes.push(Change::Removed { sort, id: id(old) });
    }
    for new in after {
        match find(before, new.id()) {
            Some(old) => both(old, new, changes),
            None => changes.push(Change::Added { sort, id: id(new) }),
        }
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
