//! Reads the keys of one table, reporting what is missing, of the wrong type, or not known.

mod key;
pub(super) mod keys;
pub(super) mod words;

pub(super) use key::{Form, Key, Of};

use super::finding::{Code, Sink, Stretch};
use super::nearest;
use super::raw::{Placed, Raw, RawTable};
use crate::quantity::Word;

/// One table being read. Every key asked for is remembered, so that [`Fields::finish`] can refuse the others.
pub(super) struct Fields<'d> {
    sink: &'d Sink,
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

impl Text<'_> {
    pub(super) fn owned(&self) -> String {
        self.text.to_owned()
    }
}

impl<'d> Fields<'d> {
    /// Opens a table of a file. A value that is no table is reported and read as empty.
    pub(super) fn new(
        what: String,
        place: Stretch,
        value: &'d Placed<Raw<'d>>,
        broken: bool,
        sink: &'d Sink,
    ) -> Self {
        let table = value.get_ref().as_table();
        if table.is_none() {
            sink.error(
                Code::WrongType,
                value.in_file(place.file),
                format!("{what} is {}, expected a table", value.get_ref().type_name()),
                "write its keys as `key = value`",
            );
        }
        Self {
            sink,
            what,
            place,
            table,
            asked: Vec::new(),
            broken,
        }
    }

    /// Opens a table within this one.
    pub(super) fn inner(&self, what: String, value: &'d Placed<Raw<'d>>) -> Self {
        Self::new(what, self.at(value), value, self.broken, self.sink)
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

    /// Place of a value of this file.
    pub(super) fn at<T>(&self, value: &Placed<T>) -> Stretch {
        value.in_file(self.place.file)
    }

    /// The value of a key, if it is written.
    pub(super) fn value(&mut self, key: Key) -> Option<&'d Placed<Raw<'d>>> {
        self.asked.push(key.name);
        self.table?.get(key.name)
    }

    /// The value of a key; a key that is always there and is not written is reported.
    fn written(&mut self, key: Key) -> Option<&'d Placed<Raw<'d>>> {
        let value = self.value(key);
        if value.is_none() && key.is_required {
            self.missing(key);
        }
        value
    }

    /// Place of the value of a key, of the whole table when it is not written.
    pub(super) fn place_of(&self, key: Key) -> Stretch {
        let value = self.table.and_then(|table| table.get(key.name));
        value.map_or_else(|| self.place(), |value| self.at(value))
    }

    /// Place of the key itself, of the whole table when it is not written.
    pub(super) fn place_of_key(&self, key: &str) -> Stretch {
        let written = self.table.and_then(|table| table.get_key_value(key));
        written.map_or_else(|| self.place(), |(key, _)| self.at(key))
    }

    fn missing(&self, key: Key) {
        if self.table.is_some() && !self.broken {
            self.sink.error(
                Code::MissingKey,
                self.place(),
                format!("{} has no `{}`", self.what, key.name),
                format!("add `{} = ...`", key.name),
            );
        }
    }

    /// Reports a value of the wrong type.
    pub(super) fn wrong(&self, key: &str, value: &Placed<Raw<'d>>, expected: &str) {
        self.sink.error(
            Code::WrongType,
            self.at(value),
            format!("`{key}` is {}, expected {expected}", value.get_ref().type_name()),
            format!("write {expected}"),
        );
    }

    fn text_of(&self, key: &str, value: &'d Placed<Raw<'d>>) -> Option<Text<'d>> {
        let text = value.get_ref().as_str();
        if text.is_none() {
            self.wrong(key, value, "a text in double quotes");
        }
        text.map(|text| Text {
            text,
            place: self.at(value),
        })
    }

    /// A text that may be left out.
    pub(super) fn text_if(&mut self, key: Key) -> Option<Text<'d>> {
        let value = self.value(key)?;
        self.text_of(key.name, value)
    }

    /// A text that must be there; empty after a finding.
    pub(super) fn text(&mut self, key: Key) -> Text<'d> {
        if !self.has(key) {
            self.missing(key);
        }
        self.text_if(key).unwrap_or_else(|| Text {
            text: "",
            place: self.place(),
        })
    }

    /// A text that must be there, as owned words.
    pub(super) fn prose(&mut self, key: Key) -> String {
        self.text(key).owned()
    }

    /// Words that may be left out.
    pub(super) fn prose_if(&mut self, key: Key) -> Option<String> {
        self.text_if(key).map(|text| text.owned())
    }

    /// A list of texts; empty when it is left out.
    pub(super) fn texts(&mut self, key: Key) -> Vec<Text<'d>> {
        let items = self.items(key, "a list of texts in square brackets");
        items.filter_map(|item| self.text_of(key.name, item)).collect()
    }

    /// A list of texts as owned words; empty when it is left out.
    pub(super) fn proses_if(&mut self, key: Key) -> Vec<String> {
        self.texts(key).iter().map(Text::owned).collect()
    }

    /// A list of texts that must be there, as owned words.
    pub(super) fn proses(&mut self, key: Key) -> Vec<String> {
        if !self.has(key) {
            self.missing(key);
        }
        self.proses_if(key)
    }

    /// The items of a list; none when it is left out.
    pub(super) fn items(&mut self, key: Key, expected: &str) -> std::slice::Iter<'d, Placed<Raw<'d>>> {
        let value = self.written(key);
        let items = value.and_then(|value| {
            let items = value.get_ref().as_array();
            if items.is_none() {
                self.wrong(key.name, value, expected);
            }
            items
        });
        items.unwrap_or_default().iter()
    }

    /// The key-value pairs of a table under a key, in the order of the lines; empty when it is left out.
    pub(super) fn pairs(&mut self, key: Key) -> Vec<(Text<'d>, &'d Placed<Raw<'d>>)> {
        let Some(value) = self.written(key) else {
            return Vec::new();
        };
        let Some(table) = value.get_ref().as_table() else {
            self.wrong(key.name, value, "a table in braces");
            return Vec::new();
        };
        pairs_of(self.place.file, table)
    }

    /// A table from ids to texts, in the order of the lines; empty when it is left out.
    pub(super) fn text_pairs(&mut self, key: Key) -> Vec<(Text<'d>, Text<'d>)> {
        let pairs = self.pairs(key).into_iter();
        pairs
            .filter_map(|(name, value)| self.text_of(name.text, value).map(|text| (name, text)))
            .collect()
    }

    fn has(&self, key: Key) -> bool {
        self.table.is_none_or(|table| table.contains_key(key.name))
    }

    /// A number that must be there, within the bounds of its form; the lowest after a finding.
    pub(super) fn number(&mut self, key: Key) -> f64 {
        let lowest = key.form.bounds().map_or(0.0, |(lowest, _)| lowest);
        self.number_if(key).unwrap_or(lowest)
    }

    /// A number that may be left out, within the bounds of its form; the lowest after a finding.
    pub(super) fn number_if(&mut self, key: Key) -> Option<f64> {
        let value = self.written(key)?;
        let (lowest, highest) = key.form.bounds()?;
        let number = value.get_ref().as_number();
        match number {
            Some(number) if number >= lowest && number <= highest => return Some(number),
            Some(number) => self.sink.error(
                Code::BadFigure,
                self.at(value),
                format!("`{}` is {number}, expected {lowest} to {highest}", key.name),
                "correct the figure",
            ),
            None => self.wrong(key.name, value, "a number"),
        }
        Some(lowest)
    }

    /// `true` or `false`; `false` when left out.
    pub(super) fn flag(&mut self, key: Key) -> bool {
        let Some(value) = self.value(key) else {
            return false;
        };
        value.get_ref().as_bool().unwrap_or_else(|| {
            self.wrong(key.name, value, "`true` or `false`");
            false
        })
    }

    /// The meaning of a word that must be there; the first one's after a finding.
    pub(super) fn word<T: Word>(&mut self, key: Key) -> T {
        let text = self.text(key);
        let found = (!text.text.is_empty())
            .then(|| self.meaning(key, &text))
            .flatten();
        found.unwrap_or(T::ALL[0])
    }

    /// The meaning of a word that may be left out.
    pub(super) fn word_if<T: Word>(&mut self, key: Key) -> Option<T> {
        let text = self.text_if(key)?;
        self.meaning(key, &text)
    }

    /// The meanings of a list of words, called `what` in messages.
    pub(super) fn words<T: Word>(&mut self, key: Key, what: &str) -> Vec<T> {
        let texts = self.texts(key);
        let meanings = texts
            .iter()
            .filter_map(|text| word_of(what, text, T::ALL, self.sink));
        meanings.collect()
    }

    /// The meaning of a word among those the form of its key lists.
    fn meaning<T: Word>(&self, key: Key, text: &Text<'_>) -> Option<T> {
        let Form::Word(words) = key.form else {
            return None;
        };
        let is_listed = |value: &T| words.contains(&value.word());
        let listed: Vec<T> = T::ALL.iter().copied().filter(is_listed).collect();
        word_of(key.name, text, &listed, self.sink)
    }

    /// Reports the keys nobody asked for.
    pub(super) fn finish(self) {
        let Some(table) = self.table else { return };
        let is_asked = |key: &str| self.asked.contains(&key);
        for key in table.keys().filter(|key| !is_asked(key.get_ref())) {
            let fallback = format!("it takes {}", nearest::one_of(&self.asked));
            self.sink.error(
                Code::UnknownKey,
                self.at(key),
                format!("{} takes no `{}`", self.what, key.get_ref()),
                nearest::did_you_mean(key.get_ref(), self.asked.iter().copied(), &fallback),
            );
        }
    }
}

/// The pairs of a table in the order of the lines.
pub(super) fn pairs_of<'d>(file: usize, table: &'d RawTable<'d>) -> Vec<(Text<'d>, &'d Placed<Raw<'d>>)> {
    let pairs = table.iter().map(|(key, value)| {
        let text = Text {
            text: key.get_ref().as_ref(),
            place: key.in_file(file),
        };
        (text, value)
    });
    pairs.collect()
}

/// The meaning of a word among those known.
pub(super) fn word_of<T: Word>(what: &str, text: &Text<'_>, known: &[T], sink: &Sink) -> Option<T> {
    let found = known.iter().copied().find(|value| value.word() == text.text);
    if found.is_none() {
        let known: Vec<&str> = known.iter().map(|value| value.word()).collect();
        no_such_word(what, text, &known, sink);
    }
    found
}

/// Reports a word that is none of those known.
pub(super) fn no_such_word(what: &str, text: &Text<'_>, known: &[&str], sink: &Sink) {
    sink.error(
        Code::UnknownWord,
        text.place.clone(),
        format!("`{}` is no {what}", text.text),
        nearest::did_you_mean(
            text.text,
            known.iter().copied(),
            &format!("use {}", nearest::one_of(known)),
        ),
    );
}
