//! Watts, volt-amperes and power factor, one phase or three.

use super::prelude::*;

calculation! {
    "power": "Watts, volt-amperes and power factor";
    inputs {
        SUPPLY = Voltage("supply-voltage", "Voltage, line to line on three phases.").optional().read();
        LOAD_CURRENT = Current("load-current", "Line current.").optional().read();
        POWER = Power("power", "Real power.").in_unit("W").between(0.0, 1e8).optional().read();
        POWER_FACTOR = Ratio("power-factor", "Real over apparent power.")
            .in_unit("").between(0.01, 1.0).optional();
        PHASE_ANGLE = Angle("phase-angle", "Angle between voltage and current, instead of a power factor.")
            .between(0.0, 89.5).instead_of(&["power-factor"]).optional();
        APPARENT_POWER = ApparentPower("apparent-power", "Volt-amperes, where they are known instead of the current.")
            .between(0.0, 1e8).instead_of(&["load-current"]).optional();
        REACTIVE_POWER = ReactivePower("reactive-power", "Volt-amperes reactive, where they are known.")
            .between(0.0, 1e8).optional();
        PHASES;
    }
    outputs {
        APPARENT_POWER_OUT = ApparentPower("apparent-power", "Volt-amperes.");
        POWER_OUT = Power("power", "Watts.");
        POWER_FACTOR_OUT = Ratio("power-factor", "Watts over volt-amperes.");
        PHASE_ANGLE_OUT = Angle("phase-angle", "Angle between voltage and current.");
        REACTIVE_POWER_OUT = ReactivePower("reactive-power", "Volt-amperes that do no work.");
        LOAD_CURRENT_OUT = Current("load-current", "Line current, when the voltage is given.");
    }
    verdicts {
        WORKED_OUT;
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let (three, factor) = phase_factor(&sheet);
    let product = match (
        sheet.maybe(SUPPLY).map(Known::get),
        sheet.maybe(LOAD_CURRENT).map(Known::get),
    ) {
        (Some(voltage), Some(current)) => {
            let apparent = voltage * current * factor;
            sheet.line(
                if three { "S = 1.732 x V x I" } else { "S = V x I" },
                format!(
                    "{}{} x {}",
                    if three { "1.732 x " } else { "" },
                    keyed(voltage),
                    keyed(current)
                ),
                keyed(Quantity::apparent(apparent)),
            );
            Some(apparent)
        }
        _ => sheet.maybe(APPARENT_POWER).map(Known::get),
    };
    let power = sheet.maybe(POWER).map(Known::get);
    let reactive: Option<f64> = sheet
        .maybe(REACTIVE_POWER)
        .map(Known::quantity)
        .map(|given| given.base);
    let given = given_factor(&mut sheet);
    let known = [
        product.is_some(),
        power.is_some(),
        reactive.is_some(),
        given.is_some(),
    ];
    if known.into_iter().filter(|known| *known).count() > 2 {
        return Err(InputError::Contradiction {
            what: "more than two of volt-amperes (or volts and amperes), `power`, `reactive-power` and `power-factor` \
                   (or `phase-angle`) are given; give any two, the others follow"
                .to_owned(),
        });
    }
    let (apparent, power, power_factor) = match (product, power, reactive, given) {
        (Some(apparent), Some(power), ..) => {
            let found = share(power, apparent);
            if !found.is_finite() || found > 1.02 {
                return Err(InputError::Contradiction {
                    what: format!(
                        "`power` {} is above volts times amperes, {}; read them again",
                        text(power),
                        Quantity::apparent(apparent)
                    ),
                });
            }
            sheet.line(
                "pf = P / S",
                format!("{} / {}", keyed(power), keyed(Quantity::apparent(apparent))),
                keyed_number(found),
            );
            if found > 1.0 {
                // Two readings may come out up to 2 % over; no load has a power factor above 1.
                sheet.assume("the power read is a little above volts times amperes, as two readings may be: power factor 1");
            }
            (apparent, power, found.min(1.0))
        }
        (Some(apparent), None, Some(reactive), _) => {
            let squared = apparent.get::<watt>().powi(2) - reactive.powi(2);
            if squared < 0.0 {
                return Err(InputError::Contradiction {
                    what: format!(
                        "`reactive-power` {} is above the volt-amperes, {}; read them again",
                        var(reactive),
                        Quantity::apparent(apparent)
                    ),
                });
            }
            let power = Power::new::<watt>(squared.sqrt());
            sheet.line(
                "P = sqrt(S^2 - Q^2)",
                format!(
                    "sqrt(({})^2 - ({})^2)",
                    as_read(Quantity::apparent(apparent)),
                    as_read(var(reactive))
                ),
                keyed(power),
            );
            (apparent, power, share(power, apparent))
        }
        (Some(apparent), None, None, power_factor) => {
            if power_factor.is_none() {
                sheet.assume("`power-factor` not given: 1, as for resistive loads");
            }
            let power_factor = power_factor.unwrap_or(1.0);
            sheet.line(
                "P = S x pf",
                format!(
                    "{} x {}",
                    keyed(Quantity::apparent(apparent)),
                    keyed_number(power_factor)
                ),
                keyed(apparent * power_factor),
            );
            (apparent, apparent * power_factor, power_factor)
        }
        (None, Some(power), Some(reactive), _) => {
            let apparent = Power::new::<watt>(power.get::<watt>().hypot(reactive));
            sheet.line(
                "S = sqrt(P^2 + Q^2)",
                format!("sqrt(({})^2 + ({})^2)", keyed(power), keyed(var(reactive))),
                keyed(Quantity::apparent(apparent)),
            );
            (apparent, power, share(power, apparent))
        }
        (None, Some(power), None, Some(power_factor)) => {
            sheet.line(
                "S = P / pf",
                format!("{} / {}", keyed(power), keyed_number(power_factor)),
                keyed(Quantity::apparent(power / power_factor)),
            );
            (power / power_factor, power, power_factor)
        }
        (None, None, Some(reactive), Some(power_factor)) => {
            let sine = (1.0 - power_factor * power_factor).sqrt();
            if sine < 1e-6 {
                return sheet
                    .cannot_tell("at a power factor of 1 there is no reactive power, so it tells nothing");
            }
            let apparent = Power::new::<watt>(reactive / sine);
            sheet.line(
                "S = Q / sin(acos(pf))",
                format!(
                    "{} / sin(acos({}))",
                    keyed(var(reactive)),
                    keyed_number(power_factor)
                ),
                keyed(Quantity::apparent(apparent)),
            );
            (apparent, apparent * power_factor, power_factor)
        }
        (None, Some(power), None, None) if sheet.maybe(SUPPLY).map(Known::get).is_some() => {
            sheet.assume("`power-factor` not given: 1, as for resistive loads");
            (power, power, 1.0)
        }
        (None, Some(_), None, None) | (None, None, Some(_), None) => {
            return Err(sheet.missing(POWER_FACTOR));
        }
        (None, None, None, _) => return Err(sheet.missing(SUPPLY)),
    };
    if !power_factor.is_finite() {
        return sheet.cannot_tell("with no volt-amperes at all there is no power factor");
    }
    sheet.output(APPARENT_POWER_OUT, Quantity::apparent(apparent));
    sheet.output(POWER_OUT, power);
    sheet.output(POWER_FACTOR_OUT, Quantity::ratio(power_factor));
    if let Some(voltage) = sheet.maybe(SUPPLY).map(Known::get) {
        let current = apparent / voltage / factor;
        sheet.output(LOAD_CURRENT_OUT, current);
        sheet.line(
            if three { "I = S / (1.732 x V)" } else { "I = S / V" },
            over_line_volts(keyed(Quantity::apparent(apparent)), voltage, three),
            keyed(current),
        );
    }
    let reactive = var(apparent.get::<watt>() * (1.0 - power_factor * power_factor).max(0.0).sqrt());
    let angle = Quantity {
        kind: Kind::Angle,
        base: power_factor.min(1.0).acos().to_degrees(),
    };
    // An angle near zero hangs on the last figures of its cosine.
    let cosine = Quantity {
        kind: Kind::Count,
        base: power_factor.min(1.0),
    }
    .keyed(if power_factor > 0.99 { 8 } else { 5 });
    sheet.line("angle = acos(pf)", format!("acos({cosine})"), keyed(angle));
    sheet.line(
        "Q = S x sin(acos(pf))",
        format!("{} x sin(acos({cosine}))", keyed(Quantity::apparent(apparent))),
        keyed(reactive),
    );
    sheet.output(PHASE_ANGLE_OUT, angle);
    sheet.output(REACTIVE_POWER_OUT, reactive);
    sheet.source("definition of power factor; balanced load on three phases");
    sheet.verdict(
        WORKED_OUT,
        format!(
            "{}, {} and {reactive} at a power factor of {power_factor:.2}",
            text(power),
            Quantity::apparent(apparent)
        ),
    )
}

/// Makes a reactive power out of volt-amperes reactive.
fn var(base: f64) -> Quantity {
    Quantity {
        kind: Kind::ReactivePower,
        base,
    }
}

/// The power factor as given, or the cosine of the angle given.
fn given_factor(sheet: &mut Sheet<'_>) -> Option<f64> {
    if let Some(angle) = sheet.maybe(PHASE_ANGLE).map(Known::quantity) {
        let factor = angle.base.to_radians().cos();
        sheet.line(
            "pf = cos(angle)",
            format!("cos({})", keyed(angle)),
            keyed_number(factor),
        );
        return Some(factor);
    }
    sheet.maybe(POWER_FACTOR).map(Known::number)
}
