//! Volts, amperes, ohms and watts: any two give the others.

use super::prelude::*;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "ohms-law",
    title: "Volts, amperes, ohms and watts from any two of them",
    inputs: &[
        Input::quantity("voltage", Kind::Voltage, "Volts across it.")
            .between(0.0, 1e5)
            .optional(),
        Input::quantity("current", Kind::Current, "Amperes through it.")
            .between(0.0, 1e5)
            .optional(),
        Input::quantity("resistance", Kind::Resistance, "Ohms of it.")
            .between(0.0, 1e12)
            .optional(),
        Input::quantity("power", Kind::Power, "Watts in it.")
            .in_unit("W")
            .between(0.0, 1e9)
            .optional(),
    ],
    outputs: &[
        Output::quantity("voltage", Kind::Voltage, "Volts across it."),
        Output::quantity("current", Kind::Current, "Amperes through it."),
        Output::quantity("resistance", Kind::Resistance, "Ohms of it."),
        Output::quantity("power", Kind::Power, "Watts in it."),
    ],
    verdicts: &[WORKED_OUT],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &[])?;
    let base = |name| sheet.maybe::<Quantity>(name).map(|quantity| quantity.base);
    let (voltage, current, resistance, power) = (
        base("voltage"),
        base("current"),
        base("resistance"),
        base("power"),
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
        (None, None, _, _) => return Err(sheet.missing("voltage")),
        (Some(_), ..) => return Err(sheet.missing("current")),
        (None, Some(_), ..) => return Err(sheet.missing("voltage")),
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
        sheet.work(formula, put_in, found);
    }
    for (name, quantity) in all {
        sheet.output(name, quantity);
    }
    sheet.source("Ohm's and Joule's laws; power factor 1");
    sheet.verdict("worked-out", shown)
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
