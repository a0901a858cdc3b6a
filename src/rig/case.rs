//! The rig for a case of the knowledge: an installation from its equipment and facts, a hidden fault in it, and what a meter shows.

use fastrand::Rng;
use uom::si::electrical_resistance::ohm;
use uom::si::f64::{Length, ThermodynamicTemperature};
use uom::si::length::meter;
use uom::si::thermodynamic_temperature::degree_celsius;

use crate::knowledge::model::{Cause, Equipment, Knowledge, TestIndex, TestKind};
use crate::quantity::{ConductorSize, Kind, Quantity, Value};
use crate::standards::lookup;
use crate::standards::table::Metal;

use super::bench::{Because, Bench, Stage};
use super::faults::{self, Change, Model, When};
use super::installation::{Call, Feed, Given, Installation, Plate};
use super::meter::{Meters, Scale};
use super::readings;
use super::visit::Visit;

/// How a hidden fault looks.
#[derive(Clone, Debug, PartialEq)]
pub struct Fault {
    /// Id of the cause.
    pub cause: String,
    /// The values it changes; empty where a meter finds nothing.
    pub changes: Vec<Change>,
    /// From 0, slight, to 1, grave.
    pub severity: f64,
    /// The leg it is on, from 1.
    pub leg: usize,
    /// Always, or what brings it on.
    pub when: When,
}

/// Why a fault cannot be put into an installation.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NoModel {
    /// What the table of faults says, or that it does not name the cause.
    pub why: String,
}

impl Fault {
    /// Samples how a cause looks; `severity` from 0 to 1, or sampled as well.
    ///
    /// # Errors
    /// When the cause has no model.
    pub fn sample(cause: &str, severity: Option<f64>, hots: usize, rng: &mut Rng) -> Result<Self, NoModel> {
        let changes = match faults::of(cause) {
            Some(Model::Changes(ways)) => ways[rng.usize(..ways.len())].clone(),
            Some(Model::Sound(_)) => Vec::new(),
            Some(Model::Nothing(why)) => return Err(NoModel { why: why.clone() }),
            None => {
                let why = "the table of faults does not name it".to_owned();
                return Err(NoModel { why });
            }
        };
        let sampled = rng.f64();
        let mut left = rng.f64();
        let when = faults::comes_and_goes(cause).into_iter().find(|(_, share)| {
            left -= share;
            left < 0.0
        });
        Ok(Self {
            cause: cause.to_owned(),
            changes,
            severity: severity.unwrap_or(sampled),
            leg: rng.usize(1..=hots.max(1)),
            when: when.map_or(When::Always, |(when, _)| when),
        })
    }

    /// What is called where this fault is looked for.
    #[must_use]
    pub fn mode(&self, plate: &Plate) -> Call {
        let of_heat = |key: &str| key.starts_with("heat-") && key != "heat-with-cooling";
        let heat = self.changes.iter().any(|change| of_heat(&change.key));
        if heat || plate.rated_load == 0.0 {
            Call::Heat
        } else {
            Call::Cooling
        }
    }
}

/// A fact as the rig takes it.
fn given(value: &Value, metal: Metal) -> Option<Given> {
    match value {
        Value::Quantity(quantity) => Some(Given::Amount(quantity.base)),
        Value::Choice(id) => Some(Given::Choice(id.clone())),
        Value::Size(size) => per_meter(*size, metal).map(Given::OhmPerMeter),
        Value::Quantities(_) | Value::Loads(_) => None,
    }
}

/// Ohm per meter of a conductor at 75 C.
fn per_meter(size: ConductorSize, metal: Metal) -> Option<f64> {
    let warm = ThermodynamicTemperature::new::<degree_celsius>(75.0);
    let length = Length::new::<meter>(1.0);
    lookup::resistance(size, metal, false, warm, length).map(|resistance| resistance.get::<ohm>())
}

/// The figures of equipment from the facts of a case by id; what is missing is assumed and listed.
#[must_use]
pub fn plate(equipment: &Equipment, fact: &dyn Fn(&str) -> Option<Value>) -> Plate {
    let aluminum = matches!(fact("conductor-metal"), Some(Value::Choice(id)) if id == "aluminium");
    let metal = if aluminum { Metal::Aluminium } else { Metal::Copper };
    Plate::of(&equipment.parts, &|id| given(&fact(id)?, metal))
}

/// How many hots feed the unit: the legs a fault can be on.
#[must_use]
pub fn hots(plate: &Plate) -> usize {
    match plate.feed {
        Feed::HotAndNeutral => 1,
        Feed::TwoHots => 2,
        Feed::ThreeLines => 3,
    }
}

/// An installation with a hidden fault, and the instruments of whoever comes.
#[derive(Debug)]
pub struct Site {
    /// Hidden from whoever comes.
    pub fault: Fault,
    /// The installation at every stage, the fault being there.
    pub bench: Bench,
    /// The same while a fault that comes and goes is not there; nothing where it is there always.
    pub calm: Option<Bench>,
    /// Whoever comes.
    pub visit: Visit,
    meters: Meters,
}

impl Site {
    /// Puts a fault into a sound installation, for somebody who comes at a visit.
    #[must_use]
    pub fn visited(plate: Plate, fault: Fault, meters: Meters, visit: Visit) -> Self {
        let mode = fault.mode(&plate);
        let sound = Installation::sound(plate);
        let calm = (fault.when != When::Always).then(|| {
            let mut calm = sound.clone();
            calm.leg = fault.leg;
            Bench::in_air(calm, mode, visit.air)
        });
        let installation = sound.with(&fault.changes, fault.severity, fault.leg);
        Self {
            bench: Bench::in_air(installation, mode, visit.air),
            fault,
            calm,
            visit,
            meters,
        }
    }

    /// A fault that is there whenever it is read, with something of its own called: so that what is compared runs alike.
    #[must_use]
    pub fn called(plate: Plate, fault: Fault, meters: Meters, mode: Call) -> Self {
        let installation = Installation::sound(plate).with(&fault.changes, fault.severity, fault.leg);
        Self {
            fault,
            bench: Bench::new(installation, mode),
            calm: None,
            visit: Visit::AT_WORST,
            meters,
        }
    }

    /// Whether the fault is there at a stage of this visit.
    #[must_use]
    pub fn meets(&self, stage: Stage) -> bool {
        self.visit.meets(self.fault.when, self.fault.severity, stage)
    }

    /// The installation as it is at a stage of this visit.
    #[must_use]
    pub fn at(&self, stage: Stage) -> &Bench {
        match &self.calm {
            Some(calm) if !self.meets(stage) => calm,
            _ => &self.bench,
        }
    }

    /// Samples all of it for a cause on equipment without known facts.
    ///
    /// # Errors
    /// When the cause has no model.
    pub fn sample(
        equipment: &Equipment,
        cause: &Cause,
        severity: Option<f64>,
        seed: u64,
    ) -> Result<Self, NoModel> {
        Self::sample_with(plate(equipment, &|_| None), cause, severity, seed)
    }

    /// The same on equipment with these plates.
    ///
    /// # Errors
    /// When the cause has no model.
    pub fn sample_with(
        plate: Plate,
        cause: &Cause,
        severity: Option<f64>,
        seed: u64,
    ) -> Result<Self, NoModel> {
        let mut rng = Rng::with_seed(seed);
        let fault = Fault::sample(&cause.id, severity, hots(&plate), &mut rng)?;
        let meters = Meters::sample(&mut rng);
        let visit = Visit::sample(fault.mode(&plate), &mut rng);
        Ok(Self::visited(plate, fault, meters, visit))
    }

    /// What the meter shows at a reading test, within the range the test takes.
    ///
    /// # Errors
    /// Why it cannot be read.
    pub fn read(&self, knowledge: &Knowledge, test: TestIndex) -> Result<Quantity, Because> {
        let known = &knowledge.tests[test];
        let TestKind::Reading { unit, range, .. } = known.kind else {
            return Err(Because::NoModel);
        };
        let scale = scale(unit).ok_or(Because::NoModel)?;
        let value = self.at(readings::stage_of(&known.id)).reading(&known.id)?;
        let shown = self.meters.shows(scale, value).clamp(range.0, range.1);
        Quantity::new(unit, shown).ok_or(Because::NoSolution)
    }
}

/// The instrument of a kind; nothing where the rig has none.
pub(super) fn scale(unit: Kind) -> Option<Scale> {
    match unit {
        Kind::Voltage => Some(Scale::Volts),
        Kind::Current => Some(Scale::Amps),
        Kind::Resistance => Some(Scale::Ohms),
        Kind::Capacitance => Some(Scale::Farads),
        Kind::Frequency => Some(Scale::Hertz),
        Kind::Temperature => Some(Scale::Celsius),
        _ => None,
    }
}
