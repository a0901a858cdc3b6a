//! Amounts that write their own formula.
//!
//! An [`Amount`] is an expression: a value with a symbol, or some of them put together by `+ - * /` and a few more.
//! It is worked out by `uom`, so its dimensions are checked when the program is compiled, and it prints itself twice: with symbols,
//! as the formula, and with the numbers put in. [`super::sheet::Sheet::work`] makes a line of working of one.

use std::fmt;
use std::ops::{Add, Div, Mul, Sub};

use uom::si::f64::Ratio;
use uom::si::ratio::ratio;

use crate::quantity::{Kind, Quantity};

use super::measure::Measure;

/// Which of its two texts an expression is to write.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Text {
    Symbols,
    Numbers,
}

/// How closely a text holds together: what holds less than its surroundings ask for is put in parentheses.
type Hold = u8;
const LIST: Hold = 0;
const SUM: Hold = 1;
const PRODUCT: Hold = 2;
const POWER: Hold = 3;
const WORD: Hold = 4;

/// A part of an expression.
pub(super) trait Term: Copy {
    /// What it is worked out in.
    type Value: Copy;
    fn value(self) -> Self::Value;
    fn holds(self, text: Text) -> Hold;
    fn write(self, text: Text, to: &mut String);
    /// The kind it is printed as, where its dimension does not tell.
    fn kind(self) -> Option<Kind> {
        None
    }
}

/// Writes a part, in parentheses where it holds less than it must.
fn put(term: impl Term, text: Text, least: Hold, to: &mut String) {
    let apart = term.holds(text) < least;
    if apart {
        to.push('(');
    }
    term.write(text, to);
    if apart {
        to.push(')');
    }
}

/// An expression; what stands inside is one of the parts below.
#[derive(Clone, Copy)]
pub(super) struct Amount<E>(pub(super) E);

/// How a number is printed for a line of working.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Printed {
    /// Four figures: see [`Quantity::keyed`].
    Keyed,
    /// As it was typed, because another is subtracted from it.
    AsRead,
    /// As a plain number.
    Plain,
}

impl Printed {
    pub(super) fn text(self, quantity: Quantity) -> String {
        match self {
            Self::Keyed => super::figure::keyed(quantity),
            Self::AsRead => super::figure::as_read(quantity),
            Self::Plain => super::figure::keyed_number(quantity.base),
        }
    }
}

/// A known value: an input, a constant, or what a line before has found.
#[derive(Clone, Copy, Debug)]
pub(super) struct Leaf<D> {
    /// What it is called in a formula; empty for a constant, which is printed as a number there too.
    pub(super) symbol: &'static str,
    pub(super) value: D,
    pub(super) kind: Kind,
    pub(super) printed: Printed,
}

/// A known value of some `uom` type.
pub(super) type Known<D> = Amount<Leaf<D>>;

impl<D: Measure<Of = D>> Known<D> {
    /// A constant of a formula, such as the 24 V of a control circuit.
    pub(super) fn fixed(value: D) -> Self {
        Self::called("", value)
    }

    /// A value with a symbol, printed as its dimension says.
    pub(super) fn called(symbol: &'static str, value: D) -> Self {
        Self(Leaf {
            symbol,
            value,
            kind: D::KIND,
            printed: Printed::Keyed,
        })
    }

    /// Gives it another symbol.
    pub(super) fn named(mut self, symbol: &'static str) -> Self {
        self.0.symbol = symbol;
        self
    }

    /// Prints it as it was typed in lines of working.
    pub(super) fn as_read(mut self) -> Self {
        self.0.printed = Printed::AsRead;
        self
    }

    /// Prints it as a plain number in lines of working.
    pub(super) fn plain(mut self) -> Self {
        self.0.printed = Printed::Plain;
        self
    }

    /// Prints it as another kind of its dimension.
    pub(super) fn of_kind(mut self, kind: Kind) -> Self {
        self.0.kind = kind;
        self
    }

    /// Keeps what it is called and takes another value for it.
    pub(super) fn with(mut self, value: D) -> Self {
        self.0.value = value;
        self
    }

    /// The bare value.
    pub(super) fn get(self) -> D {
        self.0.value
    }

    /// The bare number in the base unit of its kind.
    pub(super) fn number(self) -> f64 {
        D::base(self.0.value)
    }

    /// The value as everywhere else in the program.
    pub(super) fn quantity(self) -> Quantity {
        Quantity {
            kind: self.0.kind,
            base: self.number(),
        }
    }
}

impl<D: Measure<Of = D>> Term for Leaf<D> {
    type Value = D;
    fn value(self) -> D {
        self.value
    }
    fn kind(self) -> Option<Kind> {
        Some(self.kind)
    }
    fn holds(self, text: Text) -> Hold {
        if text == Text::Symbols && !self.symbol.is_empty() {
            WORD
        } else {
            POWER
        }
    }
    fn write(self, text: Text, to: &mut String) {
        if text == Text::Symbols && !self.symbol.is_empty() {
            to.push_str(self.symbol);
        } else {
            to.push_str(&self.printed.text(Amount(self).quantity()));
        }
    }
}

impl<D: Measure<Of = D>> fmt::Display for Known<D> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.quantity().fmt(f)
    }
}

impl<E: Term> Amount<E> {
    pub(super) fn value(self) -> E::Value {
        self.0.value()
    }

    /// One of its two texts.
    pub(super) fn text(self, text: Text) -> String {
        self.after("", text)
    }

    /// One of its two texts, behind what stands before it.
    pub(super) fn after(self, before: &str, text: Text) -> String {
        // Few lines are longer, so that none is moved while it grows.
        let mut to = String::with_capacity(64);
        to.push_str(before);
        if text == Text::Symbols && !before.is_empty() {
            to.push_str(" = ");
        }
        self.0.write(text, &mut to);
        to
    }

    /// Says whether it is more than another, by more than the last bit: see [`super::figure::exceeds`].
    pub(super) fn exceeds<F: Term<Value = E::Value>>(self, other: Amount<F>) -> bool
    where
        E::Value: PartialOrd + Mul<f64, Output = E::Value>,
    {
        super::figure::exceeds(self.value(), other.value())
    }

    pub(super) fn squared(self) -> Amount<Square<E>>
    where
        E::Value: Mul<E::Value, Output: Copy>,
    {
        Amount(Square(self.0))
    }
}

impl<E: Term> From<Amount<E>> for Quantity
where
    E::Value: Measure<Of = E::Value>,
{
    fn from(amount: Amount<E>) -> Self {
        Self {
            kind: amount.0.kind().unwrap_or(E::Value::KIND),
            base: E::Value::base(amount.value()),
        }
    }
}

/// A number that stands in the formula as it is.
#[derive(Clone, Copy)]
pub(super) struct Plain(f64);

impl Term for Plain {
    type Value = Ratio;
    fn value(self) -> Ratio {
        Ratio::new::<ratio>(self.0)
    }
    fn holds(self, _: Text) -> Hold {
        WORD
    }
    fn write(self, _: Text, to: &mut String) {
        to.push_str(&self.0.to_string());
    }
}

/// A number that has a name or a usual spelling.
#[derive(Clone, Copy)]
pub(super) struct Word(&'static str, f64);

/// The root of three, which line voltage and line current of three phases go by.
pub(super) const ROOT_3: Amount<Word> = Amount(Word("1.732", 1.732_050_807_568_877_2));
/// Half of a full turn.
pub(super) const PI: Amount<Word> = Amount(Word("pi", std::f64::consts::PI));

impl Term for Word {
    type Value = Ratio;
    fn value(self) -> Ratio {
        Ratio::new::<ratio>(self.1)
    }
    fn holds(self, _: Text) -> Hold {
        WORD
    }
    fn write(self, _: Text, to: &mut String) {
        to.push_str(self.0);
    }
}

/// Two parts with a sign between them.
#[derive(Clone, Copy)]
pub(super) struct Two<const SIGN: char, A, B>(A, B);

macro_rules! signs {
    ($($sign:literal $hold:ident $after:expr, $trait:ident $method:ident;)*) => {
        $(impl<A: Term, B: Term> Term for Two<$sign, A, B>
        where
            A::Value: $trait<B::Value, Output: Copy>,
        {
            type Value = <A::Value as $trait<B::Value>>::Output;
            fn value(self) -> Self::Value {
                self.0.value().$method(self.1.value())
            }
            fn holds(self, _: Text) -> Hold {
                $hold
            }
            fn write(self, text: Text, to: &mut String) {
                put(self.0, text, $hold, to);
                to.extend([' ', $sign, ' ']);
                put(self.1, text, $after, to);
            }
        }
        impl<A: Term, B: Term> $trait<Amount<B>> for Amount<A> {
            type Output = Amount<Two<$sign, A, B>>;
            fn $method(self, other: Amount<B>) -> Self::Output {
                Amount(Two(self.0, other.0))
            }
        }
        impl<A: Term> $trait<f64> for Amount<A> {
            type Output = Amount<Two<$sign, A, Plain>>;
            fn $method(self, other: f64) -> Self::Output {
                Amount(Two(self.0, Plain(other)))
            }
        }
        impl<B: Term> $trait<Amount<B>> for f64 {
            type Output = Amount<Two<$sign, Plain, B>>;
            fn $method(self, other: Amount<B>) -> Self::Output {
                Amount(Two(Plain(self), other.0))
            }
        })*
    };
}
signs! {
    '+' SUM SUM, Add add;
    '-' SUM PRODUCT, Sub sub;
    'x' PRODUCT PRODUCT, Mul mul;
    '/' PRODUCT POWER, Div div;
}

/// The square of a part.
#[derive(Clone, Copy)]
pub(super) struct Square<A>(A);

impl<A: Term> Term for Square<A>
where
    A::Value: Mul<A::Value, Output: Copy>,
{
    type Value = <A::Value as Mul<A::Value>>::Output;
    fn value(self) -> Self::Value {
        self.0.value() * self.0.value()
    }
    fn holds(self, _: Text) -> Hold {
        POWER
    }
    fn write(self, text: Text, to: &mut String) {
        put(self.0, text, WORD, to);
        to.push_str("^2");
    }
}

/// A named function of a plain number.
#[derive(Clone, Copy)]
pub(super) struct Call<A>(&'static str, fn(f64) -> f64, A);

/// The natural logarithm.
pub(super) fn ln<A: Term<Value = Ratio>>(of: Amount<A>) -> Amount<Call<A>> {
    Amount(Call("ln", f64::ln, of.0))
}

impl<A: Term<Value = Ratio>> Term for Call<A> {
    type Value = Ratio;
    fn value(self) -> Ratio {
        Ratio::new::<ratio>((self.1)(self.2.value().get::<ratio>()))
    }
    fn holds(self, _: Text) -> Hold {
        WORD
    }
    fn write(self, text: Text, to: &mut String) {
        to.push_str(self.0);
        to.push('(');
        self.2.write(text, to);
        to.push(')');
    }
}

/// The larger of two parts.
#[derive(Clone, Copy)]
pub(super) struct Larger<A, B>(A, B);

/// The larger of two amounts.
pub(super) fn larger<A: Term, B: Term<Value = A::Value>>(
    one: Amount<A>,
    other: Amount<B>,
) -> Amount<Larger<A, B>> {
    Amount(Larger(one.0, other.0))
}

impl<A: Term<Value: PartialOrd>, B: Term<Value = A::Value>> Term for Larger<A, B> {
    type Value = A::Value;
    fn value(self) -> Self::Value {
        let (one, other) = (self.0.value(), self.1.value());
        if other > one { other } else { one }
    }
    fn holds(self, _: Text) -> Hold {
        LIST
    }
    fn write(self, text: Text, to: &mut String) {
        to.push_str("larger of ");
        put(self.0, text, SUM, to);
        to.push_str(" and ");
        put(self.1, text, SUM, to);
    }
}

/// Several amounts of one input.
pub(super) struct Listed<D> {
    symbol: &'static str,
    /// The bare amounts, in the order given.
    pub(super) all: Vec<D>,
}

impl<D: Measure<Of = D> + Add<Output = D>> Listed<D> {
    pub(super) fn new(symbol: &'static str, all: Vec<D>) -> Self {
        Self { symbol, all }
    }

    /// Their sum.
    pub(super) fn sum(&self) -> Amount<Total<'_, D>> {
        Amount(Total(self.symbol, &self.all))
    }

    /// The amounts as everywhere else in the program.
    pub(super) fn quantities(&self) -> Vec<Quantity> {
        self.all.iter().map(|one| Known::fixed(*one).quantity()).collect()
    }

    /// Says whether none was given.
    pub(super) fn is_empty(&self) -> bool {
        self.all.is_empty()
    }
}

/// The sum of several amounts.
#[derive(Clone, Copy)]
pub(super) struct Total<'l, D>(&'static str, &'l [D]);

impl<D: Measure<Of = D> + Add<Output = D>> Term for Total<'_, D> {
    type Value = D;
    fn value(self) -> D {
        self.1.iter().fold(D::of(0.0), |sum, one| sum + *one)
    }
    fn holds(self, text: Text) -> Hold {
        if text == Text::Symbols { WORD } else { LIST }
    }
    fn write(self, text: Text, to: &mut String) {
        if text == Text::Symbols {
            return to.push_str(self.0);
        }
        if self.1.is_empty() {
            to.push('0');
        }
        for (at, one) in self.1.iter().enumerate() {
            to.push_str(if at > 0 { " + " } else { "" });
            Known::fixed(*one).0.write(text, to);
        }
    }
}

#[cfg(test)]
mod tests {
    use uom::si::f64::{ElectricCurrent, ElectricPotential};

    use super::*;

    fn known<D: Measure<Of = D>>(symbol: &'static str, base: f64) -> Known<D> {
        Known::called(symbol, D::of(base))
    }

    fn texts<E: Term>(amount: Amount<E>) -> (String, String) {
        (amount.text(Text::Symbols), amount.text(Text::Numbers))
    }

    #[test]
    fn parentheses_stand_where_the_tree_needs_them() {
        let volts = |symbol, base| known::<ElectricPotential>(symbol, base);
        let (v, rest, amps) = (
            volts("V", 240.0),
            volts("V_rest", 242.5),
            known::<ElectricCurrent>("I", 20.0),
        );
        let said = |symbols: &str, numbers: &str| (symbols.to_owned(), numbers.to_owned());
        assert_eq!(
            texts((rest - v) / amps),
            said("(V_rest - V) / I", "(242.5 V - 240 V) / 20 A")
        );
        assert_eq!(
            texts(rest - (v - rest)),
            said("V_rest - (V - V_rest)", "242.5 V - (240 V - 242.5 V)")
        );
        assert_eq!(texts(v / (amps * 2.0)), said("V / (I x 2)", "240 V / (20 A x 2)"));
        assert_eq!(texts(v / amps * amps), said("V / I x I", "240 V / 20 A x 20 A"));
        assert_eq!(
            texts(v * (1.0 - v / rest)),
            said("V x (1 - V / V_rest)", "240 V x (1 - 240 V / 242.5 V)")
        );
        assert_eq!(texts(v.squared() / amps), said("V^2 / I", "(240 V)^2 / 20 A"));
        assert_eq!(
            texts((v / rest).squared()),
            said("(V / V_rest)^2", "(240 V / 242.5 V)^2")
        );
        assert_eq!(
            texts(ROOT_3 * v * amps),
            said("1.732 x V x I", "1.732 x 240 V x 20 A")
        );
        assert_eq!(
            texts(v + larger(v, rest)),
            said(
                "V + (larger of V and V_rest)",
                "240 V + (larger of 240 V and 242.5 V)"
            )
        );
    }

    #[test]
    fn a_sum_of_several_stays_together() {
        let list = Listed::new("sum of motors", [3.0, 4.5].map(ElectricCurrent::of).to_vec());
        let unit = known::<ElectricCurrent>("I", 20.0);
        let all = texts(unit + list.sum() * 1.25);
        assert_eq!(
            all,
            (
                "I + sum of motors x 1.25".to_owned(),
                "20 A + (3 A + 4.5 A) x 1.25".to_owned()
            )
        );
        assert_eq!(list.sum().text(Text::Numbers), "3 A + 4.5 A");
        assert_eq!(list.sum().value(), ElectricCurrent::of(7.5));
    }

    #[test]
    fn values_are_those_of_the_expression() {
        let (v, amps) = (
            known::<ElectricPotential>("V", 240.0),
            known::<ElectricCurrent>("I", 20.0),
        );
        assert_eq!(Quantity::from(v * amps).to_string(), "4.8 kW");
        assert_eq!(Quantity::from(v / amps).to_string(), "12 ohm");
        assert_eq!(Quantity::from(v / (v * 2.0)).to_string(), "50 %");
        assert!(v.exceeds(v * 0.99) && !v.exceeds(v));
    }
}
