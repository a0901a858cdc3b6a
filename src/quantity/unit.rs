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
    /// Other short spellings; the case of a leading prefix `m` or `M` counts when `prefix` says so.
    short: &'static [&'static str],
    /// Spelled out, lowercase; case never counts.
    words: &'static [&'static str],
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
            || self.short.iter().any(|short| same_short(short))
            || self.words.iter().any(|word| word.eq_ignore_ascii_case(text))
    }
}

const fn unit(
    kind: Kind,
    symbol: &'static str,
    factor: f64,
    short: &'static [&'static str],
    words: &'static [&'static str],
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

const fn prefixed(
    kind: Kind,
    symbol: &'static str,
    factor: f64,
    short: &'static [&'static str],
    words: &'static [&'static str],
) -> Unit {
    Unit {
        prefix: true,
        ..unit(kind, symbol, factor, short, words)
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

/// Every unit; within a kind the base unit stands first.
pub(super) static UNITS: &[Unit] = &[
    unit(
        Kind::Voltage,
        "V",
        1.0,
        &["vac", "vdc", "vrms"],
        &["volt", "volts"],
    ),
    unit(Kind::Voltage, "kV", 1e3, &[], &["kilovolt", "kilovolts"]),
    prefixed(Kind::Voltage, "mV", 1e-3, &[], &["millivolt", "millivolts"]),
    prefixed(Kind::Voltage, "MV", 1e6, &[], &["megavolt", "megavolts"]),
    unit(Kind::Voltage, "uV", 1e-6, &[], &["microvolt", "microvolts"]),
    unit(
        Kind::Current,
        "A",
        1.0,
        &["aac", "adc"],
        &["amp", "amps", "ampere", "amperes"],
    ),
    prefixed(
        Kind::Current,
        "mA",
        1e-3,
        &["mamp", "mamps"],
        &["milliamp", "milliamps", "milliampere"],
    ),
    unit(
        Kind::Current,
        "uA",
        1e-6,
        &["uamp", "uamps"],
        &["microamp", "microamps", "microampere"],
    ),
    unit(Kind::Current, "kA", 1e3, &[], &["kiloamp", "kiloamps"]),
    unit(Kind::Resistance, "ohm", 1.0, &["r"], &["ohms"]),
    unit(
        Kind::Resistance,
        "kohm",
        1e3,
        &["kohms", "k"],
        &["kilohm", "kilohms", "kiloohm", "kiloohms"],
    ),
    prefixed(
        Kind::Resistance,
        "mohm",
        1e-3,
        &["mohms"],
        &["milliohm", "milliohms"],
    ),
    prefixed(
        Kind::Resistance,
        "Mohm",
        1e6,
        &["Mohms", "M"],
        &["megohm", "megohms", "meg", "megs", "megaohm", "megaohms"],
    ),
    unit(
        Kind::Resistance,
        "uohm",
        1e-6,
        &["uohms"],
        &["microohm", "microohms", "microhm", "microhms"],
    ),
    unit(
        Kind::Resistance,
        "Gohm",
        1e9,
        &["gohms"],
        &["gigohm", "gigohms", "gigaohm", "gigaohms"],
    ),
    unit(Kind::Power, "W", 1.0, &[], &["watt", "watts"]),
    unit(Kind::Power, "kW", 1e3, &["k"], &["kilowatt", "kilowatts"]),
    prefixed(Kind::Power, "mW", 1e-3, &[], &["milliwatt", "milliwatts"]),
    prefixed(Kind::Power, "MW", 1e6, &[], &["megawatt", "megawatts"]),
    unit(Kind::Power, "Btu/h", BTU_PER_HOUR, &["btuh", "btu/hr"], &[]),
    unit(Kind::Power, "MBh", 1e3 * BTU_PER_HOUR, &["mbtuh"], &[]),
    unit(
        Kind::ApparentPower,
        "VA",
        1.0,
        &[],
        &["volt-amps", "volt-ampere", "volt-amperes", "voltamps"],
    ),
    unit(Kind::ApparentPower, "kVA", 1e3, &[], &[]),
    prefixed(Kind::ApparentPower, "MVA", 1e6, &[], &[]),
    unit(Kind::ReactivePower, "var", 1.0, &["vars"], &[]),
    unit(Kind::ReactivePower, "kvar", 1e3, &["kvars"], &[]),
    prefixed(Kind::ReactivePower, "Mvar", 1e6, &["Mvars"], &[]),
    unit(Kind::Capacitance, "F", 1.0, &[], &["farad", "farads"]),
    unit(
        Kind::Capacitance,
        "uF",
        1e-6,
        &["mfd", "ufd"],
        &["microfarad", "microfarads"],
    ),
    unit(Kind::Capacitance, "nF", 1e-9, &[], &["nanofarad", "nanofarads"]),
    unit(Kind::Capacitance, "pF", 1e-12, &[], &["picofarad", "picofarads"]),
    unit(Kind::Inductance, "H", 1.0, &[], &["henry", "henrys", "henries"]),
    prefixed(
        Kind::Inductance,
        "mH",
        1e-3,
        &[],
        &["millihenry", "millihenrys", "millihenries"],
    ),
    unit(
        Kind::Inductance,
        "uH",
        1e-6,
        &[],
        &["microhenry", "microhenrys", "microhenries"],
    ),
    unit(Kind::Frequency, "Hz", 1.0, &[], &["hertz", "cycles"]),
    unit(Kind::Frequency, "kHz", 1e3, &[], &["kilohertz"]),
    unit(
        Kind::Length,
        "m",
        1.0,
        &[],
        &["metre", "metres", "meter", "meters"],
    ),
    unit(Kind::Length, "ft", FOOT, &["'"], &["foot", "feet"]),
    unit(
        Kind::Length,
        "in",
        FOOT / 12.0,
        &["\"", "in."],
        &["inch", "inches"],
    ),
    unit(
        Kind::Length,
        "mm",
        1e-3,
        &[],
        &["millimetre", "millimetres", "millimeter", "millimeters"],
    ),
    unit(
        Kind::Length,
        "cm",
        1e-2,
        &[],
        &["centimetre", "centimetres", "centimeter", "centimeters"],
    ),
    unit(
        Kind::Length,
        "km",
        1e3,
        &[],
        &["kilometre", "kilometres", "kilometer", "kilometers"],
    ),
    unit(Kind::Length, "yd", 3.0 * FOOT, &[], &["yard", "yards"]),
    unit(Kind::Temperature, "C", 1.0, &["degc"], &["celsius", "centigrade"]),
    Unit {
        kind: Kind::Temperature,
        symbol: "F",
        factor: 5.0 / 9.0,
        offset: -160.0 / 9.0,
        short: &["degf"],
        words: &["fahrenheit"],
        prefix: false,
    },
    unit(
        Kind::TemperatureRise,
        "K",
        1.0,
        &["C", "degc"],
        &["kelvin", "celsius"],
    ),
    unit(Kind::TemperatureRise, "F", 5.0 / 9.0, &["degf"], &["fahrenheit"]),
    unit(Kind::Time, "s", 1.0, &["sec", "secs"], &["second", "seconds"]),
    unit(
        Kind::Time,
        "ms",
        1e-3,
        &["msec"],
        &["millisecond", "milliseconds"],
    ),
    unit(Kind::Time, "min", 60.0, &["mins"], &["minute", "minutes"]),
    unit(Kind::Time, "h", 3600.0, &["hr", "hrs"], &["hour", "hours"]),
    unit(Kind::Time, "d", 86_400.0, &[], &["day", "days"]),
    unit(Kind::Time, "wk", 604_800.0, &["wks"], &["week", "weeks"]),
    unit(Kind::Ratio, "", 1.0, &[], &[]),
    unit(Kind::Ratio, "%", 0.01, &["pct"], &["percent"]),
    unit(Kind::Count, "", 1.0, &[], &[]),
    unit(Kind::ShaftPower, "W", 1.0, &[], &["watt", "watts"]),
    unit(Kind::ShaftPower, "hp", HORSEPOWER, &[], &["horsepower"]),
    unit(Kind::ShaftPower, "kW", 1e3, &[], &["kilowatt", "kilowatts"]),
    unit(Kind::AirFlow, "m3/s", 1.0, &[], &[]),
    unit(Kind::AirFlow, "cfm", FOOT * FOOT * FOOT / 60.0, &["ft3/min"], &[]),
    unit(Kind::AirFlow, "L/s", 1e-3, &[], &[]),
    unit(Kind::AirFlow, "m3/h", 1.0 / 3600.0, &[], &[]),
    unit(Kind::Area, "m2", 1.0, &[], &[]),
    unit(Kind::Area, "mm2", 1e-6, &["sqmm"], &[]),
    unit(Kind::Area, "cmil", CIRCULAR_MIL, &["cmils"], &[]),
    unit(Kind::Area, "kcmil", 1e3 * CIRCULAR_MIL, &["mcm"], &[]),
    unit(Kind::JouleIntegral, "A2s", 1.0, &[], &[]),
    unit(Kind::Angle, "deg", 1.0, &[], &["degree", "degrees"]),
];

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
