//! The two legs of a split-phase service, at rest and with a load on one of them.

use super::prelude::*;

/// A change of a leg below this, in volts, is what a sound service and a hand-held meter give.
const NOTICEABLE: f64 = 3.0;

/// A leg outside these, in volts, is a neutral or a leg that is open or failing. Common practice, no source.
const SAFE: (f64, f64) = (100.0, 132.0);

/// What is done at once at such a leg.
const CALL: &str = "load off and no test load, electronics unplugged, people kept from metal pipes and cabinets; main off if the panel is cool, dry and quiet; call the utility's emergency line, then a licensed electrician";

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
        NEUTRAL_SHIFT "shift" = Voltage("neutral-shift", "How far the neutral has moved from the middle.").precise();
        LEG_DIFFERENCE "difference" = Voltage("leg-difference", "Difference of the two legs.").precise();
    }
    verdicts {
        BALANCED = plain("balanced", "The legs stay together.");
        ONE_LEG_SAGS = plain("one-leg-sags", "One leg falls under load and the other does not rise.");
        OPPOSITE_SHIFT = plain("opposite-shift", "One leg falls while the other rises: the neutral is open or has resistance.");
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let (first, second) = (
        sheet.need(LEG_1_VOLTAGE)?.as_read(),
        sheet.need(LEG_2_VOLTAGE)?.as_read(),
    );
    let loaded = (sheet.maybe(LEG_1_LOADED), sheet.maybe(LEG_2_LOADED));
    let table = &table::SUPPLY.supply;
    // Compiled in and tested: the table has a row for 120 V.
    let Some(row) = table.rows.iter().find(|row| row.nominal == 120.0) else {
        return sheet.cannot_tell("the supply table has no row for 120 V");
    };
    let (low, high) = (
        Known::fixed(volts(row.a_service_min)),
        Known::fixed(volts(row.a_service_max)),
    );
    let both = first.get() + second.get();
    if both > volts(300.0) {
        return Err(contradiction(format!(
            "`leg-1-voltage` {first} and `leg-2-voltage` {second} add up to {}; each must be from one leg to neutral, not from leg to leg",
            text(both)
        )));
    }
    let (now_first, now_second) = match loaded {
        (Some(first), Some(second)) => (first.as_read(), second.as_read()),
        (None, None) => (first, second),
        (None, Some(_)) => return Err(sheet.missing(LEG_1_LOADED)),
        (Some(_), None) => return Err(sheet.missing(LEG_2_LOADED)),
    };
    let (higher, lower) = if now_first.get() < now_second.get() {
        (now_second, now_first)
    } else {
        (now_first, now_second)
    };
    let (higher, lower) = (higher.named("V_higher"), lower.named("V_lower"));
    let apart = sheet.give(LEG_DIFFERENCE, higher - lower);
    sheet.give(NEUTRAL_SHIFT, (higher - lower) / 2.0);
    let source = sheet.table(table);
    for leg in [now_first, now_second] {
        sheet.at_least("leg to neutral", leg, low, source.clone());
        sheet.at_most("leg to neutral", leg, high, source.clone());
    }
    let state = format!("legs at {now_first} and {now_second}");
    let is_off = |leg: Known<Voltage>| leg.get() < volts(SAFE.0) || leg.get() > volts(SAFE.1);
    let in_danger = [first, second, now_first, now_second].into_iter().any(is_off);
    if in_danger {
        sheet.note(CALL);
        sheet.source(format!(
            "{COMMON}: a leg below {} or above {} V is open or failing",
            SAFE.0, SAFE.1
        ));
    }
    // Above the range on one leg and below it on the other has no cause but the neutral.
    if higher.get() > high.get() && lower.get() < low.get() {
        return sheet.verdict(
            OPPOSITE_SHIFT,
            format!(
                "{state}: one above {high} and the other below {low} at once, which only the neutral can do"
            ),
        );
    }
    if loaded.0.is_none() && in_danger {
        return sheet.cannot_tell(format!(
            "{state}: a leg outside {} to {} V is a neutral or a leg that fails, or no leg of 120 V; {CALL}",
            SAFE.0, SAFE.1
        ));
    }
    if loaded.0.is_none() {
        if apart.number() <= NOTICEABLE {
            sheet.note("read both legs again with a 120 V load of 10 A or more on one leg: a poor neutral shows only under load");
            return sheet.verdict(BALANCED, format!("{state}, {apart} apart without a test load"));
        }
        return sheet.cannot_tell(format!(
            "{state}, {apart} apart: put a 120 V load of 10 A or more on one leg and read both again to see whether they move apart"
        ));
    }
    let mut change = |symbol, now: Known<Voltage>, now_called, before: Known<Voltage>, before_called| {
        let made = now.named(now_called) - before.named(before_called);
        sheet.work(Symbol::as_read(symbol), made).number()
    };
    let first = change("change of leg 1", now_first, "V1 loaded", first, "V1 at rest");
    let second = change("change of leg 2", now_second, "V2 loaded", second, "V2 at rest");
    sheet.source(format!("{COMMON}: a change of {NOTICEABLE} V counts"));
    let changes = format!("under load leg 1 moved {first:+.1} V and leg 2 {second:+.1} V");
    let falls = |change: f64| change <= -NOTICEABLE + 1e-9;
    let rises = |change: f64| change >= NOTICEABLE - 1e-9;
    if (falls(first) && rises(second)) || (rises(first) && falls(second)) {
        let found = format!("{changes}: apart, so the neutral has resistance or is open");
        return sheet.verdict(OPPOSITE_SHIFT, found);
    }
    if falls(first) != falls(second) {
        let found = format!("{changes}: one leg sags and the other does not rise");
        return sheet.verdict(ONE_LEG_SAGS, found);
    }
    if falls(first) && falls(second) {
        sheet.note("both legs fell together: look at the supply ahead of the panel, not at the neutral");
    }
    if rises(first) || rises(second) {
        return sheet.cannot_tell(format!(
            "{changes}: a leg rose and none fell, so the supply moved meanwhile; read again"
        ));
    }
    sheet.verdict(BALANCED, format!("{changes}: they stay together"))
}
