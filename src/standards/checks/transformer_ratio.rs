//! Currents and voltages of the two sides of a transformer.

use super::prelude::*;
use crate::electrical::transformer::rated_current;

calculation! {
    "transformer-ratio": "Transformer: rated currents, and the secondary current from the turns";
    inputs {
        TRANSFORMER_RATING = ApparentPower("transformer-rating", "Volt-amperes on the label.")
            .between(1.0, 1e6).optional();
        SECONDARY_VOLTAGE = Voltage("secondary-voltage", "Rated voltage of the secondary.").optional();
        PRIMARY_VOLTAGE = Voltage("primary-voltage", "Rated voltage of the primary tap in use.").optional();
        SUPPLY = Voltage("supply-voltage", "Voltage that is on the primary.").optional();
        PRIMARY_TURNS = Count("primary-turns", "Turns of the primary.").between(1.0, 1e6).optional();
        SECONDARY_TURNS = Count("secondary-turns", "Turns of the secondary.").between(1.0, 1e6).optional();
        PRIMARY_CURRENT = Current("primary-current", "Current in the primary.").optional();
    }
    outputs {
        RATED_SECONDARY_CURRENT = Current("rated-secondary-current", "Current the secondary may give.");
        SECONDARY_CURRENT = Current("secondary-current", "Current in the secondary, by the turns or voltages.");
        OPEN_SECONDARY_VOLTAGE = Voltage("open-secondary-voltage", "Secondary voltage at the supply that is there.");
        RATED_PRIMARY_CURRENT = Current("rated-primary-current", "Current the primary draws at rating.");
    }
    verdicts {
        WORKED_OUT;
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let secondary = sheet.maybe(SECONDARY_VOLTAGE).map(Known::get);
    let primary = sheet.maybe(PRIMARY_VOLTAGE).map(Known::get);
    let turns = ratio(&sheet, primary, secondary)?;
    if turns.is_none() {
        // A reading that needs the ratio is not dropped in silence: what would give the ratio is asked for.
        if sheet.is_given(SUPPLY) || sheet.is_given(PRIMARY_CURRENT) {
            return Err(sheet.missing(if primary.is_none() {
                PRIMARY_VOLTAGE
            } else {
                SECONDARY_VOLTAGE
            }));
        }
        for (one, other) in [(PRIMARY_TURNS, SECONDARY_TURNS), (SECONDARY_TURNS, PRIMARY_TURNS)] {
            if sheet.is_given(one) {
                return Err(sheet.missing(other));
            }
        }
    }
    let mut found = Vec::new();
    if let Some(rating) = sheet.maybe(TRANSFORMER_RATING).map(Known::get) {
        let secondary = secondary.ok_or_else(|| sheet.missing(SECONDARY_VOLTAGE))?;
        let current = rated_current(rating, secondary);
        sheet.line(
            "I = VA / V",
            format!("{} / {}", keyed(Quantity::apparent(rating)), keyed(secondary)),
            keyed(current),
        );
        sheet.output(RATED_SECONDARY_CURRENT, current);
        if let Some(primary) = primary {
            let other = rated_current(rating, primary);
            sheet.line(
                "I1 = VA / V1",
                format!("{} / {}", keyed(Quantity::apparent(rating)), keyed(primary)),
                keyed(other),
            );
            sheet.output(RATED_PRIMARY_CURRENT, other);
        }
        found.push(format!("the secondary may give {}", text(current)));
    }
    if let (Some((ratio, shown)), Some(current)) = (&turns, sheet.maybe(PRIMARY_CURRENT).map(Known::get)) {
        let other = current * *ratio;
        sheet.line(
            "I2 = I1 x N1 / N2",
            format!("{} x {shown}", keyed(current)),
            keyed(other),
        );
        sheet.output(SECONDARY_CURRENT, other);
        found.push(format!("{} in the secondary", text(other)));
    }
    if let (Some((ratio, shown)), Some(supply)) = (&turns, sheet.maybe(SUPPLY).map(Known::get)) {
        let other = supply / *ratio;
        sheet.line(
            "V2 = V1 / (N1 / N2)",
            format!("{} / ({shown})", keyed(supply)),
            keyed(other),
        );
        sheet.output(OPEN_SECONDARY_VOLTAGE, other);
        found.push(format!(
            "{} at the secondary with {} on this tap",
            text(other),
            text(supply)
        ));
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
    primary: Option<ElectricPotential>,
    secondary: Option<ElectricPotential>,
) -> Result<Option<(f64, String)>, InputError> {
    let turns = match (
        sheet.maybe(PRIMARY_TURNS).map(Known::number),
        sheet.maybe(SECONDARY_TURNS).map(Known::number),
    ) {
        (Some(primary), Some(secondary)) => Some((primary / secondary, format!("{primary} / {secondary}"))),
        _ => None,
    };
    let rated = match (primary, secondary) {
        (Some(primary), Some(secondary)) => Some((
            share(primary, secondary),
            format!("{} / {}", text(primary), text(secondary)),
        )),
        _ => None,
    };
    if let (Some((by_turns, turns)), Some((by_volts, volts))) = (&turns, &rated)
        && (by_turns / by_volts - 1.0).abs() > 0.15
    {
        return Err(InputError::Contradiction {
            what: format!(
                "the turns give a ratio of {by_turns:.3} ({turns}), the rated voltages {by_volts:.3} ({volts}); both cannot be, so read them again"
            ),
        });
    }
    Ok(turns.or(rated))
}
