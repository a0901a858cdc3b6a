//! The figures an installation is built from: those of the case where it has them, else typical ones, which are listed.

/// A fact as the case holds it, in base units (A, V, W, VA, F, m, K) or as the id of its choice.
#[derive(Clone, Debug, PartialEq)]
pub enum Given {
    /// A number.
    Amount(f64),
    /// Ohm per meter of a conductor at 75 C.
    OhmPerMeter(f64),
    /// Id of the choice.
    Choice(String),
}

/// A figure nobody gave.
#[derive(Clone, Debug, PartialEq)]
pub struct Assumed {
    /// Id of the fact, or a short name where it is no fact.
    pub what: &'static str,
    /// Value with its unit.
    pub value: String,
    /// What makes this value the usual one.
    pub why: &'static str,
}

/// How the unit is fed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Feed {
    /// Hot and neutral, 120 V.
    HotAndNeutral,
    /// Two hots, 230 V where no plate says otherwise.
    TwoHots,
    /// Three lines, 208 V where no plate says otherwise.
    ThreeLines,
}

/// Figures of one installation.
#[derive(Clone, Debug, PartialEq)]
pub struct Plate {
    /// Parts of the equipment.
    pub parts: Vec<String>,
    /// How the unit is fed.
    pub feed: Feed,
    /// Indoor part with a 120 V circuit of its own.
    pub indoor_neutral: bool,
    /// Voltage on the plate, V.
    pub nameplate_volts: f64,
    /// Nominal voltage between the unit's lines (or line and neutral) in this building, V.
    pub volts: f64,
    /// Rating of breaker or fuse, A.
    pub device: f64,
    /// Of the main, A.
    pub main: f64,
    /// Ohm of one branch conductor at 75 C, and its reactance.
    pub branch: (f64, f64),
    /// Ohm of the grounding conductor.
    pub grounding: f64,
    /// Compressor, A; 0 where there is none.
    pub rated_load: f64,
    /// Compressor, A.
    pub locked_rotor: f64,
    /// Outdoor fan, A.
    pub fan: f64,
    /// Blower, A.
    pub blower: f64,
    /// Inducer, burner motor or circulator, A.
    pub draft: f64,
    /// Heater, W at its voltage.
    pub heater: f64,
    /// V.
    pub heater_volts: f64,
    /// Run capacitor, microfarad.
    pub microfarad: f64,
    /// Control transformer, VA; 0 where there is none.
    pub transformer: f64,
    /// Flame current the control asks for at least, uA.
    pub least_flame: f64,
    /// What of this was not given.
    pub assumed: Vec<Assumed>,
}

impl Plate {
    /// Whether the equipment has a part.
    #[must_use]
    pub fn has(&self, part: &str) -> bool {
        self.parts.iter().any(|own| own == part)
    }
}
