//! Where on the way from the utility to the unit the voltage is lost, and what heat that makes.
//!
//! Every point is read twice, at rest and running. What is upstream of a point has the resistance
//! (V_rest - V_running) / I; the stretch between two points has the difference of theirs. The same drift of the
//! supply is in both points, so it falls out of the difference.

use super::super::lookup::resistance;
use super::super::table::CONDUCTORS;
use super::prelude::*;
use super::usable::metal;
use crate::electrical::joint::{heat, upstream_resistance};

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
const SOURCE: &str = "common practice, no source";

/// No hand-held reading of a live supply repeats better than this many volts: judgment, no source.
const REPEATABLE_VOLTS: f64 = 0.3;

calculation! {
    "stretch-resistance": "Ohms of each stretch from utility to unit, measured against expected";
    inputs {
        RUNNING_CURRENT = Current("running-current", "Current of the unit while the running readings were taken.")
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
        CONDUCTOR_METAL = Choice("conductor-metal", "Metal of that conductor.")
            .among(&["copper", "aluminum"]).or("copper");
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
    rest: ElectricPotential,
    running: ElectricPotential,
}

/// A stretch with more ohms than it should have.
struct Excess {
    verdict: Option<VerdictKind>,
    place: &'static str,
    resistance: ElectricalResistance,
    heat: Power,
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let current = sheet.need(RUNNING_CURRENT)?.get();
    let panel_rest = sheet.need(PANEL_VOLTAGE_AT_REST)?.get();
    let panel = Point {
        name: "panel",
        rest: panel_rest,
        running: sheet.need(PANEL_VOLTAGE_RUNNING)?.get(),
    };
    if panel.running <= ElectricPotential::default() {
        return Err(InputError::Contradiction {
            what: "`panel-voltage-running` is 0 V, and nothing runs on that; read it again with the unit running".to_owned(),
        });
    }
    let meter = point(
        &mut sheet,
        "meter",
        METER_VOLTAGE_AT_REST,
        METER_VOLTAGE_RUNNING,
        None,
    )?;
    let disconnect = point(
        &mut sheet,
        "disconnect",
        DISCONNECT_VOLTAGE_AT_REST,
        DISCONNECT_VOLTAGE_RUNNING,
        Some(panel_rest),
    )?;
    let unit = point(
        &mut sheet,
        "unit",
        UNIT_VOLTAGE_AT_REST,
        UNIT_VOLTAGE_RUNNING,
        Some(panel_rest),
    )?;
    let points: Vec<Point> = [meter, Some(panel), disconnect, unit]
        .into_iter()
        .flatten()
        .collect();
    for point in &points {
        // 120 V at one point and 240 V at the next were not read across the same two conductors.
        let off = share((point.rest - panel.rest).abs(), panel.rest);
        if panel.rest.get::<volt>() < 1.0 || off > 0.2 {
            return Err(InputError::Contradiction {
                what: format!(
                    "{} at rest is {} and the panel {}; read every point across the same two conductors",
                    point.name,
                    text(point.rest),
                    text(panel.rest)
                ),
            });
        }
    }
    if current.get::<uom::si::electric_current::ampere>() <= 0.0 {
        return sheet.cannot_tell(
            "no current was running, so no voltage can be lost; read again with the unit running",
        );
    }
    sheet.assume("readings across the two conductors that feed the unit (leg to leg, or hot to neutral), supply steady meanwhile");
    sheet.assume("single-phase: the drop is that of both conductors; reactance neglected, which up to 1 AWG adds little");
    // Each reading is off by up to half a step; a stretch is the sum of four of them, root-sum-square.
    let step = resolution(&mut sheet, &points);
    let fuzz = step.max(ElectricPotential::new::<volt>(REPEATABLE_VOLTS));
    let fuzz_ohms = fuzz / current;

    for point in &points {
        if point.running - point.rest > fuzz {
            return sheet.cannot_tell(format!(
                "the voltage at the {} rose from {} to {} when the load came on, so the supply moved between the readings; \
                 read rest and running again, one right after the other",
                point.name,
                text(point.rest),
                text(point.running)
            ));
        }
    }
    let upstream = |point: &Point| upstream_resistance(point.rest, point.running, current);
    for point in &points {
        sheet.line(
            &format!("R_{} = (V_rest - V_running) / I", point.name),
            format!(
                "({} - {}) / {}",
                as_read(point.rest),
                as_read(point.running),
                keyed(current)
            ),
            keyed(upstream(point)),
        );
    }
    for pair in points.windows(2) {
        let between = upstream(&pair[1]) - upstream(&pair[0]);
        if between < -fuzz_ohms * 1.001 {
            return sheet.cannot_tell(format!(
                "the {} loses less voltage than the {} ahead of it, which cannot be; read both again on the same two \
                 conductors with one meter",
                pair[1].name, pair[0].name
            ));
        }
    }
    sheet.line(
        "smallest ohms this meter can tell = V_uncertain / I",
        format!("{} / {}", keyed(fuzz), keyed(current)),
        keyed(fuzz_ohms),
    );

    let mut found = Vec::new();
    let mut judge = |verdict, place, measured: ElectricalResistance, allowed: ElectricalResistance| {
        let excess = measured - allowed;
        let heat = heat(excess, current);
        if excess > fuzz_ohms && heat.get::<watt>() >= NOTABLE_WATTS {
            found.push(Excess {
                verdict,
                place,
                resistance: excess,
                heat,
            });
        }
    };
    let supply = upstream(&panel);
    sheet.output(SUPPLY_RESISTANCE, not_below_zero(supply));
    let most_supply = ElectricalResistance::new::<ohm>(MOST_SUPPLY_OHMS);
    judge(
        Some(EXCESS_BEFORE_PANEL),
        "ahead of the panel",
        supply,
        most_supply,
    );
    sheet.at_most("ohms ahead of the breaker", supply, most_supply, SOURCE);
    if let Some(meter) = &meter {
        let service = supply - upstream(meter);
        judge(
            Some(EXCESS_BEFORE_PANEL),
            "between meter and panel",
            service,
            ElectricPotential::new::<volt>(SOUND_SERVICE_VOLTS) / current,
        );
    }

    let metal = metal(sheet.choice(CONDUCTOR_METAL)).ok_or_else(|| sheet.missing(CONDUCTOR_METAL))?;
    let warm = sheet.need(CONDUCTOR_TEMPERATURE)?.get();
    let length = sheet.maybe(LENGTH).map(Known::get);
    let expected = match (sheet.size(CONDUCTOR_SIZE), length) {
        (Some(size), Some(length)) => {
            let both =
                resistance(size, metal, false, warm, length * 2.0).ok_or_else(|| InputError::OutOfRange {
                    input: "conductor-size".to_owned(),
                    value: size.to_string(),
                    expected: format!("a size of {}", CONDUCTORS.dc_resistance_75c.name()),
                })?;
            let table = sheet.table(&CONDUCTORS.dc_resistance_75c);
            let per_thousand = both * (500.0 / length.get::<foot>());
            sheet.line(
                "R_expected = 2 x L x R per 1000 ft / 1000 ft",
                format!(
                    "2 x {} x {} ({size} {metal} at {}, {table}) / 1000 ft",
                    keyed(length),
                    keyed(per_thousand),
                    text(warm)
                ),
                keyed(both),
            );
            sheet.output(EXPECTED_BRANCH_RESISTANCE, both);
            Some(both)
        }
        _ => {
            sheet.assume("`conductor-size` or `conductor-length` not given: the ohms of the branch conductor are not known");
            None
        }
    };
    let sound_branch = ElectricPotential::new::<volt>(SOUND_BRANCH_VOLTS) / current;
    let sound_whip = ElectricPotential::new::<volt>(SOUND_WHIP_VOLTS) / current;
    let whip_conductor = sheet
        .size(CONDUCTOR_SIZE)
        .and_then(|size| resistance(size, metal, false, warm, Length::new::<foot>(WHIP_FEET * 2.0)))
        .unwrap_or_else(|| ElectricalResistance::new::<ohm>(0.0));
    let mut branch_unknown = None;
    match (&disconnect, &unit) {
        (Some(disconnect), unit) => {
            let branch = upstream(disconnect) - supply;
            sheet.output(BRANCH_RESISTANCE, not_below_zero(branch));
            match expected {
                Some(expected) => {
                    let allowed = expected + sound_branch;
                    sheet.at_most(
                        "ohms from panel to disconnect",
                        branch,
                        allowed,
                        allowance(SOUND_BRANCH_VOLTS),
                    );
                    judge(
                        Some(EXCESS_PANEL_TO_DISCONNECT),
                        "between panel and disconnect",
                        branch,
                        allowed,
                    );
                }
                None => branch_unknown = Some((branch, "between panel and disconnect")),
            }
            if let Some(unit) = unit {
                let whip = upstream(unit) - upstream(disconnect);
                sheet.output(WHIP_RESISTANCE, not_below_zero(whip));
                let allowed = whip_conductor + sound_whip;
                sheet.at_most(
                    "ohms from disconnect to unit",
                    whip,
                    allowed,
                    allowance(SOUND_WHIP_VOLTS),
                );
                judge(
                    Some(EXCESS_DISCONNECT_TO_UNIT),
                    "between disconnect and unit",
                    whip,
                    allowed,
                );
            }
        }
        (None, Some(unit)) => {
            let run = upstream(unit) - supply;
            match expected {
                Some(expected) => {
                    let allowed = expected + sound_branch + sound_whip;
                    judge(None, "between panel and unit", run, allowed);
                }
                None => branch_unknown = Some((run, "between panel and unit")),
            }
        }
        (None, None) => {}
    }

    let far = unit.or(disconnect);
    let drop = far.map(|far| {
        let lost = (panel.running - far.running) - (panel.rest - far.rest);
        let part = share(lost, panel.running);
        sheet.output(BRANCH_DROP_PERCENT, Quantity::ratio(part.max(0.0)));
        sheet.line(
            "drop = (V_panel running - V_far running) - (V_panel at rest - V_far at rest)",
            format!(
                "({} - {}) - ({} - {})",
                as_read(panel.running),
                as_read(far.running),
                as_read(panel.rest),
                as_read(far.rest)
            ),
            as_read(lost),
        );
        sheet.line(
            "share = drop / V_panel running",
            format!("{} / {}", as_read(lost), as_read(panel.running)),
            keyed(Quantity::ratio(part)),
        );
        part
    });
    if drop.is_some() {
        sheet.note("3 % on a branch circuit is advice (NEC 210.19 informational note), not a requirement");
    }
    found.sort_by(|one, other| other.heat.get::<watt>().total_cmp(&one.heat.get::<watt>()));
    let joint_heat = found
        .first()
        .map_or(Power::new::<watt>(0.0), |excess| excess.heat);
    sheet.output(JOINT_HEAT, joint_heat);
    sheet.source(SOURCE);
    if let Some(worst) = found.first() {
        sheet.line(
            "heat = I^2 x R_excess",
            format!("({})^2 x {}", keyed(current), keyed(worst.resistance)),
            keyed(worst.heat),
        );
        let finding = format!(
            "{} more than it should have {}, which makes {} of heat at {}",
            text(worst.resistance),
            worst.place,
            text(worst.heat),
            text(current)
        );
        return match worst.verdict {
            Some(verdict) => sheet.verdict(verdict, finding),
            None => sheet.cannot_tell(format!(
                "{finding}; read at the disconnect too, to tell which side of it"
            )),
        };
    }
    if fuzz_ohms.get::<ohm>() > USEFUL_OHMS {
        return sheet.cannot_tell(format!(
            "with {} running, a meter that shows steps of {} cannot tell less than {}; read with more load on, or with a \
             meter that shows tenths",
            text(current),
            text(step),
            text(fuzz_ohms)
        ));
    }
    let (Some(far), Some(drop)) = (far, drop) else {
        return sheet.cannot_tell(format!(
            "{} ahead of the panel, nothing unusual; read at the disconnect and at the unit to judge what comes after it",
            text(supply)
        ));
    };
    let fuzz_share = share(fuzz, panel.running);
    if let Some((ohms, place)) = branch_unknown {
        if drop > ADVISED_DROP {
            return sheet.cannot_tell(format!(
                "{} {place}, {} of the voltage: the size and length of the conductor tell whether that is its own or a joint's",
                text(ohms),
                Quantity::ratio(drop)
            ));
        }
    } else if drop > ADVISED_DROP + fuzz_share {
        return sheet.verdict(
            LONG_OR_THIN,
            format!(
                "{} of the voltage is lost from panel to {}, and the conductor's own ohms explain it",
                Quantity::ratio(drop),
                far.name
            ),
        );
    }
    sheet.note(format!(
        "a joint that makes less than {} would not show in these readings; millivolts across each joint would show it",
        text(heat(fuzz_ohms, current))
    ));
    sheet.verdict(
        AS_EXPECTED,
        format!(
            "no stretch up to the {} has more ohms than it should, as far as this meter can tell",
            far.name
        ),
    )
}

fn allowance(volts: f64) -> String {
    format!("conductor by Chapter 9 Table 8, and {volts} V for sound contacts ({SOURCE})")
}

/// Ohms below zero come from rounding within the meter's step; there are none.
fn not_below_zero(resistance: ElectricalResistance) -> ElectricalResistance {
    resistance.max(ElectricalResistance::new::<ohm>(0.0))
}

/// The smallest step of the meter: as given, or whole volts when every reading is whole, tenths otherwise.
fn resolution(sheet: &mut Sheet<'_>, points: &[Point]) -> ElectricPotential {
    if let Some(step) = sheet.maybe(VOLTAGE_RESOLUTION).map(Known::get) {
        return step;
    }
    let is_whole = |reading: ElectricPotential| {
        let volts = reading.get::<volt>();
        (volts - volts.round()).abs() < 1e-6
    };
    let (step, words) = if points
        .iter()
        .all(|point| is_whole(point.rest) && is_whole(point.running))
    {
        (1.0, "whole volts, as all readings are")
    } else {
        (0.1, "tenths of a volt, as the readings are")
    };
    sheet.assume(format!("`voltage-resolution` not given: {words}"));
    ElectricPotential::new::<volt>(step)
}

/// Reads a point; a missing reading at rest is that of the panel, where no current flows.
fn point(
    sheet: &mut Sheet<'_>,
    name: &'static str,
    rest: In<Voltage>,
    running: In<Voltage>,
    panel_rest: Option<ElectricPotential>,
) -> Result<Option<Point>, InputError> {
    let Some(loaded) = sheet.maybe(running).map(Known::get) else {
        return Ok(None);
    };
    if let Some(rest) = sheet.maybe(rest).map(Known::get) {
        return Ok(Some(Point {
            name,
            rest,
            running: loaded,
        }));
    }
    match panel_rest {
        Some(same) => {
            sheet.assume(format!(
                "`{}` not given: the same as at the panel, as no current flows",
                rest.input.name
            ));
            Ok(Some(Point {
                name,
                rest: same,
                running: loaded,
            }))
        }
        None => Err(sheet.missing(rest)),
    }
}
