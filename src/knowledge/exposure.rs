//! What a repair or a test can bring a person near to wherever it is done, with the caution said for it once.
//!
//! A cause or a test names it under `exposes`; the caution is added to its own when the knowledge is loaded, so every
//! screen, page and result that shows the one shows the other.
//!
//! Sources: "Take Care When Inspecting Compressor Terminals",
//! <https://www.achrnews.com/articles/145139-take-care-when-inspecting-compressor-terminals>; "General Service Safety
//! Precautions", <http://www.achrnews.com/articles/print/general-service-safety-precautions> (terminal venting);
//! service steps for flammable refrigerants as equipment manuals repeat them from UL 60335-2-40 annex DD (ventilate,
//! detect, recover, purge with inert gas, only then cut or braze),
//! <https://manualslib.es/manual/888577/Midea-Map05R1Awwt.html?page=11>; ASHRAE 34 for the class A2L and ASHRAE 15 for
//! what a room may hold, from memory.

use serde::{Deserialize, Serialize};

use crate::quantity::words;

words! {
    /// What is opened or come near to.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
    pub enum Exposure {
        /// The refrigerant circuit is opened, gauged, brazed or charged, or it may have leaked.
        Refrigerant = "refrigerant",
        /// The terminals of a hermetic compressor: their cover off, leads pulled, windings or insulation read.
        CompressorTerminals = "compressor-terminals",
        /// The inside of a disconnect that may be burnt, loose or wet.
        Disconnect = "disconnect",
    }
}

impl Exposure {
    /// What is said for it.
    #[must_use]
    pub const fn caution(self) -> &'static str {
        match self {
            Self::Refrigerant => {
                "Read the refrigerant on the plate. A2L ones (R-32, R-454B) burn: air the place, keep a detector for \
                 them low beside you, no flame, arc or live part near a leak. Recover and purge with nitrogen before a \
                 torch; tools rated for A2L."
            }
            Self::CompressorTerminals => {
                "Read at contactor or capacitor first. If that reads to ground, or a pin is burnt, oily or loose, \
                 recover the charge before a lead is pulled: a pin can blow out with burning oil. Stand aside, face \
                 covered; no insulation test in leaked refrigerant or under vacuum."
            }
            Self::Disconnect => {
                "In this order: thermostat off; its breaker off and locked; line and load lugs proved dead, each to \
                 ground and to each other; only then is the pull-out drawn or anything in the box touched. A burnt or \
                 loose one is never drawn or switched to take the load off."
            }
        }
    }

    /// A caution followed by those of what is exposed.
    #[must_use]
    pub fn after(own: String, exposures: &[Self]) -> String {
        std::iter::once(own)
            .chain(exposures.iter().map(|exposure| exposure.caution().to_owned()))
            .filter(|text| !text.is_empty())
            .collect::<Vec<_>>()
            .join(" ")
    }
}
