//! What a conductor may carry: table value, corrections, and the terminals when they are known.

use super::prelude::*;
use super::usable::{Setting, ambient, column, metal, usable};

calculation! {
    "conductor-ampacity": "Ampacity of a conductor corrected for heat and bundling";
    rules "rooftop-adder", "terminal-temperature", "next-size-up";
    inputs {
        CONDUCTOR_SIZE = Size("conductor-size", "Size of the conductor.").optional();
        TABLE_AMPACITY = Current("table-ampacity", "Ampacity of the table in the column of the insulation, instead of a size.")
            .between(1.0, 5000.0).instead_of(&["conductor-size", "conductor-metal", "terminal-rating"]).optional();
        CONDUCTOR_METAL: In<Choice> = In::new(METAL.symbol, METAL.input.only_with(&["conductor-size"]));
        CONDUCTOR_INSULATION = Choice("conductor-insulation", "Temperature rating of the insulation in C; 60 for NM-B cable, UF and TW.")
            .among(&["60", "75", "90"]);
        TERMINAL_RATING = Choice("terminal-rating", "Column the terminals allow; left out, terminals are not considered.")
            .among(&["60", "75", "90"]).optional();
        AMBIENT;
        TOGETHER;
        ABOVE_ROOF;
        DEVICE = Current("protective-device-rating", "Device of the circuit, to compare.").optional();
        EDITION;
    }
    outputs {
        TABLE_AMPACITY_OUT = Current("table-ampacity", "Table value in the column of the insulation.");
        AMBIENT_FACTOR = Ratio("ambient-factor", "Ambient factor.");
        BUNDLING_FACTOR = Ratio("bundling-factor", "Factor for conductors together.");
        AMPACITY = Current("ampacity", "After corrections and terminals.");
    }
    verdicts {
        WORKED_OUT;
        PROTECTED = plain("protected", "The device does not exceed the ampacity, or is the next standard size above it.");
        NOT_PROTECTED = violation("not-protected", "The device is more than the next standard size above the ampacity.");
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    if let Some(given) = sheet.maybe(TABLE_AMPACITY).map(Known::get) {
        return from_table_value(sheet, given);
    }
    let size = sheet
        .size(CONDUCTOR_SIZE)
        .ok_or_else(|| sheet.missing(CONDUCTOR_SIZE))?;
    let metal = metal(sheet.choice(CONDUCTOR_METAL)).ok_or_else(|| sheet.missing(CONDUCTOR_METAL))?;
    let insulation =
        column(sheet.choice(CONDUCTOR_INSULATION)).ok_or_else(|| sheet.missing(CONDUCTOR_INSULATION))?;
    let marked = column(sheet.choice(TERMINAL_RATING));
    if marked.is_none() {
        sheet.assume("`terminal-rating` not given: terminals not considered; they may allow less");
    }
    let together = sheet.need(TOGETHER)?.number();
    let setting = Setting {
        metal,
        insulation,
        terminal: marked.unwrap_or(insulation),
        ambient: ambient(&mut sheet)?,
        together: together as u32,
    };
    let Some(found) = usable(size, &setting) else {
        return Err(InputError::OutOfRange {
            input: "conductor-size".to_owned(),
            value: size.to_string(),
            expected: format!(
                "a size that {} gives for {metal}",
                table::CONDUCTORS.ampacity_30c.name()
            ),
        });
    };
    let name = sheet.table(&table::CONDUCTORS.ampacity_30c);
    let ambient_table = sheet.table(&table::CORRECTIONS.ambient);
    let bundling_table = sheet.table(&table::CORRECTIONS.bundling);
    sheet.line(
        "I_table",
        format!("{name}, {size} {metal}, {insulation} column"),
        keyed(found.by_insulation),
    );
    sheet.line(
        "F_ambient",
        format!("{ambient_table}, {}", keyed(setting.ambient)),
        format!("{:.2}", found.ambient),
    );
    sheet.line(
        "F_bundling",
        format!("{bundling_table}, {together} conductors"),
        format!("{:.2}", found.bundling),
    );
    // The terminal column is a ceiling only when terminals are considered at all.
    let ampacity = if marked.is_some() {
        found.usable
    } else {
        found.corrected
    };
    sheet.line(
        "I = I_table x F_ambient x F_bundling",
        format!(
            "{} x {:.2} x {:.2}",
            keyed(found.by_insulation),
            found.ambient,
            found.bundling
        ),
        keyed(found.corrected),
    );
    if let Some(column) = marked {
        sheet.line(
            "at most the terminals' column",
            format!("{name}, {column} column"),
            keyed(found.by_terminal),
        );
    }
    sheet.output(TABLE_AMPACITY_OUT, found.by_insulation);
    sheet.output(AMBIENT_FACTOR, Quantity::ratio(found.ambient));
    sheet.output(BUNDLING_FACTOR, Quantity::ratio(found.bundling));
    sheet.output(AMPACITY, ampacity);
    compared(sheet, &format!("{size} {metal}"), ampacity)
}

/// Holds the device against the ampacity, when it is given, and ends.
fn compared(mut sheet: Sheet<'_>, what: &str, ampacity: ElectricCurrent) -> Answer {
    let insulation = sheet.choice(CONDUCTOR_INSULATION).unwrap_or_default();
    let Some(device) = sheet.maybe(DEVICE).map(Known::get) else {
        if ampacity <= amps(0.0) {
            return sheet.verdict(
                WORKED_OUT,
                format!(
                    "it is too hot there for {insulation} C insulation, so {what} may carry nothing at all"
                ),
            );
        }
        return sheet.verdict(WORKED_OUT, format!("{what} may carry {}", text(ampacity)));
    };
    let allowed = lookup::rating_at_or_above(ampacity).unwrap_or(ampacity);
    let rule = sheet.rule("next-size-up");
    sheet.at_most("device", device, allowed, rule);
    sheet.note("the next standard size is not allowed on circuits of several receptacles, and small conductors have limits of their own");
    if exceeds(device, allowed) {
        sheet.verdict(
            NOT_PROTECTED,
            format!(
                "{} on {} is more than the next standard size",
                text(device),
                text(ampacity)
            ),
        )
    } else {
        sheet.verdict(
            PROTECTED,
            format!("{} on a conductor for {}", text(device), text(ampacity)),
        )
    }
}

/// Corrects a table value that was given as such; terminals cannot be judged without a size.
fn from_table_value(mut sheet: Sheet<'_>, given: ElectricCurrent) -> Answer {
    let insulation =
        column(sheet.choice(CONDUCTOR_INSULATION)).ok_or_else(|| sheet.missing(CONDUCTOR_INSULATION))?;
    let together = sheet.need(TOGETHER)?.number();
    let hot = ambient(&mut sheet)?;
    let ambient_factor = lookup::ambient_factor(hot, insulation).unwrap_or(0.0);
    let bundling = lookup::bundling_factor(together as u32).ok_or_else(|| sheet.missing(TOGETHER))?;
    let ambient_table = sheet.table(&table::CORRECTIONS.ambient);
    let bundling_table = sheet.table(&table::CORRECTIONS.bundling);
    sheet.line(
        "F_ambient",
        format!("{ambient_table}, {}", keyed(hot)),
        format!("{ambient_factor:.2}"),
    );
    sheet.line(
        "F_bundling",
        format!("{bundling_table}, {together} conductors"),
        format!("{bundling:.2}"),
    );
    let ampacity = given * ambient_factor * bundling;
    sheet.line(
        "I = I_table x F_ambient x F_bundling",
        format!("{} x {ambient_factor:.2} x {bundling:.2}", keyed(given)),
        keyed(ampacity),
    );
    sheet.assume("terminals not considered: without a size their column cannot be looked up");
    sheet.output(TABLE_AMPACITY_OUT, given);
    sheet.output(AMBIENT_FACTOR, Quantity::ratio(ambient_factor));
    sheet.output(BUNDLING_FACTOR, Quantity::ratio(bundling));
    sheet.output(AMPACITY, ampacity);
    compared(
        sheet,
        &format!("a conductor of {} in the table", text(given)),
        ampacity,
    )
}
