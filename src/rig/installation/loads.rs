//! What does the work: compressor, fans, heater, and the indoor part on a circuit of its own.

use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::ohm;
use uom::si::f64::{ElectricPotential, Power};
use uom::si::power::watt;

use crate::electrical::heater;

use super::super::circuit::Complex;
use super::plate::Feed;
use super::values::OPEN;
use super::wiring::Wiring;

/// Power factor of small fan motors, running and locked; current locked over running. Common practice.
const FAN_POWER_FACTOR: f64 = 0.85;
const LOCKED_POWER_FACTOR: f64 = 0.6;
const LOCKED_FAN: f64 = 1.7;

/// Share of its plate a fan draws on an ordinary day.
const ORDINARY_FAN: f64 = 0.85;

/// Share of the compressor's rated current an inverter draws on an ordinary day.
const ORDINARY_INVERTER: f64 = 0.65;

/// Watts of a crankcase heater.
const CRANKCASE: f64 = 70.0;

/// An impedance from volts, amps and power factor, lagging.
fn impedance(volts: f64, amps: f64, power_factor: f64) -> Complex {
    Complex::from_polar(volts / amps, power_factor.acos())
}

impl Wiring<'_> {
    pub(super) fn loads(&mut self) {
        if self.of.has_indoor_circuit() {
            self.indoor_circuit();
        }
        self.compressor();
        self.outdoor_fan();
        self.blower();
        self.heater();
        if self.of.plate.has("crankcase-heater") {
            let ohms = self.of.plate.volts.powi(2) / CRANKCASE;
            self.joint("crankcase", "unit_1", "unit_2", ohms);
            self.joint(
                "crankcase_leak",
                "unit_1",
                "cabinet",
                self.values().crankcase_leak,
            );
        }
    }

    /// Nominal voltage of the indoor part.
    pub(super) fn indoor_volts(&self) -> f64 {
        let plate = &self.of.plate;
        if plate.indoor_neutral { 120.0 } else { plate.volts }
    }

    fn indoor_circuit(&mut self) {
        let values = self.values().clone();
        let neutral = self.of.plate.indoor_neutral;
        let wire = if self.of.plate.heater > 0.0 { 0.025 } else { 0.08 };
        let hot = wire + values.service_switch + values.door_switch;
        let crossed = neutral && values.reversed > 0.0;
        let [first, second] = if crossed {
            ["in_2", "in_1"]
        } else {
            ["in_1", "in_2"]
        };
        self.joint(
            "service_switch",
            "bus_1",
            "in_switch",
            values.service_switch + values.door_switch,
        );
        self.joint(
            "indoor_1",
            "in_switch",
            first,
            hot - values.service_switch - values.door_switch,
        );
        if neutral {
            self.joint("indoor_2", "bar", second, wire + values.branch_neutral);
            self.joint("neutral_bond", second, "furnace", values.neutral_bond);
            if values.neutral_shared > 0.0 {
                self.joint(
                    "neighbor_on_neutral",
                    "bus_2",
                    second,
                    120.0 / values.neutral_shared,
                );
            }
        } else {
            self.joint("indoor_2", "bus_2", second, wire);
        }
        self.joint("furnace_ground", "furnace", "ground", 0.1 + values.ground_wire);
    }

    /// Metal of the indoor part.
    pub(super) fn indoor_metal(&self) -> &'static str {
        if self.of.has_indoor_circuit() {
            "furnace"
        } else {
            "cabinet"
        }
    }

    fn compressor(&mut self) {
        let plate = &self.of.plate;
        if plate.rated_load == 0.0 {
            return;
        }
        if plate.has("inverter") {
            if self.now.cooling {
                let watts = ORDINARY_INVERTER * plate.rated_load * plate.volts * self.values().head;
                let power = Complex::new(watts, 0.2 * watts);
                self.circuit
                    .load("inverter", ["unit_1", "unit_2"], power, plate.volts);
            }
            return;
        }
        let Some(motor) = self.of.motor else { return };
        let values = self.values().clone();
        for line in 1..=self.of.lines() {
            let [t, m] = ["t", "m"].map(|at| format!("{at}_{line}"));
            let mut ohms = Complex::new(self.of.on_leg(line, |values| values.compressor_terminal), 0.0);
            let phase = impedance(plate.volts / 3f64.sqrt(), plate.rated_load, 0.85);
            ohms += phase * (self.of.on_leg(line, |values| values.unequal) - 1.0).max(0.0);
            self.circuit.impedance(&format!("cterm_{line}"), [&t, &m], ohms);
        }
        self.joint("winding_leak", "m_1", "cabinet", values.winding_leak);
        if values.turns < 1.0 {
            let ohms = 0.35 * plate.volts / plate.rated_load * values.turns / (1.0 - values.turns);
            self.joint("shorted_turns", "m_1", "m_2", ohms);
        }
        if values.winding_open > 0.0 || self.now.protector {
            return;
        }
        let siemens = motor.siemens(self.now.slip);
        if motor.three_phase {
            // With two phases in each other's place the field turns the other way, and the rotor with it.
            let [first, second] = if values.reversed > 0.0 {
                ["m_2", "m_1"]
            } else {
                ["m_1", "m_2"]
            };
            self.circuit
                .machine("compressor", [[first, "m_3"], [second, "m_3"]], siemens);
            return;
        }
        let microfarad = plate.microfarad * values.capacity;
        if values.capacitor_short > 0.0 {
            self.joint("run_capacitor", "m_1", "herm", 0.2);
        } else {
            self.circuit
                .capacitor("run_capacitor", ["m_1", "herm"], microfarad.max(0.001));
        }
        self.circuit
            .machine("compressor", [["m_1", "m_2"], ["herm", "m_2"]], siemens);
    }

    /// A small motor between two points.
    fn fan(&mut self, name: &str, between: [&str; 2], volts: f64, amps: f64, locked: bool) {
        let ohms = if locked {
            impedance(volts, amps * LOCKED_FAN, LOCKED_POWER_FACTOR)
        } else {
            impedance(volts, amps, FAN_POWER_FACTOR)
        };
        self.circuit.impedance(name, between, ohms);
    }

    fn outdoor_fan(&mut self) {
        let plate = &self.of.plate;
        let values = self.values().clone();
        if plate.fan == 0.0 {
            return;
        }
        let (volts, amps) = (plate.volts, plate.fan * ORDINARY_FAN * values.fan_load);
        let on = plate.has("contactor") || self.now.cooling;
        let locked = values.fan_locked > 0.0;
        if on && values.fan_open == 0.0 && !self.now.fan_protector {
            let from = if plate.has("contactor") {
                ["t_1", "t_2"]
            } else {
                ["unit_1", "unit_2"]
            };
            self.fan("fan", from, volts, if locked { plate.fan } else { amps }, locked);
        }
        self.joint("fan_leak", "t_2", "cabinet", values.fan_leak);
    }

    fn blower(&mut self) {
        let plate = &self.of.plate;
        let values = self.values().clone();
        let volts = self.indoor_volts();
        let [from, to] = self.of.indoor_ends();
        self.joint("board_contact", from, "motor_in", values.board_contact);
        self.joint("blower_leak", "motor_in", self.indoor_metal(), values.blower_leak);
        let called = self.now.blower || self.now.cooling || self.now.heat;
        let on = called && values.blower_open == 0.0 && !self.now.blower_protector;
        let locked = values.blower_locked > 0.0;
        if plate.blower > 0.0 && on {
            let amps = plate.blower * if locked { 1.0 } else { values.blower_load };
            self.fan("blower", ["motor_in", to], volts, amps, locked);
        }
        if plate.draft > 0.0 && self.now.heat {
            self.fan("draft", [from, to], volts, plate.draft, false);
        }
        // Board and display.
        if plate.has("control-board") {
            self.circuit
                .load("board", [from, to], Complex::new(8.0, 6.0), volts);
        }
    }

    /// Resistance heat: as many stages as there are 5 kW, seen as one with the share that is on.
    fn heater(&mut self) {
        let plate = &self.of.plate;
        if plate.heater == 0.0 {
            return;
        }
        let values = self.values().clone();
        let [from, to] = self.of.indoor_ends();
        let on = self.now.stages * (1.0 - values.heat_dead);
        let whole = heater::resistance(
            Power::new::<watt>(plate.heater * values.heat_power),
            ElectricPotential::new::<volt>(plate.heater_volts),
        )
        .get::<ohm>();
        let three = plate.feed == Feed::ThreeLines && !self.of.has_indoor_circuit();
        self.joint(
            "heat_terminal",
            from,
            "heat_1",
            self.of.on_leg(self.of.leg, |values| values.heat_terminal),
        );
        self.joint("heat_leak", "heat_1", self.indoor_metal(), values.heat_leak);
        if three {
            for (name, pair) in [
                ("heat_a", ["heat_1", "unit_2"]),
                ("heat_b", ["unit_2", "unit_3"]),
                ("heat_c", ["unit_3", "heat_1"]),
            ] {
                self.joint(
                    name,
                    pair[0],
                    pair[1],
                    if on > 0.0 { 3.0 * whole / on } else { OPEN },
                );
            }
        } else {
            self.joint("heat", "heat_1", to, if on > 0.0 { whole / on } else { OPEN });
        }
    }
}
