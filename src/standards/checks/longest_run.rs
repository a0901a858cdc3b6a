//! The voltage a drop limit leaves, and the longest run that keeps it.

use super::prelude::*;
use super::usable::metal;
use uom::si::ratio::ratio;

calculation! {
    "longest-run": "Lowest voltage and longest run for a drop limit";
    rules "voltage-drop-note";
    inputs {
        SUPPLY = Voltage("supply-voltage", "Voltage at the start of the run.");
        DROP_LIMIT = Ratio("drop-limit", "Largest drop wanted, as a share of the supply.")
            .between(0.001, 0.5).or("3 %");
        ALLOWED_DROP = Voltage("allowed-drop", "Largest drop wanted, in volts, instead of a share.")
            .between(0.001, 500.0).instead_of(&["drop-limit"]).optional();
        LOAD_CURRENT = Current("load-current", "Current in the run.").optional();
        CONDUCTOR_SIZE = Size("conductor-size", "Size of both conductors.").optional();
        CONDUCTOR_METAL: In<Choice> = In::new(METAL.symbol, METAL.input.only_with(&["conductor-size"]));
        OUT_OHMS_PER_1000_FT = Resistance("out-ohms-per-1000-ft", "Ohms of 1000 ft of the conductor out, instead of a size.")
            .instead_of(&["conductor-size"]).optional();
        BACK_OHMS_PER_1000_FT = Resistance("back-ohms-per-1000-ft", "Ohms of 1000 ft of the conductor back, where it differs.")
            .only_with(&["out-ohms-per-1000-ft"]).optional();
        OUT_OHMS_PER_KM = Resistance("out-ohms-per-km", "Ohms of 1 km of the conductor out, instead of a size.")
            .instead_of(&["conductor-size", "out-ohms-per-1000-ft"]).optional();
        BACK_OHMS_PER_KM = Resistance("back-ohms-per-km", "Ohms of 1 km of the conductor back, where it differs.")
            .only_with(&["out-ohms-per-km"]).instead_of(&["back-ohms-per-1000-ft"]).optional();
        PHASES;
        EDITION;
    }
    outputs {
        ALLOWED_DROP_OUT = Voltage("allowed-drop", "Drop that is allowed.");
        LOWEST_VOLTAGE = Voltage("lowest-voltage", "Voltage left at the load.");
        LONGEST_RUN = Length("longest-run", "Length, one way, at which the limit is reached.");
    }
    verdicts {
        WORKED_OUT;
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let supply = sheet.need(SUPPLY)?.get();
    let limit = sheet.need(DROP_LIMIT)?.number();
    let allowed = sheet
        .maybe(ALLOWED_DROP)
        .map(Known::get)
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
    sheet.line(
        "V_load = V - drop",
        format!("{} - {}", as_read(supply), as_read(allowed)),
        as_read(lowest),
    );
    sheet.output(ALLOWED_DROP_OUT, allowed);
    sheet.output(LOWEST_VOLTAGE, lowest);
    sheet.rule("voltage-drop-note");
    // Ohms of a kilometer stay ohms of a kilometer, so that the working shows the figure that was given.
    let metric = sheet.is_given(OUT_OHMS_PER_KM);
    let (unit, per, long) = if metric {
        (Length::new::<kilometer>(1.0), "km", "1 km")
    } else {
        (Length::new::<foot>(1000.0), "1000 ft", "1000 ft")
    };
    let given = |feet: In<Resistance>, km: In<Resistance>| -> Option<ElectricalResistance> {
        match (sheet.maybe(feet).map(Known::get), sheet.maybe(km).map(Known::get)) {
            (Some(ohms), _) => Some(ohms * (unit / Length::new::<foot>(1000.0)).get::<ratio>()),
            (None, Some(ohms)) => Some(ohms * (unit / Length::new::<kilometer>(1.0)).get::<ratio>()),
            (None, None) => None,
        }
    };
    let back = given(BACK_OHMS_PER_1000_FT, BACK_OHMS_PER_KM);
    let out = match (
        given(OUT_OHMS_PER_1000_FT, OUT_OHMS_PER_KM),
        sheet.size(CONDUCTOR_SIZE),
    ) {
        (Some(out), _) => Some(out),
        (None, Some(size)) => {
            let metal = metal(sheet.choice(CONDUCTOR_METAL)).ok_or_else(|| sheet.missing(CONDUCTOR_METAL))?;
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
    let current = sheet.maybe(LOAD_CURRENT).map(Known::get);
    let (Some(out), Some(current)) = (out, current.filter(|current| *current > amps(0.0))) else {
        return sheet.verdict(
            WORKED_OUT,
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
    sheet.line(
        &formula,
        format!(
            "{} / ({} x {ohms_text}) x {}",
            keyed(allowed),
            keyed(current),
            long
        ),
        keyed(length),
    );
    sheet.output(LONGEST_RUN, length);
    sheet.verdict(
        WORKED_OUT,
        format!(
            "{} one way at {} before {} is lost",
            text(length),
            text(current),
            text(allowed)
        ),
    )
}
