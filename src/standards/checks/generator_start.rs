//! Whether a generator or inverter starts a compressor.

use super::prelude::*;

calculation! {
    "generator-start": "Generator or inverter against running and starting volt-amperes";
    inputs {
        LOCKED_ROTOR "LRA" = Current("locked-rotor-current", "Locked-rotor current of the largest motor.");
        SUPPLY "V" = Voltage("supply-voltage", "Voltage of the motor.");
        OTHER_LOAD "other" = ApparentPower("other-load", "Everything else that runs meanwhile.")
            .between(0.0, 1e6).or("0 VA");
        SURGE_RATING = ApparentPower("surge-rating", "Volt-amperes the source gives for a start.")
            .between(1.0, 1e8);
        RUNNING_RATING = ApparentPower("running-rating", "Volt-amperes the source gives continuously.")
            .between(1.0, 1e8).optional();
        RUNNING_CURRENT "I" = Current("running-current", "Running current of that motor.").optional();
        PHASES;
    }
    outputs {
        STARTING_LOAD "S" = ApparentPower("starting-load", "Locked rotor and everything else.");
        RUNNING_LOAD "S_running" = ApparentPower("running-load", "Running, when the running current is given.");
    }
    verdicts {
        STARTS = plain("starts", "The source gives what the start asks for.");
        MAY_START = plain("may-start", "The start asks for more, up to half as much again: it may start with a deep sag.");
        TOO_SMALL = plain("too-small", "The start asks for far more than the source gives.");
        OVERLOADED_RUNNING = plain("overloaded-running", "It starts, and is overloaded while it runs.");
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let (locked, supply) = (sheet.need(LOCKED_ROTOR)?, sheet.need(SUPPLY)?);
    let (other, surge) = (sheet.need(OTHER_LOAD)?, sheet.need(SURGE_RATING)?);
    let (three, _) = phase_factor(&sheet);
    let load = |sheet: &mut Sheet<'_>, output, current: Known<Current>| {
        if three {
            sheet.give(output, ROOT_3 * supply * current + other)
        } else {
            sheet.give(output, supply * current + other)
        }
    };
    let start = load(&mut sheet, STARTING_LOAD, locked);
    sheet.at_most("start", start, surge, "rating of the source as given");
    sheet.source(format!(
        "definition of apparent power; allowance of half as much again: {COMMON}"
    ));
    sheet.note(
        "a start device lowers the locked-rotor current; inverter-driven compressors have none worth naming",
    );
    if let (Some(running), Some(rated)) = (sheet.maybe(RUNNING_CURRENT), sheet.maybe(RUNNING_RATING)) {
        if running.exceeds(locked) {
            return Err(contradiction(format!(
                "`running-current` {running} is above `locked-rotor-current` {locked}; the two have been swapped"
            )));
        }
        let load = load(&mut sheet, RUNNING_LOAD, running);
        sheet.at_most("running", load, rated, "rating of the source as given");
        if load.exceeds(rated) && !start.exceeds(surge) {
            return sheet.verdict(
                OVERLOADED_RUNNING,
                format!("{load} running on a source for {rated}"),
            );
        }
    }
    let verdict = match () {
        () if start.exceeds(surge * 1.5) => TOO_SMALL,
        () if start.exceeds(surge) => MAY_START,
        () => STARTS,
    };
    sheet.verdict(
        verdict,
        format!("{start} to start on a source that gives {surge}"),
    )
}
