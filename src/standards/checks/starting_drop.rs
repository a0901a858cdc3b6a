//! Voltage sag while a motor starts.

use super::prelude::*;
use super::usable::metal;
use crate::electrical::voltage_drop;

calculation! {
    "starting-drop": "Voltage sag while a motor starts";
    inputs {
        STARTING_CURRENT = Current("starting-current", "Locked-rotor current of the motor.");
        SUPPLY = Voltage("supply-voltage", "Voltage before the start.");
        LENGTH = Length("conductor-length", "Length of the run, one way.").between(0.0, 10_000.0).optional();
        CONDUCTOR_SIZE = Size("conductor-size", "Size of the conductor.").optional();
        CONDUCTOR_METAL: In<Choice> = In::new(METAL.symbol, METAL.input.only_with(&["conductor-size"]));
        POWER_FACTOR = Ratio("power-factor", "Power factor while starting.")
            .in_unit("").between(0.05, 1.0).or("0.5");
        VOLTS_PER_AMPERE_KM = Resistance("volts-per-ampere-km", "Volts lost per ampere in 1 km of cable, all conductors counted, instead of a size.")
            .instead_of(&["conductor-size"]).optional();
        UPSTREAM_DROP = Voltage("upstream-drop", "Volts lost ahead of the run at that current.")
            .between(0.0, 1000.0).optional();
        SUPPLY_RESISTANCE = Resistance("supply-resistance", "Ohms ahead of the run, instead of a drop.")
            .instead_of(&["upstream-drop"]).optional();
        SHORT_CIRCUIT_CURRENT = Current("short-circuit-current", "Current the supply gives into a dead short ahead of the run.")
            .between(1.0, 1e6).instead_of(&["upstream-drop", "supply-resistance"]).optional();
        SHORT_CIRCUIT_POWER = ApparentPower("short-circuit-power", "Volt-amperes the supply gives into a dead short.")
            .in_unit("kVA").between(1.0, 1e10).instead_of(&["upstream-drop", "supply-resistance", "short-circuit-current"]).optional();
        TRANSFORMER_RATING = ApparentPower("transformer-rating", "Volt-amperes of the transformer that feeds it, with its impedance.")
            .in_unit("kVA").between(50.0, 1e8).instead_of(&["upstream-drop", "supply-resistance", "short-circuit-current", "short-circuit-power"]).optional();
        TRANSFORMER_IMPEDANCE = Ratio("transformer-impedance", "Impedance on the transformer's plate (%Z).")
            .between(0.002, 0.2).only_with(&["transformer-rating"]).optional();
        PHASES;
    }
    outputs {
        CABLE_DROP = Voltage("cable-drop", "Volts lost in the run.");
        TOTAL_DROP = Voltage("total-drop", "Volts lost in all.");
        DROP_SHARE = Ratio("drop-share", "Sag over the supply voltage.");
        SHORT_CIRCUIT_CURRENT_OUT = Current("short-circuit-current", "What the supply gives into a dead short.");
        LIMITED_DROP_SHARE = Ratio("limited-drop-share", "Sag at the supply when the starting current falls with the voltage.");
        VOLTAGE_WHILE_STARTING = Voltage("voltage-while-starting", "What the motor sees.");
    }
    verdicts {
        WITHIN = plain("within", "At most 10 % of the supply.");
        DEEP = plain("deep", "Above 10 %, at most 15 %.");
        TOO_DEEP = plain("too-deep", "Above 15 %: many compressors will not start reliably.");
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let current = sheet.need(STARTING_CURRENT)?.get();
    let supply = sheet.need(SUPPLY)?.get();
    let length = sheet.maybe(LENGTH).map(Known::get);
    let (three, _) = phase_factor(&sheet);
    let power_factor = sheet.need(POWER_FACTOR)?.number();
    let has_conductor =
        sheet.size(CONDUCTOR_SIZE).is_some() || sheet.maybe(VOLTS_PER_AMPERE_KM).map(Known::get).is_some();
    let length = match length {
        Some(length) => length,
        None if has_conductor => return Err(sheet.missing(LENGTH)),
        None => Length::new::<kilometer>(0.0),
    };
    let cable = if let Some(per_km) = sheet.maybe(VOLTS_PER_AMPERE_KM).map(Known::get) {
        let drop = current * per_km * length.get::<kilometer>();
        sheet.line(
            "V_cable = k x I x L",
            format!("{}/km x {} x {}", keyed(per_km), keyed(current), keyed(length)),
            keyed(drop),
        );
        drop
    } else if let Some(size) = sheet.size(CONDUCTOR_SIZE) {
        let metal = metal(sheet.choice(CONDUCTOR_METAL)).ok_or_else(|| sheet.missing(CONDUCTOR_METAL))?;
        let warm = ThermodynamicTemperature::new::<degree_celsius>(75.0);
        let (Some(resistive), Some(reactive)) = (
            lookup::resistance(size, metal, false, warm, length),
            lookup::reactance(size, lookup::Conduit::Steel, length),
        ) else {
            return Err(InputError::OutOfRange {
                input: "conductor-size".to_owned(),
                value: size.to_string(),
                expected: format!("a size of {}", table::CONDUCTORS.ac_impedance_75c.name()),
            });
        };
        sheet.table(&table::CONDUCTORS.dc_resistance_75c);
        sheet.table(&table::CONDUCTORS.ac_impedance_75c);
        sheet.assume("metal at 75 C, reactance as in steel conduit");
        let effective = voltage_drop::effective_impedance(resistive, reactive, power_factor);
        let drop = if three {
            voltage_drop::three_phase(current, effective)
        } else {
            voltage_drop::single_phase(current, effective)
        };
        sheet.line(
            if three {
                "V_cable = 1.732 x I x Z"
            } else {
                "V_cable = 2 x I x Z"
            },
            format!(
                "{} x {} x {}",
                if three { "1.732" } else { "2" },
                keyed(current),
                keyed(effective)
            ),
            keyed(drop),
        );
        drop
    } else if sheet.maybe(UPSTREAM_DROP).map(Known::get).is_some()
        || sheet.maybe(SUPPLY_RESISTANCE).map(Known::get).is_some()
        || sheet.is_given(SHORT_CIRCUIT_CURRENT)
        || sheet.is_given(SHORT_CIRCUIT_POWER)
        || sheet.is_given(TRANSFORMER_RATING)
    {
        sheet.assume("no run given: only what is lost ahead of it counts");
        volts(0.0)
    } else {
        return Err(sheet.missing(CONDUCTOR_SIZE));
    };
    let limited = short_circuit(&mut sheet, supply)?;
    let upstream = match (
        sheet.maybe(UPSTREAM_DROP).map(Known::get),
        sheet.maybe(SUPPLY_RESISTANCE).map(Known::get),
        limited,
    ) {
        (Some(drop), ..) => drop,
        (None, Some(ohms), _) => current * ohms,
        (None, None, Some(most)) => {
            let drop = supply * share(current, most);
            sheet.line(
                "V_upstream = V x I / I_sc",
                format!("{} x {} / {}", keyed(supply), keyed(current), keyed(most)),
                keyed(drop),
            );
            let falling = share(current, current + most);
            sheet.line(
                "sag with the current falling = I / (I + I_sc)",
                format!("{} / ({} + {})", keyed(current), keyed(current), keyed(most)),
                keyed(Quantity::ratio(falling)),
            );
            sheet.output(SHORT_CIRCUIT_CURRENT_OUT, most);
            sheet.output(LIMITED_DROP_SHARE, Quantity::ratio(falling));
            sheet.source("Sizing a transformer for motor loads (locked-rotor over secondary current, times %Z) - https://community.se.com/rss/message?board.id=electrical-distribution-forum&message.id=33");
            drop
        }
        (None, None, None) => {
            sheet.assume("nothing given of the supply ahead of the run: taken as stiff");
            volts(0.0)
        }
    };
    let all = cable + upstream;
    if exceeds(all, supply) {
        return Err(beyond_supply("this start", all, supply));
    }
    let part = share(all, supply);
    sheet.line(
        "V_total = V_cable + V_upstream",
        format!("{} + {}", keyed(cable), keyed(upstream)),
        keyed(all),
    );
    sheet.line(
        "share = V_total / V",
        format!("{} / {}", keyed(all), keyed(supply)),
        keyed(Quantity::ratio(part)),
    );
    sheet.output(CABLE_DROP, cable);
    sheet.output(TOTAL_DROP, all);
    sheet.output(DROP_SHARE, Quantity::ratio(part));
    let left = supply - all;
    sheet.output(VOLTAGE_WHILE_STARTING, left);
    sheet.at_most("sag", all, supply * 0.10, COMMON);
    sheet.at_most("sag", all, supply * 0.15, COMMON);
    sheet.source(format!(
        "{COMMON}: 10 % as in makers' manuals, 15 % as many compressors want 85 % of nameplate to start"
    ));
    sheet.assume("the current stays at its full locked-rotor value; the sag itself lowers it, so the true sag is a little less");
    let found = format!(
        "{} lost while starting, {} of {}",
        text(all),
        Quantity::ratio(part),
        text(supply)
    );
    if exceeds(part, 0.15) {
        sheet.verdict(TOO_DEEP, found)
    } else if exceeds(part, 0.10) {
        sheet.verdict(DEEP, found)
    } else {
        sheet.verdict(WITHIN, found)
    }
}

/// The current the supply gives into a dead short, from whichever way it is given.
///
/// *Formula* I_sc = S_sc / V, or S / (V x Z) with a transformer's impedance; on three phases V x 1.732.
/// *Limits* a transformer alone, the line ahead of it taken as stiff; all impedances at one angle, the worst case.
fn short_circuit(
    sheet: &mut Sheet<'_>,
    supply: ElectricPotential,
) -> Result<Option<ElectricCurrent>, InputError> {
    if let Some(most) = sheet.maybe(SHORT_CIRCUIT_CURRENT).map(Known::get) {
        return Ok(Some(most));
    }
    let (three, factor) = phase_factor(sheet);
    let root = if three { "1.732 x " } else { "" };
    if let Some(power) = sheet.maybe(SHORT_CIRCUIT_POWER).map(Known::get) {
        let most = power / supply / factor;
        sheet.line(
            if three {
                "I_sc = S_sc / (1.732 x V)"
            } else {
                "I_sc = S_sc / V"
            },
            format!("{} / ({root}{})", keyed(Quantity::apparent(power)), keyed(supply)),
            keyed(most),
        );
        return Ok(Some(most));
    }
    let impedance = sheet.maybe(TRANSFORMER_IMPEDANCE).map(Known::number);
    let Some(rating) = sheet.maybe(TRANSFORMER_RATING).map(Known::get) else {
        return match impedance {
            Some(_) => Err(sheet.missing(TRANSFORMER_RATING)),
            None => Ok(None),
        };
    };
    let impedance = impedance.ok_or_else(|| sheet.missing(TRANSFORMER_IMPEDANCE))?;
    let most = rating / supply / factor / impedance;
    sheet.line(
        if three {
            "I_sc = S / (1.732 x V x Z)"
        } else {
            "I_sc = S / (V x Z)"
        },
        format!(
            "{} / ({root}{} x {})",
            keyed(Quantity::apparent(rating)),
            keyed(supply),
            keyed(Quantity::ratio(impedance))
        ),
        keyed(most),
    );
    sheet.assume("the line ahead of the transformer taken as stiff");
    Ok(Some(most))
}
