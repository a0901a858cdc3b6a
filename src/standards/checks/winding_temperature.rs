//! Temperature of a winding from its resistance cold and hot.
//!
//! It is the average of the winding, and the hottest spot is warmer.

use super::prelude::*;

calculation! {
    "winding-temperature": "Winding temperature from its resistance cold and hot";
    inputs {
        COLD_RESISTANCE "R_cold" = Resistance("cold-resistance", "Ohms of the winding cold.").read();
        HOT_RESISTANCE "R_hot" = Resistance("hot-resistance", "Ohms of the winding right after it stopped.");
        COLD_TEMPERATURE "T_cold" = Celsius("cold-temperature", "Temperature of the winding cold.")
            .between(-40.0, 100.0);
        METAL_CONSTANT "k" = Rise("metal-constant", "Degrees C below zero at which the metal's line meets no ohms: 234.5 copper, 228 aluminum (225 in IEEE 112).")
            .in_unit("C").between(200.0, 260.0).or("234.5");
        TEMPERATURE_LIMIT = Celsius("temperature-limit", "Limit of the insulation class: A 105, B 130, F 155, H 180 C.")
            .between(50.0, 250.0).or("130 C");
    }
    outputs {
        HOT_TEMPERATURE "T" = Celsius("hot-temperature", "Average temperature of the winding.").precise();
        RISE = Rise("rise", "Above the cold temperature.");
    }
    verdicts {
        WITHIN = plain("within", "Not above the limit of the insulation class.");
        TOO_HOT = plain("too-hot", "Above the limit of the insulation class.");
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let (cold, hot) = (
        sheet.need(COLD_RESISTANCE)?.as_read(),
        sheet.need(HOT_RESISTANCE)?.as_read(),
    );
    let (at, limit) = (
        sheet.need(COLD_TEMPERATURE)?.as_read(),
        sheet.need(TEMPERATURE_LIMIT)?,
    );
    let k = sheet.need(METAL_CONSTANT)?.plain();
    // Two percent is what two readings of one ohmmeter may differ by: common practice, no source.
    let times = share(hot.get(), cold.get());
    if times < 0.98 {
        return Err(contradiction(format!(
            "`hot-resistance` {hot} is below `cold-resistance` {cold}, and the ohms of a winding only rise with heat: the two are swapped, one is misread, or turns are shorted"
        )));
    }
    if times > 2.5 {
        return Err(contradiction(format!(
            "`hot-resistance` {hot} is more than two and a half times `cold-resistance` {cold}; no winding survives that heat, so read both again"
        )));
    }
    let found = sheet.give(HOT_TEMPERATURE, hot / cold * (k + at) - k);
    let rise = Known::fixed(found.get() - at.get());
    sheet.output(RISE, rise);
    sheet.source(
        "resistance method, IEEE 112 and NEMA MG 1; insulation class limits from memory of IEC 60085",
    );
    sheet.note("the hottest spot is some 10 C above this average");
    sheet.at_most("winding", found, limit, "insulation class as given");
    let verdict = if found.number() > limit.number() + 1e-9 {
        TOO_HOT
    } else {
        WITHIN
    };
    sheet.verdict(verdict, format!("{found} on average, {rise} above cold"))
}
