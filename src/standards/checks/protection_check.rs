//! The breaker or fuse that feeds a unit against the minimum and maximum on the nameplate.

use super::prelude::*;

calculation! {
    "protection-check": "Breaker or fuse against the nameplate's minimum and maximum";
    rules "nameplate-mca-mop", "nameplate-beats-formula", "unit-conductors", "listed-use";
    inputs {
        DEVICE = Current("protective-device-rating", "Rating of the breaker or fuse that feeds the unit.")
            .between(1.0, 6000.0);
        PROTECTIVE_DEVICE_KIND = OneOf<DeviceKind>("protective-device-kind", "What protects the circuit.").optional();
        MCA = Current("minimum-circuit-ampacity", "Minimum circuit ampacity (MCA) on the nameplate.")
            .between(0.1, 6000.0).optional();
        MOP = Current("maximum-overcurrent-protection", "Largest fuse or breaker the nameplate allows (MOP, MAX FUSE).")
            .between(1.0, 6000.0).optional();
        NAMEPLATE_DEVICE_KIND = OneOf<Named>("nameplate-device-kind", "Kind of device the nameplate names beside its maximum.").or("fuse-or-breaker");
        EDITION;
    }
    outputs {
        DEVICE_RATING = Current("device-rating", "Rating of the device fitted.");
        ALLOWED_MAXIMUM = Current("allowed-maximum", "Largest device the nameplate allows.");
        LEAST_DEVICE = Current("least-device", "Smallest standard device not below the nameplate's minimum.");
    }
    verdicts {
        WITHIN = plain("within", "The device is between the nameplate's minimum and maximum.");
        ABOVE_MAXIMUM = violation("above-maximum", "The device is larger than the nameplate allows.");
        BELOW_MINIMUM = violation("below-minimum", "The device is smaller than the nameplate's minimum circuit ampacity.");
        FUSE_REQUIRED = violation("fuse-required", "The nameplate names fuses only, and no fuse protects the circuit.");
    }
}

choice! { DeviceKind { Breaker = "breaker", Fuse = "fuse" } }
choice! { Named { FuseOrBreaker = "fuse-or-breaker", FuseOnly = "fuse-only" } }

fn work(mut sheet: Sheet<'_>) -> Answer {
    let device = sheet.need(DEVICE)?;
    let (least, most) = (sheet.maybe(MCA), sheet.maybe(MOP));
    if least.is_none() && most.is_none() {
        return Err(sheet.missing(MOP));
    }
    if let (Some(least), Some(most)) = (least, most)
        && least.exceeds(most)
    {
        return Err(contradiction(format!(
            "`minimum-circuit-ampacity` {least} is above `maximum-overcurrent-protection` {most}; a nameplate never says \
             that, so read both lines again"
        )));
    }
    sheet.output(DEVICE_RATING, device);
    let fuse_only = sheet.need_one(NAMEPLATE_DEVICE_KIND)? == Named::FuseOnly;
    let kind = sheet.one_of(PROTECTIVE_DEVICE_KIND);
    if let Some(most) = most {
        sheet.output(ALLOWED_MAXIMUM, most);
        let put_in = format!("{} <= {}", keyed(device), keyed(most));
        sheet.line("device <= MOP", put_in, holds(!device.exceeds(most)));
        let source = sheet.rule("nameplate-beats-formula");
        sheet.at_most("device", device, most, source);
    }
    if let Some(least) = least {
        let put_in = format!("{} >= {}", keyed(device), keyed(least));
        sheet.line("device >= MCA", put_in, holds(!least.exceeds(device)));
        if let Some(standard) = lookup::rating_at_or_above(least.get()) {
            sheet.output(LEAST_DEVICE, standard);
            let table = sheet.table(&table::OVERCURRENT.standard_ratings);
            let put_in = format!("{} in {table}", keyed(least));
            sheet.line("standard rating at or above MCA", put_in, keyed(standard));
        }
        let source = sheet.rule("nameplate-mca-mop");
        sheet.at_least("device", device, least, source);
    } else {
        sheet.assume("`minimum-circuit-ampacity` not given: the lower end was not judged");
    }
    if !lookup::is_standard_rating(device.get(), sheet.edition) {
        sheet.note(format!(
            "{device} is not one of the standard ratings of NEC 240.6(A): read the handle again"
        ));
    }
    let needs_fuse = fuse_only && kind == Some(DeviceKind::Breaker);
    if fuse_only {
        let rule = sheet.rule("listed-use");
        sheet.note(format!(
            "the nameplate names fuses only, so a fuse must stand in the circuit ({rule})"
        ));
        if kind.is_none() {
            sheet.assume("`protective-device-kind` not given: a fuse is taken to be in the circuit");
        }
    }
    if let Some(most) = most.filter(|most| device.exceeds(*most)) {
        let also = if needs_fuse {
            ", and it is a breaker where the nameplate wants a fuse"
        } else {
            ""
        };
        let found = format!("the {device} device is above the nameplate's maximum of {most}{also}");
        return sheet.verdict(ABOVE_MAXIMUM, found);
    }
    if let Some(least) = least.filter(|least| least.exceeds(device)) {
        let found =
            format!("the {device} device is below the nameplate's minimum circuit ampacity of {least}");
        return sheet.verdict(BELOW_MINIMUM, found);
    }
    if needs_fuse {
        let found = "the nameplate names fuses only, and a breaker protects the circuit";
        return sheet.verdict(FUSE_REQUIRED, found);
    }
    // A device far too large is above every minimum.
    let Some(most) = most else {
        return Err(sheet.missing(MOP));
    };
    let range = least.map_or_else(
        || format!("not above {most}"),
        |least| format!("between {least} and {most}"),
    );
    sheet.verdict(
        WITHIN,
        format!("the {device} device is {range}, as the nameplate asks"),
    )
}
