//! Temperature rise of air across a heater, as a cross-check of its kilowatts.

use super::prelude::*;
use uom::si::f64::TemperatureInterval;
use uom::si::f64::VolumeRate;
use uom::si::temperature_interval::kelvin;
use uom::si::volume_rate::cubic_meter_per_second;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "air-temperature-rise",
    title: "Temperature rise of the air from kilowatts and airflow, as a cross-check",
    inputs: &[
        Input::quantity(
            "heater-power",
            Kind::Power,
            "Power being drawn, volts times amperes.",
        )
        .between(1.0, 1e6),
        Input::quantity("air-flow", Kind::AirFlow, "Airflow across the heater.").between(0.001, 100.0),
        Input::quantity(
            "measured-rise",
            Kind::TemperatureRise,
            "Supply air less return air, out of sight of the elements.",
        )
        .in_unit("F")
        .between(0.0, 100.0)
        .optional()
        .read(),
        Input::quantity(
            "highest-rise",
            Kind::TemperatureRise,
            "Largest rise on the nameplate.",
        )
        .in_unit("F")
        .between(1.0, 150.0)
        .optional(),
    ],
    outputs: &[Output::quantity(
        "expected-rise",
        Kind::TemperatureRise,
        "Rise that power gives to that much air.",
    )],
    verdicts: &[
        WORKED_OUT,
        VerdictKind::plain("agrees", "The rise measured is within 15 % of it."),
        VerdictKind::plain("too-small", "Less rise: more air than thought, or less heat."),
        VerdictKind::plain("too-large", "More rise: less air than thought."),
        VerdictKind::violation("above-nameplate", "The rise is above the nameplate's largest."),
    ],
    run,
};

/// Density of standard air times its specific heat: 1.204 kg/m3 x 1006 J/kg K at 20 C and sea level.
const AIR: f64 = 1.204 * 1006.0;

/// No rise a heater lives through is above this, in kelvin: limits open far below it (common practice, no source).
const MOST: f64 = 150.0;

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &[])?;
    let power: Power = sheet.need("heater-power")?;
    let flow: VolumeRate = sheet.need("air-flow")?;
    let expected = TemperatureInterval::new::<kelvin>(
        power.get::<watt>() / (AIR * flow.get::<cubic_meter_per_second>()),
    );
    if expected.get::<kelvin>() > MOST {
        return Err(InputError::Contradiction {
            what: format!(
                "`heater-power` {} in `air-flow` {} would heat the air by {} ({:.0} F), and no heater lasts that long: check both and their units",
                text(power),
                text(flow),
                text(expected),
                expected.get::<kelvin>() * 1.8
            ),
        });
    }
    let in_fahrenheit = |rise: TemperatureInterval| rise.get::<kelvin>() * 1.8;
    let shown = |rise: TemperatureInterval| format!("{} ({:.1} F)", text(rise), in_fahrenheit(rise));
    sheet.work(
        "dT = P / (1211 J/m3K x flow)",
        format!("{} / (1211 J/m3K x {})", keyed(power), keyed(flow)),
        keyed(expected),
    );
    sheet.work(
        "dT in F = 1.8 x dT",
        format!("1.8 x {}", keyed(expected)),
        format!("{} F", keyed_number(in_fahrenheit(expected))),
    );
    sheet.output("expected-rise", expected);
    sheet.source(
        "heat balance of air at 20 C and sea level; hotter and higher air is thinner, and the rise larger",
    );
    sheet.assume("the airflow is that of standard air");
    let measured: Option<TemperatureInterval> = sheet.maybe("measured-rise");
    let highest: Option<TemperatureInterval> = sheet.maybe("highest-rise");
    if let Some(highest) = highest {
        let rise = measured.unwrap_or(expected);
        sheet.at_most("rise", rise, highest, "nameplate of the unit");
        if rise > highest * (1.0 + 1e-9) {
            return sheet.verdict(
                "above-nameplate",
                format!(
                    "{}, above the {} the nameplate allows",
                    shown(rise),
                    shown(highest)
                ),
            );
        }
    }
    let Some(measured) = measured else {
        return sheet.verdict("worked-out", format!("{} of rise", shown(expected)));
    };
    let found = format!("{} measured, {} expected", shown(measured), shown(expected));
    if measured > expected * 1.15 {
        sheet.verdict("too-large", found)
    } else if measured < expected * 0.85 {
        sheet.verdict("too-small", found)
    } else {
        sheet.verdict("agrees", found)
    }
}
