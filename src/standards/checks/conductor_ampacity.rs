//! What a conductor may carry: table value, corrections, and the terminals when they are known.

use super::prelude::*;
use super::usable::{Setting, ambient, column, metal, usable};

pub(super) const CALCULATION: Calculation = Calculation {
    name: "conductor-ampacity",
    title: "Ampacity of a conductor corrected for heat and bundling",
    inputs: &[
        Input::size("conductor-size", "Size of the conductor.").optional(),
        current(
            "table-ampacity",
            "Ampacity of the table in the column of the insulation, instead of a size.",
        )
        .between(1.0, 5000.0)
        .instead_of(&["conductor-size", "conductor-metal", "terminal-rating"])
        .optional(),
        METAL.only_with(&["conductor-size"]),
        Input::choice(
            "conductor-insulation",
            &["60", "75", "90"],
            "Temperature rating of the insulation in C; 60 for NM-B cable, UF and TW.",
        ),
        Input::choice(
            "terminal-rating",
            &["60", "75", "90"],
            "Column the terminals allow; left out, terminals are not considered.",
        )
        .optional(),
        AMBIENT,
        TOGETHER,
        ABOVE_ROOF,
        current("protective-device-rating", "Device of the circuit, to compare.").optional(),
        EDITION_INPUT,
    ],
    outputs: &[
        Output::quantity(
            "table-ampacity",
            Kind::Current,
            "Table value in the column of the insulation.",
        ),
        Output::quantity("ambient-factor", Kind::Ratio, "Ambient factor."),
        Output::quantity("bundling-factor", Kind::Ratio, "Factor for conductors together."),
        Output::quantity("ampacity", Kind::Current, "After corrections and terminals."),
    ],
    verdicts: &[
        WORKED_OUT,
        VerdictKind::plain(
            "protected",
            "The device does not exceed the ampacity, or is the next standard size above it.",
        ),
        VerdictKind::violation(
            "not-protected",
            "The device is more than the next standard size above the ampacity.",
        ),
    ],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(
        &CALCULATION,
        inputs,
        &["rooftop-adder", "terminal-temperature", "next-size-up"],
    )?;
    if let Some(given) = sheet.maybe::<ElectricCurrent>("table-ampacity") {
        return from_table_value(sheet, given);
    }
    let size = sheet
        .size("conductor-size")
        .ok_or_else(|| sheet.missing("conductor-size"))?;
    let metal = metal(sheet.choice("conductor-metal")).ok_or_else(|| sheet.missing("conductor-metal"))?;
    let insulation =
        column(sheet.choice("conductor-insulation")).ok_or_else(|| sheet.missing("conductor-insulation"))?;
    let marked = column(sheet.choice("terminal-rating"));
    if marked.is_none() {
        sheet.assume("`terminal-rating` not given: terminals not considered; they may allow less");
    }
    let together: f64 = sheet.need("conductors-together")?;
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
    sheet.work(
        "I_table",
        format!("{name}, {size} {metal}, {insulation} column"),
        keyed(found.by_insulation),
    );
    sheet.work(
        "F_ambient",
        format!("{ambient_table}, {}", keyed(setting.ambient)),
        format!("{:.2}", found.ambient),
    );
    sheet.work(
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
    sheet.work(
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
        sheet.work(
            "at most the terminals' column",
            format!("{name}, {column} column"),
            keyed(found.by_terminal),
        );
    }
    sheet.output("table-ampacity", found.by_insulation);
    sheet.output("ambient-factor", Quantity::ratio(found.ambient));
    sheet.output("bundling-factor", Quantity::ratio(found.bundling));
    sheet.output("ampacity", ampacity);
    compared(sheet, &format!("{size} {metal}"), ampacity)
}

/// Holds the device against the ampacity, when it is given, and ends.
fn compared(mut sheet: Sheet<'_>, what: &str, ampacity: ElectricCurrent) -> Result<Report, InputError> {
    let insulation = sheet.choice("conductor-insulation").unwrap_or_default();
    let Some(device) = sheet.maybe::<ElectricCurrent>("protective-device-rating") else {
        if ampacity <= amps(0.0) {
            return sheet.verdict(
                "worked-out",
                format!(
                    "it is too hot there for {insulation} C insulation, so {what} may carry nothing at all"
                ),
            );
        }
        return sheet.verdict("worked-out", format!("{what} may carry {}", text(ampacity)));
    };
    let allowed = lookup::rating_at_or_above(ampacity).unwrap_or(ampacity);
    let rule = sheet.rule("next-size-up");
    sheet.at_most("device", device, allowed, rule);
    sheet.note("the next standard size is not allowed on circuits of several receptacles, and small conductors have limits of their own");
    if exceeds(device, allowed) {
        sheet.verdict(
            "not-protected",
            format!(
                "{} on {} is more than the next standard size",
                text(device),
                text(ampacity)
            ),
        )
    } else {
        sheet.verdict(
            "protected",
            format!("{} on a conductor for {}", text(device), text(ampacity)),
        )
    }
}

/// Corrects a table value that was given as such; terminals cannot be judged without a size.
fn from_table_value(mut sheet: Sheet<'_>, given: ElectricCurrent) -> Result<Report, InputError> {
    let insulation =
        column(sheet.choice("conductor-insulation")).ok_or_else(|| sheet.missing("conductor-insulation"))?;
    let together: f64 = sheet.need("conductors-together")?;
    let hot = ambient(&mut sheet)?;
    let ambient_factor = lookup::ambient_factor(hot, insulation).unwrap_or(0.0);
    let bundling =
        lookup::bundling_factor(together as u32).ok_or_else(|| sheet.missing("conductors-together"))?;
    let ambient_table = sheet.table(&table::CORRECTIONS.ambient);
    let bundling_table = sheet.table(&table::CORRECTIONS.bundling);
    sheet.work(
        "F_ambient",
        format!("{ambient_table}, {}", keyed(hot)),
        format!("{ambient_factor:.2}"),
    );
    sheet.work(
        "F_bundling",
        format!("{bundling_table}, {together} conductors"),
        format!("{bundling:.2}"),
    );
    let ampacity = given * ambient_factor * bundling;
    sheet.work(
        "I = I_table x F_ambient x F_bundling",
        format!("{} x {ambient_factor:.2} x {bundling:.2}", keyed(given)),
        keyed(ampacity),
    );
    sheet.assume("terminals not considered: without a size their column cannot be looked up");
    sheet.output("table-ampacity", given);
    sheet.output("ambient-factor", Quantity::ratio(ambient_factor));
    sheet.output("bundling-factor", Quantity::ratio(bundling));
    sheet.output("ampacity", ampacity);
    compared(
        sheet,
        &format!("a conductor of {} in the table", text(given)),
        ampacity,
    )
}
