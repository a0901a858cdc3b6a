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
        .or("1 uA"),
        METER_ERROR_INPUT,
    ],
    outputs: &[
        Output::quantity("weak-below", Kind::Current, "Below this the signal is weak."),
        Output::quantity("usual-low", Kind::Current, "Low end of the usual."),
        Output::quantity("usual-high", Kind::Current, "High end of the usual."),
    ],
    verdicts: &[
        VerdictKind::plain("none", "Below 0.1 microampere: no flame proved."),
        VerdictKind::plain(
            "weak",
            "Below the figure of the control: it may lock out at any time.",
        ),
        VerdictKind::plain("low", "Above that, below the usual."),
        VerdictKind::plain("usual", "In the usual range or above."),
    ],
    run: |inputs| judge(&CALCULATION, inputs, work),
};

/// Usual flame current of an in-shot burner, amperes.
const USUAL: (f64, f64) = (2e-6, 5e-6);

fn work(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &[])?;
    let measured: ElectricCurrent = sheet.need("flame-current")?;
    let weak: ElectricCurrent = sheet.need("weak-below")?;
    let (low, high) = (amps(USUAL.0), amps(USUAL.1));
    sheet.output("weak-below", weak);
    sheet.output("usual-low", low);
    sheet.output("usual-high", high);
    let source = "Flame rectification, technical conference slides - https://slideread.com/slide/flame-rectification-amick-racing-zl5y1h";
    sheet.source(source);
    sheet.source("makers' manuals differ (low from 0.5 to 2.5 uA): the control's own manual rules");
    sheet.at_least("flame current", measured, weak, source);
    sheet.at_least("flame current (usual)", measured, low, source);
    sheet.work(
        "compare",
        format!("{} with {} and {}", text(measured), text(weak), text(low)),
        text(measured),
    );
    let found = format!("{}, usual is {} to {}", text(measured), text(low), text(high));
    if measured < amps(1e-7) {
        sheet.verdict("none", found)
    } else if exceeds(weak, measured) {
        sheet.verdict("weak", found)
    } else if exceeds(low, measured) {
        sheet.verdict("low", found)
    } else {
        sheet.verdict("usual", found)
    }
}
