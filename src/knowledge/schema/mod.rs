//! JSON Schema (draft 2020-12) of each kind of file, for editors that complete and check TOML.
//!
//! The words, units, node kinds and names of calculations are the loader's own lists; the keys are held against the
//! loader's by a test. Ids are offered for completion and any well-formed one is taken, since a file may name what
//! another is about to define: whether an id exists, and all that needs more than one file, is for
//! `lineside trees check`.
//!
//! *Source* JSON Schema draft 2020-12, <https://json-schema.org/draft/2020-12>.

mod equipment_and_facts;
mod of_causes;
mod of_effects;
mod of_holds;
mod of_requirements;
mod of_tests;
mod of_trees;
mod pieces;

use serde_json::Value as Json;

use crate::standards::calculation::Calculation;

use super::model::Knowledge;

/// The kinds of file under `trees/`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FileKind {
    /// `equipment/*.toml`
    Equipment,
    /// `accessories/*.toml`
    Accessories,
    /// `facts/*.toml`
    Facts,
    /// `requirements/*.toml`
    Requirements,
    /// `holds/*.toml`
    Holds,
    /// `effects/*.toml`
    Effects,
    /// `families/*.toml`
    Families,
    /// `causes/*.toml`
    Causes,
    /// `tests/*.toml`
    Tests,
    /// `*.toml`
    Trees,
}

impl FileKind {
    /// Every kind.
    pub const ALL: [Self; 10] = [
        Self::Equipment,
        Self::Accessories,
        Self::Facts,
        Self::Requirements,
        Self::Holds,
        Self::Effects,
        Self::Families,
        Self::Causes,
        Self::Tests,
        Self::Trees,
    ];

    /// The kind of a file by its name below the folder, such as `causes/supply.toml`.
    #[must_use]
    pub fn of(name: &str) -> Option<Self> {
        match name.split_once('/') {
            None => Some(Self::Trees),
            Some(("equipment", _)) => Some(Self::Equipment),
            Some(("accessories", _)) => Some(Self::Accessories),
            Some(("facts", _)) => Some(Self::Facts),
            Some(("requirements", _)) => Some(Self::Requirements),
            Some(("holds", _)) => Some(Self::Holds),
            Some(("effects", _)) => Some(Self::Effects),
            Some(("families", _)) => Some(Self::Families),
            Some(("causes", _)) => Some(Self::Causes),
            Some(("tests", _)) => Some(Self::Tests),
            Some(_) => None,
        }
    }
}

/// The schema of one kind of file, with the ids of the knowledge in use offered for completion.
#[must_use]
pub fn schema(kind: FileKind, knowledge: &Knowledge, catalog: &[Calculation]) -> Json {
    match kind {
        FileKind::Equipment => equipment_and_facts::equipment(knowledge),
        FileKind::Accessories => equipment_and_facts::accessories(knowledge),
        FileKind::Facts => equipment_and_facts::facts(knowledge),
        FileKind::Requirements => of_requirements::requirements(knowledge, catalog),
        FileKind::Holds => of_holds::holds(knowledge),
        FileKind::Effects => of_effects::effects(knowledge),
        FileKind::Families => of_effects::families(knowledge),
        FileKind::Causes => of_causes::causes(knowledge),
        FileKind::Tests => of_tests::tests(knowledge, catalog),
        FileKind::Trees => of_trees::trees(knowledge),
    }
}
