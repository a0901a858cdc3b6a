//! Volts, amperes, ohms and watts: any two give the others.

use super::prelude::*;

calculation! {
    "ohms-law": "Volts, amperes, ohms and watts from any two of them";
    inputs {
        VOLTAGE = Voltage("voltage", "Volts across it.").between(0.0, 1e5).optional();
        CURRENT = Current("current", "Amperes through it.").between(0.0, 1e5).optional();
        RESISTANCE = Resistance("resistance", "Ohms of it.").between(0.0, 1e12).optional();
        POWER = Power("power", "Watts in it.").in_unit("W").between(0.0, 1e9).optional();
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
    let (voltage, current, resistance, power) = (
        sheet.maybe(VOLTAGE).map(Known::number),
        sheet.maybe(CURRENT).map(Known::number),
        sheet.maybe(RESISTANCE).map(Known::number),
        sheet.maybe(POWER).map(Known::number),
    );
    let given = [voltage, current, resistance, power].iter().flatten().count();
    let (volts, amps, formulas) = match (voltage, current, resistance, power) {
        _ if given > 2 => {
            return Err(InputError::Contradiction {
                what: format!(
                    "{given} of `voltage`, `current`, `resistance`, `power` are given; give any two, the others follow"
                ),
            });
        }
        (Some(volts), Some(amps), _, _) => (volts, amps, ["R = V / I", "P = V x I"]),
        (Some(volts), _, Some(ohms), _) => (volts, volts / ohms, ["I = V / R", "P = V^2 / R"]),
        (Some(volts), _, _, Some(watts)) => (volts, watts / volts, ["I = P / V", "R = V^2 / P"]),
        (_, Some(amps), Some(ohms), _) => (amps * ohms, amps, ["V = I x R", "P = I^2 x R"]),
        (_, Some(amps), _, Some(watts)) => (watts / amps, amps, ["V = P / I", "R = P / I^2"]),
        (_, _, Some(ohms), Some(watts)) => (
            (watts * ohms).sqrt(),
            (watts / ohms).sqrt(),
            ["V = sqrt(P x R)", "I = sqrt(P / R)"],
        ),
        (None, None, _, _) => return Err(sheet.missing(VOLTAGE)),
        (Some(_), ..) => return Err(sheet.missing(CURRENT)),
        (None, Some(_), ..) => return Err(sheet.missing(VOLTAGE)),
    };
    let ohms = resistance.unwrap_or(volts / amps);
    let watts = power.unwrap_or(volts * amps);
    let amount = |kind, base| Quantity { kind, base };
    if [volts, amps, ohms, watts]
        .iter()
        .any(|number| !number.is_finite())
    {
        return sheet.cannot_tell("one of the two is zero, so the others have no definite value");
    }
    let all = [
        ("voltage", amount(Kind::Voltage, volts)),
        ("current", amount(Kind::Current, amps)),
        ("resistance", amount(Kind::Resistance, ohms)),
        ("power", amount(Kind::Power, watts)),
    ];
    let shown = all.map(|(_, quantity)| quantity.to_string()).join(", ");
    for formula in formulas {
        let (found, put_in) = put_in(formula, &all.map(|(_, quantity)| quantity));
        sheet.line(formula, put_in, found);
    }
    let [voltage, current, resistance, power] = all.map(|(_, quantity)| quantity);
    sheet.output(VOLTAGE_OUT, voltage);
    sheet.output(CURRENT_OUT, current);
    sheet.output(RESISTANCE_OUT, resistance);
    sheet.output(POWER_OUT, power);
    sheet.source("Ohm's and Joule's laws; power factor 1");
    sheet.verdict(WORKED_OUT, shown)
}

/// Puts the amounts of `V`, `I`, `R` and `P` into a formula; returns what its left side is, and the right side.
fn put_in(formula: &str, all: &[Quantity; 4]) -> (String, String) {
    let amount = |symbol: char| {
        let at = "VIRP".find(symbol)?;
        Some(keyed(all[at]))
    };
    let (left, right) = formula.split_once(" = ").unwrap_or(("", formula));
    let found = left.chars().find_map(amount).unwrap_or_default();
    let squared = |amount: String, next: Option<&char>| {
        if next == Some(&'^') {
            format!("({amount})")
        } else {
            amount
        }
    };
    let mut text = String::new();
    let mut symbols = right.chars().peekable();
    while let Some(symbol) = symbols.next() {
        match amount(symbol) {
            Some(amount) => text.push_str(&squared(amount, symbols.peek())),
            None => text.push(symbol),
        }
    }
    (found, text)
}
