//! Current unbalance of a three-phase motor, and single-phasing.

use super::prelude::*;
use crate::electrical::unbalance::unbalance;

calculation! {
    "current-unbalance": "Current unbalance of three phases, and a lost phase";
    inputs {
        CURRENT_A = Current("current-a", "Line A.").read();
        CURRENT_B = Current("current-b", "Line B.").read();
        CURRENT_C = Current("current-c", "Line C.").read();
        VOLTAGE_UNBALANCE = Ratio("voltage-unbalance", "Voltage unbalance at the same time.")
            .between(0.0, 0.5).optional();
        UNBALANCE_LIMIT = Ratio("unbalance-limit", "Share at which to look into it.")
            .between(0.01, 0.5).or("10 %");
    }
    outputs {
        AVERAGE_CURRENT = Current("average-current", "Average of the three.");
        CURRENT_UNBALANCE = Ratio("current-unbalance", "Largest deviation over average.");
        EXPLAINED = Ratio("explained", "Current unbalance the voltage unbalance can explain at most.");
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
    let lines: [ElectricCurrent; 3] = [
        sheet.need(CURRENT_A)?.get(),
        sheet.need(CURRENT_B)?.get(),
        sheet.need(CURRENT_C)?.get(),
    ];
    let limit = sheet.need(UNBALANCE_LIMIT)?.number();
    if total(&lines) <= amps(0.0) {
        return sheet.cannot_tell("no current in any line; read again with the motor running");
    }
    let found = unbalance(lines);
    sheet.line(
        "I_avg = (Ia + Ib + Ic) / 3",
        format!("({}) / 3", sum_text(&lines)),
        as_read(found.average),
    );
    sheet.line(
        "unbalance = deviation / I_avg",
        format!(
            "{} / {}",
            as_read(found.largest_deviation),
            as_read(found.average)
        ),
        keyed(Quantity::ratio(found.share)),
    );
    sheet.output(AVERAGE_CURRENT, found.average);
    sheet.output(CURRENT_UNBALANCE, Quantity::ratio(found.share));
    sheet.source(format!("{COMMON}: 10 %; voltage unbalance makes 6 to 10 times as much current unbalance (eng-tips thread on voltage unbalance for motors)"));
    sheet.at_most(
        "current unbalance",
        Quantity::ratio(found.share),
        Quantity::ratio(limit),
        COMMON,
    );
    let smallest = lines.iter().copied().fold(lines[0], ElectricCurrent::min);
    let shown = format!(
        "{} unbalance about {}",
        Quantity::ratio(found.share),
        text(found.average)
    );
    if smallest < largest(&lines) * 0.05 {
        return sheet.verdict(
            SINGLE_PHASING,
            format!("{shown}: one line carries {}", text(smallest)),
        );
    }
    if !exceeds(found.share, limit) {
        return sheet.verdict(BALANCED, shown);
    }
    sheet.note("move all three supply leads on by one terminal: if the odd current stays with the line it is the supply, if it moves with the lead it is the motor");
    let Some(voltages) = sheet.maybe(VOLTAGE_UNBALANCE).map(Known::number) else {
        return sheet.verdict(UNBALANCED, shown);
    };
    let explained = voltages * 10.0;
    sheet.output(EXPLAINED, Quantity::ratio(explained));
    sheet.line(
        "explained at most = 10 x voltage unbalance",
        format!("10 x {}", keyed(Quantity::ratio(voltages))),
        keyed(Quantity::ratio(explained)),
    );
    if exceeds(found.share, explained) {
        sheet.verdict(
            BY_THE_MOTOR,
            format!(
                "{shown}, more than the {} the voltages explain",
                Quantity::ratio(explained)
            ),
        )
    } else {
        sheet.verdict(BY_THE_SUPPLY, format!("{shown}, which the voltages explain"))
    }
}
