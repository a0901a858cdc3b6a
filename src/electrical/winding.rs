//! Windings: temperature from resistance, and insulation resistance at another temperature.

use uom::si::f64::{ElectricalResistance, ThermodynamicTemperature};
use uom::si::ratio::ratio;
use uom::si::thermodynamic_temperature::degree_celsius;

/// Returns the temperature of a winding from its resistance cold and hot.
///
/// *Formula* T = R_hot / R_cold x (k + T_cold) - k.
/// *Arguments* both resistances in ohm above 0, `cold_temperature` of the winding, `constant` k = 234.5 for copper,
/// 225 for aluminum.
/// *Returns* the average temperature of the winding, unrounded.
/// *Limits* the hottest spot is warmer than the average.
/// *Source* IEEE 112, resistance method.
///
/// *Example* a published thread: 80 ohm at 20 C and 100 ohm hot give 83.63 C
/// (<https://www.physicsforums.com/threads/finding-resistance-and-temp-co-efficient.381286/>).
/// ```
/// # use lineside::electrical::winding::temperature_from_resistance;
/// # use uom::si::{electrical_resistance::ohm, f64::*, thermodynamic_temperature::degree_celsius};
/// let hot = temperature_from_resistance(
///     ElectricalResistance::new::<ohm>(80.0),
///     ElectricalResistance::new::<ohm>(100.0),
///     ThermodynamicTemperature::new::<degree_celsius>(20.0),
///     234.5,
/// );
/// assert!((hot.get::<degree_celsius>() - 83.63).abs() < 0.01);
/// ```
#[must_use]
pub fn temperature_from_resistance(
    cold: ElectricalResistance,
    hot: ElectricalResistance,
    cold_temperature: ThermodynamicTemperature,
    constant: f64,
) -> ThermodynamicTemperature {
    let at = cold_temperature.get::<degree_celsius>();
    ThermodynamicTemperature::new::<degree_celsius>((hot / cold).get::<ratio>() * (constant + at) - constant)
}

/// Returns a resistance at another temperature.
///
/// *Formula* R = R_cold x (1 + a x (T - T_cold)).
/// *Arguments* `resistance` ohm at `from`; `coefficient` a per kelvin, at the temperature `from`.
/// *Returns* ohm, unrounded.
/// *Limits* a straight line, good within the range of electrical equipment.
/// *Source* definition of the temperature coefficient.
#[must_use]
pub fn resistance_at(
    resistance: ElectricalResistance,
    from: ThermodynamicTemperature,
    to: ThermodynamicTemperature,
    coefficient: f64,
) -> ElectricalResistance {
    resistance * (1.0 + coefficient * (to.get::<degree_celsius>() - from.get::<degree_celsius>()))
}

/// Returns the factor that brings an insulation resistance to another temperature.
///
/// *Formula* k = 2^((T - T_base) / 10).
/// *Arguments* `measured_at` temperature of the winding, `base` temperature wanted.
/// *Returns* a plain factor, above 1 when the winding was warmer than the base.
/// *Limits* a rule for older insulation; newer systems change less.
/// *Source* IEEE 43, halving per 10 C.
#[must_use]
pub fn insulation_factor(measured_at: ThermodynamicTemperature, base: ThermodynamicTemperature) -> f64 {
    ((measured_at.get::<degree_celsius>() - base.get::<degree_celsius>()) / 10.0).exp2()
}
