//! What one knowledge changes against another, in the terms an author thinks in.

mod entries;
mod of_tests;
mod of_trees;

use std::collections::BTreeMap;

use serde::Serialize;

use super::cited::{LookedUp, Source};
use super::model::{InputFrom, Knowledge};

pub use of_tests::sign_text;

/// A sort of entry.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Sort {
    /// A kind of equipment.
    Equipment,
    /// An accessory.
    Accessory,
    /// A fact.
    Fact,
    /// A requirement.
    Requirement,
    /// A hold.
    Hold,
    /// A cause.
    Cause,
    /// A test.
    Test,
    /// An outcome, as `test/outcome`.
    Outcome,
    /// A tree.
    Tree,
    /// A node, as `tree/node`.
    Node,
}

/// One difference. Nothing stands for "not there".
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case", tag = "change")]
pub enum Change {
    /// Something there was not before.
    Added {
        /// What it is.
        sort: Sort,
        /// Its id.
        id: String,
    },
    /// Something there is no more.
    Removed {
        /// What it was.
        sort: Sort,
        /// Its id.
        id: String,
    },
    /// A way on leads elsewhere, or a node does something else.
    Route {
        /// The tree.
        tree: String,
        /// The node; the tree itself for its start.
        node: String,
        /// Which way: an outcome, `then`, `start`, `pool TEST`, or what the node does.
        way: String,
        /// Where it led.
        from: Option<String>,
        /// Where it leads.
        to: Option<String>,
    },
    /// A sign is another.
    Sign {
        /// The test.
        test: String,
        /// Its outcome.
        outcome: String,
        /// What it is about.
        cause: String,
        /// What it was.
        from: Option<String>,
        /// What it is.
        to: Option<String>,
    },
    /// The usual share of an outcome is another.
    Usual {
        /// The test.
        test: String,
        /// Its outcome.
        outcome: String,
        /// What it was.
        from: f64,
        /// What it is.
        to: f64,
    },
    /// The bound of an outcome is another.
    Bound {
        /// The test.
        test: String,
        /// Its outcome.
        outcome: String,
        /// What it was.
        from: Option<String>,
        /// What it is.
        to: Option<String>,
    },
    /// A cause is more or less common behind a complaint.
    Frequency {
        /// The complaint.
        complaint: String,
        /// The cause.
        cause: String,
        /// What it was.
        from: Option<String>,
        /// What it is.
        to: Option<String>,
    },
    /// Another of an entry's values decides when it counts, what it costs or how far it is proved: parts, state,
    /// minutes, echo, what looking its sources up showed, and so on.
    Setting {
        /// What it is.
        sort: Sort,
        /// Its id.
        id: String,
        /// The key.
        key: &'static str,
        /// What it was.
        from: String,
        /// What it is.
        to: String,
    },
    /// Only what a person reads is other: name, question, steps, remedy, source and so on.
    Reworded {
        /// What it is.
        sort: Sort,
        /// Its id.
        id: String,
    },
}

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
