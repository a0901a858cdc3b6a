//! What the second pass looks ids up in.

use std::marker::PhantomData;
use std::ops::Deref;

use rustc_hash::FxHashMap;

use super::states::States;
use crate::knowledge::document::{Documents, Entry};
use crate::knowledge::fields::{Fields, Key, Text};
use crate::knowledge::finding::{Code, Sink};
use crate::knowledge::indexed::{Indexed, Ordinal};
use crate::knowledge::model::{
    CauseIndex, Effect, EffectIndex, Fact, FactIndex, Family, FamilyIndex, Fit, HoldIndex, RequirementIndex,
    Test, TestIndex, TreeIndex,
};
use crate::knowledge::nearest;
use crate::quantity::Kind;
use crate::standards::calculation::Calculation;

/// The ids of one section and their places in the list.
pub(super) struct Ids<'d, I> {
    places: FxHashMap<&'d str, usize>,
    /// What one of them is, for messages.
    noun: &'static str,
    code: Code,
    index: PhantomData<fn() -> I>,
}

impl<'d, I> Ids<'d, I> {
    pub(super) fn new(noun: &'static str, code: Code, ids: impl IntoIterator<Item = &'d str>) -> Self {
        let places = ids
            .into_iter()
            .enumerate()
            .map(|(place, id)| (id, place))
            .collect();
        Self {
            places,
            noun,
            code,
            index: PhantomData,
        }
    }

    pub(super) fn has(&self, id: &str) -> bool {
        self.places.contains_key(id)
    }
}

/// A part has no entry of its own, so nothing is reached by its place.
#[derive(Clone, Copy)]
pub(super) struct PartIndex;

impl Ordinal for PartIndex {
    fn at(_: usize) -> Self {
        Self
    }

    fn place(self) -> usize {
        0
    }
}

/// Everything the second pass looks ids up in, and what it has read so far, in the order of these fields.
pub(super) struct Known<'d> {
    pub(super) catalog: &'static [Calculation],
    pub(super) documents: &'d Documents<'d>,
    pub(super) parts: Ids<'d, PartIndex>,
    pub(super) fact_ids: Ids<'d, FactIndex>,
    pub(super) requirements: Ids<'d, RequirementIndex>,
    pub(super) holds: Ids<'d, HoldIndex>,
    pub(super) effect_ids: Ids<'d, EffectIndex>,
    pub(super) family_ids: Ids<'d, FamilyIndex>,
    pub(super) causes: Ids<'d, CauseIndex>,
    pub(super) test_ids: Ids<'d, TestIndex>,
    pub(super) trees: Ids<'d, TreeIndex>,
    /// What each test measures, if it is a reading; known before any outcome or input is read, as these may refer to
    /// each other.
    pub(super) measured: Indexed<TestIndex, Option<Kind>>,
    pub(super) facts: Indexed<FactIndex, Fact>,
    pub(super) states: States,
    pub(super) effects: Indexed<EffectIndex, Effect>,
    pub(super) families: Indexed<FamilyIndex, Family>,
    pub(super) tests: Indexed<TestIndex, Test>,
}

impl Known<'_> {
    pub(super) fn with<'c>(&'c self, sink: &'c Sink) -> Context<'c> {
        Context { known: self, sink }
    }
}

/// What is known, and where findings go.
#[derive(Clone, Copy)]
pub(super) struct Context<'c> {
    known: &'c Known<'c>,
    pub(super) sink: &'c Sink,
}

impl<'c> Deref for Context<'c> {
    type Target = Known<'c>;

    fn deref(&self) -> &Known<'c> {
        self.known
    }
}

impl<'c> Context<'c> {
    /// Opens the table of an entry.
    pub(super) fn fields(&self, noun: &str, entry: &Entry<'c>) -> Fields<'c> {
        open(noun, entry, self.documents, self.sink)
    }

    /// What an id names.
    pub(super) fn find<I: Ordinal>(&self, ids: &Ids<'_, I>, id: &Text<'_>) -> Option<I> {
        let found = ids.places.get(id.text).copied();
        if found.is_none() {
            let noun = ids.noun;
            self.sink.error(
                ids.code,
                id.place.clone(),
                format!("no {noun} `{}`", id.text),
                nearest::did_you_mean_after(
                    self.sink.count(),
                    id.text,
                    ids.places.keys().copied(),
                    &format!("write that {noun}, or use the id of one there is"),
                ),
            );
        }
        found.map(I::at)
    }

    /// What the ids under a key name.
    pub(super) fn all<I: Ordinal>(&self, ids: &Ids<'_, I>, fields: &mut Fields<'_>, key: Key) -> Vec<I> {
        let texts = fields.texts(key);
        texts.iter().filter_map(|id| self.find(ids, id)).collect()
    }

    /// The parts under a key.
    pub(super) fn parts(&self, fields: &mut Fields<'_>, key: Key) -> Vec<String> {
        let texts = fields.texts(key);
        let known = texts.iter().filter(|id| self.find(&self.parts, id).is_some());
        known.map(Text::owned).collect()
    }

    /// The keys `parts` and `without`: the equipment something is offered for.
    pub(super) fn fit(&self, fields: &mut Fields<'_>, [parts, without]: [Key; 2]) -> Fit {
        Fit {
            parts: self.parts(fields, parts),
            without: self.parts(fields, without),
        }
    }
}

/// Opens the table of an entry.
pub(super) fn open<'c>(
    noun: &str,
    entry: &Entry<'c>,
    documents: &Documents<'_>,
    sink: &'c Sink,
) -> Fields<'c> {
    let what = format!("{noun} `{}`", entry.id());
    let broken = documents.list[entry.file].broken;
    Fields::new(what, entry.place(), entry.value, broken, sink)
}
