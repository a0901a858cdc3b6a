//! The service: utility transformer, drop, main, and the loads of the building.

use super::super::circuit::Complex;
use super::plate::Feed;
use super::wiring::Wiring;

/// Impedance of a utility transformer of 25 to 50 kVA seen from one 120 V half, ohm: 2 % at 240 V. A judgment from typical
/// distribution transformers.
const TRANSFORMER: Complex = Complex::new(0.008, 0.012);

/// One conductor of a 60 ft service drop and entrance for a main of 200 A, ohm (4/0 aluminum, NEC Chapter 9 Table 9).
const DROP: Complex = Complex::new(0.006, 0.002_5);

/// Ground rods of the utility's pole and of the house, ohm. Rods in soil are 5 to 100.
const UTILITY_ROD: f64 = 5.0;
const HOUSE_ROD: f64 = 25.0;

impl Wiring<'_> {
    /// Voltage and angle of each line against the neutral.
    fn legs(&self) -> Vec<(f64, f64)> {
        let plate = &self.of.plate;
        let values = self.values();
        let share = values.utility * values.wrong_volts;
        let mut legs = match plate.feed {
            Feed::ThreeLines if plate.volts == 240.0 => vec![(120.0, 0.0), (207.846, 90.0), (120.0, 180.0)],
            Feed::ThreeLines => {
                let volts = plate.volts / 3f64.sqrt();
                vec![(volts, 0.0), (volts, -120.0), (volts, 120.0)]
            }
            Feed::TwoHots if plate.volts < 215.0 => vec![(120.0, 0.0), (120.0, -120.0)],
            Feed::TwoHots | Feed::HotAndNeutral => vec![(120.0, 0.0), (120.0, 180.0)],
        };
        if values.high_leg > 0.0 {
            legs[0] = (207.846, 90.0);
        }
        for (place, leg) in legs.iter_mut().enumerate() {
            leg.0 *= share * self.of.on_leg(place + 1, |values| values.phase);
        }
        legs
    }

    pub(super) fn service(&mut self) {
        let values = self.values().clone();
        let size = 200.0 / self.of.plate.main;
        let high = if self.of.plate.volts > 300.0 { 4.0 } else { 1.0 };
        for (place, (volts, degrees)) in self.legs().into_iter().enumerate() {
            let line = place + 1;
            let [x, meter, main, bus] = ["x", "meter", "main", "bus"].map(|at| format!("{at}_{line}"));
            self.circuit
                .source(&format!("winding_{line}"), [&x, "xn"], volts, degrees);
            let source = TRANSFORMER * values.source * high;
            self.circuit
                .impedance(&format!("source_{line}"), [&x, &meter], source);
            let joint = self.of.on_leg(line, |values| values.service_hot);
            let drop = DROP * values.drop * size + joint;
            self.circuit
                .impedance(&format!("drop_{line}"), [&meter, &main], drop);
            let pole = self.of.on_leg(line, |values| values.main_pole);
            self.joint(&format!("main_{line}"), &main, &bus, pole);
            self.building(line, &bus, volts);
        }
        let neutral = DROP * values.drop * size + values.service_neutral;
        self.circuit.impedance("drop_n", ["xn", "bar"], neutral);
        let rod = if values.floating > 0.0 { 1e5 } else { UTILITY_ROD };
        self.joint("utility_rod", "xn", "0", rod);
        // A source whose neutral is tied to no ground: the house's ground hangs on its rod alone.
        let bond = if values.floating > 0.0 { 1e5 } else { 0.000_5 };
        self.joint("bond", "bar", "ground", bond);
        self.joint("house_rod", "ground", "0", HOUSE_ROD);
        if self.now.test_load > 0.0 {
            self.joint("test_load", "bus_1", "bar", 120.0 * 120.0 / self.now.test_load);
        }
    }

    /// The other loads of the building on one leg.
    fn building(&mut self, line: usize, bus: &str, volts: f64) {
        let values = self.values();
        let tilt = match line {
            1 => 1.0 + values.lopsided,
            2 => 1.0 - values.lopsided,
            _ => 1.0,
        };
        let amps = (values.other_load * self.now.building * self.of.plate.main * tilt).max(0.2);
        let nominal = if volts > 1.0 {
            volts / values.utility
        } else {
            120.0
        };
        let ohms = Complex::from_polar(nominal / amps, 0.15);
        self.circuit
            .impedance(&format!("building_{line}"), [bus, "bar"], ohms);
    }
}
