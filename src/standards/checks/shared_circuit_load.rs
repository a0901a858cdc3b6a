//! A unit that shares its circuit with other loads.

use super::super::lookup::{ampacity, rating_at_or_above, small_conductor_limit};
use super::super::table::{CONDUCTORS, CORRECTIONS, Column};
use super::prelude::*;
use super::usable::{column, metal, unmarked_terminal};
use crate::quantity::Load;

calculation! {
    "shared-circuit-load": "Everything on a shared circuit against its breaker and conductor";
    rules "shared-circuit-limits", "continuous-loads", "motor-conductors", "next-size-up", "small-conductor";
    inputs {
        DEVICE = Current("protective-device-rating", "Rating of the breaker or fuse of the circuit.")
            .between(1.0, 1000.0);
        UNIT_RUNNING_CURRENT = Current("unit-running-current", "Running current of the whole unit by its nameplate.")
            .between(0.0, 1000.0);
        CIRCUIT_LOADS = Loads("circuit-loads", "Everything else on the circuit, with `motor` and `continuous` where they apply.");
        CONDUCTOR_SIZE = Size("conductor-size", "Smallest conductor of the circuit.").optional();
        METAL;
        TERMINAL_RATING = Choice("terminal-rating", "Lowest temperature marking of the terminals, in C.")
            .among(&["60", "75"]).optional();
        UPSTREAM;
        EDITION;
    }
    outputs {
        TOTAL_CURRENT = Current("total-current", "All loads together.");
        SIZING_CURRENT = Current("sizing-current", "All loads, the largest motor and continuous ones at 125 %.");
        LIMIT = Current("limit", "The smaller of device rating and conductor ampacity.");
    }
    verdicts {
        WITHIN = plain("within", "The circuit carries everything on it.");
        OVER_BREAKER = violation("over-breaker", "Everything together, continuous loads at 125 %, is above the device.");
        OVER_CONDUCTOR = violation("over-conductor", "The conductor is too small for the load or for the device.");
        FIXED_OVER_HALF = violation("fixed-over-half", "Fixed equipment takes more than half of a 15 A or 20 A circuit that has other outlets.");
    }
}

/// Extra share of a continuous load, and of the largest motor (NEC 210.20(A), 430.24).
const EXTRA: f64 = 0.25;
/// Share of a 15 A or 20 A circuit fixed equipment may take beside other outlets (NEC 210.23).
const FIXED: f64 = 0.50;

fn work(mut sheet: Sheet<'_>) -> Answer {
    let device = sheet.need(DEVICE)?.get();
    let unit = sheet.need(UNIT_RUNNING_CURRENT)?.get();
    let loads = sheet.loads(CIRCUIT_LOADS);
    let amps = ElectricCurrent::new::<ampere>;
    let zero = amps(0.0);
    let others: ElectricCurrent = loads.iter().fold(zero, |sum, load| sum + amps(load.amps));
    let continuous: ElectricCurrent = loads
        .iter()
        .filter(|load| load.continuous)
        .fold(zero, |sum, load| sum + amps(load.amps));
    // The unit counts as one motor: its compressor or blower is most of it, and this is the safe side.
    let largest_motor = loads
        .iter()
        .filter(|load| load.motor)
        .map(|load| amps(load.amps))
        .fold(unit, ElectricCurrent::max);
    let still_continuous: ElectricCurrent = loads
        .iter()
        .filter(|load| load.continuous && !load.motor)
        .fold(zero, |sum, load| sum + amps(load.amps));
    let total = unit + others;
    let for_device = total + continuous * EXTRA;
    let sizing = total + largest_motor * EXTRA + still_continuous * EXTRA;
    sheet.assume("the unit counts as one motor load and not as a continuous one");
    let sum = std::iter::once(format!("{} (unit)", keyed(unit)))
        .chain(
            loads
                .iter()
                .map(|load| format!("{} ({})", keyed(amps(load.amps)), load.name)),
        )
        .collect::<Vec<_>>();
    sheet.line("I_total = sum of all loads", sum.join(" + "), keyed(total));
    sheet.line(
        "I_device = I_total + 0.25 x I_continuous",
        format!("{} + 0.25 x {}", keyed(total), keyed(continuous)),
        keyed(for_device),
    );
    sheet.line(
        "I_sizing = I_total + 0.25 x I_largest_motor + 0.25 x I_continuous_other",
        format!(
            "{} + 0.25 x {} + 0.25 x {}",
            keyed(total),
            keyed(largest_motor),
            keyed(still_continuous)
        ),
        keyed(sizing),
    );
    sheet.output(TOTAL_CURRENT, total);
    sheet.output(SIZING_CURRENT, sizing);
    let rule = sheet.rule("continuous-loads");
    let shared = sheet.rule("shared-circuit-limits");
    sheet.at_most(
        "load counted for the device",
        for_device,
        device,
        format!("{rule}, {shared}"),
    );

    let mut limit = device;
    let mut conductor_broken = None;
    let mut doubt = None;
    if let Some(size) = sheet.size(CONDUCTOR_SIZE) {
        let metal = metal(sheet.choice(METAL)).ok_or_else(|| sheet.missing(METAL))?;
        let column = column(sheet.choice(TERMINAL_RATING)).unwrap_or_else(|| {
            let column = unmarked_terminal(device, size);
            sheet.assume(format!(
                "`terminal-rating` not given: {column}, as for terminals without a marking"
            ));
            column
        });
        let Some(carries) = ampacity(size, metal, column) else {
            return Err(InputError::OutOfRange {
                input: "conductor-size".to_owned(),
                value: size.to_string(),
                expected: format!("a size that {} gives for {metal}", CONDUCTORS.ampacity_30c.name()),
            });
        };
        let table = sheet.table(&CONDUCTORS.ampacity_30c);
        sheet.line(
            "I_conductor",
            format!("{table}, {size} {metal}, {column} column"),
            keyed(carries),
        );
        sheet.assume("conductor at 30 C with at most three current-carrying conductors together; see conductor-check for more heat");
        let motors = sheet.rule("motor-conductors");
        sheet.at_most("load counted for the conductor", sizing, carries, motors);
        limit = limit.min(carries);
        // Terminals without a marking were taken at 60 C; the conductor is called too small only if 75 C is too.
        let best = if sheet.is_given(TERMINAL_RATING) {
            carries
        } else {
            ampacity(size, metal, Column::C75).unwrap_or(carries)
        };
        if exceeds(sizing, carries) && !exceeds(sizing, best) {
            doubt = Some(format!(
                "{size} {metal} carries {} at 60 C terminals and {} at 75 C ones: read their marking, {} is needed",
                text(carries),
                text(best),
                text(sizing)
            ));
        }
        if exceeds(sizing, best) {
            conductor_broken = Some(format!(
                "{size} {metal} carries {} and must carry {}",
                text(carries),
                text(sizing)
            ));
        }
        let small = small_conductor_limit(size, metal);
        let largest_device = small.or_else(|| rating_at_or_above(best));
        if let Some(largest) = largest_device {
            let rule = if small.is_some() {
                sheet.table(&CORRECTIONS.small_conductor);
                sheet.rule("small-conductor")
            } else {
                sheet.rule("next-size-up")
            };
            // With fuses in the disconnect the wire up to them stands behind the breaker in the panel.
            let ahead = sheet
                .maybe(UPSTREAM)
                .map(Known::get)
                .map_or(device, |upstream| upstream.max(device));
            sheet.at_most("device on this conductor", ahead, largest, rule);
            if exceeds(ahead, largest) {
                conductor_broken = Some(format!(
                    "{size} {metal} may stand behind {} at most on a circuit with general loads, and the device is {}",
                    text(largest),
                    text(ahead)
                ));
            }
        }
    } else {
        sheet.assume("`conductor-size` not given: the conductor was not judged");
    }
    sheet.output(LIMIT, limit);

    let is_small_circuit = !exceeds(device, amps(20.0));
    if is_small_circuit && !loads.is_empty() {
        sheet.assume("the unit is fastened in place and the other loads are lighting or plugged in");
        sheet.at_most("fixed equipment", unit, device * FIXED, shared.clone());
    }
    if !exceeds(for_device, device) && exceeds(for_device, device * 0.8) {
        sheet.note("more than 80 % of the device is in use: little is left for starting currents");
    }
    sheet.note(
        "an appliance or unit on a circuit of its own cannot be tripped by its neighbors: good practice",
    );

    if exceeds(for_device, device) {
        let tipping = tipping_load(unit, loads, device);
        return sheet.verdict(
            OVER_BREAKER,
            format!(
                "{} counted on a {} device: {tipping} takes it over",
                text(for_device),
                text(device)
            ),
        );
    }
    if let Some(broken) = conductor_broken {
        return sheet.verdict(OVER_CONDUCTOR, broken);
    }
    if is_small_circuit && !loads.is_empty() && exceeds(unit, device * FIXED) {
        return sheet.verdict(
            FIXED_OVER_HALF,
            format!(
                "the unit's {} is more than half of the {} circuit, which other outlets share",
                text(unit),
                text(device)
            ),
        );
    }
    if let Some(doubt) = doubt {
        return sheet.cannot_tell(doubt);
    }
    sheet.verdict(
        WITHIN,
        format!("{} counted on a {} device", text(for_device), text(device)),
    )
}

/// Names the first load, in the order listed, with which the device's rating is passed.
fn tipping_load(unit: ElectricCurrent, loads: &[Load], device: ElectricCurrent) -> String {
    let mut sum = unit;
    if exceeds(sum, device) {
        return "the unit alone".to_owned();
    }
    for load in loads {
        let counted = if load.continuous { 1.0 + EXTRA } else { 1.0 };
        sum += ElectricCurrent::new::<ampere>(load.amps * counted);
        if exceeds(sum, device) {
            return format!(
                "`{}` at {}",
                load.name,
                text(ElectricCurrent::new::<ampere>(load.amps))
            );
        }
    }
    "no single load".to_owned()
}
