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
    let (measured, own) = (sheet.need(FLAME_CURRENT)?, sheet.maybe(WEAK_BELOW));
    let (low, high) = (Known::fixed(amps(USUAL.0)), Known::fixed(amps(USUAL.1)));
    let weak = own.unwrap_or(Known::fixed(amps(WEAK)));
    sheet.output(WEAK_BELOW_OUT, weak);
    sheet.output(USUAL_LOW, low);
    sheet.output(USUAL_HIGH, high);
    sheet.source(SLIDES);
    for manual in MANUALS {
        sheet.source(manual);
    }
    let (whose, source) = if own.is_some() {
        ("the control", "the control's own figure, as given")
    } else {
        ("one source", SLIDES)
    };
    sheet.line(
        &format!("flame current >= figure of {whose}"),
        format!("{} >= {}", keyed(measured), keyed(weak)),
        holds(!weak.exceeds(measured)),
    );
    sheet.at_least("flame current", measured, weak, source);
    if measured.number() < 1e-7 {
        return sheet.verdict(NONE, format!("{measured}: no flame proved"));
    }
    if measured.exceeds(high) {
        sheet.note("above what any source found calls usual: see that the meter is in series, on direct microamperes");
    }
    if let Some(own) = own {
        let verdict = if own.exceeds(measured) { IS_WEAK } else { ENOUGH };
        return sheet.verdict(verdict, format!("{measured}, and the control asks for {own}"));
    }
    sheet.assume("the control's own figure is not given: it decides, and manuals differ from 0.4 to 2.6 uA");
    if measured.exceeds(high) {
        return sheet.cannot_tell(format!(
            "{measured}, above the {low} to {high} one source calls usual: give the figure of the control's manual"
        ));
    }
    let verdict = match () {
        () if weak.exceeds(measured) => IS_WEAK,
        () if low.exceeds(measured) => LOW,
        () => IS_USUAL,
    };
    sheet.verdict(
        verdict,
        format!("{measured}; one source calls {low} to {high} usual, and the control's own manual decides"),
    )
}
