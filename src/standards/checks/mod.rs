//! The calculations, one file each.
//!
//! To add one: write its file with a `CALCULATION`, list it in `ALL`, and give it a published example under
//! `tests/published/`. Nothing else needs to know of it.

use super::registry::Calculation;

mod accessory_added;
mod branch_load;
mod capacitor_reactance;
mod capacitor_under_load;
mod circuit_capacity;
mod circuits_fed_as_one;
mod compressor_device_limit;
mod conductor_ampacity;
mod conductor_check;
mod conductor_size_for;
mod control_cable_drop;
mod control_load;
mod control_transformer_size;
mod flame_signal;
mod fuse_opening_time;
mod heat_circuit_design;
mod heat_circuit_size;
mod heat_subdivision;
mod heater_current;
mod insulation_resistance;
mod leg_balance;
mod locked_rotor;
mod longest_run;
mod mixed_run;
mod motor_circuit;
mod motor_group;
mod nameplate_rebuild;
mod ohms_law;
mod open_neutral;
mod power;
mod prelude;
mod protection_check;
mod resistance_at_temperature;
mod room_unit_circuit;
mod running_current_check;
mod series_joint;
mod shared_circuit_load;
mod starting_drop;
mod stretch_resistance;
mod transformer_ratio;
mod usable;
mod voltage_drop;
mod voltage_range;
mod voltage_unbalance;
mod winding_temperature;

/// Every calculation, in the order a catalogue shows them: what feeds the unit, its conductors, its voltage, its
/// protection, its heat, its motors, its controls, and the rest.
pub(super) static ALL: &[Calculation] = &[
    protection_check::CALCULATION,
    nameplate_rebuild::CALCULATION,
    accessory_added::CALCULATION,
    compressor_device_limit::CALCULATION,
    circuits_fed_as_one::CALCULATION,
    shared_circuit_load::CALCULATION,
    branch_load::CALCULATION,
    circuit_capacity::CALCULATION,
    room_unit_circuit::CALCULATION,
    motor_circuit::CALCULATION,
    motor_group::CALCULATION,
    conductor_check::CALCULATION,
    conductor_size_for::CALCULATION,
    conductor_ampacity::CALCULATION,
    voltage_drop::CALCULATION,
    longest_run::CALCULATION,
    mixed_run::CALCULATION,
    starting_drop::CALCULATION,
    stretch_resistance::CALCULATION,
    series_joint::CALCULATION,
    voltage_range::CALCULATION,
    leg_balance::CALCULATION,
    open_neutral::CALCULATION,
    voltage_unbalance::CALCULATION,
    fuse_opening_time::CALCULATION,
    heater_current::CALCULATION,
    heat_circuit_size::CALCULATION,
    heat_circuit_design::CALCULATION,
    heat_subdivision::CALCULATION,
    running_current_check::CALCULATION,
    locked_rotor::CALCULATION,
    winding_temperature::CALCULATION,
    resistance_at_temperature::CALCULATION,
    insulation_resistance::CALCULATION,
    capacitor_under_load::CALCULATION,
    capacitor_reactance::CALCULATION,
    control_load::CALCULATION,
    control_transformer_size::CALCULATION,
    control_cable_drop::CALCULATION,
    transformer_ratio::CALCULATION,
    flame_signal::CALCULATION,
    ohms_law::CALCULATION,
    power::CALCULATION,
];
