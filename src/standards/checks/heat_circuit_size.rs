//! The circuit of electric heat at 125 %, and the 60 A limit on undivided elements.

use uom::si::electric_current::ampere;
use uom::si::f64::{ElectricCurrent, ElectricPotential, Power};

use super::super::lookup;
use super::super::registry::{Calculation, Input, InputError, Inputs, Output, Report, VerdictKind};
use super::super::sheet::{EDITION_INPUT, Sheet, exceeds, keyed, text};
use super::super::table::OVERCURRENT;
use super::prelude::over_line_volts;
use crate::electrical::heater::{Feed, current_at};
use crate::quantity::Kind;

/// Fixed electric space heat counts as a continuous load (NEC 424.4(B)).
const CONTINUOUS: f64 = 1.25;
/// Largest device ahead of undivided elements, amperes (NEC 424.22(B)).
const UNDIVIDED_DEVICE: f64 = 60.0;
/// Largest load of one subdivision, amperes (NEC 424.22(B)).
const UNDIVIDED_LOAD: f64 = 48.0;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "heat-circuit-size",
    title: "Circuit of electric heat: 125 % of the load, 60 A ahead of undivided elements",
    inputs: &[
        Input::quantity(
            "heater-power",
            Kind::Power,
            "Rated power of the heater on this circuit.",
        )
        .between(1.0, 1e6),
        Input::quantity(
            "heater-rated-voltage",
            Kind::Voltage,
            "Voltage at which that power is rated.",
        )
        .between(1.0, 1000.0),
        Input::quantity(
            "blower-full-load-current",
            Kind::Current,
            "Full-load current of the blower on the same circuit.",
        )
        .between(0.0, 200.0)
        .optional(),
        Input::quantity(
            "protective-device-rating",
            Kind::Current,
            "Rating of the breaker or fuse that feeds it.",
        )
        .between(1.0, 6000.0),
        Input::choice(
            "phases",
            &["single", "three"],
            "Conductors that feed it: two (single) or three.",
        )
        .or("single"),
        Input::choice(
            "elements-divided",
            &["yes", "no"],
            "Whether fuses or breakers inside the heater split the elements into loads of at most 48 A.",
        )
        .optional(),
        Input::quantity(
            "circuits-supplied",
            Kind::Count,
            "Separate supply circuits that share the heater's power.",
        )
        .between(1.0, 20.0)
        .optional(),
        EDITION_INPUT,
    ],
    outputs: &[
        Output::quantity(
            "heater-current",
            Kind::Current,
            "Current of the heater at its rated voltage.",
        ),
        Output::quantity("required-ampacity", Kind::Current, "125 % of heater and blower."),
        Output::quantity(
            "least-device",
            Kind::Current,
            "Smallest standard device that serves.",
        ),
    ],
    verdicts: &[
        VerdictKind::plain(
            "within",
            "The device is at least 125 % of the load and not too large for undivided elements.",
        ),
        VerdictKind::violation("below-minimum", "The device is below 125 % of the load."),
        VerdictKind::violation(
            "over-sixty",
            "One device above 60 A feeds elements that are not divided.",
        ),
    ],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &["electric-heat-125", "heat-subdivision"])?;
    let power: Power = sheet.need("heater-power")?;
    let voltage: ElectricPotential = sheet.need("heater-rated-voltage")?;
    let device: ElectricCurrent = sheet.need("protective-device-rating")?;
    let blower: Option<ElectricCurrent> = sheet.maybe("blower-full-load-current");
    if blower.is_none() {
        sheet.assume("`blower-full-load-current` not given: no blower on this circuit");
    }
    let blower = blower.unwrap_or_else(|| ElectricCurrent::new::<ampere>(0.0));
    let feed = if sheet.choice("phases") == Some("three") {
        Feed::ThreePhase
    } else {
        Feed::SinglePhase
    };
    let heater = current_at(power, voltage, voltage, feed);
    let required = (heater + blower) * CONTINUOUS;
    let formula = if feed == Feed::SinglePhase {
        "I = P / V"
    } else {
        "I = P / (1.732 x V)"
    };
    sheet.work(
        formula,
        over_line_volts(keyed(power), voltage, feed == Feed::ThreePhase),
        keyed(heater),
    );
    sheet.work(
        "1.25 x (I_heater + I_blower)",
        format!("1.25 x ({} + {})", keyed(heater), keyed(blower)),
        keyed(required),
    );
    sheet.output("heater-current", heater);
    sheet.output("required-ampacity", required);
    let rule = sheet.rule("electric-heat-125");
    sheet.at_least("device", device, required, rule);
    if let Some(least) = lookup::rating_at_or_above(required) {
        let table = sheet.table(&OVERCURRENT.standard_ratings);
        sheet.work(
            "standard rating at or above",
            format!("{} in {table}", keyed(required)),
            keyed(least),
        );
        sheet.output("least-device", least);
    }
    let sixty = ElectricCurrent::new::<ampere>(UNDIVIDED_DEVICE);
    let forty_eight = ElectricCurrent::new::<ampere>(UNDIVIDED_LOAD);
    let divided = sheet.choice("elements-divided");
    let above_sixty = exceeds(device, sixty) && divided != Some("yes");
    if above_sixty {
        let rule = sheet.rule("heat-subdivision");
        sheet.at_most("device ahead of undivided elements", device, sixty, rule);
        // Up to 48 A the maker need not divide, so nothing inside protects the elements.
        if divided == Some("no") || !exceeds(heater, forty_eight) {
            if divided.is_none() {
                sheet.assume(
                    "`elements-divided` not given: a heater of at most 48 A has no devices of its own inside",
                );
            }
            return sheet.verdict(
                "over-sixty",
                format!(
                    "one {} device feeds {} of heat that is not divided; its device may be 60 A at most",
                    text(device),
                    text(heater)
                ),
            );
        }
    }
    let circuits: Option<f64> = sheet.maybe("circuits-supplied");
    if exceeds(required, device) && circuits.is_none_or(|count| count > 1.0) {
        // Heat above 48 A is usually brought in by several circuits, and one device then carries a part of it.
        let shared = circuits.is_some();
        if shared || exceeds(heater, forty_eight) {
            let why = if shared {
                "shared by several circuits"
            } else {
                "usually brought in by several circuits"
            };
            return sheet.cannot_tell(format!(
                "{} of heat is {why}: give the power behind the {} device alone, and how many circuits there are",
                text(heater),
                text(device)
            ));
        }
    }
    if exceeds(required, device) {
        return sheet.verdict(
            "below-minimum",
            format!(
                "the {} device is below {}, 125 % of {} and {}",
                text(device),
                text(required),
                text(heater),
                text(blower)
            ),
        );
    }
    if above_sixty {
        return sheet.cannot_tell(format!(
            "{} of heat on one {} device is allowed only where fuses or breakers inside the heater divide it into loads of \
             at most 48 A: open the panel, dead, and look for them",
            text(heater),
            text(device)
        ));
    }
    sheet.verdict(
        "within",
        format!(
            "the {} device is not below {}, 125 % of the load",
            text(device),
            text(required)
        ),
    )
}
