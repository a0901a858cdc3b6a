//! Temperature of a winding from its resistance cold and hot.

use super::prelude::*;
use crate::electrical::winding::temperature_from_resistance;

calculation! {
    "winding-temperature": "Winding temperature from its resistance cold and hot";
    inputs {
        COLD_RESISTANCE = Resistance("cold-resistance", "Ohms of the winding cold.").read();
        HOT_RESISTANCE = Resistance("hot-resistance", "Ohms of the winding right after it stopped.");
        COLD_TEMPERATURE = Temperature("cold-temperature", "Temperature of the winding cold.")
            .between(-40.0, 100.0);
        METAL_CONSTANT = Ratio("metal-constant", "Degrees C below zero at which the metal's line meets no ohms: 234.5 copper, 228 aluminum (225 in IEEE 112).")
            .in_unit("").between(200.0, 260.0).or("234.5");
        TEMPERATURE_LIMIT = Temperature("temperature-limit", "Limit of the insulation class: A 105, B 130, F 155, H 180 C.")
            .between(50.0, 250.0).or("130 C");
    }
    outputs {
        HOT_TEMPERATURE = Temperature("hot-temperature", "Average temperature of the winding.");
        RISE = Rise("rise", "Above the cold temperature.");
    }
    verdicts {
        WITHIN = plain("within", "Not above the limit of the insulation class.");
        TOO_HOT = plain("too-hot", "Above the limit of the insulation class.");
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let cold = sheet.need(COLD_RESISTANCE)?.get();
    let hot = sheet.need(HOT_RESISTANCE)?.get();
    let at = sheet.need(COLD_TEMPERATURE)?.get();
    let constant = sheet.need(METAL_CONSTANT)?.number();
    let limit = sheet.need(TEMPERATURE_LIMIT)?.quantity();
    // Two percent is what two readings of one ohmmeter may differ by: common practice, no source.
    if share(hot, cold) < 0.98 {
        return Err(InputError::Contradiction {
            what: format!(
                "`hot-resistance` {} is below `cold-resistance` {}, and the ohms of a winding only rise with heat: the two are swapped, one is misread, or turns are shorted",
                text(hot),
                text(cold)
            ),
        });
    }
    if share(hot, cold) > 2.5 {
        return Err(InputError::Contradiction {
            what: format!(
                "`hot-resistance` {} is more than two and a half times `cold-resistance` {}; no winding survives that heat, so read both again",
                text(hot),
                text(cold)
            ),
        });
    }
    let found = Quantity::from(temperature_from_resistance(cold, hot, at, constant));
    let rise = Quantity {
        kind: Kind::TemperatureRise,
        base: found.base - at.get::<degree_celsius>(),
    };
    sheet.line(
        "T = R_hot / R_cold x (k + T_cold) - k",
        format!(
            "{} / {} x ({k} + {}) - {k}",
            as_read(hot),
            as_read(cold),
            as_read(at),
            k = keyed_number(constant)
        ),
        as_read(found),
    );
    sheet.output(HOT_TEMPERATURE, found);
    sheet.output(RISE, rise);
    sheet.source(
        "resistance method, IEEE 112 and NEMA MG 1; insulation class limits from memory of IEC 60085",
    );
    sheet.note("the hottest spot is some 10 C above this average");
    sheet.at_most("winding", found, limit, "insulation class as given");
    let shown = format!("{found} on average, {rise} above cold");
    if found.base > limit.base + 1e-9 {
        sheet.verdict(TOO_HOT, shown)
    } else {
        sheet.verdict(WITHIN, shown)
    }
}
