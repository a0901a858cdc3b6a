//! A key of the format: its name, what it means, and what may stand behind it.

/// A key of a table. The loader reads by it, the schema and the comparison of two folders know the key from nowhere else,
/// and the templates take its words.
#[derive(Clone, Copy)]
pub(in crate::knowledge) struct Key {
    pub(in crate::knowledge) name: &'static str,
    /// What it means, for whoever writes the file; empty where the form says all.
    pub(in crate::knowledge) says: &'static str,
    pub(in crate::knowledge) form: Form,
    /// It is always there. A key that only some kinds of test must have is none.
    pub(in crate::knowledge) is_required: bool,
}

impl Key {
    pub(in crate::knowledge) const fn new(name: &'static str, form: Form, says: &'static str) -> Self {
        Self {
            name,
            says,
            form,
            is_required: false,
        }
    }

    pub(in crate::knowledge) const fn required(self) -> Self {
        Self {
            is_required: true,
            ..self
        }
    }
}

/// What an id names.
#[derive(Clone, Copy)]
pub(in crate::knowledge) enum Of {
    Part,
    Fact,
    Requirement,
    Hold,
    Test,
    /// A tree with a complaint of its own.
    Complaint,
    /// A tree without one.
    SharedTree,
}

/// What may stand behind a key.
#[derive(Clone, Copy)]
pub(in crate::knowledge) enum Form {
    /// A text a person reads.
    Prose,
    /// A text that may be empty.
    Text,
    /// A list of texts a person reads.
    Texts,
    /// A question of two lines.
    Question,
    Flag,
    /// `true`, since the key alone says it.
    True,
    /// A number from the first to the second.
    Number(f64, f64),
    /// A share above 0, up to the second or below it; the loader takes what lies from the first to the second.
    Share(f64, f64),
    /// One of some words.
    Word(&'static [&'static str]),
    /// Several of some words.
    Words(&'static [&'static str]),
    /// A kind of fact: of quantity, or one of a few others.
    FactKind,
    /// The id of what the table is about.
    OwnId,
    /// That of an outcome, which may not be `unknown`.
    OwnOutcome,
    Id(Of),
    Ids(Of),
    /// A node, or `tree/node`.
    Route,
    /// Routes by outcome.
    Routes,
    /// The id of a node of the same tree.
    Node,
    /// Tests, or all.
    Pool,
    /// A table with these keys.
    Table(&'static [Key]),
    /// A list of such tables.
    Tables(&'static [Key]),
    /// What an outcome is, described once for all tests.
    Outcomes,
    /// A list of sources, each a text or a table with these keys.
    Sources(&'static [Key]),
    /// A lowest and a highest figure with their unit.
    Range,
    /// A figure with its unit, or a multiple.
    Bound,
    Calculation,
    /// Where each input of it comes from.
    Inputs,
    /// A word of how common a cause is, or a table with these keys.
    Commonness(&'static [Key]),
    /// Such words by part.
    CommonnessByPart,
    /// At least two states, each a table with these keys.
    States(&'static [Key]),
    /// Chances by effect and state.
    Does,
    /// Chances by what an effect follows from, its state, and the own state.
    Follows,
    /// States by effect.
    Shows,
    /// Chances by cause.
    Finds,
    /// Outcomes by test.
    Proofs,
    /// One outcome by test.
    AtOnce,
}

impl Form {
    /// The lowest and the highest number it takes.
    pub(in crate::knowledge) const fn bounds(self) -> Option<(f64, f64)> {
        match self {
            Self::Number(lowest, highest) | Self::Share(lowest, highest) => Some((lowest, highest)),
            _ => None,
        }
    }
}

/// Declares the keys of tables: a constant for each, and the list of all in the order they are written in.
macro_rules! keys {
    ($($(#[$doc:meta])* $table:ident { $($key:ident = $made:expr;)+ })+) => {
        $(
            $(#[$doc])*
            pub(in crate::knowledge) mod $table {
                use super::*;

                $(pub(in crate::knowledge) const $key: Key = $made;)+

                pub(in crate::knowledge) const KEYS: &[Key] = &[$($key),+];
            }
        )+
    };
}
pub(in crate::knowledge) use keys;
