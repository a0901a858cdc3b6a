//! The one-line diagram as data.

use schemars::JsonSchema;
use serde::Serialize;

use crate::report::spot::Spot;

/// The one-line diagram as data.
#[derive(Clone, Debug, Default, Serialize, JsonSchema)]
pub struct OneLine {
    /// The spots from the source to the load, the 24 V side last.
    pub stations: Vec<Station>,
    /// The 24 V side is not fed at the unit drawn above it but indoors, so it is drawn apart.
    pub control_apart: bool,
    /// The leading cause is not electrical: its name.
    pub not_electrical: Option<String>,
}

/// What is known at one spot.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Station {
    /// Which spot.
    pub spot: Spot,
    /// What it is called.
    pub name: String,
    /// Ratings and sizes told of it.
    pub ratings: Vec<String>,
    /// Readings made there.
    pub readings: Vec<String>,
    /// Drops and ohms worked out for it.
    pub worked_out: Vec<String>,
    /// Defects found there.
    pub defects: Vec<String>,
    /// Causes suspected there.
    pub suspects: Vec<Suspect>,
}

/// A cause suspected at a spot.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Suspect {
    /// Its place among the causes, from 1.
    pub rank: usize,
    /// Its name.
    pub name: String,
}
