//! Trees: nodes and where they lead.

use indexmap::IndexMap;

use crate::knowledge::document::{Documents, Entry, Section, check_id, entries_of};
use crate::knowledge::fields::{Fields, Key, Text};
use crate::knowledge::finding::{Code, Sink, Stretch};
use crate::knowledge::indexed::Indexed;
use crate::knowledge::model::{At, Fit, Node, NodeIndex, NodeKind, TestIndex, Tree, TreeIndex};
use crate::knowledge::nearest;
use crate::knowledge::raw::{Placed, Raw};

use super::context::Context;
use crate::knowledge::fields::keys;

/// One file of a tree, with its nodes listed but not read.
pub(super) struct TreeFile<'d> {
    pub(super) id: &'d str,
    pub(super) is_complaint: bool,
    /// The `[tree]` table and the place of its key.
    head: Option<Entry<'d>>,
    nodes: Vec<Entry<'d>>,
    places: IndexMap<&'d str, usize>,
    /// It has a `leave`, so it can be entered with `through`.
    leaves: bool,
}

/// First pass: every tree with the ids of its nodes.
pub(super) fn files<'d>(documents: &'d Documents<'d>, sink: &Sink) -> Vec<TreeFile<'d>> {
    let mut trees = Vec::new();
    for (file, document) in documents.list.iter().enumerate() {
        let name = &documents.files.list[file].name;
        if document.section != Some(Section::Tree) || name.is_empty() {
            continue;
        }
        let id = name.trim_end_matches(".toml");
        let whole = Stretch { file, span: 0..0 };
        check_id(id, whole.clone(), sink);
        let root = &document.root;
        for key in root
            .keys()
            .filter(|key| !matches!(&**key.get_ref(), "tree" | "node"))
        {
            sink.error(
                Code::UnknownKey,
                key.in_file(file),
                format!("`{}` does not belong in a tree", key.get_ref()),
                "only `[tree]` and `[node.ID]` stand here",
            );
        }
        let head = root.as_table().and_then(|table| table.get_key_value("tree"));
        if head.is_none() && !document.broken {
            sink.error(
                Code::MissingKey,
                whole,
                format!("tree `{id}` has no `[tree]`"),
                "add `[tree]` with `start = \"NODE\"`, and `complaint` unless it is shared",
            );
        }
        let nodes = root
            .get("node")
            .map_or_else(Vec::new, |value| entries_of(file, value, "node", sink));
        for node in &nodes {
            check_id(node.id(), node.place(), sink);
        }
        let has = |value: &Placed<Raw<'_>>, key: Key| value.get_ref().get(key.name).is_some();
        trees.push(TreeFile {
            id,
            is_complaint: head.is_some_and(|(_, value)| has(value, keys::tree::COMPLAINT)),
            head: head.map(|(key, value)| Entry { file, key, value }),
            places: nodes
                .iter()
                .enumerate()
                .map(|(index, node)| (node.id(), index))
                .collect(),
            leaves: nodes.iter().any(|node| has(node.value, keys::leaving::LEAVE)),
            nodes,
        });
    }
    trees
}

/// Instead of an outcome in a route: where to go when the test does not apply to the equipment.
const ABSENT: &str = "absent";

/// Instead of a list of tests: all that belong to the complaint.
pub(in crate::knowledge) const ALL: &str = "all";

/// Second pass: the nodes and their routes.
pub(super) fn trees(files: &[TreeFile<'_>], context: Context<'_>) -> Vec<Tree> {
    let read = (0..files.len()).map(|tree| Reader { files, tree, context }.tree());
    read.collect()
}

struct Reader<'c> {
    files: &'c [TreeFile<'c>],
    /// The tree being read.
    tree: usize,
    context: Context<'c>,
}

impl<'c> Reader<'c> {
    fn own(&self) -> &'c TreeFile<'c> {
        &self.files[self.tree]
    }

    fn tree(&self) -> Tree {
        let (file, context) = (self.own(), self.context);
        let mut tree = Tree {
            id: file.id.to_owned(),
            complaint: None,
            words: Vec::new(),
            fit: Fit::default(),
            rank: keys::LAST_RANK as u32,
            requires: Vec::new(),
            raises: Vec::new(),
            in_order: false,
            nodes: Indexed::default(),
            start: NodeIndex(0),
        };
        if let Some(head) = &file.head {
            let what = format!("tree `{}`", file.id);
            let broken = context.documents.list[head.file].broken;
            let mut fields = Fields::new(what, head.place(), head.value, broken, context.sink);
            tree.complaint = fields.prose_if(keys::tree::COMPLAINT);
            tree.words = fields.proses_if(keys::tree::WORDS);
            tree.fit = context.fit(&mut fields, [keys::tree::PARTS, keys::tree::WITHOUT]);
            if let Some(rank) = fields.number_if(keys::tree::RANK) {
                tree.rank = rank as u32;
            }
            tree.requires = context.all(&context.requirements, &mut fields, keys::tree::REQUIRES);
            tree.raises = context.all(&context.holds, &mut fields, keys::tree::RAISES);
            tree.in_order = fields.flag(keys::tree::IN_ORDER);
            let start = fields.text(keys::tree::START);
            if !start.text.is_empty()
                && let Some(found) = self.node_in(self.tree, start.text, &start)
            {
                tree.start = found;
            }
            fields.finish();
        }
        tree.nodes = file.nodes.iter().map(|node| self.node(node)).collect();
        tree
    }

    fn node_in(&self, tree: usize, id: &str, text: &Text<'_>) -> Option<NodeIndex> {
        let file = &self.files[tree];
        let found = file.places.get(id).copied().map(NodeIndex);
        if found.is_none() {
            self.context.sink.error(
                Code::UnknownNode,
                text.place.clone(),
                format!("no node `{id}` in tree `{}`", file.id),
                nearest::did_you_mean_after(
                    self.context.sink.count(),
                    id,
                    file.places.keys().copied(),
                    "write that node, or lead elsewhere",
                ),
            );
        }
        found
    }

    /// Where a route leads: `node`, or `tree/node`.
    fn at(&self, text: &Text<'_>) -> Option<At> {
        let (tree, node) = match text.text.split_once('/') {
            None => (TreeIndex(self.tree), text.text),
            Some((tree, node)) => {
                let place = text.place.clone();
                let tree = Text { text: tree, place };
                (self.context.find(&self.context.trees, &tree)?, node)
            }
        };
        let node = self.node_in(tree.place(), node, text)?;
        Some(At { tree, node })
    }

    /// Takes the place of a route that is missing or leads nowhere; the finding keeps it from being walked.
    fn nowhere(&self) -> At {
        At {
            tree: TreeIndex(self.tree),
            node: NodeIndex(0),
        }
    }

    fn node(&self, entry: &Entry<'c>) -> Node {
        let id = entry.id().to_owned();
        let mut fields = self.context.fields("node", entry);
        let table = entry.value.get_ref();
        let kinds = keys::NODES.map(|keys| keys[0].name);
        let mut written = kinds.into_iter().filter(|kind| table.get(kind).is_some());
        let Some(kind) = written.next() else {
            if !fields.broken() && table.as_table().is_some() {
                self.context.sink.error(
                    Code::NodeKind,
                    entry.place(),
                    format!("node `{id}` does nothing"),
                    format!("give it one of {}", nearest::one_of(&kinds)),
                );
            }
            let kind = NodeKind::Close;
            return Node { id, kind };
        };
        if let Some(second) = written.next() {
            self.context.sink.error(
                Code::NodeKind,
                fields.place_of_key(second),
                format!("node `{id}` has `{kind}` and `{second}`"),
                "a node does one thing; split it in two",
            );
            let kind = NodeKind::Close;
            return Node { id, kind };
        }
        let kind = match kind {
            "test" => self.test(&mut fields),
            "narrow" => self.narrow(&mut fields),
            "through" => self.through(&mut fields),
            "halt" => NodeKind::Halt {
                advice: fields.prose(keys::halting::HALT),
                call: fields.prose(keys::halting::CALL),
            },
            "leave" => self.leave(&mut fields),
            _ => {
                self.must_be_true(&mut fields, keys::closing::CLOSE);
                NodeKind::Close
            }
        };
        fields.finish();
        Node { id, kind }
    }

    fn must_be_true(&self, fields: &mut Fields<'_>, key: Key) {
        let is_false = |value: &Placed<Raw<'_>>| value.get_ref().as_bool() == Some(false);
        let is_false = fields.value(key).is_some_and(is_false);
        if !fields.flag(key) && is_false {
            self.context.sink.error(
                Code::WrongType,
                fields.place_of(key),
                format!("`{}` is `false`, which says nothing", key.name),
                format!("write `{} = true` or remove it", key.name),
            );
        }
    }

    fn leave(&self, fields: &mut Fields<'_>) -> NodeKind {
        self.must_be_true(fields, keys::leaving::LEAVE);
        if self.own().is_complaint {
            self.context.sink.error(
                Code::NotShared,
                fields.place_of_key(keys::leaving::LEAVE.name),
                format!(
                    "tree `{}` has a complaint, so there is nowhere to come back to",
                    self.own().id
                ),
                "end it with `close = true`",
            );
        }
        NodeKind::Leave
    }

    fn then(&self, fields: &mut Fields<'_>, key: Key) -> At {
        let then = fields.text_if(key);
        if then.is_none() && !fields.broken() {
            self.context.sink.error(
                Code::DeadEnd,
                fields.place(),
                format!("{} leads nowhere", fields.what()),
                "add `then = \"NODE\"`",
            );
        }
        then.and_then(|text| self.at(&text))
            .unwrap_or_else(|| self.nowhere())
    }

    /// The tests that the engine may pick under this tree's complaint where a pool is `all`.
    fn every_test(&self) -> Vec<TestIndex> {
        let own = TreeIndex(self.tree);
        let all = self.context.tests.indexed();
        all.filter(|(_, test)| test.complaints.is_empty() || test.complaints.contains(&own))
            .map(|(index, _)| index)
            .collect()
    }

    fn narrow(&self, fields: &mut Fields<'_>) -> NodeKind {
        let key = keys::narrowing::NARROW;
        let is_all = |value: &Placed<Raw<'_>>| value.get_ref().as_str() == Some(ALL);
        if fields.value(key).is_some_and(is_all) {
            return NodeKind::Narrow {
                pool: self.every_test(),
                all: true,
                then: self.then(fields, keys::narrowing::THEN),
            };
        }
        let texts = fields.texts(key);
        if texts.is_empty() {
            self.context.sink.error(
                Code::DeadEnd,
                fields.place_of(key),
                format!("{} has no test to pick from", fields.what()),
                "list the tests the engine may pick",
            );
        }
        let mut pool = Vec::with_capacity(texts.len());
        for text in &texts {
            let Some(test) = self.context.find(&self.context.test_ids, text) else {
                continue;
            };
            if pool.contains(&test) {
                self.context.sink.error(
                    Code::DuplicateId,
                    text.place.clone(),
                    format!("test `{}` stands twice in this pool", text.text),
                    "remove one",
                );
            }
            pool.push(test);
        }
        NodeKind::Narrow {
            pool,
            all: false,
            then: self.then(fields, keys::narrowing::THEN),
        }
    }

    fn through(&self, fields: &mut Fields<'_>) -> NodeKind {
        let text = fields.text(keys::passing::THROUGH);
        let then = self.then(fields, keys::passing::THEN);
        let Some(tree) = self.context.find(&self.context.trees, &text) else {
            let start = self.nowhere();
            return NodeKind::Through { start, then };
        };
        let other = &self.files[tree.place()];
        if !other.leaves {
            self.context.sink.error(
                Code::NotShared,
                text.place.clone(),
                format!("tree `{}` never comes back: it has no `leave`", text.text),
                "give it a node with `leave = true`, or lead into it with `to = \"tree/node\"`",
            );
        }
        // The start of another tree is read ahead because trees may refer to each other in any order.
        let start = other
            .head
            .as_ref()
            .and_then(|head| head.value.get_ref().get(keys::tree::START.name));
        let start = start.and_then(|value| other.places.get(value.get_ref().as_str()?));
        let start = At {
            tree,
            node: NodeIndex(start.copied().unwrap_or(0)),
        };
        NodeKind::Through { start, then }
    }

    fn test(&self, fields: &mut Fields<'_>) -> NodeKind {
        let text = fields.text(keys::testing::TEST);
        let test = self.context.find(&self.context.test_ids, &text);
        let routes = fields.text_pairs(keys::testing::TO);
        let somewhere = |text: &Text<'_>| self.at(text).unwrap_or_else(|| self.nowhere());
        let next = fields.text_if(keys::testing::NEXT).map(|text| somewhere(&text));
        let outcomes = test.map_or(&[][..], |test| &self.context.tests[test].outcomes);
        let mut to: Vec<Option<At>> = vec![None; outcomes.len()];
        let (mut unknown, mut absent) = (None, None);
        for (outcome, target) in &routes {
            let at = Some(somewhere(target));
            if outcome.text == "unknown" {
                unknown = at;
            } else if outcome.text == ABSENT {
                absent = at;
            } else if let Some(place) = outcomes.iter().position(|known| known.id == outcome.text) {
                to[place] = at;
            } else if test.is_some() {
                let known = outcomes.iter().map(|known| known.id.as_str());
                let known: Vec<&str> = known.chain(["unknown", ABSENT]).collect();
                self.context.sink.error(
                    Code::UnknownOutcome,
                    outcome.place.clone(),
                    format!("test `{}` has no outcome `{}`", text.text, outcome.text),
                    nearest::did_you_mean(
                        outcome.text,
                        known.iter().copied(),
                        &format!("use {}", nearest::one_of(&known)),
                    ),
                );
            }
        }
        if test.is_some() && next.is_none() && !fields.broken() {
            let routed = outcomes.iter().zip(&to);
            let mut missing: Vec<&str> = routed
                .filter(|(_, at)| at.is_none())
                .map(|(outcome, _)| outcome.id.as_str())
                .collect();
            if unknown.is_none() {
                missing.push("unknown");
            }
            if !missing.is_empty() {
                self.context.sink.error(
                    Code::MissingRoute,
                    fields.place(),
                    format!("{} has no route for {}", fields.what(), nearest::one_of(&missing)),
                    "name each in `to`, or add `next = \"NODE\"` for all that `to` does not name",
                );
            }
        }
        let rest = next.unwrap_or_else(|| self.nowhere());
        NodeKind::Test {
            test: test.unwrap_or(TestIndex(0)),
            to: to.into_iter().map(|at| at.unwrap_or(rest)).collect(),
            unknown: unknown.unwrap_or(rest),
            absent: absent.or(unknown).unwrap_or(rest),
        }
    }
}
