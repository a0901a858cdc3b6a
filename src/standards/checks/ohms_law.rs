//! Volts, amperes, ohms and watts: any two give the others.

use super::prelude::*;

calculation! {
    "ohms-law": "Volts, amperes, ohms and watts from any two of them";
    inputs {
        VOLTAGE "V" = Voltage("voltage", "Volts across it.").between(0.0, 1e5).optional();
        CURRENT "I" = Current("current", "Amperes through it.").between(0.0, 1e5).optional();
        RESISTANCE "R" = Resistance("resistance", "Ohms of it.").between(0.0, 1e12).optional();
        POWER "P" = Power("power", "Watts in it.").in_unit("W").between(0.0, 1e9).optional();
    }
    outputs {
        VOLTAGE_OUT = Voltage("voltage", "Volts across it.");
        CURRENT_OUT = Current("current", "Amperes through it.");
        RESISTANCE_OUT = Resistance("resistance", "Ohms of it.");
        POWER_OUT = Power("power", "Watts in it.");
    }
    verdicts {
        WORKED_OUT;
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let (voltage, current) = (sheet.maybe(VOLTAGE), sheet.maybe(CURRENT));
    let (resistance, power) = (sheet.maybe(RESISTANCE), sheet.maybe(POWER));
    let given = [
        voltage.is_some(),
        current.is_some(),
        resistance.is_some(),
        power.is_some(),
    ];
    let given = given.into_iter().filter(|given| *given).count();
    let (v, i, r, p) = match (voltage, current, resistance, power) {
        _ if given > 2 => {
            return Err(contradiction(format!(
                "{given} of `voltage`, `current`, `resistance`, `power` are given; give any two, the others follow"
            )));
        }
        (Some(v), Some(i), _, _) => (v, i, sheet.work("R", v / i), sheet.work("P", v * i)),
        (Some(v), _, Some(r), _) => (v, sheet.work("I", v / r), r, sheet.work("P", v.squared() / r)),
        (Some(v), _, _, Some(p)) => (v, sheet.work("I", p / v), sheet.work("R", v.squared() / p), p),
        (_, Some(i), Some(r), _) => (sheet.work("V", i * r), i, r, sheet.work("P", i.squared() * r)),
        (_, Some(i), _, Some(p)) => (sheet.work("V", p / i), i, sheet.work("R", p / i.squared()), p),
        (_, _, Some(r), Some(p)) => {
            let v = Known::fixed(volts((p.number() * r.number()).sqrt()));
            sheet.line(
                "V = sqrt(P x R)",
                format!("sqrt({} x {})", keyed(p), keyed(r)),
                keyed(v),
            );
            let i = Known::fixed(amps((p.number() / r.number()).sqrt()));
            sheet.line(
                "I = sqrt(P / R)",
                format!("sqrt({} / {})", keyed(p), keyed(r)),
                keyed(i),
            );
            (v, i, r, p)
        }
        (Some(_), ..) => return Err(sheet.missing(CURRENT)),
        (None, ..) => return Err(sheet.missing(VOLTAGE)),
    };
    if [v.number(), i.number(), r.number(), p.number()]
        .iter()
        .any(|number| !number.is_finite())
    {
        sheet.no_working();
        return sheet.cannot_tell("one of the two is zero, so the others have no definite value");
    }
    sheet.output(VOLTAGE_OUT, v);
    sheet.output(CURRENT_OUT, i);
    sheet.output(RESISTANCE_OUT, r);
    sheet.output(POWER_OUT, p);
    sheet.source("Ohm's and Joule's laws; power factor 1");
    sheet.verdict(WORKED_OUT, format!("{v}, {i}, {r}, {p}"))
}
