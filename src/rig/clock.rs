//! The slow clock: what happens to an installation over minutes and hours.
//!
//! Breaker, motor protector and joints gather heat; the air follows the hour; loads of the building come and go; a sequencer closes the
//! heater's stages one by one. The circuit is solved anew only when something switched or a minute has passed. So "after twenty
//! minutes on a hot day" and "now and then" come out of heat and not out of a die.

use fastrand::Rng;

use super::breaker::Device;
pub use super::day::Day;
use super::error::SolveError;
use super::installation::{Call, Installation, Operating, Situation};

/// Something that happened.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum What {
    /// The unit's breaker or fuse opened.
    BreakerTrips,
    /// The compressor's protector opened.
    ProtectorOpens,
    /// It closed again.
    ProtectorResets,
    /// A contactor chattered.
    Chatters,
    /// The control fuse opened.
    ControlFuseOpens,
    /// A joint is hot enough to discolor.
    JointDiscolors(&'static str),
    /// A stage of the heater closed.
    StageCloses,
    /// A stage of the heater opened after the call.
    StageOpens,
}

/// Joints whose heat is followed: element without its line, and its thermal resistance to the air, C per watt. A lug in its box gives off
/// about a watt for each ten degrees (judged from temperature-rise limits of terminals at their rated current).
pub const JOINTS: [(&str, f64); 12] = [
    ("pole", 6.0),
    ("bterm", 9.0),
    ("splice", 9.0),
    ("lug", 9.0),
    ("jaw", 7.0),
    ("uterm", 11.0),
    ("contact", 8.0),
    ("cterm", 11.0),
    ("main", 3.0),
    ("drop", 0.2),
    ("heat_terminal", 11.0),
    ("board_contact", 14.0),
];

/// Rise of a joint over its air at which plastic browns and copper discolors within days, C. A judgment: insulation is made for 75 to 90 C,
/// and joints are allowed 50 over the air.
pub const DISCOLORS: f64 = 75.0;

/// Time in which a joint comes to its temperature, seconds.
const JOINT_TAU: f64 = 400.0;

/// Share of the compressor's rated-load current its protector carries for ever: 1.4 to 1.56 is what motor-compressors are rated by.
pub const PROTECTOR: f64 = 1.45;

/// Seconds between two stages of a sequencer, closing; opening takes a little longer.
const STAGE: f64 = 25.0;

/// Seconds of one step.
const STEP: f64 = 5.0;

/// An installation in time.
#[derive(Clone, Debug)]
pub struct Clock<'a> {
    installation: &'a Installation,
    day: Day,
    rng: Rng,
    /// Seconds since midnight.
    seconds: f64,
    breaker: f64,
    protector: f64,
    joints: [f64; JOINTS.len()],
    called_for: f64,
    now: Situation,
    visitor: f64,
    happened: Vec<(f64, What)>,
}

impl<'a> Clock<'a> {
    /// Sets the clock to an hour of a day, everything cold.
    #[must_use]
    pub fn new(installation: &'a Installation, day: Day, hour: f64, seed: u64) -> Self {
        Self {
            installation,
            day,
            rng: Rng::with_seed(seed),
            seconds: 3600.0 * hour,
            breaker: 0.0,
            protector: 0.0,
            joints: [0.0; JOINTS.len()],
            called_for: 0.0,
            now: Situation::rest(),
            visitor: 0.0,
            happened: Vec::new(),
        }
    }

    /// What happened so far, with the seconds since midnight.
    #[must_use]
    pub fn happened(&self) -> &[(f64, What)] {
        &self.happened
    }

    /// Rise of a joint over its air, C, by its place in [`JOINTS`].
    #[must_use]
    pub fn joint_rise(&self, place: usize) -> f64 {
        self.joints[place]
    }

    /// Lets some minutes pass with a call standing.
    ///
    /// # Errors
    /// When the circuit has no solution.
    pub fn run(&mut self, call: Call, minutes: f64) -> Result<(), SolveError> {
        let end = self.seconds + 60.0 * minutes;
        let mut solved: Option<(Situation, f64, Operating)> = None;
        self.called_for = 0.0;
        while self.seconds < end {
            let minute = (self.seconds / 60.0).floor();
            let before = self.now;
            self.stages(call);
            let fresh = solved
                .as_ref()
                .is_none_or(|(at, of, _)| *at != self.now || *of < minute);
            if fresh || before != self.now {
                self.visitors();
                let found = self.solve(call)?;
                solved = Some((self.now, minute, found));
            }
            if let Some((_, _, found)) = &solved {
                let found = found.clone();
                self.step(&found);
            }
            self.seconds += STEP;
            self.called_for += STEP;
        }
        Ok(())
    }

    fn hour(&self) -> f64 {
        self.seconds / 3600.0 % 24.0
    }

    fn push(&mut self, what: What) {
        self.happened.push((self.seconds, what));
    }

    /// The sequencer: one stage more each [`STAGE`] of the call, one less after it.
    fn stages(&mut self, call: Call) {
        let kilowatts = self.installation.plate.heater / 1000.0;
        if kilowatts == 0.0 {
            return;
        }
        let count = (kilowatts / 5.0).ceil().max(1.0);
        let closed = (self.called_for / STAGE).floor() + 1.0;
        let wanted = if call == Call::Heat {
            closed.min(count) / count
        } else {
            0.0
        };
        let least = self.installation.values.heat_stuck;
        let wanted = wanted.max(least);
        if wanted > self.now.stages {
            self.push(What::StageCloses);
        } else if wanted < self.now.stages {
            self.push(What::StageOpens);
        }
        self.now.stages = wanted;
    }

    /// Large loads of the building come and go by the minute.
    fn visitors(&mut self) {
        if self.rng.f64() < self.day.visits / 60.0 {
            self.visitor = if self.visitor > 0.0 { 0.0 } else { 5000.0 };
        }
        self.now.test_load = self.visitor;
    }

    fn solve(&mut self, call: Call) -> Result<Operating, SolveError> {
        let stages = self.now.stages;
        self.now.wire_celsius = self.installation.values.wire_air - 35.0 + self.day.air(self.hour());
        let mut found = self.installation.operate(call, self.now)?;
        if stages != found.now.stages {
            found = Operating {
                turns: found.turns,
                chatters: found.chatters,
                ..self.installation.solved(Situation { stages, ..found.now })?
            };
        }
        if found.chatters {
            self.push(What::Chatters);
        }
        if found.now.control_fuse && !self.now.control_fuse {
            self.push(What::ControlFuseOpens);
            self.now.control_fuse = true;
        }
        Ok(found)
    }

    fn step(&mut self, found: &Operating) {
        let installation = self.installation;
        let air = installation.values.panel_air + self.day.air(self.hour()) - 35.0;
        let device = installation.device();
        let amps = found.device_amps(installation);
        if !self.now.tripped {
            // A joint that glows beside the breaker warms its bimetal from outside.
            let air = air + 0.25 * self.joints[0].max(self.joints[1]);
            self.breaker = device.heated(self.breaker, amps, STEP);
            let opens = device
                .seconds(self.breaker, amps, air)
                .is_some_and(|left| left <= 0.0);
            if opens {
                self.now.tripped = true;
                self.push(What::BreakerTrips);
            }
        } else {
            self.breaker = device.heated(self.breaker, 0.0, STEP);
        }
        self.protect(found.compressor_amps());
        for (place, (name, resistance)) in JOINTS.iter().enumerate() {
            let watts = (1..=3)
                .map(|line| found.watts(&format!("{name}_{line}")))
                .fold(found.watts(name), f64::max);
            let end = watts * resistance;
            let before = self.joints[place];
            self.joints[place] = end + (before - end) * (-STEP / JOINT_TAU).exp();
            if before < DISCOLORS && self.joints[place] >= DISCOLORS {
                self.push(What::JointDiscolors(name));
            }
        }
    }

    fn protect(&mut self, amps: f64) {
        let rated = self.installation.plate.rated_load;
        if rated == 0.0 {
            return;
        }
        let device = Device::Protector(PROTECTOR * rated);
        self.protector = device.heated(self.protector, amps, STEP);
        if !self.now.protector && self.protector >= device.bound(40.0) {
            self.now.protector = true;
            self.push(What::ProtectorOpens);
        } else if self.now.protector && device.resets(self.protector) {
            self.now.protector = false;
            self.push(What::ProtectorResets);
        }
    }
}

impl Installation {
    /// The device of the unit's circuit, as it really trips.
    #[must_use]
    pub fn device(&self) -> Device {
        Device::Breaker(self.plate.device * self.values.breaker_size * self.values.breaker_bad)
    }
}

impl Operating {
    /// The largest current through a pole of the unit's breaker, A.
    #[must_use]
    pub fn device_amps(&self, installation: &Installation) -> f64 {
        (1..=installation.lines())
            .map(|line| self.amps(&format!("pole_{line}")))
            .fold(0.0, f64::max)
    }
}
