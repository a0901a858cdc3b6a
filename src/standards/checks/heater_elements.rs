//! How many elements of a bank are drawing, from the current of the bank.

use super::prelude::*;

calculation! {
    "heater-elements": "Which elements are drawing, from the current measured";
    inputs {
        ELEMENT_POWERS = List<Power>("element-powers", "Rated power of each element, in the order the sequencer closes them.")
            .between(100.0, 100_000.0);
        HEATER_RATED_VOLTAGE "V_rated" = Voltage("heater-rated-voltage", "Voltage at which those powers are rated.");
        SUPPLY "V" = Voltage("supply-voltage", "Voltage at the elements while they heat.").read();
        MEASURED_CURRENT = Current("measured-current", "Current of all elements together, blower not counted.")
            .read();
        METER_ERROR;
    }
    outputs {
        STAGE_CURRENTS = List<Current>("stage-currents", "Current as each element closes.");
        ELEMENTS_ON = Count("elements-on", "Elements whose currents add up to the one measured.");
        POWER_NOW = Power("power-now", "Heat being made.");
    }
    verdicts {
        ALL_ON = plain("all-on", "All elements draw.");
        SOME_OUT = plain("some-out", "Some elements do not draw.");
        NONE_ON = plain("none-on", "No element draws.");
        TOO_MUCH = plain("too-much", "More than all elements together can draw.");
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let powers = sheet.list(ELEMENT_POWERS).all;
    if powers.len() > 12 {
        return Err(InputError::OutOfRange {
            input: "element-powers".to_owned(),
            value: format!("{} elements", powers.len()),
            expected: "at most 12 elements on one supply".to_owned(),
        });
    }
    let (rated, voltage) = (sheet.need(HEATER_RATED_VOLTAGE)?, sheet.need(SUPPLY)?);
    let measured = sheet.need(MEASURED_CURRENT)?;
    let mut each = Vec::new();
    let mut sum = amps(0.0);
    let mut stages = Vec::new();
    for (at, power) in powers.iter().enumerate() {
        let current = Known::called("P", *power) * (voltage / rated).squared() / voltage;
        // Elements that are alike need their line once.
        if !powers[..at].contains(power) {
            sheet.work("I of an element", current);
        }
        each.push(current.value());
        sum += current.value();
        stages.push(Quantity::from(sum));
    }
    let sum = sheet.work("I of all", Listed::new("sum of elements", each.clone()).sum());
    sheet.output_value(STAGE_CURRENTS, Value::Quantities(stages));
    sheet.output(POWER_NOW, measured * voltage);
    sheet.source(format!(
        "Ohm's law; an element counts as drawing within 10 % of its current ({COMMON})"
    ));
    let smallest = each.iter().copied().fold(sum.get(), ElectricCurrent::min);
    let found = format!("{measured} measured, {sum} with all {} elements", powers.len());
    if measured.exceeds(sum * 1.1) {
        return sheet.verdict(
            TOO_MUCH,
            format!("{found}: another kit, or another load on the circuit"),
        );
    }
    if measured.get() < smallest * 0.1 {
        sheet.output(ELEMENTS_ON, Quantity::count(0));
        return sheet.verdict(NONE_ON, found);
    }
    // Every subset of the elements; more than one count may fit when their powers differ.
    let mut counts: Vec<u32> = (1..1u32 << each.len())
        .filter(|set| {
            let on = each.iter().enumerate().filter(|(at, _)| set >> at & 1 == 1);
            let drawn = on.fold(amps(0.0), |sum, (_, one)| sum + *one);
            (measured.get() - drawn).abs() <= smallest * 0.1 + drawn * 0.03
        })
        .map(u32::count_ones)
        .collect();
    counts.sort_unstable();
    counts.dedup();
    match counts[..] {
        [count] => {
            sheet.output(ELEMENTS_ON, Quantity::count(count as usize));
            if count as usize == each.len() {
                sheet.verdict(ALL_ON, found)
            } else {
                sheet.verdict(SOME_OUT, format!("{found}: {count} of {} draw", each.len()))
            }
        }
        [] => sheet.cannot_tell(format!(
            "{found}: no set of elements adds up to it; clamp each element's lead"
        )),
        _ => sheet.cannot_tell(format!(
            "{found}: sets of different number add up to it; clamp each element's lead"
        )),
    }
}
