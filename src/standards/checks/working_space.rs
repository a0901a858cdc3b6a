//! Clear space in front of equipment that is examined live.

use super::prelude::*;

calculation! {
    "working-space": "Clear working space before equipment that is tested live";
    rules "working-space";
    inputs {
        VOLTAGE_TO_GROUND = Voltage("voltage-to-ground", "Highest voltage to ground in it.");
        OPPOSITE = OneOf<Opposite>("opposite", "What faces it: nothing live or grounded; a grounded surface such as concrete; live parts.");
        DEPTH = Length("depth", "Clear depth in front of it.").between(0.0, 100.0);
        WIDTH = Length("width", "Clear width.").between(0.0, 100.0).optional();
        HEIGHT = Length("height", "Clear height.").between(0.0, 100.0).optional();
        EDITION;
    }
    outputs {
        LEAST_DEPTH = Length("least-depth", "Least depth.");
        LEAST_WIDTH = Length("least-width", "Least width, or the equipment's if larger.");
        LEAST_HEIGHT = Length("least-height", "Least height, or the equipment's if larger.");
    }
    verdicts {
        ENOUGH = plain("enough", "The space measured is enough.");
        TOO_LITTLE = violation("too-little", "The space measured is too little.");
    }
}

choice! { Opposite { Nothing = "nothing", Grounded = "grounded", Live = "live" } }

fn work(mut sheet: Sheet<'_>) -> Answer {
    let to_ground = sheet.need(VOLTAGE_TO_GROUND)?.get();
    let feet = Length::new::<foot>;
    let column = match sheet.need_one(OPPOSITE)? {
        Opposite::Live => 2,
        Opposite::Grounded => 1,
        Opposite::Nothing => 0,
    };
    // NEC Table 110.26(A)(1); the figures are from memory, as the rule's own entry says.
    let row: [f64; 3] = match to_ground.get::<volt>() {
        v if v <= 150.0 => [3.0, 3.0, 3.0],
        v if v <= 600.0 => [3.0, 3.5, 4.0],
        _ => [3.0, 4.0, 5.0],
    };
    let least = [feet(row[column]), feet(2.5), feet(6.5)];
    sheet.output(LEAST_DEPTH, least[0]);
    sheet.output(LEAST_WIDTH, least[1]);
    sheet.output(LEAST_HEIGHT, least[2]);
    let rule = sheet.rule("working-space");
    sheet.line(
        "depth by voltage and what faces it",
        format!("{} to ground, {rule}", keyed(to_ground)),
        keyed(least[0]),
    );
    sheet.note("the depth table is from memory; the space must also be kept free of storage");
    let mut short = Vec::new();
    for (clear, least) in [DEPTH, WIDTH, HEIGHT].into_iter().zip(least) {
        let name = clear.input.name;
        if let Some(there) = sheet.maybe(clear) {
            sheet.at_least(name, there, least, rule.clone());
            if exceeds(least, there.get()) {
                short.push(format!("{name} {there} of {}", text(least)));
            }
        } else {
            sheet.assume(format!("`{name}` not given: not judged"));
        }
    }
    if short.is_empty() {
        sheet.verdict(ENOUGH, "the space measured is enough")
    } else {
        sheet.verdict(TOO_LITTLE, short.join("; "))
    }
}
