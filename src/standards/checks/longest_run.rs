//! The voltage a drop limit leaves, and the longest run that keeps it.

use super::prelude::*;

calculation! {
    "longest-run": "Lowest voltage and longest run for a drop limit";
    rules "voltage-drop-note";
    inputs {
        SUPPLY "V" = Voltage("supply-voltage", "Voltage at the start of the run.");
        DROP_LIMIT = Ratio("drop-limit", "Largest drop wanted, as a share of the supply.")
            .between(0.001, 0.5).or("3 %");
        ALLOWED_DROP "drop" = Voltage("allowed-drop", "Largest drop wanted, in volts, instead of a share.")
            .between(0.001, 500.0).instead_of(&["drop-limit"]).optional();
        LOAD_CURRENT = Current("load-current", "Current in the run.").optional();
        CONDUCTOR_SIZE = Size("conductor-size", "Size of both conductors.").optional();
        CONDUCTOR_METAL: In<OneOf<Metal>> = In::new(METAL.symbol, METAL.input.only_with(&["conductor-size"]));
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
        LOWEST_VOLTAGE "V_load" = Voltage("lowest-voltage", "Voltage left at the load.").precise();
        LONGEST_RUN = Length("longest-run", "Length, one way, at which the limit is reached.");
    }
    verdicts {
        WORKED_OUT;
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let (supply, limit) = (sheet.need(SUPPLY)?.as_read(), sheet.need(DROP_LIMIT)?);
    let allowed = sheet
        .maybe(ALLOWED_DROP)
        .unwrap_or(supply.named("drop").with((supply * limit).value()));
    if allowed.exceeds(supply) {
        return Err(contradiction(format!(
            "`allowed-drop` {allowed} is above `supply-voltage` {supply}"
        )));
    }
    sheet.output(ALLOWED_DROP_OUT, allowed);
    let lowest = sheet.give(LOWEST_VOLTAGE, supply - allowed.as_read());
    sheet.rule("voltage-drop-note");
    // Ohms of a kilometer stay ohms of a kilometer, so that the working shows the figure that was given.
    let (unit, per, long) = if sheet.is_given(OUT_OHMS_PER_KM) {
        (Length::new::<kilometer>(1.0), "km", "1 km")
    } else {
        (Length::new::<foot>(1000.0), "1000 ft", "1000 ft")
    };
    let given = |feet, km| -> Option<ElectricalResistance> {
        let of = |input: In<Resistance>, length| Some(sheet.maybe(input)?.get() * share(unit, length));
        of(feet, Length::new::<foot>(1000.0)).or(of(km, Length::new::<kilometer>(1.0)))
    };
    let back = given(BACK_OHMS_PER_1000_FT, BACK_OHMS_PER_KM);
    let mut out = given(OUT_OHMS_PER_1000_FT, OUT_OHMS_PER_KM);
    if let (None, Some(size)) = (out, sheet.size(CONDUCTOR_SIZE)) {
        let metal = sheet.need_one(CONDUCTOR_METAL)?;
        sheet.assume("metal at 75 C, in the conduit in which it has most resistance; reactance left out");
        let worst = lookup::Conduit::ALL
            .into_iter()
            .filter_map(|conduit| lookup::run_resistance(size, metal, conduit, Temperature::of(75.0), unit))
            .max_by(|one, other| one.0.get::<ohm>().total_cmp(&other.0.get::<ohm>()));
        match worst {
            Some((_, true)) => _ = sheet.table(&table::CONDUCTORS.ac_impedance_75c),
            Some((_, false)) => _ = sheet.table(&table::CONDUCTORS.dc_resistance_75c),
            None => {}
        }
        out = worst.map(|(found, _)| found);
    }
    let current = sheet.maybe(LOAD_CURRENT);
    let (Some(out), Some(current)) = (out, current.filter(|current| current.number() > 0.0)) else {
        let found = format!("{allowed} may be lost, which leaves {lowest}");
        return sheet.verdict(WORKED_OUT, found);
    };
    let (three, factor) = phase_factor(&sheet);
    let back = back.unwrap_or(out);
    let (loop_ohms, formula, put_in) = if three {
        (out * factor, "1.732 x R", format!("1.732 x {}", keyed(out)))
    } else {
        (
            out + back,
            "(R_out + R_back)",
            format!("({} + {})", keyed(out), keyed(back)),
        )
    };
    let length = Known::fixed(unit * share(allowed.get() / current.get(), loop_ohms));
    sheet.line(
        &format!("L = drop / (I x {formula}) x {long}, R per {per}"),
        format!("{} / ({} x {put_in}) x {long}", keyed(allowed), keyed(current)),
        keyed(length),
    );
    sheet.output(LONGEST_RUN, length);
    let found = format!("{length} one way at {current} before {allowed} is lost");
    sheet.verdict(WORKED_OUT, found)
}
