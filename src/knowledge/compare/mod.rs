//! What one knowledge changes against another, in the terms an author thinks in.

mod change;
mod entries;
mod of_effects;
mod of_tests;
mod of_trees;
mod pieces;

use super::lookup::Named;
use super::model::Knowledge;

pub use change::{Change, Sort};
use entries::Told;
use pieces::lists;

/// Every difference, in the order of the files.
#[must_use]
pub fn changes(before: &Knowledge, after: &Knowledge) -> Vec<Change> {
    let both = (before, after);
    let mut all = Vec::new();
    let changes = &mut all;
    told(both, |all| &all.equipment, &entries::EQUIPMENT, changes);
    told(both, |all| &all.accessories, &entries::ACCESSORY, changes);
    told(both, |all| &all.facts, &entries::FACT, changes);
    told(both, |all| &all.requirements, &entries::REQUIREMENT, changes);
    told(both, |all| &all.holds, &entries::HOLD, changes);
    lists(
        Sort::Effect,
        None,
        &before.effects,
        &after.effects,
        changes,
        |old, new, changes| {
            of_effects::effect((before, old), (after, new), changes);
        },
    );
    lists(
        Sort::Family,
        None,
        &before.families,
        &after.families,
        changes,
        |old, new, changes| {
            of_effects::does(
                Sort::Family,
                &new.id,
                (before, &old.does),
                (after, &new.does),
                changes,
            );
        },
    );
    lists(
        Sort::Cause,
        None,
        &before.causes,
        &after.causes,
        changes,
        |old, new, changes| {
            entries::CAUSE.differences((before, old), (after, new), changes);
            of_effects::does(
                Sort::Cause,
                &new.id,
                (before, &old.does),
                (after, &new.does),
                changes,
            );
        },
    );
    lists(
        Sort::Test,
        None,
        &before.tests,
        &after.tests,
        changes,
        |old, new, changes| {
            entries::TEST.differences((before, old), (after, new), changes);
            of_tests::outcomes((before, old), (after, new), changes);
        },
    );
    lists(
        Sort::Tree,
        None,
        &before.trees,
        &after.trees,
        changes,
        |old, new, changes| {
            entries::TREE.differences((before, old), (after, new), changes);
            of_trees::nodes((before, old), (after, new), changes);
        },
    );
    all
}

/// Compares two lists of entries that are told by their keys alone.
fn told<T: Named>(
    (before, after): (&Knowledge, &Knowledge),
    list: impl Fn(&Knowledge) -> &[T],
    told: &Told<T>,
    changes: &mut Vec<Change>,
) {
    lists(
        told.sort,
        None,
        list(before),
        list(after),
        changes,
        |old, new, changes| {
            told.differences((before, old), (after, new), changes);
        },
    );
}
