//! Minimum circuit ampacity and maximum overcurrent protection rebuilt from the ratings of the parts.

use super::prelude::*;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "nameplate-rebuild",
    title: "Minimum circuit ampacity and maximum protection from the ratings of the parts",
    inputs: &[
        Input::list(
            "compressor-currents",
            Kind::Current,
            "Rated-load current of each compressor that runs at one time.",
        )
        .between(0.1, 2000.0)
        .optional(),
        Input::list(
            "motor-currents",
            Kind::Current,
            "Full-load current of each fan or pump that runs with them.",
        )
        .between(0.01, 2000.0)
        .optional(),
        current("heater-current", "Current of electric heat that runs with them.").optional(),
        current(
            "other-current",
            "Other loads that run with them, such as a control transformer.",
        )
        .optional(),
        current(
            "minimum-circuit-ampacity",
            "Minimum circuit ampacity the nameplate prints, to compare.",
        )
        .optional(),
        current(
            "maximum-overcurrent-protection",
            "Maximum device the nameplate prints, to compare.",
        )
        .optional(),
        EDITION_INPUT,
    ],
    outputs: &[
        Output::quantity(
            "minimum-circuit-ampacity",
            Kind::Current,
            "Rebuilt minimum circuit ampacity.",
        ),
        Output::quantity(
            "ceiling",
            Kind::Current,
            "Sum the maximum device is rounded down from.",
        ),
        Output::quantity(
            "maximum-overcurrent-protection",
            Kind::Current,
            "Rebuilt maximum device.",
        ),
    ],
    verdicts: &[
        WORKED_OUT,
        VerdictKind::plain("agrees", "The nameplate prints what the parts give."),
        VerdictKind::plain(
            "marked-lower",
            "The nameplate prints a smaller maximum than the sum allows; the nameplate rules.",
        ),
        VerdictKind::plain(
            "disagrees",
            "The nameplate prints less ampacity or a larger device than the parts give: read both again.",
        ),
    ],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(
        &CALCULATION,
        inputs,
        &["product-mca", "product-mop", "nameplate-mca-mop"],
    )?;
    let compressors: Vec<ElectricCurrent> = sheet.list("compressor-currents");
    let motors: Vec<ElectricCurrent> = sheet.list("motor-currents");
    if compressors.is_empty()
        && motors.is_empty()
        && sheet.maybe::<ElectricCurrent>("heater-current").is_none()
    {
        return Err(sheet.missing("compressor-currents"));
    }
    let heater = sheet.maybe("heater-current").unwrap_or_else(|| amps(0.0));
    let other = sheet.maybe("other-current").unwrap_or_else(|| amps(0.0));
    let all = total(&compressors) + total(&motors);
    let biggest = if compressors.is_empty() {
        largest(&motors)
    } else {
        largest(&compressors)
    };
    let listed = [&compressors[..], &motors[..]].concat();
    let ampacity = if compressors.is_empty() && heater > amps(0.0) {
        let sum = all + heater + other;
        sheet.work(
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
        sheet.work(
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
    sheet.work(
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
    sheet.work(
        "MOP = standard rating at or below the ceiling, at least MCA and 15 A",
        format!("{} in {ratings}, MCA {}", keyed(ceiling), keyed(ampacity)),
        keyed(device),
    );
    sheet.output("minimum-circuit-ampacity", ampacity);
    sheet.output("ceiling", ceiling);
    sheet.output("maximum-overcurrent-protection", device);
    let least_rule = sheet.rule("product-mca");
    let most_rule = sheet.rule("product-mop");
    sheet.note("a maker may mark a smaller device than this sum allows, and the nameplate rules");
    let found = format!(
        "the parts give a minimum of {} and a maximum of {}",
        text(ampacity),
        text(device)
    );
    let printed_least: Option<ElectricCurrent> = sheet.maybe("minimum-circuit-ampacity");
    let printed_most: Option<ElectricCurrent> = sheet.maybe("maximum-overcurrent-protection");
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
                "disagrees",
                format!("{found}; the nameplate prints a minimum of {}", text(least)),
            );
        }
    }
    if let Some(most) = printed_most {
        sheet.at_most("printed maximum", most, device, most_rule);
        if exceeds(most, device) {
            return sheet.verdict(
                "disagrees",
                format!("{found}; the nameplate prints a maximum of {}", text(most)),
            );
        }
        lower = exceeds(device, most);
    }
    if lower {
        return sheet.verdict(
            "marked-lower",
            format!("{found}; the nameplate allows less, and it rules"),
        );
    }
    if printed_least.is_some() || printed_most.is_some() {
        return sheet.verdict("agrees", format!("{found}, as the nameplate prints"));
    }
    sheet.verdict("worked-out", found)
}
