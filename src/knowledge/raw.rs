//! A file as written: every key and value with its place, and nothing judged yet.

use std::borrow::Cow;
use std::fmt;
use std::ops::{Deref, Range};

use toml::de::{DeTable, DeValue};

use super::finding::Stretch;

/// Something with the place it stands at, in bytes of its file.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Placed<T> {
    value: T,
    start: u32,
    end: u32,
}

impl<T> Placed<T> {
    fn new(value: T, span: Range<usize>) -> Self {
        // Files are refused long before their places need more bits.
        let place = |offset: usize| u32::try_from(offset).unwrap_or(u32::MAX);
        Self {
            value,
            start: place(span.start),
            end: place(span.end),
        }
    }

    pub(crate) fn get_ref(&self) -> &T {
        &self.value
    }

    /// Where it stands, given the file.
    pub(crate) fn in_file(&self, file: usize) -> Stretch {
        Stretch {
            file,
            span: self.span(),
        }
    }

    pub(crate) fn span(&self) -> Range<usize> {
        self.start as usize..self.end as usize
    }
}

/// A text, borrowed from where it was read wherever it can be.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Words<'d>(Cow<'d, str>);

impl Deref for Words<'_> {
    type Target = str;

    fn deref(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for Words<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self)
    }
}

impl AsRef<str> for Words<'_> {
    fn as_ref(&self) -> &str {
        &self.0
    }
}

/// A value.
#[derive(Clone, Debug)]
pub(crate) enum Raw<'d> {
    Text(Words<'d>),
    /// A whole number; not a number when it is not written in decimal.
    Whole(f64),
    Decimal(f64),
    Flag(bool),
    Date,
    List(Vec<Placed<Raw<'d>>>),
    Table(RawTable<'d>),
}

/// Keys and values in the order of the lines. Tables are short, or walked through and not searched.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct RawTable<'d>(Vec<(Placed<Words<'d>>, Placed<Raw<'d>>)>);

/// Equal as written: what is not a number equals itself here.
impl PartialEq for Raw<'_> {
    fn eq(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::Text(one), Self::Text(other)) => one == other,
            (Self::Whole(one), Self::Whole(other)) | (Self::Decimal(one), Self::Decimal(other)) => {
                one.to_bits() == other.to_bits()
            }
            (Self::Flag(one), Self::Flag(other)) => one == other,
            (Self::Date, Self::Date) => true,
            (Self::List(one), Self::List(other)) => one == other,
            (Self::Table(one), Self::Table(other)) => one == other,
            _ => false,
        }
    }
}

impl<'d> Raw<'d> {
    fn of(value: &DeValue<'d>) -> Self {
        match value {
            DeValue::String(text) => Self::Text(Words(text.clone())),
            DeValue::Integer(whole) if whole.radix() == 10 => Self::Whole(number(whole.as_str())),
            DeValue::Integer(_) => Self::Whole(f64::NAN),
            DeValue::Float(decimal) => Self::Decimal(number(decimal.as_str())),
            DeValue::Boolean(flag) => Self::Flag(*flag),
            DeValue::Datetime(_) => Self::Date,
            DeValue::Array(items) => Self::List(
                items
                    .iter()
                    .map(|item| Placed::new(Self::of(item.get_ref()), item.span()))
                    .collect(),
            ),
            DeValue::Table(table) => Self::Table(RawTable::of(table)),
        }
    }

    /// The value of a key, where it is a table that has it.
    pub(crate) fn get(&self, key: &str) -> Option<&Placed<Self>> {
        self.as_table()?.get(key)
    }

    /// The keys, where it is a table.
    pub(crate) fn keys(&self) -> impl Iterator<Item = &Placed<Words<'d>>> {
        self.as_table().into_iter().flat_map(RawTable::keys)
    }

    /// The type in words, with its article.
    pub(crate) fn type_name(&self) -> &'static str {
        match self {
            Self::Text(_) => "a text",
            Self::Whole(_) => "a whole number",
            Self::Decimal(_) => "a number",
            Self::Flag(_) => "true or false",
            Self::Date => "a date",
            Self::List(_) => "a list",
            Self::Table(_) => "a table",
        }
    }

    pub(crate) fn as_str(&self) -> Option<&str> {
        match self {
            Self::Text(text) => Some(text.as_ref()),
            _ => None,
        }
    }

    pub(crate) fn as_bool(&self) -> Option<bool> {
        match self {
            Self::Flag(flag) => Some(*flag),
            _ => None,
        }
    }

    pub(crate) fn as_array(&self) -> Option<&[Placed<Self>]> {
        match self {
            Self::List(items) => Some(items),
            _ => None,
        }
    }

    pub(crate) fn as_table(&self) -> Option<&RawTable<'d>> {
        match self {
            Self::Table(table) => Some(table),
            _ => None,
        }
    }

    /// A whole or decimal number; nothing for anything else, and for what is not finite.
    pub(crate) fn as_number(&self) -> Option<f64> {
        match self {
            Self::Whole(number) | Self::Decimal(number) if number.is_finite() => Some(*number),
            _ => None,
        }
    }
}

fn number(text: &str) -> f64 {
    text.parse().unwrap_or(f64::NAN)
}

impl<'d> RawTable<'d> {
    /// Parses a file. What could be made out is there even when there are errors.
    pub(crate) fn parse(text: &'d str) -> (Self, Vec<toml::de::Error>) {
        let (table, errors) = DeTable::parse_recoverable(text);
        (Self::of(table.get_ref()), errors)
    }

    /// The table the parser made.
    pub(crate) fn of(table: &DeTable<'d>) -> Self {
        let mut pairs: Vec<_> = table
            .iter()
            .map(|(key, value)| {
                (
                    Placed::new(Words(key.get_ref().clone()), key.span()),
                    Placed::new(Raw::of(value.get_ref()), value.span()),
                )
            })
            .collect();
        pairs.sort_by_key(|(key, _)| key.start);
        Self(pairs)
    }

    pub(crate) fn get_key_value(&self, key: &str) -> Option<(&Placed<Words<'d>>, &Placed<Raw<'d>>)> {
        self.iter().find(|(known, _)| *known.value == *key)
    }

    pub(crate) fn get(&self, key: &str) -> Option<&Placed<Raw<'d>>> {
        self.get_key_value(key).map(|(_, value)| value)
    }

    /// The pair at a place in the order of the lines, from 0.
    pub(crate) fn at(&self, place: usize) -> Option<(&Placed<Words<'d>>, &Placed<Raw<'d>>)> {
        self.0.get(place).map(|(key, value)| (key, value))
    }

    pub(crate) fn contains_key(&self, key: &str) -> bool {
        self.get_key_value(key).is_some()
    }

    pub(crate) fn iter(&self) -> impl Iterator<Item = (&Placed<Words<'d>>, &Placed<Raw<'d>>)> {
        self.0.iter().map(|(key, value)| (key, value))
    }

    pub(crate) fn keys(&self) -> impl Iterator<Item = &Placed<Words<'d>>> {
        self.0.iter().map(|(key, _)| key)
    }
}
