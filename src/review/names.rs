//! Names kept once, however many rows have them.

use std::collections::HashMap;

/// A name, by its place among all.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, serde::Serialize, serde::Deserialize)]
pub(super) struct Name(u32);

/// All names of some rows.
#[derive(Clone, Debug, Default)]
pub(super) struct Names {
    texts: Vec<String>,
    places: HashMap<String, u32>,
}

impl Names {
    pub(super) fn of(&mut self, text: &str) -> Name {
        if let Some(place) = self.places.get(text) {
            return Name(*place);
        }
        // Four thousand million names would fill the memory long before.
        let place = u32::try_from(self.texts.len()).unwrap_or(u32::MAX);
        self.texts.push(text.to_owned());
        self.places.insert(text.to_owned(), place);
        Name(place)
    }

    pub(super) fn from_texts(texts: Vec<String>) -> Self {
        let places = texts
            .iter()
            .zip(0..)
            .map(|(text, place)| (text.clone(), place))
            .collect();
        Self { texts, places }
    }

    pub(super) fn texts(&self) -> &[String] {
        &self.texts
    }

    pub(super) fn find(&self, text: &str) -> Option<Name> {
        self.places.get(text).map(|place| Name(*place))
    }

    pub(super) fn of_each(&mut self, texts: &[String]) -> Box<[Name]> {
        texts.iter().map(|text| self.of(text)).collect()
    }

    pub(super) fn text(&self, name: Name) -> &str {
        self.texts.get(name.0 as usize).map_or("", String::as_str)
    }
}
