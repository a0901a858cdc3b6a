//! How many elements of a bank are drawing, from the current of the bank.

use super::prelude::*;
use crate::electrical::heater::{Feed, current_at};

calculation! {
    "heater-elements": "Which elements are drawing, from the current measured";
    inputs {
        ELEMENT_POWERS = List<Power>("element-powers", "Rated power of each element, in the order the sequencer closes them.")
            .between(100.0, 100_000.0);
        HEATER_RATED_VOLTAGE = Voltage("heater-rated-voltage", "Voltage at which those powers are rated.");
        SUPPLY = Voltage("supply-voltage", "Voltage at the elements while they heat.").read();
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
    let rated = sheet.need(HEATER_RATED_VOLTAGE)?.get();
    let voltage = sheet.need(SUPPLY)?.get();
    let measured = sheet.need(MEASURED_CURRENT)?.get();
    let each: Vec<ElectricCurrent> = powers
        .iter()
        .map(|power| current_at(*power, rated, voltage, Feed::SinglePhase))
        .collect();
    let mut sum = amps(0.0);
    let mut stages = Vec::new();
    for current in &each {
        sum += *current;
        stages.push(Quantity::from(sum));
    }
    for (at, (power, current)) in powers.iter().zip(&each).enumerate() {
        // Elements that are alike need their line once.
        if powers[..at].contains(power) {
            continue;
        }
        sheet.line(
            "I of an element = P x (V / V_rated)^2 / V",
            format!(
                "{} x ({} / {})^2 / {}",
                keyed(*power),
                keyed(voltage),
                keyed(rated),
                keyed(voltage)
            ),
            keyed(*current),
        );
    }
    sheet.line("I of all = sum of elements", sum_text(&each), keyed(sum));
    sheet.output_value(STAGE_CURRENTS, Value::Quantities(stages));
    sheet.output(POWER_NOW, measured * voltage);
    sheet.source(format!(
        "Ohm's law; an element counts as drawing within 10 % of its current ({COMMON})"
    ));
    let smallest = each.iter().copied().fold(sum, ElectricCurrent::min);
    let found = format!(
        "{} measured, {} with all {} elements",
        text(measured),
        text(sum),
        powers.len()
    );
    if exceeds(measured, sum * 1.1) {
        return sheet.verdict(
            TOO_MUCH,
            format!("{found}: another kit, or another load on the circuit"),
        );
    }
    if measured < smallest * 0.1 {
        sheet.output(ELEMENTS_ON, Quantity::count(0));
        return sheet.verdict(NONE_ON, found);
    }
    // Every subset of the elements; more than one count may fit when their powers differ.
    let mut counts: Vec<u32> = (1..1u32 << each.len())
        .filter(|set| {
            let drawn = each
                .iter()
                .enumerate()
                .filter(|(at, _)| set >> at & 1 == 1)
                .fold(amps(0.0), |sum, (_, one)| sum + *one);
            (measured - drawn).abs() <= smallest * 0.1 + drawn * 0.03
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
