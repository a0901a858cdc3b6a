//! Windings: resistance and insulation resistance at another temperature.

use uom::si::f64::{ElectricalResistance, ThermodynamicTemperature};
use uom::si::thermodynamic_temperature::degree_celsius;

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
