//! Reads the keys of one table, reporting what is missing, of the wrong type, or not known.

use super::document::type_name;
use super::finding::{Code, Finding, Stretch};
use super::nearest;
use crate::knowledge::raw::{Placed, Raw, RawTable};

/// One table being read. Every key asked for is remembered, so that [`Fields::finish`] can refuse the others.
pub(super) struct Fields<'d> {
    file: usize,
    /// What the table is, for messages: "test `x`".
    what: String,
    /// Where to point when something is missing.
    place: Stretch,
    table: Option<&'d RawTable<'d>>,
    asked: Vec<&'static str>,
    /// Values of a file with a syntax error are incomplete, so nothing is reported missing.
    broken: bool,
}

/// A text with its place.
#[derive(Clone, Debug)]
pub(super) struct Text<'d> {
    pub(super) text: &'d str,
    pub(super) place: Stretch,
}

impl<'d> Fields<'d> {
    pub(super) fn new(
        what: String,
        place: Stretch,
        value: &'d Placed<Raw<'d>>,
        broken: bool,
        findings: &mut Vec<Finding>,
    ) -> Self {
        let file = place.file;
        let table = value.get_ref().as_table();
        if table.is_none() {
            findings.push(Finding::error(
                Code::WrongType,
                Stretch {
                    file,
                    span: value.span(),
                },
                format!("{what} is {}, expected a table", type_name(value.get_ref())),
                "write its keys as `key = value`",
            ));
        }
        Self {
            file,
            what,
            place,
            table,
            asked: Vec::new(),
            broken,
        }
    }

    pub(super) fn what(&self) -> &str {
        &self.what
    }

    pub(super) fn place(&self) -> Stretch {
        self.place.clone()
    }

    pub(super) fn broken(&self) -> bool {
        self.broken
    }

    /// The raw value of a key, marked as asked for.
    pub(super) fn value(&mut self, key: &'static str) -> Option<&'d Placed<Raw<'d>>> {
        self.asked.push(key);
        self.table?.get(key)
    }

    /// Place of the value of a key, or of the table when it is not written.
    pub(super) fn place_of(&self, key: &str) -> Stretch {
        self.table.and_then(|table| table.get(key)).map_or_else(
            || self.place(),
            |value| Stretch {
                file: self.file,
                span: value.span(),
            },
        )
    }

    /// Place of a key itself.
    pub(super) fn place_of_key(&self, key: &str) -> Stretch {
        self.table.and_then(|table| table.get_key_value(key)).map_or_else(
            || self.place(),
            |(key, _)| Stretch {
                file: self.file,
                span: key.span(),
            },
        )
    }

    /// Place of a value inside this table.
    pub(super) fn place_in_file(&self, value: &Placed<Raw<'d>>) -> Stretch {
        Stretch {
            file: self.file,
            span: value.span(),
        }
    }

    fn missing(&self, key: &str, findings: &mut Vec<Finding>) {
        if self.table.is_some() && !self.broken {
            findings.push(Finding::error(
                Code::MissingKey,
                self.place(),
                format!("{} has no `{key}`", self.what),
                format!("add `{key} = ...`"),
            ));
        }
    }

    pub(super) fn wrong(
        &self,
        key: &str,
        value: &Placed<Raw<'d>>,
        expected: &str,
        findings: &mut Vec<Finding>,
    ) {
        findings.push(Finding::error(
            Code::WrongType,
            Stretch {
                file: self.file,
                span: value.span(),
            },
            format!("`{key}` is {}, expected {expected}", type_name(value.get_ref())),
            format!("write {expected}"),
        ));
    }

    /// A text that may be left out.
    pub(super) fn text_if(&mut self, key: &'static str, findings: &mut Vec<Finding>) -> Option<Text<'d>> {
        let value = self.value(key)?;
        match value.get_ref() {
            Raw::Text(text) => Some(Text {
                text: text.as_ref(),
                place: Stretch {
                    file: self.file,
                    span: value.span(),
                },
            }),
            _ => {
                self.wrong(key, value, "a text in double quotes", findings);
                None
            }
        }
    }

    /// A text that must be there; empty after a finding.
    pub(super) fn text(&mut self, key: &'static str, findings: &mut Vec<Finding>) -> Text<'d> {
        if self.table.is_some_and(|table| !table.contains_key(key)) {
            self.missing(key, findings);
        }
        self.text_if(key, findings).unwrap_or_else(|| Text {
            text: "",
            place: self.place(),
        })
    }

    /// A text that must be there, owned.
    pub(super) fn prose(&mut self, key: &'static str, findings: &mut Vec<Finding>) -> String {
        self.text(key, findings).text.to_owned()
    }

    /// A list of texts that may be left out.
    pub(super) fn texts(&mut self, key: &'static str, findings: &mut Vec<Finding>) -> Vec<Text<'d>> {
        let Some(value) = self.value(key) else {
            return Vec::new();
        };
        let Some(items) = value.get_ref().as_array() else {
            self.wrong(key, value, "a list of texts in square brackets", findings);
            return Vec::new();
        };
        let mut texts = Vec::new();
        for item in items.iter() {
            match item.get_ref() {
                Raw::Text(text) => texts.push(Text {
                    text: text.as_ref(),
                    place: Stretch {
                        file: self.file,
                        span: item.span(),
                    },
                }),
                _ => self.wrong(key, item, "a text in double quotes", findings),
            }
        }
        texts
    }

    /// A list of texts that must be written, owned.
    pub(super) fn proses(&mut self, key: &'static str, findings: &mut Vec<Finding>) -> Vec<String> {
        if self.table.is_some_and(|table| !table.contains_key(key)) {
            self.missing(key, findings);
        }
        self.texts(key, findings)
            .iter()
            .map(|text| text.text.to_owned())
            .collect()
    }

    /// A list of tables; empty when not written.
    pub(super) fn tables(
        &mut self,
        key: &'static str,
        findings: &mut Vec<Finding>,
    ) -> Vec<&'d Placed<Raw<'d>>> {
        let Some(value) = self.value(key) else {
            return Vec::new();
        };
        match value.get_ref().as_array() {
            Some(items) => items.iter().collect(),
            None => {
                self.wrong(key, value, "a list of tables", findings);
                Vec::new()
            }
        }
    }

    /// A list that must be written, of whatever items.
    pub(super) fn list(
        &mut self,
        key: &'static str,
        findings: &mut Vec<Finding>,
    ) -> Vec<&'d Placed<Raw<'d>>> {
        let Some(value) = self.value(key) else {
            self.missing(key, findings);
            return Vec::new();
        };
        match value.get_ref().as_array() {
            Some(items) => items.iter().collect(),
            None => {
                self.wrong(key, value, "a list in square brackets", findings);
                Vec::new()
            }
        }
    }

    /// Key and value pairs of an inner table, in the order of the lines; empty when not written.
    pub(super) fn pairs(
        &mut self,
        key: &'static str,
        findings: &mut Vec<Finding>,
    ) -> Vec<(Text<'d>, &'d Placed<Raw<'d>>)> {
        let Some(value) = self.value(key) else {
            return Vec::new();
        };
        let Some(table) = value.get_ref().as_table() else {
            self.wrong(key, value, "a table in braces", findings);
            return Vec::new();
        };
        pairs_of(self.file, table)
    }

    /// Key and text pairs of an inner table.
    pub(super) fn text_pairs(
        &mut self,
        key: &'static str,
        findings: &mut Vec<Finding>,
    ) -> Vec<(Text<'d>, Text<'d>)> {
        let mut texts = Vec::new();
        for (name, value) in self.pairs(key, findings) {
            match value.get_ref() {
                Raw::Text(text) => {
                    let place = Stretch {
                        file: self.file,
                        span: value.span(),
                    };
                    texts.push((
                        name,
                        Text {
                            text: text.as_ref(),
                            place,
                        },
                    ));
                }
                _ => self.wrong(name.text, value, "a text in double quotes", findings),
            }
        }
        texts
    }

    /// Whether a key is written.
    pub(super) fn has(&self, key: &str) -> bool {
        self.table.is_some_and(|table| table.contains_key(key))
    }

    /// A number that must be there and lie between two bounds; the lower bound after a finding.
    pub(super) fn number(
        &mut self,
        key: &'static str,
        lowest: f64,
        highest: f64,
        findings: &mut Vec<Finding>,
    ) -> f64 {
        let Some(value) = self.value(key) else {
            self.missing(key, findings);
            return lowest;
        };
        match value.get_ref().as_number() {
            Some(number) if number >= lowest && number <= highest => number,
            Some(number) => {
                findings.push(Finding::error(
                    Code::BadFigure,
                    Stretch {
                        file: self.file,
                        span: value.span(),
                    },
                    format!("`{key}` is {number}, expected {lowest} to {highest}"),
                    "correct the figure",
                ));
                lowest
            }
            None => {
                self.wrong(key, value, "a number", findings);
                lowest
            }
        }
    }

    /// A number that may be left out, and lies between two bounds.
    pub(super) fn number_if(
        &mut self,
        key: &'static str,
        lowest: f64,
        highest: f64,
        findings: &mut Vec<Finding>,
    ) -> Option<f64> {
        if self.has(key) {
            return Some(self.number(key, lowest, highest, findings));
        }
        self.asked.push(key);
        None
    }

    /// True or false; false when not written.
    pub(super) fn flag(&mut self, key: &'static str, findings: &mut Vec<Finding>) -> bool {
        let Some(value) = self.value(key) else {
            return false;
        };
        value.get_ref().as_bool().unwrap_or_else(|| {
            self.wrong(key, value, "`true` or `false`", findings);
            false
        })
    }

    /// One of a few words that must be there; the first one after a finding.
    pub(super) fn word<T: Copy>(
        &mut self,
        key: &'static str,
        words: &[(&'static str, T)],
        findings: &mut Vec<Finding>,
    ) -> T {
        let text = self.text(key, findings);
        if text.text.is_empty() {
            return words[0].1;
        }
        word_of(key, &text, words, findings).unwrap_or(words[0].1)
    }

    /// One of a few words that may be left out.
    pub(super) fn word_if<T: Copy>(
        &mut self,
        key: &'static str,
        words: &[(&'static str, T)],
        findings: &mut Vec<Finding>,
    ) -> Option<T> {
        let text = self.text_if(key, findings)?;
        word_of(key, &text, words, findings)
    }

    /// Refuses every key that was not asked for.
    pub(super) fn finish(self, findings: &mut Vec<Finding>) {
        let Some(table) = self.table else { return };
        let mut strangers: Vec<_> = table
            .keys()
            .filter(|key| !self.asked.contains(&key.get_ref().as_ref()))
            .collect();
        strangers.sort_by_key(|key| key.span().start);
        for key in strangers {
            let fallback = format!("it takes {}", nearest::one_of(&self.asked));
            findings.push(Finding::error(
                Code::UnknownKey,
                Stretch {
                    file: self.file,
                    span: key.span(),
                },
                format!("{} takes no `{}`", self.what, key.get_ref()),
                nearest::did_you_mean(key.get_ref(), self.asked.iter().copied(), &fallback),
            ));
        }
    }
}

/// Key and value pairs of a table, in the order of the lines.
pub(super) fn pairs_of<'d>(file: usize, table: &'d RawTable<'d>) -> Vec<(Text<'d>, &'d Placed<Raw<'d>>)> {
    let mut pairs: Vec<_> = table
        .iter()
        .map(|(key, value)| {
            let place = Stretch {
                file,
                span: key.span(),
            };
            (
                Text {
                    text: key.get_ref().as_ref(),
                    place,
                },
                value,
            )
        })
        .collect();
    pairs.sort_by_key(|(key, _)| key.place.span.start);
    pairs
}

/// The meaning of one word out of a few, or a finding.
pub(super) fn word_of<T: Copy>(
    key: &str,
    text: &Text<'_>,
    words: &[(&'static str, T)],
    findings: &mut Vec<Finding>,
) -> Option<T> {
    let found = words
        .iter()
        .find(|(word, _)| *word == text.text)
        .map(|(_, meaning)| *meaning);
    if found.is_none() {
        let known: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
        findings.push(Finding::error(
            Code::UnknownWord,
            text.place.clone(),
            format!("`{}` is no {key}", text.text),
            nearest::did_you_mean(
                text.text,
                known.iter().copied(),
                &format!("use {}", nearest::one_of(&known)),
            ),
        ));
    }
    found
}
