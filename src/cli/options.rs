//! What options of several commands take.

use std::marker::PhantomData;

use clap::builder::{PossibleValue, PossibleValuesParser, TypedValueParser};
use clap::{Args, ValueEnum};

use crate::quantity::Word;

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

/// The forms a command can make.
pub trait Forms {
    /// The forms, text first.
    const KNOWN: &'static [Format];
}

macro_rules! forms {
    ($($(#[$doc:meta])* $name:ident: $($form:ident)+;)+) => {
        $(
            $(#[$doc])*
            #[derive(Clone, Copy, Debug, Default)]
            pub struct $name;

            impl Forms for $name {
                const KNOWN: &'static [Format] = &[$(Format::$form),+];
            }
        )+
    };
}
forms! {
    /// Text or JSON.
    Plain: Text Json;
    /// Text, lines or JSON.
    OrLines: Text Short Json;
    /// Text, a table or JSON.
    OrTable: Text Csv Json;
}

/// The form, where it is one of a few.
#[derive(Args, Clone, Copy, Debug, Default)]
pub struct Printed<F: Forms + Default = Plain> {
    /// Form of what is printed
    #[arg(
        long = "format",
        value_name = "FORM",
        default_value = "text",
        hide_default_value = true,
        value_parser = Format::among(F::KNOWN)
    )]
    pub form: Format,
    #[arg(skip)]
    forms: PhantomData<F>,
}

impl<F: Forms + Default> Printed<F> {
    /// The form as if it had been typed.
    #[must_use]
    pub fn of(form: Format) -> Self {
        Self {
            form,
            forms: PhantomData,
        }
    }
}

/// Reads a word of an enumeration.
pub(super) fn word<T: Word + Send + Sync>() -> impl TypedValueParser<Value = T> {
    typed(T::ALL, T::word)
}

/// Reads one of some values as it is called.
pub(super) fn typed<T: Word + Send + Sync>(
    known: &'static [T],
    called: fn(T) -> &'static str,
) -> impl TypedValueParser<Value = T> {
    let values = known
        .iter()
        .map(move |value| PossibleValue::new(called(*value)).help(value.means()));
    PossibleValuesParser::new(values.collect::<Vec<_>>()).try_map(move |text| {
        let found = known.iter().copied().find(|value| called(*value) == text);
        found.ok_or("not one of them")
    })
}
