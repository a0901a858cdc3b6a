//! Voltage unbalance of a three-phase supply, and what it does to a motor.

use super::prelude::*;
use crate::electrical::unbalance::{extra_rise, unbalance};

calculation! {
    "voltage-unbalance": "Voltage unbalance of three phases, extra heating and derating";
    inputs {
        VOLTAGE_AB = Voltage("voltage-ab", "Line A to line B, motor running.").optional().read();
        VOLTAGE_BC = Voltage("voltage-bc", "Line B to line C, motor running.").optional().read();
        VOLTAGE_CA = Voltage("voltage-ca", "Line C to line A, motor running.").optional().read();
        VOLTAGE_UNBALANCE = Ratio("voltage-unbalance", "Unbalance already worked out, instead of three voltages.")
            .between(0.0, 1.0).instead_of(&["voltage-ab", "voltage-bc", "voltage-ca"]).optional();
        UNBALANCE_LIMIT = Ratio("unbalance-limit", "Limit of the equipment's maker; 2 % is common, 1 % is the motor standard's.")
            .between(0.001, 0.2).or("2 %");
    }
    outputs {
        AVERAGE_VOLTAGE = Voltage("average-voltage", "Average of the three.");
        LARGEST_DEVIATION = Voltage("largest-deviation", "Largest difference from the average.");
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
    let readings: Vec<ElectricPotential> = [VOLTAGE_AB, VOLTAGE_BC, VOLTAGE_CA]
        .into_iter()
        .filter_map(|line| sheet.maybe(line).map(Known::get))
        .collect();
    let part = if let [one, two, three] = readings[..] {
        // Three line voltages close a triangle, so none is above the other two together; 5 % is left to the meter.
        let sum = one + two + three;
        let most = one.max(two).max(three);
        if exceeds(most, (sum - most) * 1.05) {
            return Err(InputError::Contradiction {
                what: format!(
                    "{} is above the other two together, and three line voltages always close a triangle: read all three again, line to line",
                    text(most)
                ),
            });
        }
        let found = unbalance([one, two, three]);
        sheet.line(
            "V_avg = (V1 + V2 + V3) / 3",
            format!(
                "({}) / 3",
                readings
                    .iter()
                    .map(|one| as_read(*one))
                    .collect::<Vec<_>>()
                    .join(" + ")
            ),
            as_read(found.average),
        );
        let farthest = readings
            .iter()
            .copied()
            .max_by(|one, other| {
                let off = |reading: ElectricPotential| (reading - found.average).abs().get::<volt>();
                off(*one).total_cmp(&off(*other))
            })
            .unwrap_or(found.average);
        let above = farthest >= found.average;
        let (higher, lower) = if above {
            (farthest, found.average)
        } else {
            (found.average, farthest)
        };
        sheet.line(
            if above {
                "deviation = V_farthest - V_avg"
            } else {
                "deviation = V_avg - V_farthest"
            },
            format!("{} - {}", as_read(higher), as_read(lower)),
            as_read(found.largest_deviation),
        );
        sheet.line(
            "unbalance = deviation / V_avg",
            format!(
                "{} / {}",
                as_read(found.largest_deviation),
                as_read(found.average)
            ),
            keyed(Quantity::ratio(found.share)),
        );
        sheet.output(AVERAGE_VOLTAGE, found.average);
        sheet.output(LARGEST_DEVIATION, found.largest_deviation);
        found.share
    } else if let Some(given) = sheet.maybe(VOLTAGE_UNBALANCE).map(Known::number) {
        given
    } else {
        let missing = [VOLTAGE_AB, VOLTAGE_BC, VOLTAGE_CA]
            .into_iter()
            .find(|line| !sheet.is_given(*line));
        return Err(sheet.missing(missing.unwrap_or(VOLTAGE_AB)));
    };
    let rise = extra_rise(part);
    sheet.output(VOLTAGE_UNBALANCE_OUT, Quantity::ratio(part));
    sheet.output(EXTRA_RISE, Quantity::ratio(rise));
    sheet.line(
        "extra rise = 200 x unbalance^2, which is 2 x (unbalance in %)^2 in %",
        format!("200 x ({})^2", keyed(Quantity::ratio(part))),
        keyed(Quantity::ratio(rise)),
    );
    let name = sheet.table(&table::MOTORS.unbalance_derating);
    if let Some(factor) = lookup::unbalance_factor(uom::si::f64::Ratio::new::<uom::si::ratio::ratio>(part)) {
        sheet.output(LOAD_FACTOR, Quantity::ratio(factor));
        sheet.line(
            "load factor",
            format!("{name} at {}", keyed(Quantity::ratio(part))),
            keyed(Quantity::ratio(factor)),
        );
    } else {
        sheet.note(format!("{name} ends at 5 %"));
    }
    let limit = sheet.need(UNBALANCE_LIMIT)?.number();
    sheet.at_most(
        "unbalance",
        Quantity::ratio(part),
        Quantity::ratio(limit),
        "maker's limit as given",
    );
    sheet.at_most(
        "unbalance",
        Quantity::ratio(part),
        Quantity::ratio(0.05),
        "NEMA MG 1, operation above 5 % not recommended",
    );
    let found = format!("{} unbalance", Quantity::ratio(part));
    if exceeds(part, 0.05) {
        sheet.verdict(DO_NOT_RUN, format!("{found}, above 5 %"))
    } else if exceeds(part, limit) {
        sheet.verdict(ABOVE_LIMIT, format!("{found}, above {}", Quantity::ratio(limit)))
    } else {
        sheet.verdict(WITHIN, format!("{found}, not above {}", Quantity::ratio(limit)))
    }
}
