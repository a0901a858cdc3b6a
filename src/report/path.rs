//! Where a cause lies between the utility and the load, in words.

use crate::knowledge::model::Place;

/// Says a place in a few words.
#[must_use]
pub const fn in_words(place: Place) -> &'static str {
    match place {
        Place::Utility => "before the meter",
        Place::Service => "at the service",
        Place::Panel => "at the panel",
        Place::Branch => "on the circuit",
        Place::Disconnect => "at the disconnect",
        Place::Unit => "in the unit",
        Place::Load => "in the load",
        Place::Control => "on the 24 V side",
        Place::NotElectrical => "not electrical: air, refrigerant, fuel or water",
    }
}
