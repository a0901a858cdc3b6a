//! What a number measures: the `uom` type it is worked out in, and the kind it is printed as.

use std::fmt;

use uom::si::f64::{
    Area, Capacitance, ElectricCurrent, ElectricPotential, ElectricalResistance, Frequency, Length, Power,
    Ratio, TemperatureInterval, ThermodynamicTemperature, Time, VolumeRate,
};
use uom::si::{
    area::square_meter, capacitance::farad, electric_current::ampere, electric_potential::volt,
    electrical_resistance::ohm, frequency::hertz, length::meter, power::watt, ratio::ratio,
    temperature_interval::kelvin, thermodynamic_temperature::degree_celsius, time::second,
    volume_rate::cubic_meter_per_second,
};

use crate::quantity::{Kind, Quantity};

/// Where the tables for low-voltage equipment end, in volts.
///
/// *Source* NEC 430 Part XI and 490.2 begin above 1000 V nominal, from memory; the motor tables end at 575 V.
pub(super) const HIGHEST_VOLTAGE: f64 = 1000.0;

/// What a number measures: the `uom` type it is worked out in, and the kind it is printed as.
pub(super) trait Measure: Copy {
    /// The `uom` type.
    type Of: Measure<Of = Self::Of> + PartialOrd + fmt::Debug;
    const KIND: Kind;
    /// The range of sense of an input, where it says none of its own, in the base unit.
    const RANGE: Option<(f64, f64)> = None;
    /// Makes the amount from a number in the base unit of the kind.
    fn of(base: f64) -> Self::Of;
    /// Returns the number in the base unit of the kind.
    fn base(amount: Self::Of) -> f64;
}

macro_rules! measures {
    ($($type:ident $unit:ident $kind:ident $(($low:expr, $high:expr))?;)*) => {
        $(impl Measure for $type {
            type Of = Self;
            const KIND: Kind = Kind::$kind;
            $(const RANGE: Option<(f64, f64)> = Some(($low, $high));)?
            fn of(base: f64) -> Self {
                Self::new::<$unit>(base)
            }
            fn base(amount: Self) -> f64 {
                amount.get::<$unit>()
            }
        }
        impl From<$type> for Quantity {
            fn from(amount: $type) -> Self {
                Self { kind: Kind::$kind, base: amount.get::<$unit>() }
            }
        })*
    };
}
measures! {
    ElectricPotential volt Voltage (1.0, HIGHEST_VOLTAGE);
    ElectricCurrent ampere Current (0.0, 10_000.0);
    ElectricalResistance ohm Resistance (1e-6, 1e12);
    Power watt Power;
    Capacitance farad Capacitance;
    Frequency hertz Frequency;
    Length meter Length;
    ThermodynamicTemperature degree_celsius Temperature;
    TemperatureInterval kelvin TemperatureRise;
    Time second Time;
    VolumeRate cubic_meter_per_second AirFlow;
    Area square_meter Area;
    Ratio ratio Ratio;
}

/// Kinds that share their `uom` type with another.
macro_rules! alike {
    ($($(#[$doc:meta])* $name:ident $of:ident $kind:ident;)*) => {
        $($(#[$doc])*
        #[derive(Clone, Copy)]
        pub(super) struct $name;
        impl Measure for $name {
            type Of = $of;
            const KIND: Kind = Kind::$kind;
            fn of(base: f64) -> $of {
                <$of as Measure>::of(base)
            }
            fn base(amount: $of) -> f64 {
                <$of as Measure>::base(amount)
            }
        })*
    };
}
alike! {
    /// Volt-amperes; `uom` has none, so they are worked out as a power.
    ApparentPower Power ApparentPower;
    /// Volt-amperes reactive.
    ReactivePower Power ReactivePower;
    ShaftPower Power ShaftPower;
    /// A plain number of things.
    Count Ratio Count;
    /// Degrees of an angle.
    Angle Ratio Angle;
    /// A temperature as the interval above 0 C, for formulas that subtract two of them.
    Celsius TemperatureInterval Temperature;
    /// Melting energy of a fuse in A2s, as a plain number.
    JouleIntegral Ratio JouleIntegral;
}
