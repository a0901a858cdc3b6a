//! What one knowledge changes against another, in the terms an author thinks in.

mod change;
mod entries;
mod of_effects;
mod of_tests;
mod of_trees;

use std::collections::BTreeMap;

use super::cited::{LookedUp, Source};
use super::model::{InputFrom, Knowledge};

pub use change::{Change, Sort};

/// Every difference, in the order of the files.
#[must_use]
pub fn changes(before: &Knowledge, after: &Knowledge) -> Vec<Change> {
    let mut changes = Vec::new();
    lists(
        Sort::Equipment,
        &before.equipment,
        &after.equipment,
        |one| &one.id,
        &mut changes,
        entries::equipment,
    );
    lists(
        Sort::Accessory,
        &before.accessories,
        &after.accessories,
        |one| &one.id,
        &mut changes,
        entries::accessory,
    );
    lists(
        Sort::Fact,
        &before.facts,
        &after.facts,
        |one| &one.id,
        &mut changes,
        entries::fact,
    );
    lists(
        Sort::Requirement,
        &before.requirements,
        &after.requirements,
        |one| &one.id,
        &mut changes,
        |old, new, changes| {
            entries::requirement((before, old), (after, new), changes);
        },
    );
    lists(
        Sort::Hold,
        &before.holds,
        &after.holds,
        |one| &one.id,
        &mut changes,
        |old, new, changes| entries::hold((before, old), (after, new), changes),
    );
    lists(
        Sort::Effect,
        &before.effects,
        &after.effects,
        |one| &one.id,
        &mut changes,
        |old, new, changes| of_effects::effect((before, old), (after, new), changes),
    );
    lists(
        Sort::Family,
        &before.families,
        &after.families,
        |one| &one.id,
        &mut changes,
        |old, new, changes| {
            let own = (&old.does, &new.does);
            of_effects::does(Sort::Family, &new.id, (before, own.0), (after, own.1), changes);
        },
    );
    lists(
        Sort::Cause,
        &before.causes,
        &after.causes,
        |one| &one.id,
        &mut changes,
        |old, new, changes| {
            entries::cause((before, old), (after, new), changes);
        },
    );
    lists(
        Sort::Test,
        &before.tests,
        &after.tests,
        |one| &one.id,
        &mut changes,
        |old, new, changes| {
            of_tests::test((before, old), (after, new), changes);
        },
    );
    lists(
        Sort::Tree,
        &before.trees,
        &after.trees,
        |one| &one.id,
        &mut changes,
        |old, new, changes| {
            of_trees::tree((before, old), (after, new), changes);
        },
    );
    changes
}

/// Pairs two lists by id: what is new, what is gone, and what is in both to be looked at closer.
fn lists<'k, T>(
    sort: Sort,
    before: &'k [T],
    after: &'k [T],
    id: impl Fn(&T) -> &String,
    changes: &mut Vec<Change>,
    mut both: impl FnMut(&'k T, &'k T, &mut Vec<Change>),
) {
    for old in before {
        if after.iter().all(|other| id(other) != id(old)) {
            changes.push(Change::Removed {
                sort,
                id: id(old).clone(),
            });
        }
    }
    for new in after {
        match before.iter().find(|other| id(other) == id(new)) {
            Some(old) => both(old, new, changes),
            None => changes.push(Change::Added {
                sort,
                id: id(new).clone(),
            }),
        }
    }
}

/// Where the inputs of a calculation come from, as written in the files.
fn inputs_text(knowledge: &Knowledge, inputs: &indexmap::IndexMap<String, InputFrom>) -> String {
    let from = |from: &InputFrom| match from {
        InputFrom::Fact(fact) => format!("fact:{}", knowledge.facts[fact.0].id),
        InputFrom::Reading(test) => format!("test:{}", knowledge.tests[test.0].id),
        InputFrom::Fixed(value) => format!("fixed:{value}"),
    };
    let texts: Vec<String> = inputs
        .iter()
        .map(|(input, source)| format!("{input} = {}", from(source)))
        .collect();
    texts.join(", ")
}

/// The words of the sources alone.
fn texts(sources: &[Source]) -> Vec<&str> {
    sources.iter().map(|source| source.text.as_str()).collect()
}

/// What looking the sources up showed, counted: "2 supports, 1 not-yet".
fn looked_up(sources: &[Source]) -> String {
    let counted = LookedUp::ALL.into_iter().filter_map(|result| {
        let number = sources.iter().filter(|source| source.looked_up == result).count();
        (number > 0).then(|| format!("{number} {}", result.as_written()))
    });
    counted.collect::<Vec<_>>().join(", ")
}

fn setting(sort: Sort, id: &str, key: &'static str, from: &str, to: &str, changes: &mut Vec<Change>) {
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

fn reworded(sort: Sort, id: &str, is_so: bool, changes: &mut Vec<Change>) {
    if is_so {
        changes.push(Change::Reworded {
            sort,
            id: id.to_owned(),
        });
    }
}

/// Keys with another value, with what they had and have.
fn differences(
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
