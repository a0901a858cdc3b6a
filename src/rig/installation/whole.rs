//! An installation, and the situations it can be in.

use super::super::motor::Motor;
use super::plate::{Feed, Plate};
use super::values::Values;

/// An installation with what is wrong with it.
#[derive(Clone, Debug)]
pub struct Installation {
    /// Its figures.
    pub plate: Plate,
    /// Its values, some of which a fault changed.
    pub values: Values,
    /// The leg a fault of one leg is on, from 1.
    pub leg: usize,
    /// The compressor's motor; nothing where there is none, or an inverter.
    pub motor: Option<Motor>,
}

impl Installation {
    /// A sound installation.
    #[must_use]
    pub fn sound(plate: Plate) -> Self {
        let three = plate.feed == Feed::ThreeLines;
        let motor = (plate.rated_load > 0.0 && !plate.has("inverter")).then(|| {
            Motor::fitted(
                plate.volts,
                plate.rated_load,
                plate.locked_rotor,
                plate.microfarad,
                three,
            )
        });
        Self {
            plate,
            values: Values::default(),
            leg: 1,
            motor,
        }
    }

    /// How many lines feed the unit.
    #[must_use]
    pub fn lines(&self) -> usize {
        if self.plate.feed == Feed::ThreeLines { 3 } else { 2 }
    }

    /// Whether a line is a hot; line 2 of a 120 V unit is its neutral.
    #[must_use]
    pub fn is_hot(&self, line: usize) -> bool {
        line != 2 || self.plate.feed != Feed::HotAndNeutral
    }

    /// Node where a line of the unit begins: its bus, or the neutral bar.
    #[must_use]
    pub fn origin(&self, line: usize) -> String {
        if !self.is_hot(line) {
            "bar".to_owned()
        } else if line == 2 && self.values.same_leg > 0.0 {
            "bus_1".to_owned()
        } else {
            format!("bus_{line}")
        }
    }

    /// Indoor part with a circuit of its own.
    #[must_use]
    pub fn has_indoor_circuit(&self) -> bool {
        self.plate.has("outdoor-control-cable") || self.plate.indoor_neutral
    }

    /// Both ends of the indoor part's supply.
    #[must_use]
    pub fn indoor_ends(&self) -> [&'static str; 2] {
        if self.has_indoor_circuit() {
            ["in_1", "in_2"]
        } else {
            ["unit_1", "unit_2"]
        }
    }

    /// A value of one leg on a line: the fault's where it is on that line, else the sound one.
    #[must_use]
    pub fn on_leg(&self, line: usize, of: impl Fn(&Values) -> f64) -> f64 {
        if self.leg == line {
            of(&self.values)
        } else {
            of(&Values::default())
        }
    }
}

/// What is on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Situation {
    /// The call for the compressor reaches the board.
    pub cooling: bool,
    /// A call for heat: burner or heater.
    pub heat: bool,
    /// The blower is called.
    pub blower: bool,
    /// Share of the heater's stages that are closed.
    pub stages: f64,
    /// The contactor is in.
    pub pulled_in: bool,
    /// Slip of the compressor; 1 at standstill.
    pub slip: f64,
    /// The unit's breaker or fuse has opened.
    pub tripped: bool,
    /// The compressor's own protector has opened.
    pub protector: bool,
    /// That of the outdoor fan.
    pub fan_protector: bool,
    /// That of the blower.
    pub blower_protector: bool,
    /// The control fuse has opened.
    pub control_fuse: bool,
    /// Watts more on leg 1 at the panel: a test load.
    pub test_load: f64,
    /// Share of the building's other loads that is on.
    pub building: f64,
    /// Temperature of the branch conductors, C.
    pub wire_celsius: f64,
    /// Outdoor air, C: the compressor works the harder the warmer it is.
    pub air: f64,
}

/// Outdoor air of an ordinary hot day, C, for which plates are rated (35 C: AHRI 210/240, from memory).
pub const RATED_AIR: f64 = 35.0;

impl Situation {
    /// Everything off, nothing tripped.
    #[must_use]
    pub fn rest() -> Self {
        Self {
            cooling: false,
            heat: false,
            blower: false,
            stages: 0.0,
            pulled_in: false,
            slip: 1.0,
            tripped: false,
            protector: false,
            fan_protector: false,
            blower_protector: false,
            control_fuse: false,
            test_load: 0.0,
            building: 1.0,
            wire_celsius: RATED_AIR,
            air: RATED_AIR,
        }
    }
}
