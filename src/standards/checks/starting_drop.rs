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
        METAL,
        Input::quantity("power-factor", Kind::Ratio, "Power factor while starting.")
            .in_unit("")
            .between(0.05, 1.0)
            .or("0.5"),
        resistance(
            "volts-per-ampere-km",
            "Volts lost per ampere in 1 km of cable, all conductors counted, instead of a size.",
        )
        .optional(),
        Input::quantity(
            "upstream-drop",
            Kind::Voltage,
            "Volts lost ahead of the run at that current.",
        )
        .between(0.0, 1000.0)
        .optional(),
        resistance("supply-resistance", "Ohms ahead of the run, instead of a drop.").optional(),
        PHASES,
    ],
    outputs: &[
        Output::quantity("cable-drop", Kind::Voltage, "Volts lost in the run."),
        Output::quantity("total-drop", Kind::Voltage, "Volts lost in all."),
        Output::quantity("drop-share", Kind::Ratio, "Sag over the supply voltage."),
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
    {
        sheet.assume("no run given: only what is lost ahead of it counts");
        volts(0.0)
    } else {
        return Err(sheet.missing("conductor-size"));
    };
    let upstream = match (
        sheet.maybe::<ElectricPotential>("upstream-drop"),
        sheet.maybe::<ElectricalResistance>("supply-resistance"),
    ) {
        (Some(drop), _) => drop,
        (None, Some(ohms)) => current * ohms,
        (None, None) => {
            sheet.assume("`upstream-drop` and `supply-resistance` not given: the supply taken as stiff");
            volts(0.0)
        }
    };
    let all = cable + upstream;
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
    sheet.output("voltage-while-starting", left.max(volts(0.0)));
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
