//! Phase rotation of a three-phase supply and what it means for the compressor.

use super::prelude::*;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "phase-rotation",
    title: "Phase rotation: what to do when it is reversed",
    inputs: &[
        Input::choice(
            "rotation",
            &["abc", "acb"],
            "Rotation the indicator shows at the unit's terminals: abc is right.",
        ),
        Input::choice(
            "compressor-type",
            &["scroll", "screw", "reciprocating", "inverter"],
            "Type of compressor.",
        ),
        Input::choice(
            "fans",
            &["forward", "backward", "unknown"],
            "How the blower and condenser fans turn.",
        )
        .or("unknown"),
    ],
    outputs: &[],
    verdicts: &[
        VerdictKind::plain("right", "The rotation is right."),
        VerdictKind::plain(
            "reversed-harmful",
            "Reversed, and the compressor must not run on it: swap two supply leads, locked out.",
        ),
        VerdictKind::plain(
            "reversed-harmless",
            "Reversed; this compressor does not mind, but fans and pumps may.",
        ),
    ],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &[])?;
    sheet.source(format!(
        "{COMMON}: scroll and screw compressors pump one way only; reciprocating ones either way"
    ));
    sheet.note("lock out and prove dead before two supply leads are swapped, at the unit's disconnect and not inside the compressor's box");
    let backward = sheet.choice("fans") == Some("backward");
    if sheet.choice("rotation") == Some("abc") {
        if backward {
            return sheet.cannot_tell("the indicator shows the right rotation and fans turn backward: a fan's own leads are swapped, or the indicator was on the wrong side");
        }
        return sheet.verdict("right", "the rotation is right");
    }
    match sheet.choice("compressor-type") {
        Some("scroll" | "screw") => sheet.verdict("reversed-harmful", "the rotation is reversed: a scroll or screw compressor is loud, pumps nothing and wears out fast on it"),
        _ => sheet.verdict("reversed-harmless", "the rotation is reversed; check that fans and pumps turn the right way"),
    }
}
