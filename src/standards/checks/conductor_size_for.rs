//! The smallest conductor for a circuit, and the largest device its nameplate allows.

use super::prelude::*;
use super::usable::{Setting, largest_general_device, setting_of, usable};

calculation! {
    "conductor-size-for": "Smallest conductor for a nameplate, and its largest device";
    rules "rooftop-adder", "unit-conductors", "terminal-temperature", "specific-applications", "small-conductor", "next-size-up";
    inputs {
        MCA = Current("minimum-circuit-ampacity", "Current the conductor must carry.").between(0.1, 2000.0);
        MOP = Current("maximum-overcurrent-protection", "Largest device on the nameplate.").optional();
        METAL;
        INSULATION;
        TERMINAL;
        AMBIENT;
        TOGETHER;
        ABOVE_ROOF;
        UPSTREAM;
        EDITION;
    }
    outputs {
        LEAST_SIZE = Size("least-size", "Smallest size that carries it.");
        AMPACITY = Current("ampacity", "What that size may carry there.");
        PREFERRED_SIZE = Size("preferred-size", "One size thicker: good practice, not a code requirement.");
        LARGEST_DEVICE = Current("largest-device", "Largest standard device the nameplate allows.");
    }
    verdicts {
        WORKED_OUT;
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let needed = sheet.need(MCA)?.get();
    let most = sheet.maybe(MOP).map(Known::get);
    if let Some(most) = most.filter(|most| exceeds(needed, *most)) {
        return Err(contradiction(format!(
            "`minimum-circuit-ampacity` {} is above `maximum-overcurrent-protection` {}; read both lines again",
            text(needed),
            text(most)
        )));
    }
    let setting = setting_of(&mut sheet, needed, ConductorSize::Awg(14))?;
    let Setting {
        metal,
        insulation,
        terminal,
        ..
    } = setting;
    let name = sheet.table(&table::CONDUCTORS.ampacity_30c);
    let ratings = sheet.table(&table::OVERCURRENT.standard_ratings);
    if let Some(most) = most {
        let device = lookup::rating_at_or_below(most).unwrap_or(most);
        sheet.line(
            "largest device",
            format!("{} in {ratings}", keyed(most)),
            keyed(device),
        );
        sheet.output(LARGEST_DEVICE, device);
        sheet.rule("specific-applications");
        sheet.note("a motor or cooling circuit may have a device above the conductor's ampacity, up to the nameplate's maximum");
    }
    // A breaker above the nameplate's maximum can only stand ahead of fuses, so the wire up to them must suit it.
    let upstream: Option<ElectricCurrent> = sheet
        .maybe(UPSTREAM)
        .map(Known::get)
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
    sheet.line(
        "smallest size whose usable ampacity is enough",
        format!(
            "{} in {name}, {metal}, insulation {insulation}, terminals {terminal}",
            keyed(needed)
        ),
        format!("{size}, {}", keyed(found.usable)),
    );
    let rule = sheet.rule("unit-conductors");
    sheet.at_least("ampacity", found.usable, needed, rule);
    sheet.output_value(LEAST_SIZE, size);
    sheet.output(AMPACITY, found.usable);
    if let Some(preferred) = size.next_thicker() {
        sheet.output_value(PREFERRED_SIZE, preferred);
        sheet.note(format!(
            "{preferred}, one size thicker, runs cooler and drops less: good practice, not a code requirement"
        ));
    }
    sheet.verdict(
        WORKED_OUT,
        format!(
            "{size} {metal} carries {}, and {} is needed",
            text(found.usable),
            text(needed)
        ),
    )
}
