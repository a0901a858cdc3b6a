//! Flame-rectification current of a burner.

use super::prelude::*;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "flame-signal",
    title: "Flame current of a flame rod against usual figures",
    inputs: &[
        Input::quantity(
            "flame-current",
            Kind::Current,
            "Direct current in the rod's lead, microamperes.",
        )
        .in_unit("uA")
        .between(0.0, 1e-4)
        .read(),
        Input::quantity(
            "weak-below",
            Kind::Current,
            "Figure of the control's manual below which the signal is weak.",
        )
        .in_unit("uA")
        .between(1e-7, 1e-5)
        .optional(),
        METER_ERROR_INPUT,
    ],
    outputs: &[
        Output::quantity("weak-below", Kind::Current, "Below this the signal is weak."),
        Output::quantity(
            "usual-low",
            Kind::Current,
            "Low end of what one source calls usual.",
        ),
        Output::quantity("usual-high", Kind::Current, "High end of it."),
    ],
    verdicts: &[
        VerdictKind::plain("none", "Below 0.1 microampere: no flame proved."),
        VerdictKind::plain(
            "weak",
            "Below the figure of the control: it may lock out at any time.",
        ),
        VerdictKind::plain("enough", "Not below the control's own figure."),
        VerdictKind::plain(
            "low",
            "The control's figure is not given; below what one source calls usual.",
        ),
        VerdictKind::plain(
            "usual",
            "The control's figure is not given; in the range one source calls usual.",
        ),
    ],
    run: |inputs| judge(&CALCULATION, inputs, work),
};

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

fn work(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &[])?;
    let measured: ElectricCurrent = sheet.need("flame-current")?;
    let own: Option<ElectricCurrent> = sheet.maybe("weak-below");
    let (low, high) = (amps(USUAL.0), amps(USUAL.1));
    let weak = own.unwrap_or_else(|| amps(WEAK));
    sheet.output("weak-below", weak);
    sheet.output("usual-low", low);
    sheet.output("usual-high", high);
    sheet.source(SLIDES);
    for manual in MANUALS {
        sheet.source(manual);
    }
    sheet.work(
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
        return sheet.verdict("none", format!("{}: no flame proved", text(measured)));
    }
    if exceeds(measured, high) {
        sheet.note("above what any source found calls usual: see that the meter is in series, on direct microamperes");
    }
    if let Some(own) = own {
        let found = format!("{}, and the control asks for {}", text(measured), text(own));
        return sheet.verdict(if exceeds(own, measured) { "weak" } else { "enough" }, found);
    }
    sheet.assume("the control's own figure is not given: it decides, and manuals differ from 0.4 to 2.6 uA");
    let found = format!(
        "{}; one source calls {} to {} usual, and the control's own manual decides",
        text(measured),
        text(low),
        text(high)
    );
    if exceeds(weak, measured) {
        sheet.verdict("weak", found)
    } else if exceeds(low, measured) {
        sheet.verdict("low", found)
    } else if exceeds(measured, high) {
        sheet.cannot_tell(format!(
            "{}, above the {} to {} one source calls usual: give the figure of the control's manual",
            text(measured),
            text(low),
            text(high)
        ))
    } else {
        sheet.verdict("usual", found)
    }
}
