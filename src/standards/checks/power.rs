//! Watts, volt-amperes and power factor, one phase or three.

use super::prelude::*;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "power",
    title: "Watts, volt-amperes and power factor",
    inputs: &[
        voltage("supply-voltage", "Voltage, line to line on three phases.")
            .optional()
            .read(),
        current("load-current", "Line current.").optional().read(),
        Input::quantity("power", Kind::Power, "Real power.")
            .in_unit("W")
            .between(0.0, 1e8)
            .optional()
            .read(),
        Input::quantity("power-factor", Kind::Ratio, "Real over apparent power.")
            .in_unit("")
            .between(0.01, 1.0)
            .optional(),
        Input::quantity(
            "apparent-power",
            Kind::ApparentPower,
            "Volt-amperes, where they are known instead.",
        )
        .between(0.0, 1e8)
        .optional(),
        PHASES,
    ],
    outputs: &[
        Output::quantity("apparent-power", Kind::ApparentPower, "Volt-amperes."),
        Output::quantity("power", Kind::Power, "Watts."),
        Output::quantity("power-factor", Kind::Ratio, "Watts over volt-amperes."),
        Output::quantity(
            "reactive-power",
            Kind::ApparentPower,
            "Volt-amperes that do no work.",
        ),
        Output::quantity(
            "load-current",
            Kind::Current,
            "Line current, when the voltage is given.",
        ),
    ],
    verdicts: &[WORKED_OUT],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &[])?;
    let (three, factor) = phase_factor(&sheet);
    let product = match (
        sheet.maybe::<ElectricPotential>("supply-voltage"),
        sheet.maybe::<ElectricCurrent>("load-current"),
    ) {
        (Some(voltage), Some(current)) => {
            let apparent = voltage * current * factor;
            sheet.work(
                if three { "S = 1.732 x V x I" } else { "S = V x I" },
                format!(
                    "{}{} x {}",
                    if three { "1.732 x " } else { "" },
                    keyed(voltage),
                    keyed(current)
                ),
                keyed(Quantity::apparent(apparent)),
            );
            Some(apparent)
        }
        _ => sheet.maybe("apparent-power"),
    };
    let power: Option<Power> = sheet.maybe("power");
    let given: Option<f64> = sheet.maybe("power-factor");
    let (apparent, power, power_factor) = match (product, power, given) {
        (Some(apparent), Some(power), _) => {
            let found = share(power, apparent);
            if !found.is_finite() || found > 1.02 {
                return Err(InputError::Contradiction {
                    what: format!(
                        "`power` {} is above volts times amperes, {}; read them again",
                        text(power),
                        Quantity::apparent(apparent)
                    ),
                });
            }
            sheet.work(
                "pf = P / S",
                format!("{} / {}", keyed(power), keyed(Quantity::apparent(apparent))),
                keyed_number(found),
            );
            (apparent, power, found)
        }
        (Some(apparent), None, power_factor) => {
            if power_factor.is_none() {
                sheet.assume("`power-factor` not given: 1, as for resistive loads");
            }
            let power_factor = power_factor.unwrap_or(1.0);
            sheet.work(
                "P = S x pf",
                format!(
                    "{} x {}",
                    keyed(Quantity::apparent(apparent)),
                    keyed_number(power_factor)
                ),
                keyed(apparent * power_factor),
            );
            (apparent, apparent * power_factor, power_factor)
        }
        (None, Some(power), Some(power_factor)) => {
            sheet.work(
                "S = P / pf",
                format!("{} / {}", keyed(power), keyed_number(power_factor)),
                keyed(Quantity::apparent(power / power_factor)),
            );
            (power / power_factor, power, power_factor)
        }
        (None, Some(power), None) if sheet.maybe::<ElectricPotential>("supply-voltage").is_some() => {
            sheet.assume("`power-factor` not given: 1, as for resistive loads");
            (power, power, 1.0)
        }
        (None, Some(_), None) => return Err(sheet.missing("power-factor")),
        (None, None, _) => return Err(sheet.missing("supply-voltage")),
    };
    sheet.output("apparent-power", Quantity::apparent(apparent));
    sheet.output("power", power);
    sheet.output("power-factor", Quantity::ratio(power_factor));
    if let Some(voltage) = sheet.maybe::<ElectricPotential>("supply-voltage") {
        let current = apparent / voltage / factor;
        sheet.output("load-current", current);
        sheet.work(
            if three { "I = S / (1.732 x V)" } else { "I = S / V" },
            over_line_volts(keyed(Quantity::apparent(apparent)), voltage, three),
            keyed(current),
        );
    }
    let reactive = apparent * (1.0 - power_factor * power_factor).max(0.0).sqrt();
    sheet.output("reactive-power", Quantity::apparent(reactive));
    sheet.source("definition of power factor; balanced load on three phases");
    sheet.verdict(
        "worked-out",
        format!(
            "{} and {} at a power factor of {power_factor:.2}",
            text(power),
            Quantity::apparent(apparent)
        ),
    )
}
