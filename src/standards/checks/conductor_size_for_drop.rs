//! The conductor that keeps the voltage drop of a run within a limit.

use super::prelude::*;
use super::usable::metal;
use crate::electrical::voltage_drop;

calculation! {
    "conductor-size-for-drop": "Smallest conductor that keeps the voltage drop of a run within a limit";
    rules "voltage-drop-note";
    inputs {
        LOAD_CURRENT = Current("load-current", "Current in the run.").between(0.001, 10_000.0);
        SUPPLY = Voltage("supply-voltage", "Voltage at the start of the run, line to line on three phases.");
        LENGTH = Length("conductor-length", "Length of the run, one way.").between(0.1, 10_000.0);
        DROP_LIMIT = Ratio("drop-limit", "Largest drop wanted, as a share of the supply.")
            .between(0.001, 0.5).or("3 %");
        ALLOWED_DROP = Voltage("allowed-drop", "Largest drop wanted, in volts, instead of a share.")
            .between(0.001, 500.0).instead_of(&["drop-limit"]).optional();
        METAL;
        CONDUCTOR_K = Ratio("conductor-k", "Ohms of one foot of one circular mil: 12.9 warm copper, 21.2 warm aluminum.")
            .in_unit("").between(5.0, 40.0).optional();
        PHASES;
        EDITION;
    }
    outputs {
        ALLOWED_DROP_OUT = Voltage("allowed-drop", "Drop that is allowed.");
        REQUIRED_AREA = Area("required-area", "Metal area by the circular-mil formula.");
        LEAST_SIZE = Size("least-size", "Smallest size of at least that area.");
        DROP = Voltage("drop", "Drop on that size, by the resistance table at 75 C.");
    }
    verdicts {
        WORKED_OUT;
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let current = sheet.need(LOAD_CURRENT)?.get();
    let supply = sheet.need(SUPPLY)?.get();
    let length = sheet.need(LENGTH)?.get();
    let metal = metal(sheet.choice(METAL)).ok_or_else(|| sheet.missing(METAL))?;
    let (three, _) = phase_factor(&sheet);
    let k = sheet
        .maybe(CONDUCTOR_K)
        .map(Known::number)
        .unwrap_or(match metal {
            table::Metal::Copper => 12.9,
            table::Metal::Aluminium => 21.2,
        });
    let factor = if three { 3f64.sqrt() } else { 2.0 };
    let allowed = match sheet.maybe(ALLOWED_DROP).map(Known::get) {
        Some(allowed) if exceeds(allowed, supply * 0.5) => {
            return Err(InputError::Contradiction {
                what: format!(
                    "`allowed-drop` {} is more than half of `supply-voltage` {}; no load works on the rest",
                    text(allowed),
                    text(supply)
                ),
            });
        }
        Some(allowed) => allowed,
        None => {
            let limit = sheet.need(DROP_LIMIT)?.number();
            sheet.line(
                "drop = limit x V",
                format!("{} x {}", keyed(Quantity::ratio(limit)), keyed(supply)),
                keyed(supply * limit),
            );
            supply * limit
        }
    };
    let mils = factor * k * current.get::<ampere>() * length.get::<foot>() / allowed.get::<volt>();
    sheet.line(
        if three {
            "cmil = 1.732 x K x I x L / drop"
        } else {
            "cmil = 2 x K x I x L / drop"
        },
        format!(
            "{} x {} ohm-cmil/ft x {} x {} / {}",
            if three { "1.732" } else { "2" },
            keyed_number(k),
            keyed(current),
            keyed(length),
            keyed(allowed)
        ),
        format!("{} cmil", keyed_number(mils)),
    );
    sheet.output(ALLOWED_DROP_OUT, allowed);
    sheet.output(
        REQUIRED_AREA,
        Quantity {
            kind: Kind::Area,
            base: mils * crate::quantity::circular_mil(),
        },
    );
    sheet.rule("voltage-drop-note");
    sheet.source("circular-mil formula with K at 75 C: common practice; it leaves reactance out");
    sheet.note("the conductor must also carry the current: see conductor-size-for");
    let smallest = ConductorSize::ALL.into_iter().find(|size| {
        size.circular_mils() >= mils * (1.0 - 1e-9)
            && lookup::ampacity(*size, metal, table::Column::C75).is_some()
    });
    let Some(size) = smallest else {
        return sheet.cannot_tell(format!(
            "{mils:.0} cmil is above 500 kcmil: a shorter run or a higher voltage is needed"
        ));
    };
    sheet.output_value(LEAST_SIZE, size);
    let warm = ThermodynamicTemperature::new::<degree_celsius>(75.0);
    if let Some(one_way) = lookup::resistance(size, metal, false, warm, length) {
        let name = sheet.table(&table::CONDUCTORS.dc_resistance_75c);
        let drop = if three {
            voltage_drop::three_phase(current, one_way)
        } else {
            voltage_drop::single_phase(current, one_way)
        };
        sheet.output(DROP, drop);
        sheet.line(
            if three {
                "drop on that size = 1.732 x I x R"
            } else {
                "drop on that size = 2 x I x R"
            },
            format!(
                "{} x {} x {} ({} of {size}, {name})",
                if three { "1.732" } else { "2" },
                keyed(current),
                keyed(one_way),
                keyed(length)
            ),
            keyed(drop),
        );
    }
    sheet.verdict(
        WORKED_OUT,
        format!("{mils:.0} cmil are needed, which {size} {metal} has"),
    )
}
