//! Whether the conductor carries what the nameplate asks, where it is hot and at the terminals it ends at.

use super::super::lookup::small_conductor_limit;
use super::super::table::{CONDUCTORS, CORRECTIONS};
use super::prelude::*;
use super::usable::{Setting, largest_general_device, no_such_size, setting_of, smallest, usable};

calculation! {
    "conductor-check": "Conductor against the minimum circuit ampacity, with heat, bundling and terminals";
    rules "unit-conductors", "terminal-temperature", "rooftop-adder", "small-conductor", "next-size-up";
    inputs {
        MCA = Current("minimum-circuit-ampacity", "Current the conductor must carry by the nameplate (MCA).")
            .between(0.1, 2000.0);
        CONDUCTOR_SIZE = Size("conductor-size", "Smallest conductor between panel and unit.");
        CONDUCTOR_METAL = OneOf<Metal>("conductor-metal", "Metal of the conductor.");
        INSULATION;
        TERMINAL;
        AMBIENT;
        TOGETHER;
        ABOVE_ROOF;
        DEVICE = Current("protective-device-rating", "Fuses in the disconnect, or the breaker where there are none.")
            .between(1.0, 1200.0).optional();
        UPSTREAM;
        EDITION;
    }
    outputs {
        USABLE_AMPACITY = Current("usable-ampacity", "What the conductor may carry there.");
        LARGEST_UPSTREAM = Current("largest-upstream", "Largest breaker the wire up to the fuses may stand behind, where there are fuses.");
        LEAST_SIZE = Size("least-size", "Smallest size of that metal that carries it.");
        PREFERRED_SIZE = Size("preferred-size", "One size thicker: good practice, not a code requirement.");
    }
    verdicts {
        ENOUGH = plain("enough", "The conductor carries the minimum circuit ampacity.");
        TOO_SMALL = violation("too-small", "The conductor is too small for the minimum circuit ampacity anywhere.");
        TOO_SMALL_WHEN_HOT = violation("too-small-when-hot", "The conductor is large enough at 30 C on its own, and too small where it is hot or bundled.");
        UNPROTECTED = violation("unprotected", "The breaker ahead of the fuses is too large for the wire between.");
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let needed = sheet.need(MCA)?.get();
    let size = sheet.need_size(CONDUCTOR_SIZE)?;
    let setting = setting_of(&mut sheet, needed, size)?;
    let Setting {
        metal,
        insulation,
        terminal,
        ambient,
        together,
    } = setting;
    let Some(found) = usable(size, &setting) else {
        return Err(no_such_size(
            size,
            format!(
                "a size that {} gives for {metal}: {}",
                CONDUCTORS.ampacity_30c.name(),
                sizes_of(metal)
            ),
        ));
    };
    let table = sheet.table(&CONDUCTORS.ampacity_30c);
    let factors = sheet.table(&CORRECTIONS.ambient);
    let bundles = sheet.table(&CORRECTIONS.bundling);
    sheet.line(
        "I_insulation",
        format!("{table}, {size} {metal}, {insulation} column"),
        keyed(found.by_insulation),
    );
    let factor = if found.ambient > 0.0 {
        format!("{:.2}", found.ambient)
    } else {
        "no value: not allowed".to_owned()
    };
    sheet.line(
        "F_ambient",
        format!("{factors}, {}, {insulation} column", keyed(ambient)),
        factor,
    );
    sheet.line(
        "F_bundling",
        format!("{bundles}, {together} conductors"),
        format!("{:.2}", found.bundling),
    );
    sheet.line(
        "I_corrected = I_insulation x F_ambient x F_bundling",
        format!(
            "{} x {:.2} x {:.2}",
            keyed(found.by_insulation),
            found.ambient,
            found.bundling
        ),
        keyed(found.corrected),
    );
    let column = terminal.min(insulation);
    sheet.line(
        "I_terminal",
        format!("{table}, {size} {metal}, {column} column"),
        keyed(found.by_terminal),
    );
    sheet.line(
        "usable = lower of I_corrected and I_terminal",
        format!(
            "lower of {} and {}",
            keyed(found.corrected),
            keyed(found.by_terminal)
        ),
        keyed(found.usable),
    );
    sheet.rule("terminal-temperature");
    let rule = sheet.rule("unit-conductors");
    sheet.at_least("usable ampacity", found.usable, needed, rule);
    sheet.output(USABLE_AMPACITY, found.usable);
    if let Some(least) = smallest(needed, &setting) {
        sheet.output_value(LEAST_SIZE, least);
        if let Some(preferred) = least.next_thicker() {
            sheet.output_value(PREFERRED_SIZE, preferred);
            sheet.note(format!(
                "{least} is the smallest that serves; {preferred}, one size thicker, runs cooler and drops less: good \
                 practice, not a code requirement"
            ));
        }
    } else {
        sheet.note("no single conductor up to 500 kcmil serves under these conditions");
    }
    let compared = format!("{size} {metal} may carry {} here", text(found.usable));
    // What was not given was taken at its worst; a limit is called broken only when the best would break it too.
    let best = Setting {
        insulation: if sheet.is_given(INSULATION) {
            insulation
        } else {
            Column::C90
        },
        terminal: if sheet.is_given(TERMINAL) {
            terminal
        } else {
            Column::C75
        },
        ..setting
    };
    if !exceeds(needed, found.usable) {
        let best = usable(size, &best).map_or(found.usable, |best| best.usable);
        return match between(&mut sheet, size, metal, found.usable, best) {
            Some(Ok(broken)) => sheet.verdict(UNPROTECTED, broken),
            Some(Err(doubt)) => sheet.cannot_tell(doubt),
            None => sheet.verdict(ENOUGH, format!("{compared}, and {} is needed", text(needed))),
        };
    }
    if let Some(best) = usable(size, &best).filter(|best| !exceeds(needed, best.usable)) {
        return sheet.cannot_tell(format!(
            "{compared} with the markings assumed, and {} with better ones; {} is needed, so read the insulation's and \
             the terminals' marking",
            text(best.usable),
            text(needed)
        ));
    }
    if exceeds(needed, found.by_terminal) {
        return sheet.verdict(
            TOO_SMALL,
            format!("{compared}, less than the {} needed", text(needed)),
        );
    }
    sheet.verdict(
        TOO_SMALL_WHEN_HOT,
        format!(
            "{compared}: {} at 30 C on its own would serve, but {} and {together} conductors together leave less than the \
             {} needed",
            text(found.by_terminal),
            text(ambient),
            text(needed)
        ),
    )
}

/// Judges the wire from the panel to the fuses of a disconnect by the breaker ahead of it.
///
/// *Arguments* `carries` what it may carry with the markings as given or assumed, `best` with the best markings.
/// *Returns* nothing where it is protected or there is nothing to judge; what is broken; or what would tell.
fn between(
    sheet: &mut Sheet<'_>,
    size: ConductorSize,
    metal: Metal,
    carries: ElectricCurrent,
    best: ElectricCurrent,
) -> Option<Result<String, String>> {
    let upstream: ElectricCurrent = sheet.maybe(UPSTREAM).map(Known::get)?;
    let device: ElectricCurrent = sheet.maybe(DEVICE).map(Known::get)?;
    if !exceeds(upstream, device) {
        return None;
    }
    let largest = largest_general_device(size, metal, carries)?;
    let small = small_conductor_limit(size, metal).is_some();
    let rule = sheet.rule(if small { "small-conductor" } else { "next-size-up" });
    sheet.output(LARGEST_UPSTREAM, largest);
    sheet.line(
        "largest breaker ahead of the fuses",
        format!("{size} {metal}, {} usable, {rule}", keyed(carries)),
        keyed(largest),
    );
    sheet.at_most("breaker ahead of the fuses", upstream, largest, rule);
    let said = format!(
        "the wire from the panel to the {} fuses stands behind {}, and {size} {metal} may stand behind {} at most",
        text(device),
        text(upstream),
        text(largest)
    );
    if !exceeds(upstream, largest) {
        return None;
    }
    let at_best = largest_general_device(size, metal, best).unwrap_or(largest);
    Some(if exceeds(upstream, at_best) {
        Ok(said)
    } else {
        Err(format!(
            "{said} with the markings assumed, {} with better ones: read them",
            text(at_best)
        ))
    })
}

fn sizes_of(metal: Metal) -> &'static str {
    match metal {
        Metal::Copper => "14 AWG to 500 kcmil",
        Metal::Aluminium => "12 AWG to 500 kcmil",
    }
}
