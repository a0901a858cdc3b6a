//! Whether the conductor carries what the nameplate asks, where it is hot and at the terminals it ends at.

use uom::si::f64::ElectricCurrent;

use super::super::lookup::small_conductor_limit;
use super::super::registry::{Calculation, Input, InputError, Inputs, Output, Report, VerdictKind};
use super::super::sheet::{EDITION_INPUT, Sheet, exceeds, keyed, text};
use super::super::table::{CONDUCTORS, CORRECTIONS, Column, Metal};
use super::usable::{
    Setting, ambient, column, largest_general_device, metal, smallest, unmarked_terminal, usable,
};
use crate::quantity::{ConductorSize, Kind, ValueKind};

pub(super) const CALCULATION: Calculation = Calculation {
    name: "conductor-check",
    title: "Conductor against the minimum circuit ampacity, with heat, bundling and terminals",
    inputs: &[
        Input::quantity(
            "minimum-circuit-ampacity",
            Kind::Current,
            "Current the conductor must carry by the nameplate (MCA).",
        )
        .between(0.1, 2000.0),
        Input::size("conductor-size", "Smallest conductor between panel and unit."),
        Input::choice(
            "conductor-metal",
            &["copper", "aluminum"],
            "Metal of the conductor.",
        ),
        Input::choice(
            "conductor-insulation",
            &["60", "75", "90"],
            "Temperature rating of the insulation in C; 60 for NM-B cable, UF and TW.",
        )
        .or("60"),
        Input::choice(
            "terminal-rating",
            &["60", "75"],
            "Lowest temperature marking of the terminals in the run, in C.",
        )
        .optional(),
        Input::quantity(
            "ambient-temperature",
            Kind::Temperature,
            "Air at the hottest place of the run.",
        )
        .between(-40.0, 85.0)
        .or("30 C"),
        Input::quantity(
            "conductors-together",
            Kind::Count,
            "Current-carrying conductors in one conduit or bundle.",
        )
        .between(1.0, 999.0)
        .or("3"),
        super::prelude::ABOVE_ROOF,
        Input::quantity(
            "protective-device-rating",
            Kind::Current,
            "Fuses in the disconnect, or the breaker where there are none.",
        )
        .between(1.0, 1200.0)
        .optional(),
        super::prelude::UPSTREAM,
        EDITION_INPUT,
    ],
    outputs: &[
        Output::quantity(
            "usable-ampacity",
            Kind::Current,
            "What the conductor may carry there.",
        ),
        Output::quantity(
            "largest-upstream",
            Kind::Current,
            "Largest breaker the wire up to the fuses may stand behind, where there are fuses.",
        ),
        Output::new(
            "least-size",
            ValueKind::Size,
            "Smallest size of that metal that carries it.",
        ),
        Output::new(
            "preferred-size",
            ValueKind::Size,
            "One size thicker: good practice, not a code requirement.",
        ),
    ],
    verdicts: &[
        VerdictKind::plain("enough", "The conductor carries the minimum circuit ampacity."),
        VerdictKind::violation(
            "too-small",
            "The conductor is too small for the minimum circuit ampacity anywhere.",
        ),
        VerdictKind::violation(
            "too-small-when-hot",
            "The conductor is large enough at 30 C on its own, and too small where it is hot or bundled.",
        ),
        VerdictKind::violation(
            "unprotected",
            "The breaker ahead of the fuses is too large for the wire between.",
        ),
    ],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(
        &CALCULATION,
        inputs,
        &[
            "unit-conductors",
            "terminal-temperature",
            "rooftop-adder",
            "small-conductor",
            "next-size-up",
        ],
    )?;
    let needed: ElectricCurrent = sheet.need("minimum-circuit-ampacity")?;
    let size = sheet
        .size("conductor-size")
        .ok_or_else(|| sheet.missing("conductor-size"))?;
    let metal = metal(sheet.choice("conductor-metal")).ok_or_else(|| sheet.missing("conductor-metal"))?;
    let insulation =
        column(sheet.choice("conductor-insulation")).ok_or_else(|| sheet.missing("conductor-insulation"))?;
    let terminal = column(sheet.choice("terminal-rating")).unwrap_or_else(|| {
        let column = unmarked_terminal(needed, size);
        sheet.assume(format!(
            "`terminal-rating` not given: {column}, as for terminals without a marking"
        ));
        column
    });
    let ambient = ambient(&mut sheet)?;
    let together: f64 = sheet.need("conductors-together")?;
    let setting = Setting {
        metal,
        insulation,
        terminal,
        ambient,
        together: together as u32,
    };
    let Some(found) = usable(size, &setting) else {
        return Err(InputError::OutOfRange {
            input: "conductor-size".to_owned(),
            value: size.to_string(),
            expected: format!(
                "a size that {} gives for {metal}: {}",
                CONDUCTORS.ampacity_30c.name(),
                sizes_of(metal)
            ),
        });
    };
    let table = sheet.table(&CONDUCTORS.ampacity_30c);
    let factors = sheet.table(&CORRECTIONS.ambient);
    let bundles = sheet.table(&CORRECTIONS.bundling);
    sheet.work(
        "I_insulation",
        format!("{table}, {size} {metal}, {insulation} column"),
        keyed(found.by_insulation),
    );
    let factor = if found.ambient > 0.0 {
        format!("{:.2}", found.ambient)
    } else {
        "no value: not allowed".to_owned()
    };
    sheet.work(
        "F_ambient",
        format!("{factors}, {}, {insulation} column", keyed(ambient)),
        factor,
    );
    sheet.work(
        "F_bundling",
        format!("{bundles}, {together} conductors"),
        format!("{:.2}", found.bundling),
    );
    sheet.work(
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
    sheet.work(
        "I_terminal",
        format!("{table}, {size} {metal}, {column} column"),
        keyed(found.by_terminal),
    );
    sheet.work(
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
    sheet.output("usable-ampacity", found.usable);
    if let Some(least) = smallest(needed, &setting) {
        sheet.output_value("least-size", least);
        if let Some(preferred) = least.next_thicker() {
            sheet.output_value("preferred-size", preferred);
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
        insulation: if sheet.is_given("conductor-insulation") {
            insulation
        } else {
            Column::C90
        },
        terminal: if sheet.is_given("terminal-rating") {
            terminal
        } else {
            Column::C75
        },
        ..setting
    };
    if !exceeds(needed, found.usable) {
        let best = usable(size, &best).map_or(found.usable, |best| best.usable);
        return match between(&mut sheet, size, metal, found.usable, best) {
            Some(Ok(broken)) => sheet.verdict("unprotected", broken),
            Some(Err(doubt)) => sheet.cannot_tell(doubt),
            None => sheet.verdict("enough", format!("{compared}, and {} is needed", text(needed))),
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
            "too-small",
            format!("{compared}, less than the {} needed", text(needed)),
        );
    }
    sheet.verdict(
        "too-small-when-hot",
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
    let upstream: ElectricCurrent = sheet.maybe("upstream-device-rating")?;
    let device: ElectricCurrent = sheet.maybe("protective-device-rating")?;
    if !exceeds(upstream, device) {
        return None;
    }
    let largest = largest_general_device(size, metal, carries)?;
    let small = small_conductor_limit(size, metal).is_some();
    let rule = sheet.rule(if small { "small-conductor" } else { "next-size-up" });
    sheet.output("largest-upstream", largest);
    sheet.work(
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
