//! The breaker or fuse that feeds a unit against the minimum and maximum on the nameplate.

use uom::si::f64::ElectricCurrent;

use super::super::lookup;
use super::super::registry::{Calculation, Input, InputError, Inputs, Output, Report, VerdictKind};
use super::super::sheet::{EDITION_INPUT, Sheet, exceeds, keyed, text};
use super::super::table::OVERCURRENT;
use crate::quantity::Kind;

pub(super) const CALCULATION: Calculation = Calculation {
    name: "protection-check",
    title: "Breaker or fuse against the nameplate's minimum and maximum",
    inputs: &[
        Input::quantity(
            "protective-device-rating",
            Kind::Current,
            "Rating of the breaker or fuse that feeds the unit.",
        )
        .between(1.0, 6000.0),
        Input::choice(
            "protective-device-kind",
            &["breaker", "fuse"],
            "What protects the circuit.",
        )
        .optional(),
        Input::quantity(
            "minimum-circuit-ampacity",
            Kind::Current,
            "Minimum circuit ampacity (MCA) on the nameplate.",
        )
        .between(0.1, 6000.0)
        .optional(),
        Input::quantity(
            "maximum-overcurrent-protection",
            Kind::Current,
            "Largest fuse or breaker the nameplate allows (MOP, MAX FUSE).",
        )
        .between(1.0, 6000.0)
        .optional(),
        Input::choice(
            "nameplate-device-kind",
            &["fuse-or-breaker", "fuse-only"],
            "Kind of device the nameplate names beside its maximum.",
        )
        .or("fuse-or-breaker"),
        EDITION_INPUT,
    ],
    outputs: &[
        Output::quantity("device-rating", Kind::Current, "Rating of the device fitted."),
        Output::quantity(
            "allowed-maximum",
            Kind::Current,
            "Largest device the nameplate allows.",
        ),
        Output::quantity(
            "least-device",
            Kind::Current,
            "Smallest standard device not below the nameplate's minimum.",
        ),
    ],
    verdicts: &[
        VerdictKind::plain(
            "within",
            "The device is between the nameplate's minimum and maximum.",
        ),
        VerdictKind::violation("above-maximum", "The device is larger than the nameplate allows."),
        VerdictKind::violation(
            "below-minimum",
            "The device is smaller than the nameplate's minimum circuit ampacity.",
        ),
        VerdictKind::violation(
            "fuse-required",
            "The nameplate names fuses only, and no fuse protects the circuit.",
        ),
    ],
    run,
};

fn run(inputs: &Inputs) -> Result<Report, InputError> {
    let rules = [
        "nameplate-mca-mop",
        "nameplate-beats-formula",
        "unit-conductors",
        "listed-use",
    ];
    let mut sheet = Sheet::begin(&CALCULATION, inputs, &rules)?;
    let device: ElectricCurrent = sheet.need("protective-device-rating")?;
    let least: Option<ElectricCurrent> = sheet.maybe("minimum-circuit-ampacity");
    let most: Option<ElectricCurrent> = sheet.maybe("maximum-overcurrent-protection");
    if least.is_none() && most.is_none() {
        return Err(sheet.missing("maximum-overcurrent-protection"));
    }
    if let (Some(least), Some(most)) = (least, most)
        && exceeds(least, most)
    {
        return Err(InputError::Contradiction {
            what: format!(
                "`minimum-circuit-ampacity` {} is above `maximum-overcurrent-protection` {}; a nameplate never says \
                     that, so read both lines again",
                text(least),
                text(most)
            ),
        });
    }
    sheet.output("device-rating", device);
    let fuse_only = sheet.choice("nameplate-device-kind") == Some("fuse-only");
    let kind = sheet.choice("protective-device-kind");
    if let Some(most) = most {
        sheet.output("allowed-maximum", most);
        sheet.work(
            "device <= MOP",
            format!("{} <= {}", keyed(device), keyed(most)),
            yes(!exceeds(device, most)),
        );
        let source = sheet.rule("nameplate-beats-formula");
        sheet.at_most("device", device, most, source);
    } else {
        sheet.assume("`maximum-overcurrent-protection` not given: the upper end was not judged");
    }
    if let Some(least) = least {
        sheet.work(
            "device >= MCA",
            format!("{} >= {}", keyed(device), keyed(least)),
            yes(!exceeds(least, device)),
        );
        if let Some(standard) = lookup::rating_at_or_above(least) {
            sheet.output("least-device", standard);
            let table = sheet.table(&OVERCURRENT.standard_ratings);
            sheet.work(
                "standard rating at or above MCA",
                format!("{} in {table}", keyed(least)),
                keyed(standard),
            );
        }
        let source = sheet.rule("nameplate-mca-mop");
        sheet.at_least("device", device, least, source);
    } else {
        sheet.assume("`minimum-circuit-ampacity` not given: the lower end was not judged");
    }
    if !lookup::is_standard_rating(device, sheet.edition) {
        sheet.note(format!(
            "{} is not one of the standard ratings of NEC 240.6(A): read the handle again",
            text(device)
        ));
    }
    let needs_fuse = fuse_only && kind == Some("breaker");
    if fuse_only {
        let rule = sheet.rule("listed-use");
        sheet.note(format!(
            "the nameplate names fuses only, so a fuse must stand in the circuit ({rule})"
        ));
        if kind.is_none() {
            sheet.assume("`protective-device-kind` not given: a fuse is taken to be in the circuit");
        }
    }
    if let Some(most) = most.filter(|most| exceeds(device, *most)) {
        let also = if needs_fuse {
            ", and it is a breaker where the nameplate wants a fuse"
        } else {
            ""
        };
        return sheet.verdict(
            "above-maximum",
            format!(
                "the {} device is above the nameplate's maximum of {}{also}",
                text(device),
                text(most)
            ),
        );
    }
    if let Some(least) = least.filter(|least| exceeds(*least, device)) {
        return sheet.verdict(
            "below-minimum",
            format!(
                "the {} device is below the nameplate's minimum circuit ampacity of {}",
                text(device),
                text(least)
            ),
        );
    }
    if needs_fuse {
        return sheet.verdict(
            "fuse-required",
            "the nameplate names fuses only, and a breaker protects the circuit",
        );
    }
    let (low, high) = (least.map(text), most.map(text));
    let range = match (low, high) {
        (Some(low), Some(high)) => format!("between {low} and {high}"),
        (Some(low), None) => format!("not below {low}"),
        (None, Some(high)) => format!("not above {high}"),
        (None, None) => String::new(),
    };
    sheet.verdict(
        "within",
        format!("the {} device is {range}, as the nameplate asks", text(device)),
    )
}

fn yes(holds: bool) -> &'static str {
    if holds { "holds" } else { "broken" }
}
