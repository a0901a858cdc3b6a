//! Typed handles: what a calculation takes and gives, declared once with name, kind, unit, range, symbol and meaning.

use std::marker::PhantomData;

use super::amount::Printed;
use super::calculation::{Input, Output};
use super::measure::Measure;
use crate::quantity::{Kind, ValueKind, Word};

/// A choice among ids.
#[derive(Clone, Copy)]
pub(super) struct Choice;
/// A choice among the words of a type.
#[derive(Clone, Copy)]
pub(super) struct OneOf<W>(PhantomData<W>);
/// A conductor size.
#[derive(Clone, Copy)]
pub(super) struct Size;
/// The loads on a circuit.
#[derive(Clone, Copy)]
pub(super) struct Loads;
/// Several amounts of one kind.
#[derive(Clone, Copy)]
pub(super) struct List<M>(PhantomData<M>);

/// What an input or output can be declared as.
pub(super) trait Takes {
    /// What it takes.
    const KIND: ValueKind;
    /// The range of sense where none is said.
    const RANGE: Option<(f64, f64)> = None;
    /// The ids of a choice where none are said.
    const CHOICES: &'static [&'static str] = &[];
}

impl<M: Measure> Takes for M {
    const KIND: ValueKind = ValueKind::Quantity(<M as Measure>::KIND);
    const RANGE: Option<(f64, f64)> = <M as Measure>::RANGE;
}
impl<M: Measure> Takes for List<M> {
    const KIND: ValueKind = ValueKind::Quantities(<M as Measure>::KIND);
}
impl Takes for Choice {
    const KIND: ValueKind = ValueKind::Choice;
}
impl<W: Word> Takes for OneOf<W> {
    const KIND: ValueKind = ValueKind::Choice;
    const CHOICES: &'static [&'static str] = W::WORDS;
}
impl Takes for Size {
    const KIND: ValueKind = ValueKind::Size;
}
impl Takes for Loads {
    const KIND: ValueKind = ValueKind::Loads;
}

/// An input and how it is called in formulas.
#[derive(Clone, Copy)]
pub(super) struct In<T> {
    pub(super) input: Input,
    pub(super) symbol: &'static str,
    of: PhantomData<T>,
}

impl<T> In<T> {
    pub(super) const fn new(symbol: &'static str, input: Input) -> Self {
        let of = PhantomData;
        Self { input, symbol, of }
    }
}

/// An output and how it is called in formulas.
#[derive(Clone, Copy)]
pub(super) struct Out<T> {
    pub(super) output: Output,
    pub(super) symbol: Symbol,
    of: PhantomData<T>,
}

impl<T: Takes> Out<T> {
    pub(super) const fn new(symbol: &'static str, name: &'static str, meaning: &'static str) -> Self {
        Self {
            output: Output::new(name, T::KIND, meaning),
            symbol: Symbol::new(symbol),
            of: PhantomData,
        }
    }

    /// Is printed with the figures of a reading in lines of working.
    pub(super) const fn precise(mut self) -> Self {
        self.symbol.printed = Printed::AsRead;
        self
    }

    /// Is printed as a plain number in lines of working.
    pub(super) const fn plain(mut self) -> Self {
        self.symbol.printed = Printed::Plain;
        self
    }
}

/// What stands left of the equals sign of a line of working, and how the result is printed.
#[derive(Clone, Copy)]
pub(super) struct Symbol {
    pub(super) text: &'static str,
    /// The kind, where the dimension has more than one.
    pub(super) kind: Option<Kind>,
    pub(super) printed: Printed,
}

impl Symbol {
    pub(super) const fn new(text: &'static str) -> Self {
        Self {
            text,
            kind: None,
            printed: Printed::Keyed,
        }
    }

    /// Is of a kind that its dimension does not tell.
    pub(super) const fn of(text: &'static str, kind: Kind) -> Self {
        let mut symbol = Self::new(text);
        symbol.kind = Some(kind);
        symbol
    }

    /// Is printed as a plain number.
    pub(super) const fn plain(text: &'static str) -> Self {
        let mut symbol = Self::new(text);
        symbol.printed = Printed::Plain;
        symbol
    }

    /// Is printed with the figures of a reading.
    pub(super) const fn as_read(text: &'static str) -> Self {
        let mut symbol = Self::new(text);
        symbol.printed = Printed::AsRead;
        symbol
    }
}

impl From<&'static str> for Symbol {
    fn from(text: &'static str) -> Self {
        Self::new(text)
    }
}
