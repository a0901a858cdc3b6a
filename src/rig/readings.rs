//! What a perfect meter reads at each reading test of the knowledge, in base units (V, A, ohm, F, Hz, C).
//!
//! One line or a few for each test, by its id; a test that is not here has no model and says so.

use super::bench::{Because, Bench, Stage};
use super::circuit::Complex;
use super::installation::{Call, Feed, Operating};

type Read = Result<f64, Because>;

/// Flame current of a clean burner, against the least its control asks for: makers' sheets give 0.5 to 1 at least and 2 to 6 clean.
const CLEAN_FLAME: f64 = 5.0;

/// A compressor that draws less, A, gets nothing.
const HUMS: f64 = 0.5;

/// Ohm of the grounding path with which flame rectification is all but gone.
const NO_FLAME_GROUND: f64 = 1e3;

/// Words of the tests that read the unit or its circuit beyond the panel's bus.
const UNIT: [&str; 8] = [
    "at-unit",
    "at-disconnect",
    "-joint-drop",
    "breaker-pole-drop",
    "disconnect-pole-drop",
    "contactor-pole-drop",
    "capacitor-",
    "current-phase",
];

/// The moment a reading test names, where the fault that comes and goes must be there to be read.
#[must_use]
pub fn stage_of(test: &str) -> Stage {
    match test {
        "metal-volts-breaker-off" | "compressor-insulation" | "capacitor-bench" | "ground-resistance" => {
            Stage::Off
        }
        "leg-1-with-load" | "leg-2-with-load" => Stage::TestLoad,
        "heater-amps" => Stage::Heating,
        "heater-amps-call-off" => Stage::AfterHeat,
        "blower-current" | "relay-contact-drop" => Stage::Blowing,
        "leg-1-voltage" | "leg-2-voltage" => Stage::Legs,
        "control-voltage-unloaded" | "panel-air-temperature" | "source-frequency-rest" => Stage::Rest,
        _ if test.ends_with("-rest") => Stage::Rest,
        _ if test.ends_with("-at-start") || test.ends_with("-start") => Stage::Starting,
        _ => Stage::Running,
    }
}

/// Declares what is read at each test, of the bench, the values and the plate of its installation; lists the ids.
macro_rules! readings {
    ($bench:ident, $values:ident, $plate:ident; $($id:literal => $read:expr,)+) => {
        /// Ids of the reading tests the rig can answer.
        pub const MODELED: &[&str] = &[$($id),+];

        fn read($bench: &Bench, test: &str) -> Read {
            let $values = &$bench.installation.values;
            let $plate = &$bench.installation.plate;
            match test {
                $($id => $read,)+
                _ => Err(Because::NoModel),
            }
        }
    };
}

readings! { bench, values, plate;
    "voltage-at-panel-rest" => bench.lines(Stage::Rest, "bus"),
    "voltage-at-panel-running" => bench.lines(Stage::Running, "bus"),
    "voltage-at-panel-at-start" => bench.lines(Stage::Starting, "bus"),
    "voltage-at-disconnect-rest" => bench.lines(Stage::Rest, "line"),
    "voltage-at-disconnect-running" => bench.lines(Stage::Running, "line"),
    "voltage-at-unit-rest" => bench.lines(Stage::Rest, "unit"),
    "voltage-at-unit-running" => bench.lines(Stage::Running, "unit"),
    "voltage-at-unit-at-start" => bench.lines(Stage::Starting, "unit"),
    "leg-1-voltage" => bench.leg(Stage::Legs, 1),
    "leg-2-voltage" => bench.leg(Stage::Legs, 2),
    "leg-1-with-load" => bench.leg(Stage::TestLoad, 1),
    "leg-2-with-load" => bench.leg(Stage::TestLoad, 2),
    "main-pole-drop" => bench.drop(Stage::Running, "main", "bus"),
    "main-leg-1-current" => bench.amps(Stage::Running, "main_1"),
    "main-leg-2-current" => bench.other_leg(),
    "voltage-phase-ab" => bench.phase("unit_1", "unit_2"),
    "voltage-phase-bc" => bench.phase("unit_2", "unit_3"),
    "voltage-phase-ca" => bench.phase("unit_3", "unit_1"),
    "current-phase-a" => bench.motor_line(1),
    "current-phase-b" => bench.motor_line(2),
    "current-phase-c" => bench.motor_line(3),
    "voltage-across-each-fuse" => bench.drop(Stage::Running, "line", "load"),
    "source-frequency-rest" => Ok(values.hertz),
    "source-frequency-start" => Ok(values.hertz_start),
    "panel-air-temperature" => Ok(values.panel_air),
    "breaker-joint-drop" => bench.drop(Stage::Running, "bk", "wire"),
    "breaker-pole-drop" => bench.breaker_pole(),
    "disconnect-pole-drop" => bench.drop(Stage::Running, "line", "load"),
    "disconnect-joint-drop" => bench.drop(Stage::Running, "end", "line"),
    "contactor-pole-drop" => bench.pulled_in().and_then(|()| bench.drop(Stage::Running, "cl", "ct")),
    "contactor-joint-drop" => {
        let joints = [("unit", "cl"), ("ct", "t")];
        bench.pulled_in().and_then(|()| bench.highest(Stage::Running, &joints))
    },
    "unit-current-running" => bench.highest_amps("whip"),
    "current-at-breaker" => bench.highest_amps("pole"),
    "compressor-running-current" => bench.compressor(),
    "outdoor-fan-current" => bench.fed().and_then(|()| bench.amps(Stage::Running, "fan")),
    "blower-current" => bench.amps(Stage::Blowing, "blower"),
    "heater-amps" => bench.amps(Stage::Heating, "heat_terminal"),
    "heater-amps-call-off" => bench.amps(Stage::AfterHeat, "heat_terminal"),
    "capacitor-lead-current" => bench.humming().map(|found| found.amps("run_capacitor")),
    "capacitor-voltage-running" => bench.humming().map(|found| found.volts("m_1", "herm")),
    "capacitor-bench" => Ok(if values.capacitor_short > 0.0 {
        0.0
    } else {
        1e-6 * plate.microfarad * values.capacity
    }),
    "compressor-insulation" => Ok(values.winding_leak),
    "control-voltage-unloaded" => bench.volts(Stage::Rest, "r", "c"),
    "control-voltage-loaded" => bench.volts(Stage::Running, "r", "c"),
    "secondary-current" => bench.amps(Stage::Running, "secondary"),
    "coil-current" => bench.amps(Stage::Running, "coil"),
    "coil-voltage-called" => bench.volts(Stage::Running, "coil_1", "coil_2"),
    "control-splice-drop" => bench.pulled_in().and_then(|()| bench.volts(Stage::Running, "splice_y", "coil_1")),
    "relay-contact-drop" => {
        let [from, _] = bench.installation.indoor_ends();
        bench.volts(Stage::Blowing, from, "motor_in")
    },
    "service-switch-drop" => bench.service_switch(),
    "neutral-to-ground-running" => bench.neutral(),
    "ground-resistance" => Ok(plate.grounding + values.ground_wire),
    "ground-wire-amps" => bench.ground_amps(),
    "metal-volts-running" => bench.low_impedance(Stage::Running, "cabinet", "0"),
    "metal-volts-breaker-off" => bench.low_impedance(Stage::Off, "cabinet", "0"),
    "gfci-leakage" => bench.residual(),
    "flame-current" => Ok(bench.flame()),
    "oil-eye-resistance" => Ok(values.eye),
    "thermocouple-millivolts" => Ok(values.thermocouple / 1000.0),
}

impl Bench {
    /// The true value at a reading test.
    ///
    /// # Errors
    /// Why it cannot be read.
    pub fn reading(&self, test: &str) -> Read {
        // Nobody reads a unit as it runs or starts while its switch is off.
        let runs = !matches!(
            stage_of(test),
            Stage::Rest | Stage::Legs | Stage::TestLoad | Stage::Off
        );
        if runs && self.installation.values.breaker_off > 0.0 && UNIT.iter().any(|place| test.contains(place))
        {
            return Err(Because::DoesNotRun);
        }
        read(self, test)
    }

    fn leg(&self, stage: Stage, line: usize) -> Read {
        if self.installation.plate.feed == Feed::ThreeLines {
            return Err(Because::NoSuchPart);
        }
        self.volts(stage, &format!("bus_{line}"), "bar")
    }

    fn volts(&self, stage: Stage, from: &str, to: &str) -> Read {
        let found = self.at(stage)?;
        if found.circuit.find(from).is_none() || found.circuit.find(to).is_none() {
            return Err(Because::NoSuchPart);
        }
        Ok(found.volts(from, to))
    }

    fn amps(&self, stage: Stage, name: &str) -> Read {
        Ok(self.at(stage)?.amps(name))
    }

    /// Lowest voltage between the lines at a place; of a 120 V unit hot to neutral.
    fn lines(&self, stage: Stage, place: &str) -> Read {
        let found = self.at(stage)?;
        let node = |line: usize| match place {
            "bus" => self.installation.origin(line),
            _ => format!("{place}_{line}"),
        };
        let volts = self
            .pairs()
            .iter()
            .map(|(from, to)| found.volts(&node(*from), &node(*to)));
        Ok(volts.fold(f64::INFINITY, f64::min))
    }

    /// Highest voltage of any line from one place to the next.
    fn drop(&self, stage: Stage, from: &str, to: &str) -> Read {
        self.highest(stage, &[(from, to)])
    }

    fn highest(&self, stage: Stage, places: &[(&str, &str)]) -> Read {
        let found = self.at(stage)?;
        let lines = (1..=self.installation.lines()).filter(|line| self.installation.is_hot(*line));
        let volts = lines.flat_map(|line| {
            let found = &found;
            places
                .iter()
                .map(move |(from, to)| found.volts(&format!("{from}_{line}"), &format!("{to}_{line}")))
        });
        Ok(volts.fold(0.0, f64::max))
    }

    /// A breaker may sit on a bus of the other leg.
    fn breaker_pole(&self) -> Read {
        let found = self.at(Stage::Running)?;
        let lines = (1..=self.installation.lines()).filter(|line| self.installation.is_hot(*line));
        let volts = lines.map(|line| found.volts(&self.installation.origin(line), &format!("bk_{line}")));
        Ok(volts.fold(0.0, f64::max))
    }

    fn highest_amps(&self, element: &str) -> Read {
        let found = self.at(Stage::Running)?;
        let lines = 1..=self.installation.lines();
        Ok(lines
            .map(|line| found.amps(&format!("{element}_{line}")))
            .fold(0.0, f64::max))
    }

    fn pulled_in(&self) -> Result<(), Because> {
        let found = self.at(Stage::Running)?;
        if found.now.pulled_in {
            Ok(())
        } else {
            Err(Because::DoesNotRun)
        }
    }

    /// What runs on the contactor is not read while it is out.
    fn fed(&self) -> Result<(), Because> {
        if self.installation.plate.has("contactor") && self.mode == Call::Cooling {
            self.pulled_in()
        } else {
            Ok(())
        }
    }

    /// The compressor running, or humming where it does not turn.
    fn humming(&self) -> Result<std::rc::Rc<Operating>, Because> {
        let found = self.at(Stage::Running)?;
        if found.turns {
            return Ok(found);
        }
        let found = self.at(Stage::Starting)?;
        if found.compressor_amps() < HUMS {
            return Err(Because::DoesNotRun);
        }
        Ok(found)
    }

    fn compressor(&self) -> Read {
        let found = self.at(Stage::Running)?;
        let hums = !found.turns && found.now.protector;
        if hums {
            Err(Because::DoesNotRun)
        } else {
            Ok(found.compressor_amps())
        }
    }

    /// Leg 2 at the main; of three the one farthest from leg 1.
    fn other_leg(&self) -> Read {
        let found = self.at(Stage::Running)?;
        let first = found.amps("main_1");
        let others = (2..=self.installation.lines()).map(|line| found.amps(&format!("main_{line}")));
        let far = |amps: &f64| (amps - first).abs();
        others
            .max_by(|a, b| far(a).total_cmp(&far(b)))
            .ok_or(Because::NoSuchPart)
    }

    /// A pair at the unit: at rest where one pair is odd there, else running.
    fn phase(&self, from: &str, to: &str) -> Read {
        let rest = self.at(Stage::Rest)?;
        let nominal = self.installation.plate.volts;
        let odd = self.pairs().iter().any(|(from, to)| {
            (rest.volts(&format!("unit_{from}"), &format!("unit_{to}")) / nominal - 1.0).abs() > 0.1
        });
        match self.volts(Stage::Running, from, to) {
            Ok(volts) if !odd => Ok(volts),
            _ => Ok(rest.volts(from, to)),
        }
    }

    fn motor_line(&self, line: usize) -> Read {
        let found = self.at(Stage::Running)?;
        let fed = !self.installation.plate.has("contactor") || found.now.pulled_in;
        if !found.turns && (found.now.protector || !fed) {
            return Err(Because::DoesNotRun);
        }
        Ok(found.amps(&format!("cterm_{line}")))
    }

    fn service_switch(&self) -> Read {
        if self.installation.plate.indoor_neutral {
            self.volts(Stage::Blowing, "bus_1", "in_switch")
        } else {
            self.volts(Stage::Running, "splice_1", "end_1")
        }
    }

    fn neutral(&self) -> Read {
        if self.installation.plate.indoor_neutral {
            self.volts(Stage::Heating, "in_2", "furnace")
        } else if self.installation.plate.feed == Feed::HotAndNeutral {
            self.volts(Stage::Running, "unit_2", "cabinet")
        } else {
            Err(Because::NoSuchPart)
        }
    }

    fn ground_amps(&self) -> Read {
        let found = self.at(Stage::Running).or_else(|_| self.at(Stage::Rest))?;
        Ok(found.amps("ground_wire").max(found.amps("furnace_ground")))
    }

    /// What does not come back through the lines: the clamp around all of them at the panel.
    fn residual(&self) -> Read {
        let found = self.at(Stage::Running).or_else(|_| self.at(Stage::Rest))?;
        let lines = 1..=self.installation.lines();
        let sum: Complex = lines.map(|line| found.current(&format!("bterm_{line}"))).sum();
        Ok(sum.norm())
    }

    /// Flame current, A: rectification needs hot, neutral and ground in their places.
    fn flame(&self) -> f64 {
        let values = &self.installation.values;
        let wrong = values.reversed > 0.0 || values.floating > 0.0 || values.ground_wire > NO_FLAME_GROUND;
        let path = if wrong {
            0.05
        } else {
            1.0 / (1.0 + values.ground_wire / 30.0)
        };
        1e-6 * self.installation.plate.least_flame * CLEAN_FLAME * values.flame * path
    }
}
