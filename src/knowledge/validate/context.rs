//! What the second pass looks ids up in.

use rustc_hash::FxHashMap;

use crate::knowledge::document::{Documents, Entry};
use crate::knowledge::fields::{Fields, Text};
use crate::knowledge::finding::{Code, Finding};
use crate::knowledge::model::Fit;
use crate::knowledge::nearest;
use crate::quantity::Kind;
use crate::standards::calculation::Calculation;

/// What a reading measures, known before any outcome or input is read, as these may refer to each other.
pub(super) type Measured = Vec<Option<Kind>>;

/// The ids of one section and their places in the list.
pub(super) struct Ids<'d> {
    places: FxHashMap<&'d str, usize>,
    /// What one of them is, for messages.
    noun: &'static str,
    code: Code,
}

impl<'d> Ids<'d> {
    pub(super) fn new(noun: &'static str, code: Code, ids: impl IntoIterator<Item = &'d str>) -> Self {
        let places = ids
            .into_iter()
            .enumerate()
            .map(|(place, id)| (id, place))
            .collect();
        Self { places, noun, code }
    }

    pub(super) fn find(&self, text: &Text<'_>, findings: &mut Vec<Finding>) -> Option<usize> {
        let found = self.places.get(text.text).copied();
        if found.is_none() {
            let noun = self.noun;
            findings.push(Finding::error(
                self.code,
                text.place.clone(),
                format!("no {noun} `{}`", text.text),
                nearest::did_you_mean_after(
                    findings.len(),
                    text.text,
                    self.places.keys().copied(),
                    &format!("write that {noun}, or use the id of one there is"),
                ),
            ));
        }
        found
    }
}

/// Everything the second pass looks ids up in.
pub(super) struct Context<'d> {
    pub(super) parts: Ids<'d>,
    pub(super) facts: Ids<'d>,
    pub(super) requirements: Ids<'d>,
    pub(super) holds: Ids<'d>,
    pub(super) effects: Ids<'d>,
    pub(super) families: Ids<'d>,
    pub(super) causes: Ids<'d>,
    pub(super) tests: Ids<'d>,
    pub(super) trees: Ids<'d>,
    pub(super) catalog: &'static [Calculation],
    pub(super) documents: &'d Documents<'d>,
}

impl Context<'_> {
    pub(super) fn parts(&self, texts: &[Text<'_>], findings: &mut Vec<Finding>) -> Vec<String> {
        texts
            .iter()
            .filter(|text| self.parts.find(text, findings).is_some())
            .map(|text| text.text.to_owned())
            .collect()
    }

    /// The keys `parts` and `without`: the equipment something is offered for.
    pub(super) fn fit(&self, fields: &mut Fields<'_>, findings: &mut Vec<Finding>) -> Fit {
        let parts = fields.texts("parts", findings);
        let without = fields.texts("without", findings);
        Fit {
            parts: self.parts(&parts, findings),
            without: self.parts(&without, findings),
        }
    }

    pub(super) fn is_broken(&self, entry: &Entry<'_>) -> bool {
        self.documents.list[entry.file].broken
    }
}
