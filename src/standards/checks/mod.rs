//! The calculations, one file each.
//!
//! To add one: write its file, put it into the list below, and give it a published example under `tests/published/`.
//! DEVELOPERS.md names the README, examples and counts that tests hold to it.

use super::calculation::{Calculation, Group};

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
mod device_load;
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
mod outdoor_ground_fault;
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

/// Makes the one list: headings, and under each its calculations in the order a person would look for them.
macro_rules! list {
    ($($title:literal: $($file:ident),+;)*) => {
        pub(super) static ALL: &[Calculation] = &[$($($file::CALCULATION),+),*];
        /// Every calculation once, in the order a job goes: the plate, the wire, the voltage, the device, the load.
        pub static GROUPS: &[Group] = &[$(Group { title: $title, names: &[$($file::CALCULATION.name),+] }),*];
    };
}

list! {
    "Nameplate, breaker or fuse, and what shares the circuit":
        protection_check, nameplate_rebuild, accessory_added, compressor_device_limit, motor_circuit,
        motor_group, circuits_fed_as_one, shared_circuit_load, branch_load, circuit_capacity,
        room_unit_circuit, disconnect_check;
    "Conductors":
        conductor_check, conductor_size_for, conductor_size_for_drop, conductor_ampacity, conductor_area,
        grounding_conductor;
    "Voltage: drop, legs, neutral, phases":
        voltage_range, voltage_drop, longest_run, mixed_run, starting_drop, stretch_resistance, joint_drop,
        series_joint, leg_balance, open_neutral, neutral_resistance, voltage_unbalance, current_unbalance,
        phase_rotation;
    "Did the breaker, fuse or ground-fault device act as it should":
        device_load, breaker_trip, fuse_opening_time, ground_fault_leakage;
    "Electric heat":
        heater_current, heater_elements, heat_circuit_size, heat_circuit_design, heat_subdivision,
        air_temperature_rise;
    "Compressors and motors":
        running_current_check, locked_rotor, winding_check, winding_temperature, resistance_at_temperature,
        insulation_resistance, generator_start;
    "Capacitors":
        capacitor_under_load, capacitor_bench, capacitor_discharge, capacitor_reactance;
    "24 V controls, transformers, flame":
        control_load, control_transformer_size, control_cable_drop, transformer_ratio, flame_signal;
    "First principles":
        ohms_law, power;
    "Around the equipment, and after the repair":
        working_space, service_receptacle, outdoor_ground_fault, clean_run;
}
