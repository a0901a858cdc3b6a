//! What nearly every calculation uses: types, units, shared inputs.

pub(super) use uom::si::electric_current::ampere;
pub(super) use uom::si::electric_potential::volt;
pub(super) use uom::si::electrical_resistance::ohm;
pub(super) use uom::si::f64::{
    ElectricCurrent, ElectricPotential, ElectricalResistance, Length, Power, ThermodynamicTemperature, Time,
};
pub(super) use uom::si::power::watt;
pub(super) use uom::si::thermodynamic_temperature::degree_celsius;

pub(super) use super::super::lookup;
pub(super) use super::super::meter::judge;
pub(super) use super::super::registry::{
    Calculation, Input, InputError, Inputs, Output, Report, VerdictKind,
};
pub(super) use super::super::sheet::{
    EDITION_INPUT, HIGHEST_VOLTAGE, METER_ERROR_INPUT, Sheet, as_read, exceeds, keyed, keyed_number, share,
    text,
};
pub(super) use super::super::table;
pub(super) use crate::quantity::{Kind, Quantity, Value, ValueKind};

/// The source of a limit that trade habit set.
pub(super) const COMMON: &str = "common practice, no source";

/// The verdict of a calculation that holds nothing against a limit.
pub(super) const WORKED_OUT: VerdictKind =
    VerdictKind::plain("worked-out", "Worked out; there is no limit to hold it against.");

pub(super) const PHASES: Input = Input::choice(
    "phases",
    &["single", "three"],
    "Conductors that feed it: two (single) or three.",
)
.or("single");
pub(super) const METAL: Input = Input::choice(
    "conductor-metal",
    &["copper", "aluminum"],
    "Metal of the conductor.",
)
.or("copper");
pub(super) const INSULATION: Input = Input::choice(
    "conductor-insulation",
    &["60", "75", "90"],
    "Temperature rating of the insulation in C; 60 for NM-B cable, UF and TW.",
)
.or("60");
pub(super) const TERMINAL: Input = Input::choice(
    "terminal-rating",
    &["60", "75"],
    "Lowest temperature marking of the terminals in the run, in C.",
)
.optional();
pub(super) const AMBIENT: Input = Input::quantity(
    "ambient-temperature",
    Kind::Temperature,
    "Air at the hottest place of the run.",
)
.between(-40.0, 85.0)
.or("30 C");
pub(super) const TOGETHER: Input = Input::quantity(
    "conductors-together",
    Kind::Count,
    "Current-carrying conductors in one conduit or bundle.",
)
.between(1.0, 999.0)
.or("3");

pub(super) const UPSTREAM: Input = Input::quantity(
    "upstream-device-rating",
    Kind::Current,
    "Breaker in the panel, where fuses stand in the disconnect; the wire up to the fuses stands behind it.",
)
.between(1.0, 1200.0)
.optional();

pub(super) const ABOVE_ROOF: Input = Input::quantity(
    "height-above-roof",
    Kind::Length,
    "Height of the conduit or cable above the roof, where it lies in direct sun.",
)
.in_unit("in")
.between(0.0, 10.0)
.optional();

/// A current input of a sensible range.
pub(super) const fn current(name: &'static str, meaning: &'static str) -> Input {
    Input::quantity(name, Kind::Current, meaning).between(0.0, 10_000.0)
}

/// A voltage input of a sensible range, never zero.
pub(super) const fn voltage(name: &'static str, meaning: &'static str) -> Input {
    Input::quantity(name, Kind::Voltage, meaning).between(1.0, HIGHEST_VOLTAGE)
}

/// A resistance input of a sensible range, never zero.
pub(super) const fn resistance(name: &'static str, meaning: &'static str) -> Input {
    Input::quantity(name, Kind::Resistance, meaning).between(1e-6, 1e12)
}

pub(super) fn amps(number: f64) -> ElectricCurrent {
    ElectricCurrent::new::<ampere>(number)
}

pub(super) fn volts(number: f64) -> ElectricPotential {
    ElectricPotential::new::<volt>(number)
}

pub(super) fn ohms(number: f64) -> ElectricalResistance {
    ElectricalResistance::new::<ohm>(number)
}

/// Whether `phases` says three, and the factor of line voltage and current that goes with it.
pub(super) fn phase_factor(sheet: &Sheet<'_>) -> (bool, f64) {
    if sheet.choice("phases") == Some("three") {
        (true, 3f64.sqrt())
    } else {
        (false, 1.0)
    }
}

/// Writes a power over the volts that go with it: `P / V`, on three phases `P / (1.732 x V)`.
pub(super) fn over_line_volts(power: String, voltage: ElectricPotential, three: bool) -> String {
    if three {
        format!("{power} / (1.732 x {})", keyed(voltage))
    } else {
        format!("{power} / {}", keyed(voltage))
    }
}

/// Refuses a drop above the supply: no circuit loses more than it is given.
pub(super) fn beyond_supply(what: &str, drop: ElectricPotential, supply: ElectricPotential) -> InputError {
    InputError::Contradiction {
        what: format!(
            "{what} would lose {} of {}, and no circuit loses more than it is given: this current cannot flow here, so check the current, the length, the size and their units",
            text(drop),
            text(supply)
        ),
    }
}

/// Joins amounts into `a + b`.
pub(super) fn sum_text<T: Copy + Into<Quantity>>(all: &[T]) -> String {
    if all.is_empty() {
        "0".to_owned()
    } else {
        all.iter().map(|one| keyed(*one)).collect::<Vec<_>>().join(" + ")
    }
}

pub(super) fn total(all: &[ElectricCurrent]) -> ElectricCurrent {
    all.iter().fold(amps(0.0), |sum, one| sum + *one)
}

pub(super) fn largest(all: &[ElectricCurrent]) -> ElectricCurrent {
    all.iter().copied().fold(amps(0.0), ElectricCurrent::max)
}

/// Says yes or no for a line of working.
pub(super) fn holds(holds: bool) -> &'static str {
    if holds { "holds" } else { "broken" }
}
