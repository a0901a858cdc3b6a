//! What a control transformer gives against what it is rated for.

use uom::si::electric_potential::volt;
use uom::si::f64::{ElectricCurrent, ElectricPotential, Power};

use super::super::meter::judge;
use super::super::registry::{Calculation, Input, InputError, Inputs, Output, Report, VerdictKind};
use super::super::sheet::{EDITION_INPUT, METER_ERROR_INPUT, Sheet, exceeds, keyed, share, text};
use crate::electrical::transformer::rated_current;
use crate::quantity::{Kind, Quantity};

/// The secondary voltage a control transformer is rated at, in volts.
const RATED_SECONDARY: f64 = 24.0;
/// Above this share nothing is left for the inrush of a contactor: common practice, no source.
const NEAR: f64 = 0.80;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "control-load",
    title: "Load on the control transformer against its rating",
    inputs: &[
        Input::quantity(
            "transformer-rating",
            Kind::ApparentPower,
            "Volt-amperes on the transformer's label.",
        )
        .between(1.0, 2000.0),
        Input::quantity(
            "secondary-current",
            Kind::Current,
            "Current in the secondary with everything called for.",
        )
        .between(0.0, 100.0)
        .read(),
        Input::quantity(
            "secondary-voltage",
            Kind::Voltage,
            "Voltage of the secondary under that load.",
        )
        .between(1.0, 60.0)
        .optional()
        .read(),
        METER_ERROR_INPUT,
        EDITION_INPUT,
    ],
    outputs: &[
        Output::quantity(
            "rated-secondary-current",
            Kind::Current,
            "Current the transformer may give at 24 V.",
        ),
        Output::quantity("load-share", Kind::Ratio, "Secondary current over that."),
    ],
    verdicts: &[
        VerdictKind::plain("within", "At most 80 % of rating."),
        VerdictKind::plain(
            "near-limit",
            "Above 80 % of rating: little is left for a contactor to pull in.",
        ),
        VerdictKind::violation("over", "Above rating."),
    ],
    run: |inputs| judge(&CALCULATION, inputs, work),
};

fn work(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &["listed-use"])?;
    let rating: Power = sheet.need("transformer-rating")?;
    let current: ElectricCurrent = sheet.need("secondary-current")?;
    let rated = rated_current(rating, ElectricPotential::new::<volt>(RATED_SECONDARY));
    let part = share(current, rated);
    sheet.output("rated-secondary-current", rated);
    sheet.output("load-share", Quantity::ratio(part));
    sheet.work(
        "I_rated = VA / 24 V",
        format!("{} / 24 V", keyed(Quantity::apparent(rating))),
        keyed(rated),
    );
    sheet.work(
        "share = I / I_rated",
        format!("{} / {}", keyed(current), keyed(rated)),
        keyed(Quantity::ratio(part)),
    );
    if let Some(voltage) = sheet.maybe::<ElectricPotential>("secondary-voltage") {
        let load = Quantity::apparent(voltage * current);
        sheet.work(
            "VA = V x I",
            format!("{} x {}", keyed(voltage), keyed(current)),
            keyed(load),
        );
        // The winding is heated by current, so a sagging voltage does not excuse it.
        sheet
            .note("the share is by current: a secondary that sags below 24 V carries fewer VA and is as hot");
    }
    let rule = sheet.rule("listed-use");
    sheet.at_most("secondary current", current, rated, rule);
    sheet.at_most(
        "secondary current",
        current,
        rated * NEAR,
        "common practice, no source",
    );
    let compared = format!(
        "{} is {} of the {} it may give",
        text(current),
        Quantity::ratio(part),
        text(rated)
    );
    if exceeds(current, rated) {
        sheet.verdict("over", compared)
    } else if exceeds(current, rated * NEAR) {
        sheet.verdict("near-limit", compared)
    } else {
        sheet.verdict("within", compared)
    }
}
