//! Resistance of a conductor or winding at another temperature.

use super::prelude::*;
use crate::electrical::winding::resistance_at;

calculation! {
    "resistance-at-temperature": "Resistance of copper or aluminum at another temperature";
    inputs {
        COLD_RESISTANCE = Resistance("cold-resistance", "Ohms at the first temperature.");
        COLD_TEMPERATURE = Temperature("cold-temperature", "First temperature.").between(-60.0, 300.0);
        HOT_TEMPERATURE = Temperature("hot-temperature", "Second temperature.").between(-60.0, 300.0);
        CONDUCTOR_METAL = OneOf<Metal>("conductor-metal", "Metal.").or("copper");
        METAL_CONSTANT = Rise("metal-constant", "Degrees C below zero at which the metal's line meets no ohms: 234.5 soft copper, 241.5 hard-drawn copper, 228 aluminum (225 in IEEE 112).")
            .in_unit("C").between(200.0, 260.0).instead_of(&["conductor-metal"]).optional();
        COEFFICIENT = Ratio("coefficient", "Change per kelvin at the first temperature, instead of the metal's own.")
            .in_unit("").between(0.0005, 0.01).instead_of(&["conductor-metal", "metal-constant"]).optional();
    }
    outputs {
        HOT_RESISTANCE = Resistance("hot-resistance", "Ohms at the second temperature.");
    }
    verdicts {
        WORKED_OUT;
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let cold = sheet.need(COLD_RESISTANCE)?;
    let (from, to) = (sheet.need(COLD_TEMPERATURE)?, sheet.need(HOT_TEMPERATURE)?);
    let coefficient = match sheet.maybe(COEFFICIENT) {
        Some(given) => given.number(),
        None => {
            let constant = match (sheet.maybe(METAL_CONSTANT), sheet.one_of(CONDUCTOR_METAL)) {
                (Some(given), _) => given.number(),
                (None, Some(Metal::Aluminium)) => 228.0,
                (None, _) => 234.5,
            };
            let coefficient = 1.0 / (constant + from.number());
            let put_in = format!("1 / ({constant} + {})", keyed(from));
            sheet.line("a = 1 / (k + T_cold)", put_in, keyed_number(coefficient));
            coefficient
        }
    };
    let hot = Known::fixed(resistance_at(cold.get(), from.get(), to.get(), coefficient));
    let (a, from_read, to_read) = (keyed_number(coefficient), as_read(from), as_read(to));
    sheet.line(
        "R = R_cold x (1 + a x (T - T_cold))",
        format!("{} x (1 + {a} x ({to_read} - {from_read}))", keyed(cold)),
        keyed(hot),
    );
    sheet.output(HOT_RESISTANCE, hot);
    sheet.source(
        "temperature coefficient of resistance; 234.5 for copper and 228 for aluminum as in IEC 60228: Temperature correction for linear resistance measurement - https://cabledatasheet.com/faq-about-cable/temperature-correction-for-linear-resistance-measurement; IEEE 112 takes 225 for aluminum, from memory",
    );
    sheet.verdict(WORKED_OUT, format!("{hot} at {to}"))
}
