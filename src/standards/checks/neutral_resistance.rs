//! Resistance of the neutral from the two legs, at rest and with a known load on one.

use super::prelude::*;

calculation! {
    "neutral-resistance": "Ohms of the neutral from the rise of the other leg under a known load";
    inputs {
        TEST_LOAD_CURRENT = Current("test-load-current", "Current of the 120 V load put on one leg.")
            .between(1.0, 400.0).read();
        LOADED_LEG_AT_REST = Voltage("loaded-leg-at-rest", "Leg of the load, load off.");
        LOADED_LEG_LOADED = Voltage("loaded-leg-loaded", "Leg of the load, load on.");
        OTHER_LEG_AT_REST = Voltage("other-leg-at-rest", "Other leg, load off.");
        OTHER_LEG_LOADED = Voltage("other-leg-loaded", "Other leg, load on.");
        VOLTAGE_RESOLUTION = Voltage("voltage-resolution", "Smallest step the meter shows.")
            .between(0.001, 10.0).or("0.1 V");
    }
    outputs {
        NEUTRAL_RESISTANCE = Resistance("neutral-resistance", "Ohms of the neutral from source to panel.");
        LEG_RESISTANCE = Resistance("leg-resistance", "Ohms of the loaded leg and its half of the transformer.");
        NEUTRAL_HEAT = Power("neutral-heat", "Heat in the neutral at that current.");
    }
    verdicts {
        SOUND = plain("sound", "At most 0.2 ohm.");
        POOR = plain("poor", "Above 0.2 ohm: a joint of the neutral is bad.");
        OPEN = plain("open", "Above 5 ohm: the neutral is all but open. Leave 120 V loads off and call the utility.");
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let current = sheet.need(TEST_LOAD_CURRENT)?.get();
    let loaded: (ElectricPotential, ElectricPotential) = (
        sheet.need(LOADED_LEG_AT_REST)?.get(),
        sheet.need(LOADED_LEG_LOADED)?.get(),
    );
    let other: (ElectricPotential, ElectricPotential) = (
        sheet.need(OTHER_LEG_AT_REST)?.get(),
        sheet.need(OTHER_LEG_LOADED)?.get(),
    );
    let step = sheet.need(VOLTAGE_RESOLUTION)?.get();
    // A bad neutral shifts volts from one leg to the other; it adds none to the two together.
    if exceeds(loaded.1 + other.1, (loaded.0 + other.0) * 1.1) {
        return Err(InputError::Contradiction {
            what: format!(
                "the two legs make {} at rest and {} under load, and a load adds no voltage; read all four again",
                text(loaded.0 + other.0),
                text(loaded.1 + other.1)
            ),
        });
    }
    let (rise, fall) = (other.1 - other.0, loaded.0 - loaded.1);
    // The unloaded leg carries no test current, so its rise is the drop of the neutral alone.
    let neutral = rise / current;
    let leg = (fall - rise) / current;
    let fuzz = step / current;
    sheet.line(
        "R_neutral = (V_other loaded - V_other at rest) / I",
        format!(
            "({} - {}) / {}",
            as_read(other.1),
            as_read(other.0),
            keyed(current)
        ),
        keyed(neutral),
    );
    sheet.line(
        "R_leg = (fall - rise) / I",
        format!("({} - {}) / {}", as_read(fall), as_read(rise), keyed(current)),
        keyed(leg),
    );
    sheet.line(
        "smallest ohms this meter can tell = step / I",
        format!("{} / {}", keyed(step), keyed(current)),
        keyed(fuzz),
    );
    sheet.source(format!("Kirchhoff's laws; limits of 0.2 and 5 ohm: {COMMON}"));
    sheet.assume("nothing else on either leg changed meanwhile");
    if rise < -step {
        return sheet
            .cannot_tell("the other leg fell too, so the supply moved or another load came on; read again");
    }
    if fuzz > ohms(0.2) {
        return sheet.cannot_tell(format!(
            "this load and meter tell no less than {}: use a larger load",
            text(fuzz)
        ));
    }
    let neutral = neutral.max(ohms(0.0));
    sheet.output(NEUTRAL_RESISTANCE, neutral);
    if leg > ohms(0.0) {
        sheet.output(LEG_RESISTANCE, leg);
    }
    sheet.output(NEUTRAL_HEAT, crate::electrical::joint::heat(neutral, current));
    sheet.at_most("neutral", neutral, ohms(0.2), COMMON);
    let found = format!("{} of neutral", text(neutral));
    if neutral > ohms(5.0) {
        sheet.verdict(OPEN, found)
    } else if exceeds(neutral, ohms(0.2)) {
        sheet.verdict(POOR, found)
    } else {
        sheet.verdict(SOUND, found)
    }
}
