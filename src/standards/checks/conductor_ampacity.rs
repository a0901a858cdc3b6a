//! What a conductor may carry: table value, corrections, and the terminals when they are known.

use super::prelude::*;
use super::usable::{Setting, ambient, no_ampacity, usable};

calculation! {
    "conductor-ampacity": "Ampacity of a conductor corrected for heat and bundling";
    rules "rooftop-adder", "terminal-temperature", "next-size-up";
    inputs {
        CONDUCTOR_SIZE = Size("conductor-size", "Size of the conductor.").optional();
        TABLE_AMPACITY = Current("table-ampacity", "Ampacity of the table in the column of the insulation, instead of a size.")
            .between(1.0, 5000.0).instead_of(&["conductor-size", "conductor-metal", "terminal-rating"]).optional();
        CONDUCTOR_METAL: In<OneOf<Metal>> = In::new(METAL.symbol, METAL.input.only_with(&["conductor-size"]));
        CONDUCTOR_INSULATION = OneOf<Column>("conductor-insulation", "Temperature rating of the insulation in C; 60 for NM-B cable, UF and TW.");
        TERMINAL_RATING = OneOf<Column>("terminal-rating", "Column the terminals allow; left out, terminals are not considered.").optional();
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
    if let Some(given) = sheet.maybe(TABLE_AMPACITY) {
        return from_table_value(sheet, given);
    }
    let size = sheet.need_size(CONDUCTOR_SIZE)?;
    let metal = sheet.need_one(CONDUCTOR_METAL)?;
    let insulation = sheet.need_one(CONDUCTOR_INSULATION)?;
    let marked = sheet.one_of(TERMINAL_RATING);
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
    let found = usable(size, &setting).ok_or_else(|| no_ampacity(size, metal))?;
    let name = sheet.table(&table::CONDUCTORS.ampacity_30c);
    let put_in = format!("{name}, {size} {metal}, {insulation} column");
    sheet.line("I_table", put_in, keyed(found.by_insulation));
    let factors = (found.ambient, found.bundling);
    let corrected = corrected(
        &mut sheet,
        found.by_insulation,
        setting.ambient,
        together,
        factors,
    );
    // The terminal column is a ceiling only when terminals are considered at all.
    let mut ampacity = corrected;
    if let Some(column) = marked {
        ampacity = found.usable;
        let put_in = format!("{name}, {column} column");
        sheet.line("at most the terminals' column", put_in, keyed(found.by_terminal));
    }
    given(&mut sheet, found.by_insulation, factors, ampacity);
    compared(sheet, &format!("{size} {metal}"), ampacity)
}

/// Shows how a table value is corrected for heat and bundling.
fn corrected(
    sheet: &mut Sheet<'_>,
    table: ElectricCurrent,
    hot: ThermodynamicTemperature,
    together: f64,
    (ambient, bundling): (f64, f64),
) -> ElectricCurrent {
    let ambient_table = sheet.table(&table::CORRECTIONS.ambient);
    let bundling_table = sheet.table(&table::CORRECTIONS.bundling);
    let put_in = format!("{ambient_table}, {}", keyed(hot));
    sheet.line("F_ambient", put_in, format!("{ambient:.2}"));
    let put_in = format!("{bundling_table}, {together} conductors");
    sheet.line("F_bundling", put_in, format!("{bundling:.2}"));
    let ampacity = table * ambient * bundling;
    sheet.line(
        "I = I_table x F_ambient x F_bundling",
        format!("{} x {ambient:.2} x {bundling:.2}", keyed(table)),
        keyed(ampacity),
    );
    ampacity
}

/// Gives the outputs.
fn given(
    sheet: &mut Sheet<'_>,
    table: ElectricCurrent,
    (ambient, bundling): (f64, f64),
    ampacity: ElectricCurrent,
) {
    sheet.output(TABLE_AMPACITY_OUT, table);
    sheet.output(AMBIENT_FACTOR, Quantity::ratio(ambient));
    sheet.output(BUNDLING_FACTOR, Quantity::ratio(bundling));
    sheet.output(AMPACITY, ampacity);
}

/// Holds the device against the ampacity, when it is given, and ends.
fn compared(mut sheet: Sheet<'_>, what: &str, ampacity: ElectricCurrent) -> Answer {
    let ampacity = Known::fixed(ampacity);
    let insulation = sheet.need_one(CONDUCTOR_INSULATION)?;
    let Some(device) = sheet.maybe(DEVICE) else {
        let found = if ampacity.number() <= 0.0 {
            format!("it is too hot there for {insulation} insulation, so {what} may carry nothing at all")
        } else {
            format!("{what} may carry {ampacity}")
        };
        return sheet.verdict(WORKED_OUT, found);
    };
    let allowed = ampacity.with(lookup::rating_at_or_above(ampacity.get()).unwrap_or(ampacity.get()));
    let rule = sheet.rule("next-size-up");
    sheet.at_most("device", device, allowed, rule);
    sheet.note("the next standard size is not allowed on circuits of several receptacles, and small conductors have limits of their own");
    if device.exceeds(allowed) {
        let found = format!("{device} on {ampacity} is more than the next standard size");
        sheet.verdict(NOT_PROTECTED, found)
    } else {
        sheet.verdict(PROTECTED, format!("{device} on a conductor for {ampacity}"))
    }
}

/// Corrects a table value that was given as such; terminals cannot be judged without a size.
fn from_table_value(mut sheet: Sheet<'_>, table: Known<Current>) -> Answer {
    let insulation = sheet.need_one(CONDUCTOR_INSULATION)?;
    let together = sheet.need(TOGETHER)?.number();
    let hot = ambient(&mut sheet)?;
    let bundling = lookup::bundling_factor(together as u32).ok_or_else(|| sheet.missing(TOGETHER))?;
    let factors = (lookup::ambient_factor(hot, insulation).unwrap_or(0.0), bundling);
    let ampacity = corrected(&mut sheet, table.get(), hot, together, factors);
    sheet.assume("terminals not considered: without a size their column cannot be looked up");
    given(&mut sheet, table.get(), factors, ampacity);
    compared(sheet, &format!("a conductor of {table} in the table"), ampacity)
}
