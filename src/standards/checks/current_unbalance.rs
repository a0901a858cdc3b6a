//! Current unbalance of a three-phase motor, and single-phasing.

use super::prelude::*;
use crate::electrical::unbalance::unbalance;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "current-unbalance",
    title: "Current unbalance of three phases, and a lost phase",
    inputs: &[
        current("current-a", "Line A.").read(),
        current("current-b", "Line B.").read(),
        current("current-c", "Line C.").read(),
        Input::quantity(
            "voltage-unbalance",
            Kind::Ratio,
            "Voltage unbalance at the same time.",
        )
        .between(0.0, 0.5)
        .optional(),
        Input::quantity("unbalance-limit", Kind::Ratio, "Share at which to look into it.")
            .between(0.01, 0.5)
            .or("10 %"),
    ],
    outputs: &[
        Output::quantity("average-current", Kind::Current, "Average of the three."),
        Output::quantity(
            "current-unbalance",
            Kind::Ratio,
            "Largest deviation over average.",
        ),
        Output::quantity(
            "explained",
            Kind::Ratio,
            "Current unbalance the voltage unbalance can explain at most.",
        ),
    ],
    verdicts: &[
        VerdictKind::plain("balanced", "Not above the limit."),
        VerdictKind::plain(
            "by-the-supply",
            "Above the limit, and the voltage unbalance explains it.",
        ),
        VerdictKind::plain(
            "by-the-motor",
            "Above the limit, and the voltage unbalance does not explain it.",
        ),
        VerdictKind::plain("unbalanced", "Above the limit; the voltages were not given."),
        VerdictKind::plain(
            "single-phasing",
            "One line carries next to nothing: a phase is lost. Stop the motor.",
        ),
    ],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &[])?;
    let lines: [ElectricCurrent; 3] = [
        sheet.need("current-a")?,
        sheet.need("current-b")?,
        sheet.need("current-c")?,
    ];
    let limit: f64 = sheet.need("unbalance-limit")?;
    if total(&lines) <= amps(0.0) {
        return sheet.cannot_tell("no current in any line; read again with the motor running");
    }
    let found = unbalance(lines);
    sheet.work(
        "I_avg = (Ia + Ib + Ic) / 3",
        format!("({}) / 3", sum_text(&lines)),
        as_read(found.average),
    );
    sheet.work(
        "unbalance = deviation / I_avg",
        format!(
            "{} / {}",
            as_read(found.largest_deviation),
            as_read(found.average)
        ),
        keyed(Quantity::ratio(found.share)),
    );
    sheet.output("average-current", found.average);
    sheet.output("current-unbalance", Quantity::ratio(found.share));
    sheet.source(format!("{COMMON}: 10 %; voltage unbalance makes 6 to 10 times as much current unbalance (eng-tips thread on voltage unbalance for motors)"));
    sheet.at_most(
        "current unbalance",
        Quantity::ratio(found.share),
        Quantity::ratio(limit),
        COMMON,
    );
    let smallest = lines.iter().copied().fold(lines[0], ElectricCurrent::min);
    let shown = format!(
        "{} unbalance about {}",
        Quantity::ratio(found.share),
        text(found.average)
    );
    if smallest < largest(&lines) * 0.05 {
        return sheet.verdict(
            "single-phasing",
            format!("{shown}: one line carries {}", text(smallest)),
        );
    }
    if !exceeds(found.share, limit) {
        return sheet.verdict("balanced", shown);
    }
    sheet.note("move all three supply leads on by one terminal: if the odd current stays with the line it is the supply, if it moves with the lead it is the motor");
    let Some(voltages) = sheet.maybe::<f64>("voltage-unbalance") else {
        return sheet.verdict("unbalanced", shown);
    };
    let explained = voltages * 10.0;
    sheet.output("explained", Quantity::ratio(explained));
    sheet.work(
        "explained at most = 10 x voltage unbalance",
        format!("10 x {}", keyed(Quantity::ratio(voltages))),
        keyed(Quantity::ratio(explained)),
    );
    if exceeds(found.share, explained) {
        sheet.verdict(
            "by-the-motor",
            format!(
                "{shown}, more than the {} the voltages explain",
                Quantity::ratio(explained)
            ),
        )
    } else {
        sheet.verdict("by-the-supply", format!("{shown}, which the voltages explain"))
    }
}
