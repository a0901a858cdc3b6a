//! The form of a prediction: what `--format json` prints as it is, and the text is made of.

use schemars::JsonSchema;
use schemars::generate::SchemaSettings;
use serde::Serialize;
use serde_json::Value;

use crate::knowledge::model::{Hazard, Job, State};

/// The JSON Schema (draft 2020-12) of what `lineside predict --format json` prints.
#[must_use]
pub fn schema() -> Value {
    let generator = SchemaSettings::draft2020_12().for_serialize().into_generator();
    generator.into_root_schema_for::<Prediction>().to_value()
}

/// What the readings at the tests not yet made would be. Made from a walk by `predict::of`, and printed as JSON as it is.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Prediction {
    /// Id of the complaint.
    pub complaint: String,
    /// Id of the equipment.
    pub equipment: String,
    /// What is called for while the unit runs: the same for every cause.
    pub called: Called,
    /// The causes compared, by standing.
    pub causes: Vec<Foreseen>,
    /// Leading causes that read as if nothing were wrong, and why.
    pub as_sound: Vec<Aside>,
    /// Leading causes of which nothing is worked out, and why.
    pub no_model: Vec<Aside>,
    /// Tests that would tell, the most telling first.
    pub tests: Vec<TestForeseen>,
    /// Names of causes, nothing wrong among them, that no reading that may be taken now tells apart; each group by itself.
    pub alike: Vec<Vec<String>>,
    /// What nobody gave, and what was taken instead.
    pub assumed: Vec<Taken>,
    /// Readings of the case that the figures were fitted to.
    pub tuned: Vec<Tuned>,
    /// Holds that keep tests from being made, and so from being shown.
    pub held: Vec<HeldBack>,
    /// Why nothing is shown at all: the case was stopped for safety.
    pub stopped: Option<String>,
}

/// What is called for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Called {
    /// Cooling, or heat by a heat pump.
    Compressor,
    /// Heat by a burner or heater.
    Heat,
    /// Nothing: a supply without equipment.
    Nothing,
}

/// A cause that was put into the installation.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Foreseen {
    /// Its id.
    pub cause: String,
    /// Its name.
    pub name: String,
    /// Its standing, 0 to 1.
    pub probability: f64,
}

/// A cause that was not.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Aside {
    /// Its id.
    pub cause: String,
    /// Its name.
    pub name: String,
    /// Its standing, 0 to 1.
    pub probability: f64,
    /// Why not.
    pub why: String,
}

/// A figure nobody gave.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Taken {
    /// Id of the fact.
    pub fact: String,
    /// Its name.
    pub name: String,
    /// What was taken, with its unit.
    pub value: String,
    /// Why this.
    pub why: String,
}

/// A reading of the case that the figures were fitted to: voltage of the source, load of compressor or heater.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Tuned {
    /// Id of the test.
    pub test: String,
    /// Its name.
    pub name: String,
}

/// A hold that keeps tests from being made.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct HeldBack {
    /// Its id.
    pub hold: String,
    /// What it tells the person.
    pub says: String,
    /// The name of the test that comes first; nothing where nothing that can be asked clears it.
    pub first: Option<String>,
    /// How many readings it keeps back.
    pub readings: usize,
}

/// What would be read at one test.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct TestForeseen {
    /// Its id.
    pub test: String,
    /// Its name.
    pub name: String,
    /// State the equipment must be in.
    pub state: State,
    /// What it can do to the person.
    pub hazard: Hazard,
    /// Hands-on minutes.
    pub minutes: f64,
    /// Whose job it is, where it is not the HVAC technician's.
    pub job: Option<Job>,
    /// How far it tells the causes apart, 0 to 1: the chance that two of them, drawn by their standing, are read apart; half where
    /// both readings are the same outcome.
    pub tells: f64,
    /// What is read with nothing wrong, then with each cause.
    pub lines: Vec<Line>,
}

impl TestForeseen {
    /// Whether every reading at it is the same outcome.
    #[must_use]
    pub fn is_of_one_outcome(&self) -> bool {
        let mut outcomes = self
            .lines
            .iter()
            .flat_map(|line| &line.ways)
            .filter_map(|way| way.outcome.as_ref());
        let first = outcomes.next();
        outcomes.all(|outcome| Some(outcome) == first)
    }
}

/// What one cause would have the meter show.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Line {
    /// Id of the cause; nothing where nothing is wrong.
    pub cause: Option<String>,
    /// Its name.
    pub name: String,
    /// What can be read, one entry for each outcome the test can come to: a cause on one leg or the other reads two ways.
    pub ways: Vec<Way>,
}

/// One way a cause can be read.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Way {
    /// Id of the outcome of the test; nothing where there is no reading, or a figure it is held against is not known.
    pub outcome: Option<String>,
    /// Its label.
    pub label: Option<String>,
    /// At the typical severity; nothing where there is no reading.
    pub typical: Option<Reading>,
    /// The lowest and the highest from mild to severe, where a meter shows them apart.
    pub range: Option<[Reading; 2]>,
    /// Why there is no reading at the typical severity, or at another where `typical` is one.
    pub no_reading: Option<String>,
}

/// A reading, rounded as a meter shows it.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Reading {
    /// The amount in the base unit.
    pub value: f64,
    /// The base unit.
    pub unit: String,
    /// As a person reads it.
    pub shown: String,
}
