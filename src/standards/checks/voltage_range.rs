//! A voltage against the range its equipment is made for.

use super::prelude::*;

/// Shares of the plate outside which it is another supply, or a leg is missing. Common practice, no source.
const FAR: (f64, f64) = (0.7, 1.2);

calculation! {
    "voltage-range": "Voltage at the terminals against the rated voltage and its tolerance";
    inputs {
        RATED_VOLTAGE "V" = Voltage("rated-voltage", "Voltage on the nameplate.");
        MEASURED_VOLTAGE = Voltage("measured-voltage", "Voltage at the terminals, load running.").read();
        TOLERANCE "t" = Ratio("tolerance", "Allowed either way.").between(0.01, 0.3).or("10 %");
        METER_ERROR;
    }
    outputs {
        LOWEST_VOLTAGE "V_low" = Voltage("lowest-voltage", "Rated less tolerance.");
        HIGHEST "V_high" = Voltage("highest-voltage", "Rated plus tolerance.");
    }
    verdicts {
        INSIDE = plain("inside", "Within the tolerance.");
        BELOW = plain("below", "Below the tolerance.");
        ABOVE = plain("above", "Above the tolerance.");
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let (rated, measured) = (sheet.need(RATED_VOLTAGE)?, sheet.need(MEASURED_VOLTAGE)?);
    let tolerance = sheet.need(TOLERANCE)?;
    let low = sheet.give(LOWEST_VOLTAGE, rated * (1.0 - tolerance));
    let high = sheet.give(HIGHEST, rated * (1.0 + tolerance));
    let source = sheet.table(&table::SUPPLY.equipment);
    sheet.at_least("voltage", measured, low, source.clone());
    sheet.at_most("voltage", measured, high, source);
    if measured.get() > rated.get() * FAR.1 {
        sheet.note("far above the plate: leave it off; capacitors burst, boards and windings burn. Find which supply this is");
    }
    if measured.get() < rated.get() * FAR.0 {
        sheet.note(
            "so far below the plate a leg may be missing: start no motor on it, find where the volts go",
        );
    }
    let found = format!("{measured} against {low} to {high}");
    let verdict = match () {
        () if low.exceeds(measured) => BELOW,
        () if measured.exceeds(high) => ABOVE,
        () => INSIDE,
    };
    sheet.verdict(verdict, found)
}
