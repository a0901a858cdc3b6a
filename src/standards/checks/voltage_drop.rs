//! Voltage lost in a run, from the conductor or from ohms given.

use super::prelude::*;
use super::usable::metal;
use crate::electrical::voltage_drop;
use crate::quantity::ConductorSize;
use uom::si::length::foot;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "voltage-drop",
    title: "Voltage drop of a run, one phase or three",
    inputs: &[
        current("load-current", "Current in the run.").optional(),
        Input::quantity(
            "load-apparent-power",
            Kind::ApparentPower,
            "Volt-amperes of the load, where the current is not given.",
        )
        .between(0.1, 1e7)
        .optional(),
        voltage(
            "supply-voltage",
            "Voltage at the start of the run, line to line on three phases.",
        )
        .optional(),
        Input::quantity("conductor-length", Kind::Length, "Length of the run, one way.")
            .between(0.0, 10_000.0),
        Input::size("conductor-size", "Size of the conductor.").optional(),
        METAL,
        Input::quantity(
            "conductor-temperature",
            Kind::Temperature,
            "Temperature of the metal.",
        )
        .between(-40.0, 150.0)
        .or("75 C"),
        resistance(
            "ohms-per-1000-ft",
            "Ohms of 1000 ft of one conductor, instead of a size.",
        )
        .optional(),
        resistance("ohms-per-km", "Ohms of 1 km of one conductor, instead of a size.").optional(),
        Input::quantity(
            "conductor-area",
            Kind::Area,
            "Area of the conductor, instead of a size; goes with conductor-k.",
        )
        .in_unit("cmil")
        .optional(),
        Input::quantity(
            "conductor-k",
            Kind::Ratio,
            "Ohms of one foot of one circular mil, such as 12.9 for warm copper.",
        )
        .in_unit("")
        .between(5.0, 40.0)
        .or("12.9"),
        Input::quantity("power-factor", Kind::Ratio, "Power factor of the load.")
            .in_unit("")
            .between(0.05, 1.0)
            .or("1"),
        Input::choice(
            "conduit",
            &["none", "plastic", "steel"],
            "Conduit, which decides the reactance; none leaves reactance out.",
        )
        .or("none"),
        PHASES,
        EDITION_INPUT,
    ],
    outputs: &[
        Output::quantity("load-current", Kind::Current, "Current in the run."),
        Output::quantity(
            "run-resistance",
            Kind::Resistance,
            "Effective ohms of one conductor.",
        ),
        Output::quantity("drop", Kind::Voltage, "Voltage lost."),
        Output::quantity(
            "drop-share",
            Kind::Ratio,
            "Voltage lost over the supply voltage, when that is given.",
        ),
        Output::quantity(
            "load-voltage",
            Kind::Voltage,
            "Voltage left at the load, when the supply is given.",
        ),
    ],
    verdicts: &[
        WORKED_OUT,
        VerdictKind::plain("small", "At most 3 %."),
        VerdictKind::plain("noticeable", "Above 3 %, at most 5 %: advice asks for less."),
        VerdictKind::plain(
            "large",
            "Above 5 %: advice asks for less, and equipment may suffer.",
        ),
    ],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &["voltage-drop-note"])?;
    let (three, factor) = phase_factor(&sheet);
    let length: Length = sheet.need("conductor-length")?;
    let supply: Option<ElectricPotential> = sheet.maybe("supply-voltage");
    let current = match (
        sheet.maybe::<ElectricCurrent>("load-current"),
        sheet.maybe::<Power>("load-apparent-power"),
    ) {
        (Some(current), _) => current,
        (None, Some(power)) => {
            let supply = supply.ok_or_else(|| sheet.missing("supply-voltage"))?;
            let current = power / supply / factor;
            sheet.work(
                if three {
                    "I = VA / (1.732 x V)"
                } else {
                    "I = VA / V"
                },
                format!("{} / {}", Quantity::apparent(power), text(supply)),
                text(current),
            );
            current
        }
        (None, None) => return Err(sheet.missing("load-current")),
    };
    let size = sheet.size("conductor-size");
    let feet = length.get::<foot>();
    let one_way = if let Some(per_thousand) = sheet.maybe::<ElectricalResistance>("ohms-per-1000-ft") {
        sheet.work(
            "R = ohm per 1000 ft x L / 1000",
            format!("{} x {} / 1000 ft", text(per_thousand), text(length)),
            text(per_thousand * (feet / 1000.0)),
        );
        per_thousand * (feet / 1000.0)
    } else if let Some(per_km) = sheet.maybe::<ElectricalResistance>("ohms-per-km") {
        let found = per_km * length.get::<uom::si::length::kilometer>();
        sheet.work(
            "R = ohm per km x L",
            format!("{} x {}", text(per_km), text(length)),
            text(found),
        );
        found
    } else if let Some(size) = size {
        let metal = metal(sheet.choice("conductor-metal")).ok_or_else(|| sheet.missing("conductor-metal"))?;
        let warm = sheet.need("conductor-temperature")?;
        let in_conduit = match sheet.choice("conduit") {
            // Below 6 AWG the direct-current table is the finer one and the two agree.
            Some(conduit @ ("plastic" | "steel")) if size >= ConductorSize::Awg(6) => {
                lookup::ac_resistance(size, metal, conduit == "steel", length)
            }
            _ => None,
        };
        let (found, name) = match in_conduit {
            Some(found) => {
                sheet.assume(
                    "60 Hz resistance of the table at 75 C; a `conductor-temperature` is not used with it",
                );
                (found, sheet.table(&table::CONDUCTORS.ac_impedance_75c))
            }
            None => {
                let found = lookup::resistance(size, metal, false, warm, length).ok_or_else(|| {
                    InputError::OutOfRange {
                        input: "conductor-size".to_owned(),
                        value: size.to_string(),
                        expected: format!("a size of {}", table::CONDUCTORS.dc_resistance_75c.name()),
                    }
                })?;
                (found, sheet.table(&table::CONDUCTORS.dc_resistance_75c))
            }
        };
        sheet.work(
            "R = ohm per 1000 ft x L / 1000",
            format!("{} of {size} {metal} at {} ({name})", text(length), text(warm)),
            text(found),
        );
        found
    } else if let Some(area) = sheet.maybe::<Quantity>("conductor-area") {
        let k: f64 = sheet.need("conductor-k")?;
        let mils = area.base / crate::quantity::circular_mil();
        let found = ohms(k * feet / mils);
        sheet.work(
            "R = K x L / circular mils",
            format!("{k} x {} / {mils:.0}", text(length)),
            text(found),
        );
        found
    } else {
        return Err(sheet.missing("conductor-size"));
    };
    let power_factor: f64 = sheet.need("power-factor")?;
    let reactance = match (sheet.choice("conduit"), size) {
        (Some(conduit @ ("plastic" | "steel")), Some(size)) => {
            let found = lookup::reactance(size, conduit == "steel", length);
            if found.is_some() {
                sheet.table(&table::CONDUCTORS.ac_impedance_75c);
            }
            found
        }
        _ => None,
    };
    if reactance.is_none() {
        sheet.assume("reactance left out; it adds little up to 1 AWG at a good power factor");
    }
    let effective =
        voltage_drop::effective_impedance(one_way, reactance.unwrap_or_else(|| ohms(0.0)), power_factor);
    if power_factor < 1.0 || reactance.is_some() {
        sheet.work(
            "Z = R x pf + X x sin(acos pf)",
            format!(
                "{} x {power_factor} + {} x {:.3}",
                text(one_way),
                text(reactance.unwrap_or_else(|| ohms(0.0))),
                (1.0 - power_factor * power_factor).sqrt()
            ),
            text(effective),
        );
    }
    let drop = if three {
        voltage_drop::three_phase(current, effective)
    } else {
        voltage_drop::single_phase(current, effective)
    };
    sheet.work(
        if three {
            "V = 1.732 x I x Z"
        } else {
            "V = 2 x I x Z"
        },
        format!(
            "{} x {} x {}",
            if three { "1.732" } else { "2" },
            text(current),
            text(effective)
        ),
        text(drop),
    );
    sheet.output("load-current", current);
    sheet.output("run-resistance", effective);
    sheet.output("drop", drop);
    let Some(supply) = supply else {
        return sheet.verdict("worked-out", format!("{} lost at {}", text(drop), text(current)));
    };
    let part = share(drop, supply);
    sheet.output("drop-share", Quantity::ratio(part));
    sheet.output("load-voltage", supply - drop);
    sheet.work(
        "share = drop / V",
        format!("{} / {}", text(drop), text(supply)),
        text(Quantity::ratio(part)),
    );
    let rule = sheet.rule("voltage-drop-note");
    sheet.at_most("drop (advice, no requirement)", drop, supply * 0.03, rule);
    let found = format!(
        "{} lost, {} of {}",
        text(drop),
        Quantity::ratio(part),
        text(supply)
    );
    if exceeds(part, 0.05) {
        sheet.verdict("large", found)
    } else if exceeds(part, 0.03) {
        sheet.verdict("noticeable", found)
    } else {
        sheet.verdict("small", found)
    }
}
