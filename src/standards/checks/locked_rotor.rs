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
        SUPPLY "V" = Voltage("supply-voltage", "Rated voltage, line to line on three phases.").optional();
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
    let shaft = sheet.need(MOTOR_POWER)?;
    let per_horsepower = match sheet.maybe(KVA_PER_HORSEPOWER) {
        Some(given) => given,
        None => {
            let letter = sheet.choice(CODE_LETTER);
            let codes = &table::MOTORS.locked_rotor_code;
            let row = codes.rows.iter().find(|row| Some(row.letter.as_str()) == letter);
            let (row, letter) = row.zip(letter).ok_or_else(|| sheet.missing(CODE_LETTER))?;
            let top = row.kva_per_hp_max;
            sheet.table(codes);
            sheet.assume(format!(
                "top of the band of letter {letter}: {top} kVA per horsepower"
            ));
            shaft.with(Power::of(top * 1000.0))
        }
    };
    let horsepower = shaft.number() / crate::quantity::horsepower();
    let apparent = Known::called("S", per_horsepower.get() * horsepower).of_kind(Kind::ApparentPower);
    let per_horsepower = keyed(per_horsepower.of_kind(Kind::ApparentPower));
    sheet.line(
        "S = kVA per hp x hp",
        format!("{per_horsepower}/hp x {}", keyed(shaft)),
        keyed(apparent),
    );
    sheet.output(LOCKED_ROTOR_POWER, apparent);
    let Some(voltage) = sheet.maybe(SUPPLY) else {
        return sheet.verdict(WORKED_OUT, format!("{apparent} with the rotor locked"));
    };
    let (three, _) = phase_factor(&sheet);
    let current = line_current(&mut sheet, apparent, voltage, three);
    sheet.output(LOCKED_ROTOR, current);
    sheet.note("a compressor's own marked locked-rotor current is always better");
    sheet.verdict(
        WORKED_OUT,
        format!("{apparent} and {current} with the rotor locked"),
    )
}
