//! Reactance of a capacitor, and the current it should pass.

use super::prelude::*;

calculation! {
    "capacitor-reactance": "Reactance of a capacitor and the current it should pass";
    inputs {
        CAPACITANCE "C" = Capacitance("capacitance", "Capacitance.").between(1e-12, 1.0);
        FREQUENCY "f" = Frequency("frequency", "Frequency.").between(1.0, 1e6).or("60 Hz");
        CAPACITOR_VOLTAGE "V" = Voltage("capacitor-voltage", "Voltage across it, to work out its current.")
            .optional();
    }
    outputs {
        REACTANCE "X" = Resistance("reactance", "Reactance.");
        EXPECTED_CURRENT "I" = Current("expected-current", "Current at that voltage.");
    }
    verdicts {
        WORKED_OUT;
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let (capacitance, frequency) = (sheet.need(CAPACITANCE)?, sheet.need(FREQUENCY)?);
    let found = sheet.give(REACTANCE, 1.0 / (2.0 * PI * frequency * capacitance));
    sheet.source("definition of capacitance");
    let Some(voltage) = sheet.maybe(CAPACITOR_VOLTAGE) else {
        return sheet.verdict(WORKED_OUT, found.to_string());
    };
    let current = sheet.give(EXPECTED_CURRENT, voltage / found);
    sheet.verdict(
        WORKED_OUT,
        format!("{found}, which passes {current} at {voltage}"),
    )
}
