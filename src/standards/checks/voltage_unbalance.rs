//! Voltage unbalance of a three-phase supply, and what it does to a motor.

use super::prelude::*;
use crate::electrical::unbalance::extra_rise;

calculation! {
    "voltage-unbalance": "Voltage unbalance of three phases, extra heating and derating";
    inputs {
        VOLTAGE_AB "V1" = Voltage("voltage-ab", "Line A to line B, motor running.").optional().read();
        VOLTAGE_BC "V2" = Voltage("voltage-bc", "Line B to line C, motor running.").optional().read();
        VOLTAGE_CA "V3" = Voltage("voltage-ca", "Line C to line A, motor running.").optional().read();
        VOLTAGE_UNBALANCE "unbalance" = Ratio("voltage-unbalance", "Unbalance already worked out, instead of three voltages.")
            .between(0.0, 1.0).instead_of(&["voltage-ab", "voltage-bc", "voltage-ca"]).optional();
        UNBALANCE_LIMIT = Ratio("unbalance-limit", "Limit of the equipment's maker; 2 % is common, 1 % is the motor standard's.")
            .between(0.001, 0.2).or("2 %");
    }
    outputs {
        AVERAGE_VOLTAGE "V_avg" = Voltage("average-voltage", "Average of the three.").precise();
        LARGEST_DEVIATION "deviation" = Voltage("largest-deviation", "Largest difference from the average.").precise();
        VOLTAGE_UNBALANCE_OUT = Ratio("voltage-unbalance", "Deviation over average.");
        EXTRA_RISE = Ratio("extra-rise", "Increase of the winding's temperature rise.");
        LOAD_FACTOR = Ratio("load-factor", "Share of rated load the motor may carry.");
    }
    verdicts {
        WITHIN = plain("within", "Not above the limit.");
        ABOVE_LIMIT = plain("above-limit", "Above the limit, at most 5 %.");
        DO_NOT_RUN = plain("do-not-run", "Above 5 %: a motor should not run on it.");
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    // Three voltages read with one meter share its error, so the unbalance does not carry it.
    let lines = [VOLTAGE_AB, VOLTAGE_BC, VOLTAGE_CA];
    let part = if let [Some(ab), Some(bc), Some(ca)] = lines.map(|line| sheet.maybe(line)) {
        // Three line voltages close a triangle, so none is above the other two together; 5 % is left to the meter.
        let readings = [ab.get(), bc.get(), ca.get()];
        let [one, two, three] = readings;
        let most = one.max(two).max(three);
        if exceeds(most, (one + two + three - most) * 1.05) {
            return Err(contradiction(format!(
                "{} is above the other two together, and three line voltages always close a triangle: read all three again, line to line",
                text(most)
            )));
        }
        let (ab, bc, ca) = (ab.as_read(), bc.as_read(), ca.as_read());
        let average = sheet.give(AVERAGE_VOLTAGE, (ab + bc + ca) / 3.0);
        let off = |reading: &ElectricPotential| (*reading - average.get()).abs().get::<volt>();
        let farthest = readings
            .into_iter()
            .max_by(|one, other| off(one).total_cmp(&off(other)));
        let farthest = Known::called("V_farthest", farthest.unwrap_or(most)).as_read();
        let deviation = if farthest.get() >= average.get() {
            sheet.give(LARGEST_DEVIATION, farthest - average)
        } else {
            sheet.give(LARGEST_DEVIATION, average - farthest)
        };
        sheet.work("unbalance", deviation / average)
    } else if let Some(given) = sheet.maybe(VOLTAGE_UNBALANCE) {
        given
    } else {
        let missing = lines.into_iter().find(|line| !sheet.is_given(*line));
        return Err(sheet.missing(missing.unwrap_or(VOLTAGE_AB)));
    };
    let rise = Quantity::ratio(extra_rise(part.number()));
    sheet.output(VOLTAGE_UNBALANCE_OUT, part);
    sheet.output(EXTRA_RISE, rise);
    sheet.line(
        "extra rise = 200 x unbalance^2, which is 2 x (unbalance in %)^2 in %",
        format!("200 x ({})^2", keyed(part)),
        keyed(rise),
    );
    let name = sheet.table(&table::MOTORS.unbalance_derating);
    if let Some(factor) = lookup::unbalance_factor(part.get()).map(Quantity::ratio) {
        sheet.output(LOAD_FACTOR, factor);
        sheet.line("load factor", format!("{name} at {}", keyed(part)), keyed(factor));
    } else {
        sheet.note(format!("{name} ends at 5 %"));
    }
    let (limit, five) = (sheet.need(UNBALANCE_LIMIT)?, Known::fixed(Ratio::of(0.05)));
    sheet.at_most("unbalance", part, limit, "maker's limit as given");
    sheet.at_most(
        "unbalance",
        part,
        five,
        "NEMA MG 1, operation above 5 % not recommended",
    );
    let found = format!("{part} unbalance");
    if part.exceeds(five) {
        sheet.verdict(DO_NOT_RUN, format!("{found}, above 5 %"))
    } else if part.exceeds(limit) {
        sheet.verdict(ABOVE_LIMIT, format!("{found}, above {limit}"))
    } else {
        sheet.verdict(WITHIN, format!("{found}, not above {limit}"))
    }
}
