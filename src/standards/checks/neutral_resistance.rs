//! Resistance of the neutral from the two legs, at rest and with a known load on one.

use super::prelude::*;

calculation! {
    "neutral-resistance": "Ohms of the neutral from the rise of the other leg under a known load";
    inputs {
        TEST_LOAD_CURRENT "I" = Current("test-load-current", "Current of the 120 V load put on one leg.")
            .between(1.0, 400.0).read();
        LOADED_LEG_AT_REST = Voltage("loaded-leg-at-rest", "Leg of the load, load off.");
        LOADED_LEG_LOADED = Voltage("loaded-leg-loaded", "Leg of the load, load on.");
        OTHER_LEG_AT_REST "V_other at rest" = Voltage("other-leg-at-rest", "Other leg, load off.");
        OTHER_LEG_LOADED "V_other loaded" = Voltage("other-leg-loaded", "Other leg, load on.");
        VOLTAGE_RESOLUTION "step" = Voltage("voltage-resolution", "Smallest step the meter shows.")
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
    let current = sheet.need(TEST_LOAD_CURRENT)?;
    let loaded = (
        sheet.need(LOADED_LEG_AT_REST)?.get(),
        sheet.need(LOADED_LEG_LOADED)?.get(),
    );
    let other = (
        sheet.need(OTHER_LEG_AT_REST)?.as_read(),
        sheet.need(OTHER_LEG_LOADED)?.as_read(),
    );
    let step = sheet.need(VOLTAGE_RESOLUTION)?;
    // A bad neutral shifts volts from one leg to the other; it adds none to the two together.
    let (at_rest, under_load) = (loaded.0 + other.0.get(), loaded.1 + other.1.get());
    if exceeds(under_load, at_rest * 1.1) {
        return Err(contradiction(format!(
            "the two legs make {} at rest and {} under load, and a load adds no voltage; read all four again",
            text(at_rest),
            text(under_load)
        )));
    }
    let rise = Known::called("rise", (other.1 - other.0).value()).as_read();
    let fall = Known::called("fall", loaded.0 - loaded.1).as_read();
    // The unloaded leg carries no test current, so its rise is the drop of the neutral alone.
    let neutral = sheet.work("R_neutral", (other.1 - other.0) / current);
    let leg = sheet.work("R_leg", (fall - rise) / current);
    let fuzz = sheet.work("smallest ohms this meter can tell", step / current);
    sheet.source(format!("Kirchhoff's laws; limits of 0.2 and 5 ohm: {COMMON}"));
    sheet.assume("nothing else on either leg changed meanwhile");
    if rise.get() < -step.get() {
        return sheet
            .cannot_tell("the other leg fell too, so the supply moved or another load came on; read again");
    }
    if fuzz.number() > 0.2 {
        return sheet.cannot_tell(format!(
            "this load and meter tell no less than {fuzz}: use a larger load"
        ));
    }
    let neutral = neutral.with(neutral.get().max(ohms(0.0)));
    sheet.output(NEUTRAL_RESISTANCE, neutral);
    if leg.number() > 0.0 {
        sheet.output(LEG_RESISTANCE, leg);
    }
    sheet.output(NEUTRAL_HEAT, current.squared() * neutral);
    sheet.at_most("neutral", neutral, ohms(0.2), COMMON);
    let verdict = match neutral.number() {
        above if above > 5.0 => OPEN,
        above if exceeds(above, 0.2) => POOR,
        _ => SOUND,
    };
    sheet.verdict(verdict, format!("{neutral} of neutral"))
}
