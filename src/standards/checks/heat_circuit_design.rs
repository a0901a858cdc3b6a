//! Conductor and device for electric heat, from nothing but its label.

use super::prelude::*;
use super::usable::{setting_of, usable};

calculation! {
    "heat-circuit-design": "Conductor and breaker for fixed electric heat on one circuit";
    rules "electric-heat-125", "heat-subdivision", "terminal-temperature", "small-conductor";
    inputs {
        HEATER_POWERS "sum of heaters" = List<Power>("heater-powers", "Rated power of each heater on the circuit.")
            .between(1.0, 1e6);
        SUPPLY "V" = Voltage("supply-voltage", "Voltage of the circuit and of the rating.");
        BLOWER_FULL_LOAD_CURRENT "I_blower" = Current("blower-full-load-current", "Full-load current of the blower on the same circuit.")
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
        TOTAL_POWER "P" = Power("total-power", "All heaters together.");
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
    let (powers, voltage) = (sheet.list(HEATER_POWERS), sheet.need(SUPPLY)?);
    let blower = sheet
        .maybe(BLOWER_FULL_LOAD_CURRENT)
        .unwrap_or(Known::called("I_blower", amps(0.0)));
    let (three, _) = phase_factor(&sheet);
    let power = sheet.give(TOTAL_POWER, powers.sum());
    let heat = line_current(&mut sheet, power, voltage, three).named("I_heat");
    let required = sheet.work("required", 1.25 * (heat + blower));
    sheet.output(LOAD_CURRENT, heat + blower);
    sheet.output(REQUIRED_AMPACITY, required);
    let rule = sheet.rule("electric-heat-125");
    let small = sheet.rule("small-conductor");
    let setting = setting_of(&mut sheet, required.get(), ConductorSize::Awg(14))?;
    let metal = setting.metal;
    let Some(device) = standard_at_or_above(&mut sheet, required) else {
        return sheet.cannot_tell(format!("{required} is above every standard rating"));
    };
    sheet.output(LEAST_DEVICE, device);
    let name = sheet.table(&table::CONDUCTORS.ampacity_30c);
    let size = ConductorSize::ALL.into_iter().find(|size| {
        let carries = usable(*size, &setting).is_some_and(|found| !exceeds(required.get(), found.usable));
        let protected =
            lookup::small_conductor_limit(*size, metal).is_none_or(|limit| !exceeds(device.get(), limit));
        carries && protected
    });
    let mut conductor = "no size up to 500 kcmil".to_owned();
    if let Some(size) = size {
        conductor = format!("{size} {metal}");
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
        let carries = usable(size, &setting).map_or(required.get(), |found| found.usable);
        sheet.at_least("ampacity", carries, required, rule);
    }
    if exceeds(heat.number(), 48.0) {
        let rule = sheet.rule("heat-subdivision");
        sheet.at_most("undivided heat", heat, amps(48.0), rule);
        return sheet.verdict(
            MUST_DIVIDE,
            format!("{heat} of heat must be divided into loads of at most 48 A; as one supply it needs {conductor} and {device}"),
        );
    }
    sheet.verdict(
        WORKED_OUT,
        format!("{required} needs {conductor} and a {device} device"),
    )
}
