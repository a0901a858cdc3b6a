//! Voltage lost in low-voltage control cable, and whether the coil still pulls in.

use super::prelude::*;

calculation! {
    "control-cable-drop": "Voltage lost in control cable, and what the coil is left with";
    inputs {
        LOAD_CURRENT = Current("load-current", "Current in the cable; the inrush of a contactor when pull-in is the question.");
        SUPPLY = Voltage("supply-voltage", "Voltage at the transformer under load.").or("24 V");
        LENGTH = Length("conductor-length", "Length of the cable, one way.").between(0.0, 10_000.0);
        CONDUCTOR_SIZE = Size("conductor-size", "Size of the conductors, solid copper at 20 C.").optional();
        OHMS_PER_1000_FT = Resistance("ohms-per-1000-ft", "Ohms of 1000 ft of one conductor, instead of a size.")
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
    let current = sheet.need(LOAD_CURRENT)?.get();
    let supply = sheet.need(SUPPLY)?.get();
    let length = sheet.need(LENGTH)?.get();
    let rated = sheet.need(COIL_VOLTAGE)?.get();
    let per_thousand = if let Some(given) = sheet.maybe(OHMS_PER_1000_FT).map(Known::get) {
        given
    } else {
        let size = sheet
            .size(CONDUCTOR_SIZE)
            .ok_or_else(|| sheet.missing(CONDUCTOR_SIZE))?;
        let cold = &table::CONDUCTORS.copper_resistance_20c;
        let gauge = size.for_tables();
        let row = cold
            .rows
            .iter()
            .find(|row| Some(row.size) == gauge)
            .ok_or_else(|| InputError::OutOfRange {
                input: "conductor-size".to_owned(),
                value: size.to_string(),
                expected: "22 AWG to 4/0 AWG".to_owned(),
            })?;
        sheet.table(cold);
        ohms(row.r_cu_20c)
    };
    let loop_ohms = per_thousand * (2.0 * length.get::<foot>() / 1000.0);
    let drop = current * loop_ohms;
    let part = share(drop, supply);
    sheet.line(
        "R = 2 x L x R per 1000 ft / 1000 ft",
        format!("2 x {} x {} / 1000 ft", keyed(length), keyed(per_thousand)),
        keyed(loop_ohms),
    );
    sheet.line(
        "V = I x R",
        format!("{} x {}", keyed(current), keyed(loop_ohms)),
        keyed(drop),
    );
    sheet.line(
        "share = drop / V",
        format!("{} / {}", keyed(drop), keyed(supply)),
        keyed(Quantity::ratio(part)),
    );
    if exceeds(drop, supply) {
        return Err(beyond_supply("the cable", drop, supply));
    }
    sheet.output(LOOP_RESISTANCE, loop_ohms);
    sheet.output(DROP, drop);
    sheet.output(DROP_SHARE, Quantity::ratio(part));
    let left = supply - drop;
    sheet.output(COIL_VOLTAGE_OUT, left);
    let source = "Motor control coils work at 85 to 110 % of rating - http://navalfacilities.tpub.com/mo116/mo1160081.htm";
    sheet.source(source);
    sheet.at_least("coil", left, rated * 0.85, source);
    let found = format!("{} lost, {} left at the coil", text(drop), text(left));
    if exceeds(rated * 0.85, left) {
        sheet.verdict(TOO_LOW, found)
    } else {
        sheet.verdict(ENOUGH, found)
    }
}
