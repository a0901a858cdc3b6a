//! What the loads of the two legs see when the neutral is lost.

use super::prelude::*;
use crate::electrical::neutral::open_neutral;

calculation! {
    "open-neutral": "Leg voltages with the neutral open, from the loads on each leg";
    inputs {
        LINE_VOLTAGE = Voltage("line-voltage", "Voltage between the two legs.");
        LEG_VOLTAGE = Voltage("leg-voltage", "Voltage of one leg to neutral, for loads given in watts.")
            .optional();
        LEG_1_RESISTANCE = Resistance("leg-1-resistance", "Ohms of everything on the first leg.").optional();
        LEG_2_RESISTANCE = Resistance("leg-2-resistance", "Ohms of everything on the second leg.").optional();
        LEG_1_POWER = Power("leg-1-power", "Watts of everything on the first leg.")
            .in_unit("W").between(0.1, 1e6).instead_of(&["leg-1-resistance"]).optional();
        LEG_2_POWER = Power("leg-2-power", "Watts of everything on the second leg.")
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
    let line = sheet.need(LINE_VOLTAGE)?.get();
    let leg = sheet.maybe(LEG_VOLTAGE).map(Known::get).unwrap_or(line / 2.0);
    if exceeds(leg, line) {
        return Err(InputError::Contradiction {
            what: format!(
                "`leg-voltage` {} is above `line-voltage` {}; a leg to neutral is a part of the line, so read both again",
                text(leg),
                text(line)
            ),
        });
    }
    let mut load =
        |ohms_name: In<Resistance>, watts_name: In<Power>| -> Result<ElectricalResistance, InputError> {
            match (
                sheet.maybe(ohms_name).map(Known::get),
                sheet.maybe(watts_name).map(Known::get),
            ) {
                (Some(ohms), _) => Ok(ohms),
                (None, Some(power)) => {
                    let ohms = leg * leg / power;
                    sheet.line(
                        "R = V^2 / P",
                        format!("({})^2 / {}", keyed(leg), keyed(power)),
                        keyed(ohms),
                    );
                    Ok(ohms)
                }
                (None, None) => Err(sheet.missing(ohms_name)),
            }
        };
    let first = load(LEG_1_RESISTANCE, LEG_1_POWER)?;
    let second = load(LEG_2_RESISTANCE, LEG_2_POWER)?;
    let open = open_neutral(line, first, second);
    sheet.line(
        "I = V / (R1 + R2)",
        format!("{} / ({} + {})", keyed(line), keyed(first), keyed(second)),
        keyed(open.current),
    );
    sheet.line(
        "V1 = I x R1",
        format!("{} x {}", keyed(open.current), keyed(first)),
        keyed(open.first),
    );
    sheet.line(
        "V2 = I x R2",
        format!("{} x {}", keyed(open.current), keyed(second)),
        keyed(open.second),
    );
    sheet.output(LEG_1_RESISTANCE_OUT, first);
    sheet.output(LEG_2_RESISTANCE_OUT, second);
    sheet.output(LEG_1_NORMAL_CURRENT, leg / first);
    sheet.output(LEG_2_NORMAL_CURRENT, leg / second);
    sheet.output(OPEN_CURRENT, open.current);
    sheet.output(LEG_1_OPEN_VOLTAGE, open.first);
    sheet.output(LEG_2_OPEN_VOLTAGE, open.second);
    sheet.source("Kirchhoff's laws; resistive loads");
    let limit = leg * 1.1;
    sheet.at_most("leg voltage", open.first.max(open.second), limit, COMMON);
    let found = format!(
        "with the neutral open the legs see {} and {}",
        text(open.first),
        text(open.second)
    );
    if exceeds(open.first.max(open.second), limit) {
        sheet.verdict(DAMAGING, found)
    } else {
        sheet.verdict(HARMLESS, found)
    }
}
