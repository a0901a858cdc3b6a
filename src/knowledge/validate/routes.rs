//! Trees: nodes and where they lead.

use indexmap::IndexMap;

use crate::knowledge::document::{Documents, Entry, Section, check_id, entries_of};
use crate::knowledge::fields::{Fields, Text};
use crate::knowledge::finding::{Code, Finding, Stretch};
use crate::knowledge::model::{At, Fit, Node, NodeIndex, NodeKind, Test, TestIndex, Tree, TreeIndex};
use crate::knowledge::nearest;
use crate::knowledge::raw::{Placed, Raw};

use super::context::Context;
use super::{holds, requirements, words};

/// One file of a tree, with its nodes listed but not read.
pub(super) struct TreeFile<'d> {
    pub(super) id: &'d str,
    pub(super) is_complaint: bool,
    pub(super) file: usize,
    /// The `[tree]` table and the place of its key.
    head: Option<(Stretch, &'d Placed<Raw<'d>>)>,
    nodes: Vec<Entry<'d>>,
    places: IndexMap<&'d str, usize>,
    /// It has a `leave`, so it can be entered with `through`.
    leaves: bool,
}

/// First pass: every tree with the ids of its nodes.
pub(super) fn files<'d>(documents: &'d Documents<'d>, findings: &mut Vec<Finding>) -> Vec<TreeFile<'d>> {
    let mut trees = Vec::new();
    for (file, document) in documents.list.iter().enumerate() {
        if document.section != Some(Section::Tree) || documents.files.list[file].name.is_empty() {
            continue;
        }
        let id = documents.files.list[file].name.trim_end_matches(".toml");
        check_id(id, Stretch { file, span: 0..0 }, findings);
        for key in document.root.keys() {
            if !["tree", "node"].contains(&key.get_ref().as_ref()) {
                findings.push(Finding::error(
                    Code::UnknownKey,
                    Stretch {
                        file,
                        span: key.span(),
                    },
                    format!("`{}` does not belong in a tree", key.get_ref()),
                    "only `[tree]` and `[node.ID]` stand here",
                ));
            }
        }
        let head = document.root.get_key_value("tree").map(|(key, value)| {
            (
                Stretch {
                    file,
                    span: key.span(),
                },
                value,
            )
        });
        if head.is_none() && !document.broken {
            findings.push(Finding::error(
                Code::MissingKey,
                Stretch { file, span: 0..0 },
                format!("tree `{id}` has no `[tree]`"),
                "add `[tree]` with `start = \"NODE\"`, and `complaint` unless it is shared",
            ));
        }
        let is_complaint = head.as_ref().is_some_and(|(_, value)| {
            value
                .get_ref()
                .as_table()
                .is_some_and(|t| t.contains_key("complaint"))
        });
        let nodes = document
            .root
            .get("node")
            .map_or_else(Vec::new, |value| entries_of(file, value, "node", findings));
        for node in &nodes {
            check_id(node.id(), node.place(), findings);
        }
        let places = nodes
            .iter()
            .enumerate()
            .map(|(index, node)| (node.id(), index))
            .collect();
        let leaves = nodes.iter().any(|node| {
            node.value
                .get_ref()
                .as_table()
                .is_some_and(|table| table.contains_key("leave"))
        });
        trees.push(TreeFile {
            id,
            is_complaint,
            file,
            head,
            nodes,
            places,
            leaves,
        });
    }
    trees
}

/// Instead of an outcome in a route: where to go when the test does not apply to the equipment.
const ABSENT: &str = "absent";

/// Instead of a list of tests: all that belong to the complaint.
pub(in crate::knowledge) const ALL: &str = "all";

/// Rank of a complaint that gives none.
pub(in crate::knowledge) const LAST_RANK: u32 = 1000;

/// Second pass: the nodes and their routes.
pub(super) fn trees(
    files: &[TreeFile<'_>],
    tests: &[Test],
    context: &Context<'_>,
    findings: &mut Vec<Finding>,
) -> Vec<Tree> {
    let mut trees = Vec::with_capacity(files.len());
    for index in 0..files.len() {
        let tree = &files[index];
        let mut complaint = None;
        let mut words = Vec::new();
        let mut fit = Fit::default();
        let mut requires = Vec::new();
        let mut raises = Vec::new();
        let mut in_order = false;
        let mut rank = LAST_RANK;
        let mut start = NodeIndex(0);
        let reader = Reader {
            files,
            tree: index,
            tests,
            context,
        };
        if let Some((place, value)) = &tree.head {
            let broken = context.documents.list[tree.file].broken;
            let what = format!("tree `{}`", tree.id);
            let mut fields = Fields::new(what, place.clone(), value, broken, findings);
            complaint = fields
                .text_if("complaint", findings)
                .map(|text| text.text.to_owned());
            words = fields
                .texts("words", findings)
                .iter()
                .map(|text| text.text.to_owned())
                .collect();
            fit = context.fit(&mut fields, findings);
            if let Some(written) = fields.number_if("rank", 1.0, f64::from(LAST_RANK), findings) {
                rank = written as u32;
            }
            requires = requirements::named(&mut fields, context, findings);
            raises = holds::raised(&mut fields, context, findings);
            in_order = fields.flag("in-order", findings);
            let text = fields.text("start", findings);
            if !text.text.is_empty()
                && let Some(found) = reader.node_in(index, text.text, &text, findings)
            {
                start = found;
            }
            fields.finish(findings);
        }
        let nodes = tree
            .nodes
            .iter()
            .map(|node| reader.node(node, findings))
            .collect();
        trees.push(Tree {
            id: tree.id.to_owned(),
            complaint,
            words,
            fit,
            rank,
            requires,
            raises,
            in_order,
            nodes,
            start,
        });
    }
    trees
}

struct Reader<'r, 'd> {
    files: &'r [TreeFile<'d>],
    /// The tree being read.
    tree: usize,
    tests: &'r [Test],
    context: &'r Context<'d>,
}

impl Reader<'_, '_> {
    fn node_in(
        &self,
        tree: usize,
        id: &str,
        text: &Text<'_>,
        findings: &mut Vec<Finding>,
    ) -> Option<NodeIndex> {
        let file = &self.files[tree];
        let found = file.places.get(id).copied().map(NodeIndex);
        if found.is_none() {
            findings.push(Finding::error(
                Code::UnknownNode,
                text.place.clone(),
                format!("no node `{id}` in tree `{}`", file.id),
                nearest::did_you_mean_after(
                    findings.len(),
                    id,
                    file.places.keys().copied(),
                    "write that node, or lead elsewhere",
                ),
            ));
        }
        found
    }

    /// Where a route leads: `node`, or `tree/node`.
    fn at(&self, text: &Text<'_>, findings: &mut Vec<Finding>) -> Option<At> {
        let (tree, node) = match text.text.split_once('/') {
            None => (self.tree, text.text),
            Some((tree, node)) => {
                let tree = Text {
                    text: tree,
                    place: text.place.clone(),
                };
                (self.context.trees.find(&tree, findings)?, node)
            }
        };
        let node = self.node_in(tree, node, text, findings)?;
        Some(At {
            tree: TreeIndex(tree),
            node,
        })
    }

    /// Takes the place of a route that is missing or leads nowhere; the finding keeps it from being walked.
    fn nowhere(&self) -> At {
        At {
            tree: TreeIndex(self.tree),
            node: NodeIndex(0),
        }
    }

    fn node(&self, entry: &Entry<'_>, findings: &mut Vec<Finding>) -> Node {
        let what = format!("node `{}`", entry.id());
        let broken = self.context.is_broken(entry);
        let mut fields = Fields::new(what, entry.place(), entry.value, broken, findings);
        let kinds = words::NODE_KINDS;
        let table = entry.value.get_ref().as_table();
        let written: Vec<&str> = kinds
            .into_iter()
            .filter(|kind| table.is_some_and(|table| table.contains_key(kind)))
            .collect();
        let kind = match written.as_slice() {
            [] => {
                if !broken && table.is_some() {
                    findings.push(Finding::error(
                        Code::NodeKind,
                        entry.place(),
                        format!("node `{}` does nothing", entry.id()),
                        format!("give it one of {}", nearest::one_of(&kinds)),
                    ));
                }
                return Node {
                    id: entry.id().to_owned(),
                    kind: NodeKind::Close,
                };
            }
            [kind] => *kind,
            [first, second, ..] => {
                findings.push(Finding::error(
                    Code::NodeKind,
                    fields.place_of_key(second),
                    format!("node `{}` has `{first}` and `{second}`", entry.id()),
                    "a node does one thing; split it in two",
                ));
                return Node {
                    id: entry.id().to_owned(),
                    kind: NodeKind::Close,
                };
            }
        };
        let kind = match kind {
            "test" => self.test(&mut fields, findings),
            "narrow" => self.narrow(&mut fields, findings),
            "through" => self.through(&mut fields, findings),
            "halt" => {
                let advice = fields.prose("halt", findings);
                let call = fields.prose("call", findings);
                NodeKind::Halt { advice, call }
            }
            "leave" => self.leave(&mut fields, findings),
            _ => {
                Self::must_be_true(&mut fields, "close", findings);
                NodeKind::Close
            }
        };
        fields.finish(findings);
        Node {
            id: entry.id().to_owned(),
            kind,
        }
    }

    fn must_be_true(fields: &mut Fields<'_>, key: &'static str, findings: &mut Vec<Finding>) {
        let is_flag = fields
            .value(key)
            .is_some_and(|value| value.get_ref().as_bool() == Some(false));
        if !fields.flag(key, findings) && is_flag {
            findings.push(Finding::error(
                Code::WrongType,
                fields.place_of(key),
                format!("`{key}` is `false`, which says nothing"),
                format!("write `{key} = true` or remove it"),
            ));
        }
    }

    fn leave(&self, fields: &mut Fields<'_>, findings: &mut Vec<Finding>) -> NodeKind {
        Self::must_be_true(fields, "leave", findings);
        if self.files[self.tree].is_complaint {
            findings.push(Finding::error(
                Code::NotShared,
                fields.place_of_key("leave"),
                format!(
                    "tree `{}` has a complaint, so there is nowhere to come back to",
                    self.files[self.tree].id
                ),
                "end it with `close = true`",
            ));
        }
        NodeKind::Leave
    }

    fn then(&self, fields: &mut Fields<'_>, findings: &mut Vec<Finding>) -> At {
        match fields.text_if("then", findings) {
            Some(text) => self.at(&text, findings).unwrap_or_else(|| self.nowhere()),
            None => {
                if !fields.broken() {
                    findings.push(Finding::error(
                        Code::DeadEnd,
                        fields.place(),
                        format!("{} leads nowhere", fields.what()),
                        "add `then = \"NODE\"`",
                    ));
                }
                self.nowhere()
            }
        }
    }

    /// The tests that the engine may pick under this tree's complaint where a pool is `all`.
    fn every_test(&self) -> Vec<TestIndex> {
        let own = TreeIndex(self.tree);
        (0..self.tests.len())
            .filter(|test| {
                let complaints = &self.tests[*test].complaints;
                complaints.is_empty() || complaints.contains(&own)
            })
            .map(TestIndex)
            .collect()
    }

    fn narrow(&self, fields: &mut Fields<'_>, findings: &mut Vec<Finding>) -> NodeKind {
        let is_all = |value: &Placed<Raw<'_>>| value.get_ref().as_str() == Some(ALL);
        if fields.value("narrow").is_some_and(is_all) {
            let _ = fields.text("narrow", findings);
            return NodeKind::Narrow {
                pool: self.every_test(),
                all: true,
                then: self.then(fields, findings),
            };
        }
        let texts = fields.texts("narrow", findings);
        if texts.is_empty() {
            findings.push(Finding::error(
                Code::DeadEnd,
                fields.place_of("narrow"),
                format!("{} has no test to pick from", fields.what()),
                "list the tests the engine may pick",
            ));
        }
        let mut pool = Vec::with_capacity(texts.len());
        for text in &texts {
            if let Some(test) = self.context.tests.find(text, findings) {
                if pool.contains(&TestIndex(test)) {
                    findings.push(Finding::error(
                        Code::DuplicateId,
                        text.place.clone(),
                        format!("test `{}` stands twice in this pool", text.text),
                        "remove one",
                    ));
                }
                pool.push(TestIndex(test));
            }
        }
        NodeKind::Narrow {
            pool,
            all: false,
            then: self.then(fields, findings),
        }
    }

    fn through(&self, fields: &mut Fields<'_>, findings: &mut Vec<Finding>) -> NodeKind {
        let text = fields.text("through", findings);
        let then = self.then(fields, findings);
        let Some(tree) = self.context.trees.find(&text, findings) else {
            return NodeKind::Through {
                start: self.nowhere(),
                then,
            };
        };
        if !self.files[tree].leaves {
            findings.push(Finding::error(
                Code::NotShared,
                text.place.clone(),
                format!("tree `{}` never comes back: it has no `leave`", text.text),
                "give it a node with `leave = true`, or lead into it with `to = \"tree/node\"`",
            ));
        }
        let node = self.start_of(tree);
        NodeKind::Through {
            start: At {
                tree: TreeIndex(tree),
                node,
            },
            then,
        }
    }

    /// Start of another tree, read ahead because trees may refer to each other in any order.
    fn start_of(&self, tree: usize) -> NodeIndex {
        let file = &self.files[tree];
        let start = file
            .head
            .as_ref()
            .and_then(|(_, value)| value.get_ref().as_table()?.get("start")?.get_ref().as_str());
        NodeIndex(start.and_then(|id| file.places.get(id)).copied().unwrap_or(0))
    }

    fn test(&self, fields: &mut Fields<'_>, findings: &mut Vec<Finding>) -> NodeKind {
        let text = fields.text("test", findings);
        let test = self.context.tests.find(&text, findings);
        let routes = fields.text_pairs("to", findings);
        let next = fields
            .text_if("next", findings)
            .map(|text| self.at(&text, findings));
        let outcomes = test.map_or(&[][..], |test| &self.tests[test].outcomes);
        let mut to: Vec<Option<At>> = vec![None; outcomes.len()];
        let (mut unknown, mut absent) = (None, None);
        for (outcome, target) in &routes {
            let at = Some(self.at(target, findings).unwrap_or_else(|| self.nowhere()));
            if outcome.text == "unknown" {
                unknown = at;
            } else if outcome.text == ABSENT {
                absent = at;
            } else if let Some(place) = outcomes.iter().position(|known| known.id == outcome.text) {
                to[place] = at;
            } else if test.is_some() {
                let known: Vec<&str> = outcomes
                    .iter()
                    .map(|known| known.id.as_str())
                    .chain(["unknown", ABSENT])
                    .collect();
                findings.push(Finding::error(
                    Code::UnknownOutcome,
                    outcome.place.clone(),
                    format!("test `{}` has no outcome `{}`", text.text, outcome.text),
                    nearest::did_you_mean(
                        outcome.text,
                        known.iter().copied(),
                        &format!("use {}", nearest::one_of(&known)),
                    ),
                ));
            }
        }
        let next = next.map(|next| next.unwrap_or_else(|| self.nowhere()));
        if test.is_some() && next.is_none() && !fields.broken() {
            let mut missing: Vec<&str> = outcomes
                .iter()
                .zip(&to)
                .filter(|(_, at)| at.is_none())
                .map(|(o, _)| o.id.as_str())
                .collect();
            if unknown.is_none() {
                missing.push("unknown");
            }
            if !missing.is_empty() {
                findings.push(Finding::error(
                    Code::MissingRoute,
                    fields.place(),
                    format!("{} has no route for {}", fields.what(), nearest::one_of(&missing)),
                    "name each in `to`, or add `next = \"NODE\"` for all that `to` does not name",
                ));
            }
        }
        let rest = next.unwrap_or_else(|| self.nowhere());
        NodeKind::Test {
            test: TestIndex(test.unwrap_or(0)),
            to: to.into_iter().map(|at| at.unwrap_or(rest)).collect(),
            unknown: unknown.unwrap_or(rest),
            absent: absent.or(unknown).unwrap_or(rest),
        }
    }
}
