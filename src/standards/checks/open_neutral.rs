//! What the loads of the two legs see when the neutral is lost.
//!
//! For resistive loads: the impedance of a motor turns the voltages apart.

use super::prelude::*;

calculation! {
    "open-neutral": "Leg voltages with the neutral open, from the loads on each leg";
    inputs {
        LINE_VOLTAGE "V" = Voltage("line-voltage", "Voltage between the two legs.");
        LEG_VOLTAGE "V" = Voltage("leg-voltage", "Voltage of one leg to neutral, for loads given in watts.")
            .optional();
        LEG_1_RESISTANCE = Resistance("leg-1-resistance", "Ohms of everything on the first leg.").optional();
        LEG_2_RESISTANCE = Resistance("leg-2-resistance", "Ohms of everything on the second leg.").optional();
        LEG_1_POWER "P" = Power("leg-1-power", "Watts of everything on the first leg.")
            .in_unit("W").between(0.1, 1e6).instead_of(&["leg-1-resistance"]).optional();
        LEG_2_POWER "P" = Power("leg-2-power", "Watts of everything on the second leg.")
            .in_unit("W").between(0.1, 1e6).instead_of(&["leg-2-resistance"]).optional();
    }
    outputs {
        LEG_1_RESISTANCE_OUT = Resistance("leg-1-resistance", "Ohms of the first leg.");
        LEG_2_RESISTANCE_OUT = Resistance("leg-2-resistance", "Ohms of the second leg.");
        LEG_1_NORMAL_CURRENT = Current("leg-1-normal-current", "Current of the first leg, neutral sound.");
        LEG_2_NORMAL_CURRENT = Current("leg-2-normal-current", "Current of the second leg, neutral sound.");
        OPEN_CURRENT = Current("open-current", "Current through both, neutral open.");
        LEG_1_OPEN_VOLTAGE = Voltage("leg-1-open-voltage", "What the first leg's loads see, neutral open.");
        LEG_2_OPEN_VOLTAGE = Voltage("leg-2-open-voltage", "What the second leg's loads see, neutral open.");
    }
    verdicts {
        HARMLESS = plain("harmless", "Both legs stay within 10 % of half the line voltage.");
        DAMAGING = plain("damaging", "One leg rises more than 10 % above half the line voltage.");
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let line = sheet.need(LINE_VOLTAGE)?;
    let leg = sheet.maybe(LEG_VOLTAGE).unwrap_or(line.with(line.get() / 2.0));
    if leg.exceeds(line) {
        return Err(contradiction(format!(
            "`leg-voltage` {leg} is above `line-voltage` {line}; a leg to neutral is a part of the line, so read both again"
        )));
    }
    let mut load = |ohms, watts| match (sheet.maybe(ohms), sheet.maybe::<Power>(watts)) {
        (Some(given), _) => Ok(given.get()),
        (None, Some(power)) => Ok(sheet.work("R", leg.squared() / power).get()),
        (None, None) => Err(sheet.missing::<Resistance>(ohms)),
    };
    let first = Known::called("R1", load(LEG_1_RESISTANCE, LEG_1_POWER)?);
    let second = Known::called("R2", load(LEG_2_RESISTANCE, LEG_2_POWER)?);
    let current = sheet.work("I", line / (first + second));
    let one = sheet.work("V1", current * first);
    let other = sheet.work("V2", current * second);
    sheet.output(LEG_1_RESISTANCE_OUT, first);
    sheet.output(LEG_2_RESISTANCE_OUT, second);
    sheet.output(LEG_1_NORMAL_CURRENT, leg / first);
    sheet.output(LEG_2_NORMAL_CURRENT, leg / second);
    sheet.output(OPEN_CURRENT, current);
    sheet.output(LEG_1_OPEN_VOLTAGE, one);
    sheet.output(LEG_2_OPEN_VOLTAGE, other);
    sheet.source("Kirchhoff's laws; resistive loads");
    let (worst, limit) = (larger(one, other), leg * 1.1);
    sheet.at_most("leg voltage", worst, limit, COMMON);
    let verdict = if worst.exceeds(limit) { DAMAGING } else { HARMLESS };
    sheet.verdict(
        verdict,
        format!("with the neutral open the legs see {one} and {other}"),
    )
}
