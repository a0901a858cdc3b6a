//! What is said before the state of the equipment changes, and the statement that stands over every case.
//!
//! Sources: NFPA 70E 110 and 120 (live-dead-live test), from memory; OSHA 29 CFR 1910.333(a)(1) and (b)(2),
//! 1910.147 (lock out, release stored energy); IEC 61010-1 (instrument category).

use crate::knowledge::model::State;

/// Stands over every case.
pub const STANDING_STATEMENT: &str = "Local codes, the equipment's own instructions and licensed practice come \
    first. This program advises; it does not license anyone to do electrical work.";

/// What to mind before the equipment is brought into a state.
#[must_use]
pub const fn cautions(state: State) -> &'static [&'static str] {
    match state {
        State::Told | State::Any => &[],
        State::LockedOut => &[
            "Find every supply: heat strips, crankcase heaters and control feeds can be separate; a breaker may be marked wrong.",
            "Open, lock and tag each one, both of two poles that are not tied. A thermostat, switch or pull-out left in reach is no lock.",
            "Prove the meter on a live source, test every conductor to every other and to ground, prove the \
             meter again.",
            "Discharge capacitors through a resistor, then measure them. Wait for fans to stand still.",
        ],
        State::Running => &[
            "Covers and guards on. Keep hands, hair and clothes clear of fans and belts: it can start by itself.",
            "Stand to the side of a switch or breaker as you close it, face turned away.",
            "Off again at once at smoke, a burning smell, arcing or a breaker that trips; do not close it twice.",
        ],
        State::Firing => &[
            "No smell of gas or oil, air for the burner free, vent and heat exchanger sound: only then a call for flame.",
            "Carbon monoxide alarm or meter running beside you; stand to the side as it lights.",
            "Off at once at delayed ignition, flame out of the opening, soot or smell; no reset is pressed twice.",
            "Three trials for ignition at most on this visit, all tests together, five minutes apart.",
            "Gas valve and burner are set and opened only by a person licensed for it where the law asks for that.",
        ],
        State::Energised => &[
            "Only a qualified person works here; with panel covers off there is shock and arc-flash hazard.",
            "Meter and leads rated CAT III 600 V at the unit, CAT IV at the service. Inspect leads first.",
            "Gloves and eye protection; no metal on hands; dry footing; one hand where you can.",
            "Keep clear of fans and belts: the unit can start by itself.",
            "Not alone at open live parts, and not in a thunderstorm.",
            "Fit no jumper across a limit, float, pressure or roll-out switch to keep equipment running.",
        ],
    }
}
