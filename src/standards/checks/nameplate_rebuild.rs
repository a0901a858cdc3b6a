//! Minimum circuit ampacity and maximum overcurrent protection rebuilt from the ratings of the parts.

use super::prelude::*;

calculation! {
    "nameplate-rebuild": "Minimum circuit ampacity and maximum protection from the ratings of the parts";
    rules "product-mca", "product-mop", "nameplate-mca-mop";
    inputs {
        COMPRESSOR_CURRENTS = List<Current>("compressor-currents", "Rated-load current of each compressor that runs at one time.")
            .between(0.1, 2000.0).optional();
        MOTOR_CURRENTS = List<Current>("motor-currents", "Full-load current of each fan or pump that runs with them.")
            .between(0.01, 2000.0).optional();
        HEATER_CURRENT "heater" = Current("heater-current", "Current of electric heat that runs with them.")
            .optional();
        OTHER_CURRENT "other" = Current("other-current", "Other loads that run with them, such as a control transformer.")
            .optional();
        MCA = Current("minimum-circuit-ampacity", "Minimum circuit ampacity the nameplate prints, to compare.")
            .optional();
        MOP = Current("maximum-overcurrent-protection", "Maximum device the nameplate prints, to compare.")
            .optional();
        EDITION;
    }
    outputs {
        MCA_OUT = Current("minimum-circuit-ampacity", "Rebuilt minimum circuit ampacity.");
        CEILING = Current("ceiling", "Sum the maximum device is rounded down from.");
        MOP_OUT = Current("maximum-overcurrent-protection", "Rebuilt maximum device.");
    }
    verdicts {
        WORKED_OUT;
        AGREES = plain("agrees", "The nameplate prints what the parts give.");
        MARKED_LOWER = plain("marked-lower", "The nameplate prints a smaller maximum than the sum allows; the nameplate rules.");
        DISAGREES = plain("disagrees", "The nameplate prints less ampacity or a larger device than the parts give: read both again.");
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let (compressors, motors) = (
        sheet.list(COMPRESSOR_CURRENTS).all,
        sheet.list(MOTOR_CURRENTS).all,
    );
    let heater = sheet.maybe(HEATER_CURRENT);
    if compressors.is_empty() && motors.is_empty() && heater.is_none() {
        return Err(sheet.missing(COMPRESSOR_CURRENTS));
    }
    let heater = heater.unwrap_or(Known::called("heater", amps(0.0)));
    let other = sheet
        .maybe(OTHER_CURRENT)
        .unwrap_or(Known::called("other", amps(0.0)));
    let biggest = largest(if compressors.is_empty() {
        &motors
    } else {
        &compressors
    });
    let biggest = Known::called("largest", biggest);
    let no_compressor = compressors.is_empty();
    let listed = Listed::new("sum of motors", [compressors, motors].concat());
    let ampacity = if no_compressor && heater.number() > 0.0 {
        sheet.work("MCA", 1.25 * (listed.sum() + heater + other))
    } else {
        sheet.work("MCA", listed.sum() + 0.25 * biggest + 1.25 * heater + other)
    };
    let others = listed.sum().value() - biggest.get() + heater.get() + other.get();
    let ceiling = sheet.work(
        "ceiling",
        2.25 * biggest + Known::called("all the others", others),
    );
    let ratings = sheet.table(&table::OVERCURRENT.standard_ratings);
    let fifteen = amps(15.0);
    let down = lookup::rating_at_or_below(ceiling.get())
        .unwrap_or(fifteen)
        .max(fifteen);
    let device = if exceeds(ampacity.get(), down) {
        lookup::rating_at_or_above(ampacity.get()).unwrap_or(down)
    } else {
        down
    };
    let device = Known::fixed(device);
    sheet.line(
        "MOP = standard rating at or below the ceiling, at least MCA and 15 A",
        format!("{} in {ratings}, MCA {}", keyed(ceiling), keyed(ampacity)),
        keyed(device),
    );
    sheet.output(MCA_OUT, ampacity);
    sheet.output(CEILING, ceiling);
    sheet.output(MOP_OUT, device);
    let least_rule = sheet.rule("product-mca");
    let most_rule = sheet.rule("product-mop");
    sheet.note("a maker may mark a smaller device than this sum allows, and the nameplate rules");
    let found = format!("the parts give a minimum of {ampacity} and a maximum of {device}");
    let (printed_least, printed_most) = (sheet.maybe(MCA), sheet.maybe(MOP));
    if let (Some(least), Some(most)) = (printed_least, printed_most)
        && least.exceeds(most)
    {
        return Err(contradiction(format!(
            "`minimum-circuit-ampacity` {least} is above `maximum-overcurrent-protection` {most}; read both lines again"
        )));
    }
    if let Some(least) = printed_least {
        sheet.at_least("printed MCA", least, ampacity, least_rule);
        // Makers print whole amperes or tenths, and some leave out loads of 1 A or less.
        if exceeds(ampacity.get(), least.get() + amps(1.0)) {
            return sheet.verdict(
                DISAGREES,
                format!("{found}; the nameplate prints a minimum of {least}"),
            );
        }
    }
    if let Some(most) = printed_most {
        sheet.at_most("printed maximum", most, device, most_rule);
        if most.exceeds(device) {
            return sheet.verdict(
                DISAGREES,
                format!("{found}; the nameplate prints a maximum of {most}"),
            );
        }
        if device.exceeds(most) {
            return sheet.verdict(
                MARKED_LOWER,
                format!("{found}; the nameplate allows less, and it rules"),
            );
        }
    }
    if printed_least.is_some() || printed_most.is_some() {
        return sheet.verdict(AGREES, format!("{found}, as the nameplate prints"));
    }
    sheet.verdict(WORKED_OUT, found)
}
