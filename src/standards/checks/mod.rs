//! The calculations, one file each.
//!
//! To add one: write its file with a `CALCULATION`, list it in `ALL` and in a group
//! of `catalog.rs`, and give it a published example under
//! `tests/published/`. Nothing else needs to know of it.

use super::registry::Calculation;

mod accessory_added;
mod air_temperature_rise;
mod branch_load;
mod breaker_trip;
mod capacitor_bench;
mod capacitor_discharge;
mod capacitor_reactance;
mod capacitor_under_load;
mod circuit_capacity;
mod circuits_fed_as_one;
mod clean_run;
mod compressor_device_limit;
mod conductor_ampacity;
mod conductor_area;
mod conductor_check;
mod conductor_size_for;
mod conductor_size_for_drop;
mod control_cable_drop;
mod control_load;
mod control_transformer_size;
mod current_unbalance;
mod disconnect_check;
mod flame_signal;
mod fuse_opening_time;
mod generator_start;
mod ground_fault_leakage;
mod grounding_conductor;
mod heat_circuit_design;
mod heat_circuit_size;
mod heat_subdivision;
mod heater_current;
mod heater_elements;
mod insulation_resistance;
mod joint_drop;
mod leg_balance;
mod locked_rotor;
mod longest_run;
mod mixed_run;
mod motor_circuit;
mod motor_group;
mod nameplate_rebuild;
mod neutral_resistance;
mod ohms_law;
mod open_neutral;
mod phase_rotation;
mod power;
mod prelude;
mod protection_check;
mod resistance_at_temperature;
mod room_unit_circuit;
mod running_current_check;
mod series_joint;
mod service_receptacle;
mod shared_circuit_load;
mod starting_drop;
mod stretch_resistance;
mod transformer_ratio;
mod usable;
mod voltage_drop;
mod voltage_range;
mod voltage_unbalance;
mod winding_check;
mod winding_temperature;
mod working_space;

/// Every calculation; `super::catalog` says under which heading each is shown.
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
    conductor_size_for_drop::CALCULATION,
    conductor_ampacity::CALCULATION,
    conductor_area::CALCULATION,
    grounding_conductor::CALCULATION,
    disconnect_check::CALCULATION,
    voltage_drop::CALCULATION,
    longest_run::CALCULATION,
    mixed_run::CALCULATION,
    starting_drop::CALCULATION,
    stretch_resistance::CALCULATION,
    joint_drop::CALCULATION,
    series_joint::CALCULATION,
    voltage_range::CALCULATION,
    leg_balance::CALCULATION,
    open_neutral::CALCULATION,
    neutral_resistance::CALCULATION,
    voltage_unbalance::CALCULATION,
    current_unbalance::CALCULATION,
    breaker_trip::CALCULATION,
    fuse_opening_time::CALCULATION,
    ground_fault_leakage::CALCULATION,
    heater_current::CALCULATION,
    heater_elements::CALCULATION,
    heat_circuit_size::CALCULATION,
    heat_circuit_design::CALCULATION,
    heat_subdivision::CALCULATION,
    air_temperature_rise::CALCULATION,
    running_current_check::CALCULATION,
    locked_rotor::CALCULATION,
    winding_check::CALCULATION,
    winding_temperature::CALCULATION,
    resistance_at_temperature::CALCULATION,
    insulation_resistance::CALCULATION,
    capacitor_under_load::CALCULATION,
    capacitor_bench::CALCULATION,
    capacitor_discharge::CALCULATION,
    capacitor_reactance::CALCULATION,
    phase_rotation::CALCULATION,
    generator_start::CALCULATION,
    control_load::CALCULATION,
    control_transformer_size::CALCULATION,
    control_cable_drop::CALCULATION,
    transformer_ratio::CALCULATION,
    flame_signal::CALCULATION,
    ohms_law::CALCULATION,
    power::CALCULATION,
    clean_run::CALCULATION,
    working_space::CALCULATION,
    service_receptacle::CALCULATION,
];
