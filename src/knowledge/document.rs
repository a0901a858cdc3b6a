//! The files parsed as TOML, every value with its place, and where to find a value again by its path.
//!
//! The raw form is the parser's own tree rather than structures of ours: it keeps the place of every key and
//! value and goes on after a fault, so that one wrong type does not hide the findings behind it.

use std::collections::HashMap;
use std::sync::OnceLock;

use rustc_hash::FxHashMap;

use super::files::Files;
use super::finding::{Code, Finding, Stretch};
use super::threads;
use crate::knowledge::raw::{Placed, Raw, RawTable, Words};

/// What a file holds, by the folder it lies in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(super) enum Section {
    Equipment,
    Accessory,
    Fact,
    Requirement,
    Hold,
    Effect,
    Family,
    Cause,
    Test,
    Tree,
}

impl Section {
    /// Name of the outermost table, and of the folder.
    const FOLDERS: [(Self, &'static str, &'static str); 9] = [
        (Self::Equipment, "equipment", "equipment"),
        (Self::Accessory, "accessory", "accessories"),
        (Self::Fact, "fact", "facts"),
        (Self::Requirement, "requirement", "requirements"),
        (Self::Hold, "hold", "holds"),
        (Self::Effect, "effect", "effects"),
        (Self::Family, "family", "families"),
        (Self::Cause, "cause", "causes"),
        (Self::Test, "test", "tests"),
    ];

    /// Key of the outermost table.
    pub(super) fn key(self) -> &'static str {
        Self::FOLDERS
            .iter()
            .find(|(section, ..)| *section == self)
            .map_or("node", |(_, key, _)| key)
    }

    fn of_file(name: &str) -> Option<Self> {
        match name.split_once('/') {
            None => Some(Self::Tree),
            Some((folder, file)) if !file.contains('/') => Self::FOLDERS
                .iter()
                .find(|(.., known)| *known == folder)
                .map(|(section, ..)| *section),
            Some(_) => None,
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
        Stretch {
            file: self.file,
            span: self.key.span(),
        }
    }
}

/// One file parsed.
pub(super) struct Document<'d> {
    pub(super) section: Option<Section>,
    pub(super) root: RawTable<'d>,
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
                    root,
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
    pub(super) fn entries(&'d self, section: Section, findings: &mut Vec<Finding>) -> Vec<Entry<'d>> {
        let mut all: Vec<Entry<'d>> = Vec::new();
        let mut seen: HashMap<&str, Stretch> = HashMap::new();
        for (file, document) in self.list.iter().enumerate() {
            if document.section != Some(section) {
                continue;
            }
            self.refuse_strangers(file, section.key(), findings);
            let Some(value) = document.root.get(section.key()) else {
                continue;
            };
            for entry in entries_of(file, value, section.key(), findings) {
                check_id(entry.id(), entry.place(), findings);
                if let Some(first) = seen.get(entry.id()) {
                    findings.push(
                        Finding::error(
                            Code::DuplicateId,
                            entry.place(),
                            format!("{} `{}` stands twice", section.key(), entry.id()),
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

    fn refuse_strangers(&self, file: usize, allowed: &str, findings: &mut Vec<Finding>) {
        for key in self.list[file].root.keys() {
            if **key.get_ref() != *allowed {
                findings.push(Finding::error(
                    Code::UnknownKey,
                    Stretch {
                        file,
                        span: key.span(),
                    },
                    format!("`{}` does not belong in this file", key.get_ref()),
                    format!("only `[{allowed}.ID]` stands here"),
                ));
            }
        }
    }

    /// Place of the id of an entry, for findings about it as a whole.
    pub(super) fn entry(&self, section: Section, id: &str) -> Stretch {
        self.find(section, id)
            .map_or(Stretch { file: 0, span: 0..0 }, |(file, key, _)| Stretch {
                file,
                span: key.span(),
            })
    }

    /// Place of the value of a key of an entry; the entry's own place when the key is not written.
    pub(super) fn key(&self, section: Section, id: &str, key: &str) -> Stretch {
        self.find(section, id)
            .and_then(|(file, _, value)| {
                let value = value.get_ref().as_table()?.get(key)?;
                Some(Stretch {
                    file,
                    span: value.span(),
                })
            })
            .unwrap_or_else(|| self.entry(section, id))
    }

    /// Place of one item of a list of an entry.
    pub(super) fn item(&self, section: Section, id: &str, key: &str, index: usize) -> Stretch {
        self.find(section, id)
            .and_then(|(file, _, value)| {
                let list = value.get_ref().as_table()?.get(key)?.get_ref().as_array()?;
                let span = list.get(index)?.span();
                Some(Stretch { file, span })
            })
            .unwrap_or_else(|| self.key(section, id, key))
    }

    /// Place of a node of a tree, or of one of its keys.
    pub(super) fn node(&self, tree: &str, node: &str, key: Option<&str>) -> Stretch {
        let name = format!("{tree}.toml");
        let Some(file) = self.files.list.iter().position(|file| file.name == name) else {
            return Stretch { file: 0, span: 0..0 };
        };
        let nodes = self.list[file]
            .root
            .get("node")
            .and_then(|nodes| nodes.get_ref().as_table());
        let Some((id, value)) = nodes.and_then(|nodes| nodes.get_key_value(node)) else {
            return Stretch { file, span: 0..0 };
        };
        let inner = key.and_then(|key| value.get_ref().as_table()?.get(key));
        Stretch {
            file,
            span: inner.map_or_else(|| id.span(), Placed::span),
        }
    }

    /// Place of one string in a list of a node, such as a test in a `narrow` pool.
    pub(super) fn node_item(&self, tree: &str, node: &str, key: &str, item: &str) -> Stretch {
        let whole = self.node(tree, node, Some(key));
        let nodes = self.list[whole.file]
            .root
            .get("node")
            .and_then(|nodes| nodes.get_ref().as_table());
        nodes
            .and_then(|nodes| {
                nodes
                    .get(node)?
                    .get_ref()
                    .as_table()?
                    .get(key)?
                    .get_ref()
                    .as_array()
            })
            .and_then(|items| items.iter().find(|value| value.get_ref().as_str() == Some(item)))
            .map_or(whole.clone(), |value| Stretch {
                file: whole.file,
                span: value.span(),
            })
    }

    /// Place of the `[tree]` table of a tree.
    pub(super) fn tree(&self, tree: &str) -> Stretch {
        let name = format!("{tree}.toml");
        let file = self
            .files
            .list
            .iter()
            .position(|file| file.name == name)
            .unwrap_or(0);
        let key = self
            .list
            .get(file)
            .and_then(|document| document.root.get_key_value("tree"));
        Stretch {
            file,
            span: key.map_or(0..0, |(key, _)| key.span()),
        }
    }

    /// Place of the id of an outcome of a test, or of one of its keys.
    pub(super) fn outcome(&self, test: &str, outcome: usize, key: &str) -> Stretch {
        self.find(Section::Test, test)
            .and_then(|(file, _, value)| {
                let list = value.get_ref().as_table()?.get("outcome")?.get_ref().as_array()?;
                let value = list.get(outcome)?.get_ref().as_table()?.get(key)?;
                Some(Stretch {
                    file,
                    span: value.span(),
                })
            })
            .unwrap_or_else(|| self.entry(Section::Test, test))
    }

    /// Place of what an outcome says of one cause or effect, under `shows` or `finds`.
    pub(super) fn named(&self, test: &str, outcome: usize, key: &str, name: &str) -> Stretch {
        self.find(Section::Test, test)
            .and_then(|(file, _, value)| {
                let list = value.get_ref().as_table()?.get("outcome")?.get_ref().as_array()?;
                let said = list.get(outcome)?.get_ref().as_table()?.get(key)?;
                let (key, _) = said.get_ref().as_table()?.get_key_value(name)?;
                Some(Stretch {
                    file,
                    span: key.span(),
                })
            })
            .unwrap_or_else(|| self.outcome(test, outcome, key))
    }

    /// A text of an entry.
    pub(super) fn text(&self, section: Section, id: &str, key: &str) -> Option<&str> {
        let (_, _, value) = self.find(section, id)?;
        value.get_ref().as_table()?.get(key)?.get_ref().as_str()
    }

    /// What an entry says it does.
    pub(super) fn does(&self, section: Section, id: &str) -> Vec<Stated<'_>> {
        let Some((file, _, value)) = self.find(section, id) else {
            return Vec::new();
        };
        let at = |key: &Placed<Words<'d>>| Stretch {
            file,
            span: key.span(),
        };
        let effects = value.get_ref().as_table().and_then(|table| table.get("does"));
        let effects = effects.and_then(|does| does.get_ref().as_table());
        let effects = effects.into_iter().flat_map(RawTable::iter);
        effects
            .map(|(effect, states)| {
                let states = states.get_ref().as_table().into_iter().flat_map(RawTable::keys);
                let states = states.map(|state| (state.get_ref().as_ref(), at(state)));
                (effect.get_ref().as_ref(), at(effect), states.collect())
            })
            .collect()
    }

    fn find(&self, section: Section, id: &str) -> Option<(usize, &Placed<Words<'d>>, &Placed<Raw<'d>>)> {
        let index = self.index.get_or_init(|| self.indexed());
        let (file, place) = *index.get(&section)?.get(id)?;
        let (key, value) = self.section(file)?.1.at(place)?;
        Some((file, key, value))
    }

    fn section(&self, file: usize) -> Option<(Section, &RawTable<'d>)> {
        let document = &self.list[file];
        let section = document.section?;
        let table = document.root.get(section.key())?.get_ref().as_table()?;
        Some((section, table))
    }

    fn indexed(&self) -> Index {
        let mut index = Index::default();
        for file in 0..self.list.len() {
            let Some((section, table)) = self.section(file) else {
                continue;
            };
            let places = index.entry(section).or_default();
            for (place, key) in table.keys().enumerate() {
                // Of two entries with one id the first counts.
                places.entry(key.get_ref().to_string()).or_insert((file, place));
            }
        }
        index
    }
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
    findings: &mut Vec<Finding>,
) -> Vec<Entry<'d>> {
    let Some(table) = value.get_ref().as_table() else {
        findings.push(Finding::error(
            Code::WrongType,
            Stretch {
                file,
                span: value.span(),
            },
            format!("`{key}` is {}, expected tables", type_name(value.get_ref())),
            format!("write `[{key}.ID]` and its keys below"),
        ));
        return Vec::new();
    };
    let mut entries: Vec<_> = table
        .iter()
        .map(|(key, value)| Entry { file, key, value })
        .collect();
    entries.sort_by_key(|entry| entry.key.span().start);
    entries
}

/// An id is kebab-case: lowercase letters, digits and single hyphens.
pub(super) fn check_id(id: &str, place: Stretch, findings: &mut Vec<Finding>) {
    let good = !id.is_empty()
        && id.split('-').all(|word| {
            !word.is_empty() && word.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit())
        });
    if !good {
        findings.push(Finding::error(
            Code::BadId,
            place,
            format!("`{id}` is not an id"),
            "use lowercase letters, digits and single hyphens, such as `loose-lug`",
        ));
    }
}

/// The type of a value in words, with its article.
pub(super) fn type_name(value: &Raw<'_>) -> &'static str {
    match value {
        Raw::Text(_) => "a text",
        Raw::Whole(_) => "a whole number",
        Raw::Decimal(_) => "a number",
        Raw::Flag(_) => "true or false",
        Raw::Date => "a date",
        Raw::List(_) => "a list",
        Raw::Table(_) => "a table",
    }
}
