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
    told(both, &entries::EQUIPMENT, no_more, changes);
    told(both, &entries::ACCESSORY, no_more, changes);
    told(both, &entries::FACT, no_more, changes);
    told(both, &entries::REQUIREMENT, no_more, changes);
    told(both, &entries::HOLD, no_more, changes);
    told(both, &entries::EFFECT, of_effects::effect, changes);
    told(both, &entries::FAMILY, of_effects::family, changes);
    told(both, &entries::CAUSE, of_effects::cause, changes);
    told(both, &entries::TEST, of_tests::outcomes, changes);
    told(both, &entries::TREE, of_trees::nodes, changes);
    all
}

/// An entry with the knowledge it stands in.
type In<'k, T> = (&'k Knowledge, &'k T);

/// Compares two lists of entries by their keys, and by what is more to them.
fn told<T: Named>(
    (before, after): (&Knowledge, &Knowledge),
    told: &Told<T>,
    more: fn(In<'_, T>, In<'_, T>, &mut Vec<Change>),
    changes: &mut Vec<Change>,
) {
    let (old, new) = ((told.list)(before), (told.list)(after));
    lists(told.sort, None, old, new, changes, |old, new, changes| {
        told.differences((before, old), (after, new), changes);
        more((before, old), (after, new), changes);
    });
}

/// Of an entry that its keys tell whole.
fn no_more<T>(_: In<'_, T>, _: In<'_, T>, _: &mut Vec<Change>) {}
