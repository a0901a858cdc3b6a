//! Locked-rotor current from horsepower and code letter.

use super::prelude::*;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "locked-rotor",
    title: "Locked-rotor kVA and amperes from horsepower and code letter",
    inputs: &[
        Input::quantity("motor-power", Kind::ShaftPower, "Horsepower of the motor.").between(10.0, 1e6),
        Input::quantity(
            "kva-per-horsepower",
            Kind::ApparentPower,
            "Locked-rotor volt-amperes per horsepower.",
        )
        .in_unit("kVA")
        .between(500.0, 40_000.0)
        .optional(),
        Input::choice(
            "code-letter",
            &[
                "A", "B", "C", "D", "E", "F", "G", "H", "J", "K", "L", "M", "N", "P", "R", "S", "T", "U",
            ],
            "Code letter on the nameplate; the top of its band is used.",
        )
        .instead_of(&["kva-per-horsepower"])
        .optional(),
        voltage("supply-voltage", "Rated voltage, line to line on three phases.").optional(),
        PHASES,
        EDITION_INPUT,
    ],
    outputs: &[
        Output::quantity(
            "locked-rotor-power",
            Kind::ApparentPower,
            "Apparent power with the rotor locked.",
        ),
        Output::quantity(
            "locked-rotor-current",
            Kind::Current,
            "Line current with the rotor locked, when the voltage is given.",
        ),
    ],
    verdicts: &[WORKED_OUT],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &[])?;
    let shaft: Quantity = sheet.need("motor-power")?;
    let horsepower = shaft.base / crate::quantity::horsepower();
    let per_horsepower = if let Some(given) = sheet.maybe::<Power>("kva-per-horsepower") {
        given
    } else {
        let letter = sheet
            .choice("code-letter")
            .ok_or_else(|| sheet.missing("code-letter"))?;
        let codes = &table::MOTORS.locked_rotor_code;
        let row = codes
            .rows
            .iter()
            .find(|row| row.letter == letter)
            .ok_or_else(|| sheet.missing("code-letter"))?;
        let top = row.kva_per_hp_max;
        sheet.table(codes);
        sheet.assume(format!(
            "top of the band of letter {letter}: {top} kVA per horsepower"
        ));
        Power::new::<watt>(top * 1000.0)
    };
    let apparent = per_horsepower * horsepower;
    sheet.work(
        "S = kVA per hp x hp",
        format!(
            "{}/hp x {}",
            keyed(Quantity::apparent(per_horsepower)),
            keyed(shaft)
        ),
        keyed(Quantity::apparent(apparent)),
    );
    sheet.output("locked-rotor-power", Quantity::apparent(apparent));
    let Some(voltage) = sheet.maybe::<ElectricPotential>("supply-voltage") else {
        return sheet.verdict(
            "worked-out",
            format!("{} with the rotor locked", Quantity::apparent(apparent)),
        );
    };
    let (three, factor) = phase_factor(&sheet);
    let current = apparent / voltage / factor;
    sheet.work(
        if three { "I = S / (1.732 x V)" } else { "I = S / V" },
        over_line_volts(keyed(Quantity::apparent(apparent)), voltage, three),
        keyed(current),
    );
    sheet.output("locked-rotor-current", current);
    sheet.note("a compressor's own marked locked-rotor current is always better");
    sheet.verdict(
        "worked-out",
        format!(
            "{} and {} with the rotor locked",
            Quantity::apparent(apparent),
            text(current)
        ),
    )
}
