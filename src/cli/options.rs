//! What options of several commands take.

use clap::builder::{PossibleValue, PossibleValuesParser, TypedValueParser};
use clap::{Args, ValueEnum};

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

/// Form of what is printed. Each command takes those it can make.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum Format {
    /// For a person
    #[default]
    Text,
    /// One line for each finding or entry
    Short,
    /// One page that needs nothing else, for a phone or paper
    Html,
    /// A table, for a spreadsheet
    Csv,
    /// For a program
    Json,
    /// A picture
    Svg,
    /// A graph in the DOT language, for a layout program
    Dot,
}

impl Format {
    /// Reads one of those a command can make.
    pub(super) fn among(known: &[Self]) -> impl TypedValueParser<Value = Self> + use<> {
        let known: Vec<PossibleValue> = known.iter().filter_map(Self::to_possible_value).collect();
        PossibleValuesParser::new(known).try_map(|text| Self::from_str(&text, false))
    }
}

/// The form, where it is text or JSON.
#[derive(Args, Clone, Copy, Debug, Default)]
pub struct Printed {
    /// Form of what is printed
    #[arg(
        long = "format",
        value_name = "FORM",
        default_value = "text",
        hide_default_value = true,
        value_parser = Format::among(&[Format::Text, Format::Json])
    )]
    pub form: Format,
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
