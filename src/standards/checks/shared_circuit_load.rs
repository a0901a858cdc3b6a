//! A unit that shares its circuit with other loads.

use super::super::lookup::{ampacity, rating_at_or_above, small_conductor_limit};
use super::super::table::{CONDUCTORS, CORRECTIONS};
use super::prelude::*;
use super::usable::{no_ampacity, terminal_of};
use crate::quantity::Load;

calculation! {
    "shared-circuit-load": "Everything on a shared circuit against its breaker and conductor";
    rules "shared-circuit-limits", "continuous-loads", "motor-conductors", "next-size-up", "small-conductor";
    inputs {
        DEVICE = Current("protective-device-rating", "Rating of the breaker or fuse of the circuit.")
            .between(1.0, 1000.0);
        UNIT_RUNNING_CURRENT = Current("unit-running-current", "Running current of the whole unit by its nameplate.")
            .between(0.0, 1000.0);
        CIRCUIT_LOADS = Loads("circuit-loads", "Everything else on the circuit, with `motor` and `continuous` where they apply, or `none`.");
        CONDUCTOR_SIZE = Size("conductor-size", "Smallest conductor of the circuit.").optional();
        METAL;
        TERMINAL_RATING = OneOf<Column>("terminal-rating", "Lowest temperature marking of the terminals, in C.")
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
        ALONE = plain("alone", "Nothing else is on the circuit: what the unit draws is judged against its device by itself.");
        WITHIN = plain("within", "The circuit carries everything on it.");
        TIGHT = plain("tight", "The circuit just carries everything on it: more than 80 % of the device is in use.");
        OVER_BREAKER = violation("over-breaker", "Everything together, continuous loads at 125 %, is above the device.");
        OVER_CONDUCTOR = violation("over-conductor", "The conductor is too small for the load or for the device.");
        FIXED_OVER_HALF = violation("fixed-over-half", "Fixed equipment takes more than half of a 15 A or 20 A circuit that has other outlets.");
    }
}

/// Extra share of a continuous load, and of the largest motor (NEC 210.20(A), 430.24).
const EXTRA: f64 = 0.25;
/// Share of the device from which little is left for a hot day and for starts. Common practice, no source.
const TIGHT_FROM: f64 = 0.80;
/// Share of a 15 A or 20 A circuit fixed equipment may take beside other outlets (NEC 210.23).
const FIXED: f64 = 0.50;

fn work(mut sheet: Sheet<'_>) -> Answer {
    let (device, unit) = (sheet.need(DEVICE)?, sheet.need(UNIT_RUNNING_CURRENT)?);
    let loads = sheet.loads(CIRCUIT_LOADS);
    let sum = |counts: fn(&Load) -> bool| {
        let counted = loads.iter().filter(|load| counts(load));
        counted.fold(amps(0.0), |sum, load| sum + amps(load.amps))
    };
    let total = Known::called("I_total", unit.get() + sum(|_| true));
    let continuous = Known::called("I_continuous", sum(|load| load.continuous));
    let other = Known::called("I_continuous_other", sum(|load| load.continuous && !load.motor));
    // The unit counts as one motor: its compressor or blower is most of it, and this is the safe side.
    let motors = loads.iter().filter(|load| load.motor).map(|load| amps(load.amps));
    let largest = Known::called("I_largest_motor", motors.fold(unit.get(), ElectricCurrent::max));
    sheet.assume("the unit counts as one motor load and not as a continuous one");
    let named = loads
        .iter()
        .map(|load| format!("{} ({})", keyed(amps(load.amps)), load.name));
    let all: Vec<_> = std::iter::once(format!("{} (unit)", keyed(unit)))
        .chain(named)
        .collect();
    sheet.line("I_total = sum of all loads", all.join(" + "), keyed(total));
    let for_device = sheet.work("I_device", total + EXTRA * continuous);
    let sizing = sheet.work("I_sizing", total + EXTRA * largest + EXTRA * other);
    sheet.output(TOTAL_CURRENT, total);
    sheet.output(SIZING_CURRENT, sizing);
    let rule = sheet.rule("continuous-loads");
    let shared = sheet.rule("shared-circuit-limits");
    let source = format!("{rule}, {shared}");
    sheet.at_most("load counted for the device", for_device, device, source);

    let mut limit = device;
    let mut conductor_broken = None;
    let mut doubt = None;
    if let Some(size) = sheet.size(CONDUCTOR_SIZE) {
        let metal = sheet.need_one(METAL)?;
        let column = terminal_of(&mut sheet, device.get(), size);
        let carries = ampacity(size, metal, column).ok_or_else(|| no_ampacity(size, metal))?;
        let carries = Known::fixed(carries);
        let table = sheet.table(&CONDUCTORS.ampacity_30c);
        let put_in = format!("{table}, {size} {metal}, {column} column");
        sheet.line("I_conductor", put_in, keyed(carries));
        sheet.assume("conductor at 30 C with at most three current-carrying conductors together; see conductor-check for more heat");
        let motors = sheet.rule("motor-conductors");
        sheet.at_most("load counted for the conductor", sizing, carries, motors);
        limit = limit.with(limit.get().min(carries.get()));
        // Terminals without a marking were taken at 60 C; the conductor is called too small only if 75 C is too.
        let at_best = if sheet.is_given(TERMINAL) {
            None
        } else {
            ampacity(size, metal, Column::C75)
        };
        let best = carries.with(at_best.unwrap_or(carries.get()));
        if sizing.exceeds(best) {
            conductor_broken = Some(format!(
                "{size} {metal} carries {carries} and must carry {sizing}"
            ));
        } else if sizing.exceeds(carries) {
            doubt = Some(format!(
                "{size} {metal} carries {carries} at 60 C terminals and {best} at 75 C ones: read their marking, {sizing} is needed"
            ));
        }
        let small = small_conductor_limit(size, metal);
        if let Some(largest) = small.or_else(|| rating_at_or_above(best.get())).map(Known::fixed) {
            let rule = if small.is_some() {
                sheet.table(&CORRECTIONS.small_conductor);
                sheet.rule("small-conductor")
            } else {
                sheet.rule("next-size-up")
            };
            // With fuses in the disconnect the wire up to them stands behind the breaker in the panel.
            let upstream = sheet.maybe(UPSTREAM).map_or(device.get(), Known::get);
            let ahead = device.with(upstream.max(device.get()));
            sheet.at_most("device on this conductor", ahead, largest, rule);
            if ahead.exceeds(largest) {
                conductor_broken = Some(format!(
                    "{size} {metal} may stand behind {largest} at most on a circuit with general loads, and the device is {ahead}"
                ));
            }
        }
    } else {
        sheet.assume("`conductor-size` not given: the conductor was not judged");
    }
    sheet.output(LIMIT, limit);

    let has_other_outlets = !exceeds(device.number(), 20.0) && !loads.is_empty();
    if has_other_outlets {
        sheet.assume("the unit is fastened in place and the other loads are lighting or plugged in");
        sheet.at_most("fixed equipment", unit, device * FIXED, shared);
    }
    sheet.note(
        "an appliance or unit on a circuit of its own cannot be tripped by its neighbors: good practice",
    );

    if loads.is_empty() {
        return sheet.verdict(
            ALONE,
            format!("nothing else is on it, the unit's own {unit} on a {device} device"),
        );
    }
    let counted = format!("{for_device} counted on a {device} device");
    if for_device.exceeds(device) {
        let tipping = tipping_load(unit.get(), loads, device.get());
        return sheet.verdict(OVER_BREAKER, format!("{counted}: {tipping} takes it over"));
    }
    if let Some(broken) = conductor_broken {
        return sheet.verdict(OVER_CONDUCTOR, broken);
    }
    if has_other_outlets && unit.exceeds(device * FIXED) {
        let found =
            format!("the unit's {unit} is more than half of the {device} circuit, which other outlets share");
        return sheet.verdict(FIXED_OVER_HALF, found);
    }
    match doubt {
        Some(doubt) => sheet.cannot_tell(doubt),
        None if for_device.exceeds(device * TIGHT_FROM) => {
            sheet.note("what a unit really draws passes its plate on a hot day, and starts come on top");
            sheet.verdict(TIGHT, format!("{counted}: little is left"))
        }
        None => sheet.verdict(WITHIN, counted),
    }
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
