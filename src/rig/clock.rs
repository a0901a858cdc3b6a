//! The slow clock: what happens to an installation over minutes and hours.
//!
//! Breaker, motor protector and joints gather heat; the air follows the hour; loads of the building come and go; a sequencer closes the
//! heater's stages one by one. A fault that comes and goes is there while what brings it on is there: its part is warm, the unit shakes,
//! it is wet, another load is on. The circuit is solved anew only when something switched or ten minutes have passed. So "after twenty
//! minutes on a hot day" and "now and then" come out of heat and not out of a die.

use fastrand::Rng;

use super::breaker::Device;
pub use super::day::Day;
use super::error::SolveError;
use super::faults::When;
use super::installation::{Call, Installation, Operating, RATED_AIR, Situation};

/// Something that happened.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum What {
    /// The unit's breaker or fuse opened.
    BreakerTrips,
    /// The compressor's protector opened.
    ProtectorOpens,
    /// It closed again.
    ProtectorResets,
    /// The protector in the outdoor fan's motor opened.
    FanStops,
    /// That in the blower's motor.
    BlowerStops,
    /// A contactor chattered.
    Chatters,
    /// The fuse of the 24 V side opened.
    ControlFuseOpens,
    /// A joint is hot enough to discolor.
    JointDiscolors(&'static str),
    /// A stage of the heater closed.
    StageCloses,
    /// A stage of the heater opened after the call.
    StageOpens,
    /// A fault that comes and goes came.
    FaultComes,
    /// It went.
    FaultGoes,
}

/// What a fault that comes and goes leaves in between, and when it is there.
#[derive(Clone, Copy, Debug)]
pub struct Comes<'a> {
    /// The installation while it is not there.
    pub calm: &'a Installation,
    /// What brings it on.
    pub when: When,
    /// From 0, slight, to 1, grave: how soon the warm part fails, how often the shaken one.
    pub severity: f64,
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

/// Share of its plate's current that the protector in the motor of a fan or blower carries for ever. A judgment: it has to open at 170 %
/// at the latest up to 9 A, and lets 115 % run (NEC 430.32(A), from memory).
const MOTOR_PROTECTOR: f64 = 1.35;

/// Seconds between two stages of a sequencer, closing; opening takes a little longer.
const STAGE: f64 = 25.0;

/// Seconds of one step.
const STEP: f64 = 5.0;

/// Minutes after which the circuit is solved anew though nothing switched: air and wire have changed.
const ANEW: f64 = 10.0;

/// Seconds in which a part inside a running unit comes to its temperature.
const WARMS: f64 = 600.0;

/// Warmth at which the slightest fault of a warm part is there, and the gravest: 1 is the end of a long run in air of 25 C. The slightest
/// is met after a long run on a hot day only, the gravest after four minutes of a mild one.
const WARM: (f64, f64) = (1.15, 0.35);

/// Air at which a long run ends at a warmth of 1, C, and the degrees of air that count as much as the run.
const MILD: f64 = 25.0;
const AS_MUCH: f64 = 40.0;

/// Share of the warmth at which a fault came under which it goes again.
const GOES: f64 = 0.85;

/// How often a shaking unit brings a fault in an hour, the slightest and the gravest, and for how many seconds.
pub(super) const SHAKES: (f64, f64) = (1.0, 20.0);
const SHAKEN_FOR: f64 = 20.0;

/// Warmth of a part after some seconds of a run from cold, in air of a temperature in C.
#[must_use]
pub fn warmth(seconds: f64, air: f64) -> f64 {
    (1.0 + (air - MILD) / AS_MUCH) * (1.0 - (-seconds / WARMS).exp())
}

/// Warmth at which the fault of a warm part is there.
#[must_use]
pub fn warm_at(severity: f64) -> f64 {
    WARM.0 + (WARM.1 - WARM.0) * severity
}

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
    fan: f64,
    blower: f64,
    joints: [f64; JOINTS.len()],
    called_for: f64,
    now: Situation,
    visitor: f64,
    comes: Option<Comes<'a>>,
    warmth: f64,
    shaken: f64,
    /// The fault is there.
    there: bool,
    minute: f64,
    happened: Vec<(f64, What)>,
}

/// What was solved last: in which situation, with the fault or without, in which minute.
struct Solved {
    now: Situation,
    there: bool,
    minute: f64,
    found: Operating,
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
            fan: 0.0,
            blower: 0.0,
            joints: [0.0; JOINTS.len()],
            called_for: 0.0,
            now: Situation::rest(),
            visitor: 0.0,
            comes: None,
            warmth: 0.0,
            shaken: 0.0,
            there: true,
            minute: -1.0,
            happened: Vec::new(),
        }
    }

    /// The same with a fault that comes and goes; it is not there yet.
    #[must_use]
    pub fn coming_and_going(self, comes: Comes<'a>) -> Self {
        Self {
            there: comes.when == When::Always,
            comes: Some(comes),
            ..self
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
        let mut last: Option<Solved> = None;
        self.called_for = 0.0;
        while self.seconds < end {
            let minute = (self.seconds / 60.0).floor();
            self.stages(call);
            if minute > self.minute {
                self.minute = minute;
                self.visitors();
            }
            self.come_and_go(call);
            let kept = last.filter(|last| {
                last.now == self.now && last.there == self.there && minute < last.minute + ANEW
            });
            let solved = match kept {
                Some(kept) => kept,
                None => {
                    let found = self.solve(call)?;
                    Solved {
                        now: self.now,
                        there: self.there,
                        minute,
                        found,
                    }
                }
            };
            self.step(&solved.found);
            last = Some(solved);
            self.seconds += STEP;
            self.called_for += STEP;
        }
        Ok(())
    }

    /// The installation as it is at the moment.
    fn present(&self) -> &'a Installation {
        match self.comes {
            Some(comes) if !self.there => comes.calm,
            _ => self.installation,
        }
    }

    /// Whether the fault is there now.
    fn come_and_go(&mut self, call: Call) {
        let Some(comes) = self.comes else { return };
        let on = call != Call::Rest && !self.now.tripped;
        let air = self.day.air(self.hour());
        let end = if on { warmth(f64::INFINITY, air) } else { 0.0 };
        self.warmth = end + (self.warmth - end) * (-STEP / WARMS).exp();
        let there = match comes.when {
            When::Always => true,
            When::Warm if self.there => self.warmth > GOES * warm_at(comes.severity),
            When::Warm => self.warmth > warm_at(comes.severity),
            When::Shaken => self.shakes(on, comes.severity),
            When::Wet => self.day.wet,
            When::Loaded => self.visitor > 0.0,
        };
        if there != self.there {
            self.there = there;
            self.push(if there { What::FaultComes } else { What::FaultGoes });
        }
    }

    fn shakes(&mut self, on: bool, severity: f64) -> bool {
        self.shaken -= STEP;
        let often = SHAKES.0 + (SHAKES.1 - SHAKES.0) * severity;
        if on && self.rng.f64() < often * STEP / 3600.0 {
            self.shaken = SHAKEN_FOR;
        }
        self.shaken > 0.0
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
        let least = self.present().values.heat_stuck;
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
        let installation = self.present();
        self.now.air = self.day.air(self.hour());
        self.now.wire_celsius = installation.values.wire_air - RATED_AIR + self.now.air;
        let mut found = installation.operate(call, self.now)?;
        if stages != found.now.stages {
            found = Operating {
                turns: found.turns,
                chatters: found.chatters,
                ..installation.solved(Situation { stages, ..found.now })?
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
        let installation = self.present();
        let air = installation.values.panel_air + self.day.air(self.hour()) - RATED_AIR;
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
        self.protect_fans(found.amps("fan"), found.amps("blower"));
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

impl Clock<'_> {
    /// Outdoor fan and blower stop on the protectors in their motors, and try again once they have cooled.
    fn protect_fans(&mut self, fan: f64, blower: f64) {
        let plate = &self.installation.plate;
        let step = |heat: &mut f64, open: &mut bool, rated: f64, amps: f64| -> bool {
            let device = Device::Protector(MOTOR_PROTECTOR * rated.max(0.1));
            *heat = device.heated(*heat, amps, STEP);
            let opens = !*open && *heat >= device.bound(40.0);
            *open = opens || *open && !device.resets(*heat);
            opens
        };
        let stops = [
            (
                step(&mut self.fan, &mut self.now.fan_protector, plate.fan, fan),
                What::FanStops,
            ),
            (
                step(
                    &mut self.blower,
                    &mut self.now.blower_protector,
                    plate.blower,
                    blower,
                ),
                What::BlowerStops,
            ),
        ];
        for (_, what) in stops.into_iter().filter(|(opens, _)| *opens) {
            self.push(what);
        }
    }
}

/// Smallest breaker found ahead of such equipment, A: the least rating of a branch circuit (NEC 210.18).
pub const SMALLEST: f64 = 15.0;

impl Installation {
    /// The device of the unit's circuit, as it really trips.
    #[must_use]
    pub fn device(&self) -> Device {
        Device::Breaker(self.rating() * self.values.breaker_bad)
    }

    /// Rating of the breaker that is fitted, A.
    #[must_use]
    pub fn rating(&self) -> f64 {
        // On a split system the heat has a breaker of its own.
        let heat = if self.has_indoor_circuit() {
            1.0
        } else {
            self.values.heat_breaker
        };
        let wanted = self.plate.device * self.values.breaker_size * heat;
        wanted.max(SMALLEST.min(self.plate.device))
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
