//! The voltage a drop limit leaves, and the longest run that keeps it.

use super::prelude::*;
use super::usable::metal;
use uom::si::length::{foot, kilometer};
use uom::si::ratio::ratio;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "longest-run",
    title: "Lowest voltage and longest run for a drop limit",
    inputs: &[
        voltage("supply-voltage", "Voltage at the start of the run."),
        Input::quantity(
            "drop-limit",
            Kind::Ratio,
            "Largest drop wanted, as a share of the supply.",
        )
        .between(0.001, 0.5)
        .or("3 %"),
        Input::quantity(
            "allowed-drop",
            Kind::Voltage,
            "Largest drop wanted, in volts, instead of a share.",
        )
        .between(0.001, 500.0)
        .instead_of(&["drop-limit"])
        .optional(),
        current("load-current", "Current in the run.").optional(),
        Input::size("conductor-size", "Size of both conductors.").optional(),
        METAL.only_with(&["conductor-size"]),
        resistance(
            "out-ohms-per-1000-ft",
            "Ohms of 1000 ft of the conductor out, instead of a size.",
        )
        .instead_of(&["conductor-size"])
        .optional(),
        resistance(
            "back-ohms-per-1000-ft",
            "Ohms of 1000 ft of the conductor back, where it differs.",
        )
        .only_with(&["out-ohms-per-1000-ft"])
        .optional(),
        resistance(
            "out-ohms-per-km",
            "Ohms of 1 km of the conductor out, instead of a size.",
        )
        .instead_of(&["conductor-size", "out-ohms-per-1000-ft"])
        .optional(),
        resistance(
            "back-ohms-per-km",
            "Ohms of 1 km of the conductor back, where it differs.",
        )
        .only_with(&["out-ohms-per-km"])
        .instead_of(&["back-ohms-per-1000-ft"])
        .optional(),
        PHASES,
        EDITION_INPUT,
    ],
    outputs: &[
        Output::quantity("allowed-drop", Kind::Voltage, "Drop that is allowed."),
        Output::quantity("lowest-voltage", Kind::Voltage, "Voltage left at the load."),
        Output::quantity(
            "longest-run",
            Kind::Length,
            "Length, one way, at which the limit is reached.",
        ),
    ],
    verdicts: &[WORKED_OUT],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &["voltage-drop-note"])?;
    let supply: ElectricPotential = sheet.need("supply-voltage")?;
    let limit: f64 = sheet.need("drop-limit")?;
    let allowed = sheet
        .maybe::<ElectricPotential>("allowed-drop")
        .unwrap_or(supply * limit);
    if exceeds(allowed, supply) {
        return Err(InputError::Contradiction {
            what: format!(
                "`allowed-drop` {} is above `supply-voltage` {}",
                text(allowed),
                text(supply)
            ),
        });
    }
    let lowest = supply - allowed;
    sheet.work(
        "V_load = V - drop",
        format!("{} - {}", as_read(supply), as_read(allowed)),
        as_read(lowest),
    );
    sheet.output("allowed-drop", allowed);
    sheet.output("lowest-voltage", lowest);
    sheet.rule("voltage-drop-note");
    // Ohms of a kilometer stay ohms of a kilometer, so that the working shows the figure that was given.
    let metric = sheet.is_given("out-ohms-per-km");
    let (unit, per, long) = if metric {
        (Length::new::<kilometer>(1.0), "km", "1 km")
    } else {
        (Length::new::<foot>(1000.0), "1000 ft", "1000 ft")
    };
    let given = |feet: &str, km: &str| -> Option<ElectricalResistance> {
        match (
            sheet.maybe::<ElectricalResistance>(feet),
            sheet.maybe::<ElectricalResistance>(km),
        ) {
            (Some(ohms), _) => Some(ohms * (unit / Length::new::<foot>(1000.0)).get::<ratio>()),
            (None, Some(ohms)) => Some(ohms * (unit / Length::new::<kilometer>(1.0)).get::<ratio>()),
            (None, None) => None,
        }
    };
    let back = given("back-ohms-per-1000-ft", "back-ohms-per-km");
    let out = match (
        given("out-ohms-per-1000-ft", "out-ohms-per-km"),
        sheet.size("conductor-size"),
    ) {
        (Some(out), _) => Some(out),
        (None, Some(size)) => {
            let metal =
                metal(sheet.choice("conductor-metal")).ok_or_else(|| sheet.missing("conductor-metal"))?;
            let warm = ThermodynamicTemperature::new::<degree_celsius>(75.0);
            sheet.assume("metal at 75 C, in the conduit in which it has most resistance; reactance left out");
            lookup::Conduit::ALL
                .into_iter()
                .filter_map(|conduit| lookup::run_resistance(size, metal, conduit, warm, unit))
                .max_by(|one, other| one.0.get::<ohm>().total_cmp(&other.0.get::<ohm>()))
                .map(|(found, is_alternating)| {
                    if is_alternating {
                        sheet.table(&table::CONDUCTORS.ac_impedance_75c);
                    } else {
                        sheet.table(&table::CONDUCTORS.dc_resistance_75c);
                    }
                    found
                })
        }
        (None, None) => None,
    };
    let current: Option<ElectricCurrent> = sheet.maybe("load-current");
    let (Some(out), Some(current)) = (out, current.filter(|current| *current > amps(0.0))) else {
        return sheet.verdict(
            "worked-out",
            format!("{} may be lost, which leaves {}", text(allowed), text(lowest)),
        );
    };
    let (three, factor) = phase_factor(&sheet);
    let back = back.unwrap_or(out);
    let loop_ohms = if three { out * factor } else { out + back };
    let length = unit * (allowed / current / loop_ohms).get::<ratio>();
    let (formula, ohms_text) = if three {
        (
            format!("L = drop / (I x 1.732 x R) x {long}, R per {per}"),
            format!("1.732 x {}", keyed(out)),
        )
    } else {
        (
            format!("L = drop / (I x (R_out + R_back)) x {long}, R per {per}"),
            format!("({} + {})", keyed(out), keyed(back)),
        )
    };
    sheet.work(
        &formula,
        format!(
            "{} / ({} x {ohms_text}) x {}",
            keyed(allowed),
            keyed(current),
            long
        ),
        keyed(length),
    );
    sheet.output("longest-run", length);
    sheet.verdict(
        "worked-out",
        format!(
            "{} one way at {} before {} is lost",
            text(length),
            text(current),
            text(allowed)
        ),
    )
}
