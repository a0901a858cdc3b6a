//! Whether the code asks for ground-fault protection of people on the circuit of a dwelling's outdoor unit.

use super::prelude::*;

calculation! {
    "outdoor-ground-fault": "Ground-fault protection (GFCI) on the circuit of a dwelling's outdoor unit";
    rules "outdoor-gfci";
    inputs {
        DEVICE = Current("protective-device-rating", "Breaker or fuse of the circuit.").between(1.0, 3000.0);
        DWELLING = OneOf<YesNo>("dwelling", "Whether the unit serves a dwelling.").or("yes");
        PHASES;
        TO_GROUND = OneOf<ToGround>("to-ground", "Voltage of the circuit to ground: up to 150 V, as with 120/240 V, or above.").or("150-or-less");
        EDITION;
    }
    outputs {
        LARGEST_CIRCUIT = Current("largest-circuit", "Largest circuit the edition asks it for.");
    }
    verdicts {
        ASKED_FOR = plain("asked-for", "The edition asks for it where circuit or unit is new; local amendments rule.");
        NOT_ASKED_FOR = plain("not-asked-for", "This rule does not ask for it here; another one, or local law, may.");
    }
}

choice! { ToGround { UpTo150 = "150-or-less", Above150 = "above-150" } }

fn work(mut sheet: Sheet<'_>) -> Answer {
    let device = sheet.need(DEVICE)?;
    let edition = sheet.edition;
    sheet.rule("outdoor-gfci");
    sheet.note("many states amended or struck this rule: the local authority says what applies");
    if edition < Edition::E2020 {
        return sheet.verdict(
            NOT_ASKED_FOR,
            format!("the rule is new in 2020; edition {edition} does not have it"),
        );
    }
    if sheet.need_one(DWELLING)? == YesNo::No
        || sheet.need_one(PHASES)? == Phases::Three
        || sheet.need_one(TO_GROUND)? == ToGround::Above150
    {
        return sheet.verdict(
            NOT_ASKED_FOR,
            "the rule is for dwellings, single phase, 150 V or less to ground",
        );
    }
    let (largest, formula) = if edition >= Edition::E2026 {
        (60.0, "device <= 60 A")
    } else {
        (50.0, "device <= 50 A")
    };
    let largest = Known::fixed(amps(largest));
    let covered = !device.exceeds(largest);
    sheet.line(
        formula,
        format!("{} <= {}", keyed(device), keyed(largest)),
        holds(covered),
    );
    if !covered {
        return sheet.verdict(
            NOT_ASKED_FOR,
            format!("{device} is above the {largest} that edition {edition} names"),
        );
    }
    sheet.output(LARGEST_CIRCUIT, largest);
    let excepted = if edition >= Edition::E2023 {
        "listed heating and cooling equipment was excepted until September 1, 2026"
    } else {
        "an amendment excepted ductless and speed-controlled units until January 1, 2023"
    };
    sheet.note(excepted);
    sheet.verdict(
        ASKED_FOR,
        format!("edition {edition} asks for it on circuits to {largest}; {excepted}"),
    )
}
