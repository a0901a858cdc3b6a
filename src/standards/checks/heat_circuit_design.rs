//! Conductor and device for electric heat, from nothing but its label.

use super::prelude::*;
use super::usable::{Setting, column, metal, unmarked_terminal, usable};
use crate::electrical::heater::{Feed, current_at};

calculation! {
    "heat-circuit-design": "Conductor and breaker for fixed electric heat on one circuit";
    rules "electric-heat-125", "heat-subdivision", "terminal-temperature", "small-conductor";
    inputs {
        HEATER_POWERS = List<Power>("heater-powers", "Rated power of each heater on the circuit.")
            .between(1.0, 1e6);
        SUPPLY = Voltage("supply-voltage", "Voltage of the circuit and of the rating.");
        BLOWER_FULL_LOAD_CURRENT = Current("blower-full-load-current", "Full-load current of the blower on the same circuit.")
            .optional();
        PHASES;
        METAL;
        INSULATION;
        TERMINAL;
        AMBIENT;
        TOGETHER;
        EDITION;
    }
    outputs {
        TOTAL_POWER = Power("total-power", "All heaters together.");
        LOAD_CURRENT = Current("load-current", "Heaters and blower.");
        REQUIRED_AMPACITY = Current("required-ampacity", "125 % of that.");
        LEAST_DEVICE = Current("least-device", "Smallest standard device.");
        LEAST_SIZE = Size("least-size", "Smallest conductor, its device limit considered.");
    }
    verdicts {
        WORKED_OUT;
        MUST_DIVIDE = plain("must-divide", "Above 48 A of heat: the elements must be divided, each on 60 A at most.");
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let powers = sheet.list(HEATER_POWERS).all;
    let voltage = sheet.need(SUPPLY)?.get();
    let blower: ElectricCurrent = sheet
        .maybe(BLOWER_FULL_LOAD_CURRENT)
        .map(Known::get)
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
    sheet.line("P = sum of heaters", sum_text(&powers), keyed(power));
    sheet.line(
        if three { "I = P / (1.732 x V)" } else { "I = P / V" },
        over_line_volts(keyed(power), voltage, three),
        keyed(heat),
    );
    sheet.line(
        "1.25 x (I_heat + I_blower)",
        format!("1.25 x ({} + {})", keyed(heat), keyed(blower)),
        keyed(required),
    );
    sheet.output(TOTAL_POWER, power);
    sheet.output(LOAD_CURRENT, load);
    sheet.output(REQUIRED_AMPACITY, required);
    let rule = sheet.rule("electric-heat-125");
    let small = sheet.rule("small-conductor");
    let metal = metal(sheet.choice(METAL)).ok_or_else(|| sheet.missing(METAL))?;
    let insulation = column(sheet.choice(INSULATION)).ok_or_else(|| sheet.missing(INSULATION))?;
    let terminal = column(sheet.choice(TERMINAL)).unwrap_or_else(|| {
        let column = unmarked_terminal(required, ConductorSize::Awg(14));
        sheet.assume(format!(
            "`terminal-rating` not given: {column}, as for terminals without a marking"
        ));
        column
    });
    let together = sheet.need(TOGETHER)?.number();
    let setting = Setting {
        metal,
        insulation,
        terminal,
        ambient: sheet.need(AMBIENT)?.get(),
        together: together as u32,
    };
    let Some(device) = lookup::rating_at_or_above(required) else {
        return sheet.cannot_tell(format!("{} is above every standard rating", text(required)));
    };
    let ratings = sheet.table(&table::OVERCURRENT.standard_ratings);
    sheet.line(
        "standard rating at or above",
        format!("{} in {ratings}", keyed(required)),
        keyed(device),
    );
    sheet.output(LEAST_DEVICE, device);
    let name = sheet.table(&table::CONDUCTORS.ampacity_30c);
    let size = ConductorSize::ALL.into_iter().find(|size| {
        let carries = usable(*size, &setting).is_some_and(|found| !exceeds(required, found.usable));
        let protected =
            lookup::small_conductor_limit(*size, metal).is_none_or(|limit| !exceeds(device, limit));
        carries && protected
    });
    if let Some(size) = size {
        sheet.line(
            "smallest size that carries it and may stand behind the device",
            format!(
                "{} and {} in {name} and {small}, {metal}",
                keyed(required),
                keyed(device)
            ),
            size.to_string(),
        );
        sheet.output_value(LEAST_SIZE, size);
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
            MUST_DIVIDE,
            format!("{} of heat must be divided into loads of at most 48 A; as one supply it needs {conductor} and {}", text(heat), text(device)),
        );
    }
    sheet.verdict(
        WORKED_OUT,
        format!(
            "{} needs {conductor} and a {} device",
            text(required),
            text(device)
        ),
    )
}
