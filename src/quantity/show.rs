//! Quantity to text: the one place that rounds and chooses a unit.

use std::fmt;

use super::unit::{FOOT, HORSEPOWER};
use super::{Kind, Quantity};

/// One unit a kind is printed in: used while the rounded number stays below `until`.
struct Step {
    symbol: &'static str,
    /// Base units in one of these.
    size: f64,
    until: f64,
    /// Most significant figures.
    figures: i32,
    /// Most decimals.
    decimals: i32,
}

/// Declares the units of a kind, each by its symbol, size, end, figures and decimals.
macro_rules! steps {
    ($(($symbol:literal, $size:expr, $until:expr, $figures:literal, $decimals:literal)),+ $(,)?) => {
        const {
            &[$(Step { symbol: $symbol, size: $size, until: $until, figures: $figures, decimals: $decimals }),+]
        }
    };
}

const END: f64 = f64::INFINITY;

/// The units of a kind from small to large. Figures and decimals fit what a hand-held meter shows: four
/// figures of volts and amperes, three of ohms and microfarads, a tenth of a degree.
const fn steps(kind: Kind) -> &'static [Step] {
    match kind {
        Kind::Voltage => steps![
            ("mV", 1e-3, 100.0, 4, 2),
            ("V", 1.0, 1e4, 4, 2),
            ("kV", 1e3, 1e3, 4, 2),
            ("MV", 1e6, END, 4, 2),
        ],
        Kind::Current => steps![
            ("uA", 1e-6, 1e3, 4, 2),
            ("mA", 1e-3, 100.0, 4, 2),
            ("A", 1.0, 1e4, 4, 2),
            ("kA", 1e3, END, 4, 2),
        ],
        Kind::Resistance => steps![
            ("mohm", 1e-3, 10.0, 3, 3),
            ("ohm", 1.0, 1e3, 3, 3),
            ("kohm", 1e3, 1e3, 3, 2),
            ("Mohm", 1e6, END, 3, 2),
        ],
        Kind::Power => steps![
            ("W", 1.0, 1e3, 4, 1),
            ("kW", 1e3, 1e3, 4, 2),
            ("MW", 1e6, END, 4, 2),
        ],
        Kind::ApparentPower => steps![
            ("VA", 1.0, 1e3, 4, 1),
            ("kVA", 1e3, 1e3, 4, 2),
            ("MVA", 1e6, END, 4, 2),
        ],
        Kind::ReactivePower => steps![
            ("var", 1.0, 1e3, 4, 1),
            ("kvar", 1e3, 1e3, 4, 2),
            ("Mvar", 1e6, END, 4, 2),
        ],
        Kind::Capacitance => steps![
            ("pF", 1e-12, 1e3, 3, 1),
            ("nF", 1e-9, 10.0, 3, 2),
            ("uF", 1e-6, 1e6, 3, 2),
            ("F", 1.0, END, 3, 2),
        ],
        Kind::Inductance => steps![
            ("uH", 1e-6, 1e3, 3, 1),
            ("mH", 1e-3, 1e3, 3, 2),
            ("H", 1.0, END, 3, 2),
        ],
        Kind::Frequency => steps![("Hz", 1.0, 1e3, 4, 2), ("kHz", 1e3, END, 4, 2),],
        Kind::Length => steps![("in", FOOT / 12.0, 12.0, 3, 2), ("ft", FOOT, END, 4, 1),],
        Kind::Temperature => steps![("C", 1.0, END, 5, 1)],
        Kind::TemperatureRise => steps![("C", 1.0, END, 4, 2)],
        Kind::Time => steps![
            ("ms", 1e-3, 100.0, 3, 1),
            ("s", 1.0, 120.0, 3, 2),
            ("min", 60.0, 120.0, 3, 1),
            ("h", 3600.0, 72.0, 3, 1),
            ("d", 86_400.0, END, 3, 1),
        ],
        Kind::Ratio => steps![("%", 0.01, END, 3, 2)],
        Kind::Count => steps![("", 1.0, END, 12, 2)],
        Kind::ShaftPower => steps![("hp", HORSEPOWER, END, 4, 3)],
        Kind::AirFlow => steps![("cfm", FOOT * FOOT * FOOT / 60.0, END, 4, 1)],
        Kind::Area => steps![("mm2", 1e-6, END, 4, 2)],
        Kind::JouleIntegral => steps![("A2s", 1.0, END, 4, 1)],
        Kind::Angle => steps![("deg", 1.0, END, 4, 1)],
    }
}

impl Quantity {
    /// Prints a temperature or a rise in Fahrenheit; nothing for other kinds.
    #[must_use]
    pub fn in_fahrenheit(&self) -> Option<String> {
        let fahrenheit = match self.kind {
            Kind::Temperature => self.base * 1.8 + 32.0,
            Kind::TemperatureRise => self.base * 1.8,
            _ => return None,
        };
        Some(format!("{} F", rounded(fahrenheit, 5, 1)))
    }

    /// Prints a temperature or a rise in both scales, `35 C (95 F)`, and anything else as `Display` does.
    #[must_use]
    pub fn in_both_scales(&self) -> String {
        match self.in_fahrenheit() {
            Some(fahrenheit) => format!("{self} ({fahrenheit})"),
            None => self.to_string(),
        }
    }

    /// Prints the amount without rounding, in the base unit: [`Quantity::parse`] gives back the same bits.
    #[must_use]
    pub fn exact(&self) -> String {
        // The debug form is as exact and writes very large and very small numbers with an exponent.
        let number = format!("{:?}", self.base);
        let number = number.strip_suffix(".0").unwrap_or(&number);
        match self.kind.base_symbol() {
            "" => number.to_owned(),
            symbol => format!("{number} {symbol}"),
        }
    }

    /// Prints the amount for a line of working: so many significant figures, however small the amount is.
    ///
    /// The usual printing stops at two or three decimals, as a meter does; a number that is to be keyed into a
    /// formula again needs its figures. Four figures (a rounding of 0.05 % at most) are enough wherever nothing
    /// large is subtracted.
    #[must_use]
    pub fn keyed(&self, figures: i32) -> String {
        self.shown(|number, _| rounded(number, figures, 15))
    }

    /// Prints the amount in the first unit that fits, its number as `print` says.
    fn shown(&self, print: impl Fn(f64, &Step) -> String) -> String {
        let steps = steps(self.kind);
        let named = |symbol: &str| steps.iter().find(|step| step.symbol == symbol);
        let usual = named(self.kind.base_symbol())
            .or_else(|| named(self.kind.usual_symbol()))
            .unwrap_or(&steps[0]);
        let (step, number) = if self.base == 0.0 {
            (usual, "0".to_owned())
        } else {
            steps
                .iter()
                .map(|step| (step, print(self.base / step.size, step)))
                .find(|(step, number)| number.parse::<f64>().is_ok_and(|shown| shown.abs() < step.until))
                .unwrap_or_else(|| (usual, format!("{:?}", self.base / usual.size)))
        };
        match step.symbol {
            "" => number,
            symbol => format!("{number} {symbol}"),
        }
    }
}

impl fmt::Display for Quantity {
    /// Prints the amount rounded, in the unit of a size a technician expects, in plain ASCII.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.shown(|number, step| rounded(number, step.figures, step.decimals)))
    }
}

/// Most digits before the point that are printed rather than an exponent.
const LONGEST: i32 = 9;

/// Most places behind the point at which a number may begin without one.
const SMALLEST: i32 = 5;

/// Rounds half away from zero to so many figures and decimals at most, and drops the zeros at the end.
///
/// The digits before the point are never rounded away.
#[must_use]
pub(super) fn rounded(number: f64, figures: i32, decimals: i32) -> String {
    let magnitude = if number == 0.0 {
        0
    } else {
        number.abs().log10().floor() as i32
    };
    if number.is_finite() && !(-SMALLEST..LONGEST).contains(&magnitude) {
        let figures = figures.min(4).unsigned_abs() as usize;
        let text = format!("{number:.*e}", figures - 1);
        return text.split_once('e').map_or(text.clone(), |(digits, power)| {
            format!("{}e{power}", without_zeros(digits))
        });
    }
    // A number far below the last decimal would print as zero; small amounts keep their figures instead.
    let decimals = if magnitude < -decimals {
        figures - 1 - magnitude
    } else {
        decimals
    };
    let places = (figures - 1 - magnitude).clamp(0, decimals.max(0)).unsigned_abs() as usize;
    let scale = 10f64.powi(places as i32);
    let away = (number * scale).abs();
    // Half away from zero, and a hair of tolerance: 53.75 / 0.01 and the like must not fall on the wrong side.
    let shown = ((away + 0.5 + (away * 1e-14).min(1e-3)).floor() / scale).copysign(number);
    // Decimals of a number that has none are the slowest to write, and go again.
    if shown.fract() == 0.0 {
        return (shown as i64).to_string();
    }
    without_zeros(&format!("{shown:.places$}")).to_owned()
}

/// Rounds a number to three figures, as a meter shows it.
#[must_use]
pub fn three_figures(amount: f64) -> f64 {
    if amount == 0.0 {
        return amount;
    }
    let step = 10_f64.powf(amount.abs().log10().floor() - 2.0);
    (amount / step).round() * step
}

/// Drops the zeros at the end of the decimals.
fn without_zeros(text: &str) -> &str {
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.')
    } else {
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Word;
    use proptest::prelude::*;

    fn shown(kind: Kind, base: f64) -> String {
        Quantity::new(kind, base).unwrap().to_string()
    }

    #[test]
    fn prints_as_an_instrument_would() {
        for (kind, base, text) in [
            (Kind::Power, 9600.0, "9.6 kW"),
            (Kind::Power, 751.11, "751.1 W"),
            (Kind::Power, 7210.7, "7.21 kW"),
            (Kind::Capacitance, 35e-6, "35 uF"),
            (Kind::Capacitance, 7.617e-6, "7.62 uF"),
            (Kind::Resistance, 0.2417, "0.242 ohm"),
            (Kind::Resistance, 0.0003, "0.3 mohm"),
            (Kind::Resistance, 20e6, "20 Mohm"),
            (Kind::Current, 12.5, "12.5 A"),
            (Kind::Current, 53.75, "53.75 A"),
            (Kind::Current, 41.666_666, "41.67 A"),
            (Kind::Current, 0.35, "0.35 A"),
            (Kind::Current, 2.3e-6, "2.3 uA"),
            (Kind::Current, 0.0045, "4.5 mA"),
            (Kind::Voltage, 236.42, "236.4 V"),
            (Kind::Voltage, 0.0, "0 V"),
            (Kind::Length, 30.48, "100 ft"),
            (Kind::Temperature, 35.0, "35 C"),
            (Kind::Time, 180.0, "3 min"),
            (Kind::Time, 45.0, "45 s"),
            (Kind::Time, 119.96, "2 min"),
            (Kind::Ratio, 0.05, "5 %"),
            (Kind::Ratio, 0.0196, "1.96 %"),
            (Kind::Count, 2.0, "2"),
            (Kind::ShaftPower, 745.699_871_582_270_2 / 2.0, "0.5 hp"),
        ] {
            assert_eq!(shown(kind, base), text);
        }
    }

    #[test]
    fn a_temperature_can_be_shown_in_both_scales() {
        let both = |kind, base| Quantity::new(kind, base).unwrap().in_both_scales();
        assert_eq!(both(Kind::Temperature, 35.0), "35 C (95 F)");
        assert_eq!(both(Kind::Temperature, -40.0), "-40 C (-40 F)");
        assert_eq!(both(Kind::TemperatureRise, 10.0), "10 C (18 F)");
        assert_eq!(both(Kind::Voltage, 240.0), "240 V");
    }

    fn any_quantity() -> impl Strategy<Value = Quantity> {
        (0..Kind::ALL.len(), -12.0..6.0_f64, 1.0..10.0_f64, any::<bool>()).prop_map(
            |(at, power, number, minus)| {
                let kind = Kind::ALL[at];
                let mut base = number * 10f64.powf(power);
                if kind == Kind::Count {
                    base = base.round();
                }
                // No temperature lies below absolute zero, and no reading of one is taken.
                let minus = minus && kind.may_be_negative() && (kind != Kind::Temperature || base < 273.0);
                Quantity::new(kind, if minus { -base } else { base }).unwrap()
            },
        )
    }

    proptest! {
        #[test]
        fn exact_text_reads_back_to_the_same_bits(quantity in any_quantity()) {
            let back = Quantity::parse(&quantity.exact(), quantity.kind).unwrap();
            prop_assert_eq!(back.base.to_bits(), (quantity.base + 0.0).to_bits());
        }

        #[test]
        fn shown_text_reads_back_and_shows_the_same(quantity in any_quantity()) {
            let text = quantity.to_string();
            let back = Quantity::parse(&text, quantity.kind).unwrap();
            prop_assert_eq!(back.to_string(), text);
            let off = (back.base - quantity.base).abs();
            prop_assert!(off <= quantity.base.abs() * 0.5 || off < 0.06, "{} became {}", quantity.base, back.base);
        }

        #[test]
        fn any_text_is_read_or_refused_without_a_panic(text in "\\PC{0,12}", at in 0..Kind::ALL.len()) {
            if let Ok(quantity) = Quantity::parse(&text, Kind::ALL[at]) {
                prop_assert!(quantity.base.is_finite());
            }
        }
    }
}
