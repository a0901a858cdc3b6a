//! The 24 V loop: transformer, fuse, thermostat and safeties, cable, coil.

use super::super::circuit::Complex;
use super::wiring::Wiring;

/// Voltage of a 24 V transformer with nothing on it, and what is left of it at its rating: class 2 transformers are wound for 24 V at full
/// load and stand at 26 to 28 V open (common practice).
const OPEN_VOLTS: f64 = 26.8;
const FULL_VOLTS: f64 = 24.0;

/// Volt-ampere of board and thermostat, of a gas valve, of a contactor's coil with its armature seated, and with it open: the
/// figures makers print lie around these.
const ELECTRONICS: f64 = 5.0;
const GAS_VALVE: f64 = 11.0;
pub(super) const SEATED: f64 = 7.5;
pub(super) const STANDING: f64 = 30.0;

/// Angle of a coil's impedance: its power factor is 0.35 seated, 0.6 with the armature open.
const SEATED_ANGLE: f64 = 1.21;
const STANDING_ANGLE: f64 = 0.93;

fn of_volt_ampere(volt_ampere: f64, angle: f64) -> Complex {
    Complex::from_polar(FULL_VOLTS * FULL_VOLTS / volt_ampere, angle)
}

impl Wiring<'_> {
    pub(super) fn control(&mut self) {
        let rating = self.of.plate.transformer;
        if rating == 0.0 {
            return;
        }
        let values = self.values().clone();
        let volts = self.indoor_volts();
        let [from, to] = self.of.indoor_ends();
        let metal = self.indoor_metal();
        if values.transformer_open > 0.0 {
            self.joint("primary", from, "core", 1e7);
        } else {
            // Magnetizing and losses: 5 W or so.
            self.joint("primary", from, "core", 1.0);
        }
        self.circuit
            .impedance("magnetizing", ["core", to], Complex::new(4.0, 12.0) * volts);
        let ratio = volts / (OPEN_VOLTS * values.tap);
        self.circuit
            .transformer("control", ["core", to], ["s_1", "c"], ratio);
        let inner = (OPEN_VOLTS - FULL_VOLTS) / (rating / FULL_VOLTS) * values.transformer_weak;
        self.joint("secondary", "s_1", "s_2", inner);
        let fuse = !self.now.control_fuse && values.control_fuse == 0.0;
        self.circuit.switch("control_fuse", ["s_2", "s_3"], fuse, 0.03);
        self.joint("common", "c", metal, 0.1);
        self.joint("r_or_c", "s_3", "r", values.common_r);
        let electronics = ELECTRONICS + values.extra_va + if self.now.heat { GAS_VALVE } else { 0.0 };
        self.circuit
            .impedance("electronics", ["r", "c"], of_volt_ampere(electronics, 0.3));
        if self.of.plate.has("contactor") {
            self.coil();
        } else {
            // Relays of the board; a short is in the cable of the thermostat.
            self.joint("control_short", "r", "c", values.control_short);
        }
    }

    fn coil(&mut self) {
        let values = self.values().clone();
        let called = self.now.cooling && values.call_lost == 0.0 && values.protector == 0.0;
        self.circuit.switch("call", ["r", "y"], called, 0.2);
        self.joint("control_short", "y", "c", values.control_short);
        let half = values.control_cable / 2.0;
        self.joint("cable_out", "y", "splice_y", half);
        self.joint("splice_y", "splice_y", "coil_1", values.control_splice);
        self.joint("cable_back", "coil_2", "c", half + values.control_splice / 4.0);
        let sound = if self.now.pulled_in {
            of_volt_ampere(SEATED, SEATED_ANGLE)
        } else {
            of_volt_ampere(STANDING, STANDING_ANGLE)
        };
        let ohms = if values.coil_open > 0.0 {
            Complex::new(1e6, 0.0)
        } else {
            sound * values.coil_turns
        };
        self.circuit.impedance("coil", ["coil_1", "coil_2"], ohms);
    }
}
