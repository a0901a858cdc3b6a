//! The two legs of a split-phase service, at rest and with a load on one of them.

use uom::si::electric_potential::volt;
use uom::si::f64::ElectricPotential;

use super::super::meter::judge;
use super::super::registry::{Calculation, Input, InputError, Inputs, Output, Report, VerdictKind};
use super::super::sheet::{METER_ERROR_INPUT, Sheet, as_read, text};
use super::super::table::SUPPLY;
use crate::electrical::neutral::shift;
use crate::quantity::Kind;

/// A change of a leg below this, in volts, is what a sound service and a hand-held meter give.
const NOTICEABLE: f64 = 3.0;
const SOURCE: &str = "common practice, no source";

pub(super) const CALCULATION: Calculation = Calculation {
    name: "leg-balance",
    title: "The two legs to neutral: balanced, one sagging, or moving apart",
    inputs: &[
        Input::quantity(
            "leg-1-voltage",
            Kind::Voltage,
            "First leg to neutral at the panel, load off.",
        )
        .between(0.0, 300.0)
        .read(),
        Input::quantity(
            "leg-2-voltage",
            Kind::Voltage,
            "Second leg to neutral at the panel, load off.",
        )
        .between(0.0, 300.0)
        .read(),
        Input::quantity(
            "leg-1-loaded",
            Kind::Voltage,
            "First leg to neutral with a 120 V load of 10 A or more on one leg.",
        )
        .between(0.0, 300.0)
        .optional()
        .read(),
        Input::quantity(
            "leg-2-loaded",
            Kind::Voltage,
            "Second leg to neutral with that load on.",
        )
        .between(0.0, 300.0)
        .optional()
        .read(),
        METER_ERROR_INPUT,
    ],
    outputs: &[
        Output::quantity(
            "neutral-shift",
            Kind::Voltage,
            "How far the neutral has moved from the middle.",
        ),
        Output::quantity("leg-difference", Kind::Voltage, "Difference of the two legs."),
    ],
    verdicts: &[
        VerdictKind::plain("balanced", "The legs stay together."),
        VerdictKind::plain(
            "one-leg-sags",
            "One leg falls under load and the other does not rise.",
        ),
        VerdictKind::plain(
            "opposite-shift",
            "One leg falls while the other rises: the neutral is open or has resistance.",
        ),
    ],
    run: |inputs| judge(&CALCULATION, inputs, work),
};

fn work(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &[])?;
    let first: ElectricPotential = sheet.need("leg-1-voltage")?;
    let second: ElectricPotential = sheet.need("leg-2-voltage")?;
    let loaded = (sheet.maybe("leg-1-loaded"), sheet.maybe("leg-2-loaded"));
    let noticeable = ElectricPotential::new::<volt>(NOTICEABLE);
    let table = &SUPPLY.supply;
    // Compiled in and tested: the table has a row for 120 V.
    let Some(row) = table.rows.iter().find(|row| row.nominal == 120.0) else {
        return sheet.cannot_tell("the supply table has no row for 120 V");
    };
    let (low, high) = (
        ElectricPotential::new::<volt>(row.a_service_min),
        ElectricPotential::new::<volt>(row.a_service_max),
    );
    if (first + second).get::<volt>() > 300.0 {
        return Err(InputError::Contradiction {
            what: format!(
                "`leg-1-voltage` {} and `leg-2-voltage` {} add up to {}; each must be from one leg to neutral, not from leg to leg",
                text(first),
                text(second),
                text(first + second)
            ),
        });
    }
    let (now_first, now_second) = match loaded {
        (Some(first), Some(second)) => (first, second),
        (None, None) => (first, second),
        (None, Some(_)) => return Err(sheet.missing("leg-1-loaded")),
        (Some(_), None) => return Err(sheet.missing("leg-2-loaded")),
    };
    let moved = shift(now_first, now_second);
    let apart = (now_first - now_second).abs();
    sheet.output("leg-difference", apart);
    sheet.output("neutral-shift", moved.abs());
    let (higher, lower) = (now_first.max(now_second), now_first.min(now_second));
    sheet.work(
        "difference = V_higher - V_lower",
        format!("{} - {}", as_read(higher), as_read(lower)),
        as_read(apart),
    );
    sheet.work(
        "shift = (V_higher - V_lower) / 2",
        format!("({} - {}) / 2", as_read(higher), as_read(lower)),
        as_read(moved.abs()),
    );
    let source = sheet.table(table);
    for leg in [now_first, now_second] {
        sheet.at_least("leg to neutral", leg, low, source.clone());
        sheet.at_most("leg to neutral", leg, high, source.clone());
    }
    let state = format!("legs at {} and {}", text(now_first), text(now_second));
    // Above the range on one leg and below it on the other has no cause but the neutral.
    let out_both_ways = |one: ElectricPotential, other: ElectricPotential| one > high && other < low;
    if out_both_ways(now_first, now_second) || out_both_ways(now_second, now_first) {
        return sheet.verdict(
            "opposite-shift",
            format!(
                "{state}: one above {} and the other below {} at once, which only the neutral can do",
                text(high),
                text(low)
            ),
        );
    }
    if loaded.0.is_none() {
        if apart <= noticeable {
            sheet.note("read both legs again with a 120 V load of 10 A or more on one leg: a poor neutral shows only under load");
            return sheet.verdict(
                "balanced",
                format!("{state}, {} apart without a test load", text(apart)),
            );
        }
        return sheet.cannot_tell(format!(
            "{state}, {} apart: put a 120 V load of 10 A or more on one leg and read both again to see whether they move apart",
            text(apart)
        ));
    }
    let (change_first, change_second) = (now_first - first, now_second - second);
    let signed = |change: ElectricPotential| format!("{:+.1} V", change.get::<volt>());
    sheet.work(
        "change of leg 1 = V1 loaded - V1 at rest",
        format!("{} - {}", as_read(now_first), as_read(first)),
        as_read(change_first),
    );
    sheet.work(
        "change of leg 2 = V2 loaded - V2 at rest",
        format!("{} - {}", as_read(now_second), as_read(second)),
        as_read(change_second),
    );
    sheet.source(format!("{SOURCE}: a change of {NOTICEABLE} V counts"));
    let changes = format!(
        "under load leg 1 moved {} and leg 2 {}",
        signed(change_first),
        signed(change_second)
    );
    let tolerance = ElectricPotential::new::<volt>(1e-9);
    let falls = |change: ElectricPotential| change <= -noticeable + tolerance;
    let rises = |change: ElectricPotential| change >= noticeable - tolerance;
    if (falls(change_first) && rises(change_second)) || (rises(change_first) && falls(change_second)) {
        return sheet.verdict(
            "opposite-shift",
            format!("{changes}: apart, so the neutral has resistance or is open"),
        );
    }
    if falls(change_first) != falls(change_second) {
        return sheet.verdict(
            "one-leg-sags",
            format!("{changes}: one leg sags and the other does not rise"),
        );
    }
    if falls(change_first) && falls(change_second) {
        sheet.note("both legs fell together: look at the supply ahead of the panel, not at the neutral");
    }
    if rises(change_first) || rises(change_second) {
        return sheet.cannot_tell(format!(
            "{changes}: a leg rose and none fell, so the supply moved meanwhile; read again"
        ));
    }
    sheet.verdict("balanced", format!("{changes}: they stay together"))
}
