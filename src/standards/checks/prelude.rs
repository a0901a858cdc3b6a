//! What nearly every calculation uses: how it is declared, types, units, shared inputs.

pub(super) use uom::si::electric_current::ampere;
pub(super) use uom::si::electric_potential::volt;
pub(super) use uom::si::electrical_resistance::ohm;
pub(super) use uom::si::f64::{
    Area, Capacitance, ElectricCurrent, ElectricPotential, ElectricalResistance, Frequency, Length, Power,
    Ratio, TemperatureInterval, ThermodynamicTemperature, Time, VolumeRate,
};
pub(super) use uom::si::length::{foot, kilometer};

pub(super) use super::super::amount::{Known, Listed, PI, ROOT_3, larger, ln};
pub(super) use super::super::calculation::{Calculation, Input, InputError, VerdictKind};
pub(super) use super::super::figure::{as_read, exceeds, keyed, keyed_number, share, text};
pub(super) use super::super::handle::{Choice, In, List, Loads, OneOf, Out, Size, Symbol, Takes};
pub(super) use super::super::lookup;
pub(super) use super::super::measure::{
    Angle, ApparentPower, Celsius, Count, JouleIntegral, Measure, ReactivePower, ShaftPower,
};
pub(super) use super::super::meter::judge;
pub(super) use super::super::rule::Edition;
pub(super) use super::super::sheet::{self, Answer, CODE_EDITION, Sheet};
pub(super) use super::super::table::{self, Column, Metal};
pub(super) use crate::quantity::{ConductorSize, Kind, Quantity, Value};

// The kinds by the names a declaration calls them.
pub(super) type Voltage = ElectricPotential;
pub(super) type Current = ElectricCurrent;
pub(super) type Resistance = ElectricalResistance;
pub(super) type Temperature = ThermodynamicTemperature;
pub(super) type Rise = TemperatureInterval;
pub(super) type AirFlow = VolumeRate;

/// Declares a calculation: its name and title, the code rules it uses, and its inputs, outputs and verdicts.
///
/// `NAME "symbol" = Kind("id", "Meaning.").more();` declares a handle; the symbol is how formulas call it, and is
/// missing where none does. A name alone is one declared elsewhere. The function `work` of the file does the rest.
macro_rules! calculation {
    (
        $name:literal: $title:literal;
        $(rules $($rule:literal),+;)?
        inputs { $(
            $input:ident $($called:literal)?
            $(= $takes:ident $(<$each:ident>)? ($($said:expr),*) $(.$also:ident($($with:expr),*))*)?
            $(: $as:ty = $like:expr)?;
        )* }
        outputs { $(
            $output:ident $($written:literal)?
            = $gives:ident $(<$every:ident>)? ($id:literal, $tells:literal) $(.$how:ident())?;
        )* }
        verdicts { $($verdict:ident $(= $sort:ident($which:literal, $means:literal))?;)* }
    ) => {
        $(input! {
            $input $($called)? $(= $takes $(<$each>)? ($($said),*) $(.$also($($with),*))*)? $(: $as = $like)?
        })*
        $(const $output: Out<$gives $(<$every>)?> =
            Out::new(concat!($($written)?), $id, $tells)$(.$how())?;)*
        $($(const $verdict: VerdictKind = VerdictKind::$sort($which, $means);)?)*
        pub(super) const CALCULATION: Calculation = Calculation {
            name: $name,
            title: $title,
            inputs: &[$($input.input),*],
            outputs: &[$($output.output),*],
            verdicts: &[$($verdict),*],
            rules: &[$($($rule),+)?],
            run: |inputs| judge(&CALCULATION, inputs, work),
        };
    };
}
pub(super) use calculation;

/// Declares one input, as `calculation!` says.
macro_rules! input {
    ($name:ident) => {};
    ($name:ident: $type:ty = $like:expr) => {
        const $name: $type = $like;
    };
    (
        $name:ident $($called:literal)?
        = $takes:ident $(<$each:ident>)? ($id:expr, $meaning:expr) $(.$also:ident($($with:expr),*))*
    ) => {
        pub(super) const $name: In<$takes $(<$each>)?> = In::new(
            concat!($($called)?),
            Input::new($id, <$takes $(<$each>)? as Takes>::KIND, $meaning)
                .within(<$takes $(<$each>)? as Takes>::RANGE)
                .among(<$takes $(<$each>)? as Takes>::CHOICES)
                $(.$also($($with),*))*,
        );
    };
}
pub(super) use input;

/// Declares what a choice is among: a type for `OneOf`, each value with its word.
macro_rules! choice {
    ($name:ident { $($value:ident = $word:literal),+ }) => {
        crate::quantity::words! {
            #[derive(Clone, Copy, PartialEq, Eq, serde::Deserialize)]
            pub(super) enum $name { $($value = $word,)+ }
        }
    };
}
pub(super) use choice;

input! { EDITION = OneOf<Edition>(CODE_EDITION, "Edition of the National Electrical Code this place uses.")
.optional() }
input! { METER_ERROR = Ratio(
    sheet::METER_ERROR,
    "Error of the instrument either way, as a share of the reading; readings of one kind are taken with one meter."
).optional().between(0.0, 0.2) }
choice! { YesNo { Yes = "yes", No = "no" } }
choice! { Phases { Single = "single", Three = "three" } }
input! { PHASES = OneOf<Phases>("phases", "Conductors that feed it: two (single) or three.").or("single") }
input! { METAL = OneOf<Metal>("conductor-metal", "Metal of the conductor.").or("copper") }
input! { INSULATION = OneOf<Column>(
    "conductor-insulation",
    "Temperature rating of the insulation in C; 60 for NM-B cable, UF and TW."
).or("60") }
input! { TERMINAL = OneOf<Column>("terminal-rating", "Lowest temperature marking of the terminals in the run, in C.")
.among(&["60", "75"]).optional() }
input! { AMBIENT = Temperature("ambient-temperature", "Air at the hottest place of the run.")
.between(-40.0, 85.0).or("30 C") }
input! { TOGETHER = Count("conductors-together", "Current-carrying conductors in one conduit or bundle.")
.between(1.0, 999.0).or("3") }
input! { UPSTREAM = Current(
    "upstream-device-rating",
    "Breaker in the panel, where fuses stand in the disconnect; the wire up to the fuses stands behind it."
).between(1.0, 1200.0).optional() }
input! { ABOVE_ROOF = Length(
    "height-above-roof",
    "Height of the conduit or cable above the roof, where it lies in direct sun."
).in_unit("in").between(0.0, 10.0).optional() }

/// The source of a limit that trade habit set.
pub(super) const COMMON: &str = "common practice, no source";

/// The verdict of a calculation that holds nothing against a limit.
pub(super) const WORKED_OUT: VerdictKind =
    VerdictKind::plain("worked-out", "Worked out; there is no limit to hold it against.");

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
    if sheet.one_of(PHASES) == Some(Phases::Three) {
        (true, 3f64.sqrt())
    } else {
        (false, 1.0)
    }
}

/// Refuses a drop above the supply: no circuit loses more than it is given.
pub(super) fn beyond_supply(what: &str, drop: ElectricPotential, supply: ElectricPotential) -> InputError {
    let (drop, supply) = (text(drop), text(supply));
    contradiction(format!(
        "{what} would lose {drop} of {supply}, and no circuit loses more than it is given: this current cannot flow here, so check the current, the length, the size and their units"
    ))
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

/// The error for inputs that cannot both be true.
pub(super) fn contradiction(what: impl Into<String>) -> InputError {
    InputError::Contradiction { what: what.into() }
}

/// Looks up the standard rating at or above a current, on a line of its own; none above the largest.
pub(super) fn standard_at_or_above(
    sheet: &mut Sheet<'_>,
    required: Known<Current>,
) -> Option<Known<Current>> {
    let least = lookup::rating_at_or_above(required.get())?;
    let ratings = sheet.table(&table::OVERCURRENT.standard_ratings);
    let put_in = format!("{} in {ratings}", keyed(required.get()));
    sheet.line("standard rating at or above", put_in, keyed(least));
    Some(Known::fixed(least))
}

/// Works out the current of a power at a line voltage, on two conductors or on three.
pub(super) fn line_current(
    sheet: &mut Sheet<'_>,
    power: Known<Power>,
    voltage: Known<Voltage>,
    three: bool,
) -> Known<Current> {
    if three {
        sheet.work("I", power / (ROOT_3 * voltage))
    } else {
        sheet.work("I", power / voltage)
    }
}

/// Works out the voltage lost on a run, on two conductors or on three.
pub(super) fn run_drop(
    sheet: &mut Sheet<'_>,
    symbol: &'static str,
    current: Known<Current>,
    one_way: Known<Resistance>,
    three: bool,
) -> Known<Voltage> {
    if three {
        sheet.work(symbol, ROOT_3 * current * one_way)
    } else {
        sheet.work(symbol, 2.0 * current * one_way)
    }
}
