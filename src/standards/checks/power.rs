//! Watts, volt-amperes and power factor, one phase or three.

use super::prelude::*;

calculation! {
    "power": "Watts, volt-amperes and power factor";
    inputs {
        SUPPLY "V" = Voltage("supply-voltage", "Voltage, line to line on three phases.").optional().read();
        LOAD_CURRENT "I" = Current("load-current", "Line current.").optional().read();
        POWER "P" = Power("power", "Real power.").in_unit("W").between(0.0, 1e8).optional().read();
        POWER_FACTOR "pf" = Ratio("power-factor", "Real over apparent power.")
            .in_unit("").between(0.01, 1.0).optional();
        PHASE_ANGLE = Angle("phase-angle", "Angle between voltage and current, instead of a power factor.")
            .between(0.0, 89.5).instead_of(&["power-factor"]).optional();
        APPARENT_POWER "S" = ApparentPower("apparent-power", "Volt-amperes, where they are known instead of the current.")
            .between(0.0, 1e8).instead_of(&["load-current"]).optional();
        REACTIVE_POWER "Q" = ReactivePower("reactive-power", "Volt-amperes reactive, where they are known.")
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

/// Above it a power factor needs more digits than five to tell its angle.
const NEAR_ONE: f64 = 0.99;

fn work(mut sheet: Sheet<'_>) -> Answer {
    let (three, _) = phase_factor(&sheet);
    let va = |symbol| Symbol::of(symbol, Kind::ApparentPower);
    let voltage = sheet.maybe(SUPPLY);
    let product = match (voltage, sheet.maybe(LOAD_CURRENT)) {
        (Some(voltage), Some(current)) if three => Some(sheet.work(va("S"), ROOT_3 * voltage * current)),
        (Some(voltage), Some(current)) => Some(sheet.work(va("S"), voltage * current)),
        _ => sheet.maybe(APPARENT_POWER),
    };
    let (power, reactive) = (sheet.maybe(POWER), sheet.maybe(REACTIVE_POWER));
    let given = given_factor(&mut sheet);
    let known = [
        product.is_some(),
        power.is_some(),
        reactive.is_some(),
        given.is_some(),
    ];
    if known.into_iter().filter(|known| *known).count() > 2 {
        return Err(contradiction(
            "more than two of volt-amperes (or volts and amperes), `power`, `reactive-power` and `power-factor` \
             (or `phase-angle`) are given; give any two, the others follow",
        ));
    }
    let apparent_of = |base| Known::called("S", Power::of(base)).of_kind(Kind::ApparentPower);
    let one = Known::called("pf", Ratio::of(1.0)).plain();
    let share_of = |power: Known<Power>, apparent: Known<Power>| one.with(power.get() / apparent.get());
    let (apparent, power, factor) = match (product, power, reactive, given) {
        (Some(apparent), Some(power), ..) => {
            let found = share_of(power, apparent).number();
            if !found.is_finite() || found > 1.02 {
                return Err(contradiction(format!(
                    "`power` {power} is above volts times amperes, {apparent}; read them again"
                )));
            }
            let found = sheet.work(Symbol::plain("pf"), power / apparent);
            if found.number() > 1.0 {
                // Two readings may come out up to 2 % over; no load has a power factor above 1.
                sheet.assume("the power read is a little above volts times amperes, as two readings may be: power factor 1");
            }
            let found = found.with(Ratio::of(told_from_one(&mut sheet, found.number())));
            (apparent, power, if found.number() > 1.0 { one } else { found })
        }
        (Some(apparent), None, Some(reactive), _) => {
            let squared = apparent.number().powi(2) - reactive.number().powi(2);
            if squared < 0.0 {
                return Err(contradiction(format!(
                    "`reactive-power` {reactive} is above the volt-amperes, {apparent}; read them again"
                )));
            }
            let power = Known::called("P", Power::of(squared.sqrt()));
            let put_in = format!("sqrt(({})^2 - ({})^2)", as_read(apparent), as_read(reactive));
            sheet.line("P = sqrt(S^2 - Q^2)", put_in, keyed(power));
            (apparent, power, share_of(power, apparent))
        }
        (Some(apparent), None, None, factor) => {
            if factor.is_none() {
                sheet.assume("`power-factor` not given: 1, as for resistive loads");
            }
            let factor = factor.unwrap_or(one);
            (apparent, sheet.work("P", apparent * factor), factor)
        }
        (None, Some(power), Some(reactive), _) => {
            let apparent = apparent_of(power.number().hypot(reactive.number()));
            let put_in = format!("sqrt(({})^2 + ({})^2)", keyed(power), keyed(reactive));
            sheet.line("S = sqrt(P^2 + Q^2)", put_in, keyed(apparent));
            (apparent, power, share_of(power, apparent))
        }
        (None, Some(power), None, Some(factor)) => (sheet.work(va("S"), power / factor), power, factor),
        (None, None, Some(reactive), Some(factor)) => {
            let sine = (1.0 - factor.number() * factor.number()).sqrt();
            if sine < 1e-6 {
                return sheet
                    .cannot_tell("at a power factor of 1 there is no reactive power, so it tells nothing");
            }
            let apparent = apparent_of(reactive.number() / sine);
            let (formula, sine_put_in) = sine_of(&sheet, factor.number());
            let put_in = format!("{} / {sine_put_in}", keyed(reactive));
            sheet.line(&format!("S = Q / {formula}"), put_in, keyed(apparent));
            (apparent, power_of(apparent, factor), factor)
        }
        (None, Some(power), None, None) if voltage.is_some() => {
            sheet.assume("`power-factor` not given: 1, as for resistive loads");
            (power.of_kind(Kind::ApparentPower).named("S"), power, one)
        }
        (None, Some(_), None, None) | (None, None, Some(_), None) => return Err(sheet.missing(POWER_FACTOR)),
        (None, None, None, _) => return Err(sheet.missing(SUPPLY)),
    };
    let factor = factor.number();
    if !factor.is_finite() {
        return sheet.cannot_tell("with no volt-amperes at all there is no power factor");
    }
    sheet.output(APPARENT_POWER_OUT, apparent);
    sheet.output(POWER_OUT, power);
    sheet.output(POWER_FACTOR_OUT, Quantity::ratio(factor));
    if let Some(voltage) = voltage {
        let current = line_current(&mut sheet, apparent.named("S"), voltage, three);
        sheet.output(LOAD_CURRENT_OUT, current);
    }
    // An angle near zero hangs on the last figures of its cosine: it is worked out of what is given, where that tells more.
    let factor = factor.min(1.0);
    let (angle, reactive) = match (sheet.maybe(PHASE_ANGLE), reactive) {
        (Some(angle), _) => (angle.quantity(), None),
        (None, Some(reactive)) if factor > NEAR_ONE => {
            let angle = degrees((reactive.number() / power.number()).atan());
            let put_in = format!("atan({} / {})", keyed(reactive), keyed(power));
            sheet.line("angle = atan(Q / P)", put_in, keyed(angle));
            (angle, Some(reactive))
        }
        (None, reactive) => {
            let angle = degrees(factor.acos());
            let put_in = format!("acos({})", cosine(factor));
            sheet.line("angle = acos(pf)", put_in, keyed(angle));
            (angle, reactive)
        }
    };
    let reactive = reactive.unwrap_or_else(|| {
        let reactive = apparent.number() * (1.0 - factor * factor).max(0.0).sqrt();
        let reactive = apparent.with(Power::of(reactive)).of_kind(Kind::ReactivePower);
        let (formula, sine) = sine_of(&sheet, factor);
        let put_in = format!("{} x {sine}", keyed(apparent));
        sheet.line(&format!("Q = S x {formula}"), put_in, keyed(reactive));
        reactive
    });
    sheet.output(PHASE_ANGLE_OUT, angle);
    sheet.output(REACTIVE_POWER_OUT, reactive);
    sheet.source("definition of power factor; balanced load on three phases");
    let found = format!("{power}, {apparent} and {reactive} at a power factor of {factor:.2}");
    sheet.verdict(WORKED_OUT, found)
}

fn power_of(apparent: Known<Power>, factor: Known<Ratio>) -> Known<Power> {
    Known::called("P", apparent.get() * factor.get())
}

fn degrees(radians: f64) -> Quantity {
    Quantity {
        kind: Kind::Angle,
        base: radians.to_degrees(),
    }
}

/// A power factor for a line that takes its angle.
fn cosine(factor: f64) -> String {
    let factor = Quantity {
        kind: Kind::Count,
        base: factor,
    };
    factor.keyed(if factor.base > NEAR_ONE { 8 } else { 5 })
}

/// The sine of the angle, as formula and as put in.
fn sine_of(sheet: &Sheet<'_>, factor: f64) -> (&'static str, String) {
    match sheet.maybe(PHASE_ANGLE) {
        Some(angle) => ("sin(angle)", format!("sin({})", keyed(angle))),
        None => ("sin(acos(pf))", format!("sin(acos({}))", cosine(factor))),
    }
}

/// The power factor as given, or the cosine of the angle given.
fn given_factor(sheet: &mut Sheet<'_>) -> Option<Known<Ratio>> {
    let Some(angle) = sheet.maybe(PHASE_ANGLE) else {
        let given = sheet.maybe(POWER_FACTOR)?.plain();
        return Some(given.with(Ratio::of(told_from_one(sheet, given.number()))));
    };
    let factor = angle.number().to_radians().cos();
    sheet.line(
        "pf = cos(angle)",
        format!("cos({})", keyed(angle)),
        keyed_number(factor),
    );
    Some(Known::called("pf", Ratio::of(factor)).plain())
}

/// A power factor, or 1 where the digits of a pocket calculator and of any meter do not tell the two apart.
fn told_from_one(sheet: &mut Sheet<'_>, factor: f64) -> f64 {
    if factor < 1.0 && 1.0 - factor < 1e-6 {
        sheet.assume("a power factor within a millionth of 1 counts as 1: no meter tells them apart");
        return 1.0;
    }
    factor
}
