//! The three readings of a single-phase compressor: common, start and run.

use super::prelude::*;

calculation! {
    "winding-check": "Compressor windings: the three readings against each other and against locked-rotor current";
    inputs {
        RUN_TO_COMMON = Resistance("run-to-common", "Run terminal to common.").between(0.0, 1e9).read();
        START_TO_COMMON = Resistance("start-to-common", "Start terminal to common.").between(0.0, 1e9).read();
        RUN_TO_START = Resistance("run-to-start", "Run terminal to start terminal.").between(0.0, 1e9).read();
        LOCKED_ROTOR "LRA" = Current("locked-rotor-current", "Locked-rotor current on the nameplate.")
            .between(1.0, 2000.0).optional();
        RATED_VOLTAGE "V" = Voltage("rated-voltage", "Voltage on the nameplate.").optional();
        OHM_RESOLUTION = Resistance("ohm-resolution", "Smallest step the ohmmeter shows.")
            .between(1e-4, 10.0).or("0.1 ohm");
    }
    outputs {
        SUM_OF_WINDINGS = Resistance("sum-of-windings", "Run and start windings in series.");
        LOCKED_ROTOR_IMPEDANCE "Z_locked" = Resistance("locked-rotor-impedance", "Volts over locked-rotor current: more than the run winding's ohms.");
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
    let (run, start) = (sheet.need(RUN_TO_COMMON)?, sheet.need(START_TO_COMMON)?);
    let (across, step) = (sheet.need(RUN_TO_START)?, sheet.need(OHM_RESOLUTION)?);
    let open = |reading: Known<Resistance>| reading.number() >= OPEN;
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
            let found = format!("{across} from run to start, and neither to common");
            return sheet.verdict(COMMON_OPEN, found);
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
    let sum = Known::fixed((run + start).value());
    sheet.output(SUM_OF_WINDINGS, sum);
    let formula = format!("R_run + R_start, against {across} from run to start");
    sheet.line(&formula, format!("{} + {}", keyed(run), keyed(start)), keyed(sum));
    if let (Some(locked), Some(rated)) = (sheet.maybe(LOCKED_ROTOR), sheet.maybe(RATED_VOLTAGE)) {
        let impedance = sheet.give(LOCKED_ROTOR_IMPEDANCE, rated / locked);
        let source = "Ohm's law: resistance is only part of the locked-rotor impedance";
        sheet.at_most("run winding", run, impedance, source);
        if run.get() > (impedance + step).value() {
            return sheet.cannot_tell(format!(
                "the run winding's {run} would allow no more than {}, below the nameplate's {locked}: a bad joint in the leads, or the wrong plate",
                Quantity::from(rated / run)
            ));
        }
        // Resistance is about a quarter of the locked-rotor impedance; a tenth leaves room for every sound winding
        // (judgment, no source).
        let least = impedance * 0.1;
        if (run + step).value() < least.value() {
            let least = Quantity::from(least);
            let found = format!("{run} in the run winding, where {least} or more is usual for {locked}");
            return sheet.verdict(SHORTED, found);
        }
    }
    // Three readings, each off by one step.
    let tolerance = step.get() * 3.0;
    let is_sum = |whole: ElectricalResistance, parts: ElectricalResistance| {
        (whole - parts).abs() <= tolerance + whole * 0.03
    };
    if run.get() <= step.get() || start.get() <= step.get() {
        return sheet.cannot_tell(format!(
            "a reading of {step} or less cannot be told from a short with steps of {step}"
        ));
    }
    let compared = format!("{run} and {start} make {sum}, and {across} was read");
    if is_sum(across.get(), sum.get()) {
        if (start + step).value() >= run.get() {
            return sheet.verdict(CONSISTENT, compared);
        }
        return sheet.cannot_tell(
            "the readings add up, but run has more ohms than start: the two are swapped, or it is a rotary compressor \
             made so; the diagram at the terminals tells",
        );
    }
    if is_sum(run.get(), (start + across).value()) || is_sum(start.get(), (run + across).value()) {
        let found = "the largest reading is not between run and start: common is another terminal";
        return sheet.verdict(MISLABELLED, found);
    }
    sheet.cannot_tell(format!(
        "{compared}: measure again, zero the leads, and look for a bad pin"
    ))
}
