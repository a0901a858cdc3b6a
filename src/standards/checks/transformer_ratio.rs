//! Currents and voltages of the two sides of a transformer.

use super::prelude::*;

calculation! {
    "transformer-ratio": "Transformer: rated currents, and the secondary current from the turns";
    inputs {
        TRANSFORMER_RATING "VA" = ApparentPower("transformer-rating", "Volt-amperes on the label.")
            .between(1.0, 1e6).optional();
        SECONDARY_VOLTAGE "V" = Voltage("secondary-voltage", "Rated voltage of the secondary.").optional();
        PRIMARY_VOLTAGE "V1" = Voltage("primary-voltage", "Rated voltage of the primary tap in use.").optional();
        SUPPLY = Voltage("supply-voltage", "Voltage that is on the primary.").optional();
        PRIMARY_TURNS = Count("primary-turns", "Turns of the primary.").between(1.0, 1e6).optional();
        SECONDARY_TURNS = Count("secondary-turns", "Turns of the secondary.").between(1.0, 1e6).optional();
        PRIMARY_CURRENT = Current("primary-current", "Current in the primary.").optional();
    }
    outputs {
        RATED_SECONDARY_CURRENT "I" = Current("rated-secondary-current", "Current the secondary may give.");
        SECONDARY_CURRENT = Current("secondary-current", "Current in the secondary, by the turns or voltages.");
        OPEN_SECONDARY_VOLTAGE = Voltage("open-secondary-voltage", "Secondary voltage at the supply that is there.");
        RATED_PRIMARY_CURRENT "I1" = Current("rated-primary-current", "Current the primary draws at rating.");
    }
    verdicts {
        WORKED_OUT;
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let (primary, secondary) = (sheet.maybe(PRIMARY_VOLTAGE), sheet.maybe(SECONDARY_VOLTAGE));
    let turns = ratio(&sheet, primary, secondary)?;
    if turns.is_none() {
        // A reading that needs the ratio is not dropped in silence: what would give the ratio is asked for.
        if sheet.is_given(SUPPLY) || sheet.is_given(PRIMARY_CURRENT) {
            let missing = if primary.is_none() {
                PRIMARY_VOLTAGE
            } else {
                SECONDARY_VOLTAGE
            };
            return Err(sheet.missing(missing));
        }
        for (one, other) in [(PRIMARY_TURNS, SECONDARY_TURNS), (SECONDARY_TURNS, PRIMARY_TURNS)] {
            if sheet.is_given(one) {
                return Err(sheet.missing(other));
            }
        }
    }
    let mut found = Vec::new();
    if let Some(rating) = sheet.maybe(TRANSFORMER_RATING) {
        let secondary = secondary.ok_or_else(|| sheet.missing(SECONDARY_VOLTAGE))?;
        let current = sheet.give(RATED_SECONDARY_CURRENT, rating / secondary);
        if let Some(primary) = primary {
            sheet.give(RATED_PRIMARY_CURRENT, rating / primary);
        }
        found.push(format!("the secondary may give {current}"));
    }
    if let (Some((ratio, shown)), Some(current)) = (&turns, sheet.maybe(PRIMARY_CURRENT)) {
        let other = Known::fixed(current.get() * *ratio);
        sheet.line(
            "I2 = I1 x N1 / N2",
            format!("{} x {shown}", keyed(current)),
            keyed(other),
        );
        sheet.output(SECONDARY_CURRENT, other);
        found.push(format!("{other} in the secondary"));
    }
    if let (Some((ratio, shown)), Some(supply)) = (&turns, sheet.maybe(SUPPLY)) {
        let other = Known::fixed(supply.get() / *ratio);
        sheet.line(
            "V2 = V1 / (N1 / N2)",
            format!("{} / ({shown})", keyed(supply)),
            keyed(other),
        );
        sheet.output(OPEN_SECONDARY_VOLTAGE, other);
        found.push(format!("{other} at the secondary with {supply} on this tap"));
    }
    sheet.source(
        "definition of apparent power; ideal transformer, regulation and magnetizing current neglected",
    );
    if found.is_empty() {
        return Err(sheet.missing(TRANSFORMER_RATING));
    }
    sheet.verdict(WORKED_OUT, found.join("; "))
}

/// Primary over secondary, by the turns or else by the rated voltages, with its text.
///
/// Turns and rated voltages given together must agree: a winding is compensated by some 5 to 10 % for what it loses
/// under load (from memory), so up to 15 % apart is one transformer.
fn ratio(
    sheet: &Sheet<'_>,
    primary: Option<Known<Voltage>>,
    secondary: Option<Known<Voltage>>,
) -> Result<Option<(f64, String)>, InputError> {
    let turns = sheet.maybe(PRIMARY_TURNS).zip(sheet.maybe(SECONDARY_TURNS));
    let turns = turns.map(|(primary, secondary)| {
        let (primary, secondary) = (primary.number(), secondary.number());
        (primary / secondary, format!("{primary} / {secondary}"))
    });
    let rated = primary.zip(secondary);
    let rated = rated.map(|(primary, secondary)| {
        (
            share(primary.get(), secondary.get()),
            format!("{primary} / {secondary}"),
        )
    });
    if let (Some((by_turns, turns)), Some((by_volts, volts))) = (&turns, &rated)
        && (by_turns / by_volts - 1.0).abs() > 0.15
    {
        return Err(contradiction(format!(
            "the turns give a ratio of {by_turns:.3} ({turns}), the rated voltages {by_volts:.3} ({volts}); both cannot be, so read them again"
        )));
    }
    Ok(turns.or(rated))
}
