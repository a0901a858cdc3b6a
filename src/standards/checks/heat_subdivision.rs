//! Whether the elements of an electric heater must be divided, and into which circuits.

use super::prelude::*;

calculation! {
    "heat-subdivision": "Electric heat divided into loads of at most 48 A";
    rules "heat-subdivision", "electric-heat-125";
    inputs {
        HEATER_POWER "P" = Power("heater-power", "Rated power of all elements together.").between(1.0, 1e6);
        HEATER_RATED_VOLTAGE "V" = Voltage("heater-rated-voltage", "Voltage at which that power is rated.");
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
    let (power, voltage) = (sheet.need(HEATER_POWER)?, sheet.need(HEATER_RATED_VOLTAGE)?);
    let element = sheet.need(ELEMENT_POWER)?;
    let (three, factor) = phase_factor(&sheet);
    let current = |power: Power| Known::called("I", power / voltage.get() / factor);
    let all = line_current(&mut sheet, power, voltage, three);
    let limit = Known::fixed(amps(48.0));
    sheet.output(HEATER_CURRENT, all);
    let rule = sheet.rule("heat-subdivision");
    sheet.at_most("one load", all, limit, rule);
    sheet.rule("electric-heat-125");
    let one = current(element.get());
    if one.exceeds(limit) {
        return sheet.cannot_tell(format!(
            "one element of {element} alone draws {one}, above 48 A: read the label of the elements"
        ));
    }
    // Whole elements fill one circuit up to 48 A, then the next.
    let per_circuit = element.get() * (share(limit.get(), one.get()) * (1.0 + 1e-9)).floor();
    let mut left = power.get();
    let mut devices = Vec::new();
    let ratings = sheet.table(&table::OVERCURRENT.standard_ratings);
    while left > Power::of(1e-6) && devices.len() < 100 {
        let part = if left > per_circuit { per_circuit } else { left };
        let required = (current(part) * 1.25).value();
        let Some(device) = lookup::rating_at_or_above(required) else {
            break;
        };
        let put_in = format!("1.25 x {} ({} of heat)", keyed(current(part)), text(part));
        sheet.line("I_required = 1.25 x I", put_in, keyed(required));
        let put_in = format!("{} in {ratings}", keyed(required));
        sheet.line("standard rating at or above", put_in, keyed(device));
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
    if all.exceeds(limit) {
        sheet.verdict(
            MUST_DIVIDE,
            format!("{all} is above 48 A; whole elements fit on {list}"),
        )
    } else {
        sheet.verdict(ONE_LOAD, format!("{all} is not above 48 A; it fits on {list}"))
    }
}
