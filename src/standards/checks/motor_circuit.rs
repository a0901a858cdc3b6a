//! Conductor and device of one ordinary motor.

use super::super::lookup::MotorVoltage;
use super::prelude::*;
use super::usable::{Setting, smallest, terminal_of};

calculation! {
    "motor-circuit": "Conductor and breaker of one motor that is not a compressor";
    rules "motor-conductors", "motor-device-limit", "terminal-temperature", "motor-overload", "motor-single-device";
    inputs {
        FULL_LOAD_CURRENT "FLC" = Current("full-load-current", "Full-load current of the code's table, or the nameplate's for fans that go by it.")
            .optional();
        MOTOR_POWER = ShaftPower("motor-power", "Horsepower, to look the current up.")
            .between(10.0, 1e6).instead_of(&["full-load-current"]).optional();
        SUPPLY = Voltage("supply-voltage", "Rated voltage, to look the current up.")
            .only_with(&["motor-power"]).optional();
        PHASES;
        DEVICE_TYPE = OneOf<DeviceType>("device-type", "Breaker (inverse-time) or kind of fuse.").or("inverse-time");
        NAMEPLATE_CURRENT = Current("nameplate-current", "Full-load current on the nameplate, for the overload setting.")
            .optional();
        SERVICE_FACTOR_OR_RISE = OneOf<FactorOrRise>("service-factor-or-rise", "high: service factor 1.15 or more, or rise of 40 C or less on the nameplate.").only_with(&["nameplate-current"]).or("other");
        METAL;
        CONDUCTOR_INSULATION = OneOf<Column>("conductor-insulation", "Temperature rating of the insulation in C.").or("75");
        TERMINAL;
        EDITION;
    }
    outputs {
        FULL_LOAD_CURRENT_OUT = Current("full-load-current", "Current used.");
        REQUIRED_AMPACITY = Current("required-ampacity", "125 % of it.");
        LEAST_SIZE = Size("least-size", "Smallest conductor.");
        DEVICE_LIMIT = Current("device-limit", "Percentage of the full-load current, before rounding.");
        LARGEST_DEVICE = Current("largest-device", "Standard rating at or next above it.");
        OVERLOAD_SETTING = Current("overload-setting", "Highest setting of the running overload.");
        OVERLOAD_FUSE = Current("overload-fuse", "Largest time-delay fuse that serves as the running overload too.");
    }
    verdicts {
        WORKED_OUT;
    }
}

choice! { DeviceType { InverseTime = "inverse-time", TimeDelayFuse = "time-delay-fuse", NontimeFuse = "nontime-fuse" } }
choice! { FactorOrRise { High = "high", Other = "other" } }

fn work(mut sheet: Sheet<'_>) -> Answer {
    let (three, _) = phase_factor(&sheet);
    if !sheet.is_given(FULL_LOAD_CURRENT) && !sheet.is_given(MOTOR_POWER) && sheet.is_given(NAMEPLATE_CURRENT)
    {
        let found = overload(&mut sheet).unwrap_or_default();
        return sheet.verdict(WORKED_OUT, found);
    }
    let full_load = full_load(&mut sheet, three)?;
    let required = sheet.work("ampacity", 1.25 * full_load);
    sheet.output(FULL_LOAD_CURRENT_OUT, full_load);
    sheet.output(REQUIRED_AMPACITY, required);
    let rule = sheet.rule("motor-conductors");
    let metal = sheet.need_one(METAL)?;
    let insulation = sheet.need_one(CONDUCTOR_INSULATION)?;
    let terminal = terminal_of(&mut sheet, required.get(), ConductorSize::Awg(14));
    let setting = Setting {
        metal,
        insulation,
        terminal,
        ambient: Temperature::of(30.0),
        together: 3,
    };
    sheet.assume("conductor at 30 C with at most three current-carrying conductors together");
    if let Some(size) = smallest(required.get(), &setting) {
        let name = sheet.table(&table::CONDUCTORS.ampacity_30c);
        let put_in = format!(
            "{} in {name}, {metal}, {terminal} terminals ({rule})",
            keyed(required)
        );
        sheet.line("smallest size", put_in, size.to_string());
        sheet.output_value(LEAST_SIZE, size);
    }
    let running = overload(&mut sheet);
    sheet.rule("terminal-temperature");
    let devices = &table::MOTORS.branch_device_percent;
    let motor = if three { "three-phase" } else { "single-phase" };
    let Some(row) = devices.rows.iter().find(|row| row.motor == motor) else {
        return sheet.cannot_tell("no row for this motor in the table of branch devices");
    };
    let percent = match sheet.need_one(DEVICE_TYPE)? {
        DeviceType::TimeDelayFuse => row.time_delay_fuse,
        DeviceType::NontimeFuse => row.nontime_fuse,
        DeviceType::InverseTime => row.inverse_time,
    };
    let limit = full_load.get() * (percent / 100.0);
    let name = sheet.table(devices);
    let device_rule = sheet.rule("motor-device-limit");
    let device = lookup::rating_at_or_above(limit).unwrap_or(limit);
    let put_in = format!("{percent} % ({name}) x {}", keyed(full_load));
    sheet.line("device limit = k x FLC", put_in, keyed(limit));
    let put_in = format!("{} ({device_rule}, exception)", keyed(limit));
    sheet.line("standard rating at or next above", put_in, keyed(device));
    sheet.output(DEVICE_LIMIT, limit);
    sheet.output(LARGEST_DEVICE, device);
    sheet.note("compressors go by their nameplate and the compressor rule instead");
    let running = running.map(|running| format!("; {running}")).unwrap_or_default();
    let found = format!(
        "conductor for {required}, device of at most {}{running}",
        text(device)
    );
    sheet.verdict(WORKED_OUT, found)
}

/// The full-load current as given, or of the code's table.
fn full_load(sheet: &mut Sheet<'_>, three: bool) -> Result<Known<Current>, InputError> {
    if let Some(given) = sheet.maybe(FULL_LOAD_CURRENT) {
        return Ok(given);
    }
    let shaft = sheet
        .maybe(MOTOR_POWER)
        .ok_or_else(|| sheet.missing(FULL_LOAD_CURRENT))?;
    let voltage = sheet.need(SUPPLY)?;
    let name = if three {
        sheet.table(&table::MOTORS.full_load_three_phase)
    } else {
        sheet.table(&table::MOTORS.full_load_single_phase)
    };
    let horsepower = shaft.number() / crate::quantity::horsepower();
    let found = MotorVoltage::of(voltage.number())
        .and_then(|column| lookup::full_load_current(horsepower, column, three));
    let Some(found) = found else {
        return Err(InputError::OutOfRange {
            input: "motor-power".to_owned(),
            value: format!("{shaft} at {voltage}"),
            expected: format!("a horsepower and voltage of {name}; give `full-load-current` instead"),
        });
    };
    sheet.line(
        "FLC",
        format!("{name}, {shaft} at {}", keyed(voltage)),
        keyed(found),
    );
    Ok(Known::called("FLC", found))
}

/// The running overload from the nameplate, and the fuse that may serve as it; says both in words.
///
/// *Source* NEC 430.32(A), 430.55.
fn overload(sheet: &mut Sheet<'_>) -> Option<String> {
    let nameplate: ElectricCurrent = sheet.maybe(NAMEPLATE_CURRENT).map(Known::get)?;
    let high = sheet.one_of(SERVICE_FACTOR_OR_RISE) == Some(FactorOrRise::High);
    let factor = if high { 1.25 } else { 1.15 };
    let rule = sheet.rule("motor-overload");
    let setting = nameplate * factor;
    sheet.output(OVERLOAD_SETTING, setting);
    sheet.line(
        &format!("largest overload = k x nameplate current, {rule}"),
        format!("{factor} x {}", keyed(nameplate)),
        keyed(setting),
    );
    let mut found = format!("overload set to at most {}", text(setting));
    if let Some(fuse) = lookup::rating_at_or_below(setting) {
        let rule = sheet.rule("motor-single-device");
        let ratings = sheet.table(&table::OVERCURRENT.standard_ratings);
        sheet.line(
            "standard rating at or below",
            format!("{} in {ratings} ({rule})", keyed(setting)),
            keyed(fuse),
        );
        sheet.output(OVERLOAD_FUSE, fuse);
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
