//! Conductor and device of one ordinary motor.

use super::super::lookup::MotorVoltage;
use super::prelude::*;
use super::usable::{Setting, column, metal, smallest, unmarked_terminal};
use crate::quantity::ConductorSize;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "motor-circuit",
    title: "Conductor and breaker of one motor that is not a compressor",
    inputs: &[
        current(
            "full-load-current",
            "Full-load current of the code's table, or the nameplate's for fans that go by it.",
        )
        .optional(),
        Input::quantity(
            "motor-power",
            Kind::ShaftPower,
            "Horsepower, to look the current up.",
        )
        .between(10.0, 1e6)
        .instead_of(&["full-load-current"])
        .optional(),
        voltage("supply-voltage", "Rated voltage, to look the current up.")
            .only_with(&["motor-power"])
            .optional(),
        PHASES,
        Input::choice(
            "device-type",
            &["inverse-time", "time-delay-fuse", "nontime-fuse"],
            "Breaker (inverse-time) or kind of fuse.",
        )
        .or("inverse-time"),
        current(
            "nameplate-current",
            "Full-load current on the nameplate, for the overload setting.",
        )
        .optional(),
        Input::choice(
            "service-factor-or-rise",
            &["high", "other"],
            "high: service factor 1.15 or more, or rise of 40 C or less on the nameplate.",
        )
        .only_with(&["nameplate-current"])
        .or("other"),
        METAL,
        Input::choice(
            "conductor-insulation",
            &["60", "75", "90"],
            "Temperature rating of the insulation in C.",
        )
        .or("75"),
        TERMINAL,
        EDITION_INPUT,
    ],
    outputs: &[
        Output::quantity("full-load-current", Kind::Current, "Current used."),
        Output::quantity("required-ampacity", Kind::Current, "125 % of it."),
        Output::new("least-size", ValueKind::Size, "Smallest conductor."),
        Output::quantity(
            "device-limit",
            Kind::Current,
            "Percentage of the full-load current, before rounding.",
        ),
        Output::quantity(
            "largest-device",
            Kind::Current,
            "Standard rating at or next above it.",
        ),
        Output::quantity(
            "overload-setting",
            Kind::Current,
            "Highest setting of the running overload.",
        ),
        Output::quantity(
            "overload-fuse",
            Kind::Current,
            "Largest time-delay fuse that serves as the running overload too.",
        ),
    ],
    verdicts: &[WORKED_OUT],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let rules = [
        "motor-conductors",
        "motor-device-limit",
        "terminal-temperature",
        "motor-overload",
        "motor-single-device",
    ];
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &rules)?;
    let (three, _) = phase_factor(&sheet);
    if !sheet.is_given("full-load-current")
        && !sheet.is_given("motor-power")
        && sheet.is_given("nameplate-current")
    {
        let found = overload(&mut sheet).unwrap_or_default();
        return sheet.verdict("worked-out", found);
    }
    let full_load = full_load(&mut sheet, three)?;
    let required = full_load * 1.25;
    sheet.work(
        "ampacity = 1.25 x FLC",
        format!("1.25 x {}", keyed(full_load)),
        keyed(required),
    );
    sheet.output("full-load-current", full_load);
    sheet.output("required-ampacity", required);
    let rule = sheet.rule("motor-conductors");
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
    let thirty = ThermodynamicTemperature::new::<degree_celsius>(30.0);
    let setting = Setting {
        metal,
        insulation,
        terminal,
        ambient: thirty,
        together: 3,
    };
    sheet.assume("conductor at 30 C with at most three current-carrying conductors together");
    if let Some(size) = smallest(required, &setting) {
        let name = sheet.table(&table::CONDUCTORS.ampacity_30c);
        sheet.work(
            "smallest size",
            format!(
                "{} in {name}, {metal}, {terminal} terminals ({rule})",
                keyed(required)
            ),
            size.to_string(),
        );
        sheet.output_value("least-size", size);
    }
    let running = overload(&mut sheet);
    sheet.rule("terminal-temperature");
    let devices = &table::MOTORS.branch_device_percent;
    let row = devices
        .rows
        .iter()
        .find(|row| row.motor == if three { "three-phase" } else { "single-phase" });
    let percent = row.map(|row| match sheet.choice("device-type") {
        Some("time-delay-fuse") => row.time_delay_fuse,
        Some("nontime-fuse") => row.nontime_fuse,
        _ => row.inverse_time,
    });
    let Some(percent) = percent else {
        return sheet.cannot_tell("no row for this motor in the table of branch devices");
    };
    let limit = full_load * (percent / 100.0);
    let name = sheet.table(devices);
    let device_rule = sheet.rule("motor-device-limit");
    let device = lookup::rating_at_or_above(limit).unwrap_or(limit);
    sheet.work(
        "device limit = k x FLC",
        format!("{percent} % ({name}) x {}", keyed(full_load)),
        keyed(limit),
    );
    sheet.work(
        "standard rating at or next above",
        format!("{} ({device_rule}, exception)", keyed(limit)),
        keyed(device),
    );
    sheet.output("device-limit", limit);
    sheet.output("largest-device", device);
    sheet.note("compressors go by their nameplate and the compressor rule instead");
    sheet.verdict(
        "worked-out",
        format!(
            "conductor for {}, device of at most {}{}",
            text(required),
            text(device),
            running.map(|running| format!("; {running}")).unwrap_or_default()
        ),
    )
}

/// The full-load current as given, or of the code's table.
fn full_load(sheet: &mut Sheet<'_>, three: bool) -> Result<ElectricCurrent, InputError> {
    if let Some(given) = sheet.maybe::<ElectricCurrent>("full-load-current") {
        return Ok(given);
    }
    let shaft: Quantity = sheet
        .maybe("motor-power")
        .ok_or_else(|| sheet.missing("full-load-current"))?;
    let voltage: ElectricPotential = sheet
        .maybe("supply-voltage")
        .ok_or_else(|| sheet.missing("supply-voltage"))?;
    let table = if three {
        &table::MOTORS.full_load_three_phase
    } else {
        &table::MOTORS.full_load_single_phase
    };
    let horsepower = shaft.base / crate::quantity::horsepower();
    let found = MotorVoltage::of(voltage.get::<volt>())
        .and_then(|column| lookup::full_load_current(horsepower, column, three));
    let name = sheet.table(table);
    let Some(found) = found else {
        return Err(InputError::OutOfRange {
            input: "motor-power".to_owned(),
            value: format!("{shaft} at {}", text(voltage)),
            expected: format!("a horsepower and voltage of {name}; give `full-load-current` instead"),
        });
    };
    sheet.work(
        "FLC",
        format!("{name}, {shaft} at {}", keyed(voltage)),
        keyed(found),
    );
    Ok(found)
}

/// The running overload from the nameplate, and the fuse that may serve as it; says both in words.
///
/// *Source* NEC 430.32(A), 430.55.
fn overload(sheet: &mut Sheet<'_>) -> Option<String> {
    let nameplate: ElectricCurrent = sheet.maybe("nameplate-current")?;
    let high = sheet.choice("service-factor-or-rise") == Some("high");
    let factor = if high { 1.25 } else { 1.15 };
    let rule = sheet.rule("motor-overload");
    let setting = nameplate * factor;
    sheet.output("overload-setting", setting);
    sheet.work(
        &format!("largest overload = k x nameplate current, {rule}"),
        format!("{factor} x {}", keyed(nameplate)),
        keyed(setting),
    );
    let mut found = format!("overload set to at most {}", text(setting));
    if let Some(fuse) = lookup::rating_at_or_below(setting) {
        let rule = sheet.rule("motor-single-device");
        let ratings = sheet.table(&table::OVERCURRENT.standard_ratings);
        sheet.work(
            "standard rating at or below",
            format!("{} in {ratings} ({rule})", keyed(setting)),
            keyed(fuse),
        );
        sheet.output("overload-fuse", fuse);
        sheet.note(
            "a fuse that serves as the overload is of the time-delay kind, or it opens on the start; one stands in every \
             hot conductor, and on three phases one that opens leaves the motor on two",
        );
        found.push_str(&format!(
            ", or a time-delay fuse of at most {} for both",
            text(fuse)
        ));
    } else {
        // Below 15 A the standard list is not the one fuses are sold in.
        found.push_str(", or the largest time-delay fuse not above it for both");
    }
    sheet.note("overloads by these shares are those of motors above 1 hp that run three hours or more; smaller ones may have their own inside");
    Some(found)
}
