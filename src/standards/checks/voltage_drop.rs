//! Voltage lost in a run, from the conductor or from ohms given.

use super::prelude::*;
use super::usable::metal;
use crate::electrical::voltage_drop;
use crate::quantity::ConductorSize;
use lookup::Conduit;
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
        .instead_of(&["load-current"])
        .optional(),
        voltage(
            "supply-voltage",
            "Voltage at the start of the run, line to line on three phases.",
        )
        .optional(),
        Input::quantity("conductor-length", Kind::Length, "Length of the run, one way.")
            .between(0.0, 10_000.0),
        Input::size("conductor-size", "Size of the conductor.").optional(),
        METAL.only_with(&["conductor-size"]),
        Input::quantity(
            "conductor-temperature",
            Kind::Temperature,
            "Temperature of the metal.",
        )
        .between(-40.0, 150.0)
        .only_with(&["conductor-size"])
        .or("75 C"),
        resistance(
            "ohms-per-1000-ft",
            "Ohms of 1000 ft of one conductor, instead of a size.",
        )
        .instead_of(&["conductor-size"])
        .optional(),
        resistance("ohms-per-km", "Ohms of 1 km of one conductor, instead of a size.")
            .instead_of(&["conductor-size", "ohms-per-1000-ft"])
            .optional(),
        Input::quantity(
            "conductor-area",
            Kind::Area,
            "Area of the conductor, instead of a size; goes with conductor-k.",
        )
        .in_unit("cmil")
        // From less than one circular mil to more than any conductor has.
        .between(1e-10, 0.01)
        .instead_of(&["conductor-size", "ohms-per-1000-ft", "ohms-per-km"])
        .optional(),
        Input::quantity(
            "conductor-k",
            Kind::Ratio,
            "Ohms of one foot of one circular mil, such as 12.9 for warm copper.",
        )
        .in_unit("")
        .between(5.0, 40.0)
        .only_with(&["conductor-area"])
        .or("12.9"),
        Input::quantity("power-factor", Kind::Ratio, "Power factor of the load.")
            .in_unit("")
            .between(0.05, 1.0)
            .or("1"),
        Input::choice(
            "conduit",
            &["none", "plastic", "aluminum", "steel"],
            "Conduit, which decides the reactance; none for a cable or open conductors.",
        )
        .optional(),
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
                over_line_volts(keyed(Quantity::apparent(power)), supply, three),
                keyed(current),
            );
            current
        }
        (None, None) => return Err(sheet.missing("load-current")),
    };
    let size = sheet.size("conductor-size");
    let power_factor: f64 = sheet.need("power-factor")?;
    let conduit = conduit(&mut sheet, size, power_factor);
    let feet = length.get::<foot>();
    let one_way = if let Some(per_thousand) = sheet.maybe::<ElectricalResistance>("ohms-per-1000-ft") {
        sheet.work(
            "R = R per 1000 ft x L / 1000 ft",
            format!("{} x {} / 1000 ft", keyed(per_thousand), keyed(length)),
            keyed(per_thousand * (feet / 1000.0)),
        );
        per_thousand * (feet / 1000.0)
    } else if let Some(per_km) = sheet.maybe::<ElectricalResistance>("ohms-per-km") {
        let found = per_km * length.get::<uom::si::length::kilometer>();
        sheet.work(
            "R = R per km x L",
            format!("{}/km x {}", keyed(per_km), keyed(length)),
            keyed(found),
        );
        found
    } else if let Some(size) = size {
        let metal = metal(sheet.choice("conductor-metal")).ok_or_else(|| sheet.missing("conductor-metal"))?;
        let warm = sheet.need("conductor-temperature")?;
        let thousand = Length::new::<foot>(1000.0);
        let (per_thousand, is_alternating) = conduit
            .and_then(|conduit| lookup::run_resistance(size, metal, conduit, warm, thousand))
            .ok_or_else(|| InputError::OutOfRange {
                input: "conductor-size".to_owned(),
                value: size.to_string(),
                expected: format!("a size of {}", table::CONDUCTORS.dc_resistance_75c.name()),
            })?;
        let (at, name) = if is_alternating {
            let at = ThermodynamicTemperature::new::<degree_celsius>(75.0);
            (at, sheet.table(&table::CONDUCTORS.ac_impedance_75c))
        } else {
            (warm, sheet.table(&table::CONDUCTORS.dc_resistance_75c))
        };
        let found = per_thousand * (feet / 1000.0);
        sheet.work(
            "R = R per 1000 ft x L / 1000 ft",
            format!(
                "{} ({size} {metal} at {}, {name}) x {} / 1000 ft",
                keyed(per_thousand),
                text(at),
                keyed(length)
            ),
            keyed(found),
        );
        found
    } else if let Some(area) = sheet.maybe::<Quantity>("conductor-area") {
        let k: f64 = sheet.need("conductor-k")?;
        let mils = area.base / crate::quantity::circular_mil();
        let found = ohms(k * feet / mils);
        sheet.work(
            "R = K x L / circular mils",
            format!(
                "{} ohm-cmil/ft x {} / {} cmil",
                keyed_number(k),
                keyed(length),
                keyed_number(mils)
            ),
            keyed(found),
        );
        found
    } else {
        return Err(sheet.missing("conductor-size"));
    };
    let reactance = match (conduit, size) {
        (Some(conduit), Some(size)) if power_factor < 1.0 => {
            let thousand = Length::new::<foot>(1000.0);
            let found = lookup::reactance(size, conduit, thousand);
            if let Some(per_thousand) = found {
                let name = sheet.table(&table::CONDUCTORS.ac_impedance_75c);
                sheet.work(
                    "X = X per 1000 ft x L / 1000 ft",
                    format!(
                        "{} ({size}, {name}) x {} / 1000 ft",
                        keyed(per_thousand),
                        keyed(length)
                    ),
                    keyed(per_thousand * (feet / 1000.0)),
                );
            }
            found.map(|per_thousand| per_thousand * (feet / 1000.0))
        }
        _ => None,
    };
    if reactance.is_none() && power_factor < 1.0 {
        sheet.assume("reactance left out; it adds little up to 1 AWG at a good power factor");
    }
    let effective =
        voltage_drop::effective_impedance(one_way, reactance.unwrap_or_else(|| ohms(0.0)), power_factor);
    if power_factor < 1.0 {
        sheet.work(
            "Z = R x pf + X x sin(acos(pf))",
            format!(
                "{} x {pf} + {} x sin(acos({pf}))",
                keyed(one_way),
                keyed(reactance.unwrap_or_else(|| ohms(0.0))),
                pf = keyed_number(power_factor)
            ),
            keyed(effective),
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
            keyed(current),
            keyed(effective)
        ),
        keyed(drop),
    );
    sheet.output("load-current", current);
    sheet.output("run-resistance", effective);
    sheet.output("drop", drop);
    if let Some(supply) = supply.filter(|supply| exceeds(drop, *supply)) {
        return Err(beyond_supply("the run", drop, supply));
    }
    let Some(supply) = supply else {
        return sheet.verdict("worked-out", format!("{} lost at {}", text(drop), text(current)));
    };
    let part = share(drop, supply);
    sheet.output("drop-share", Quantity::ratio(part));
    sheet.output("load-voltage", supply - drop);
    sheet.work(
        "share = drop / V",
        format!("{} / {}", keyed(drop), keyed(supply)),
        keyed(Quantity::ratio(part)),
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

/// Says which conduit's figures are used, and what was assumed.
///
/// *Returns* nothing where there is no size, so no table to read. Not given, it is the conduit in which the run
/// loses most at this power factor.
fn conduit(sheet: &mut Sheet<'_>, size: Option<ConductorSize>, power_factor: f64) -> Option<Conduit> {
    let size = size?;
    match sheet.choice("conduit") {
        Some("plastic") => Some(Conduit::Plastic),
        Some("aluminum") => Some(Conduit::Aluminum),
        Some("steel") => Some(Conduit::Steel),
        Some(_) => {
            sheet.assume(format!(
                "no conduit: figures as in plastic conduit, where nothing adds to those of the conductors ({COMMON})"
            ));
            Some(Conduit::Plastic)
        }
        None => {
            let metal = metal(sheet.choice("conductor-metal"))?;
            let thousand = Length::new::<foot>(1000.0);
            let warm = sheet.maybe("conductor-temperature")?;
            let effective = |conduit: &Conduit| {
                let found = lookup::run_resistance(size, metal, *conduit, warm, thousand);
                let reactance = lookup::reactance(size, *conduit, thousand);
                voltage_drop::effective_impedance(
                    found.map_or_else(|| ohms(0.0), |found| found.0),
                    reactance.unwrap_or_else(|| ohms(0.0)),
                    power_factor,
                )
                .get::<ohm>()
            };
            let worst = Conduit::ALL
                .into_iter()
                .max_by(|one, other| effective(one).total_cmp(&effective(other)))?;
            sheet.assume(format!(
                "`conduit` not given: {worst} taken, in which this run loses most"
            ));
            Some(worst)
        }
    }
}
