//! Currents and voltages of the two sides of a transformer.

use super::prelude::*;
use crate::electrical::transformer::rated_current;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "transformer-ratio",
    title: "Transformer: rated currents, and the secondary current from the turns",
    inputs: &[
        Input::quantity(
            "transformer-rating",
            Kind::ApparentPower,
            "Volt-amperes on the label.",
        )
        .between(1.0, 1e6)
        .optional(),
        voltage("secondary-voltage", "Rated voltage of the secondary.").optional(),
        voltage("primary-voltage", "Rated voltage of the primary tap in use.").optional(),
        voltage("supply-voltage", "Voltage that is on the primary.").optional(),
        Input::quantity("primary-turns", Kind::Count, "Turns of the primary.")
            .between(1.0, 1e6)
            .optional(),
        Input::quantity("secondary-turns", Kind::Count, "Turns of the secondary.")
            .between(1.0, 1e6)
            .optional(),
        current("primary-current", "Current in the primary.").optional(),
    ],
    outputs: &[
        Output::quantity(
            "rated-secondary-current",
            Kind::Current,
            "Current the secondary may give.",
        ),
        Output::quantity(
            "secondary-current",
            Kind::Current,
            "Current in the secondary, by the turns or voltages.",
        ),
        Output::quantity(
            "open-secondary-voltage",
            Kind::Voltage,
            "Secondary voltage at the supply that is there.",
        ),
        Output::quantity(
            "rated-primary-current",
            Kind::Current,
            "Current the primary draws at rating.",
        ),
    ],
    verdicts: &[WORKED_OUT],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &[])?;
    let secondary: Option<ElectricPotential> = sheet.maybe("secondary-voltage");
    let primary: Option<ElectricPotential> = sheet.maybe("primary-voltage");
    let turns = ratio(&sheet, primary, secondary)?;
    if turns.is_none() {
        // A reading that needs the ratio is not dropped in silence: what would give the ratio is asked for.
        if sheet.is_given("supply-voltage") || sheet.is_given("primary-current") {
            return Err(sheet.missing(if primary.is_none() {
                "primary-voltage"
            } else {
                "secondary-voltage"
            }));
        }
        for (one, other) in [
            ("primary-turns", "secondary-turns"),
            ("secondary-turns", "primary-turns"),
        ] {
            if sheet.is_given(one) {
                return Err(sheet.missing(other));
            }
        }
    }
    let mut found = Vec::new();
    if let Some(rating) = sheet.maybe::<Power>("transformer-rating") {
        let secondary = secondary.ok_or_else(|| sheet.missing("secondary-voltage"))?;
        let current = rated_current(rating, secondary);
        sheet.work(
            "I = VA / V",
            format!("{} / {}", keyed(Quantity::apparent(rating)), keyed(secondary)),
            keyed(current),
        );
        sheet.output("rated-secondary-current", current);
        if let Some(primary) = primary {
            let other = rated_current(rating, primary);
            sheet.work(
                "I1 = VA / V1",
                format!("{} / {}", keyed(Quantity::apparent(rating)), keyed(primary)),
                keyed(other),
            );
            sheet.output("rated-primary-current", other);
        }
        found.push(format!("the secondary may give {}", text(current)));
    }
    if let (Some((ratio, shown)), Some(current)) = (&turns, sheet.maybe::<ElectricCurrent>("primary-current"))
    {
        let other = current * *ratio;
        sheet.work(
            "I2 = I1 x N1 / N2",
            format!("{} x {shown}", keyed(current)),
            keyed(other),
        );
        sheet.output("secondary-current", other);
        found.push(format!("{} in the secondary", text(other)));
    }
    if let (Some((ratio, shown)), Some(supply)) = (&turns, sheet.maybe::<ElectricPotential>("supply-voltage"))
    {
        let other = supply / *ratio;
        sheet.work(
            "V2 = V1 / (N1 / N2)",
            format!("{} / ({shown})", keyed(supply)),
            keyed(other),
        );
        sheet.output("open-secondary-voltage", other);
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
        return Err(sheet.missing("transformer-rating"));
    }
    sheet.verdict("worked-out", found.join("; "))
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
        sheet.maybe::<f64>("primary-turns"),
        sheet.maybe::<f64>("secondary-turns"),
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
