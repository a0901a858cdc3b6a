//! The receptacle a service technician needs near the equipment.

use super::prelude::*;

calculation! {
    "service-receptacle": "Service receptacle near the equipment: distance, level, protection";
    rules "service-receptacle";
    inputs {
        DISTANCE = Length("distance", "Distance from the equipment to the nearest 125 V receptacle.")
            .between(0.0, 10_000.0);
        SAME_LEVEL = OneOf<YesNo>("same-level", "Whether it is on the same level.");
        GROUND_FAULT_PROTECTED = OneOf<YesNo>("ground-fault-protected", "Whether a ground-fault device protects it.").optional();
        BEHIND_DISCONNECT = OneOf<YesNo>("behind-disconnect", "Whether it is fed from the load side of the unit's disconnect.").optional();
        EDITION;
    }
    outputs {
        FARTHEST = Length("farthest", "Farthest it may be.");
    }
    verdicts {
        THERE = plain("there", "It is there as it must be, as far as given.");
        MISSING = violation("missing", "None within 25 ft on the same level.");
        WRONGLY_FED = violation("wrongly-fed", "It is fed from the load side of the unit's disconnect.");
        UNPROTECTED = violation("unprotected", "It has no ground-fault protection.");
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let (distance, farthest) = (sheet.need(DISTANCE)?, Known::fixed(Length::new::<foot>(25.0)));
    let rule = sheet.rule("service-receptacle");
    sheet.output(FARTHEST, farthest);
    let put_in = format!("{} <= 25 ft", keyed(distance));
    sheet.line("distance <= 25 ft", put_in, holds(!distance.exceeds(farthest)));
    sheet.at_most("distance", distance, farthest, rule);
    sheet.note("one- and two-family evaporative coolers are excepted");
    if distance.exceeds(farthest) || sheet.need_one(SAME_LEVEL)? == YesNo::No {
        let found =
            format!("the nearest receptacle is {distance} away; within 25 ft on the same level is asked for");
        return sheet.verdict(MISSING, found);
    }
    if sheet.one_of(BEHIND_DISCONNECT) == Some(YesNo::Yes) {
        return sheet.verdict(
            WRONGLY_FED,
            "opening the disconnect takes the technician's power too",
        );
    }
    // Ground-fault protection of this receptacle wherever it is came with the 2020 edition.
    if sheet.one_of(GROUND_FAULT_PROTECTED) == Some(YesNo::No) {
        if sheet.edition >= Edition::E2020 {
            return sheet.verdict(UNPROTECTED, "a ground-fault device must protect it");
        }
        sheet.note(format!(
            "edition {} asks for ground-fault protection only where its place does, such as outdoors",
            sheet.edition
        ));
    }
    sheet.verdict(THERE, format!("{distance} away"))
}
