//! Phase rotation of a three-phase supply and what it means for the compressor.

use super::prelude::*;

calculation! {
    "phase-rotation": "Phase rotation: what to do when it is reversed";
    inputs {
        ROTATION = Choice("rotation", "Rotation the indicator shows at the unit's terminals: abc is right.")
            .among(&["abc", "acb"]);
        COMPRESSOR_TYPE = Choice("compressor-type", "Type of compressor.")
            .among(&["scroll", "screw", "reciprocating", "inverter"]);
        FANS = Choice("fans", "How the blower and condenser fans turn.")
            .among(&["forward", "backward", "unknown"]).or("unknown");
    }
    outputs {
    }
    verdicts {
        RIGHT = plain("right", "The rotation is right.");
        REVERSED_HARMFUL = plain("reversed-harmful", "Reversed, and the compressor must not run on it: swap two supply leads, locked out.");
        REVERSED_HARMLESS = plain("reversed-harmless", "Reversed; this compressor does not mind, but fans and pumps may.");
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    sheet.source(format!(
        "{COMMON}: scroll and screw compressors pump one way only; reciprocating ones either way"
    ));
    sheet.note("lock out and prove dead before two supply leads are swapped, at the unit's disconnect and not inside the compressor's box");
    let backward = sheet.choice(FANS) == Some("backward");
    if sheet.choice(ROTATION) == Some("abc") {
        if backward {
            return sheet.cannot_tell("the indicator shows the right rotation and fans turn backward: a fan's own leads are swapped, or the indicator was on the wrong side");
        }
        return sheet.verdict(RIGHT, "the rotation is right");
    }
    match sheet.choice(COMPRESSOR_TYPE) {
        Some("scroll" | "screw") => sheet.verdict(REVERSED_HARMFUL, "the rotation is reversed: a scroll or screw compressor is loud, pumps nothing and wears out fast on it"),
        _ => sheet.verdict(REVERSED_HARMLESS, "the rotation is reversed; check that fans and pumps turn the right way"),
    }
}
