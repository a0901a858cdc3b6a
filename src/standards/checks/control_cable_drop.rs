//! Voltage lost in low-voltage control cable, and whether the coil still pulls in.

use super::prelude::*;
use uom::si::length::foot;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "control-cable-drop",
    title: "Voltage lost in control cable, and what the coil is left with",
    inputs: &[
        current(
            "load-current",
            "Current in the cable; the inrush of a contactor when pull-in is the question.",
        ),
        voltage("supply-voltage", "Voltage at the transformer under load.").or("24 V"),
        Input::quantity("conductor-length", Kind::Length, "Length of the cable, one way.")
            .between(0.0, 10_000.0),
        Input::size("conductor-size", "Size of the conductors, solid copper at 20 C.").optional(),
        resistance(
            "ohms-per-1000-ft",
            "Ohms of 1000 ft of one conductor, instead of a size.",
        )
        .instead_of(&["conductor-size"])
        .optional(),
        voltage("coil-voltage", "Rated voltage of the coil.").or("24 V"),
    ],
    outputs: &[
        Output::quantity("loop-resistance", Kind::Resistance, "Both conductors."),
        Output::quantity("drop", Kind::Voltage, "Voltage lost."),
        Output::quantity("drop-share", Kind::Ratio, "Voltage lost over the supply."),
        Output::quantity("coil-voltage", Kind::Voltage, "Voltage left."),
    ],
    verdicts: &[
        VerdictKind::plain("enough", "The coil is left with at least 85 % of its rating."),
        VerdictKind::plain("too-low", "The coil is left with less than 85 % of its rating."),
    ],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &[])?;
    let current: ElectricCurrent = sheet.need("load-current")?;
    let supply: ElectricPotential = sheet.need("supply-voltage")?;
    let length: Length = sheet.need("conductor-length")?;
    let rated: ElectricPotential = sheet.need("coil-voltage")?;
    let per_thousand = if let Some(given) = sheet.maybe::<ElectricalResistance>("ohms-per-1000-ft") {
        given
    } else {
        let size = sheet
            .size("conductor-size")
            .ok_or_else(|| sheet.missing("conductor-size"))?;
        let cold = &table::CONDUCTORS.copper_resistance_20c;
        let gauge = size.for_tables();
        let row = cold
            .rows
            .iter()
            .find(|row| Some(row.size) == gauge)
            .ok_or_else(|| InputError::OutOfRange {
                input: "conductor-size".to_owned(),
                value: size.to_string(),
                expected: "22 AWG to 4/0 AWG".to_owned(),
            })?;
        sheet.table(cold);
        ohms(row.r_cu_20c)
    };
    let loop_ohms = per_thousand * (2.0 * length.get::<foot>() / 1000.0);
    let drop = current * loop_ohms;
    let part = share(drop, supply);
    sheet.work(
        "R = 2 x L x R per 1000 ft / 1000 ft",
        format!("2 x {} x {} / 1000 ft", keyed(length), keyed(per_thousand)),
        keyed(loop_ohms),
    );
    sheet.work(
        "V = I x R",
        format!("{} x {}", keyed(current), keyed(loop_ohms)),
        keyed(drop),
    );
    sheet.work(
        "share = drop / V",
        format!("{} / {}", keyed(drop), keyed(supply)),
        keyed(Quantity::ratio(part)),
    );
    if exceeds(drop, supply) {
        return Err(beyond_supply("the cable", drop, supply));
    }
    sheet.output("loop-resistance", loop_ohms);
    sheet.output("drop", drop);
    sheet.output("drop-share", Quantity::ratio(part));
    let left = supply - drop;
    sheet.output("coil-voltage", left);
    let source = "Motor control coils work at 85 to 110 % of rating - http://navalfacilities.tpub.com/mo116/mo1160081.htm";
    sheet.source(source);
    sheet.at_least("coil", left, rated * 0.85, source);
    let found = format!("{} lost, {} left at the coil", text(drop), text(left));
    if exceeds(rated * 0.85, left) {
        sheet.verdict("too-low", found)
    } else {
        sheet.verdict("enough", found)
    }
}
