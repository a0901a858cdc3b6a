//! Voltage lost in low-voltage control cable, and whether the coil still pulls in.

use super::prelude::*;
use super::usable::no_such_size;

calculation! {
    "control-cable-drop": "Voltage lost in control cable, and what the coil is left with";
    inputs {
        LOAD_CURRENT "I" = Current("load-current", "Current in the cable; the inrush of a contactor when pull-in is the question.");
        SUPPLY "V" = Voltage("supply-voltage", "Voltage at the transformer under load.").or("24 V");
        LENGTH "L" = Length("conductor-length", "Length of the cable, one way.").between(0.0, 10_000.0);
        CONDUCTOR_SIZE = Size("conductor-size", "Size of the conductors, solid copper at 20 C.").optional();
        OHMS_PER_1000_FT "R per 1000 ft" = Resistance("ohms-per-1000-ft", "Ohms of 1000 ft of one conductor, instead of a size.")
            .instead_of(&["conductor-size"]).optional();
        COIL_VOLTAGE = Voltage("coil-voltage", "Rated voltage of the coil.").or("24 V");
    }
    outputs {
        LOOP_RESISTANCE = Resistance("loop-resistance", "Both conductors.");
        DROP = Voltage("drop", "Voltage lost.");
        DROP_SHARE = Ratio("drop-share", "Voltage lost over the supply.");
        COIL_VOLTAGE_OUT = Voltage("coil-voltage", "Voltage left.");
    }
    verdicts {
        ENOUGH = plain("enough", "The coil is left with at least 85 % of its rating.");
        TOO_LOW = plain("too-low", "The coil is left with less than 85 % of its rating.");
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let (current, supply) = (sheet.need(LOAD_CURRENT)?, sheet.need(SUPPLY)?);
    let (length, rated) = (sheet.need(LENGTH)?, sheet.need(COIL_VOLTAGE)?);
    let per_thousand = match sheet.maybe(OHMS_PER_1000_FT) {
        Some(given) => given,
        None => {
            let size = sheet.need_size(CONDUCTOR_SIZE)?;
            let cold = &table::CONDUCTORS.copper_resistance_20c;
            let gauge = size.for_tables();
            let row = cold.rows.iter().find(|row| Some(row.size) == gauge);
            let row = row.ok_or_else(|| no_such_size(size, "22 AWG to 4/0 AWG"))?;
            sheet.table(cold);
            Known::called(OHMS_PER_1000_FT.symbol, ohms(row.r_cu_20c))
        }
    };
    let thousand = Known::fixed(Length::new::<foot>(1000.0));
    let loop_ohms = sheet.work("R", 2.0 * length * per_thousand / thousand);
    let drop = sheet.work("V", current * loop_ohms).named("drop");
    let part = sheet.work("share", drop / supply);
    if drop.exceeds(supply) {
        return Err(beyond_supply("the cable", drop.get(), supply.get()));
    }
    sheet.output(LOOP_RESISTANCE, loop_ohms);
    sheet.output(DROP, drop);
    sheet.output(DROP_SHARE, part);
    let left = Known::fixed((supply - drop).value());
    sheet.output(COIL_VOLTAGE_OUT, left);
    let source = "Motor control coils work at 85 to 110 % of rating - http://navalfacilities.tpub.com/mo116/mo1160081.htm";
    sheet.source(source);
    sheet.at_least("coil", left, rated * 0.85, source);
    let verdict = if (rated * 0.85).exceeds(left) {
        TOO_LOW
    } else {
        ENOUGH
    };
    sheet.verdict(verdict, format!("{drop} lost, {left} left at the coil"))
}
