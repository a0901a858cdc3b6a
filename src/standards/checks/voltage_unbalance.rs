//! Voltage unbalance of a three-phase supply, and what it does to a motor.

use super::prelude::*;
use crate::electrical::unbalance::{extra_rise, unbalance};

pub(super) const CALCULATION: Calculation = Calculation {
    name: "voltage-unbalance",
    title: "Voltage unbalance of three phases, extra heating and derating",
    inputs: &[
        voltage("voltage-ab", "Line A to line B, motor running.")
            .optional()
            .read(),
        voltage("voltage-bc", "Line B to line C, motor running.")
            .optional()
            .read(),
        voltage("voltage-ca", "Line C to line A, motor running.")
            .optional()
            .read(),
        Input::quantity(
            "voltage-unbalance",
            Kind::Ratio,
            "Unbalance already worked out, instead of three voltages.",
        )
        .between(0.0, 1.0)
        .instead_of(&["voltage-ab", "voltage-bc", "voltage-ca"])
        .optional(),
        Input::quantity(
            "unbalance-limit",
            Kind::Ratio,
            "Limit of the equipment's maker; 2 % is common, 1 % is the motor standard's.",
        )
        .between(0.001, 0.2)
        .or("2 %"),
    ],
    outputs: &[
        Output::quantity("average-voltage", Kind::Voltage, "Average of the three."),
        Output::quantity(
            "largest-deviation",
            Kind::Voltage,
            "Largest difference from the average.",
        ),
        Output::quantity("voltage-unbalance", Kind::Ratio, "Deviation over average."),
        Output::quantity(
            "extra-rise",
            Kind::Ratio,
            "Increase of the winding's temperature rise.",
        ),
        Output::quantity(
            "load-factor",
            Kind::Ratio,
            "Share of rated load the motor may carry.",
        ),
    ],
    verdicts: &[
        VerdictKind::plain("within", "Not above the limit."),
        VerdictKind::plain("above-limit", "Above the limit, at most 5 %."),
        VerdictKind::plain("do-not-run", "Above 5 %: a motor should not run on it."),
    ],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    // Three voltages read with one meter share its error, so the unbalance does not carry it.
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &[])?;
    let readings: Vec<ElectricPotential> = ["voltage-ab", "voltage-bc", "voltage-ca"]
        .iter()
        .filter_map(|name| sheet.maybe(name))
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
        sheet.work(
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
        sheet.work(
            if above {
                "deviation = V_farthest - V_avg"
            } else {
                "deviation = V_avg - V_farthest"
            },
            format!("{} - {}", as_read(higher), as_read(lower)),
            as_read(found.largest_deviation),
        );
        sheet.work(
            "unbalance = deviation / V_avg",
            format!(
                "{} / {}",
                as_read(found.largest_deviation),
                as_read(found.average)
            ),
            keyed(Quantity::ratio(found.share)),
        );
        sheet.output("average-voltage", found.average);
        sheet.output("largest-deviation", found.largest_deviation);
        found.share
    } else if let Some(given) = sheet.maybe::<f64>("voltage-unbalance") {
        given
    } else {
        let missing = ["voltage-ab", "voltage-bc", "voltage-ca"]
            .into_iter()
            .find(|name| sheet.maybe::<ElectricPotential>(name).is_none());
        return Err(sheet.missing(missing.unwrap_or("voltage-ab")));
    };
    let rise = extra_rise(part);
    sheet.output("voltage-unbalance", Quantity::ratio(part));
    sheet.output("extra-rise", Quantity::ratio(rise));
    sheet.work(
        "extra rise = 200 x unbalance^2, which is 2 x (unbalance in %)^2 in %",
        format!("200 x ({})^2", keyed(Quantity::ratio(part))),
        keyed(Quantity::ratio(rise)),
    );
    let name = sheet.table(&table::MOTORS.unbalance_derating);
    if let Some(factor) = lookup::unbalance_factor(uom::si::f64::Ratio::new::<uom::si::ratio::ratio>(part)) {
        sheet.output("load-factor", Quantity::ratio(factor));
        sheet.work(
            "load factor",
            format!("{name} at {}", keyed(Quantity::ratio(part))),
            keyed(Quantity::ratio(factor)),
        );
    } else {
        sheet.note(format!("{name} ends at 5 %"));
    }
    let limit: f64 = sheet.need("unbalance-limit")?;
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
        sheet.verdict("do-not-run", format!("{found}, above 5 %"))
    } else if exceeds(part, limit) {
        sheet.verdict(
            "above-limit",
            format!("{found}, above {}", Quantity::ratio(limit)),
        )
    } else {
        sheet.verdict("within", format!("{found}, not above {}", Quantity::ratio(limit)))
    }
}
