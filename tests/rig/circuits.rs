//! Circuits for comparison with SPICE: small split-phase and three-phase installations, healthy and each with one fault.

use lineside::rig::bench::{Bench, Stage};
use lineside::rig::installation::{Call, Installation, Plate};
use lineside::rig::{Circuit, Complex, faults, machine};

fn ohms(re: f64, im: f64) -> Complex {
    Complex::new(re, im)
}

/// What differs from a healthy 120/240 V house with one unit outdoors.
#[derive(Clone)]
struct House {
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

    fn circuit(&self) -> Circuit {
        let mut circuit = Circuit::new();
        self.service(&mut circuit);
        self.branch(&mut circuit);
        self.unit(&mut circuit);
        circuit
    }
}

/// What differs from a healthy three-phase service of four wires with one rooftop unit.
#[derive(Clone)]
struct Rooftop {
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

    fn circuit(&self) -> Circuit {
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

fn houses() -> Vec<(&'static str, House)> {
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

fn rooftops() -> Vec<(&'static str, Rooftop)> {
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

/// Parts of some equipment, as the knowledge lists them.
#[allow(dead_code, reason = "the bench takes fewer")]
pub(crate) const SPLIT: &str = "disconnect contactor compressor single-phase-compressor outdoor-fan run-capacitor blower \
    thermostat control-transformer control-board outdoor-control-cable condensate-drain";
#[allow(dead_code, reason = "the bench takes fewer")]
pub(crate) const AIR_HANDLER: &str =
    "disconnect blower electric-heat thermostat control-transformer control-board condensate-drain";
pub(crate) const PACKAGE: &str = "disconnect contactor compressor single-phase-compressor outdoor-fan run-capacitor crankcase-heater blower \
    electric-heat thermostat control-transformer control-board condensate-drain reversing-valve";
const ROOFTOP: &str = "disconnect contactor compressor outdoor-fan run-capacitor crankcase-heater blower burner gas-valve \
    inducer igniter flame-sensor thermostat control-transformer control-board condensate-drain three-phase";
const FURNACE: &str = "circuit-neutral burner gas-valve blower inducer igniter flame-sensor door-switch thermostat \
    control-transformer control-board condensate-drain";
const MINI_SPLIT: &str =
    "disconnect compressor outdoor-fan inverter interconnect-cable blower control-board condensate-drain";

/// Whole installations, each with one cause of the knowledge at half its severity, in one state: name, parts, cause, call, state.
const FAULTED: [(&str, &str, &str, Call, Stage); 30] = [
    (
        "package_sound",
        PACKAGE,
        "no-fault-found-circuit-right",
        Call::Cooling,
        Stage::Running,
    ),
    (
        "package_sound_starting",
        PACKAGE,
        "no-fault-found-circuit-right",
        Call::Cooling,
        Stage::Starting,
    ),
    (
        "package_sound_heat",
        PACKAGE,
        "no-fault-found-circuit-right",
        Call::Heat,
        Stage::Running,
    ),
    (
        "package_sound_rest",
        PACKAGE,
        "no-fault-found-circuit-right",
        Call::Cooling,
        Stage::Rest,
    ),
    (
        "package_service_neutral",
        PACKAGE,
        "open-or-loose-service-neutral",
        Call::Cooling,
        Stage::TestLoad,
    ),
    (
        "package_service_hot",
        PACKAGE,
        "loose-service-hot-leg",
        Call::Cooling,
        Stage::Running,
    ),
    (
        "package_bus_stab",
        PACKAGE,
        "loose-breaker-to-bus-stab",
        Call::Cooling,
        Stage::Running,
    ),
    (
        "package_pole_open",
        PACKAGE,
        "breaker-pole-open",
        Call::Cooling,
        Stage::Rest,
    ),
    (
        "package_disconnect_lug",
        PACKAGE,
        "loose-disconnect-lug",
        Call::Cooling,
        Stage::Running,
    ),
    (
        "package_pull_out",
        PACKAGE,
        "burnt-disconnect-pullout",
        Call::Heat,
        Stage::Running,
    ),
    (
        "package_contactor",
        PACKAGE,
        "pitted-contactor",
        Call::Cooling,
        Stage::Running,
    ),
    (
        "package_capacitor",
        PACKAGE,
        "failed-run-capacitor",
        Call::Cooling,
        Stage::Starting,
    ),
    (
        "package_turns",
        PACKAGE,
        "shorted-compressor-turns",
        Call::Cooling,
        Stage::Running,
    ),
    (
        "package_winding_to_ground",
        PACKAGE,
        "grounded-compressor-winding",
        Call::Cooling,
        Stage::Running,
    ),
    (
        "package_no_ground",
        PACKAGE,
        "missing-equipment-ground",
        Call::Cooling,
        Stage::Off,
    ),
    (
        "package_head",
        PACKAGE,
        "dirty-condenser-high-head",
        Call::Cooling,
        Stage::Running,
    ),
    (
        "package_coil",
        PACKAGE,
        "contactor-coil-shorted",
        Call::Cooling,
        Stage::Running,
    ),
    (
        "package_transformer",
        PACKAGE,
        "transformer-overloaded",
        Call::Cooling,
        Stage::Running,
    ),
    (
        "package_generator",
        PACKAGE,
        "generator-too-small-for-start",
        Call::Cooling,
        Stage::Starting,
    ),
    (
        "rooftop_sound",
        ROOFTOP,
        "no-fault-found-circuit-right",
        Call::Cooling,
        Stage::Running,
    ),
    (
        "rooftop_lost_phase",
        ROOFTOP,
        "lost-phase-from-utility",
        Call::Cooling,
        Stage::Rest,
    ),
    (
        "rooftop_unbalanced",
        ROOFTOP,
        "three-phase-voltage-unbalance",
        Call::Cooling,
        Stage::Running,
    ),
    (
        "rooftop_fuse",
        ROOFTOP,
        "blown-fuse-one-phase",
        Call::Cooling,
        Stage::Rest,
    ),
    (
        "rooftop_pole",
        ROOFTOP,
        "open-contactor-pole-three-phase",
        Call::Cooling,
        Stage::Starting,
    ),
    (
        "rooftop_reversed",
        ROOFTOP,
        "reversed-phase-rotation",
        Call::Cooling,
        Stage::Running,
    ),
    (
        "furnace_sound",
        FURNACE,
        "no-fault-found-circuit-right",
        Call::Heat,
        Stage::Running,
    ),
    (
        "furnace_neutral",
        FURNACE,
        "loose-branch-neutral",
        Call::Heat,
        Stage::Running,
    ),
    (
        "furnace_reversed",
        FURNACE,
        "reversed-line-polarity",
        Call::Heat,
        Stage::Running,
    ),
    (
        "mini_split_sound",
        MINI_SPLIT,
        "no-fault-found-circuit-right",
        Call::Cooling,
        Stage::Running,
    ),
    (
        "mini_split_low_volts",
        MINI_SPLIT,
        "low-utility-voltage",
        Call::Cooling,
        Stage::Running,
    ),
];

fn faulted(parts: &str, cause: &str, call: Call, stage: Stage) -> Circuit {
    let parts: Vec<String> = parts.split_whitespace().map(str::to_owned).collect();
    let sound = Installation::sound(Plate::of(&parts, &|_| None));
    let installation = match faults::of(cause) {
        Some(faults::Model::Changes(ways)) => sound.with(&ways[0], 0.5, 1),
        _ => sound,
    };
    let found = Bench::new(installation, call).at(stage);
    found
        .unwrap_or_else(|because| panic!("{cause}: {because:?}"))
        .circuit
        .clone()
}

/// Every circuit, by the name of its netlist.
pub(crate) fn all() -> Vec<(String, Circuit)> {
    let split = houses()
        .into_iter()
        .map(|(name, house)| (name.to_owned(), house.circuit()));
    let three = rooftops()
        .into_iter()
        .map(|(name, rooftop)| (name.to_owned(), rooftop.circuit()));
    let whole = FAULTED
        .into_iter()
        .map(|(name, parts, cause, call, stage)| (name.to_owned(), faulted(parts, cause, call, stage)));
    split.chain(three).chain(whole).collect()
}
