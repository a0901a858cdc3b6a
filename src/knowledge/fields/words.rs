//! The words of the data and what they mean.

use crate::knowledge::cited::LookedUp;
use crate::knowledge::exposure::Exposure;
use crate::knowledge::model::{Frequency, Hazard, Job, Place, State};
use crate::quantity::{Kind, ValueKind};

pub(in crate::knowledge) const PLACES: &[(&str, Place)] = &[
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

pub(in crate::knowledge) const JOBS: &[(&str, Job)] = &[
    ("utility", Job::Utility),
    ("electrician", Job::Electrician),
    ("hvac-technician", Job::HvacTechnician),
    ("utility-or-electrician", Job::UtilityOrElectrician),
    ("gas-fitter", Job::GasFitter),
    ("source-dealer", Job::SourceDealer),
    ("check-locally", Job::CheckLocally),
];

pub(in crate::knowledge) const FREQUENCIES: &[(&str, Frequency)] = &[
    ("rare", Frequency::Rare),
    ("occasional", Frequency::Occasional),
    ("common", Frequency::Common),
    ("very-common", Frequency::VeryCommon),
];

pub(in crate::knowledge) const STATES: &[(&str, State)] = &[
    ("told", State::Told),
    ("any", State::Any),
    ("locked-out", State::LockedOut),
    ("running", State::Running),
    ("energised", State::Energised),
    ("firing", State::Firing),
];

pub(in crate::knowledge) const HAZARDS: &[(&str, Hazard)] = &[
    ("none", Hazard::None),
    ("low", Hazard::Low),
    ("burn", Hazard::Burn),
    ("stored-energy", Hazard::StoredEnergy),
    ("shock", Hazard::Shock),
    ("shock-and-arc", Hazard::ShockAndArc),
];

pub(in crate::knowledge) const EXPOSURES: &[(&str, Exposure)] = &[
    ("refrigerant", Exposure::Refrigerant),
    ("compressor-terminals", Exposure::CompressorTerminals),
    ("disconnect", Exposure::Disconnect),
];

/// What looking a source up showed. That nobody has looked yet is not written: it is a source without the word.
pub(in crate::knowledge) const LOOKED_UP: &[(&str, LookedUp)] = &[
    ("supports", LookedUp::Supports),
    ("mixed", LookedUp::Mixed),
    ("contradicts", LookedUp::Contradicts),
    ("not-found", LookedUp::NotFound),
];

/// What a reading's unit says it measures. A bare `F` and `C` are temperatures on a scale: nobody reads a
/// capacitor in whole farads. A difference of temperatures is asked in `K`.
pub(in crate::knowledge) const UNITS: &[(&str, Kind)] = &[
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

/// Sorts of test.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::knowledge) enum Sort {
    Look,
    Reading,
    Calculation,
}

pub(in crate::knowledge) const SORTS: &[(&str, Sort)] = &[
    ("look", Sort::Look),
    ("reading", Sort::Reading),
    ("calculation", Sort::Calculation),
];

/// Kinds of fact that are no quantity with a unit of its own.
pub(in crate::knowledge) const FACT_KINDS: &[(&str, ValueKind)] = &[
    ("size", ValueKind::Size),
    ("choice", ValueKind::Choice),
    ("loads", ValueKind::Loads),
    ("currents", ValueKind::Quantities(Kind::Current)),
];

/// The keys of which a node has exactly one.
pub(in crate::knowledge) const NODE_KINDS: [&str; 6] =
    ["test", "narrow", "through", "leave", "halt", "close"];
