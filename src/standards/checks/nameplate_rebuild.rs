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
        HEATER_CURRENT = Current("heater-current", "Current of electric heat that runs with them.")
            .optional();
        OTHER_CURRENT = Current("other-current", "Other loads that run with them, such as a control transformer.")
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
    let compressors = sheet.list(COMPRESSOR_CURRENTS).all;
    let motors = sheet.list(MOTOR_CURRENTS).all;
    if compressors.is_empty() && motors.is_empty() && sheet.maybe(HEATER_CURRENT).map(Known::get).is_none() {
        return Err(sheet.missing(COMPRESSOR_CURRENTS));
    }
    let heater = sheet
        .maybe(HEATER_CURRENT)
        .map(Known::get)
        .unwrap_or_else(|| amps(0.0));
    let other = sheet
        .maybe(OTHER_CURRENT)
        .map(Known::get)
        .unwrap_or_else(|| amps(0.0));
    let all = total(&compressors) + total(&motors);
    let biggest = if compressors.is_empty() {
        largest(&motors)
    } else {
        largest(&compressors)
    };
    let listed = [&compressors[..], &motors[..]].concat();
    let ampacity = if compressors.is_empty() && heater > amps(0.0) {
        let sum = all + heater + other;
        sheet.line(
            "MCA = 1.25 x (sum of motors + heater + other)",
            format!(
                "1.25 x (({}) + {} + {})",
                sum_text(&listed),
                keyed(heater),
                keyed(other)
            ),
            keyed(sum * 1.25),
        );
        sum * 1.25
    } else {
        let result = all + biggest * 0.25 + heater * 1.25 + other;
        sheet.line(
            "MCA = sum of motors + 0.25 x largest + 1.25 x heater + other",
            format!(
                "({}) + 0.25 x {} + 1.25 x {} + {}",
                sum_text(&listed),
                keyed(biggest),
                keyed(heater),
                keyed(other)
            ),
            keyed(result),
        );
        result
    };
    let ceiling = biggest * 2.25 + (all - biggest) + heater + other;
    sheet.line(
        "ceiling = 2.25 x largest + all the others",
        format!(
            "2.25 x {} + {}",
            keyed(biggest),
            keyed(all - biggest + heater + other)
        ),
        keyed(ceiling),
    );
    let ratings = sheet.table(&table::OVERCURRENT.standard_ratings);
    let fifteen = amps(15.0);
    let down = lookup::rating_at_or_below(ceiling)
        .unwrap_or(fifteen)
        .max(fifteen);
    let device = if exceeds(ampacity, down) {
        lookup::rating_at_or_above(ampacity).unwrap_or(down)
    } else {
        down
    };
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
    let found = format!(
        "the parts give a minimum of {} and a maximum of {}",
        text(ampacity),
        text(device)
    );
    let printed_least = sheet.maybe(MCA).map(Known::get);
    let printed_most = sheet.maybe(MOP).map(Known::get);
    if let (Some(least), Some(most)) = (printed_least, printed_most)
        && exceeds(least, most)
    {
        return Err(InputError::Contradiction {
            what: format!(
                "`minimum-circuit-ampacity` {} is above `maximum-overcurrent-protection` {}; read both lines again",
                text(least),
                text(most)
            ),
        });
    }
    // Makers print whole amperes or tenths, and some leave out loads of 1 A or less.
    let tolerance = amps(1.0);
    let mut lower = false;
    if let Some(least) = printed_least {
        sheet.at_least("printed MCA", least, ampacity, least_rule);
        if exceeds(ampacity, least + tolerance) {
            return sheet.verdict(
                DISAGREES,
                format!("{found}; the nameplate prints a minimum of {}", text(least)),
            );
        }
    }
    if let Some(most) = printed_most {
        sheet.at_most("printed maximum", most, device, most_rule);
        if exceeds(most, device) {
            return sheet.verdict(
                DISAGREES,
                format!("{found}; the nameplate prints a maximum of {}", text(most)),
            );
        }
        lower = exceeds(device, most);
    }
    if lower {
        return sheet.verdict(
            MARKED_LOWER,
            format!("{found}; the nameplate allows less, and it rules"),
        );
    }
    if printed_least.is_some() || printed_most.is_some() {
        return sheet.verdict(AGREES, format!("{found}, as the nameplate prints"));
    }
    sheet.verdict(WORKED_OUT, found)
}
