//! The files parsed as TOML, every value with its place, and where to find a value again by its path.
//!
//! The raw form is the parser's own tree rather than structures of ours: it keeps the place of every key and
//! value and goes on after a fault, so that one wrong type does not hide the findings behind it.

use std::collections::HashMap;
use std::ops::Range;
use std::sync::OnceLock;

use rustc_hash::FxHashMap;
use serde::{Deserialize, Serialize};

use super::fields::Key;
use super::fields::keys;
use super::files::Files;
use super::finding::{Code, Finding, Sink, Stretch};
use super::raw::{Placed, Raw, RawTable, Words};
use super::threads;
use crate::quantity::{Word, words};

words! {
    /// What a file holds, by the folder it lies in.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
    pub enum Section {
        /// Kinds of equipment
        Equipment = "equipment",
        /// What can be fitted to equipment besides
        Accessory = "accessory",
        /// Values of an installation
        Fact = "fact",
        /// What a repair must come to, in figures
        Requirement = "requirement",
        /// What keeps tests from being made until it is cleared
        Hold = "hold",
        /// What can be found out about a fault
        Effect = "effect",
        /// What is common to kinds of causes
        Family = "family",
        /// What can be wrong
        Cause = "cause",
        /// Looks, readings and calculations
        Test = "test",
        /// The routing for a complaint
        Tree = "tree",
    }
}

impl Section {
    /// Name of the folder; the files of trees lie beside the folders.
    #[must_use]
    pub fn folder(self) -> &'static str {
        match self {
            Self::Equipment => "equipment",
            Self::Accessory => "accessories",
            Self::Fact => "facts",
            Self::Requirement => "requirements",
            Self::Hold => "holds",
            Self::Effect => "effects",
            Self::Family => "families",
            Self::Cause => "causes",
            Self::Test => "tests",
            Self::Tree => "trees",
        }
    }

    /// What a file holds by its name below the folder, such as `causes/supply.toml`.
    #[must_use]
    pub fn of_file(name: &str) -> Option<Self> {
        match name.split_once('/') {
            None => Some(Self::Tree),
            Some((folder, file)) => Self::ALL
                .iter()
                .copied()
                .filter(|section| *section != Self::Tree && !file.contains('/'))
                .find(|section| section.folder() == folder),
        }
    }
}

/// One entry of a section: its file, the place of its id, and its value.
#[derive(Clone, Copy)]
pub(super) struct Entry<'d> {
    pub(super) file: usize,
    pub(super) key: &'d Placed<Words<'d>>,
    pub(super) value: &'d Placed<Raw<'d>>,
}

impl<'d> Entry<'d> {
    pub(super) fn id(&self) -> &'d str {
        self.key.get_ref()
    }

    pub(super) fn place(&self) -> Stretch {
        self.key.in_file(self.file)
    }
}

/// One file parsed.
pub(super) struct Document<'d> {
    pub(super) section: Option<Section>,
    pub(super) root: Raw<'d>,
    /// Values of a file with a syntax error are incomplete; what is missing there is not reported.
    pub(super) broken: bool,
}

/// What the parser makes of one file.
type Parsed<'d> = (RawTable<'d>, Vec<toml::de::Error>);

/// All files parsed.
pub(super) struct Documents<'d> {
    pub(super) files: &'d Files,
    pub(super) list: Vec<Document<'d>>,
    /// File of each entry and its place in the table of its section. Only who points at entries needs it.
    index: OnceLock<Index>,
}

/// An effect as an entry names it, with its place, and the states named there with theirs.
pub(super) type Stated<'t> = (&'t str, Stretch, Vec<(&'t str, Stretch)>);

/// By section and id.
type Index = FxHashMap<Section, FxHashMap<String, (usize, usize)>>;

impl<'d> Documents<'d> {
    pub(super) fn parse(files: &'d Files, findings: &mut Vec<Finding>) -> Self {
        findings.extend(files.findings.iter().cloned());
        let list = parsed(files)
            .into_iter()
            .enumerate()
            .map(|(index, (root, errors))| {
                let section = Section::of_file(&files.list[index].name);
                let whole = Stretch {
                    file: index,
                    span: 0..0,
                };
                for error in &errors {
                    let span = error.span().unwrap_or(0..0);
                    findings.push(Finding::error(
                        Code::TomlSyntax,
                        Stretch { file: index, span },
                        format!("not TOML: {}", error.message()),
                        "correct the syntax; a text stands in double quotes, a table in braces stays on one line",
                    ));
                }
                if section.is_none() {
                    findings.push(Finding::error(
                        Code::MisplacedFile,
                        whole,
                        format!("`{}` lies in no folder that is read", files.list[index].name),
                        "put it under `causes`, `tests`, `facts`, `requirements`, `holds`, `effects`, `families`, `equipment` or `accessories`, or beside them if it is a tree",
                    ));
                }
                let unread = files
                    .findings
                    .iter()
                    .any(|finding| finding.primary.place.file == index);
                Document {
                    section,
                    root: Raw::Table(root),
                    broken: unread || !errors.is_empty(),
                }
            })
            .collect();
        Self {
            files,
            list,
            index: OnceLock::new(),
        }
    }

    /// Entries of a section in the order of the files and, within a file, of the lines. Of two entries with one
    /// id the first counts and the second is a finding.
    pub(super) fn entries(&'d self, section: Section, sink: &Sink) -> Vec<Entry<'d>> {
        let mut all: Vec<Entry<'d>> = Vec::new();
        let mut seen: HashMap<&str, Stretch> = HashMap::new();
        let name = section.word();
        for (file, document) in self.list.iter().enumerate() {
            if document.section != Some(section) {
                continue;
            }
            for key in document.root.keys().filter(|key| **key.get_ref() != *name) {
                sink.error(
                    Code::UnknownKey,
                    key.in_file(file),
                    format!("`{}` does not belong in this file", key.get_ref()),
                    format!("only `[{name}.ID]` stands here"),
                );
            }
            let Some(value) = document.root.get(name) else {
                continue;
            };
            for entry in entries_of(file, value, name, sink) {
                check_id(entry.id(), entry.place(), sink);
                if let Some(first) = seen.get(entry.id()) {
                    sink.push(
                        Finding::error(
                            Code::DuplicateId,
                            entry.place(),
                            format!("{name} `{}` stands twice", entry.id()),
                            "give one of them another id, or remove it",
                        )
                        .also(first.clone(), "first here"),
                    );
                    continue;
                }
                seen.insert(entry.id(), entry.place());
                all.push(entry);
            }
        }
        all
    }

    /// Place of the id of an entry, for findings about it as a whole.
    pub(super) fn entry(&self, section: Section, id: &str) -> Stretch {
        self.place(section, id, &[])
    }

    /// Place of the value of a key of an entry.
    pub(super) fn key(&self, section: Section, id: &str, key: Key) -> Stretch {
        self.place(section, id, &[Leg::Value(key.name)])
    }

    /// Place of the value of a key of an outcome of a test.
    pub(super) fn outcome(&self, test: &str, outcome: usize, key: Key) -> Stretch {
        self.place(Section::Test, test, &in_outcome(outcome, Leg::Value(key.name)))
    }

    /// Place of what an outcome finds of one cause.
    pub(super) fn finding(&self, test: &str, outcome: usize, cause: &str) -> Stretch {
        let [outcomes, item, finds] = in_outcome(outcome, Leg::Value(keys::outcome::FINDS.name));
        self.place(Section::Test, test, &[outcomes, item, finds, Leg::Key(cause)])
    }

    /// Place of the `[tree]` table of a tree.
    pub(super) fn tree(&self, tree: &str) -> Stretch {
        self.place(Section::Tree, tree, &[Leg::Key("tree")])
    }

    /// Place of the id of a node of a tree.
    pub(super) fn node(&self, tree: &str, node: &str) -> Stretch {
        self.place(Section::Tree, tree, &[Leg::Key("node"), Leg::Key(node)])
    }

    /// Place of the nearest thing there is on a path through an entry or a tree.
    pub(super) fn place(&self, section: Section, id: &str, path: &[Leg<'_>]) -> Stretch {
        self.follow(section, id, path).0
    }

    /// Place of what a path leads to, if all of it is written.
    pub(super) fn written(&self, section: Section, id: &str, path: &[Leg<'_>]) -> Option<Stretch> {
        let (place, value) = self.follow(section, id, path);
        value.map(|_| place)
    }

    /// The value a path leads to, if all of it is written.
    pub(super) fn value(&self, section: Section, id: &str, path: &[Leg<'_>]) -> Option<&Raw<'d>> {
        self.follow(section, id, path).1
    }

    /// What an entry says it does.
    pub(super) fn does(&self, section: Section, id: &str) -> Vec<Stated<'_>> {
        let (whole, does) = self.follow(section, id, &[Leg::Value(keys::cause::DOES.name)]);
        let effects = does.and_then(Raw::as_table).into_iter().flat_map(RawTable::iter);
        effects
            .map(|(effect, states)| {
                let states = states.get_ref().keys();
                let states = states.map(|state| (state.get_ref().as_ref(), state.in_file(whole.file)));
                (
                    effect.get_ref().as_ref(),
                    effect.in_file(whole.file),
                    states.collect(),
                )
            })
            .collect()
    }

    /// Goes as far along a path as it is written: the place reached, and the value where that is the end.
    fn follow(&self, section: Section, id: &str, path: &[Leg<'_>]) -> (Stretch, Option<&Raw<'d>>) {
        let Some((mut place, mut value)) = self.find(section, id) else {
            return (Stretch { file: 0, span: 0..0 }, None);
        };
        for step in path {
            let Some((span, next)) = step.from(value) else {
                return (place, None);
            };
            place.span = span;
            value = next;
        }
        (place, Some(value))
    }

    fn find(&self, section: Section, id: &str) -> Option<(Stretch, &Raw<'d>)> {
        let index = self.index.get_or_init(|| self.indexed());
        let (file, place) = *index.get(&section)?.get(id)?;
        let root = &self.list[file].root;
        if section == Section::Tree {
            return Some((Stretch { file, span: 0..0 }, root));
        }
        let (key, value) = root.get(section.word())?.get_ref().as_table()?.at(place)?;
        Some((key.in_file(file), value.get_ref()))
    }

    fn indexed(&self) -> Index {
        let mut index = Index::default();
        for (file, document) in self.list.iter().enumerate() {
            let Some(section) = document.section else { continue };
            let places = index.entry(section).or_default();
            if section == Section::Tree {
                let name = &self.files.list[file].name;
                places.insert(name.trim_end_matches(".toml").to_owned(), (file, 0));
                continue;
            }
            let entries = document
                .root
                .get(section.word())
                .into_iter()
                .flat_map(|value| value.get_ref().keys());
            for (place, key) in entries.enumerate() {
                // Of two entries with one id the first counts.
                places.entry(key.get_ref().to_string()).or_insert((file, place));
            }
        }
        index
    }
}

/// A step on the way to a value.
#[derive(Clone, Copy)]
pub(super) enum Leg<'p> {
    /// To a key, which is the place meant where the path ends or breaks off here.
    Key(&'p str),
    /// To the value of a key.
    Value(&'p str),
    /// To an item of a list, counted from 0.
    Item(usize),
    /// To the item of a list that is this text.
    Text(&'p str),
}

impl Leg<'_> {
    fn from<'v, 'd>(self, value: &'v Raw<'d>) -> Option<(Range<usize>, &'v Raw<'d>)> {
        let item = match self {
            Self::Key(name) => {
                let (key, value) = value.as_table()?.get_key_value(name)?;
                return Some((key.span(), value.get_ref()));
            }
            Self::Value(name) => value.get(name),
            Self::Item(index) => value.as_array()?.get(index),
            Self::Text(text) => {
                let mut items = value.as_array()?.iter();
                items.find(|item| item.get_ref().as_str() == Some(text))
            }
        };
        item.map(|item| (item.span(), item.get_ref()))
    }
}

/// The path to something in an outcome of a test.
pub(super) fn in_outcome(outcome: usize, to: Leg<'_>) -> [Leg<'_>; 3] {
    [Leg::Key(keys::test::OUTCOME.name), Leg::Item(outcome), to]
}

/// Parses the files, which do not depend on each other.
fn parsed(files: &Files) -> Vec<Parsed<'_>> {
    let mut order: Vec<usize> = (0..files.list.len()).collect();
    order.sort_by_key(|index| std::cmp::Reverse(files.list[*index].text.len()));
    threads::each(&order, |index| RawTable::parse(&files.list[index].text))
}

/// The keys of a table of entries, in the order of the lines.
pub(super) fn entries_of<'d>(
    file: usize,
    value: &'d Placed<Raw<'d>>,
    key: &str,
    sink: &Sink,
) -> Vec<Entry<'d>> {
    let table = value.get_ref().as_table();
    if table.is_none() {
        sink.error(
            Code::WrongType,
            value.in_file(file),
            format!("`{key}` is {}, expected tables", value.get_ref().type_name()),
            format!("write `[{key}.ID]` and its keys below"),
        );
    }
    let entries = table.into_iter().flat_map(RawTable::iter);
    entries.map(|(key, value)| Entry { file, key, value }).collect()
}

/// An id is kebab-case: lowercase letters, digits and single hyphens.
pub(super) fn check_id(id: &str, place: Stretch, sink: &Sink) {
    let good = !id.is_empty()
        && id.split('-').all(|word| {
            !word.is_empty() && word.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit())
        });
    if !good {
        sink.error(
            Code::BadId,
            place,
            format!("`{id}` is not an id"),
            "use lowercase letters, digits and single hyphens, such as `loose-lug`",
        );
    }
}
