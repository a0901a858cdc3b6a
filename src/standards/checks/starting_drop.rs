//! Voltage sag while a motor starts.

use super::prelude::*;
use super::usable::metal;
use crate::electrical::voltage_drop;
use uom::si::length::kilometer;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "starting-drop",
    title: "Voltage sag while a motor starts",
    inputs: &[
        current("starting-current", "Locked-rotor current of the motor."),
        voltage("supply-voltage", "Voltage before the start."),
        Input::quantity("conductor-length", Kind::Length, "Length of the run, one way.")
            .between(0.0, 10_000.0)
            .optional(),
        Input::size("conductor-size", "Size of the conductor.").optional(),
        METAL.only_with(&["conductor-size"]),
        Input::quantity("power-factor", Kind::Ratio, "Power factor while starting.")
            .in_unit("")
            .between(0.05, 1.0)
            .or("0.5"),
        resistance(
            "volts-per-ampere-km",
            "Volts lost per ampere in 1 km of cable, all conductors counted, instead of a size.",
        )
        .instead_of(&["conductor-size"])
        .optional(),
        Input::quantity(
            "upstream-drop",
            Kind::Voltage,
            "Volts lost ahead of the run at that current.",
        )
        .between(0.0, 1000.0)
        .optional(),
        resistance("supply-resistance", "Ohms ahead of the run, instead of a drop.")
            .instead_of(&["upstream-drop"])
            .optional(),
        current(
            "short-circuit-current",
            "Current the supply gives into a dead short ahead of the run.",
        )
        .between(1.0, 1e6)
        .instead_of(&["upstream-drop", "supply-resistance"])
        .optional(),
        Input::quantity(
            "short-circuit-power",
            Kind::ApparentPower,
            "Volt-amperes the supply gives into a dead short.",
        )
        .in_unit("kVA")
        .between(1.0, 1e10)
        .instead_of(&["upstream-drop", "supply-resistance", "short-circuit-current"])
        .optional(),
        Input::quantity(
            "transformer-rating",
            Kind::ApparentPower,
            "Volt-amperes of the transformer that feeds it, with its impedance.",
        )
        .in_unit("kVA")
        .between(50.0, 1e8)
        .instead_of(&[
            "upstream-drop",
            "supply-resistance",
            "short-circuit-current",
            "short-circuit-power",
        ])
        .optional(),
        Input::quantity(
            "transformer-impedance",
            Kind::Ratio,
            "Impedance on the transformer's plate (%Z).",
        )
        .between(0.002, 0.2)
        .only_with(&["transformer-rating"])
        .optional(),
        PHASES,
    ],
    outputs: &[
        Output::quantity("cable-drop", Kind::Voltage, "Volts lost in the run."),
        Output::quantity("total-drop", Kind::Voltage, "Volts lost in all."),
        Output::quantity("drop-share", Kind::Ratio, "Sag over the supply voltage."),
        Output::quantity(
            "short-circuit-current",
            Kind::Current,
            "What the supply gives into a dead short.",
        ),
        Output::quantity(
            "limited-drop-share",
            Kind::Ratio,
            "Sag at the supply when the starting current falls with the voltage.",
        ),
        Output::quantity("voltage-while-starting", Kind::Voltage, "What the motor sees."),
    ],
    verdicts: &[
        VerdictKind::plain("within", "At most 10 % of the supply."),
        VerdictKind::plain("deep", "Above 10 %, at most 15 %."),
        VerdictKind::plain(
            "too-deep",
            "Above 15 %: many compressors will not start reliably.",
        ),
    ],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &[])?;
    let current: ElectricCurrent = sheet.need("starting-current")?;
    let supply: ElectricPotential = sheet.need("supply-voltage")?;
    let length: Option<Length> = sheet.maybe("conductor-length");
    let (three, _) = phase_factor(&sheet);
    let power_factor: f64 = sheet.need("power-factor")?;
    let has_conductor = sheet.size("conductor-size").is_some()
        || sheet
            .maybe::<ElectricalResistance>("volts-per-ampere-km")
            .is_some();
    let length = match length {
        Some(length) => length,
        None if has_conductor => return Err(sheet.missing("conductor-length")),
        None => Length::new::<kilometer>(0.0),
    };
    let cable = if let Some(per_km) = sheet.maybe::<ElectricalResistance>("volts-per-ampere-km") {
        let drop = current * per_km * length.get::<kilometer>();
        sheet.work(
            "V_cable = k x I x L",
            format!("{}/km x {} x {}", keyed(per_km), keyed(current), keyed(length)),
            keyed(drop),
        );
        drop
    } else if let Some(size) = sheet.size("conductor-size") {
        let metal = metal(sheet.choice("conductor-metal")).ok_or_else(|| sheet.missing("conductor-metal"))?;
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
        sheet.work(
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
    } else if sheet.maybe::<ElectricPotential>("upstream-drop").is_some()
        || sheet.maybe::<ElectricalResistance>("supply-resistance").is_some()
        || [
            "short-circuit-current",
            "short-circuit-power",
            "transformer-rating",
        ]
        .iter()
        .any(|name| sheet.is_given(name))
    {
        sheet.assume("no run given: only what is lost ahead of it counts");
        volts(0.0)
    } else {
        return Err(sheet.missing("conductor-size"));
    };
    let limited = short_circuit(&mut sheet, supply)?;
    let upstream = match (
        sheet.maybe::<ElectricPotential>("upstream-drop"),
        sheet.maybe::<ElectricalResistance>("supply-resistance"),
        limited,
    ) {
        (Some(drop), ..) => drop,
        (None, Some(ohms), _) => current * ohms,
        (None, None, Some(most)) => {
            let drop = supply * share(current, most);
            sheet.work(
                "V_upstream = V x I / I_sc",
                format!("{} x {} / {}", keyed(supply), keyed(current), keyed(most)),
                keyed(drop),
            );
            let falling = share(current, current + most);
            sheet.work(
                "sag with the current falling = I / (I + I_sc)",
                format!("{} / ({} + {})", keyed(current), keyed(current), keyed(most)),
                keyed(Quantity::ratio(falling)),
            );
            sheet.output("short-circuit-current", most);
            sheet.output("limited-drop-share", Quantity::ratio(falling));
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
    sheet.work(
        "V_total = V_cable + V_upstream",
        format!("{} + {}", keyed(cable), keyed(upstream)),
        keyed(all),
    );
    sheet.work(
        "share = V_total / V",
        format!("{} / {}", keyed(all), keyed(supply)),
        keyed(Quantity::ratio(part)),
    );
    sheet.output("cable-drop", cable);
    sheet.output("total-drop", all);
    sheet.output("drop-share", Quantity::ratio(part));
    let left = supply - all;
    sheet.output("voltage-while-starting", left);
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
        sheet.verdict("too-deep", found)
    } else if exceeds(part, 0.10) {
        sheet.verdict("deep", found)
    } else {
        sheet.verdict("within", found)
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
    if let Some(most) = sheet.maybe::<ElectricCurrent>("short-circuit-current") {
        return Ok(Some(most));
    }
    let (three, factor) = phase_factor(sheet);
    let root = if three { "1.732 x " } else { "" };
    if let Some(power) = sheet.maybe::<Power>("short-circuit-power") {
        let most = power / supply / factor;
        sheet.work(
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
    let impedance: Option<f64> = sheet.maybe("transformer-impedance");
    let Some(rating) = sheet.maybe::<Power>("transformer-rating") else {
        return match impedance {
            Some(_) => Err(sheet.missing("transformer-rating")),
            None => Ok(None),
        };
    };
    let impedance = impedance.ok_or_else(|| sheet.missing("transformer-impedance"))?;
    let most = rating / supply / factor / impedance;
    sheet.work(
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
