//! Between a [`Quantity`] and the `uom` types the formulas take.

use uom::si::f64::{
    Area, Capacitance, ElectricCurrent, ElectricPotential, ElectricalResistance, Frequency, Inductance,
    Length, Power, TemperatureInterval, ThermodynamicTemperature, Time, VolumeRate,
};
use uom::si::{
    area::square_meter, capacitance::farad, electric_current::ampere, electric_potential::volt,
    electrical_resistance::ohm, frequency::hertz, inductance::henry, length::meter, power::watt,
    temperature_interval::kelvin, thermodynamic_temperature::degree_celsius, time::second,
    volume_rate::cubic_meter_per_second,
};

use super::{Kind, Quantity};

macro_rules! bridge {
    ($($(#[$doc:meta])* $name:ident $kind:ident $type:ident $unit:ident;)*) => {
        impl Quantity {
            $($(#[$doc])*
            #[must_use]
            pub fn $name(&self) -> Option<$type> {
                (self.kind == Kind::$kind).then(|| $type::new::<$unit>(self.base))
            })*
        }
    };
}

bridge! {
    /// Returns the voltage, if it is one.
    voltage Voltage ElectricPotential volt;
    /// Returns the current, if it is one.
    current Current ElectricCurrent ampere;
    /// Returns the resistance, if it is one.
    resistance Resistance ElectricalResistance ohm;
    /// Returns the real power, if it is one.
    power Power Power watt;
    /// Returns the apparent power, if it is one; `uom` has no volt-ampere, so the type is that of a power.
    apparent_power ApparentPower Power watt;
    /// Returns the power of a shaft, if it is one.
    shaft_power ShaftPower Power watt;
    /// Returns the capacitance, if it is one.
    capacitance Capacitance Capacitance farad;
    /// Returns the inductance, if it is one.
    inductance Inductance Inductance henry;
    /// Returns the frequency, if it is one.
    frequency Frequency Frequency hertz;
    /// Returns the length, if it is one.
    length Length Length meter;
    /// Returns the temperature, if it is one.
    temperature Temperature ThermodynamicTemperature degree_celsius;
    /// Returns the temperature rise, if it is one.
    temperature_rise TemperatureRise TemperatureInterval kelvin;
    /// Returns the duration, if it is one.
    time Time Time second;
    /// Returns the air flow, if it is one.
    air_flow AirFlow VolumeRate cubic_meter_per_second;
    /// Returns the cross-section, if it is one.
    cross_section Area Area square_meter;
}

impl Quantity {
    /// Returns the number of a plain ratio or a count, if it is one.
    #[must_use]
    pub fn number(&self) -> Option<f64> {
        matches!(self.kind, Kind::Ratio | Kind::Count).then_some(self.base)
    }

    /// Makes an apparent power out of the `uom` power type.
    #[must_use]
    pub fn apparent(power: Power) -> Self {
        Self {
            kind: Kind::ApparentPower,
            base: power.get::<watt>(),
        }
    }

    /// Makes a shaft power out of the `uom` power type.
    #[must_use]
    pub fn shaft(power: Power) -> Self {
        Self {
            kind: Kind::ShaftPower,
            base: power.get::<watt>(),
        }
    }

    /// Makes a plain ratio.
    #[must_use]
    pub fn ratio(number: f64) -> Self {
        Self {
            kind: Kind::Ratio,
            base: number,
        }
    }

    /// Makes a count.
    #[must_use]
    pub fn count(number: usize) -> Self {
        Self {
            kind: Kind::Count,
            base: number as f64,
        }
    }
}

macro_rules! from {
    ($($kind:ident $type:ident $unit:ident;)*) => {
        $(impl From<$type> for Quantity {
            fn from(amount: $type) -> Self {
                Self { kind: Kind::$kind, base: amount.get::<$unit>() }
            }
        })*
    };
}

from! {
    Voltage ElectricPotential volt;
    Current ElectricCurrent ampere;
    Resistance ElectricalResistance ohm;
    Power Power watt;
    Capacitance Capacitance farad;
    Inductance Inductance henry;
    Frequency Frequency hertz;
    Length Length meter;
    Temperature ThermodynamicTemperature degree_celsius;
    TemperatureRise TemperatureInterval kelvin;
    Time Time second;
    AirFlow VolumeRate cubic_meter_per_second;
    Area Area square_meter;
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_typed_amount_is_given_for_its_own_kind_only() {
        let volts = Quantity::parse("236 V", Kind::Voltage).unwrap();
        assert_eq!(volts.voltage(), Some(ElectricPotential::new::<volt>(236.0)));
        assert_eq!(volts.current(), None);
        assert_eq!(Quantity::from(ElectricPotential::new::<volt>(236.0)), volts);
        let warm = Quantity::parse("95 F", Kind::Temperature).unwrap();
        let back = Quantity::from(warm.temperature().unwrap());
        assert!((back.base - 35.0).abs() < 1e-9);
        assert_eq!(
            Quantity::parse("40 VA", Kind::ApparentPower).unwrap().power(),
            None
        );
    }
}
