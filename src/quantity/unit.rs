//! The units each kind may be typed in.

use super::Kind;

/// One unit of one kind.
pub(super) struct Unit {
    pub(super) kind: Kind,
    /// The symbol printed.
    pub(super) symbol: &'static str,
    /// Base amount = number x `factor` + `offset`.
    pub(super) factor: f64,
    pub(super) offset: f64,
    /// Other short spellings, spaces between them; the case of a leading `m` or `M` counts when `prefix` says so.
    short: &'static str,
    /// Spelled out, lowercase, spaces between them; case never counts.
    words: &'static str,
    /// The first letter of the symbol is milli or mega, so its case decides a factor of 1,000,000,000.
    prefix: bool,
}

impl Unit {
    fn is_written(&self, text: &str) -> bool {
        let same_short = |short: &str| {
            short.eq_ignore_ascii_case(text)
                && (!self.prefix || text.chars().next() == self.symbol.chars().next())
        };
        same_short(self.symbol)
            || self.short.split_whitespace().any(same_short)
            || self
                .words
                .split_whitespace()
                .any(|word| word.eq_ignore_ascii_case(text))
    }

    const fn prefixed(self) -> Self {
        Self { prefix: true, ..self }
    }

    const fn offset(self, offset: f64) -> Self {
        Self { offset, ..self }
    }
}

const fn unit(
    kind: Kind,
    symbol: &'static str,
    factor: f64,
    short: &'static str,
    words: &'static str,
) -> Unit {
    Unit {
        kind,
        symbol,
        factor,
        offset: 0.0,
        short,
        words,
        prefix: false,
    }
}

/// Foot in meters, exact by the international foot of 1959.
pub(super) const FOOT: f64 = 0.3048;
/// Mechanical horsepower in watts: 550 foot-pounds-force a second (NIST SP 811, appendix B.8).
pub(super) const HORSEPOWER: f64 = 745.699_871_582_270_2;
/// International table British thermal unit an hour, in watts (NIST SP 811, appendix B.8).
const BTU_PER_HOUR: f64 = 0.293_071_070_172_222;
/// Area of a circle one mil (0.001 in) across, in square meters: pi / 4 x (25.4e-6 m) squared.
pub(super) const CIRCULAR_MIL: f64 = std::f64::consts::FRAC_PI_4 * 25.4e-6 * 25.4e-6;

/// Declares the units kind by kind: symbol, factor, other short spellings, words.
macro_rules! units {
    ($($kind:ident {
        $($symbol:literal = $factor:expr, $short:literal, $words:literal $(, $how:ident($($by:expr)?))?;)+
    })+) => {
        /// Every unit; within a kind the base unit stands first.
        pub(super) static UNITS: &[Unit] = &[
            $($(unit(Kind::$kind, $symbol, $factor, $short, $words)$(.$how($($by)?))?,)+)+
        ];
    };
}

units! {
    Voltage {
        "V" = 1.0, "vac vdc vrms", "volt volts";
        "kV" = 1e3, "", "kilovolt kilovolts";
        "mV" = 1e-3, "", "millivolt millivolts", prefixed();
        "MV" = 1e6, "", "megavolt megavolts", prefixed();
        "uV" = 1e-6, "", "microvolt microvolts";
    }
    Current {
        "A" = 1.0, "aac adc", "amp amps ampere amperes";
        "mA" = 1e-3, "mamp mamps", "milliamp milliamps milliampere", prefixed();
        "uA" = 1e-6, "uamp uamps", "microamp microamps microampere";
        "kA" = 1e3, "", "kiloamp kiloamps";
    }
    Resistance {
        "ohm" = 1.0, "r", "ohms";
        "kohm" = 1e3, "kohms k", "kilohm kilohms kiloohm kiloohms";
        "mohm" = 1e-3, "mohms", "milliohm milliohms", prefixed();
        "Mohm" = 1e6, "Mohms M", "megohm megohms meg megs megaohm megaohms", prefixed();
        "uohm" = 1e-6, "uohms", "microohm microohms microhm microhms";
        "Gohm" = 1e9, "gohms", "gigohm gigohms gigaohm gigaohms";
    }
    Power {
        "W" = 1.0, "", "watt watts";
        "kW" = 1e3, "k", "kilowatt kilowatts";
        "mW" = 1e-3, "", "milliwatt milliwatts", prefixed();
        "MW" = 1e6, "", "megawatt megawatts", prefixed();
        "Btu/h" = BTU_PER_HOUR, "btuh btu/hr", "";
        "MBh" = 1e3 * BTU_PER_HOUR, "mbtuh", "";
    }
    ApparentPower {
        "VA" = 1.0, "", "volt-amps volt-ampere volt-amperes voltamps";
        "kVA" = 1e3, "", "";
        "MVA" = 1e6, "", "", prefixed();
    }
    ReactivePower {
        "var" = 1.0, "vars", "";
        "kvar" = 1e3, "kvars", "";
        "Mvar" = 1e6, "Mvars", "", prefixed();
    }
    Capacitance {
        "F" = 1.0, "", "farad farads";
        "uF" = 1e-6, "mfd ufd", "microfarad microfarads";
        "nF" = 1e-9, "", "nanofarad nanofarads";
        "pF" = 1e-12, "", "picofarad picofarads";
    }
    Inductance {
        "H" = 1.0, "", "henry henrys henries";
        "mH" = 1e-3, "", "millihenry millihenrys millihenries", prefixed();
        "uH" = 1e-6, "", "microhenry microhenrys microhenries";
    }
    Frequency {
        "Hz" = 1.0, "", "hertz cycles";
        "kHz" = 1e3, "", "kilohertz";
    }
    Length {
        "m" = 1.0, "", "meter meters";
        "ft" = FOOT, "'", "foot feet";
        "in" = FOOT / 12.0, "\" in.", "inch inches";
        "mm" = 1e-3, "", "millimeter millimeters";
        "cm" = 1e-2, "", "centimeter centimeters";
        "km" = 1e3, "", "kilometer kilometers";
        "yd" = 3.0 * FOOT, "", "yard yards";
    }
    Temperature {
        "C" = 1.0, "degc", "celsius centigrade";
        "F" = 5.0 / 9.0, "degf", "fahrenheit", offset(-160.0 / 9.0);
    }
    TemperatureRise {
        "K" = 1.0, "C degc", "kelvin celsius";
        "F" = 5.0 / 9.0, "degf", "fahrenheit";
    }
    Time {
        "s" = 1.0, "sec secs", "second seconds";
        "ms" = 1e-3, "msec", "millisecond milliseconds";
        "min" = 60.0, "mins", "minute minutes";
        "h" = 3600.0, "hr hrs", "hour hours";
        "d" = 86_400.0, "", "day days";
        "wk" = 604_800.0, "wks", "week weeks";
    }
    Ratio {
        "" = 1.0, "", "";
        "%" = 0.01, "pct", "percent";
    }
    Count {
        "" = 1.0, "", "";
    }
    ShaftPower {
        "W" = 1.0, "", "watt watts";
        "hp" = HORSEPOWER, "", "horsepower";
        "kW" = 1e3, "", "kilowatt kilowatts";
    }
    AirFlow {
        "m3/s" = 1.0, "", "";
        "cfm" = FOOT * FOOT * FOOT / 60.0, "ft3/min", "";
        "L/s" = 1e-3, "", "";
        "m3/h" = 1.0 / 3600.0, "", "";
    }
    Area {
        "m2" = 1.0, "", "";
        "mm2" = 1e-6, "sqmm", "";
        "cmil" = CIRCULAR_MIL, "cmils", "";
        "kcmil" = 1e3 * CIRCULAR_MIL, "mcm", "";
    }
    JouleIntegral {
        "A2s" = 1.0, "", "";
    }
    Angle {
        "deg" = 1.0, "", "degree degrees";
    }
}

/// Finds the unit of `kind` written as `text` (spaces already taken out).
pub(super) fn find(kind: Kind, text: &str) -> Option<&'static Unit> {
    UNITS
        .iter()
        .find(|unit| unit.kind == kind && unit.is_written(text))
}

/// Finds the first kind other than `kind` that has a unit written as `text`.
pub(super) fn find_elsewhere(kind: Kind, text: &str) -> Option<&'static Unit> {
    UNITS
        .iter()
        .find(|unit| unit.kind != kind && !text.is_empty() && unit.is_written(text))
}

/// Lists the symbols of `kind` for a message: `V, kV, mV, MV or uV`.
pub(super) fn listed(kind: Kind) -> String {
    let symbols: Vec<_> = UNITS
        .iter()
        .filter(|unit| unit.kind == kind && !unit.symbol.is_empty())
        .map(|unit| unit.symbol)
        .collect();
    match symbols.split_last() {
        None => "a plain number".to_owned(),
        Some((only, [])) => (*only).to_owned(),
        Some((last, rest)) => format!("{} or {last}", rest.join(", ")),
    }
}
