//! The way from the utility to the load as one line of characters.

use crate::knowledge::model::Place;

const WAY: [(Place, &str); 8] = [
    (Place::Utility, "utility"),
    (Place::Service, "service"),
    (Place::Panel, "panel"),
    (Place::Branch, "circuit"),
    (Place::Disconnect, "disconnect"),
    (Place::Unit, "unit"),
    (Place::Load, "load"),
    (Place::Control, "24 V"),
];

/// Draws the way with one place marked, at most 57 columns wide, so that it fits a 60-column screen set in by 3.
///
/// The control loop hangs on the unit beside the load, so it stands after a slash.
#[must_use]
pub fn picture(place: Place) -> String {
    if place == Place::NotElectrical {
        return "(not electrical: air, refrigerant, fuel or water)".to_owned();
    }
    let mut line = String::new();
    for (number, (at, name)) in WAY.iter().enumerate() {
        if number > 0 {
            line.push(if *at == Place::Control { '/' } else { '-' });
        }
        if *at == place {
            line.push('[');
            line.push_str(&name.to_uppercase());
            line.push(']');
        } else {
            line.push_str(name);
        }
    }
    line
}

/// Says a place in a few words.
#[must_use]
pub(super) const fn in_words(place: Place) -> &'static str {
    match place {
        Place::Utility => "before the meter",
        Place::Service => "at the service",
        Place::Panel => "at the panel",
        Place::Branch => "on the circuit",
        Place::Disconnect => "at the disconnect",
        Place::Unit => "in the unit",
        Place::Load => "in the load",
        Place::Control => "on the 24 V side",
        Place::NotElectrical => "not electrical",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_place_fits_the_narrow_screen() {
        for place in WAY.iter().map(|(place, _)| *place).chain([Place::NotElectrical]) {
            assert!(picture(place).len() <= 57, "{}", picture(place));
        }
        assert_eq!(
            picture(Place::Disconnect),
            "utility-service-panel-circuit-[DISCONNECT]-unit-load/24 V"
        );
    }
}
