//! Resistance of a conductor or winding at another temperature.

use super::prelude::*;
use crate::electrical::winding::resistance_at;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "resistance-at-temperature",
    title: "Resistance of copper or aluminum at another temperature",
    inputs: &[
        resistance("cold-resistance", "Ohms at the first temperature."),
        Input::quantity("cold-temperature", Kind::Temperature, "First temperature.").between(-60.0, 300.0),
        Input::quantity("hot-temperature", Kind::Temperature, "Second temperature.").between(-60.0, 300.0),
        Input::choice("conductor-metal", &["copper", "aluminum"], "Metal.").or("copper"),
        Input::quantity(
            "metal-constant",
            Kind::Ratio,
            "Degrees C below zero at which the metal's line meets no ohms: 234.5 soft copper, 241.5 hard-drawn copper, 228 aluminum (225 in IEEE 112).",
        )
        .in_unit("")
        .between(200.0, 260.0)
        .instead_of(&["conductor-metal"])
        .optional(),
        Input::quantity(
            "coefficient",
            Kind::Ratio,
            "Change per kelvin at the first temperature, instead of the metal's own.",
        )
        .in_unit("")
        .between(0.0005, 0.01)
        .instead_of(&["conductor-metal", "metal-constant"])
        .optional(),
    ],
    outputs: &[Output::quantity(
        "hot-resistance",
        Kind::Resistance,
        "Ohms at the second temperature.",
    )],
    verdicts: &[WORKED_OUT],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &[])?;
    let cold: ElectricalResistance = sheet.need("cold-resistance")?;
    let from: ThermodynamicTemperature = sheet.need("cold-temperature")?;
    let to: ThermodynamicTemperature = sheet.need("hot-temperature")?;
    let given: Option<f64> = sheet.maybe("coefficient");
    let coefficient = match given {
        Some(given) => given,
        None => {
            let constant = sheet.maybe::<f64>("metal-constant").unwrap_or_else(|| {
                if sheet.choice("conductor-metal") == Some("aluminum") {
                    228.0
                } else {
                    234.5
                }
            });
            let coefficient = 1.0 / (constant + from.get::<degree_celsius>());
            sheet.work(
                "a = 1 / (k + T_cold)",
                format!("1 / ({constant} + {})", keyed(from)),
                keyed_number(coefficient),
            );
            coefficient
        }
    };
    let hot = resistance_at(cold, from, to, coefficient);
    sheet.work(
        "R = R_cold x (1 + a x (T - T_cold))",
        format!(
            "{} x (1 + {} x ({} - {}))",
            keyed(cold),
            keyed_number(coefficient),
            as_read(to),
            as_read(from)
        ),
        keyed(hot),
    );
    sheet.output("hot-resistance", hot);
    sheet.source(
        "temperature coefficient of resistance; 234.5 for copper and 228 for aluminum as in IEC 60228: Temperature correction for linear resistance measurement - https://cabledatasheet.com/faq-about-cable/temperature-correction-for-linear-resistance-measurement; IEEE 112 takes 225 for aluminum, from memory",
    );
    sheet.verdict("worked-out", format!("{} at {}", text(hot), text(to)))
}
