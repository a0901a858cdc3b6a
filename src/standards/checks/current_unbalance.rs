//! Current unbalance of a three-phase motor, and single-phasing.

use super::prelude::*;
use crate::electrical::unbalance::unbalance;

calculation! {
    "current-unbalance": "Current unbalance of three phases, and a lost phase";
    inputs {
        CURRENT_A "Ia" = Current("current-a", "Line A.").read();
        CURRENT_B "Ib" = Current("current-b", "Line B.").read();
        CURRENT_C "Ic" = Current("current-c", "Line C.").read();
        VOLTAGE_UNBALANCE "voltage unbalance" = Ratio("voltage-unbalance", "Voltage unbalance at the same time.")
            .between(0.0, 0.5).optional();
        UNBALANCE_LIMIT = Ratio("unbalance-limit", "Share at which to look into it.")
            .between(0.01, 0.5).or("10 %");
    }
    outputs {
        AVERAGE_CURRENT "I_avg" = Current("average-current", "Average of the three.").precise();
        CURRENT_UNBALANCE "unbalance" = Ratio("current-unbalance", "Largest deviation over average.");
        EXPLAINED "explained at most" = Ratio("explained", "Current unbalance the voltage unbalance can explain at most.");
    }
    verdicts {
        BALANCED = plain("balanced", "Not above the limit.");
        BY_THE_SUPPLY = plain("by-the-supply", "Above the limit, and the voltage unbalance explains it.");
        BY_THE_MOTOR = plain("by-the-motor", "Above the limit, and the voltage unbalance does not explain it.");
        UNBALANCED = plain("unbalanced", "Above the limit; the voltages were not given.");
        SINGLE_PHASING = plain("single-phasing", "One line carries next to nothing: a phase is lost. Stop the motor.");
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let lines = [
        sheet.need(CURRENT_A)?,
        sheet.need(CURRENT_B)?,
        sheet.need(CURRENT_C)?,
    ];
    let [a, b, c] = lines;
    let limit = sheet.need(UNBALANCE_LIMIT)?;
    let lines = lines.map(Known::get);
    if total(&lines) <= amps(0.0) {
        return sheet.cannot_tell("no current in any line; read again with the motor running");
    }
    let average = sheet.give(AVERAGE_CURRENT, (a + b + c) / 3.0);
    let deviation = Known::called("deviation", unbalance(lines).largest_deviation).as_read();
    let found = sheet.give(CURRENT_UNBALANCE, deviation / average);
    sheet.source(format!("{COMMON}: 10 %; voltage unbalance makes 6 to 10 times as much current unbalance (eng-tips thread on voltage unbalance for motors)"));
    sheet.at_most("current unbalance", found, limit, COMMON);
    let smallest = lines.into_iter().fold(lines[0], ElectricCurrent::min);
    let shown = format!("{found} unbalance about {average}");
    if smallest < largest(&lines) * 0.05 {
        return sheet.verdict(
            SINGLE_PHASING,
            format!("{shown}: one line carries {}", text(smallest)),
        );
    }
    if !found.exceeds(limit) {
        return sheet.verdict(BALANCED, shown);
    }
    sheet.note("move all three supply leads on by one terminal: if the odd current stays with the line it is the supply, if it moves with the lead it is the motor");
    let Some(voltages) = sheet.maybe(VOLTAGE_UNBALANCE) else {
        return sheet.verdict(UNBALANCED, shown);
    };
    let explained = sheet.give(EXPLAINED, 10.0 * voltages);
    if found.exceeds(explained) {
        sheet.verdict(
            BY_THE_MOTOR,
            format!("{shown}, more than the {explained} the voltages explain"),
        )
    } else {
        sheet.verdict(BY_THE_SUPPLY, format!("{shown}, which the voltages explain"))
    }
}
