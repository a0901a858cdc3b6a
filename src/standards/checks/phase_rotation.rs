//! Phase rotation of a three-phase supply and what it means for the compressor.

use super::prelude::*;

calculation! {
    "phase-rotation": "Phase rotation: what to do when it is reversed";
    inputs {
        ROTATION = OneOf<Rotation>("rotation", "Rotation the indicator shows at the unit's terminals: abc is right.");
        COMPRESSOR_TYPE = OneOf<CompressorType>("compressor-type", "Type of compressor.");
        FANS = OneOf<Fans>("fans", "How the blower and condenser fans turn.").or("unknown");
    }
    outputs {
    }
    verdicts {
        RIGHT = plain("right", "The rotation is right.");
        REVERSED_HARMFUL = plain("reversed-harmful", "Reversed, and the compressor must not run on it: swap two supply leads, locked out.");
        REVERSED_HARMLESS = plain("reversed-harmless", "Reversed; this compressor does not mind, but fans and pumps may.");
    }
}

choice! { Rotation { Right = "abc", Reversed = "acb" } }
choice! { CompressorType { Scroll = "scroll", Screw = "screw", Reciprocating = "reciprocating", Inverter = "inverter" } }
choice! { Fans { Forward = "forward", Backward = "backward", Unknown = "unknown" } }

fn work(mut sheet: Sheet<'_>) -> Answer {
    sheet.source(format!(
        "{COMMON}: scroll and screw compressors pump one way only; reciprocating ones either way"
    ));
    sheet.note("lock out and prove dead before two supply leads are swapped, at the unit's disconnect and not inside the compressor's box");
    let backward = sheet.need_one(FANS)? == Fans::Backward;
    if sheet.need_one(ROTATION)? == Rotation::Right {
        if backward {
            return sheet.cannot_tell("the indicator shows the right rotation and fans turn backward: a fan's own leads are swapped, or the indicator was on the wrong side");
        }
        return sheet.verdict(RIGHT, "the rotation is right");
    }
    match sheet.need_one(COMPRESSOR_TYPE)? {
        CompressorType::Scroll | CompressorType::Screw => sheet.verdict(REVERSED_HARMFUL, "the rotation is reversed: a scroll or screw compressor is loud, pumps nothing and wears out fast on it"),
        CompressorType::Reciprocating | CompressorType::Inverter => sheet.verdict(REVERSED_HARMLESS, "the rotation is reversed; check that fans and pumps turn the right way"),
    }
}
