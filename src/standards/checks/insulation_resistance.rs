//! Insulation resistance corrected to 40 C, against the limits.

use super::prelude::*;
use crate::electrical::winding::insulation_factor;

calculation! {
    "insulation-resistance": "Insulation resistance corrected for temperature";
    inputs {
        INSULATION_RESISTANCE "R_1min" = Resistance("insulation-resistance", "One-minute reading of the insulation tester.")
            .in_unit("Mohm").between(0.0, 1e13).read();
        WINDING_TEMPERATURE = Temperature("winding-temperature", "Temperature of the winding.")
            .between(-40.0, 200.0);
        BASE_TEMPERATURE = Temperature("base-temperature", "Temperature to correct to.")
            .between(-40.0, 200.0).or("40 C");
        WINDING_KIND = OneOf<Winding>("winding-kind", "hermetic: sealed compressor; random-wound: nearly every open motor below 1 kV; before-1970: its make, not its use.").optional();
        MAKERS_LEAST = Resistance("makers-least", "Least the maker allows for this machine.")
            .in_unit("Mohm").between(1e3, 1e12).optional();
        MOTOR_VOLTAGE = Voltage("motor-voltage", "Rated voltage of the motor.").or("240 V");
        TEN_MINUTE_RESISTANCE "R_10min" = Resistance("ten-minute-resistance", "Reading after ten minutes, for the polarization index.")
            .in_unit("Mohm").between(0.0, 1e13).optional();
        METER_ERROR;
    }
    outputs {
        FACTOR = Ratio("factor", "Correction factor.");
        CORRECTED_RESISTANCE = Resistance("corrected-resistance", "Reading at the base temperature.");
        LEAST_RESISTANCE = Resistance("least-resistance", "Least for this machine; where its kind is not given, for an open motor.");
        POLARISATION_INDEX "PI" = Ratio("polarisation-index", "Ten-minute over one-minute reading.").plain();
    }
    verdicts {
        GOOD = plain("good", "At least 100 megohm.");
        USABLE = plain("usable", "At least 20 megohm: trend it, check for moisture and acid.");
        SUSPECT = plain("suspect", "Not below its least: refrigerant, moisture or debris may lower it; warm it and test again.");
        FAIL = plain("fail", "Below its least: keep it off; clean leads and terminals and test again before condemning it.");
    }
}

choice! { Winding { Hermetic = "hermetic", RandomWound = "random-wound", FormWound = "form-wound", Before1970 = "before-1970" } }

/// The standard its least values are from.
const IEEE_43: &str = "IEEE 43-2013";

fn work(mut sheet: Sheet<'_>) -> Answer {
    let measured = sheet.need(INSULATION_RESISTANCE)?;
    let (at, base) = (sheet.need(WINDING_TEMPERATURE)?, sheet.need(BASE_TEMPERATURE)?);
    let voltage = sheet.need(MOTOR_VOLTAGE)?;
    let factor = Known::called("k", Ratio::of(insulation_factor(at.get(), base.get()))).plain();
    sheet.line(
        "k = 2^((T - T_base) / 10)",
        format!("2^(({} - {}) / 10)", keyed(at), keyed(base)),
        keyed_number(factor.number()),
    );
    let corrected = sheet.work("R_base", factor * measured.named("R"));
    let kind = sheet.one_of(WINDING_KIND);
    let makers = sheet.maybe(MAKERS_LEAST);
    let old = ohms((voltage.number() / 1000.0 + 1.0) * 1e6);
    let (least, source) = match (makers, kind) {
        (Some(makers), _) => (makers.get(), "the maker's own least, as given"),
        (None, Some(Winding::Hermetic)) => (ohms(1e6), COMMON),
        (None, Some(Winding::FormWound)) if voltage.number() >= 1000.0 => (ohms(100e6), IEEE_43),
        (None, Some(Winding::Before1970)) => (old, IEEE_43),
        (None, Some(Winding::FormWound | Winding::RandomWound) | None) => (ohms(5e6), IEEE_43),
    };
    let least = Known::fixed(least);
    if makers.is_none() && kind == Some(Winding::Before1970) {
        sheet.line(
            "least = (V / 1 kV + 1) x 1 Mohm",
            format!("({} / 1 kV + 1) x 1 Mohm", keyed(voltage)),
            keyed(least),
        );
    }
    sheet.output(FACTOR, factor);
    sheet.output(CORRECTED_RESISTANCE, corrected);
    sheet.output(LEAST_RESISTANCE, least);
    if let Some(later) = sheet.maybe(TEN_MINUTE_RESISTANCE)
        && measured.number() > 0.0
    {
        sheet.give(POLARISATION_INDEX, later / measured);
        sheet.note("a polarization index below 1 means the insulation takes more current with time: moisture or dirt");
    }
    sheet.at_least("insulation", corrected, least, source);
    sheet.source("IEEE 43-2013 (rotating machines of 1 hp and larger, one-minute reading corrected to 40 C); Insulation resistance temperature correction - https://insulationtesting.com/?p=107");
    sheet.source("Least values: kV + 1 megohm for windings before 1970, 100 for form-wound coils after, 5 for random-wound and form-wound below 1 kV - https://forum.testguy.net/threads/2732-Field-Testing-of-Motors-IEEE-43?p=12169&s=fcdd7c25efff1f9b209e104ac990e214");
    sheet.source(format!(
        "{COMMON}: compressor bands of 1, 20 and 100 megohm; makers differ, and one calls less than 2 megohm a ground fault - http://www.manualslib.com/manual/806562/Tecumseh-Ah5540e.html?page=49"
    ));
    if kind != Some(Winding::Hermetic) {
        sheet.note("IEEE 43 is for machines of 1 hp and larger");
    }
    if makers.is_none() && kind.is_none_or(|kind| kind == Winding::Hermetic) {
        sheet.note("for a sealed compressor the maker's own least rules: give it as `makers-least`");
    }
    sheet.note("never test a compressor under vacuum, nor windings still joined to electronics");
    let found = format!("{corrected} at {base}");
    let megohms = corrected.number() / 1e6;
    if makers.is_none() && kind.is_none() && (1.0 - 1e-9..5.0 * (1.0 - 1e-9)).contains(&megohms) {
        return sheet.cannot_tell(format!(
            "{found}: below the 5 megohm of an open motor; for a sealed compressor its maker's least tells"
        ));
    }
    if least.exceeds(corrected) {
        return sheet.verdict(
            FAIL,
            format!("{found}, below the {least} it must have ({source})"),
        );
    }
    let verdict = match megohms {
        above if above >= 100.0 * (1.0 - 1e-9) => GOOD,
        above if above >= 20.0 * (1.0 - 1e-9) => USABLE,
        _ => SUSPECT,
    };
    sheet.verdict(verdict, found)
}
