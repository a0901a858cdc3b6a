//! Locked-rotor current from horsepower and code letter.

use super::prelude::*;

calculation! {
    "locked-rotor": "Locked-rotor kVA and amperes from horsepower and code letter";
    inputs {
        MOTOR_POWER = ShaftPower("motor-power", "Horsepower of the motor.").between(10.0, 1e6);
        KVA_PER_HORSEPOWER = ApparentPower("kva-per-horsepower", "Locked-rotor volt-amperes per horsepower.")
            .in_unit("kVA").between(500.0, 40_000.0).optional();
        CODE_LETTER = Choice("code-letter", "Code letter on the nameplate; the top of its band is used.")
            .among(&["A", "B", "C", "D", "E", "F", "G", "H", "J", "K", "L", "M", "N", "P", "R", "S", "T", "U"]).instead_of(&["kva-per-horsepower"]).optional();
        SUPPLY = Voltage("supply-voltage", "Rated voltage, line to line on three phases.").optional();
        PHASES;
        EDITION;
    }
    outputs {
        LOCKED_ROTOR_POWER = ApparentPower("locked-rotor-power", "Apparent power with the rotor locked.");
        LOCKED_ROTOR = Current("locked-rotor-current", "Line current with the rotor locked, when the voltage is given.");
    }
    verdicts {
        WORKED_OUT;
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let shaft = sheet.need(MOTOR_POWER)?.quantity();
    let horsepower = shaft.base / crate::quantity::horsepower();
    let per_horsepower = if let Some(given) = sheet.maybe(KVA_PER_HORSEPOWER).map(Known::get) {
        given
    } else {
        let letter = sheet
            .choice(CODE_LETTER)
            .ok_or_else(|| sheet.missing(CODE_LETTER))?;
        let codes = &table::MOTORS.locked_rotor_code;
        let row = codes
            .rows
            .iter()
            .find(|row| row.letter == letter)
            .ok_or_else(|| sheet.missing(CODE_LETTER))?;
        let top = row.kva_per_hp_max;
        sheet.table(codes);
        sheet.assume(format!(
            "top of the band of letter {letter}: {top} kVA per horsepower"
        ));
        Power::new::<watt>(top * 1000.0)
    };
    let apparent = per_horsepower * horsepower;
    sheet.line(
        "S = kVA per hp x hp",
        format!(
            "{}/hp x {}",
            keyed(Quantity::apparent(per_horsepower)),
            keyed(shaft)
        ),
        keyed(Quantity::apparent(apparent)),
    );
    sheet.output(LOCKED_ROTOR_POWER, Quantity::apparent(apparent));
    let Some(voltage) = sheet.maybe(SUPPLY).map(Known::get) else {
        return sheet.verdict(
            WORKED_OUT,
            format!("{} with the rotor locked", Quantity::apparent(apparent)),
        );
    };
    let (three, factor) = phase_factor(&sheet);
    let current = apparent / voltage / factor;
    sheet.line(
        if three { "I = S / (1.732 x V)" } else { "I = S / V" },
        over_line_volts(keyed(Quantity::apparent(apparent)), voltage, three),
        keyed(current),
    );
    sheet.output(LOCKED_ROTOR, current);
    sheet.note("a compressor's own marked locked-rotor current is always better");
    sheet.verdict(
        WORKED_OUT,
        format!(
            "{} and {} with the rotor locked",
            Quantity::apparent(apparent),
            text(current)
        ),
    )
}
