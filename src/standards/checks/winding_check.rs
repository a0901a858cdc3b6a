//! The three readings of a single-phase compressor: common, start and run.

use super::prelude::*;

calculation! {
    "winding-check": "Compressor windings: the three readings against each other and against locked-rotor current";
    inputs {
        RUN_TO_COMMON = Resistance("run-to-common", "Run terminal to common.").between(0.0, 1e9).read();
        START_TO_COMMON = Resistance("start-to-common", "Start terminal to common.").between(0.0, 1e9).read();
        RUN_TO_START = Resistance("run-to-start", "Run terminal to start terminal.").between(0.0, 1e9).read();
        LOCKED_ROTOR = Current("locked-rotor-current", "Locked-rotor current on the nameplate.")
            .between(1.0, 2000.0).optional();
        RATED_VOLTAGE = Voltage("rated-voltage", "Voltage on the nameplate.").optional();
        OHM_RESOLUTION = Resistance("ohm-resolution", "Smallest step the ohmmeter shows.")
            .between(1e-4, 10.0).or("0.1 ohm");
    }
    outputs {
        SUM_OF_WINDINGS = Resistance("sum-of-windings", "Run and start windings in series.");
        LOCKED_ROTOR_IMPEDANCE = Resistance("locked-rotor-impedance", "Volts over locked-rotor current: more than the run winding's ohms.");
    }
    verdicts {
        CONSISTENT = plain("consistent", "The largest reading is the sum of the other two, and start is above run.");
        RUN_OPEN = plain("run-open", "The run winding is open.");
        START_OPEN = plain("start-open", "The start winding is open.");
        COMMON_OPEN = plain("common-open", "Both windings read open to common: the internal overload, or the common lead.");
        SHORTED = plain("shorted", "A winding has too few ohms for its locked-rotor current.");
        MISLABELLED = plain("mislabelled", "The readings fit, but not the terminals: common is another one.");
    }
}

/// At and above this many ohms a winding of a compressor or motor counts as open.
const OPEN: f64 = 1e4;

fn work(mut sheet: Sheet<'_>) -> Answer {
    let run = sheet.need(RUN_TO_COMMON)?.get();
    let start = sheet.need(START_TO_COMMON)?.get();
    let across = sheet.need(RUN_TO_START)?.get();
    let step = sheet.need(OHM_RESOLUTION)?.get();
    let open = |reading: ElectricalResistance| reading >= ohms(OPEN);
    sheet.source(
        "The proper way to ohm a single-phase compressor - \
         https://www.lennoxpros.com/news/the-proper-way-to-ohm-a-single-phase-compressor",
    );
    sheet.source(
        "Single-phase compressor winding resistance readings (rotary ones may have less in the start winding) - \
         https://industrialmonitordirect.com/blogs/knowledgebase/troubleshooting-single-phase-compressor-winding-resistance-readings",
    );
    sheet.source(format!(
        "windings in series between run and start; {COMMON} for the limits"
    ));
    sheet.note("a hot compressor whose internal overload has opened reads open to common: let it cool for an hour or more before condemning it");
    match (open(run), open(start), open(across)) {
        (true, true, false) => {
            return sheet.verdict(
                COMMON_OPEN,
                format!("{} from run to start, and neither to common", text(across)),
            );
        }
        (true, true, true) => {
            return sheet
                .cannot_tell("everything reads open: check the meter's leads and that they touch the pins");
        }
        (true, false, _) => {
            return sheet.verdict(
                RUN_OPEN,
                "the run winding reads open and the start winding does not",
            );
        }
        (false, true, _) => {
            return sheet.verdict(
                START_OPEN,
                "the start winding reads open and the run winding does not",
            );
        }
        (false, false, true) => {
            return sheet.cannot_tell(
                "both windings read to common and not to each other, which cannot be: measure again",
            );
        }
        (false, false, false) => {}
    }
    let sum = run + start;
    sheet.output(SUM_OF_WINDINGS, sum);
    sheet.line(
        &format!("R_run + R_start, against {} from run to start", text(across)),
        format!("{} + {}", keyed(run), keyed(start)),
        keyed(sum),
    );
    if let (Some(locked), Some(rated)) = (
        sheet.maybe(LOCKED_ROTOR).map(Known::get),
        sheet.maybe(RATED_VOLTAGE).map(Known::get),
    ) {
        let impedance = rated / locked;
        sheet.output(LOCKED_ROTOR_IMPEDANCE, impedance);
        sheet.line(
            "Z_locked = V / LRA",
            format!("{} / {}", keyed(rated), keyed(locked)),
            keyed(impedance),
        );
        sheet.at_most(
            "run winding",
            run,
            impedance,
            "Ohm's law: resistance is only part of the locked-rotor impedance",
        );
        if run > impedance + step {
            return sheet.cannot_tell(format!(
                "the run winding's {} would allow no more than {}, below the nameplate's {}: a bad joint in the leads, or the wrong plate",
                text(run),
                text(rated / run),
                text(locked)
            ));
        }
        // Resistance is about a quarter of the locked-rotor impedance; a tenth leaves room for every sound winding
        // (judgment, no source).
        if run + step < impedance * 0.1 {
            return sheet.verdict(
                SHORTED,
                format!(
                    "{} in the run winding, where {} or more is usual for {}",
                    text(run),
                    text(impedance * 0.1),
                    text(locked)
                ),
            );
        }
    }
    // Three readings, each off by one step.
    let tolerance = step * 3.0;
    let is_sum = |whole: ElectricalResistance, parts: ElectricalResistance| {
        (whole - parts).abs() <= tolerance + whole * 0.03
    };
    if run <= step || start <= step {
        return sheet.cannot_tell(format!(
            "a reading of {} or less cannot be told from a short with steps of {}",
            text(step),
            text(step)
        ));
    }
    if is_sum(across, sum) {
        if start + step >= run {
            return sheet.verdict(
                CONSISTENT,
                format!(
                    "{} and {} make {}, and {} was read",
                    text(run),
                    text(start),
                    text(sum),
                    text(across)
                ),
            );
        }
        return sheet.cannot_tell(
            "the readings add up, but run has more ohms than start: the two are swapped, or it is a rotary compressor \
             made so; the diagram at the terminals tells",
        );
    }
    if is_sum(run, start + across) || is_sum(start, run + across) {
        return sheet.verdict(
            MISLABELLED,
            "the largest reading is not between run and start: common is another terminal",
        );
    }
    sheet.cannot_tell(format!(
        "{} and {} make {}, and {} was read: measure again, zero the leads, and look for a bad pin",
        text(run),
        text(start),
        text(sum),
        text(across)
    ))
}
