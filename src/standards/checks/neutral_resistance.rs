//! Resistance of the neutral from the two legs, at rest and with a known load on one.

use super::prelude::*;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "neutral-resistance",
    title: "Ohms of the neutral from the rise of the other leg under a known load",
    inputs: &[
        current("test-load-current", "Current of the 120 V load put on one leg.")
            .between(1.0, 400.0)
            .read(),
        voltage("loaded-leg-at-rest", "Leg of the load, load off."),
        voltage("loaded-leg-loaded", "Leg of the load, load on."),
        voltage("other-leg-at-rest", "Other leg, load off."),
        voltage("other-leg-loaded", "Other leg, load on."),
        Input::quantity(
            "voltage-resolution",
            Kind::Voltage,
            "Smallest step the meter shows.",
        )
        .between(0.001, 10.0)
        .or("0.1 V"),
    ],
    outputs: &[
        Output::quantity(
            "neutral-resistance",
            Kind::Resistance,
            "Ohms of the neutral from source to panel.",
        ),
        Output::quantity(
            "leg-resistance",
            Kind::Resistance,
            "Ohms of the loaded leg and its half of the transformer.",
        ),
        Output::quantity(
            "neutral-heat",
            Kind::Power,
            "Heat in the neutral at that current.",
        ),
    ],
    verdicts: &[
        VerdictKind::plain("sound", "At most 0.2 ohm."),
        VerdictKind::plain("poor", "Above 0.2 ohm: a joint of the neutral is bad."),
        VerdictKind::plain(
            "open",
            "Above 5 ohm: the neutral is all but open. Leave 120 V loads off and call the utility.",
        ),
    ],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &[])?;
    let current: ElectricCurrent = sheet.need("test-load-current")?;
    let loaded: (ElectricPotential, ElectricPotential) = (
        sheet.need("loaded-leg-at-rest")?,
        sheet.need("loaded-leg-loaded")?,
    );
    let other: (ElectricPotential, ElectricPotential) =
        (sheet.need("other-leg-at-rest")?, sheet.need("other-leg-loaded")?);
    let step: ElectricPotential = sheet.need("voltage-resolution")?;
    // A bad neutral shifts volts from one leg to the other; it adds none to the two together.
    if exceeds(loaded.1 + other.1, (loaded.0 + other.0) * 1.1) {
        return Err(InputError::Contradiction {
            what: format!(
                "the two legs make {} at rest and {} under load, and a load adds no voltage; read all four again",
                text(loaded.0 + other.0),
                text(loaded.1 + other.1)
            ),
        });
    }
    let (rise, fall) = (other.1 - other.0, loaded.0 - loaded.1);
    // The unloaded leg carries no test current, so its rise is the drop of the neutral alone.
    let neutral = rise / current;
    let leg = (fall - rise) / current;
    let fuzz = step / current;
    sheet.work(
        "R_neutral = (V_other loaded - V_other at rest) / I",
        format!(
            "({} - {}) / {}",
            as_read(other.1),
            as_read(other.0),
            keyed(current)
        ),
        keyed(neutral),
    );
    sheet.work(
        "R_leg = (fall - rise) / I",
        format!("({} - {}) / {}", as_read(fall), as_read(rise), keyed(current)),
        keyed(leg),
    );
    sheet.work(
        "smallest ohms this meter can tell = step / I",
        format!("{} / {}", keyed(step), keyed(current)),
        keyed(fuzz),
    );
    sheet.source(format!("Kirchhoff's laws; limits of 0.2 and 5 ohm: {COMMON}"));
    sheet.assume("nothing else on either leg changed meanwhile");
    if rise < -step {
        return sheet
            .cannot_tell("the other leg fell too, so the supply moved or another load came on; read again");
    }
    if fuzz > ohms(0.2) {
        return sheet.cannot_tell(format!(
            "this load and meter tell no less than {}: use a larger load",
            text(fuzz)
        ));
    }
    let neutral = neutral.max(ohms(0.0));
    sheet.output("neutral-resistance", neutral);
    if leg > ohms(0.0) {
        sheet.output("leg-resistance", leg);
    }
    sheet.output("neutral-heat", crate::electrical::joint::heat(neutral, current));
    sheet.at_most("neutral", neutral, ohms(0.2), COMMON);
    let found = format!("{} of neutral", text(neutral));
    if neutral > ohms(5.0) {
        sheet.verdict("open", found)
    } else if exceeds(neutral, ohms(0.2)) {
        sheet.verdict("poor", found)
    } else {
        sheet.verdict("sound", found)
    }
}
