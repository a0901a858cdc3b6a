//! Insulation resistance corrected to 40 C, against the limits.

use super::prelude::*;
use crate::electrical::winding::insulation_factor;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "insulation-resistance",
    title: "Insulation resistance corrected for temperature",
    inputs: &[
        Input::quantity(
            "insulation-resistance",
            Kind::Resistance,
            "One-minute reading of the insulation tester.",
        )
        .in_unit("Mohm")
        .between(0.0, 1e13)
        .read(),
        Input::quantity(
            "winding-temperature",
            Kind::Temperature,
            "Temperature of the winding.",
        )
        .between(-40.0, 200.0),
        Input::quantity(
            "base-temperature",
            Kind::Temperature,
            "Temperature to correct to.",
        )
        .between(-40.0, 200.0)
        .or("40 C"),
        voltage("motor-voltage", "Rated voltage of the motor.").or("240 V"),
        Input::quantity(
            "ten-minute-resistance",
            Kind::Resistance,
            "Reading after ten minutes, for the polarization index.",
        )
        .in_unit("Mohm")
        .between(0.0, 1e13)
        .optional(),
        METER_ERROR_INPUT,
    ],
    outputs: &[
        Output::quantity("factor", Kind::Ratio, "Correction factor."),
        Output::quantity(
            "corrected-resistance",
            Kind::Resistance,
            "Reading at the base temperature.",
        ),
        Output::quantity(
            "least-resistance",
            Kind::Resistance,
            "Least for random windings below 1 kV.",
        ),
        Output::quantity(
            "polarisation-index",
            Kind::Ratio,
            "Ten-minute over one-minute reading.",
        ),
    ],
    verdicts: &[
        VerdictKind::plain("good", "At least 100 megohm."),
        VerdictKind::plain(
            "usable",
            "At least 20 megohm: trend it, check for moisture and acid.",
        ),
        VerdictKind::plain(
            "suspect",
            "At least 1 megohm: refrigerant, moisture or debris may lower it; warm it and test again.",
        ),
        VerdictKind::plain(
            "fail",
            "Less than 1 megohm: clean leads and terminals and test again before condemning it.",
        ),
    ],
    run: |inputs| judge(&CALCULATION, inputs, work),
};

fn work(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &[])?;
    let measured: ElectricalResistance = sheet.need("insulation-resistance")?;
    let at: ThermodynamicTemperature = sheet.need("winding-temperature")?;
    let base: ThermodynamicTemperature = sheet.need("base-temperature")?;
    let voltage: ElectricPotential = sheet.need("motor-voltage")?;
    let factor = insulation_factor(at, base);
    let corrected = measured * factor;
    let least = ohms((voltage.get::<volt>() / 1000.0 + 1.0) * 1e6);
    sheet.work(
        "k = 2^((T - T_base) / 10)",
        format!("2^(({} - {}) / 10)", text(at), text(base)),
        format!("{factor:.4}"),
    );
    sheet.work(
        "R_base = k x R",
        format!("{factor:.4} x {}", text(measured)),
        text(corrected),
    );
    sheet.work("least = kV + 1 in Mohm", text(voltage), text(least));
    sheet.output("factor", Quantity::ratio(factor));
    sheet.output("corrected-resistance", corrected);
    sheet.output("least-resistance", least);
    if let Some(later) = sheet.maybe::<ElectricalResistance>("ten-minute-resistance")
        && measured > ohms(0.0)
    {
        let index = share(later, measured);
        sheet.output("polarisation-index", Quantity::ratio(index));
        sheet.work(
            "PI = R_10min / R_1min",
            format!("{} / {}", text(later), text(measured)),
            format!("{index:.2}"),
        );
        sheet.note("a polarization index below 1 means the insulation takes more current with time: moisture or dirt");
    }
    sheet.at_least(
        "insulation",
        corrected,
        least,
        "IEEE 43, kV + 1 for older windings",
    );
    sheet.at_least("insulation", corrected, ohms(1e6), COMMON);
    sheet.source("IEEE 43 (rotating machines of 1 hp and larger, one-minute reading corrected to 40 C); Insulation resistance temperature correction - https://insulationtesting.com/?p=107");
    sheet.source(format!(
        "{COMMON}: compressor bands of 1, 20 and 100 megohm; makers differ"
    ));
    sheet.note("never test a compressor under vacuum, nor windings still joined to electronics");
    let found = format!("{} at {}", text(corrected), text(base));
    let megohms = corrected.get::<ohm>() / 1e6;
    let id = match megohms {
        above if above >= 100.0 * (1.0 - 1e-9) => "good",
        above if above >= 20.0 * (1.0 - 1e-9) => "usable",
        above if above >= 1.0 - 1e-9 => "suspect",
        _ => "fail",
    };
    sheet.verdict(id, found)
}
