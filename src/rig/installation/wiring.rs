//! The circuit of an installation in one situation.
//!
//! Names: lines are 1, 2 and 3; what belongs to one ends in `_1` and so on. From the panel on a line goes `bus_1`, breaker, `bk_1`, terminal,
//! `wire_1`, branch, `end_1`, lug, `line_1`, pull-out or fuse, `load_1`, whip, `unit_1`, joint, `cl_1`, contactor, `ct_1`, joint, `t_1`.
//! A 120 V unit has its neutral as line 2, from the bar `bar`, without breaker and contactor. `cabinet` is the unit's metal.

use uom::si::electrical_resistance::ohm;
use uom::si::f64::{ElectricalResistance, ThermodynamicTemperature};
use uom::si::thermodynamic_temperature::degree_celsius;

use crate::electrical::winding;

use super::super::circuit::{Circuit, Complex};
use super::plate::Feed;
use super::values::{OPEN, Values};
use super::whole::{Installation, Situation};

/// Temperature coefficient of copper at 75 C, per kelvin (NEC Chapter 9 Table 8, note 2).
const COPPER: f64 = 0.003_23;

/// Microfarad from motor windings to their iron, a line: motors of this size have some nanofarad to a few tens. A judgment.
const WINDING_TO_IRON: f64 = 0.012;

/// The wiring while it is put together.
pub(super) struct Wiring<'a> {
    pub(super) circuit: Circuit,
    pub(super) of: &'a Installation,
    pub(super) now: &'a Situation,
}

impl Installation {
    /// The circuit in a situation.
    #[must_use]
    pub fn circuit(&self, now: &Situation) -> Circuit {
        let mut wiring = Wiring {
            circuit: Circuit::new(),
            of: self,
            now,
        };
        wiring.service();
        wiring.branch();
        wiring.grounds();
        wiring.loads();
        wiring.control();
        wiring.circuit
    }
}

impl Wiring<'_> {
    pub(super) fn values(&self) -> &Values {
        &self.of.values
    }

    /// A resistance between two names.
    pub(super) fn joint(&mut self, name: &str, from: &str, to: &str, ohms: f64) {
        self.circuit.resistance(name, [from, to], ohms);
    }

    /// Branch conductors at their temperature.
    pub(super) fn conductor(&self) -> Complex {
        let (resistance, reactance) = self.of.plate.branch;
        let celsius = ThermodynamicTemperature::new::<degree_celsius>;
        let warm = winding::resistance_at(
            ElectricalResistance::new::<ohm>(resistance * self.values().wire),
            celsius(75.0),
            celsius(self.now.wire_celsius),
            COPPER,
        );
        Complex::new(warm.get::<ohm>(), reactance)
    }

    /// The unit's circuit from the panel to its contactor.
    fn branch(&mut self) {
        for line in 1..=self.of.lines() {
            let from = self.of.origin(line);
            self.panel_end(line, &from);
            self.run(line);
            self.disconnect(line);
            self.contactor(line);
        }
        self.shared();
    }

    fn panel_end(&mut self, line: usize, from: &str) {
        let (bk, wire) = (format!("bk_{line}"), format!("wire_{line}"));
        if !self.of.is_hot(line) {
            self.joint(
                &format!("bterm_{line}"),
                from,
                &wire,
                self.values().branch_neutral,
            );
            return;
        }
        let of = self.of;
        // A breaker drops some tens of millivolts at its rating: less ohm the larger it is.
        let pole = 0.06 / of.plate.device * of.on_leg(line, |values| values.breaker_pole);
        let pole = pole + of.on_leg(line, |values| values.stab);
        let closed = !self.now.tripped && self.values().breaker_off == 0.0;
        self.circuit
            .switch(&format!("pole_{line}"), [from, &bk], closed, pole);
        let terminal = of.on_leg(line, |values| values.breaker_terminal);
        self.joint(&format!("bterm_{line}"), &bk, &wire, terminal);
    }

    fn run(&mut self, line: usize) {
        let [wire, splice, end] = ["wire", "splice", "end"].map(|place| format!("{place}_{line}"));
        let ohms = self.conductor();
        self.circuit
            .impedance(&format!("branch_{line}"), [&wire, &splice], ohms);
        let mut joint = self.of.on_leg(line, |values| values.splice);
        if self.of.is_hot(line)
            && self.of.plate.feed == Feed::HotAndNeutral
            && !self.of.plate.has("cord-and-plug")
        {
            joint += self.values().service_switch + self.values().door_switch;
        }
        self.joint(&format!("splice_{line}"), &splice, &end, joint);
        if self.of.is_hot(line) {
            let leak = self.of.on_leg(line, |values| values.branch_leak);
            self.joint(&format!("branch_leak_{line}"), &splice, "cabinet", leak);
        }
    }

    /// The disconnect, or receptacle, plug and cord.
    fn disconnect(&mut self, line: usize) {
        let of = self.of;
        let [end, at, load] = ["end", "line", "load"].map(|place| format!("{place}_{line}"));
        self.joint(
            &format!("lug_{line}"),
            &end,
            &at,
            of.on_leg(line, |values| values.lug),
        );
        let cord = of.plate.has("cord-and-plug");
        let mut pole = if cord {
            of.on_leg(line, |values| values.receptacle)
        } else if of.plate.has("disconnect") {
            of.on_leg(line, |values| values.jaw)
        } else {
            0.000_5
        };
        if self.values().pull_out > 0.0 || self.of.on_leg(line, |values| values.fuse_open) > 0.0 {
            pole = OPEN;
        }
        self.joint(&format!("jaw_{line}"), &at, &load, pole);
        let whip = if cord {
            self.values().cord
        } else {
            0.006 + of.on_leg(line, |values| values.lug)
        };
        let entry = self.entry(line);
        self.joint(&format!("whip_{line}"), &load, &entry, whip);
    }

    /// Terminal of the unit a line is brought to: crossed where hot and neutral, or two phases, change places.
    fn entry(&self, line: usize) -> String {
        let crossed = self.values().reversed > 0.0 && self.of.plate.feed != Feed::TwoHots;
        let line = match line {
            1 if crossed => 2,
            2 if crossed => 1,
            line => line,
        };
        format!("unit_{line}")
    }

    fn contactor(&mut self, line: usize) {
        let of = self.of;
        let [unit, cl, ct, t] = ["unit", "cl", "ct", "t"].map(|place| format!("{place}_{line}"));
        let joint = of.on_leg(line, |values| values.unit_terminal);
        self.joint(&format!("uterm_{line}"), &unit, &cl, joint);
        let closed = self.now.pulled_in || self.values().contact_welded > 0.0;
        let contact = of.on_leg(line, |values| values.contact);
        self.circuit
            .switch(&format!("contact_{line}"), [&cl, &ct], closed, contact);
        self.joint(&format!("tterm_{line}"), &ct, &t, 0.000_2);
    }

    /// Other loads on the unit's circuit.
    fn shared(&mut self) {
        let amps = self.values().shared;
        if amps > 0.0 {
            let ohms = self.of.plate.volts / amps;
            self.joint("shared", "end_1", "end_2", ohms);
        }
    }

    /// What ties the unit's metal to ground, and what leaks to it.
    fn grounds(&mut self) {
        let of = self.of;
        let values = self.values().clone();
        self.joint(
            "ground_wire",
            "cabinet",
            "ground",
            of.plate.grounding + values.ground_wire,
        );
        // A unit on its pad or its roof stands on some kiloohm.
        self.joint("pad", "cabinet", "0", 4000.0);
        if values.stray > 0.0 {
            self.circuit.source("stray", ["stray", "0"], values.stray, 0.0);
            self.joint("stray_path", "stray", "cabinet", values.stray_ohms);
        }
        for line in 1..=of.lines() {
            let t = format!("t_{line}");
            let insulation = of.on_leg(line, |values| values.other_leak);
            self.joint(&format!("insulation_{line}"), &t, "cabinet", insulation);
            // Windings lie against iron: what is cut off from the lines still hangs on the metal by this.
            self.circuit
                .capacitor(&format!("iron_{line}"), [&t, "cabinet"], WINDING_TO_IRON);
            let unit = format!("unit_{line}");
            self.circuit.capacitor(
                &format!("filter_{line}"),
                [&unit, "cabinet"],
                of.on_leg(line, |values| values.filter),
            );
        }
        if of.plate.feed == Feed::HotAndNeutral {
            self.joint("neutral_bond", "unit_2", "cabinet", values.neutral_bond);
        }
        if values.neutral_shared > 0.0 && of.plate.feed == Feed::HotAndNeutral {
            self.joint(
                "neighbor_on_neutral",
                "bus_2",
                "end_2",
                120.0 / values.neutral_shared,
            );
        }
    }
}
