//! Temperature of a winding from its resistance cold and hot.

use super::prelude::*;
use crate::electrical::winding::temperature_from_resistance;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "winding-temperature",
    title: "Winding temperature from its resistance cold and hot",
    inputs: &[
        resistance("cold-resistance", "Ohms of the winding cold.").read(),
        resistance("hot-resistance", "Ohms of the winding right after it stopped."),
        Input::quantity(
            "cold-temperature",
            Kind::Temperature,
            "Temperature of the winding cold.",
        )
        .between(-40.0, 100.0),
        Input::quantity(
            "metal-constant",
            Kind::Ratio,
            "Degrees C below zero at which the metal's line meets no ohms: 234.5 copper, 228 aluminum (225 in IEEE 112).",
        )
        .in_unit("")
        .between(200.0, 260.0)
        .or("234.5"),
        Input::quantity(
            "temperature-limit",
            Kind::Temperature,
            "Limit of the insulation class: A 105, B 130, F 155, H 180 C.",
        )
        .between(50.0, 250.0)
        .or("130 C"),
    ],
    outputs: &[
        Output::quantity(
            "hot-temperature",
            Kind::Temperature,
            "Average temperature of the winding.",
        ),
        Output::quantity("rise", Kind::TemperatureRise, "Above the cold temperature."),
    ],
    verdicts: &[
        VerdictKind::plain("within", "Not above the limit of the insulation class."),
        VerdictKind::plain("too-hot", "Above the limit of the insulation class."),
    ],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &[])?;
    let cold: ElectricalResistance = sheet.need("cold-resistance")?;
    let hot: ElectricalResistance = sheet.need("hot-resistance")?;
    let at: ThermodynamicTemperature = sheet.need("cold-temperature")?;
    let constant: f64 = sheet.need("metal-constant")?;
    let limit: Quantity = sheet.need("temperature-limit")?;
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
    sheet.work(
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
    sheet.output("hot-temperature", found);
    sheet.output("rise", rise);
    sheet.source(
        "resistance method, IEEE 112 and NEMA MG 1; insulation class limits from memory of IEC 60085",
    );
    sheet.note("the hottest spot is some 10 C above this average");
    sheet.at_most("winding", found, limit, "insulation class as given");
    let shown = format!("{found} on average, {rise} above cold");
    if found.base > limit.base + 1e-9 {
        sheet.verdict("too-hot", shown)
    } else {
        sheet.verdict("within", shown)
    }
}
