//! The two legs of a split-phase service, at rest and with a load on one of them.

use super::super::table::SUPPLY;
use super::prelude::*;
use crate::electrical::neutral::shift;

/// A change of a leg below this, in volts, is what a sound service and a hand-held meter give.
const NOTICEABLE: f64 = 3.0;
const SOURCE: &str = "common practice, no source";

calculation! {
    "leg-balance": "The two legs to neutral: balanced, one sagging, or moving apart";
    inputs {
        LEG_1_VOLTAGE = Voltage("leg-1-voltage", "First leg to neutral at the panel, load off.")
            .between(0.0, 300.0).read();
        LEG_2_VOLTAGE = Voltage("leg-2-voltage", "Second leg to neutral at the panel, load off.")
            .between(0.0, 300.0).read();
        LEG_1_LOADED = Voltage("leg-1-loaded", "First leg to neutral with a 120 V load of 10 A or more on one leg.")
            .between(0.0, 300.0).optional().read();
        LEG_2_LOADED = Voltage("leg-2-loaded", "Second leg to neutral with that load on.")
            .between(0.0, 300.0).optional().read();
        METER_ERROR;
    }
    outputs {
        NEUTRAL_SHIFT = Voltage("neutral-shift", "How far the neutral has moved from the middle.");
        LEG_DIFFERENCE = Voltage("leg-difference", "Difference of the two legs.");
    }
    verdicts {
        BALANCED = plain("balanced", "The legs stay together.");
        ONE_LEG_SAGS = plain("one-leg-sags", "One leg falls under load and the other does not rise.");
        OPPOSITE_SHIFT = plain("opposite-shift", "One leg falls while the other rises: the neutral is open or has resistance.");
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let first = sheet.need(LEG_1_VOLTAGE)?.get();
    let second = sheet.need(LEG_2_VOLTAGE)?.get();
    let loaded = (
        sheet.maybe(LEG_1_LOADED).map(Known::get),
        sheet.maybe(LEG_2_LOADED).map(Known::get),
    );
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
        (None, Some(_)) => return Err(sheet.missing(LEG_1_LOADED)),
        (Some(_), None) => return Err(sheet.missing(LEG_2_LOADED)),
    };
    let moved = shift(now_first, now_second);
    let apart = (now_first - now_second).abs();
    sheet.output(LEG_DIFFERENCE, apart);
    sheet.output(NEUTRAL_SHIFT, moved.abs());
    let (higher, lower) = (now_first.max(now_second), now_first.min(now_second));
    sheet.line(
        "difference = V_higher - V_lower",
        format!("{} - {}", as_read(higher), as_read(lower)),
        as_read(apart),
    );
    sheet.line(
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
            OPPOSITE_SHIFT,
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
                BALANCED,
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
    sheet.line(
        "change of leg 1 = V1 loaded - V1 at rest",
        format!("{} - {}", as_read(now_first), as_read(first)),
        as_read(change_first),
    );
    sheet.line(
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
            OPPOSITE_SHIFT,
            format!("{changes}: apart, so the neutral has resistance or is open"),
        );
    }
    if falls(change_first) != falls(change_second) {
        return sheet.verdict(
            ONE_LEG_SAGS,
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
    sheet.verdict(BALANCED, format!("{changes}: they stay together"))
}
