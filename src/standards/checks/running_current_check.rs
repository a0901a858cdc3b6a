//! Running current of a compressor against its rated-load current.

use uom::si::f64::ElectricCurrent;

use super::super::meter::judge;
use super::super::registry::{Calculation, Input, InputError, Inputs, Output, Report, VerdictKind};
use super::super::sheet::{METER_ERROR_INPUT, Sheet, exceeds, keyed, share, text};
use crate::quantity::{Kind, Quantity};

/// Less than this share of rated-load current is less than a loaded compressor draws.
const LEAST: f64 = 0.50;
/// More than this share is more than a hot day explains.
const MOST: f64 = 1.10;
const SOURCE: &str = "common practice, no source";

pub(super) const CALCULATION: Calculation = Calculation {
    name: "running-current-check",
    title: "Running current against rated-load current",
    inputs: &[
        Input::quantity(
            "measured-current",
            Kind::Current,
            "Current of the compressor after ten minutes' running.",
        )
        .between(0.0, 3000.0)
        .read(),
        Input::quantity(
            "rated-load-current",
            Kind::Current,
            "Rated-load amps (RLA) on the nameplate.",
        )
        .between(0.1, 2000.0),
        METER_ERROR_INPUT,
    ],
    outputs: &[Output::quantity(
        "share-of-rated",
        Kind::Ratio,
        "Running current over rated-load current.",
    )],
    verdicts: &[
        VerdictKind::plain("below", "Less than half of rated: hardly loaded, or not pumping."),
        VerdictKind::plain("normal", "Between half and 110 % of rated."),
        VerdictKind::plain("above", "More than 110 % of rated."),
    ],
    run: |inputs| judge(&CALCULATION, inputs, work),
};

fn work(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &[])?;
    let measured: ElectricCurrent = sheet.need("measured-current")?;
    let rated: ElectricCurrent = sheet.need("rated-load-current")?;
    let part = Quantity::ratio(share(measured, rated));
    sheet.output("share-of-rated", part);
    sheet.work(
        "share = I / RLA",
        format!("{} / {}", keyed(measured), keyed(rated)),
        keyed(part),
    );
    sheet.at_least("current", measured, rated * LEAST, SOURCE);
    sheet.at_most("current", measured, rated * MOST, SOURCE);
    sheet.source(SOURCE);
    sheet.note(
        "rated-load current is a rating for sizing conductors: a hot day, low voltage or a dirty coil can pass it, so a \
         current above it is not by itself an overload (from memory)",
    );
    let compared = format!("{} is {part} of the rated {}", text(measured), text(rated));
    if exceeds(measured, rated * MOST) {
        sheet.verdict("above", format!("{compared}, more than 110 %"))
    } else if exceeds(rated * LEAST, measured) {
        sheet.verdict("below", format!("{compared}, less than half"))
    } else {
        sheet.verdict("normal", compared)
    }
}
