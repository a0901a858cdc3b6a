//! The installation in each state in which a reading is taken, worked out once.

use std::cell::RefCell;
use std::collections::HashMap;
use std::rc::Rc;

use super::circuit::Complex;
use super::installation::{Call, Feed, Installation, Operating, RATED_AIR, Situation};
use super::solve::Factored;

/// When a reading is taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Stage {
    /// Power on, nothing called.
    Rest,
    /// Everything of its mode called, ten minutes on.
    Running,
    /// The moment the compressor starts.
    Starting,
    /// Full heat.
    Heating,
    /// Only the blower.
    Blowing,
    /// Two minutes after a call for heat ended.
    AfterHeat,
    /// At rest, the large loads of the building off: as the legs are read.
    Legs,
    /// The same with 1500 W on leg 1 at the panel.
    TestLoad,
    /// The unit's breaker off.
    Off,
}

/// Why there is no reading.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Because {
    /// The unit has no such part or supply.
    NoSuchPart,
    /// It cannot be brought into the state: the breaker trips at once.
    Trips,
    /// What should run for it does not.
    DoesNotRun,
    /// The circuit has no solution.
    NoSolution,
    /// The rig has no model of it.
    NoModel,
}

/// Seconds within which a device that opens is said to open at once.
const AT_ONCE: f64 = 60.0;

/// Share of the building's loads that is left when its large ones are switched off to read the legs. A judgment.
const QUIET: f64 = 0.15;

/// Ohm of a low-impedance voltmeter.
const LOW_IMPEDANCE: f64 = 3000.0;

/// Degrees by which conductors that carry the whole rating of their device are warmer than their air after ten minutes: their size goes by
/// 60 C in air of 30 C (NEC Table 310.16), and such wire comes to its temperature within minutes.
const WIRE_RISE: f64 = 30.0;

/// An installation with its states.
#[derive(Debug)]
pub struct Bench {
    /// With its fault, if it has one.
    pub installation: Installation,
    /// What is called where the unit is to run at full load.
    pub mode: Call,
    /// Outdoor air while it is read, C.
    air: f64,
    /// The conductors are as warm as their load makes them; else as warm as their air.
    warms: bool,
    kept: RefCell<HashMap<Stage, Result<Rc<Operating>, Because>>>,
}

impl Bench {
    /// A bench for an installation in a mode, on a hot day, its conductors no warmer than their air.
    #[must_use]
    pub fn new(installation: Installation, mode: Call) -> Self {
        Self {
            warms: false,
            ..Self::in_air(installation, mode, RATED_AIR)
        }
    }

    /// The same in air of a temperature in C, after ten minutes of running.
    #[must_use]
    pub fn in_air(installation: Installation, mode: Call, air: f64) -> Self {
        Self {
            installation,
            mode,
            air,
            warms: true,
            kept: RefCell::default(),
        }
    }

    /// The installation at a stage.
    ///
    /// # Errors
    /// Why it cannot be brought there.
    pub fn at(&self, stage: Stage) -> Result<Rc<Operating>, Because> {
        if let Some(found) = self.kept.borrow().get(&stage) {
            return found.clone();
        }
        let found = self.work(stage).map(Rc::new);
        self.kept.borrow_mut().insert(stage, found.clone());
        found
    }

    fn situation(&self) -> Situation {
        Situation {
            wire_celsius: self.installation.values.wire_air - RATED_AIR + self.air,
            air: self.air,
            ..Situation::rest()
        }
    }

    fn operate(&self, call: Call, from: Situation) -> Result<Operating, Because> {
        self.installation
            .operate(call, from)
            .map_err(|_| Because::NoSolution)
    }

    /// Whether the breaker trips at once at these currents.
    #[must_use]
    pub fn trips(&self, found: &Operating) -> bool {
        let device = self.installation.device();
        let amps = found.device_amps(&self.installation);
        device
            .seconds(
                0.0,
                amps,
                self.installation.values.panel_air - RATED_AIR + self.air,
            )
            .is_some_and(|seconds| seconds < AT_ONCE)
    }

    fn work(&self, stage: Stage) -> Result<Operating, Because> {
        match stage {
            Stage::Rest => self.resting(self.situation()),
            Stage::Legs => self.resting(Situation {
                building: QUIET,
                ..self.situation()
            }),
            Stage::TestLoad => self.resting(Situation {
                test_load: 1500.0,
                building: QUIET,
                ..self.situation()
            }),
            Stage::Off => self.operate(
                Call::Rest,
                Situation {
                    tripped: true,
                    ..self.situation()
                },
            ),
            Stage::AfterHeat => self.resting(self.situation()),
            Stage::Running => self.running(self.mode),
            Stage::Heating => self.running(Call::Heat),
            Stage::Blowing => self.running(Call::Fan),
            Stage::Starting => self.starting(),
        }
    }

    /// At rest a breaker that opens is found open.
    fn resting(&self, from: Situation) -> Result<Operating, Because> {
        let found = self.operate(Call::Rest, from)?;
        if self.trips(&found) {
            return self.operate(
                Call::Rest,
                Situation {
                    tripped: true,
                    ..from
                },
            );
        }
        Ok(found)
    }

    fn running(&self, call: Call) -> Result<Operating, Because> {
        let from = self.situation();
        let mut found = self.operate(call, from)?;
        // A compressor that hums is off on its protector long before the meter is read.
        if self.stalls(&found) {
            found = self.operate(
                call,
                Situation {
                    protector: true,
                    ..from
                },
            )?;
        }
        if self.trips(&found) {
            return Err(Because::Trips);
        }
        self.warmed(found)
    }

    /// The same ten minutes on: the conductors have warmed up.
    fn warmed(&self, found: Operating) -> Result<Operating, Because> {
        if !self.warms {
            return Ok(found);
        }
        let share = found.device_amps(&self.installation) / self.installation.plate.device;
        let now = Situation {
            wire_celsius: found.now.wire_celsius + WIRE_RISE * share.powi(2),
            ..found.now
        };
        let warm = self.installation.solved(now).map_err(|_| Because::NoSolution)?;
        Ok(Operating {
            turns: found.turns,
            chatters: found.chatters,
            ..warm
        })
    }

    /// The compressor has voltage and stands.
    #[must_use]
    pub fn stalls(&self, found: &Operating) -> bool {
        self.installation.motor.is_some()
            && !found.turns
            && !found.now.protector
            && found.compressor_amps() > 0.5
    }

    fn starting(&self) -> Result<Operating, Because> {
        let found = self.operate(self.mode, self.situation())?;
        if self.installation.motor.is_none() || !(found.now.pulled_in || found.chatters) {
            return Ok(found);
        }
        let now = Situation {
            slip: 1.0,
            pulled_in: true,
            ..found.now
        };
        self.installation.solved(now).map_err(|_| Because::NoSolution)
    }

    /// Voltage between two points as a low-impedance meter shows it, V.
    ///
    /// # Errors
    /// Why it cannot be read.
    pub fn low_impedance(&self, stage: Stage, from: &str, to: &str) -> Result<f64, Because> {
        let found = self.at(stage)?;
        let pair = [from, to].map(|name| found.circuit.find(name));
        let [Some(from), Some(to)] = pair else {
            return Err(Because::NoSuchPart);
        };
        let siemens = Complex::new(1.0 / LOW_IMPEDANCE, 0.0);
        Factored::of(&found.circuit)
            .and_then(|factored| factored.bridged([from, to], siemens))
            .map(|bridged| bridged.between([from, to]).norm())
            .map_err(|_| Because::NoSolution)
    }

    /// The pairs of lines of the unit: one, or three.
    #[must_use]
    pub fn pairs(&self) -> &'static [(usize, usize)] {
        if self.installation.plate.feed == Feed::ThreeLines {
            &[(1, 2), (2, 3), (3, 1)]
        } else {
            &[(1, 2)]
        }
    }
}
