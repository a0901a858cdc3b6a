//! A small three-phase service with one rooftop unit, put together by hand.

use lineside::rig::{Circuit, machine};

use super::ohms;

/// What differs from a healthy three-phase service of four wires with one rooftop unit.
#[derive(Clone)]
pub(super) struct Rooftop {
    volts: [f64; 3],
    /// A delta with one winding's middle grounded in place of the wye.
    high_leg: bool,
    fuses: [f64; 3],
    open_fuse: Option<usize>,
    open_pole: Option<usize>,
    reversed: bool,
    locked: bool,
    feeder: f64,
    heaters: [f64; 3],
    leak: [f64; 3],
    neutral: f64,
    single: f64,
}

impl Default for Rooftop {
    fn default() -> Self {
        Self {
            volts: [120.0; 3],
            high_leg: false,
            fuses: [0.002; 3],
            open_fuse: None,
            open_pole: None,
            reversed: false,
            locked: false,
            feeder: 0.03,
            heaters: [18.0; 3],
            leak: [2e6; 3],
            neutral: 0.03,
            single: 9.0,
        }
    }
}

impl Rooftop {
    fn service(&self, c: &mut Circuit) {
        if self.high_leg {
            c.source("w_ca", ["wa", "wn"], 120.0, 0.0);
            c.source("w_cb", ["wn", "wc"], 120.0, 0.0);
            c.source("w_ab", ["wb", "wn"], 207.846, 90.0);
        } else {
            for (phase, degrees) in [("a", 0.0), ("b", -120.0), ("c", 120.0)] {
                let volts = self.volts[usize::from(phase.as_bytes()[0] - b'a')];
                c.source(
                    &format!("w_{phase}"),
                    [&format!("w{phase}"), "wn"],
                    volts,
                    degrees,
                );
            }
        }
        c.resistance("utility_rod", ["wn", "0"], 2.0);
        c.impedance("drop_n", ["wn", "bar"], ohms(self.neutral, 0.01));
        c.resistance("house_rod", ["bar", "0"], 10.0);
        for phase in ["a", "b", "c"] {
            let [winding, bus] = ["w", "bus_"].map(|place| format!("{place}{phase}"));
            c.impedance(&format!("source_{phase}"), [&winding, &bus], ohms(0.01, 0.02));
        }
        c.resistance("lights_a", ["bus_a", "bar"], self.single);
        c.resistance("lights_c", ["bus_c", "bar"], 14.0);
    }

    pub(super) fn circuit(&self) -> Circuit {
        let mut c = Circuit::new();
        self.service(&mut c);
        for (n, phase) in ["a", "b", "c"].into_iter().enumerate() {
            let [bus, end, unit, tee] =
                ["bus_", "end_", "unit_", "t_"].map(|place| format!("{place}{phase}"));
            c.impedance(&format!("feeder_{phase}"), [&bus, &end], ohms(self.feeder, 0.004));
            let whole = self.open_fuse != Some(n);
            c.switch(&format!("fuse_{phase}"), [&end, &unit], whole, self.fuses[n]);
            c.switch(
                &format!("contact_{phase}"),
                [&unit, &tee],
                self.open_pole != Some(n),
                0.002,
            );
            c.resistance(&format!("insulation_{phase}"), [&tee, "cabinet"], self.leak[n]);
        }
        c.resistance("ground_wire", ["cabinet", "bar"], 0.05);
        let (first, second) = if self.reversed {
            ("t_b", "t_a")
        } else {
            ("t_a", "t_b")
        };
        let (positive, negative) = if self.locked {
            (ohms(0.55, 1.1), ohms(0.55, 1.1))
        } else {
            (ohms(5.2, 2.6), ohms(0.5, 1.0))
        };
        let siemens = machine::three_phase(positive, negative);
        c.machine("compressor", [[first, "t_c"], [second, "t_c"]], siemens);
        for (n, pair) in [["unit_a", "unit_b"], ["unit_b", "unit_c"], ["unit_c", "unit_a"]]
            .iter()
            .enumerate()
        {
            c.resistance(&format!("heater_{n}"), *pair, self.heaters[n]);
        }
        c.load("blower_drive", ["unit_a", "unit_b"], ohms(900.0, 500.0), 208.0);
        c.transformer("control", ["unit_a", "unit_b"], ["s1", "s2"], 208.0 / 25.0);
        c.resistance("secondary", ["s1", "r"], 0.6);
        c.impedance("coil", ["r", "s2"], ohms(10.0, 28.0));
        c.resistance("common_ground", ["s2", "cabinet"], 0.05);
        c
    }
}

pub(super) fn rooftops() -> Vec<(&'static str, Rooftop)> {
    let healthy = Rooftop::default();
    macro_rules! with { ($($field:ident : $value:expr),+) => { Rooftop { $($field: $value,)+ ..healthy.clone() } }; }
    vec![
        ("three_healthy", healthy.clone()),
        ("three_starting", with!(locked: true)),
        ("three_lost_phase", with!(volts: [120.0, 0.0, 120.0])),
        ("three_unbalanced", with!(volts: [120.0, 112.0, 122.0])),
        ("three_fuse_blown", with!(open_fuse: Some(1))),
        ("three_contactor_pole_open", with!(open_pole: Some(2))),
        ("three_reversed", with!(reversed: true)),
        ("three_high_leg", with!(high_leg: true)),
        (
            "three_high_leg_open_fuse",
            with!(high_leg: true, open_fuse: Some(0)),
        ),
        ("three_bad_fuse_clip", with!(fuses: [0.002, 0.15, 0.002])),
        ("three_grounded_phase", with!(leak: [3.0, 2e6, 2e6])),
        ("three_heater_element_open", with!(heaters: [18.0, 1e7, 18.0])),
        ("three_long_feeder", with!(feeder: 0.4)),
        ("three_open_neutral", with!(neutral: 1e4)),
        ("three_one_sided_lights", with!(single: 1.5)),
    ]
}
