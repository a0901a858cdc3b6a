//! Voltage lost in a run, from the conductor or from ohms given.

use super::prelude::*;
use super::usable::metal;
use crate::electrical::voltage_drop;
use lookup::Conduit;

calculation! {
    "voltage-drop": "Voltage drop of a run, one phase or three";
    rules "voltage-drop-note";
    inputs {
        LOAD_CURRENT = Current("load-current", "Current in the run.").optional();
        LOAD_APPARENT_POWER = ApparentPower("load-apparent-power", "Volt-amperes of the load, where the current is not given.")
            .between(0.1, 1e7).instead_of(&["load-current"]).optional();
        SUPPLY = Voltage("supply-voltage", "Voltage at the start of the run, line to line on three phases.")
            .optional();
        LENGTH = Length("conductor-length", "Length of the run, one way.").between(0.0, 10_000.0);
        CONDUCTOR_SIZE = Size("conductor-size", "Size of the conductor.").optional();
        CONDUCTOR_METAL: In<Choice> = In::new(METAL.symbol, METAL.input.only_with(&["conductor-size"]));
        CONDUCTOR_TEMPERATURE = Temperature("conductor-temperature", "Temperature of the metal.")
            .between(-40.0, 150.0).only_with(&["conductor-size"]).or("75 C");
        OHMS_PER_1000_FT = Resistance("ohms-per-1000-ft", "Ohms of 1000 ft of one conductor, instead of a size.")
            .instead_of(&["conductor-size"]).optional();
        OHMS_PER_KM = Resistance("ohms-per-km", "Ohms of 1 km of one conductor, instead of a size.")
            .instead_of(&["conductor-size", "ohms-per-1000-ft"]).optional();
        // From less than one circular mil to more than any conductor has.
        CONDUCTOR_AREA = Area("conductor-area", "Area of the conductor, instead of a size; goes with conductor-k.")
            .in_unit("cmil").between(1e-10, 0.01).instead_of(&["conductor-size", "ohms-per-1000-ft", "ohms-per-km"]).optional();
        CONDUCTOR_K = Ratio("conductor-k", "Ohms of one foot of one circular mil, such as 12.9 for warm copper.")
            .in_unit("").between(5.0, 40.0).only_with(&["conductor-area"]).or("12.9");
        POWER_FACTOR = Ratio("power-factor", "Power factor of the load.")
            .in_unit("").between(0.05, 1.0).or("1");
        CONDUIT = Choice("conduit", "Conduit, which decides the reactance; none for a cable or open conductors.")
            .among(&["none", "plastic", "aluminum", "steel"]).optional();
        PHASES;
        EDITION;
    }
    outputs {
        LOAD_CURRENT_OUT = Current("load-current", "Current in the run.");
        RUN_RESISTANCE = Resistance("run-resistance", "Effective ohms of one conductor.");
        DROP = Voltage("drop", "Voltage lost.");
        DROP_SHARE = Ratio("drop-share", "Voltage lost over the supply voltage, when that is given.");
        LOAD_VOLTAGE = Voltage("load-voltage", "Voltage left at the load, when the supply is given.");
    }
    verdicts {
        WORKED_OUT;
        SMALL = plain("small", "At most 3 %.");
        NOTICEABLE = plain("noticeable", "Above 3 %, at most 5 %: advice asks for less.");
        LARGE = plain("large", "Above 5 %: advice asks for less, and equipment may suffer.");
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let (three, factor) = phase_factor(&sheet);
    let length = sheet.need(LENGTH)?.get();
    let supply = sheet.maybe(SUPPLY).map(Known::get);
    let current = match (
        sheet.maybe(LOAD_CURRENT).map(Known::get),
        sheet.maybe(LOAD_APPARENT_POWER).map(Known::get),
    ) {
        (Some(current), _) => current,
        (None, Some(power)) => {
            let supply = supply.ok_or_else(|| sheet.missing(SUPPLY))?;
            let current = power / supply / factor;
            sheet.line(
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
        (None, None) => return Err(sheet.missing(LOAD_CURRENT)),
    };
    let size = sheet.size(CONDUCTOR_SIZE);
    let power_factor = sheet.need(POWER_FACTOR)?.number();
    let conduit = conduit(&mut sheet, size, power_factor);
    let feet = length.get::<foot>();
    let one_way = if let Some(per_thousand) = sheet.maybe(OHMS_PER_1000_FT).map(Known::get) {
        sheet.line(
            "R = R per 1000 ft x L / 1000 ft",
            format!("{} x {} / 1000 ft", keyed(per_thousand), keyed(length)),
            keyed(per_thousand * (feet / 1000.0)),
        );
        per_thousand * (feet / 1000.0)
    } else if let Some(per_km) = sheet.maybe(OHMS_PER_KM).map(Known::get) {
        let found = per_km * length.get::<uom::si::length::kilometer>();
        sheet.line(
            "R = R per km x L",
            format!("{}/km x {}", keyed(per_km), keyed(length)),
            keyed(found),
        );
        found
    } else if let Some(size) = size {
        let metal = metal(sheet.choice(CONDUCTOR_METAL)).ok_or_else(|| sheet.missing(CONDUCTOR_METAL))?;
        let warm = sheet.need(CONDUCTOR_TEMPERATURE)?.get();
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
        sheet.line(
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
    } else if let Some(area) = sheet.maybe(CONDUCTOR_AREA).map(Known::quantity) {
        let k = sheet.need(CONDUCTOR_K)?.number();
        let mils = area.base / crate::quantity::circular_mil();
        let found = ohms(k * feet / mils);
        sheet.line(
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
        return Err(sheet.missing(CONDUCTOR_SIZE));
    };
    let reactance = match (conduit, size) {
        (Some(conduit), Some(size)) if power_factor < 1.0 => {
            let thousand = Length::new::<foot>(1000.0);
            let found = lookup::reactance(size, conduit, thousand);
            if let Some(per_thousand) = found {
                let name = sheet.table(&table::CONDUCTORS.ac_impedance_75c);
                sheet.line(
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
        sheet.line(
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
    sheet.line(
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
    sheet.output(LOAD_CURRENT_OUT, current);
    sheet.output(RUN_RESISTANCE, effective);
    sheet.output(DROP, drop);
    if let Some(supply) = supply.filter(|supply| exceeds(drop, *supply)) {
        return Err(beyond_supply("the run", drop, supply));
    }
    let Some(supply) = supply else {
        return sheet.verdict(WORKED_OUT, format!("{} lost at {}", text(drop), text(current)));
    };
    let part = share(drop, supply);
    sheet.output(DROP_SHARE, Quantity::ratio(part));
    sheet.output(LOAD_VOLTAGE, supply - drop);
    sheet.line(
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
        sheet.verdict(LARGE, found)
    } else if exceeds(part, 0.03) {
        sheet.verdict(NOTICEABLE, found)
    } else {
        sheet.verdict(SMALL, found)
    }
}

/// Says which conduit's figures are used, and what was assumed.
///
/// *Returns* nothing where there is no size, so no table to read. Not given, it is the conduit in which the run
/// loses most at this power factor.
fn conduit(sheet: &mut Sheet<'_>, size: Option<ConductorSize>, power_factor: f64) -> Option<Conduit> {
    let size = size?;
    match sheet.choice(CONDUIT) {
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
            let metal = metal(sheet.choice(CONDUCTOR_METAL))?;
            let thousand = Length::new::<foot>(1000.0);
            let warm = sheet.maybe(CONDUCTOR_TEMPERATURE).map(Known::get)?;
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
