//! Typical figures where a case has none.

use uom::si::electric_current::ampere;
use uom::si::f64::ElectricCurrent;

use crate::standards::lookup;

use super::plate::{Assumed, Feed, Given, Plate};

/// Feet in a meter.
const FEET: f64 = 3.280_84;

/// Ohm per 1000 ft at 75 C of the copper that belongs to a device, by its largest rating (NEC Chapter 9 Table 8, and the sizes of
/// Table 310.16 at 60 C).
pub(in super::super) const COPPER: [(f64, f64); 9] = [
    (15.0, 3.07),
    (20.0, 1.93),
    (30.0, 1.21),
    (40.0, 0.764),
    (55.0, 0.491),
    (70.0, 0.308),
    (95.0, 0.194),
    (125.0, 0.122),
    (f64::INFINITY, 0.0766),
];

/// Reactance of branch conductors, ohm per 1000 ft (NEC Chapter 9 Table 9, nonmetallic).
const REACTANCE: f64 = 0.05;

impl Plate {
    /// The figures of equipment with these parts, from the facts of a case by id.
    #[must_use]
    pub fn of(parts: &[String], fact: &dyn Fn(&str) -> Option<Given>) -> Self {
        Builder {
            parts: parts.to_vec(),
            fact,
            assumed: Vec::new(),
        }
        .plate()
    }
}

struct Builder<'a> {
    parts: Vec<String>,
    fact: &'a dyn Fn(&str) -> Option<Given>,
    assumed: Vec<Assumed>,
}

impl Builder<'_> {
    fn has(&self, part: &str) -> bool {
        self.parts.iter().any(|own| own == part)
    }

    /// An amount of the case, or a typical one.
    fn amount(&mut self, id: &'static str, typical: f64, unit: &str, why: &'static str) -> f64 {
        if let Some(Given::Amount(amount)) = (self.fact)(id) {
            return amount;
        }
        self.assumed.push(Assumed {
            what: id,
            value: format!("{typical} {unit}"),
            why,
        });
        typical
    }

    fn feed(&self) -> Feed {
        let three = matches!((self.fact)("supply-phases"), Some(Given::Choice(id)) if id == "three");
        if self.has("three-phase") || three {
            Feed::ThreeLines
        } else if self.has("circuit-neutral") && !self.has("disconnect") {
            Feed::HotAndNeutral
        } else {
            Feed::TwoHots
        }
    }

    pub(super) fn plate(mut self) -> Plate {
        let feed = self.feed();
        let nameplate_volts = self.amount(
            "nameplate-voltage",
            if feed == Feed::HotAndNeutral {
                120.0
            } else if feed == Feed::ThreeLines {
                208.0
            } else {
                230.0
            },
            "V",
            "what such units are mostly made for",
        );
        let volts = nominal(feed, nameplate_volts);
        let (rated_load, locked_rotor, microfarad) = self.compressor(feed);
        let fan = self.motor(
            "outdoor-fan",
            "fan-full-load-current",
            if feed == Feed::HotAndNeutral { 0.8 } else { 1.1 },
        );
        let low = self.has("circuit-neutral");
        let blower = self.motor(
            "blower",
            "blower-full-load-current",
            if self.has("cord-and-plug") {
                1.2
            } else if low {
                6.5
            } else {
                3.2
            },
        );
        let draft = f64::from(u8::from(
            self.has("inducer") || self.has("oil-burner") || self.has("circulator"),
        )) * 1.5;
        let heater = if self.has("electric-heat") {
            let watts = if self.has("cord-and-plug") { 3000.0 } else { 9600.0 };
            self.amount("heater-power", watts, "W", "a common kit")
        } else {
            0.0
        };
        let heater_volts = if heater > 0.0 {
            self.amount(
                "heater-rated-voltage",
                volts,
                "V",
                "kW are mostly stated at the building's voltage",
            )
        } else {
            volts
        };
        let device = self.device(feed, volts, rated_load, fan, blower, heater);
        let (branch, grounding) = self.branch(device);
        let main = self.amount("main-breaker-rating", 200.0, "A", "a common service");
        let transformer = if self.has("control-transformer") {
            self.amount(
                "transformer-rating",
                if feed == Feed::ThreeLines { 75.0 } else { 40.0 },
                "VA",
                "a common size",
            )
        } else {
            0.0
        };
        let least_flame = if self.has("flame-sensor") {
            1e6 * self.amount(
                "control-minimum-flame-current",
                0.5e-6,
                "A",
                "many controls ask for about half a microampere",
            )
        } else {
            0.5
        };
        Plate {
            indoor_neutral: self.has("circuit-neutral") && feed != Feed::HotAndNeutral,
            parts: self.parts,
            feed,
            nameplate_volts,
            volts,
            device,
            main,
            branch,
            grounding,
            rated_load,
            locked_rotor,
            fan,
            blower,
            draft,
            heater,
            heater_volts,
            microfarad,
            transformer,
            least_flame,
            assumed: self.assumed,
        }
    }

    fn compressor(&mut self, feed: Feed) -> (f64, f64, f64) {
        if !self.has("compressor") {
            return (0.0, 0.0, 0.0);
        }
        let typical = match feed {
            Feed::HotAndNeutral => 9.0,
            Feed::TwoHots if self.has("cord-and-plug") => 4.6,
            Feed::TwoHots => 13.5,
            Feed::ThreeLines => 16.0,
        };
        let rated = self.amount("rated-load-current", typical, "A", "a common size of such units");
        let locked = self.amount(
            "locked-rotor-current",
            5.3 * rated,
            "A",
            "about five times the rated load current",
        );
        // Capacity in proportion to current and, at one voltage, about 2.6 uF for each ampere at 230 V.
        let per_ampere = if feed == Feed::HotAndNeutral { 5.0 } else { 2.6 };
        let microfarad = 1e6
            * self.amount(
                "run-capacitor-rating",
                1e-6 * (per_ampere * rated / 5.0).round().max(1.0) * 5.0,
                "F",
                "about 2.6 uF an ampere at 230 V",
            );
        (rated, locked, microfarad)
    }

    fn motor(&mut self, part: &str, id: &'static str, typical: f64) -> f64 {
        if self.has(part) {
            self.amount(id, typical, "A", "a common motor")
        } else {
            0.0
        }
    }

    /// Rating of the device: the next size above 125 % of the largest motor or of the heat, and the rest.
    fn device(&mut self, feed: Feed, volts: f64, rated: f64, fan: f64, blower: f64, heater: f64) -> f64 {
        let heat = heater
            / volts
            / if feed == Feed::ThreeLines {
                3f64.sqrt()
            } else {
                1.0
            };
        let own = if self.has("outdoor-control-cable") {
            0.0
        } else {
            blower + heat
        };
        let needed = (1.75 * rated + fan).max(1.25 * (own + rated + fan)).max(12.0);
        let size = lookup::rating_at_or_above(ElectricCurrent::new::<ampere>(needed))
            .map_or(needed, |rating| rating.get::<ampere>());
        self.amount(
            "protective-device-rating",
            size,
            "A",
            "the size such a unit asks for",
        )
    }

    /// Impedance of one branch conductor, and of the grounding conductor, from size and length.
    fn branch(&mut self, device: f64) -> ((f64, f64), f64) {
        let meters = self.amount("conductor-length", 50.0 / FEET, "m", "a common run");
        let per_meter = match (self.fact)("conductor-size") {
            Some(Given::OhmPerMeter(ohms)) => ohms,
            _ => {
                let (_, ohms) = COPPER
                    .iter()
                    .copied()
                    .find(|(most, _)| device <= *most)
                    .unwrap_or(COPPER[8]);
                self.assumed.push(Assumed {
                    what: "conductor-size",
                    value: format!("{ohms} ohm per 1000 ft"),
                    why: "the copper that belongs to the device",
                });
                ohms * FEET / 1000.0
            }
        };
        let thousand_feet = meters * FEET / 1000.0;
        (
            (per_meter * meters, REACTANCE * thousand_feet),
            (per_meter * meters).max(0.5 * thousand_feet),
        )
    }
}

/// The service a plate belongs to: 208/230 V plates stand on 240 V or 208 V.
fn nominal(feed: Feed, plate: f64) -> f64 {
    match feed {
        Feed::HotAndNeutral => 120.0,
        Feed::TwoHots if plate < 215.0 => 208.0,
        Feed::TwoHots => 240.0,
        Feed::ThreeLines if plate > 300.0 => 480.0,
        Feed::ThreeLines if plate > 220.0 => 240.0,
        Feed::ThreeLines => 208.0,
    }
}
