//! How many elements of a bank are drawing, from the current of the bank.

use super::prelude::*;
use crate::electrical::heater::{Feed, current_at};

pub(super) const CALCULATION: Calculation = Calculation {
    name: "heater-elements",
    title: "Which elements are drawing, from the current measured",
    inputs: &[
        Input::list(
            "element-powers",
            Kind::Power,
            "Rated power of each element, in the order the sequencer closes them.",
        )
        .between(100.0, 100_000.0),
        voltage("heater-rated-voltage", "Voltage at which those powers are rated."),
        voltage("supply-voltage", "Voltage at the elements while they heat.").read(),
        current(
            "measured-current",
            "Current of all elements together, blower not counted.",
        )
        .read(),
        METER_ERROR_INPUT,
    ],
    outputs: &[
        Output::new(
            "stage-currents",
            ValueKind::Quantities(Kind::Current),
            "Current as each element closes.",
        ),
        Output::quantity(
            "elements-on",
            Kind::Count,
            "Elements whose currents add up to the one measured.",
        ),
        Output::quantity("power-now", Kind::Power, "Heat being made."),
    ],
    verdicts: &[
        VerdictKind::plain("all-on", "All elements draw."),
        VerdictKind::plain("some-out", "Some elements do not draw."),
        VerdictKind::plain("none-on", "No element draws."),
        VerdictKind::plain("too-much", "More than all elements together can draw."),
    ],
    run: |inputs| judge(&CALCULATION, inputs, work),
};

fn work(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &[])?;
    let powers: Vec<Power> = sheet.list("element-powers");
    if powers.len() > 12 {
        return Err(InputError::OutOfRange {
            input: "element-powers".to_owned(),
            value: format!("{} elements", powers.len()),
            expected: "at most 12 elements on one supply".to_owned(),
        });
    }
    let rated: ElectricPotential = sheet.need("heater-rated-voltage")?;
    let voltage: ElectricPotential = sheet.need("supply-voltage")?;
    let measured: ElectricCurrent = sheet.need("measured-current")?;
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
        sheet.work(
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
    sheet.work("I of all = sum of elements", sum_text(&each), keyed(sum));
    sheet.output_value("stage-currents", Value::Quantities(stages));
    sheet.output("power-now", measured * voltage);
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
            "too-much",
            format!("{found}: another kit, or another load on the circuit"),
        );
    }
    if measured < smallest * 0.1 {
        sheet.output("elements-on", Quantity::count(0));
        return sheet.verdict("none-on", found);
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
            sheet.output("elements-on", Quantity::count(count as usize));
            if count as usize == each.len() {
                sheet.verdict("all-on", found)
            } else {
                sheet.verdict("some-out", format!("{found}: {count} of {} draw", each.len()))
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
