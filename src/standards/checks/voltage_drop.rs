//! Voltage lost in a run, from the conductor or from ohms given.

use super::prelude::*;
use super::usable::no_resistance;
use crate::electrical::voltage_drop::effective_impedance;
use lookup::Conduit;

calculation! {
    "voltage-drop": "Voltage drop of a run, one phase or three";
    rules "voltage-drop-note";
    inputs {
        LOAD_CURRENT "I" = Current("load-current", "Current in the run.").optional();
        LOAD_APPARENT_POWER "VA" = ApparentPower("load-apparent-power", "Volt-amperes of the load, where the current is not given.")
            .between(0.1, 1e7).instead_of(&["load-current"]).optional();
        SUPPLY "V" = Voltage("supply-voltage", "Voltage at the start of the run, line to line on three phases.")
            .optional();
        LENGTH "L" = Length("conductor-length", "Length of the run, one way.").between(0.0, 10_000.0);
        CONDUCTOR_SIZE = Size("conductor-size", "Size of the conductor.").optional();
        CONDUCTOR_METAL: In<OneOf<Metal>> = In::new(METAL.symbol, METAL.input.only_with(&["conductor-size"]));
        CONDUCTOR_TEMPERATURE = Temperature("conductor-temperature", "Temperature of the metal.")
            .between(-40.0, 150.0).only_with(&["conductor-size"]).or("75 C");
        OHMS_PER_1000_FT "R per 1000 ft" = Resistance("ohms-per-1000-ft", "Ohms of 1000 ft of one conductor, instead of a size.")
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
        CONDUIT = OneOf<RunsIn>("conduit", "Conduit, which decides the reactance; none for a cable or open conductors.").optional();
        PHASES;
        EDITION;
    }
    outputs {
        LOAD_CURRENT_OUT = Current("load-current", "Current in the run.");
        RUN_RESISTANCE = Resistance("run-resistance", "Effective ohms of one conductor.");
        DROP = Voltage("drop", "Voltage lost.");
        DROP_SHARE "share" = Ratio("drop-share", "Voltage lost over the supply voltage, when that is given.");
        LOAD_VOLTAGE = Voltage("load-voltage", "Voltage left at the load, when the supply is given.");
    }
    verdicts {
        WORKED_OUT;
        SMALL = plain("small", "At most 3 %.");
        NOTICEABLE = plain("noticeable", "Above 3 %, at most 5 %: advice asks for less.");
        LARGE = plain("large", "Above 5 %: advice asks for less, and equipment may suffer.");
    }
}

choice! { RunsIn { Open = "none", Plastic = "plastic", Aluminum = "aluminum", Steel = "steel" } }

fn work(mut sheet: Sheet<'_>) -> Answer {
    let (three, _) = phase_factor(&sheet);
    let (length, supply) = (sheet.need(LENGTH)?, sheet.maybe(SUPPLY));
    let current = match (sheet.maybe(LOAD_CURRENT), sheet.maybe(LOAD_APPARENT_POWER)) {
        (Some(current), _) => current,
        (None, Some(power)) => {
            let supply = supply.ok_or_else(|| sheet.missing(SUPPLY))?;
            line_current(&mut sheet, power, supply, three)
        }
        (None, None) => return Err(sheet.missing(LOAD_CURRENT)),
    };
    let size = sheet.size(CONDUCTOR_SIZE);
    let power_factor = sheet.need(POWER_FACTOR)?.number();
    let conduit = conduit(&mut sheet, size, power_factor);
    let thousand = Known::fixed(Length::new::<foot>(1000.0));
    let one_way = if let Some(per_thousand) = sheet.maybe(OHMS_PER_1000_FT) {
        sheet.work("R", per_thousand * length / thousand)
    } else if let Some(per_km) = sheet.maybe(OHMS_PER_KM) {
        let found = Known::fixed(per_km.get() * length.get().get::<kilometer>());
        let put_in = format!("{}/km x {}", keyed(per_km), keyed(length));
        sheet.line("R = R per km x L", put_in, keyed(found));
        found
    } else if let Some(size) = size {
        let metal = sheet.need_one(CONDUCTOR_METAL)?;
        let warm = sheet.need(CONDUCTOR_TEMPERATURE)?.get();
        let (per_thousand, is_alternating) = conduit
            .and_then(|conduit| lookup::run_resistance(size, metal, conduit, warm, thousand.get()))
            .ok_or_else(|| no_resistance(size, &table::CONDUCTORS.dc_resistance_75c))?;
        let (at, name) = if is_alternating {
            (
                Temperature::of(75.0),
                sheet.table(&table::CONDUCTORS.ac_impedance_75c),
            )
        } else {
            (warm, sheet.table(&table::CONDUCTORS.dc_resistance_75c))
        };
        let found = Known::fixed(per_thousand * share(length.get(), thousand.get()));
        let of = format!("{} ({size} {metal} at {}, {name})", keyed(per_thousand), text(at));
        let put_in = format!("{of} x {} / 1000 ft", keyed(length));
        sheet.line("R = R per 1000 ft x L / 1000 ft", put_in, keyed(found));
        found
    } else if let Some(area) = sheet.maybe(CONDUCTOR_AREA) {
        let k = sheet.need(CONDUCTOR_K)?.number();
        let mils = area.number() / crate::quantity::circular_mil();
        let found = Known::fixed(ohms(k * length.get().get::<foot>() / mils));
        let k = format!("{} ohm-cmil/ft", keyed_number(k));
        let put_in = format!("{k} x {} / {} cmil", keyed(length), keyed_number(mils));
        sheet.line("R = K x L / circular mils", put_in, keyed(found));
        found
    } else {
        return Err(sheet.missing(CONDUCTOR_SIZE));
    };
    let mut effective = one_way.named("Z");
    if power_factor < 1.0 {
        let per_thousand = conduit.zip(size);
        let per_thousand =
            per_thousand.and_then(|(conduit, size)| lookup::reactance(size, conduit, thousand.get()));
        let mut reactance = Known::fixed(ohms(0.0));
        if let (Some(per_thousand), Some(size)) = (per_thousand, size) {
            reactance = Known::fixed(per_thousand * share(length.get(), thousand.get()));
            let name = sheet.table(&table::CONDUCTORS.ac_impedance_75c);
            let put_in = format!(
                "{} ({size}, {name}) x {} / 1000 ft",
                keyed(per_thousand),
                keyed(length)
            );
            sheet.line("X = X per 1000 ft x L / 1000 ft", put_in, keyed(reactance));
        } else {
            sheet.assume("reactance left out; it adds little up to 1 AWG at a good power factor");
        }
        let pf = keyed_number(power_factor);
        effective = effective.with(effective_impedance(one_way.get(), reactance.get(), power_factor));
        sheet.line(
            "Z = R x pf + X x sin(acos(pf))",
            format!(
                "{} x {pf} + {} x sin(acos({pf}))",
                keyed(one_way),
                keyed(reactance)
            ),
            keyed(effective),
        );
    }
    let drop = run_drop(&mut sheet, "V", current, effective, three).named("drop");
    sheet.output(LOAD_CURRENT_OUT, current);
    sheet.output(RUN_RESISTANCE, effective);
    sheet.output(DROP, drop);
    let Some(supply) = supply else {
        return sheet.verdict(WORKED_OUT, format!("{drop} lost at {current}"));
    };
    if drop.exceeds(supply) {
        return Err(beyond_supply("the run", drop.get(), supply.get()));
    }
    let part = sheet.give(DROP_SHARE, drop / supply);
    sheet.output(LOAD_VOLTAGE, supply - drop);
    let rule = sheet.rule("voltage-drop-note");
    sheet.at_most("drop (advice, no requirement)", drop, supply * 0.03, rule);
    let verdict = match part.number() {
        above if exceeds(above, 0.05) => LARGE,
        above if exceeds(above, 0.03) => NOTICEABLE,
        _ => SMALL,
    };
    sheet.verdict(verdict, format!("{drop} lost, {part} of {supply}"))
}

/// Says which conduit's figures are used, and what was assumed.
///
/// *Returns* nothing where there is no size, so no table to read. Not given, it is the conduit in which the run
/// loses most at this power factor.
fn conduit(sheet: &mut Sheet<'_>, size: Option<ConductorSize>, power_factor: f64) -> Option<Conduit> {
    let size = size?;
    match sheet.one_of(CONDUIT) {
        Some(RunsIn::Plastic) => Some(Conduit::Plastic),
        Some(RunsIn::Aluminum) => Some(Conduit::Aluminum),
        Some(RunsIn::Steel) => Some(Conduit::Steel),
        Some(RunsIn::Open) => {
            sheet.assume(format!(
                "no conduit: figures as in plastic conduit, where nothing adds to those of the conductors ({COMMON})"
            ));
            Some(Conduit::Plastic)
        }
        None => {
            let metal = sheet.one_of(CONDUCTOR_METAL)?;
            let thousand = Length::new::<foot>(1000.0);
            let warm = sheet.maybe(CONDUCTOR_TEMPERATURE).map(Known::get)?;
            let effective = |conduit: &Conduit| {
                let found = lookup::run_resistance(size, metal, *conduit, warm, thousand);
                let reactance = lookup::reactance(size, *conduit, thousand);
                effective_impedance(
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
