//! What one knowledge changes against another, in the terms an author thinks in.

use std::collections::BTreeMap;

use serde::Serialize;

use super::model::{
    At, Bound, BoundOf, Cause, Commonness, Knowledge, Node, NodeKind, Sign, Test, Tree, strength_word,
};

/// A sort of entry.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Sort {
    /// A kind of equipment.
    Equipment,
    /// A fact.
    Fact,
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
    /// Another of an entry's values decides when it counts or what it costs: parts, state, minutes, echo and so on.
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
        before.equipment.iter().map(|one| (one.id.as_str(), one)),
        after.equipment.iter().map(|one| (one.id.as_str(), one)),
        &mut changes,
        |old, new, changes| {
            setting(
                Sort::Equipment,
                &new.id,
                "parts",
                &old.parts.join(", "),
                &new.parts.join(", "),
                changes,
            );
            reworded(Sort::Equipment, &new.id, old.name != new.name, changes);
        },
    );
    lists(
        Sort::Fact,
        before.facts.iter().map(|one| (one.id.as_str(), one)),
        after.facts.iter().map(|one| (one.id.as_str(), one)),
        &mut changes,
        |old, new, changes| {
            setting(
                Sort::Fact,
                &new.id,
                "parts",
                &old.parts.join(", "),
                &new.parts.join(", "),
                changes,
            );
            setting(
                Sort::Fact,
                &new.id,
                "kind",
                &old.kind.wanted(),
                &new.kind.wanted(),
                changes,
            );
            let words = |fact: &super::model::Fact| {
                format!(
                    "{:?}",
                    (
                        &fact.name,
                        &fact.ask,
                        &fact.find,
                        &fact.unit,
                        fact.range,
                        &fact.choices
                    )
                )
            };
            reworded(Sort::Fact, &new.id, words(old) != words(new), changes);
        },
    );
    lists(
        Sort::Cause,
        before.causes.iter().map(|one| (one.id.as_str(), one)),
        after.causes.iter().map(|one| (one.id.as_str(), one)),
        &mut changes,
        cause,
    );
    lists(
        Sort::Test,
        before.tests.iter().map(|one| (one.id.as_str(), one)),
        after.tests.iter().map(|one| (one.id.as_str(), one)),
        &mut changes,
        |old, new, changes| test(before, after, old, new, changes),
    );
    lists(
        Sort::Tree,
        before.trees.iter().map(|one| (one.id.as_str(), one)),
        after.trees.iter().map(|one| (one.id.as_str(), one)),
        &mut changes,
        |old, new, changes| tree(before, after, old, new, changes),
    );
    changes
}

/// Pairs two lists by id: what is new, what is gone, and what is in both to be looked at closer.
fn lists<'k, T: 'k>(
    sort: Sort,
    before: impl Iterator<Item = (&'k str, &'k T)> + Clone,
    after: impl Iterator<Item = (&'k str, &'k T)> + Clone,
    changes: &mut Vec<Change>,
    mut both: impl FnMut(&'k T, &'k T, &mut Vec<Change>),
) {
    for (id, _) in before.clone() {
        if after.clone().all(|(other, _)| other != id) {
            changes.push(Change::Removed {
                sort,
                id: id.to_owned(),
            });
        }
    }
    for (id, new) in after {
        match before.clone().find(|(other, _)| *other == id) {
            Some((_, old)) => both(old, new, changes),
            None => changes.push(Change::Added {
                sort,
                id: id.to_owned(),
            }),
        }
    }
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

fn cause(old: &Cause, new: &Cause, changes: &mut Vec<Change>) {
    let id = &new.id;
    let mut differs = |key, from: String, to: String| setting(Sort::Cause, id, key, &from, &to, changes);
    differs("parts", old.parts.join(", "), new.parts.join(", "));
    differs("place", format!("{:?}", old.place), format!("{:?}", new.place));
    differs("job", format!("{:?}", old.job), format!("{:?}", new.job));
    let complaints: Vec<&String> = old
        .frequency
        .keys()
        .chain(
            new.frequency
                .keys()
                .filter(|complaint| !old.frequency.contains_key(*complaint)),
        )
        .collect();
    for complaint in complaints {
        let word = |cause: &Cause| cause.frequency.get(complaint).map(commonness);
        let (from, to) = (word(old), word(new));
        if from != to {
            changes.push(Change::Frequency {
                complaint: complaint.clone(),
                cause: id.clone(),
                from,
                to,
            });
        }
    }
    let words = |cause: &Cause| {
        format!(
            "{:?}",
            (
                (
                    &cause.name,
                    &cause.mechanism,
                    &cause.remedy,
                    &cause.proof,
                    &cause.caution
                ),
                (
                    &cause.prevent,
                    &cause.source,
                    cause.repair_minutes,
                    &cause.same_signs_as
                ),
            )
        )
    };
    reworded(Sort::Cause, id, words(old) != words(new), changes);
}

fn commonness(listed: &Commonness) -> String {
    let word = |frequency: super::model::Frequency| super::validate::frequency_word(frequency);
    let mut text = word(listed.usual).to_owned();
    for (part, frequency) in &listed.with {
        text.push_str(&format!(", with {part} {}", word(*frequency)));
    }
    text
}

fn test(before: &Knowledge, after: &Knowledge, old: &Test, new: &Test, changes: &mut Vec<Change>) {
    let id = &new.id;
    let mut differs = |key, from: String, to: String| setting(Sort::Test, id, key, &from, &to, changes);
    differs("parts", old.parts.join(", "), new.parts.join(", "));
    differs("state", format!("{:?}", old.state), format!("{:?}", new.state));
    differs("hazard", format!("{:?}", old.hazard), format!("{:?}", new.hazard));
    differs("minutes", old.minutes.to_string(), new.minutes.to_string());
    differs("safety", old.safety.to_string(), new.safety.to_string());
    let echo = |test: &Test| test.echo.clone().unwrap_or_default();
    differs("echo", echo(old), echo(new));
    let needs = |knowledge: &Knowledge, test: &Test| {
        let facts: Vec<&str> = test
            .needs
            .iter()
            .map(|fact| knowledge.facts[fact.0].id.as_str())
            .collect();
        facts.join(", ")
    };
    differs("needs", needs(before, old), needs(after, new));
    let words = |test: &Test| {
        let labels: Vec<_> = test
            .outcomes
            .iter()
            .map(|outcome| (&outcome.label, &outcome.defect))
            .collect();
        format!(
            "{:?}",
            (
                (&test.name, &test.ask, &test.why, &test.how, &test.words),
                (&test.caution, &test.instrument, &test.source, labels),
            )
        )
    };
    reworded(Sort::Test, id, words(old) != words(new), changes);
    for outcome in &old.outcomes {
        if new.outcome(&outcome.id).is_none() {
            changes.push(Change::Removed {
                sort: Sort::Outcome,
                id: format!("{id}/{}", outcome.id),
            });
        }
    }
    for outcome in &new.outcomes {
        let known = old.outcome(&outcome.id).map(|index| &old.outcomes[index.0]);
        let Some(known) = known else {
            changes.push(Change::Added {
                sort: Sort::Outcome,
                id: format!("{id}/{}", outcome.id),
            });
            continue;
        };
        if (known.usual - outcome.usual).abs() > 1e-9 {
            changes.push(Change::Usual {
                test: id.clone(),
                outcome: outcome.id.clone(),
                from: known.usual,
                to: outcome.usual,
            });
        }
        let bound = |knowledge: &Knowledge, bound: &Option<Bound>| {
            bound.as_ref().map(|bound| bound_text(knowledge, bound))
        };
        let (from, to) = (bound(before, &known.bound), bound(after, &outcome.bound));
        if from != to {
            changes.push(Change::Bound {
                test: id.clone(),
                outcome: outcome.id.clone(),
                from,
                to,
            });
        }
        let signs = |knowledge: &Knowledge, outcome: &super::model::Outcome| -> BTreeMap<String, String> {
            outcome
                .signs
                .iter()
                .map(|(cause, sign)| (knowledge.causes[cause.0].id.clone(), sign_text(*sign)))
                .collect()
        };
        let (old_signs, new_signs) = (signs(before, known), signs(after, outcome));
        for (cause, from, to) in differences(&old_signs, &new_signs) {
            changes.push(Change::Sign {
                test: id.clone(),
                outcome: outcome.id.clone(),
                cause,
                from,
                to,
            });
        }
    }
}

/// A sign as written in the files.
#[must_use]
pub fn sign_text(sign: Sign) -> String {
    match sign {
        Sign::Word(strength) => strength_word(strength).to_owned(),
        Sign::Chance(chance) => chance.to_string(),
    }
}

fn bound_text(knowledge: &Knowledge, bound: &Bound) -> String {
    let side = if bound.below { "below" } else { "above" };
    match bound.of {
        None => format!("{side} {} in base units", bound.figure),
        Some(BoundOf::Fact(fact)) => format!("{side} {} of {}", bound.figure, knowledge.facts[fact.0].id),
        Some(BoundOf::Reading(test)) => format!("{side} {} of {}", bound.figure, knowledge.tests[test.0].id),
    }
}

fn tree(before: &Knowledge, after: &Knowledge, old: &Tree, new: &Tree, changes: &mut Vec<Change>) {
    let start = |tree: &Tree| tree.nodes.get(tree.start.0).map(|node| node.id.clone());
    if start(old) != start(new) {
        changes.push(Change::Route {
            tree: new.id.clone(),
            node: new.id.clone(),
            way: "start".to_owned(),
            from: start(old),
            to: start(new),
        });
    }
    reworded(
        Sort::Tree,
        &new.id,
        (&old.complaint, &old.words) != (&new.complaint, &new.words),
        changes,
    );
    for node in &old.nodes {
        if new.nodes.iter().all(|other| other.id != node.id) {
            changes.push(Change::Removed {
                sort: Sort::Node,
                id: format!("{}/{}", new.id, node.id),
            });
        }
    }
    for node in &new.nodes {
        let Some(known) = old.nodes.iter().find(|other| other.id == node.id) else {
            changes.push(Change::Added {
                sort: Sort::Node,
                id: format!("{}/{}", new.id, node.id),
            });
            continue;
        };
        for (way, from, to) in differences(&ways(before, old, known), &ways(after, new, node)) {
            changes.push(Change::Route {
                tree: new.id.clone(),
                node: node.id.clone(),
                way,
                from,
                to,
            });
        }
    }
}

/// What a node does and where it leads, by way.
fn ways(knowledge: &Knowledge, tree: &Tree, node: &Node) -> BTreeMap<String, String> {
    let to = |at: At| {
        let other = &knowledge.trees[at.tree.0];
        let node = &other.nodes[at.node.0].id;
        if other.id == tree.id {
            node.clone()
        } else {
            format!("{}/{node}", other.id)
        }
    };
    let mut ways = BTreeMap::new();
    match &node.kind {
        NodeKind::Test {
            test,
            to: routes,
            unknown,
        } => {
            let known = &knowledge.tests[test.0];
            ways.insert("test".to_owned(), known.id.clone());
            for (outcome, at) in known.outcomes.iter().zip(routes) {
                ways.insert(outcome.id.clone(), to(*at));
            }
            ways.insert("could not check".to_owned(), to(*unknown));
        }
        NodeKind::Narrow { pool, then } => {
            for test in pool {
                ways.insert(
                    format!("pool {}", knowledge.tests[test.0].id),
                    "in the pool".to_owned(),
                );
            }
            ways.insert("then".to_owned(), to(*then));
        }
        NodeKind::Through { start, then } => {
            ways.insert("through".to_owned(), knowledge.trees[start.tree.0].id.clone());
            ways.insert("then".to_owned(), to(*then));
        }
        NodeKind::Leave => {
            ways.insert("leave".to_owned(), "back".to_owned());
        }
        NodeKind::Halt { advice, call } => {
            ways.insert("halt".to_owned(), advice.clone());
            ways.insert("call".to_owned(), call.clone());
        }
        NodeKind::Close => {
            ways.insert("close".to_owned(), "end".to_owned());
        }
    }
    ways
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
