//! Voltage sag while a motor starts.

use super::prelude::*;
use super::usable::no_resistance;
use crate::electrical::voltage_drop::effective_impedance;

calculation! {
    "starting-drop": "Voltage sag while a motor starts";
    inputs {
        STARTING_CURRENT "I" = Current("starting-current", "Locked-rotor current of the motor.");
        SUPPLY "V" = Voltage("supply-voltage", "Voltage before the start.");
        LENGTH = Length("conductor-length", "Length of the run, one way.").between(0.0, 10_000.0).optional();
        CONDUCTOR_SIZE = Size("conductor-size", "Size of the conductor.").optional();
        CONDUCTOR_METAL: In<OneOf<Metal>> = In::new(METAL.symbol, METAL.input.only_with(&["conductor-size"]));
        POWER_FACTOR = Ratio("power-factor", "Power factor while starting.")
            .in_unit("").between(0.05, 1.0).or("0.5");
        VOLTS_PER_AMPERE_KM = Resistance("volts-per-ampere-km", "Volts lost per ampere in 1 km of cable, all conductors counted, instead of a size.")
            .instead_of(&["conductor-size"]).optional();
        UPSTREAM_DROP = Voltage("upstream-drop", "Volts lost ahead of the run at that current.")
            .between(0.0, 1000.0).optional();
        SUPPLY_RESISTANCE = Resistance("supply-resistance", "Ohms ahead of the run, instead of a drop.")
            .instead_of(&["upstream-drop"]).optional();
        SHORT_CIRCUIT_CURRENT "I_sc" = Current("short-circuit-current", "Current the supply gives into a dead short ahead of the run.")
            .between(1.0, 1e6).instead_of(&["upstream-drop", "supply-resistance"]).optional();
        SHORT_CIRCUIT_POWER "S_sc" = ApparentPower("short-circuit-power", "Volt-amperes the supply gives into a dead short.")
            .in_unit("kVA").between(1.0, 1e10).instead_of(&["upstream-drop", "supply-resistance", "short-circuit-current"]).optional();
        TRANSFORMER_RATING "S" = ApparentPower("transformer-rating", "Volt-amperes of the transformer that feeds it, with its impedance.")
            .in_unit("kVA").between(50.0, 1e8).instead_of(&["upstream-drop", "supply-resistance", "short-circuit-current", "short-circuit-power"]).optional();
        TRANSFORMER_IMPEDANCE "Z" = Ratio("transformer-impedance", "Impedance on the transformer's plate (%Z).")
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
    let (current, supply) = (sheet.need(STARTING_CURRENT)?, sheet.need(SUPPLY)?);
    let (three, _) = phase_factor(&sheet);
    let power_factor = sheet.need(POWER_FACTOR)?.number();
    let (per_km, size) = (sheet.maybe(VOLTS_PER_AMPERE_KM), sheet.size(CONDUCTOR_SIZE));
    let length = match sheet.maybe(LENGTH) {
        Some(length) => length,
        None if per_km.is_some() || size.is_some() => return Err(sheet.missing(LENGTH)),
        None => Known::fixed(Length::of(0.0)),
    };
    let given_ahead = [
        UPSTREAM_DROP.input,
        SUPPLY_RESISTANCE.input,
        SHORT_CIRCUIT_CURRENT.input,
    ]
    .into_iter()
    .chain([SHORT_CIRCUIT_POWER.input, TRANSFORMER_RATING.input])
    .any(|input| sheet.has(&input));
    let cable = if let Some(per_km) = per_km {
        let drop = Known::fixed(current.get() * per_km.get() * length.get().get::<kilometer>());
        let put_in = format!("{}/km x {} x {}", keyed(per_km), keyed(current), keyed(length));
        sheet.line("V_cable = k x I x L", put_in, keyed(drop));
        drop
    } else if let Some(size) = size {
        let metal = sheet.need_one(CONDUCTOR_METAL)?;
        let (Some(resistive), Some(reactive)) = (
            lookup::resistance(size, metal, false, Temperature::of(75.0), length.get()),
            lookup::reactance(size, lookup::Conduit::Steel, length.get()),
        ) else {
            return Err(no_resistance(size, &table::CONDUCTORS.ac_impedance_75c));
        };
        sheet.table(&table::CONDUCTORS.dc_resistance_75c);
        sheet.table(&table::CONDUCTORS.ac_impedance_75c);
        sheet.assume("metal at 75 C, reactance as in steel conduit");
        let effective = Known::called("Z", effective_impedance(resistive, reactive, power_factor));
        run_drop(&mut sheet, "V_cable", current, effective, three)
    } else if given_ahead {
        sheet.assume("no run given: only what is lost ahead of it counts");
        Known::fixed(volts(0.0))
    } else {
        return Err(sheet.missing(CONDUCTOR_SIZE));
    };
    let limited = short_circuit(&mut sheet, supply)?;
    let upstream = match (
        sheet.maybe(UPSTREAM_DROP),
        sheet.maybe(SUPPLY_RESISTANCE),
        limited,
    ) {
        (Some(drop), ..) => drop.get(),
        (None, Some(ohms), _) => (current * ohms).value(),
        (None, None, Some(most)) => {
            let drop = sheet.work("V_upstream", supply * current / most);
            let falling = sheet.work("sag with the current falling", current / (current + most));
            sheet.output(SHORT_CIRCUIT_CURRENT_OUT, most);
            sheet.output(LIMITED_DROP_SHARE, falling);
            sheet.source("Sizing a transformer for motor loads (locked-rotor over secondary current, times %Z) - https://community.se.com/rss/message?board.id=electrical-distribution-forum&message.id=33");
            drop.get()
        }
        (None, None, None) => {
            sheet.assume("nothing given of the supply ahead of the run: taken as stiff");
            volts(0.0)
        }
    };
    let cable = cable.named("V_cable");
    let all = cable + Known::called("V_upstream", upstream);
    if all.exceeds(supply) {
        return Err(beyond_supply("this start", all.value(), supply.get()));
    }
    let all = sheet.work("V_total", all);
    let part = sheet.work("share", all / supply);
    sheet.output(CABLE_DROP, cable);
    sheet.output(TOTAL_DROP, all);
    sheet.output(DROP_SHARE, part);
    sheet.output(VOLTAGE_WHILE_STARTING, supply - all);
    sheet.at_most("sag", all, supply * 0.10, COMMON);
    sheet.at_most("sag", all, supply * 0.15, COMMON);
    sheet.source(format!(
        "{COMMON}: 10 % as in makers' manuals, 15 % as many compressors want 85 % of nameplate to start"
    ));
    sheet.assume("the current stays at its full locked-rotor value; the sag itself lowers it, so the true sag is a little less");
    let verdict = match part.number() {
        above if exceeds(above, 0.15) => TOO_DEEP,
        above if exceeds(above, 0.10) => DEEP,
        _ => WITHIN,
    };
    sheet.verdict(verdict, format!("{all} lost while starting, {part} of {supply}"))
}

/// The current the supply gives into a dead short, from whichever way it is given.
///
/// *Formula* I_sc = S_sc / V, or S / (V x Z) with a transformer's impedance; on three phases V x 1.732.
/// *Limits* a transformer alone, the line ahead of it taken as stiff; all impedances at one angle, the worst case.
fn short_circuit(
    sheet: &mut Sheet<'_>,
    supply: Known<Voltage>,
) -> Result<Option<Known<Current>>, InputError> {
    if let Some(most) = sheet.maybe(SHORT_CIRCUIT_CURRENT) {
        return Ok(Some(most));
    }
    let (three, _) = phase_factor(sheet);
    if let Some(power) = sheet.maybe(SHORT_CIRCUIT_POWER) {
        return Ok(Some(if three {
            sheet.work("I_sc", power / (ROOT_3 * supply))
        } else {
            sheet.work("I_sc", power / supply)
        }));
    }
    let (rating, impedance) = match (
        sheet.maybe(TRANSFORMER_RATING),
        sheet.maybe(TRANSFORMER_IMPEDANCE),
    ) {
        (Some(rating), Some(impedance)) => (rating, impedance),
        (Some(_), None) => return Err(sheet.missing(TRANSFORMER_IMPEDANCE)),
        (None, Some(_)) => return Err(sheet.missing(TRANSFORMER_RATING)),
        (None, None) => return Ok(None),
    };
    let most = if three {
        sheet.work("I_sc", rating / (ROOT_3 * supply * impedance))
    } else {
        sheet.work("I_sc", rating / (supply * impedance))
    };
    sheet.assume("the line ahead of the transformer taken as stiff");
    Ok(Some(most))
}
