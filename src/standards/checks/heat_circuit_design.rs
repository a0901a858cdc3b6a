//! Conductor and device for electric heat, from nothing but its label.

use super::prelude::*;
use super::usable::{Setting, column, metal, unmarked_terminal, usable};
use crate::electrical::heater::{Feed, current_at};
use crate::quantity::ConductorSize;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "heat-circuit-design",
    title: "Conductor and breaker for fixed electric heat on one circuit",
    inputs: &[
        Input::list(
            "heater-powers",
            Kind::Power,
            "Rated power of each heater on the circuit.",
        )
        .between(1.0, 1e6),
        voltage("supply-voltage", "Voltage of the circuit and of the rating."),
        current(
            "blower-full-load-current",
            "Full-load current of the blower on the same circuit.",
        )
        .optional(),
        PHASES,
        METAL,
        INSULATION,
        TERMINAL,
        AMBIENT,
        TOGETHER,
        EDITION_INPUT,
    ],
    outputs: &[
        Output::quantity("total-power", Kind::Power, "All heaters together."),
        Output::quantity("load-current", Kind::Current, "Heaters and blower."),
        Output::quantity("required-ampacity", Kind::Current, "125 % of that."),
        Output::quantity("least-device", Kind::Current, "Smallest standard device."),
        Output::new(
            "least-size",
            ValueKind::Size,
            "Smallest conductor, its device limit considered.",
        ),
    ],
    verdicts: &[
        WORKED_OUT,
        VerdictKind::plain(
            "must-divide",
            "Above 48 A of heat: the elements must be divided, each on 60 A at most.",
        ),
    ],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let rules = [
        "electric-heat-125",
        "heat-subdivision",
        "terminal-temperature",
        "small-conductor",
    ];
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &rules)?;
    let powers: Vec<Power> = sheet.list("heater-powers");
    let voltage: ElectricPotential = sheet.need("supply-voltage")?;
    let blower: ElectricCurrent = sheet
        .maybe("blower-full-load-current")
        .unwrap_or_else(|| amps(0.0));
    let (three, _) = phase_factor(&sheet);
    let power = powers.iter().fold(Power::new::<watt>(0.0), |sum, one| sum + *one);
    let heat = current_at(
        power,
        voltage,
        voltage,
        if three {
            Feed::ThreePhase
        } else {
            Feed::SinglePhase
        },
    );
    let load = heat + blower;
    let required = load * 1.25;
    sheet.work("P = sum of heaters", sum_text(&powers), keyed(power));
    sheet.work(
        if three { "I = P / (1.732 x V)" } else { "I = P / V" },
        over_line_volts(keyed(power), voltage, three),
        keyed(heat),
    );
    sheet.work(
        "1.25 x (I_heat + I_blower)",
        format!("1.25 x ({} + {})", keyed(heat), keyed(blower)),
        keyed(required),
    );
    sheet.output("total-power", power);
    sheet.output("load-current", load);
    sheet.output("required-ampacity", required);
    let rule = sheet.rule("electric-heat-125");
    let small = sheet.rule("small-conductor");
    let metal = metal(sheet.choice("conductor-metal")).ok_or_else(|| sheet.missing("conductor-metal"))?;
    let insulation =
        column(sheet.choice("conductor-insulation")).ok_or_else(|| sheet.missing("conductor-insulation"))?;
    let terminal = column(sheet.choice("terminal-rating")).unwrap_or_else(|| {
        let column = unmarked_terminal(required, ConductorSize::Awg(14));
        sheet.assume(format!(
            "`terminal-rating` not given: {column}, as for terminals without a marking"
        ));
        column
    });
    let together: f64 = sheet.need("conductors-together")?;
    let setting = Setting {
        metal,
        insulation,
        terminal,
        ambient: sheet.need("ambient-temperature")?,
        together: together as u32,
    };
    let Some(device) = lookup::rating_at_or_above(required) else {
        return sheet.cannot_tell(format!("{} is above every standard rating", text(required)));
    };
    let ratings = sheet.table(&table::OVERCURRENT.standard_ratings);
    sheet.work(
        "standard rating at or above",
        format!("{} in {ratings}", keyed(required)),
        keyed(device),
    );
    sheet.output("least-device", device);
    let name = sheet.table(&table::CONDUCTORS.ampacity_30c);
    let size = ConductorSize::ALL.into_iter().find(|size| {
        let carries = usable(*size, &setting).is_some_and(|found| !exceeds(required, found.usable));
        let protected =
            lookup::small_conductor_limit(*size, metal).is_none_or(|limit| !exceeds(device, limit));
        carries && protected
    });
    if let Some(size) = size {
        sheet.work(
            "smallest size that carries it and may stand behind the device",
            format!(
                "{} and {} in {name} and {small}, {metal}",
                keyed(required),
                keyed(device)
            ),
            size.to_string(),
        );
        sheet.output_value("least-size", size);
        sheet.at_least(
            "ampacity",
            usable(size, &setting).map_or(required, |found| found.usable),
            required,
            rule,
        );
    }
    let conductor = size.map_or_else(
        || "no size up to 500 kcmil".to_owned(),
        |size| format!("{size} {metal}"),
    );
    if exceeds(heat, amps(48.0)) {
        let rule = sheet.rule("heat-subdivision");
        sheet.at_most("undivided heat", heat, amps(48.0), rule);
        return sheet.verdict(
            "must-divide",
            format!("{} of heat must be divided into loads of at most 48 A; as one supply it needs {conductor} and {}", text(heat), text(device)),
        );
    }
    sheet.verdict(
        "worked-out",
        format!(
            "{} needs {conductor} and a {} device",
            text(required),
            text(device)
        ),
    )
}
