//! Whether the elements of an electric heater must be divided, and into which circuits.

use super::prelude::*;
use crate::electrical::heater::{Feed, current_at};

calculation! {
    "heat-subdivision": "Electric heat divided into loads of at most 48 A";
    rules "heat-subdivision", "electric-heat-125";
    inputs {
        HEATER_POWER = Power("heater-power", "Rated power of all elements together.").between(1.0, 1e6);
        HEATER_RATED_VOLTAGE = Voltage("heater-rated-voltage", "Voltage at which that power is rated.");
        ELEMENT_POWER = Power("element-power", "Rated power of one element.")
            .between(100.0, 50_000.0).or("5 kW");
        PHASES;
        EDITION;
    }
    outputs {
        HEATER_CURRENT = Current("heater-current", "Current of all elements together.");
        CIRCUITS = Count("circuits", "Loads of at most 48 A the elements fit into.");
        CIRCUIT_DEVICES = List<Current>("circuit-devices", "Smallest standard device of each, at 125 %.");
    }
    verdicts {
        ONE_LOAD = plain("one-load", "At most 48 A: it need not be divided.");
        MUST_DIVIDE = plain("must-divide", "Above 48 A: it must be divided.");
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let power = sheet.need(HEATER_POWER)?.get();
    let voltage = sheet.need(HEATER_RATED_VOLTAGE)?.get();
    let element = sheet.need(ELEMENT_POWER)?.get();
    let (three, _) = phase_factor(&sheet);
    let feed = if three {
        Feed::ThreePhase
    } else {
        Feed::SinglePhase
    };
    let current = |power| current_at(power, voltage, voltage, feed);
    let all = current(power);
    let limit = amps(48.0);
    sheet.line(
        if three { "I = P / (1.732 x V)" } else { "I = P / V" },
        over_line_volts(keyed(power), voltage, three),
        keyed(all),
    );
    sheet.output(HEATER_CURRENT, all);
    let rule = sheet.rule("heat-subdivision");
    sheet.at_most("one load", all, limit, rule);
    sheet.rule("electric-heat-125");
    if exceeds(current(element), limit) {
        return sheet.cannot_tell(format!(
            "one element of {} alone draws {}, above 48 A: read the label of the elements",
            text(element),
            text(current(element))
        ));
    }
    // Whole elements fill one circuit up to 48 A, then the next.
    let elements_per_circuit = (limit / current(element)).get::<uom::si::ratio::ratio>() * (1.0 + 1e-9);
    let per_circuit = element * elements_per_circuit.floor();
    let mut left = power;
    let mut devices = Vec::new();
    let ratings = sheet.table(&table::OVERCURRENT.standard_ratings);
    while left > Power::new::<watt>(1e-6) && devices.len() < 100 {
        let part = if left > per_circuit { per_circuit } else { left };
        let required = current(part) * 1.25;
        let Some(device) = lookup::rating_at_or_above(required) else {
            break;
        };
        sheet.line(
            "I_required = 1.25 x I",
            format!("1.25 x {} ({} of heat)", keyed(current(part)), text(part)),
            keyed(required),
        );
        sheet.line(
            "standard rating at or above",
            format!("{} in {ratings}", keyed(required)),
            keyed(device),
        );
        devices.push(Quantity::from(device));
        left -= part;
    }
    let list = devices
        .iter()
        .map(Quantity::to_string)
        .collect::<Vec<_>>()
        .join(" and ");
    sheet.output(CIRCUITS, Quantity::count(devices.len()));
    sheet.output_value(CIRCUIT_DEVICES, Value::Quantities(devices));
    sheet.note("the maker divides the elements and fits or supplies the devices; the nameplate rules");
    if exceeds(all, limit) {
        sheet.verdict(
            MUST_DIVIDE,
            format!("{} is above 48 A; whole elements fit on {list}", text(all)),
        )
    } else {
        sheet.verdict(
            ONE_LOAD,
            format!("{} is not above 48 A; it fits on {list}", text(all)),
        )
    }
}
