//! Where on the way from the utility to the unit the voltage is lost, and what heat that makes.
//!
//! Every point is read twice, at rest and running. What is upstream of a point has the resistance
//! (V_rest - V_running) / I; the stretch between two points has the difference of theirs. The same drift of the
//! supply is in both points, so it falls out of the difference.

use super::super::lookup::resistance;
use super::super::table::CONDUCTORS;
use super::prelude::*;
use super::usable::no_resistance;

/// More than even a 10 kVA transformer (2 % impedance: 0.115 ohm) and 200 ft of 2 AWG aluminum drop (0.13 ohm)
/// have between the legs. Worked out from Chapter 9 Table 8; the choice of the pair is common practice, no source.
const MOST_SUPPLY_OHMS: f64 = 0.25;
/// Volts lost in two breaker poles and the lugs of a panel and disconnect in good order, at the running current.
const SOUND_BRANCH_VOLTS: f64 = 0.4;
/// Volts lost in the contacts and lugs of a disconnect in good order, at the running current.
const SOUND_WHIP_VOLTS: f64 = 0.2;
/// Volts lost from meter to panel in the main breaker and lugs in good order, with some feet of service conductor.
const SOUND_SERVICE_VOLTS: f64 = 0.5;
/// Heat in one joint, in watts, below which nothing is said: a clean screw terminal sheds it.
const NOTABLE_WATTS: f64 = 5.0;
/// Length of a whip, one way, in feet, when only the length of the whole run is known.
const WHIP_FEET: f64 = 6.0;
/// A meter that cannot resolve this many ohms at the running current finds no joint worth finding.
const USEFUL_OHMS: f64 = 0.2;
/// Drop of a branch circuit above which a sound one is called long or thin (informational note, no requirement).
const ADVISED_DROP: f64 = 0.03;

/// No hand-held reading of a live supply repeats better than this many volts: judgment, no source.
const REPEATABLE_VOLTS: f64 = 0.3;

calculation! {
    "stretch-resistance": "Ohms of each stretch from utility to unit, measured against expected";
    inputs {
        RUNNING_CURRENT "I" = Current("running-current", "Current of the unit while the running readings were taken.")
            .between(0.0, 1000.0).read();
        METER_VOLTAGE_AT_REST = Voltage("meter-voltage-at-rest", "At the meter, unit off.")
            .between(0.0, 700.0).read().optional();
        METER_VOLTAGE_RUNNING = Voltage("meter-voltage-running", "At the meter, unit running.")
            .between(0.0, 700.0).read().optional();
        PANEL_VOLTAGE_AT_REST = Voltage("panel-voltage-at-rest", "At the panel, line side of the unit's breaker, unit off.")
            .between(0.0, 700.0).read();
        PANEL_VOLTAGE_RUNNING = Voltage("panel-voltage-running", "At the panel, line side of the unit's breaker, unit running.")
            .between(0.0, 700.0).read();
        DISCONNECT_VOLTAGE_AT_REST = Voltage("disconnect-voltage-at-rest", "At the disconnect, line side, unit off.")
            .between(0.0, 700.0).read().optional();
        DISCONNECT_VOLTAGE_RUNNING = Voltage("disconnect-voltage-running", "At the disconnect, line side, unit running.")
            .between(0.0, 700.0).read().optional();
        UNIT_VOLTAGE_AT_REST = Voltage("unit-voltage-at-rest", "At the unit's line terminals, unit off.")
            .between(0.0, 700.0).read().optional();
        UNIT_VOLTAGE_RUNNING = Voltage("unit-voltage-running", "At the unit's line terminals, unit running.")
            .between(0.0, 700.0).read().optional();
        CONDUCTOR_SIZE = Size("conductor-size", "Conductor from panel to unit.").optional();
        CONDUCTOR_METAL = OneOf<Metal>("conductor-metal", "Metal of that conductor.").or("copper");
        LENGTH = Length("conductor-length", "Length of the run from panel to unit, one way.")
            .between(0.3, 1000.0).optional();
        CONDUCTOR_TEMPERATURE = Temperature("conductor-temperature", "Temperature of the metal while it carries the current.")
            .between(-40.0, 150.0).or("75 C");
        VOLTAGE_RESOLUTION = Voltage("voltage-resolution", "Smallest step the meter shows; left out, it is told from the readings: whole volts or tenths.")
            .between(0.001, 10.0).optional();
    }
    outputs {
        SUPPLY_RESISTANCE = Resistance("supply-resistance", "Everything ahead of the unit's breaker.");
        BRANCH_RESISTANCE = Resistance("branch-resistance", "Panel to disconnect, both conductors.");
        EXPECTED_BRANCH_RESISTANCE = Resistance("expected-branch-resistance", "What the conductor alone should have there.");
        WHIP_RESISTANCE = Resistance("whip-resistance", "Disconnect to unit, both conductors.");
        BRANCH_DROP_PERCENT = Ratio("branch-drop-percent", "Voltage lost from panel to the farthest point read.");
        JOINT_HEAT = Power("joint-heat", "Heat made by the ohms in excess of what the stretch should have.");
    }
    verdicts {
        AS_EXPECTED = plain("as-expected", "Every stretch read has the ohms it should have.");
        EXCESS_BEFORE_PANEL = plain("excess-before-panel", "Too many ohms ahead of the unit's breaker.");
        EXCESS_PANEL_TO_DISCONNECT = plain("excess-panel-to-disconnect", "Too many ohms from panel to disconnect.");
        EXCESS_DISCONNECT_TO_UNIT = plain("excess-disconnect-to-unit", "Too many ohms from disconnect to unit.");
        LONG_OR_THIN = plain("long-or-thin", "The ohms are those of the conductor, and it is too long or thin for a small drop.");
    }
}

/// A point read at rest and running.
#[derive(Clone, Copy)]
struct Point {
    name: &'static str,
    rest: Known<Voltage>,
    running: Known<Voltage>,
}

/// A stretch with more ohms than it should have.
struct Excess {
    verdict: Option<VerdictKind>,
    place: &'static str,
    resistance: Known<Resistance>,
    heat: Known<Power>,
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let current = sheet.need(RUNNING_CURRENT)?;
    let panel = Point {
        name: "panel",
        rest: sheet.need(PANEL_VOLTAGE_AT_REST)?.as_read(),
        running: sheet.need(PANEL_VOLTAGE_RUNNING)?.as_read(),
    };
    if panel.running.number() <= 0.0 {
        return Err(contradiction(
            "`panel-voltage-running` is 0 V, and nothing runs on that; read it again with the unit running",
        ));
    }
    let (rest, running) = (METER_VOLTAGE_AT_REST, METER_VOLTAGE_RUNNING);
    let meter = point(&mut sheet, "meter", rest, running, None)?;
    let same = Some(panel.rest);
    let (rest, running) = (DISCONNECT_VOLTAGE_AT_REST, DISCONNECT_VOLTAGE_RUNNING);
    let disconnect = point(&mut sheet, "disconnect", rest, running, same)?;
    let (rest, running) = (UNIT_VOLTAGE_AT_REST, UNIT_VOLTAGE_RUNNING);
    let unit = point(&mut sheet, "unit", rest, running, same)?;
    let points: Vec<Point> = [meter, Some(panel), disconnect, unit]
        .into_iter()
        .flatten()
        .collect();
    for point in &points {
        // 120 V at one point and 240 V at the next were not read across the same two conductors.
        let off = share((point.rest.get() - panel.rest.get()).abs(), panel.rest.get());
        if panel.rest.number() < 1.0 || off > 0.2 {
            return Err(contradiction(format!(
                "{} at rest is {} and the panel {}; read every point across the same two conductors",
                point.name, point.rest, panel.rest
            )));
        }
    }
    if current.number() <= 0.0 {
        return sheet.cannot_tell(
            "no current was running, so no voltage can be lost; read again with the unit running",
        );
    }
    sheet.assume("readings across the two conductors that feed the unit (leg to leg, or hot to neutral), supply steady meanwhile");
    sheet.assume("single-phase: the drop is that of both conductors; reactance neglected, which up to 1 AWG adds little");
    // Each reading is off by up to half a step; a stretch is the sum of four of them, root-sum-square.
    let step = resolution(&mut sheet, &points);
    let fuzz = Known::called("V_uncertain", step.get().max(volts(REPEATABLE_VOLTS)));
    for point in &points {
        if point.running.get() - point.rest.get() > fuzz.get() {
            return sheet.cannot_tell(format!(
                "the voltage at the {} rose from {} to {} when the load came on, so the supply moved between the readings; \
                 read rest and running again, one right after the other",
                point.name, point.rest, point.running
            ));
        }
    }
    let lost = |point: &Point| (point.rest.named("V_rest") - point.running.named("V_running")) / current;
    let upstream = |point: &Point| lost(point).value();
    for point in &points {
        sheet.work_out(&format!("R_{}", point.name), lost(point));
    }
    let fuzz_ohms = fuzz / current;
    for pair in points.windows(2) {
        let between = upstream(&pair[1]) - upstream(&pair[0]);
        if between < -fuzz_ohms.value() * 1.001 {
            return sheet.cannot_tell(format!(
                "the {} loses less voltage than the {} ahead of it, which cannot be; read both again on the same two \
                 conductors with one meter",
                pair[1].name, pair[0].name
            ));
        }
    }
    let fuzz_ohms = sheet.work("smallest ohms this meter can tell", fuzz_ohms);

    let mut found = Vec::new();
    let heat_of = |ohms| Known::fixed((current.squared() * Known::fixed(ohms)).value());
    let mut judge = |verdict, place, measured: ElectricalResistance, allowed: ElectricalResistance| {
        let excess = measured - allowed;
        let heat = heat_of(excess);
        if excess > fuzz_ohms.get() && heat.number() >= NOTABLE_WATTS {
            let resistance = Known::called("R_excess", excess);
            found.push(Excess {
                verdict,
                place,
                resistance,
                heat,
            });
        }
    };
    let sound = |volts: f64| ElectricPotential::of(volts) / current.get();
    let supply = upstream(&panel);
    sheet.output(SUPPLY_RESISTANCE, not_below_zero(supply));
    let most_supply = ohms(MOST_SUPPLY_OHMS);
    judge(
        Some(EXCESS_BEFORE_PANEL),
        "ahead of the panel",
        supply,
        most_supply,
    );
    sheet.at_most("ohms ahead of the breaker", supply, most_supply, COMMON);
    if let Some(meter) = &meter {
        let (service, allowed) = (supply - upstream(meter), sound(SOUND_SERVICE_VOLTS));
        judge(
            Some(EXCESS_BEFORE_PANEL),
            "between meter and panel",
            service,
            allowed,
        );
    }

    let metal = sheet.need_one(CONDUCTOR_METAL)?;
    let warm = sheet.need(CONDUCTOR_TEMPERATURE)?;
    let mut expected = None;
    let (size, length) = (sheet.size(CONDUCTOR_SIZE), sheet.maybe(LENGTH));
    if let (Some(size), Some(length)) = (size, length) {
        let both = resistance(size, metal, false, warm.get(), length.get() * 2.0)
            .ok_or_else(|| no_resistance(size, &CONDUCTORS.dc_resistance_75c))?;
        let table = sheet.table(&CONDUCTORS.dc_resistance_75c);
        let per_thousand = both * (500.0 / length.get().get::<foot>());
        let of = format!("{} ({size} {metal} at {warm}, {table})", keyed(per_thousand));
        let put_in = format!("2 x {} x {of} / 1000 ft", keyed(length));
        sheet.line(
            "R_expected = 2 x L x R per 1000 ft / 1000 ft",
            put_in,
            keyed(both),
        );
        sheet.output(EXPECTED_BRANCH_RESISTANCE, both);
        expected = Some(both);
    } else {
        sheet.assume("`conductor-size` or `conductor-length` not given: the ohms of the branch conductor are not known");
    }
    let (sound_branch, sound_whip) = (sound(SOUND_BRANCH_VOLTS), sound(SOUND_WHIP_VOLTS));
    let whip = Length::new::<foot>(WHIP_FEET * 2.0);
    let whip_conductor = size.and_then(|size| resistance(size, metal, false, warm.get(), whip));
    let whip_conductor = whip_conductor.unwrap_or_else(|| ohms(0.0));
    let mut branch_unknown = None;
    match (&disconnect, &unit) {
        (Some(disconnect), unit) => {
            let branch = upstream(disconnect) - supply;
            sheet.output(BRANCH_RESISTANCE, not_below_zero(branch));
            let place = "between panel and disconnect";
            if let Some(expected) = expected {
                let allowed = expected + sound_branch;
                let source = allowance(SOUND_BRANCH_VOLTS);
                sheet.at_most("ohms from panel to disconnect", branch, allowed, source);
                judge(Some(EXCESS_PANEL_TO_DISCONNECT), place, branch, allowed);
            } else {
                branch_unknown = Some((branch, place));
            }
            if let Some(unit) = unit {
                let whip = upstream(unit) - upstream(disconnect);
                sheet.output(WHIP_RESISTANCE, not_below_zero(whip));
                let allowed = whip_conductor + sound_whip;
                let source = allowance(SOUND_WHIP_VOLTS);
                sheet.at_most("ohms from disconnect to unit", whip, allowed, source);
                judge(
                    Some(EXCESS_DISCONNECT_TO_UNIT),
                    "between disconnect and unit",
                    whip,
                    allowed,
                );
            }
        }
        (None, Some(unit)) => {
            let (run, place) = (upstream(unit) - supply, "between panel and unit");
            match expected {
                Some(expected) => judge(None, place, run, expected + sound_branch + sound_whip),
                None => branch_unknown = Some((run, place)),
            }
        }
        (None, None) => {}
    }

    let far = unit.or(disconnect);
    let mut drop = None;
    if let Some(far) = far {
        let running = panel.running.named("V_panel running");
        let under_load = running - far.running.named("V_far running");
        let at_rest = panel.rest.named("V_panel at rest") - far.rest.named("V_far at rest");
        let lost = sheet.work(Symbol::as_read("drop"), under_load - at_rest);
        let part = sheet.work("share", lost / running);
        sheet.output(BRANCH_DROP_PERCENT, Quantity::ratio(part.number().max(0.0)));
        drop = Some(part);
        sheet.note("3 % on a branch circuit is advice (NEC 210.19 informational note), not a requirement");
    }
    found.sort_by(|one, other| other.heat.number().total_cmp(&one.heat.number()));
    let joint_heat = found.first().map_or(Power::of(0.0), |excess| excess.heat.get());
    sheet.output(JOINT_HEAT, joint_heat);
    sheet.source(COMMON);
    if let Some(Excess {
        verdict,
        place,
        resistance,
        ..
    }) = found.first()
    {
        let heat = sheet.work("heat", current.squared() * *resistance);
        let finding =
            format!("{resistance} more than it should have {place}, which makes {heat} of heat at {current}");
        return match verdict {
            Some(verdict) => sheet.verdict(*verdict, finding),
            None => sheet.cannot_tell(format!(
                "{finding}; read at the disconnect too, to tell which side of it"
            )),
        };
    }
    if fuzz_ohms.number() > USEFUL_OHMS {
        return sheet.cannot_tell(format!(
            "with {current} running, a meter that shows steps of {step} cannot tell less than {fuzz_ohms}; read with more load on, or with a \
             meter that shows tenths"
        ));
    }
    let (Some(far), Some(drop)) = (far, drop) else {
        return sheet.cannot_tell(format!(
            "{} ahead of the panel, nothing unusual; read at the disconnect and at the unit to judge what comes after it",
            text(supply)
        ));
    };
    if let Some((ohms, place)) = branch_unknown {
        if drop.number() > ADVISED_DROP {
            return sheet.cannot_tell(format!(
                "{} {place}, {drop} of the voltage: the size and length of the conductor tell whether that is its own or a joint's",
                text(ohms)
            ));
        }
    } else if drop.number() > ADVISED_DROP + share(fuzz.get(), panel.running.get()) {
        let found = format!(
            "{drop} of the voltage is lost from panel to {}, and the conductor's own ohms explain it",
            far.name
        );
        return sheet.verdict(LONG_OR_THIN, found);
    }
    sheet.note(format!(
        "a joint that makes less than {} would not show in these readings; millivolts across each joint would show it",
        heat_of(fuzz_ohms.get())
    ));
    let found = format!(
        "no stretch up to the {} has more ohms than it should, as far as this meter can tell",
        far.name
    );
    sheet.verdict(AS_EXPECTED, found)
}

fn allowance(volts: f64) -> String {
    format!("conductor by Chapter 9 Table 8, and {volts} V for sound contacts ({COMMON})")
}

/// Ohms below zero come from rounding within the meter's step; there are none.
fn not_below_zero(resistance: ElectricalResistance) -> ElectricalResistance {
    resistance.max(ohms(0.0))
}

/// The smallest step of the meter: as given, or whole volts when every reading is whole, tenths otherwise.
fn resolution(sheet: &mut Sheet<'_>, points: &[Point]) -> Known<Voltage> {
    if let Some(step) = sheet.maybe(VOLTAGE_RESOLUTION) {
        return step;
    }
    let is_whole = |reading: Known<Voltage>| (reading.number() - reading.number().round()).abs() < 1e-6;
    let all_whole = points
        .iter()
        .all(|point| is_whole(point.rest) && is_whole(point.running));
    let (step, words) = if all_whole {
        (1.0, "whole volts, as all readings are")
    } else {
        (0.1, "tenths of a volt, as the readings are")
    };
    sheet.assume(format!("`voltage-resolution` not given: {words}"));
    Known::fixed(volts(step))
}

/// Reads a point; a missing reading at rest is that of the panel, where no current flows.
fn point(
    sheet: &mut Sheet<'_>,
    name: &'static str,
    rest: In<Voltage>,
    running: In<Voltage>,
    panel_rest: Option<Known<Voltage>>,
) -> Result<Option<Point>, InputError> {
    let Some(running) = sheet.maybe(running).map(Known::as_read) else {
        return Ok(None);
    };
    let rest = match (sheet.maybe(rest), panel_rest) {
        (Some(given), _) => given.as_read(),
        (None, Some(same)) => {
            sheet.assume(format!(
                "`{}` not given: the same as at the panel, as no current flows",
                rest.input.name
            ));
            same
        }
        (None, None) => return Err(sheet.missing(rest)),
    };
    Ok(Some(Point { name, rest, running }))
}
