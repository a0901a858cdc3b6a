//! Indices that know which list they are a place in.

use serde::{Deserialize, Serialize};

use crate::knowledge::indexed::Ordinal;

macro_rules! indices {
    ($($(#[$doc:meta])* $name:ident)+) => {
        $(
            $(#[$doc])*
            #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
            pub struct $name(pub usize);

            impl $name {
                /// The place, counted from 0.
                #[must_use]
                pub const fn place(self) -> usize {
                    self.0
                }
            }

            impl Ordinal for $name {
                fn at(place: usize) -> Self {
                    Self(place)
                }

                fn place(self) -> usize {
                    self.0
                }
            }
        )+
    };
}

indices! {
    /// Place of a cause in the knowledge.
    CauseIndex
    /// Place of an effect in the knowledge.
    EffectIndex
    /// Place of a family in the knowledge.
    FamilyIndex
    /// Place of a test in the knowledge.
    TestIndex
    /// Place of an outcome in its test.
    OutcomeIndex
    /// Place of a fact in the knowledge.
    FactIndex
    /// Place of a requirement in the knowledge.
    RequirementIndex
    /// Place of a hold in the knowledge.
    HoldIndex
    /// Place of a tree in the knowledge.
    TreeIndex
    /// Place of a node in its tree.
    NodeIndex
    /// Place of an equipment in the knowledge.
    EquipmentIndex
}
