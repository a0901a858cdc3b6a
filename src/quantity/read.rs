//! Text to quantity.

use super::number::{find_unit, next_number, number};
use super::refused::{ReadError, expected, noun};
use super::told::as_told;
use super::{Kind, Quantity, unit};

impl Quantity {
    /// Reads a quantity of the given kind as a person would type it; a bare number is in the base unit.
    ///
    /// Takes `236`, `236V`, `0.24 kV`, `35 µF`, `35 mfd`, `1,200 cfm`, `95 F`, `3 min`, `5 %`, `20 megohm`,
    /// `1/2 hp`, `5 ft 6 in`, `half an hour`, and sums such as `19.9+1.4`. The case of a leading `m` or `M` counts: `mV` is millivolt, `MV` megavolt.
    ///
    /// # Errors
    /// Every case of [`ReadError`] that concerns a number or its unit; the range is not checked here, see
    /// [`Quantity::within`].
    pub fn parse(text: &str, kind: Kind) -> Result<Self, ReadError> {
        Self::parse_in(text, kind, kind.base_symbol())
    }

    /// Reads a quantity; a bare number is in the unit `default_symbol`. One below 1 where that is `mV` is not taken: it may be volts.
    ///
    /// # Errors
    /// As [`Quantity::parse`]; a `default_symbol` that is no unit of `kind` is an unknown unit.
    pub fn parse_in(text: &str, kind: Kind, default_symbol: &str) -> Result<Self, ReadError> {
        let typed = text.trim();
        let plain = as_told(plain(typed), kind);
        let expected = || expected(kind, default_symbol);
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
        // A meter that chose its range by itself shows volts: a joint that burns would pass for a good one. The limit is a judgment, no source.
        let bare = units.iter().all(|written| *written == Written::Bare);
        if bare && default_symbol == "mV" && base != 0.0 && base.abs() < 1e-3 {
            return Err(ReadError::Ambiguous {
                text: typed.to_owned(),
                fix: format!("type `{typed} V` or `{typed} mV`, whichever the meter shows"),
            });
        }
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
        let (number, after) = number(rest, typed, kind, default_symbol)?;
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
    let item = as_told(plain(item), kind);
    let (_, after) = number(&item, &item, kind, "").ok()?;
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
            ("2 weeks", Kind::Time, 1_209_600.0),
            ("a day", Kind::Time, 86_400.0),
            ("A week", Kind::Time, 604_800.0),
            ("an hour", Kind::Time, 3600.0),
            ("half an hour", Kind::Time, 1800.0),
            ("half a day", Kind::Time, 43_200.0),
            ("two days", Kind::Time, 172_800.0),
            ("ten minutes", Kind::Time, 600.0),
            ("an hr.", Kind::Time, 3600.0),
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
    fn a_bare_figure_below_one_millivolt_is_asked_again() {
        let millivolts = |text| Quantity::parse_in(text, Kind::Voltage, "mV");
        for text in ["0.3", ".3", "0,3", "-0.3", "0.1+0.2"] {
            assert!(
                matches!(millivolts(text), Err(ReadError::Ambiguous { .. })),
                "{text}"
            );
        }
        close(millivolts("0.3 V").unwrap().base, 0.3);
        close(millivolts("0.3 mV").unwrap().base, 3e-4);
        close(millivolts("0").unwrap().base, 0.0);
        close(millivolts("1").unwrap().base, 1e-3);
        close(Quantity::parse_in("0.3", Kind::Voltage, "V").unwrap().base, 0.3);
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
    fn a_refusal_names_the_unit_that_was_asked_for() {
        let refused = |text, kind, symbol| Quantity::parse_in(text, kind, symbol).unwrap_err().to_string();
        assert_eq!(
            refused("a few days", Kind::Time, "h"),
            "`a few days` does not begin with a number; expected a time in h, such as `12 h`"
        );
        assert!(refused("", Kind::Time, "h").ends_with("expected a time in h"));
        assert!(refused("warm", Kind::Temperature, "F").ends_with("a temperature in F, such as `95 F`"));
        assert!(refused("5 A", Kind::Voltage, "mV").ends_with("expected a voltage in mV"));
        assert!(refused("low", Kind::Resistance, "Mohm").ends_with("in Mohm, such as `12 Mohm`"));
        assert!(refused("much", Kind::Capacitance, "F").ends_with("in uF, such as `35 uF`"));
        // Words stand for a figure only where a time is asked.
        assert!(Quantity::parse("a V", Kind::Voltage).is_err());
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
