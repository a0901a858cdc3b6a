//! Text to quantity.

use thiserror::Error;

use super::unit::{self, Unit};
use super::{Kind, Quantity};

/// Why a text is not the value asked for.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum ReadError {
    /// Nothing was typed.
    #[error("nothing was typed; expected {expected}")]
    Empty {
        /// What was wanted.
        expected: String,
    },
    /// No number at its start.
    #[error("`{text}` does not begin with a number; expected {expected}, such as `{example}`")]
    NoNumber {
        /// What was typed.
        text: String,
        /// What was wanted.
        expected: String,
        /// A text that would have been taken.
        example: String,
    },
    /// The meter's sign for a reading off its range.
    #[error(
        "`{text}` is the meter's sign for off its range, not a number; choose a higher range and measure again. In ohms on the highest range type where it ends, such as 40 Mohm"
    )]
    OffRange {
        /// What was typed.
        text: String,
    },
    /// A number that can be read in two ways.
    #[error("`{text}` can be read in two ways; {fix}")]
    Ambiguous {
        /// What was typed.
        text: String,
        /// How to write it clearly.
        fix: String,
    },
    /// The unit belongs to another kind of quantity.
    #[error("`{text}` is {found}, expected {expected}")]
    OtherKind {
        /// What was typed.
        text: String,
        /// The kind it is, with its article.
        found: &'static str,
        /// What was wanted.
        expected: String,
    },
    /// No such unit.
    #[error("`{unit}` in `{text}` is not a unit of {kind}; expected {expected}")]
    UnknownUnit {
        /// What was typed.
        text: String,
        /// The part taken for a unit.
        unit: String,
        /// The kind wanted.
        kind: &'static str,
        /// The units known.
        expected: String,
    },
    /// Below zero where that means nothing.
    #[error("`{text}` is below zero, which {kind} cannot be; leave the minus sign out")]
    Negative {
        /// What was typed.
        text: String,
        /// The kind wanted, with its article.
        kind: &'static str,
    },
    /// Colder than anything can be.
    #[error("`{text}` is {value}, below absolute zero (-273.15 C, -459.67 F); check the figure and its unit")]
    BelowAbsoluteZero {
        /// What was typed.
        text: String,
        /// As understood.
        value: String,
    },
    /// A sum of what cannot be added.
    #[error("`{text}` adds up temperatures, which gives no temperature; type the one that was read")]
    NoSum {
        /// What was typed.
        text: String,
    },
    /// Too large for a number.
    #[error("`{text}` is too large to be a number of anything")]
    NotFinite {
        /// What was typed.
        text: String,
    },
    /// A count that is not whole.
    #[error("`{text}` is not a whole number; expected a count such as `2`")]
    NotWhole {
        /// What was typed.
        text: String,
    },
    /// More than anyone would believe.
    #[error("`{value}` is above {limit}, the most that is believable here; check the figure and its unit")]
    Above {
        /// The value read.
        value: String,
        /// The most believed.
        limit: String,
    },
    /// Less than anyone would believe.
    #[error("`{value}` is below {limit}, the least that is believable here; check the figure and its unit")]
    Below {
        /// The value read.
        value: String,
        /// The least believed.
        limit: String,
    },
    /// Not a conductor size.
    #[error(
        "`{text}` is not a conductor size; expected a gauge such as `8` or `1/0`, or `250 kcmil`, or `10 mm2`"
    )]
    NotASize {
        /// What was typed.
        text: String,
    },
    /// A size the tables do not have.
    #[error("`{text}` is not a size of the conductor tables; the nearest are {nearest}")]
    NoSuchSize {
        /// What was typed.
        text: String,
        /// The sizes on either side.
        nearest: String,
    },
    /// Not one of the choices.
    #[error("`{text}` is none of the choices; expected {choices}")]
    NoSuchChoice {
        /// What was typed.
        text: String,
        /// The choices.
        choices: String,
    },
    /// Several figures where one is asked.
    #[error(
        "`{text}` holds several figures and one is asked: give that of the circuit in question; what adds up is typed as a sum, such as `19.9+1.4`"
    )]
    Several {
        /// What was typed.
        text: String,
    },
    /// A reading that will not stand still.
    #[error(
        "`{text}` runs from one figure to another and one is asked: give the one the step asks for, else the one it shows most, and type the swing as a note"
    )]
    Swings {
        /// What was typed.
        text: String,
    },
    /// A load without a name or without a current.
    #[error("`{text}` is not a load; give a name and its amperes, such as `freezer 6 motor`")]
    NotALoad {
        /// What was typed.
        text: String,
    },
    /// A load in watts, which say nothing of its current without a voltage.
    #[error(
        "`{text}` gives power, and the current depends on the voltage; type amperes, which are watts divided by volts"
    )]
    LoadInWatts {
        /// What was typed.
        text: String,
    },
}

impl Quantity {
    /// Reads a quantity of the given kind as a person would type it; a bare number is in the base unit.
    ///
    /// Takes `236`, `236V`, `0.24 kV`, `35 µF`, `35 mfd`, `1,200 cfm`, `95 F`, `3 min`, `5 %`, `20 megohm`,
    /// `1/2 hp`, `5 ft 6 in`, and sums such as `19.9+1.4`. The case of a leading `m` or `M` counts: `mV` is millivolt, `MV` megavolt.
    ///
    /// # Errors
    /// Every case of [`ReadError`] that concerns a number or its unit; the range is not checked here, see
    /// [`Quantity::within`].
    pub fn parse(text: &str, kind: Kind) -> Result<Self, ReadError> {
        Self::parse_in(text, kind, kind.base_symbol())
    }

    /// Reads a quantity; a bare number is in the unit `default_symbol`.
    ///
    /// # Errors
    /// As [`Quantity::parse`]; a `default_symbol` that is no unit of `kind` is an unknown unit.
    pub fn parse_in(text: &str, kind: Kind, default_symbol: &str) -> Result<Self, ReadError> {
        let typed = text.trim();
        let plain = plain(typed);
        let expected = || expected(kind);
        if plain.is_empty() {
            return Err(ReadError::Empty { expected: expected() });
        }
        if matches!(
            plain.to_ascii_lowercase().as_str(),
            "ol" | "o.l" | "o.l." | "0l" | ".ol" | "inf"
        ) {
            return Err(ReadError::OffRange {
                text: typed.to_owned(),
            });
        }
        let terms = terms(&plain);
        if terms.len() > 1 && kind == Kind::Temperature {
            return Err(ReadError::NoSum {
                text: typed.to_owned(),
            });
        }
        let mut base = 0.0;
        let mut units = Vec::new();
        for part in terms {
            base += term(part, typed, kind, default_symbol, &mut units).map_err(|error| {
                let text = || typed.to_owned();
                if parts(&plain, &[" to "]) {
                    ReadError::Swings { text: text() }
                } else if parts(&plain, &[" and ", " or ", ", ", ";", "&"]) {
                    ReadError::Several { text: text() }
                } else {
                    error
                }
            })?;
        }
        mixed_units(&units, typed, default_symbol)?;
        if kind == Kind::Count && base.fract() != 0.0 {
            return Err(ReadError::NotWhole {
                text: typed.to_owned(),
            });
        }
        if base < 0.0 && !kind.may_be_negative() {
            return Err(ReadError::Negative {
                text: typed.to_owned(),
                kind: kind.with_article(),
            });
        }
        if kind == Kind::Temperature && base < ABSOLUTE_ZERO {
            return Err(ReadError::BelowAbsoluteZero {
                text: typed.to_owned(),
                value: Self { kind, base }.to_string(),
            });
        }
        // Adding zero turns a typed `-0` into plain zero.
        Self::new(kind, base + 0.0).ok_or_else(|| ReadError::NotFinite {
            text: typed.to_owned(),
        })
    }

    /// Passes the quantity on if it lies between two amounts in base units, the ends included.
    ///
    /// # Errors
    /// [`ReadError::Above`] or [`ReadError::Below`] with the figure and the end it passed.
    pub fn within(self, range: (f64, f64)) -> Result<Self, ReadError> {
        let limit = |base| Self {
            kind: self.kind,
            base,
        };
        if self.base > range.1 {
            let (value, limit) = told_apart(self, limit(range.1));
            return Err(ReadError::Above { value, limit });
        }
        if self.base < range.0 {
            let (value, limit) = told_apart(self, limit(range.0));
            return Err(ReadError::Below { value, limit });
        }
        Ok(self)
    }
}

/// Absolute zero in degrees Celsius (definition of the scale, SI brochure).
const ABSOLUTE_ZERO: f64 = -273.15;

/// Splits a sum at its plus signs; one that leads a number or stands in an exponent is none of them.
fn terms(text: &str) -> Vec<&str> {
    let bytes = text.as_bytes();
    let mut terms = Vec::new();
    let mut from = 0;
    for (at, _) in text.match_indices('+') {
        let exponent = at > 1
            && matches!(bytes[at - 1], b'e' | b'E')
            && (bytes[at - 2].is_ascii_digit() || bytes[at - 2] == b'.');
        if !exponent && !text[from..at].trim().is_empty() {
            terms.push(text[from..at].trim());
            from = at + 1;
        }
    }
    terms.push(text[from..].trim());
    terms
}

/// Reads one term of a sum, which for a length or a time may have two parts; notes the unit of each.
fn term(
    text: &str,
    typed: &str,
    kind: Kind,
    default_symbol: &str,
    units: &mut Vec<Written>,
) -> Result<f64, ReadError> {
    let mut base = 0.0;
    let mut rest = text;
    let mut parts = 0;
    loop {
        let (number, after) = number(rest, typed, kind)?;
        let unit_ends = next_number(after);
        let unit = find_unit(&after[..unit_ends], typed, kind, default_symbol)?;
        units.push(if after[..unit_ends].trim().is_empty() {
            Written::Bare
        } else {
            Written::In(unit.symbol)
        });
        base += number * unit.factor + unit.offset;
        rest = after[unit_ends..].trim_start();
        parts += 1;
        if rest.is_empty() {
            return Ok(base);
        }
        let may_add_up = matches!(kind, Kind::Length | Kind::Time);
        if !may_add_up || parts > 2 {
            return Err(ReadError::UnknownUnit {
                text: typed.to_owned(),
                unit: after.trim().to_owned(),
                kind: noun(kind),
                expected: unit::listed(kind),
            });
        }
    }
}

/// Whether a text holds several figures between such words: `58 and 52`, `58, 52`.
fn parts(text: &str, between: &[&str]) -> bool {
    let text = between
        .iter()
        .fold(text.to_owned(), |text, word| text.replace(word, "\n"));
    let begins = |figure: &str| figure.starts_with(|c: char| c.is_ascii_digit() || c == '.');
    text.contains('\n') && text.split('\n').map(str::trim).all(begins)
}

/// Says how one item of a list was written; nothing for what cannot be read at all.
pub(super) fn written_unit(item: &str, kind: Kind) -> Option<Written> {
    let item = plain(item);
    let (_, after) = number(&item, &item, kind).ok()?;
    let text = &after[..next_number(after)];
    if text.trim().is_empty() {
        return Some(Written::Bare);
    }
    find_unit(text, &item, kind, "")
        .ok()
        .map(|unit| Written::In(unit.symbol))
}

/// How a number of a sum or a list was written.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Written {
    /// Without a unit.
    Bare,
    /// With one.
    In(&'static str),
}

/// Refuses `5 + 5 kW` where a bare number would be watts: nobody can tell what the first one is.
pub(super) fn mixed_units(units: &[Written], typed: &str, default_symbol: &str) -> Result<(), ReadError> {
    let other = units.iter().any(
        |written| matches!(written, Written::In(symbol) if !symbol.eq_ignore_ascii_case(default_symbol)),
    );
    if other && units.contains(&Written::Bare) {
        return Err(ReadError::Ambiguous {
            text: typed.to_owned(),
            fix: "write its unit behind every number".to_owned(),
        });
    }
    Ok(())
}

/// Says what was wanted: `a voltage in V`.
fn expected(kind: Kind) -> String {
    match kind.usual_symbol() {
        "" => kind.with_article().to_owned(),
        symbol => format!("{} in {symbol}", kind.with_article()),
    }
}

/// The kind without its article.
fn noun(kind: Kind) -> &'static str {
    kind.with_article().split_once(' ').map_or("", |(_, noun)| noun)
}

/// Prints a value and the limit it passed so that the two texts differ.
fn told_apart(value: Quantity, limit: Quantity) -> (String, String) {
    let (shown, shown_limit) = (value.to_string(), limit.to_string());
    if shown == shown_limit {
        (value.exact(), limit.exact())
    } else {
        (shown, shown_limit)
    }
}

/// Replaces signs that look alike or are not on every keyboard by plain ones.
fn plain(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for c in text.trim().chars() {
        match c {
            // The micro sign and the Greek letter mu look the same and are both typed.
            '\u{b5}' | '\u{3bc}' => plain.push('u'),
            '\u{3a9}' | '\u{2126}' | '\u{3c9}' => plain.push_str("ohm"),
            '\u{2212}' | '\u{2013}' => plain.push('-'),
            '\u{b2}' => plain.push('2'),
            '\u{b3}' => plain.push('3'),
            '\u{b0}' => {}
            '\u{a0}' | '\u{202f}' | '\u{2009}' | '_' => plain.push(' '),
            '\u{2019}' | '\u{2032}' => plain.push('\''),
            '\u{201d}' | '\u{2033}' => plain.push('"'),
            other => plain.push(other),
        }
    }
    plain
}

/// Finds where the next number of `5 ft 6 in` begins; a digit right after a letter belongs to the unit (`mm2`).
fn next_number(after: &str) -> usize {
    let bytes = after.as_bytes();
    (1..bytes.len())
        .find(|&at| bytes[at].is_ascii_digit() && matches!(bytes[at - 1], b' ' | b'\'' | b'"'))
        .unwrap_or(bytes.len())
}

fn find_unit(text: &str, typed: &str, kind: Kind, default_symbol: &str) -> Result<&'static Unit, ReadError> {
    let mut written: String = text.chars().filter(|c| !c.is_whitespace()).collect();
    if written.len() > 1 && written.ends_with('.') && written != "in." {
        written.pop();
    }
    if let Some(degrees) = written
        .strip_prefix("deg")
        .or_else(|| written.strip_prefix("Deg"))
        && degrees.len() == 1
    {
        written = degrees.to_owned();
    }
    let written = if written.is_empty() {
        default_symbol
    } else {
        written.as_str()
    };
    if kind == Kind::Capacitance && written.eq_ignore_ascii_case("mf") {
        return Err(ReadError::Ambiguous {
            text: typed.to_owned(),
            fix: format!("`{written}` is millifarad by the book and microfarad on old labels: write uF"),
        });
    }
    // Where megohm are asked, a small `m` is far more often a slip than a milliohm.
    if kind == Kind::Resistance
        && default_symbol == "Mohm"
        && matches!(written, "mohm" | "mohms" | "mOhm" | "mOhms" | "mOHM" | "m")
    {
        return Err(ReadError::Ambiguous {
            text: typed.to_owned(),
            fix: format!(
                "`{written}` is milliohm by the book, and megohm are asked here: is it `megohm` or `milliohm`? write the word"
            ),
        });
    }
    unit::find(kind, written).ok_or_else(|| match unit::find_elsewhere(kind, written) {
        Some(other) => ReadError::OtherKind {
            text: typed.to_owned(),
            found: other.kind.with_article(),
            expected: expected(kind),
        },
        None => ReadError::UnknownUnit {
            text: typed.to_owned(),
            unit: written.to_owned(),
            kind: noun(kind),
            expected: unit::listed(kind),
        },
    })
}

/// Reads the number at the start of `text`; returns it and what follows.
fn number<'t>(text: &'t str, typed: &str, kind: Kind) -> Result<(f64, &'t str), ReadError> {
    let no_number = || ReadError::NoNumber {
        text: typed.to_owned(),
        expected: expected(kind),
        example: example(kind).to_owned(),
    };
    let bytes = text.as_bytes();
    let mut at = usize::from(matches!(bytes.first(), Some(b'+' | b'-')));
    let digits_from = at;
    while at < bytes.len() && (bytes[at].is_ascii_digit() || matches!(bytes[at], b'.' | b',')) {
        at += 1;
    }
    // A full stop or comma after the last digit ends a sentence, it is not part of the number.
    while at > digits_from && matches!(bytes[at - 1], b'.' | b',') {
        at -= 1;
    }
    if at == digits_from {
        return Err(no_number());
    }
    if at < bytes.len() && matches!(bytes[at], b'e' | b'E') {
        let sign = usize::from(matches!(bytes.get(at + 1), Some(b'+' | b'-')));
        let mut end = at + 1 + sign;
        while end < bytes.len() && bytes[end].is_ascii_digit() {
            end += 1;
        }
        if end > at + 1 + sign {
            at = end;
        }
    }
    let digits = without_thousands(&text[..at], typed)?;
    let whole: f64 = digits.parse().map_err(|_| no_number())?;
    let after = &text[at..];
    if matches!(kind, Kind::ShaftPower | Kind::Length)
        && let Some((value, rest)) = fraction(whole, after)
    {
        return Ok((value, rest));
    }
    Ok((whole, after))
}

/// Takes out thousands commas, which must stand before groups of three.
fn without_thousands(digits: &str, typed: &str) -> Result<String, ReadError> {
    if !digits.contains(',') {
        return Ok(digits.to_owned());
    }
    let (whole, _) = digits.split_once('.').unwrap_or((digits, ""));
    let mut groups = whole.trim_start_matches(['+', '-']).split(',');
    let first = groups.next().unwrap_or("");
    let grouped = (1..=3).contains(&first.len()) && groups.all(|group| group.len() == 3);
    let comma_in_decimals = digits.rfind(',') > digits.find('.') && digits.contains('.');
    if !grouped || comma_in_decimals {
        return Err(ReadError::Ambiguous {
            text: typed.to_owned(),
            fix: "write decimals with a point, such as `1.5`, and thousands as `1,200`".to_owned(),
        });
    }
    Ok(digits.replace(',', ""))
}

/// Reads `/2` after `1`, or ` 1/2` or `-1/2` after `1`: fractions as nameplates and tapes print them.
fn fraction(whole: f64, after: &str) -> Option<(f64, &str)> {
    let digits = |text: &str| text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len());
    let below = |text: &str| -> Option<(f64, usize)> {
        let rest = text.strip_prefix('/')?;
        let end = digits(rest);
        let divisor: f64 = rest[..end].parse().ok()?;
        (divisor > 0.0).then_some((divisor, end + 1))
    };
    if let Some((divisor, used)) = below(after) {
        return Some((whole / divisor, &after[used..]));
    }
    let mixed = after.strip_prefix('-').unwrap_or_else(|| after.trim_start());
    let end = digits(mixed);
    let top: f64 = mixed[..end].parse().ok()?;
    let (divisor, used) = below(&mixed[end..])?;
    Some((whole + whole.signum() * top / divisor, &mixed[end + used..]))
}

/// Gives a text that would be taken for each kind.
const fn example(kind: Kind) -> &'static str {
    match kind {
        Kind::Voltage => "236 V",
        Kind::Current => "12.5 A",
        Kind::Resistance => "0.25 ohm",
        Kind::Power => "9.6 kW",
        Kind::ApparentPower => "40 VA",
        Kind::ReactivePower => "1.2 kvar",
        Kind::Capacitance => "35 uF",
        Kind::Inductance => "2 mH",
        Kind::Frequency => "60 Hz",
        Kind::Length => "75 ft",
        Kind::Temperature => "95 F",
        Kind::TemperatureRise => "40 F",
        Kind::Time => "3 min",
        Kind::Ratio => "5 %",
        Kind::Count => "2",
        Kind::ShaftPower => "1/2 hp",
        Kind::AirFlow => "1200 cfm",
        Kind::Area => "10 mm2",
        Kind::JouleIntegral => "2500 A2s",
        Kind::Angle => "36.9 deg",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str, kind: Kind) -> f64 {
        Quantity::parse(text, kind)
            .unwrap_or_else(|error| panic!("{text}: {error}"))
            .base
    }

    fn refused(text: &str, kind: Kind) -> String {
        Quantity::parse(text, kind).unwrap_err().to_string()
    }

    #[track_caller]
    fn close(found: f64, expected: f64) {
        assert!(
            (found - expected).abs() <= 1e-12 * expected.abs().max(1e-9),
            "{found} is not {expected}"
        );
    }

    #[test]
    fn takes_what_a_person_types() {
        for (text, kind, base) in [
            ("236", Kind::Voltage, 236.0),
            ("236 V", Kind::Voltage, 236.0),
            ("236V", Kind::Voltage, 236.0),
            ("236 volts", Kind::Voltage, 236.0),
            ("236.5 v.", Kind::Voltage, 236.5),
            ("0.24 kV", Kind::Voltage, 240.0),
            (".5 V", Kind::Voltage, 0.5),
            ("9.6kW", Kind::Power, 9600.0),
            ("9.6 KW", Kind::Power, 9600.0),
            ("1,500 watts", Kind::Power, 1500.0),
            ("35uF", Kind::Capacitance, 35e-6),
            ("35 \u{b5}F", Kind::Capacitance, 35e-6),
            ("35 \u{3bc}F", Kind::Capacitance, 35e-6),
            ("35 mfd", Kind::Capacitance, 35e-6),
            ("45 MFD", Kind::Capacitance, 45e-6),
            ("1,200 cfm", Kind::AirFlow, 1200.0 * 0.3048_f64.powi(3) / 60.0),
            ("95 F", Kind::Temperature, 35.0),
            ("95\u{b0}F", Kind::Temperature, 35.0),
            ("-40 F", Kind::Temperature, -40.0),
            ("35 C", Kind::Temperature, 35.0),
            ("35 deg C", Kind::Temperature, 35.0),
            ("18 F", Kind::TemperatureRise, 10.0),
            ("100 ft", Kind::Length, 30.48),
            ("5 ft 6 in", Kind::Length, 1.6764),
            ("5' 6\"", Kind::Length, 1.6764),
            ("12 m", Kind::Length, 12.0),
            ("3 min", Kind::Time, 180.0),
            ("45 s", Kind::Time, 45.0),
            ("2 h", Kind::Time, 7200.0),
            ("1 h 30 min", Kind::Time, 5400.0),
            ("5 %", Kind::Ratio, 0.05),
            ("5%", Kind::Ratio, 0.05),
            ("0.05", Kind::Ratio, 0.05),
            ("0.25 ohm", Kind::Resistance, 0.25),
            ("0.25 \u{3a9}", Kind::Resistance, 0.25),
            ("0.25 \u{2126}", Kind::Resistance, 0.25),
            ("2.4 k", Kind::Resistance, 2400.0),
            ("2.4 k ohm", Kind::Resistance, 2400.0),
            ("5 Mohm", Kind::Resistance, 5e6),
            ("5 mohm", Kind::Resistance, 5e-3),
            ("20 megohm", Kind::Resistance, 20e6),
            ("20 MEGOHMS", Kind::Resistance, 20e6),
            ("12 mA", Kind::Current, 0.012),
            ("2.3 uA", Kind::Current, 2.3e-6),
            ("24 amps", Kind::Current, 24.0),
            ("10 hp", Kind::ShaftPower, 10.0 * 745.699_871_582_270_2),
            ("1/2 hp", Kind::ShaftPower, 0.5 * 745.699_871_582_270_2),
            ("1-1/2 HP", Kind::ShaftPower, 1.5 * 745.699_871_582_270_2),
            ("7 1/2 hp", Kind::ShaftPower, 7.5 * 745.699_871_582_270_2),
            ("40 VA", Kind::ApparentPower, 40.0),
            ("0.1 kva", Kind::ApparentPower, 100.0),
            ("3", Kind::Count, 3.0),
            ("6.5 mm2", Kind::Area, 6.5e-6),
            ("6.5 mm\u{b2}", Kind::Area, 6.5e-6),
            ("1e-3 V", Kind::Voltage, 1e-3),
        ] {
            let found = read(text, kind);
            assert!(
                (found - base).abs() <= 1e-9 * base.abs(),
                "`{text}` read as {found}, expected {base}"
            );
        }
    }

    #[test]
    fn the_case_of_a_prefix_decides() {
        close(read("5 mV", Kind::Voltage), 5e-3);
        close(read("5 MV", Kind::Voltage), 5e6);
        close(read("5 MVA", Kind::ApparentPower), 5e6);
    }

    #[test]
    fn a_bare_number_takes_the_default_unit() {
        close(
            Quantity::parse_in("35", Kind::Capacitance, "uF").unwrap().base,
            35e-6,
        );
        close(Quantity::parse_in("9.6", Kind::Power, "kW").unwrap().base, 9600.0);
        close(
            Quantity::parse_in("95", Kind::Temperature, "F").unwrap().base,
            35.0,
        );
        assert!(Quantity::parse_in("95", Kind::Temperature, "V").is_err());
    }

    #[test]
    fn refusals_say_why() {
        assert_eq!(
            refused("24 A", Kind::Voltage),
            "`24 A` is a current, expected a voltage in V"
        );
        assert_eq!(
            refused("hot", Kind::Voltage),
            "`hot` does not begin with a number; expected a voltage in V, such as `236 V`"
        );
        assert_eq!(
            refused("24 furlongs", Kind::Length),
            "`furlongs` in `24 furlongs` is not a unit of length; expected m, ft, in, mm, cm, km or yd"
        );
        assert_eq!(
            refused("-24 V", Kind::Voltage),
            "`-24 V` is below zero, which a voltage cannot be; leave the minus sign out"
        );
        assert_eq!(
            refused("", Kind::Voltage),
            "nothing was typed; expected a voltage in V"
        );
        assert!(refused("OL", Kind::Resistance).contains("off its range"));
        assert!(refused("1,5 A", Kind::Current).contains("write decimals with a point"));
        assert!(refused("1,23,456 V", Kind::Voltage).contains("two ways"));
        assert!(refused("35 mF", Kind::Capacitance).contains("write uF"));
        assert!(refused("2.5", Kind::Count).contains("not a whole number"));
        assert!(refused("240 V 12 A", Kind::Voltage).contains("not a unit"));
        assert!(refused("1e999 V", Kind::Voltage).contains("too large"));
        for text in [
            "nan", "inf V", "NaN V", "--5 V", "5..2 V", ".", "-", ",", "e5", "V", "\u{3a9}",
        ] {
            assert!(Quantity::parse(text, Kind::Voltage).is_err(), "{text}");
        }
    }

    #[test]
    fn several_figures_are_not_guessed_from() {
        for text in ["58 and 52", "58, 52", "58 A & 52 A", "60; 60", "58 or 52"] {
            let refused = refused(text, Kind::Current);
            assert!(
                refused.contains("one is asked") && refused.contains("`19.9+1.4`"),
                "{refused}"
            );
        }
        assert!(refused("0.4 to 2.3 uA jumping", Kind::Current).contains("the one it shows most"));
        assert!(refused("58 sand 52", Kind::Current).contains("not a unit"));
        close(read("1,200 A", Kind::Current), 1200.0);
    }

    #[test]
    fn sums_are_added_up() {
        close(read("19.9+1.4", Kind::Current), 21.3);
        close(read("19.9 A + 300 mA", Kind::Current), 20.2);
        close(read("5 ft 6 in + 18 in", Kind::Length), 84.0 * 0.0254);
        close(read("+5 V", Kind::Voltage), 5.0);
        close(read("1e+2+1", Kind::Voltage), 101.0);
        close(
            Quantity::parse_in("5+5", Kind::Power, "kW").unwrap().base,
            10_000.0,
        );
        close(
            Quantity::parse_in("5 + 5 kW", Kind::Power, "kW").unwrap().base,
            10_000.0,
        );
        // Is the first one watts? Nobody can tell.
        assert!(refused("5 + 5 kW", Kind::Power).contains("behind every number"));
        assert!(refused("20 C + 15 C", Kind::Temperature).contains("adds up temperatures"));
        for text in ["19.9+", "19.9 + + 1", "a+b", "19.9+1.4 V"] {
            assert!(Quantity::parse(text, Kind::Current).is_err(), "{text}");
        }
    }

    #[test]
    fn nothing_is_colder_than_absolute_zero() {
        assert!(refused("-300", Kind::Temperature).contains("absolute zero"));
        assert!(refused("-460 F", Kind::Temperature).contains("absolute zero"));
        close(read("-273.15 C", Kind::Temperature), -273.15);
    }

    #[test]
    fn a_small_m_where_megohm_are_asked_is_asked_back() {
        let insulation = |text| Quantity::parse_in(text, Kind::Resistance, "Mohm");
        assert!(
            insulation("2 mohm")
                .unwrap_err()
                .to_string()
                .contains("is it `megohm` or `milliohm`")
        );
        close(insulation("2").unwrap().base, 2e6);
        close(insulation("2 Mohm").unwrap().base, 2e6);
        close(insulation("2 milliohm").unwrap().base, 2e-3);
        close(read("2 mohm", Kind::Resistance), 2e-3);
    }

    #[test]
    fn a_range_includes_its_ends_and_names_the_one_passed() {
        let volts = |base| Quantity::new(Kind::Voltage, base).unwrap();
        assert!(volts(700.0).within((0.0, 700.0)).is_ok());
        assert!(volts(0.0).within((0.0, 700.0)).is_ok());
        assert_eq!(
            volts(5e6).within((0.0, 700.0)).unwrap_err().to_string(),
            "`5 MV` is above 700 V, the most that is believable here; check the figure and its unit"
        );
        // The texts must differ even where both would round to the same figure.
        let barely = volts(700.001).within((0.0, 700.0)).unwrap_err().to_string();
        assert!(barely.starts_with("`700.001 V` is above 700 V"), "{barely}");
        assert!(
            volts(1.0)
                .within((2.0, 700.0))
                .unwrap_err()
                .to_string()
                .contains("below 2 V")
        );
    }
}
