//! What options of several commands take.

use clap::ValueEnum;

use crate::journal::life::{Reached, Stage};

/// When to color.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum Color {
    /// When the output goes to a terminal and `NO_COLOR` is not set.
    #[default]
    Auto,
    /// Always.
    Always,
    /// Never.
    Never,
}

impl Color {
    /// Decides for a stream that is or is not a terminal.
    #[must_use]
    pub fn decide(self, is_terminal: bool) -> bool {
        match self {
            Self::Always => true,
            Self::Never => false,
            Self::Auto => is_terminal && std::env::var_os("NO_COLOR").is_none_or(|value| value.is_empty()),
        }
    }
}

/// Form of printed data.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum Format {
    /// For people.
    #[default]
    Text,
    /// For programs.
    Json,
}

/// How far a case got, as typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum StageTyped {
    /// Begun and not concluded: something is left to be asked
    Open,
    /// The walk came to its end
    Concluded,
    /// Something was repaired
    Repaired,
    /// The repair was proved
    Proved,
    /// It was said what it was
    Closed,
    /// Closed by a guess, nothing proved
    Guessed,
    /// The walk was stopped for safety
    Halted,
}

impl StageTyped {
    /// What it asks for.
    #[must_use]
    pub(super) const fn meant(self) -> Reached {
        match self {
            Self::Open => Reached::Stage(Stage::Open),
            Self::Concluded => Reached::Stage(Stage::Concluded),
            Self::Repaired => Reached::Stage(Stage::Repaired),
            Self::Proved => Reached::Stage(Stage::Proved),
            Self::Closed => Reached::Stage(Stage::Closed),
            Self::Guessed => Reached::Guessed,
            Self::Halted => Reached::Halted,
        }
    }
}
