//! Every value of an installation that a fault can change, each with what it is when nothing is wrong.
//!
//! A value of one leg is that of the leg the fault is on; the other legs keep the sound value. Values that are yes or no are 1 or 0.

macro_rules! values {
    ($($name:ident $key:literal = $sound:expr, $says:literal;)+) => {
        /// Values that faults change. Ohm, unless said otherwise.
        #[derive(Clone, Debug, PartialEq)]
        pub struct Values {
            $(#[doc = $says] pub $name: f64,)+
        }

        impl Default for Values {
            fn default() -> Self {
                Self { $($name: $sound,)+ }
            }
        }

        impl Values {
            /// Keys as the table of faults writes them, with what each is.
            pub const KEYS: &'static [(&'static str, &'static str)] = &[$(($key, $says),)+];

            /// The value of a key.
            #[must_use]
            pub fn get(&self, key: &str) -> Option<f64> {
                match key { $($key => Some(self.$name),)+ _ => None }
            }

            /// Sets the value of a key; false where there is none.
            pub fn set(&mut self, key: &str, value: f64) -> bool {
                match key { $($key => self.$name = value,)+ _ => return false }
                true
            }
        }
    };
}

/// Resistance of a sound screwed or crimped joint. A judgment within the 10 to 100 microohm published for new bolted joints and
/// the few tenths of a milliohm of a plug-on or spade joint.
pub const JOINT: f64 = 0.000_2;

/// Ohm of what is cut: a few tens of nanofarad and dirty plastic still join the ends.
pub const OPEN: f64 = 1e6;

values! {
    utility "utility" = 1.0, "Voltage of the utility, share of nominal.";
    phase "phase" = 1.0, "Voltage of one phase or leg, share of the others.";
    source "source" = 1.0, "Impedance of the utility's transformer, times the usual.";
    drop "service-drop" = 1.0, "Resistance of the service conductors, times the usual.";
    service_hot "service-hot" = JOINT, "Joint of one service hot (leg).";
    main_pole "main-pole" = 0.000_8, "One pole of the main breaker (leg).";
    service_neutral "service-neutral" = JOINT, "Joint of the service neutral.";
    other_load "other-load" = 0.25, "Load of the rest of the building, share of the main's rating.";
    lopsided "lopsided" = 0.1, "Part of that load which leg 1 carries more and leg 2 less.";
    hertz "frequency" = 60.0, "Frequency at rest, Hz.";
    hertz_start "start-frequency" = 59.5, "Lowest frequency while the unit starts, Hz.";
    high_leg "high-leg" = 0.0, "One line of the unit is the high leg of a delta service.";
    wrong_volts "wrong-volts" = 1.0, "Voltage of the building against what the unit is made for.";
    same_leg "same-leg" = 0.0, "Both hots of the unit come from one leg.";
    reversed "reversed" = 0.0, "Two lines change places: phases in reverse, or hot and neutral.";
    floating "floating-neutral" = 0.0, "The source's neutral is tied to no ground.";
    stab "stab" = 0.000_5, "Breaker to panel bus (leg).";
    breaker_pole "breaker-pole" = 1.0, "Inside of the breaker, times the usual (leg).";
    breaker_terminal "breaker-terminal" = JOINT, "Wire at the breaker's terminal (leg).";
    breaker_bad "breaker-weak" = 1.0, "Current at which the breaker trips, share of what it should be.";
    breaker_size "breaker-size" = 1.0, "Rating of the breaker against the one that belongs there.";
    heat_breaker "heat-breaker-size" = 1.0, "Rating of the breaker ahead of the electric heat against the one that belongs there.";
    breaker_off "breaker-off" = 0.0, "A switch or breaker ahead of the unit is off.";
    panel_air "panel-air" = 27.0, "Air beside the breaker at the hot hour, C.";
    wire "wire" = 1.0, "Resistance of the branch conductors, times what they should be.";
    wire_air "wire-air" = 35.0, "Air at the hottest place of the run, C.";
    splice "splice" = JOINT, "Splice in the branch circuit (leg).";
    branch_neutral "branch-neutral" = JOINT, "Neutral of the branch circuit.";
    receptacle "receptacle" = 0.003, "Receptacle and plug, one blade (leg).";
    cord "cord" = 0.01, "Cord to the unit, each conductor.";
    service_switch "service-switch" = 0.004, "Service switch of a 120 V unit.";
    door_switch "door-switch" = 0.006, "Door switch of the blower cabinet.";
    shared "shared-load" = 0.0, "Other loads on the unit's circuit, A.";
    neutral_shared "shared-neutral" = 0.0, "Current of another circuit in the unit's neutral, A.";
    branch_leak "branch-leak" = 5e7, "Insulation of the branch conductors to ground (leg).";
    lug "disconnect-lug" = JOINT, "Wire at a lug of the disconnect (leg).";
    jaw "disconnect-jaw" = 0.001, "Pull-out, blade or fuse with its clips, one pole of the disconnect (leg).";
    fuse_open "fuse-open" = 0.0, "One fuse is open (leg).";
    pull_out "pull-out" = 0.0, "The pull-out is in upside down: open.";
    unit_terminal "unit-terminal" = JOINT, "Wire at a terminal of the contactor (leg).";
    contact "contact" = 0.002, "One pole of the contactor, closed (leg).";
    contact_welded "contact-welded" = 0.0, "The contactor stays closed without a call.";
    armature "armature-blocked" = 0.0, "The contactor's armature cannot close.";
    compressor_terminal "compressor-terminal" = JOINT, "Lead at a terminal of the compressor (leg).";
    capacity "capacitor" = 1.0, "Capacity of the run capacitor, share of its label.";
    capacitor_short "capacitor-short" = 0.0, "The run capacitor is shorted.";
    head "head" = 1.0, "Load torque of the compressor, times that of an ordinary day.";
    stiff "stiff" = 1.0, "Torque the compressor asks for at standstill, times the usual.";
    locked "locked" = 0.0, "The compressor cannot turn.";
    winding_open "winding-open" = 0.0, "A compressor winding or its protector is open.";
    turns "turns" = 1.0, "Turns left in the main winding after a short between turns, share.";
    winding_leak "winding-leak" = 2e8, "Insulation of the compressor winding to the shell.";
    unequal "windings-unequal" = 1.0, "Impedance of one phase of the motor, share of the others.";
    protector "protector-open" = 0.0, "Something holds the contactor's circuit open: a safety, a module, a switch.";
    fan_load "fan-load" = 1.0, "Load of the outdoor fan, times the usual.";
    fan_open "fan-open" = 0.0, "The outdoor fan gets no current.";
    fan_locked "fan-locked" = 0.0, "The outdoor fan cannot turn.";
    fan_leak "fan-leak" = 1e8, "Insulation of the outdoor fan to ground.";
    blower_load "blower-load" = 0.85, "Load of the blower, share of its plate.";
    blower_open "blower-open" = 0.0, "The blower gets no current.";
    blower_locked "blower-locked" = 0.0, "The blower cannot turn.";
    blower_leak "blower-leak" = 1e8, "Insulation of the blower to ground.";
    board_contact "board-contact" = 0.01, "Contact or plug that feeds the blower.";
    heat_dead "heat-dead" = 0.0, "Share of the heater's stages that stay cold.";
    heat_stuck "heat-stuck" = 0.0, "Share of the stages that stay on after the call.";
    heat_power "heat-power" = 1.0, "Power of the heater kit against the one that belongs there.";
    heat_leak "heat-leak" = 1e7, "Insulation of the heater element to its frame.";
    heat_terminal "heat-terminal" = JOINT, "Wire at a heater terminal (leg).";
    heat_with_cooling "heat-with-cooling" = 0.0, "Heater and heat pump run together on one circuit.";
    crankcase_leak "crankcase-leak" = 1e7, "Insulation of the crankcase heater to the shell.";
    other_leak "leak" = 1e8, "Insulation of wiring and of parts inside the unit to its metal (leg).";
    filter "filter" = 0.003, "Microfarad of filters and stray capacity from a hot to the unit's metal: what one leg has more than the other does not cancel (leg).";
    ground_wire "ground-wire" = 0.05, "Equipment grounding path, beside the conductor itself.";
    neutral_bond "neutral-bond" = 1e7, "Neutral to ground at the unit.";
    stray "stray-volts" = 0.0, "Voltage that something else puts on the unit's metal, V.";
    stray_ohms "stray-ohms" = 1.0, "Resistance of what puts it there.";
    tap "tap" = 1.0, "Voltage of the control transformer's secondary, share of what it should be.";
    transformer_open "transformer-open" = 0.0, "The control transformer is open.";
    transformer_weak "transformer-weak" = 1.0, "Inner resistance of the control transformer, times the usual.";
    extra_va "extra-va" = 0.0, "Load on the control transformer beside its own, VA.";
    common_r "r-or-c" = 0.02, "Connection of R or C at the board.";
    control_cable "control-cable" = 0.3, "Conductors to the outdoor coil, there and back.";
    control_splice "control-splice" = 0.02, "Splice of the control cable outdoors.";
    coil_open "coil-open" = 0.0, "The contactor's coil is open.";
    coil_turns "coil-turns" = 1.0, "Impedance of the coil, share of a sound one.";
    control_short "control-short" = 1e6, "Short between the 24 V wires.";
    control_fuse "control-fuse-open" = 0.0, "The control fuse is open.";
    call_lost "call-lost" = 0.0, "The call does not reach the contactor or board output.";
    thermostat_dead "thermostat-dead" = 0.0, "R or C is open on its way to the thermostat: no call, and a dark display; the board has its 24 V.";
    flame "flame-current" = 1.0, "Flame current, share of a clean burner's.";
    eye "eye-ohms" = 500.0, "Oil flame eye in a good flame.";
    thermocouple "thermocouple" = 27.0, "Thermocouple, open circuit, mV.";
}
