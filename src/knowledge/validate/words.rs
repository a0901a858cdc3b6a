//! The words of the data and what they mean.

use crate::knowledge::model::{Frequency, Hazard, Job, Place, State, Strength};
use crate::quantity::Kind;

pub(super) const PLACES: &[(&str, Place)] = &[
    ("utility", Place::Utility),
    ("service", Place::Service),
    ("panel", Place::Panel),
    ("branch", Place::Branch),
    ("disconnect", Place::Disconnect),
    ("unit", Place::Unit),
    ("load", Place::Load),
    ("control", Place::Control),
    ("not-electrical", Place::NotElectrical),
];

pub(super) const JOBS: &[(&str, Job)] = &[
    ("utility", Job::Utility),
    ("electrician", Job::Electrician),
    ("hvac-technician", Job::HvacTechnician),
    ("check-locally", Job::CheckLocally),
];

pub(super) const FREQUENCIES: &[(&str, Frequency)] = &[
    ("rare", Frequency::Rare),
    ("occasional", Frequency::Occasional),
    ("common", Frequency::Common),
    ("very-common", Frequency::VeryCommon),
];

pub(super) const STRENGTHS: &[(&str, Strength)] = &[
    ("nearly-proves", Strength::NearlyProves),
    ("strong", Strength::Strong),
    ("moderate", Strength::Moderate),
    ("weak", Strength::Weak),
    ("argues-against", Strength::ArguesAgainst),
    ("rules-out", Strength::RulesOut),
];

pub(super) const STATES: &[(&str, State)] = &[
    ("any", State::Any),
    ("locked-out", State::LockedOut),
    ("energised", State::Energised),
];

pub(super) const HAZARDS: &[(&str, Hazard)] = &[
    ("none", Hazard::None),
    ("low", Hazard::Low),
    ("burn", Hazard::Burn),
    ("stored-energy", Hazard::StoredEnergy),
    ("shock", Hazard::Shock),
    ("shock-and-arc", Hazard::ShockAndArc),
];

/// What a reading's unit says it measures. A bare `F` and `C` are temperatures on a scale: nobody reads a
/// capacitor in whole farads. A difference of temperatures is asked in `K`.
pub(super) const UNITS: &[(&str, Kind)] = &[
    ("V", Kind::Voltage),
    ("mV", Kind::Voltage),
    ("kV", Kind::Voltage),
    ("A", Kind::Current),
    ("mA", Kind::Current),
    ("uA", Kind::Current),
    ("ohm", Kind::Resistance),
    ("mohm", Kind::Resistance),
    ("kohm", Kind::Resistance),
    ("Mohm", Kind::Resistance),
    ("W", Kind::Power),
    ("kW", Kind::Power),
    ("VA", Kind::ApparentPower),
    ("kVA", Kind::ApparentPower),
    ("uF", Kind::Capacitance),
    ("mH", Kind::Inductance),
    ("Hz", Kind::Frequency),
    ("ft", Kind::Length),
    ("in", Kind::Length),
    ("m", Kind::Length),
    ("F", Kind::Temperature),
    ("C", Kind::Temperature),
    ("K", Kind::TemperatureRise),
    ("s", Kind::Time),
    ("min", Kind::Time),
    ("h", Kind::Time),
    ("%", Kind::Ratio),
    ("count", Kind::Count),
    ("hp", Kind::ShaftPower),
    ("cfm", Kind::AirFlow),
];
