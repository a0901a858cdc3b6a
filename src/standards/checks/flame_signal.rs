//! Flame-rectification current of a burner.

use super::prelude::*;

calculation! {
    "flame-signal": "Flame current of a flame rod against usual figures";
    inputs {
        FLAME_CURRENT = Current("flame-current", "Direct current in the rod's lead, microamperes.")
            .in_unit("uA").between(0.0, 1e-4).read();
        WEAK_BELOW = Current("weak-below", "Figure of the control's manual below which the signal is weak.")
            .in_unit("uA").between(1e-7, 1e-5).optional();
        METER_ERROR;
    }
    outputs {
        WEAK_BELOW_OUT = Current("weak-below", "Below this the signal is weak.");
        USUAL_LOW = Current("usual-low", "Low end of what one source calls usual.");
        USUAL_HIGH = Current("usual-high", "High end of it.");
    }
    verdicts {
        NONE = plain("none", "Below 0.1 microampere: no flame proved.");
        IS_WEAK = plain("weak", "Below the figure of the control: it may lock out at any time.");
        ENOUGH = plain("enough", "Not below the control's own figure.");
        LOW = plain("low", "The control's figure is not given; below what one source calls usual.");
        IS_USUAL = plain("usual", "The control's figure is not given; in the range one source calls usual.");
    }
}

/// Usual flame current of an in-shot burner, and the figure below which it is called weak, amperes.
const USUAL: (f64, f64) = (2e-6, 5e-6);
const WEAK: f64 = 1e-6;
/// Where the two are from.
const SLIDES: &str = "Flame rectification, technical conference slides - https://slideread.com/slide/flame-rectification-amick-racing-zl5y1h";
/// What controls ask for; the figures differ by a factor of five.
const MANUALS: [&str; 3] = [
    "Furnace manual, flame signal: normal from 1.5 uA, drop-out at 0.4 uA - https://manualshive.com/ru/manual/lennox/merit-ml180uh045e36a/1877593?page=13",
    "Furnace manual, flame signal: normal from 2.6 uA - https://www.easymanua.ls/lennox/el280uhe-series/manual/1424169?p=21",
    "Furnace manual, flame current: 2 to 4 uA, held down to 0.5 uA - https://www.easymanua.ls/conquest/80/manual?p=73",
];

fn work(mut sheet: Sheet<'_>) -> Answer {
    let measured = sheet.need(FLAME_CURRENT)?.get();
    let own = sheet.maybe(WEAK_BELOW).map(Known::get);
    let (low, high) = (amps(USUAL.0), amps(USUAL.1));
    let weak = own.unwrap_or_else(|| amps(WEAK));
    sheet.output(WEAK_BELOW_OUT, weak);
    sheet.output(USUAL_LOW, low);
    sheet.output(USUAL_HIGH, high);
    sheet.source(SLIDES);
    for manual in MANUALS {
        sheet.source(manual);
    }
    sheet.line(
        if own.is_some() {
            "flame current >= figure of the control"
        } else {
            "flame current >= figure of one source"
        },
        format!("{} >= {}", keyed(measured), keyed(weak)),
        holds(!exceeds(weak, measured)),
    );
    let source = if own.is_some() {
        "the control's own figure, as given"
    } else {
        SLIDES
    };
    sheet.at_least("flame current", measured, weak, source);
    if measured < amps(1e-7) {
        return sheet.verdict(NONE, format!("{}: no flame proved", text(measured)));
    }
    if exceeds(measured, high) {
        sheet.note("above what any source found calls usual: see that the meter is in series, on direct microamperes");
    }
    if let Some(own) = own {
        let found = format!("{}, and the control asks for {}", text(measured), text(own));
        return sheet.verdict(if exceeds(own, measured) { IS_WEAK } else { ENOUGH }, found);
    }
    sheet.assume("the control's own figure is not given: it decides, and manuals differ from 0.4 to 2.6 uA");
    let found = format!(
        "{}; one source calls {} to {} usual, and the control's own manual decides",
        text(measured),
        text(low),
        text(high)
    );
    if exceeds(weak, measured) {
        sheet.verdict(IS_WEAK, found)
    } else if exceeds(low, measured) {
        sheet.verdict(LOW, found)
    } else if exceeds(measured, high) {
        sheet.cannot_tell(format!(
            "{}, above the {} to {} one source calls usual: give the figure of the control's manual",
            text(measured),
            text(low),
            text(high)
        ))
    } else {
        sheet.verdict(IS_USUAL, found)
    }
}
