//! A heater kit marked for several supply circuits that is fed from fewer.

use super::prelude::*;
calculation! {
    "circuits-fed-as-one": "Supply circuits the nameplate asks for against those brought to the unit";
    rules "heat-subdivision", "listed-use";
    inputs {
        DEVICE = Current("protective-device-rating", "Rating of the largest device that feeds the unit.")
            .between(1.0, 6000.0);
        NAMEPLATE_CIRCUITS = List<Current>("nameplate-circuits", "Maximum device of each supply circuit on the nameplate.")
            .between(1.0, 1000.0);
        CIRCUITS_SUPPLIED = Count("circuits-supplied", "Separate supply circuits that come into the unit.")
            .between(1.0, 20.0);
        EDITION;
    }
    outputs {
        CIRCUITS_REQUIRED = Count("circuits-required", "Circuits the nameplate asks for.");
        CIRCUITS_SUPPLIED_OUT = Count("circuits-supplied", "Circuits that are there.");
        LARGEST_CIRCUIT = Current("largest-circuit", "Largest device any one circuit of the nameplate may have.");
    }
    verdicts {
        AS_MARKED = plain("as-marked", "There are as many circuits as the nameplate asks for.");
        MERGED = violation("merged", "Circuits that must be apart are fed from one device.");
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let (device, marked) = (sheet.need(DEVICE)?, sheet.list(NAMEPLATE_CIRCUITS).all);
    let supplied = sheet.need(CIRCUITS_SUPPLIED)?;
    let required = Quantity::count(marked.len());
    let largest = Known::fixed(largest(&marked));
    let list = marked
        .iter()
        .map(|circuit| text(*circuit))
        .collect::<Vec<_>>()
        .join(", ");
    sheet.output(CIRCUITS_REQUIRED, required);
    sheet.output(CIRCUITS_SUPPLIED_OUT, supplied);
    sheet.output(LARGEST_CIRCUIT, largest);
    let enough = supplied.number() >= required.base;
    sheet.line(
        "supplied >= marked",
        format!("{supplied} >= {required}"),
        holds(enough),
    );
    let rule = sheet.rule("listed-use");
    let heat = sheet.rule("heat-subdivision");
    sheet.at_least("supply circuits", supplied, required, rule);
    sheet.at_most("device of any one circuit", device, largest, heat);
    let found = format!("the nameplate asks for {required} circuits ({list}) and {supplied}");
    if !enough {
        let is = if supplied.number() == 1.0 { "is" } else { "are" };
        return sheet.verdict(
            MERGED,
            format!(
                "{found} {is} there, so elements marked for smaller devices stand behind the {device} one"
            ),
        );
    }
    if device.exceeds(largest) {
        return sheet.cannot_tell(format!(
            "the count agrees, but the {device} device is above every circuit on the nameplate ({list}): count again which \
             breakers must be off before every line terminal is dead"
        ));
    }
    sheet.verdict(AS_MARKED, format!("{found} are there"))
}
