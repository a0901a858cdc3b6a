//! What one knowledge changes against another, in the terms an author thinks in.

mod change;
mod entries;
mod of_effects;
mod of_tests;
mod of_trees;
mod pieces;

use super::model::Knowledge;

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
