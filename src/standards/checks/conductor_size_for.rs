//! The smallest conductor for a circuit, and the largest device its nameplate allows.

use super::prelude::*;
use super::usable::{Setting, ambient, column, largest_general_device, metal, unmarked_terminal, usable};
use crate::quantity::ConductorSize;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "conductor-size-for",
    title: "Smallest conductor for a nameplate, and its largest device",
    inputs: &[
        current("minimum-circuit-ampacity", "Current the conductor must carry.").between(0.1, 2000.0),
        current(
            "maximum-overcurrent-protection",
            "Largest device on the nameplate.",
        )
        .optional(),
        METAL,
        INSULATION,
        TERMINAL,
        AMBIENT,
        TOGETHER,
        ABOVE_ROOF,
        UPSTREAM,
        EDITION_INPUT,
    ],
    outputs: &[
        Output::new("least-size", ValueKind::Size, "Smallest size that carries it."),
        Output::quantity("ampacity", Kind::Current, "What that size may carry there."),
        Output::new(
            "preferred-size",
            ValueKind::Size,
            "One size thicker: good practice, not a code requirement.",
        ),
        Output::quantity(
            "largest-device",
            Kind::Current,
            "Largest standard device the nameplate allows.",
        ),
    ],
    verdicts: &[WORKED_OUT],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let mut sheet = Sheet::begin(
        &CALCULATION,
        inputs,
        &[
            "rooftop-adder",
            "unit-conductors",
            "terminal-temperature",
            "specific-applications",
            "small-conductor",
            "next-size-up",
        ],
    )?;
    let needed: ElectricCurrent = sheet.need("minimum-circuit-ampacity")?;
    let most: Option<ElectricCurrent> = sheet.maybe("maximum-overcurrent-protection");
    if let Some(most) = most.filter(|most| exceeds(needed, *most)) {
        return Err(InputError::Contradiction {
            what: format!(
                "`minimum-circuit-ampacity` {} is above `maximum-overcurrent-protection` {}; read both lines again",
                text(needed),
                text(most)
            ),
        });
    }
    let metal = metal(sheet.choice("conductor-metal")).ok_or_else(|| sheet.missing("conductor-metal"))?;
    let insulation =
        column(sheet.choice("conductor-insulation")).ok_or_else(|| sheet.missing("conductor-insulation"))?;
    let terminal = column(sheet.choice("terminal-rating")).unwrap_or_else(|| {
        let column = unmarked_terminal(needed, ConductorSize::Awg(14));
        sheet.assume(format!(
            "`terminal-rating` not given: {column}, as for terminals without a marking"
        ));
        column
    });
    let together: f64 = sheet.need("conductors-together")?;
    let setting = Setting {
        metal,
        insulation,
        terminal,
        ambient: ambient(&mut sheet)?,
        together: together as u32,
    };
    let name = sheet.table(&table::CONDUCTORS.ampacity_30c);
    let ratings = sheet.table(&table::OVERCURRENT.standard_ratings);
    if let Some(most) = most {
        let device = lookup::rating_at_or_below(most).unwrap_or(most);
        sheet.work(
            "largest device",
            format!("{} in {ratings}", keyed(most)),
            keyed(device),
        );
        sheet.output("largest-device", device);
        sheet.rule("specific-applications");
        sheet.note("a motor or cooling circuit may have a device above the conductor's ampacity, up to the nameplate's maximum");
    }
    // A breaker above the nameplate's maximum can only stand ahead of fuses, so the wire up to them must suit it.
    let upstream: Option<ElectricCurrent> = sheet
        .maybe("upstream-device-rating")
        .filter(|upstream| most.is_some_and(|most| exceeds(*upstream, most)));
    let suits = |size: ConductorSize, carries: ElectricCurrent| {
        upstream.is_none_or(|upstream| {
            largest_general_device(size, metal, carries).is_none_or(|largest| !exceeds(upstream, largest))
        })
    };
    let found = ConductorSize::ALL.into_iter().find_map(|size| {
        let found = usable(size, &setting)?;
        (!exceeds(needed, found.usable) && suits(size, found.usable)).then_some((size, found))
    });
    if let Some(upstream) = upstream {
        let rules = format!(
            "{}, {}",
            sheet.rule("small-conductor"),
            sheet.rule("next-size-up")
        );
        sheet.note(format!(
            "a breaker of {} stands ahead of the fuses: the wire up to them is sized for it ({rules}); behind a smaller breaker it may be thinner",
            text(upstream)
        ));
    }
    let Some((size, found)) = found else {
        return sheet.cannot_tell(format!(
            "no single {metal} conductor up to 500 kcmil carries {} there",
            text(needed)
        ));
    };
    sheet.work(
        "smallest size whose usable ampacity is enough",
        format!(
            "{} in {name}, {metal}, insulation {insulation}, terminals {terminal}",
            keyed(needed)
        ),
        format!("{size}, {}", keyed(found.usable)),
    );
    let rule = sheet.rule("unit-conductors");
    sheet.at_least("ampacity", found.usable, needed, rule);
    sheet.output_value("least-size", size);
    sheet.output("ampacity", found.usable);
    if let Some(preferred) = size.next_thicker() {
        sheet.output_value("preferred-size", preferred);
        sheet.note(format!(
            "{preferred}, one size thicker, runs cooler and drops less: good practice, not a code requirement"
        ));
    }
    sheet.verdict(
        "worked-out",
        format!(
            "{size} {metal} carries {}, and {} is needed",
            text(found.usable),
            text(needed)
        ),
    )
}
