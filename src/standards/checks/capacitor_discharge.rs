//! How long a capacitor takes to discharge through a resistor.

use super::prelude::*;

calculation! {
    "capacitor-discharge": "How long to hold the resistor across a capacitor before it is measured";
    inputs {
        CAPACITANCE "C" = Capacitance("capacitance", "Capacitance of the section.").between(1e-9, 1.0);
        RESISTOR "R" = Resistance("resistor", "Resistor held across it.").between(10.0, 1e8).or("20 kohm");
        CAPACITOR_VOLTAGE "V" = Voltage("capacitor-voltage", "Peak voltage it may hold.")
            .between(1.0, 2000.0).or("622 V");
        SAFE_VOLTAGE "V_safe" = Voltage("safe-voltage", "Voltage to come below.").between(0.1, 60.0).or("50 V");
    }
    outputs {
        TIME_CONSTANT "tau" = Time("time-constant", "Resistance times capacitance.");
        WAIT "wait" = Time("wait", "Five time constants, or longer when the safe voltage takes longer.");
        PEAK_POWER = Power("peak-power", "Power in the resistor at the first instant.");
    }
    verdicts {
        WORKED_OUT;
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let resistor = sheet.need(RESISTOR)?;
    let (from, to) = (sheet.need(CAPACITOR_VOLTAGE)?, sheet.need(SAFE_VOLTAGE)?);
    let constant = sheet.give(TIME_CONSTANT, resistor * sheet.need(CAPACITANCE)?);
    // At or below the safe voltage from the first there is nothing to wait for.
    let mut to_safe = constant.named("t").with(Time::of(0.0));
    if from.exceeds(to) {
        to_safe = sheet.work("t", constant * ln(from / to));
    }
    let wait = sheet.give(WAIT, larger(5.0 * constant, to_safe));
    sheet.output(PEAK_POWER, from.squared() / resistor);
    sheet.source("exponential discharge; OSHA 29 CFR 1910.333(b)(2)(ii)(C), 50 V as in NFPA 70E - https://www.law.cornell.edu/regulations/washington/WAC-296-24-975");
    sheet
        .note("power off and locked out first; then measure the capacitor: until a meter says so it is live");
    sheet.note("each section of a dual capacitor has to be discharged by itself");
    let found = format!("hold {resistor} across it for at least {wait}, then measure");
    sheet.verdict(WORKED_OUT, found)
}
