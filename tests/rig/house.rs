//! A small split-phase house with one unit outdoors, put together by hand.

use lineside::rig::{Circuit, Complex};

use super::ohms;

/// What differs from a healthy 120/240 V house with one unit outdoors.
#[derive(Clone)]
pub(super) struct House {
    legs: [f64; 2],
    /// Service drop: both hots and neutral, ohm.
    drop: [f64; 3],
    earth_rod: f64,
    /// Joints at the breaker, disconnect line lugs, contactor poles, ohm a leg.
    breaker: [f64; 2],
    lugs: [f64; 2],
    poles: [f64; 2],
    closed: bool,
    branch: f64,
    locked: bool,
    microfarad: f64,
    heaters: Vec<f64>,
    neighbors: [f64; 3],
    drive: f64,
    leak: f64,
    ground: f64,
    swapped: bool,
    secondary_short: f64,
    tap: f64,
}

impl Default for House {
    fn default() -> Self {
        Self {
            legs: [120.0; 2],
            drop: [0.02, 0.02, 0.03],
            earth_rod: 25.0,
            breaker: [0.002; 2],
            lugs: [0.0005; 2],
            poles: [0.003; 2],
            closed: true,
            branch: 0.06,
            locked: false,
            microfarad: 45.0,
            heaters: vec![],
            neighbors: [20.0, 12.0, 35.0],
            drive: 0.0,
            leak: 1e6,
            ground: 0.1,
            swapped: false,
            secondary_short: 24.0,
            tap: 10.0,
        }
    }
}

impl House {
    fn service(&self, c: &mut Circuit) {
        c.source("winding_1", ["x1", "xn"], self.legs[0], 0.0);
        c.source("winding_2", ["xn", "x3"], self.legs[1], 0.0);
        c.resistance("utility_rod", ["xn", "0"], 5.0);
        c.impedance("leak_1", ["x1", "pole_1"], ohms(0.006, 0.009));
        c.impedance("leak_2", ["x3", "pole_2"], ohms(0.006, 0.009));
        c.impedance("drop_1", ["pole_1", "bus_1"], ohms(self.drop[0], 0.004));
        c.impedance("drop_2", ["pole_2", "bus_2"], ohms(self.drop[1], 0.004));
        c.impedance("drop_n", ["xn", "bar"], ohms(self.drop[2], 0.004));
        c.resistance("house_rod", ["bar", "0"], self.earth_rod);
        c.resistance("neighbor_1", ["bus_1", "bar"], self.neighbors[0]);
        c.resistance("neighbor_2", ["bus_2", "bar"], self.neighbors[1]);
        c.impedance("range", ["bus_1", "bus_2"], ohms(self.neighbors[2], 1.0));
    }

    fn branch(&self, c: &mut Circuit) {
        for (leg, bus) in [(0, "bus_1"), (1, "bus_2")] {
            let n = leg + 1;
            let [load, line, disc, unit] =
                ["breaker", "line", "disc", "unit"].map(|place| format!("{place}_{n}"));
            c.switch(&format!("pole_{n}"), [bus, &load], true, self.breaker[leg]);
            c.impedance(&format!("branch_{n}"), [&load, &line], ohms(self.branch, 0.0025));
            c.resistance(&format!("lug_{n}"), [&line, &disc], self.lugs[leg]);
            c.impedance(&format!("whip_{n}"), [&disc, &unit], ohms(0.006, 0.0003));
            c.switch(
                &format!("contact_{n}"),
                [&unit, &format!("t{n}")],
                self.closed,
                self.poles[leg],
            );
        }
        c.resistance("ground_wire", ["cabinet", "bar"], self.ground);
        c.resistance("insulation", ["t1", "cabinet"], self.leak);
        c.impedance("stray", ["t2", "cabinet"], ohms(10.0, -2.6e5));
        c.resistance("bleed", ["herm", "cabinet"], 5e6);
    }

    fn unit(&self, c: &mut Circuit) {
        c.capacitor("run_capacitor", ["t1", "herm"], self.microfarad);
        let main = if self.locked {
            ohms(1.6, 2.6)
        } else {
            ohms(11.0, 5.5)
        };
        let aux = if self.locked {
            ohms(5.0, 5.5)
        } else {
            ohms(14.0, 20.0)
        };
        let cross = if self.locked {
            Complex::ZERO
        } else {
            ohms(0.012, -0.004)
        };
        let ports = [["t1", "t2"], ["herm", "t2"]];
        c.machine(
            "compressor",
            ports,
            [[main.inv(), cross], [-cross * ohms(0.0, 1.0), aux.inv()]],
        );
        c.impedance("fan", ["t1", "t2"], ohms(140.0, 130.0));
        for (n, heater) in self.heaters.iter().enumerate() {
            c.resistance(&format!("heater_{n}"), ["breaker_1", "breaker_2"], *heater);
        }
        if self.drive > 0.0 {
            c.load(
                "drive",
                ["unit_1", "unit_2"],
                ohms(self.drive, 0.3 * self.drive),
                240.0,
            );
        }
        let (one, two) = if self.swapped {
            ("unit_2", "unit_1")
        } else {
            ("unit_1", "unit_2")
        };
        c.impedance("primary", [one, "core"], ohms(25.0, 12.0));
        c.transformer("control", ["core", two], ["s1", "s2"], self.tap);
        c.resistance("core_loss", ["core", two], 12e3);
        c.resistance("secondary", ["s1", "r"], 0.9);
        c.resistance("common_ground", ["s2", "cabinet"], 0.05);
        c.resistance("fuse", ["r", "y"], 0.05);
        c.impedance("coil", ["y", "s2"], ohms(18.0, 52.0));
        c.resistance("thermostat", ["r", "s2"], self.secondary_short * 10.0);
    }

    pub(super) fn circuit(&self) -> Circuit {
        let mut circuit = Circuit::new();
        self.service(&mut circuit);
        self.branch(&mut circuit);
        self.unit(&mut circuit);
        circuit
    }
}

pub(super) fn houses() -> Vec<(&'static str, House)> {
    let healthy = House::default();
    macro_rules! with { ($($field:ident : $value:expr),+) => { House { $($field: $value,)+ ..healthy.clone() } }; }
    vec![
        ("split_healthy", healthy.clone()),
        ("split_contactor_open", with!(closed: false)),
        ("split_starting", with!(locked: true)),
        ("split_heat_one_stage", with!(closed: false, heaters: vec![12.0])),
        (
            "split_heat_three_stages",
            with!(closed: false, heaters: vec![12.0; 3]),
        ),
        ("split_heat_and_cooling", with!(heaters: vec![12.0; 2])),
        ("split_inverter", with!(closed: false, drive: 3200.0)),
        (
            "split_inverter_on_low_volts",
            with!(closed: false, drive: 3200.0, legs: [98.0, 98.0]),
        ),
        (
            "split_inverter_lets_go",
            with!(closed: false, drive: 3200.0, legs: [75.0, 75.0]),
        ),
        ("split_low_utility", with!(legs: [104.0, 104.0])),
        ("split_high_utility", with!(legs: [132.0, 132.0])),
        ("split_open_service_neutral", with!(drop: [0.02, 0.02, 1e5])),
        ("split_loose_service_neutral", with!(drop: [0.02, 0.02, 1.5])),
        ("split_loose_service_hot", with!(drop: [0.6, 0.02, 0.03])),
        (
            "split_weak_drop_starting",
            with!(drop: [0.12, 0.12, 0.12], locked: true),
        ),
        ("split_loose_breaker_terminal", with!(breaker: [0.05, 0.002])),
        ("split_breaker_pole_open", with!(breaker: [0.002, 1e6])),
        ("split_loose_disconnect_lug", with!(lugs: [0.08, 0.0005])),
        ("split_long_branch", with!(branch: 0.5)),
        ("split_long_branch_starting", with!(branch: 0.5, locked: true)),
        ("split_pitted_contactor", with!(poles: [0.12, 0.003])),
        ("split_insects_in_contactor", with!(poles: [1e5, 0.003])),
        ("split_weak_capacitor", with!(microfarad: 12.0)),
        ("split_open_capacitor", with!(microfarad: 0.001)),
        ("split_grounded_winding", with!(leak: 4.0)),
        ("split_grounded_winding_no_ground", with!(leak: 4.0, ground: 1e5)),
        ("split_leak_of_insulation", with!(leak: 20e3)),
        ("split_no_equipment_ground", with!(ground: 1e5)),
        ("split_primary_swapped", with!(swapped: true)),
        ("split_control_shorted", with!(secondary_short: 0.01)),
        ("split_wrong_tap", with!(tap: 208.0 / 25.0)),
        ("split_unbalanced_legs", with!(neighbors: [1.6, 60.0, 35.0])),
        (
            "split_overloaded_service",
            with!(neighbors: [1.6, 1.6, 4.0], drop: [0.05, 0.05, 0.05]),
        ),
    ]
}
