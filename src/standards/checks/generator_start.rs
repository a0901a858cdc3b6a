//! Whether a generator or inverter starts a compressor.

use super::prelude::*;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "generator-start",
    title: "Generator or inverter against running and starting volt-amperes",
    inputs: &[
        current(
            "locked-rotor-current",
            "Locked-rotor current of the largest motor.",
        ),
        voltage("supply-voltage", "Voltage of the motor."),
        Input::quantity(
            "other-load",
            Kind::ApparentPower,
            "Everything else that runs meanwhile.",
        )
        .between(0.0, 1e6)
        .or("0 VA"),
        Input::quantity(
            "surge-rating",
            Kind::ApparentPower,
            "Volt-amperes the source gives for a start.",
        )
        .between(1.0, 1e8),
        Input::quantity(
            "running-rating",
            Kind::ApparentPower,
            "Volt-amperes the source gives continuously.",
        )
        .between(1.0, 1e8)
        .optional(),
        current("running-current", "Running current of that motor.").optional(),
        PHASES,
    ],
    outputs: &[
        Output::quantity(
            "starting-load",
            Kind::ApparentPower,
            "Locked rotor and everything else.",
        ),
        Output::quantity(
            "running-load",
            Kind::ApparentPower,
            "Running, when the running current is given.",
        ),
    ],
    verdicts: &[
        VerdictKind::plain("starts", "The source gives what the start asks for."),
        VerdictKind::plain(
            "may-start",
            "The start asks for more, up to half as much again: it may start with a deep sag.",
        ),
        VerdictKind::plain("too-small", "The start asks for far more than the source gives."),
        VerdictKind::plain(
            "overloaded-running",
            "It starts, and is overloaded while it runs.",
        ),
    ],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &[])?;
    let locked: ElectricCurrent = sheet.need("locked-rotor-current")?;
    let supply: ElectricPotential = sheet.need("supply-voltage")?;
    let other: Power = sheet.need("other-load")?;
    let surge: Power = sheet.need("surge-rating")?;
    let (three, factor) = phase_factor(&sheet);
    let start = locked * supply * factor + other;
    let apparent = Quantity::apparent;
    let times = if three { "1.732 x " } else { "" };
    sheet.work(
        if three {
            "S = 1.732 x V x LRA + other"
        } else {
            "S = V x LRA + other"
        },
        format!(
            "{times}{} x {} + {}",
            keyed(supply),
            keyed(locked),
            keyed(apparent(other))
        ),
        keyed(apparent(start)),
    );
    sheet.output("starting-load", apparent(start));
    sheet.at_most(
        "start",
        apparent(start),
        apparent(surge),
        "rating of the source as given",
    );
    sheet.source(format!(
        "definition of apparent power; allowance of half as much again: {COMMON}"
    ));
    sheet.note(
        "a start device lowers the locked-rotor current; inverter-driven compressors have none worth naming",
    );
    if let (Some(running), Some(rated)) = (
        sheet.maybe::<ElectricCurrent>("running-current"),
        sheet.maybe::<Power>("running-rating"),
    ) {
        if exceeds(running, locked) {
            return Err(InputError::Contradiction {
                what: format!(
                    "`running-current` {} is above `locked-rotor-current` {}; the two have been swapped",
                    text(running),
                    text(locked)
                ),
            });
        }
        let load = running * supply * factor + other;
        sheet.output("running-load", apparent(load));
        sheet.work(
            if three {
                "S_running = 1.732 x V x I + other"
            } else {
                "S_running = V x I + other"
            },
            format!(
                "{times}{} x {} + {}",
                keyed(supply),
                keyed(running),
                keyed(apparent(other))
            ),
            keyed(apparent(load)),
        );
        sheet.at_most(
            "running",
            apparent(load),
            apparent(rated),
            "rating of the source as given",
        );
        if exceeds(load, rated) && !exceeds(start, surge) {
            return sheet.verdict(
                "overloaded-running",
                format!("{} running on a source for {}", apparent(load), apparent(rated)),
            );
        }
    }
    let found = format!(
        "{} to start on a source that gives {}",
        apparent(start),
        apparent(surge)
    );
    if exceeds(start, surge * 1.5) {
        sheet.verdict("too-small", found)
    } else if exceeds(start, surge) {
        sheet.verdict("may-start", found)
    } else {
        sheet.verdict("starts", found)
    }
}
