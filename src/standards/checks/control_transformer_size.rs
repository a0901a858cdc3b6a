//! The control transformer for a load with inrush, and what the coil sees at pull-in.

use super::prelude::*;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "control-transformer-size",
    title: "Control transformer for sealed load and contactor inrush",
    inputs: &[
        Input::quantity(
            "sealed-load",
            Kind::ApparentPower,
            "Volt-amperes of everything that stays on.",
        )
        .between(0.0, 5000.0),
        Input::quantity(
            "inrush-load",
            Kind::ApparentPower,
            "Volt-amperes of the largest coil while it pulls in.",
        )
        .between(0.0, 5000.0),
        Input::quantity(
            "transformer-rating",
            Kind::ApparentPower,
            "Volt-amperes of the transformer fitted, to compare.",
        )
        .between(1.0, 5000.0)
        .optional(),
        EDITION_INPUT,
    ],
    outputs: &[
        Output::quantity(
            "combined-load",
            Kind::ApparentPower,
            "Root of the squares of sealed and inrush.",
        ),
        Output::quantity(
            "least-transformer",
            Kind::ApparentPower,
            "Smallest common size that serves.",
        ),
        Output::quantity(
            "rated-secondary-current",
            Kind::Current,
            "Current of that size at 24 V.",
        ),
    ],
    verdicts: &[
        WORKED_OUT,
        VerdictKind::plain("enough", "The transformer fitted serves."),
        VerdictKind::plain(
            "too-small",
            "The transformer fitted is smaller than the load asks for.",
        ),
    ],
    run,
};

/// Sizes commonly sold, volt-amperes: common practice, no source.
const SIZES: [f64; 9] = [20.0, 40.0, 50.0, 60.0, 75.0, 100.0, 150.0, 200.0, 250.0];

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &["class-2-power"])?;
    let sealed = sheet.need::<Power>("sealed-load")?.get::<watt>();
    let inrush = sheet.need::<Power>("inrush-load")?.get::<watt>();
    let combined = sealed.hypot(inrush);
    let apparent = |number: f64| Quantity {
        kind: Kind::ApparentPower,
        base: number,
    };
    sheet.work(
        "S = sqrt(sealed^2 + inrush^2)",
        format!(
            "sqrt({}^2 + {}^2)",
            keyed(apparent(sealed)),
            keyed(apparent(inrush))
        ),
        keyed(apparent(combined)),
    );
    sheet.output("combined-load", apparent(combined));
    let needed = combined.max(sealed);
    let size = SIZES.into_iter().find(|size| !exceeds(needed, *size));
    if let Some(size) = size {
        sheet.work(
            "smallest common size",
            format!(
                "at or above {} among the usual sizes ({COMMON})",
                keyed(apparent(needed))
            ),
            keyed(apparent(size)),
        );
        sheet.output("least-transformer", apparent(size));
        sheet.output("rated-secondary-current", amps(size / 24.0));
    }
    sheet.rule("class-2-power");
    sheet.source(format!(
        "{COMMON}: root-sum-square selection rule; a plain sum is more cautious"
    ));
    sheet.note(
        "a class 2 transformer that does not limit itself needs a fuse of at most 5 A up to 20 V, and 100 / V amperes \
         above (from memory); obey the size printed on it",
    );
    if needed > 100.0 {
        sheet.note("above 100 VA the circuit is no longer class 2, and its wiring rules change");
    }
    let found = format!("{} with the coil pulling in", apparent(combined));
    let Some(fitted) = sheet
        .maybe::<Power>("transformer-rating")
        .map(|power| power.get::<watt>())
    else {
        return sheet.verdict("worked-out", found);
    };
    sheet.at_most("load", apparent(needed), apparent(fitted), COMMON);
    if exceeds(needed, fitted) {
        sheet.verdict(
            "too-small",
            format!("{found}, more than the {} fitted", apparent(fitted)),
        )
    } else {
        sheet.verdict("enough", format!("{found}, and {} is fitted", apparent(fitted)))
    }
}
