//! The calculations, one file each.
//!
//! To add one: write its file with a `CALCULATION`, list it in `ALL`, and give it a published example under
//! `tests/published/`. Nothing else needs to know of it.

use super::registry::Calculation;

mod capacitor_under_load;
mod circuits_fed_as_one;
mod conductor_check;
mod control_load;
mod heat_circuit_size;
mod heater_current;
mod leg_balance;
mod protection_check;
mod running_current_check;
mod shared_circuit_load;
mod stretch_resistance;
mod usable;

/// Every calculation, in the order a catalogue shows them.
pub(super) static ALL: &[Calculation] = &[
    protection_check::CALCULATION,
    circuits_fed_as_one::CALCULATION,
    shared_circuit_load::CALCULATION,
    conductor_check::CALCULATION,
    heater_current::CALCULATION,
    running_current_check::CALCULATION,
    stretch_resistance::CALCULATION,
    capacitor_under_load::CALCULATION,
    leg_balance::CALCULATION,
    heat_circuit_size::CALCULATION,
    control_load::CALCULATION,
];
