//! The conductor that keeps the voltage drop of a run within a limit.

use super::prelude::*;

calculation! {
    "conductor-size-for-drop": "Smallest conductor that keeps the voltage drop of a run within a limit";
    rules "voltage-drop-note";
    inputs {
        LOAD_CURRENT = Current("load-current", "Current in the run.").between(0.001, 10_000.0);
        SUPPLY "V" = Voltage("supply-voltage", "Voltage at the start of the run, line to line on three phases.");
        LENGTH = Length("conductor-length", "Length of the run, one way.").between(0.1, 10_000.0);
        DROP_LIMIT "limit" = Ratio("drop-limit", "Largest drop wanted, as a share of the supply.")
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
    let (current, supply) = (sheet.need(LOAD_CURRENT)?, sheet.need(SUPPLY)?);
    let (length, metal) = (sheet.need(LENGTH)?, sheet.need_one(METAL)?);
    let (three, _) = phase_factor(&sheet);
    let k = sheet
        .maybe(CONDUCTOR_K)
        .map(Known::number)
        .unwrap_or(match metal {
            Metal::Copper => 12.9,
            Metal::Aluminium => 21.2,
        });
    let (factor, times) = if three { (3f64.sqrt(), "1.732") } else { (2.0, "2") };
    let allowed = match sheet.maybe(ALLOWED_DROP) {
        Some(allowed) if allowed.exceeds(supply * 0.5) => {
            return Err(contradiction(format!(
                "`allowed-drop` {allowed} is more than half of `supply-voltage` {supply}; no load works on the rest"
            )));
        }
        Some(allowed) => allowed,
        None => sheet.work("drop", sheet.need(DROP_LIMIT)? * supply),
    };
    let feet = length.get().get::<foot>();
    let mils = factor * k * current.number() * feet / allowed.number();
    let put_in = format!("{times} x {} ohm-cmil/ft x {}", keyed_number(k), keyed(current));
    sheet.line(
        &format!("cmil = {times} x K x I x L / drop"),
        format!("{put_in} x {} / {}", keyed(length), keyed(allowed)),
        format!("{} cmil", keyed_number(mils)),
    );
    sheet.output(ALLOWED_DROP_OUT, allowed);
    sheet.output(REQUIRED_AREA, Area::of(mils * crate::quantity::circular_mil()));
    sheet.rule("voltage-drop-note");
    sheet.source("circular-mil formula with K at 75 C: common practice; it leaves reactance out");
    sheet.note("the conductor must also carry the current: see conductor-size-for");
    let smallest = ConductorSize::ALL.into_iter().find(|size| {
        size.circular_mils() >= mils * (1.0 - 1e-9) && lookup::ampacity(*size, metal, Column::C75).is_some()
    });
    let Some(size) = smallest else {
        return sheet.cannot_tell(format!(
            "{mils:.0} cmil is above 500 kcmil: a shorter run or a higher voltage is needed"
        ));
    };
    sheet.output_value(LEAST_SIZE, size);
    if let Some(one_way) = lookup::resistance(size, metal, false, Temperature::of(75.0), length.get()) {
        let name = sheet.table(&table::CONDUCTORS.dc_resistance_75c);
        let drop = current.get() * one_way * factor;
        sheet.output(DROP, drop);
        let of = format!("{} ({} of {size}, {name})", keyed(one_way), keyed(length));
        sheet.line(
            &format!("drop on that size = {times} x I x R"),
            format!("{times} x {} x {of}", keyed(current)),
            keyed(drop),
        );
    }
    let found = format!("{mils:.0} cmil are needed, which {size} {metal} has");
    sheet.verdict(WORKED_OUT, found)
}
