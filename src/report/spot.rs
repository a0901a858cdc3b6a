//! Where on the one-line diagram something belongs, told by its name.
//!
//! A test of the knowledge does not say where its probes go in a way a program can read, so its name is looked through
//! for words, the most telling first. What no word places is not drawn; it stands in the list of answers all the same.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::knowledge::model::Place;
use crate::quantity::words;

use super::wording::by_words;

words! {
    /// A spot on the way from the utility to the load, from the source on.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
    pub enum Spot {
        /// The utility's transformer, or another source.
        Source = "source",
        /// Meter and service conductors.
        Meter = "meter",
        /// Panel: main, bus, neutral bar.
        Panel = "panel",
        /// The breaker or fuse of the unit's circuit.
        Breaker = "breaker",
        /// Conductors from panel to disconnect, and what shares them.
        Conductors = "conductors",
        /// Disconnect, or plug and receptacle.
        Disconnect = "disconnect",
        /// Line terminals and line-voltage wiring of the unit.
        Unit = "unit",
        /// Contactor or relay that switches the load.
        Contactor = "contactor",
        /// Compressor, motors, heaters.
        Load = "load",
        /// The 24 V side.
        Control = "control",
    }
}

impl Spot {
    /// Where a cause sits: its place, and among the spots of that place the one its name speaks of.
    #[must_use]
    pub fn of_cause(place: Place, name: &str) -> Option<Self> {
        let named = spot(name, "");
        let among = |spots: &[Self]| named.filter(|spot| spots.contains(spot)).unwrap_or(spots[0]);
        Some(match place {
            Place::Utility => Self::Source,
            Place::Service => among(&[Self::Meter, Self::Panel]),
            Place::Panel => among(&[Self::Panel, Self::Breaker]),
            Place::Branch => among(&[Self::Conductors, Self::Breaker, Self::Load]),
            Place::Disconnect => Self::Disconnect,
            Place::Unit => among(&[Self::Unit, Self::Contactor]),
            Place::Load => Self::Load,
            Place::Control => Self::Control,
            Place::NotElectrical => return None,
        })
    }
}

/// Words that tell the spot, the most telling first: a drop "from wire to breaker terminal" is at the breaker although
/// the breaker is in the panel. Common practice of naming in this knowledge, no source.
const WORDS: &[(Spot, &[&str])] = &[
    (
        Spot::Control,
        &[
            "24 v",
            "control",
            "thermostat",
            "coil current",
            "contactor coil",
            "flame",
            "secondary",
            "board",
            "control transformer",
            "thermocouple",
            "coil by ohmmeter",
            "sensor",
        ],
    ),
    (Spot::Contactor, &["contactor", "relay contact"]),
    (
        Spot::Disconnect,
        &[
            "disconnect",
            "pull-out",
            "across one fuse",
            "closed switches",
            "service switch",
            "receptacle",
            "plug",
            "fuses",
        ],
    ),
    (
        Spot::Conductors,
        &[
            "conductor size",
            "conductor metal",
            "insulation rating",
            "length of the run",
            "hottest place of the run",
            "current-carrying",
            "branch cable",
            "splice",
            "conductor",
            "other loads on the circuit",
            "branch circuit",
            "run itself",
            "ground wire",
            "grounding conductor",
        ],
    ),
    (
        Spot::Breaker,
        &["breaker", "milliamp clamp", "ground-fault device", "fuse"],
    ),
    (
        Spot::Source,
        &[
            "source",
            "generator",
            "inverter",
            "utility",
            "transformer of the street",
        ],
    ),
    (Spot::Meter, &["meter socket", "service drop", "at the meter"]),
    (
        Spot::Panel,
        &["panel", "the main", "leg 1", "leg 2", "two legs", "neutral bar"],
    ),
    (
        Spot::Load,
        &[
            "compressor",
            "capacitor",
            "accessory",
            "motor",
            "fan",
            "blower",
            "heater",
            "electric heat",
            "element",
            "line a,",
            "line b,",
            "line c,",
            "winding",
        ],
    ),
    (
        Spot::Conductors,
        &["circuit overloaded", "shared circuit", "run too long"],
    ),
    (
        Spot::Unit,
        &[
            "unit",
            "cabinet",
            "metal",
            "nameplate",
            "ampacity",
            "overcurrent",
            "neutral to ground",
        ],
    ),
];

/// The spot a name speaks of.
pub(super) fn spot(name: &str, id: &str) -> Option<Spot> {
    let name = name.to_lowercase();
    let id = id.replace('-', " ");
    by_words(&name, WORDS).or_else(|| by_words(&id, WORDS))
}
