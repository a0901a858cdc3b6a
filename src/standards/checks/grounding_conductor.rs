//! Equipment grounding conductor for a device, enlarged with the circuit conductors.

use super::prelude::*;
use super::usable::{Setting, largest_general_device, usable};

calculation! {
    "grounding-conductor": "Smallest equipment grounding conductor";
    rules "egc-size";
    inputs {
        DEVICE = Current("protective-device-rating", "Device ahead of the circuit.")
            .between(1.0, 1200.0).optional();
        UPSTREAM;
        MCA = Current("minimum-circuit-ampacity", "Nameplate minimum, where the device is still to be corrected to the nameplate.")
            .between(0.1, 2000.0).optional();
        MOP = Current("maximum-overcurrent-protection", "Nameplate maximum, likewise: the device the repair puts in counts, not one above it.")
            .between(1.0, 1200.0).optional();
        GROUNDING_METAL = OneOf<Metal>("grounding-metal", "Metal of the grounding conductor.").or("copper");
        CONDUCTOR_SIZE = Size("conductor-size", "Circuit conductor fitted, where it was enlarged.")
            .optional();
        LEAST_SIZE = Size("least-size", "Circuit conductor that would have been enough; found from the nameplate minimum where not given.")
            .optional();
        CONDUCTOR_METAL: In<OneOf<Metal>> = In::new(METAL.symbol, METAL.input.only_if_given());
        CONDUCTOR_INSULATION: In<OneOf<Column>> = In::new(INSULATION.symbol, INSULATION.input.only_if_given());
        TERMINAL;
        AMBIENT_TEMPERATURE: In<Temperature> = In::new(AMBIENT.symbol, AMBIENT.input.only_if_given());
        CONDUCTORS_TOGETHER: In<Count> = In::new(TOGETHER.symbol, TOGETHER.input.only_if_given());
        GROUNDING_SIZE = Size("grounding-size", "Grounding conductor fitted, to compare.").optional();
        EDITION;
    }
    outputs {
        LEAST_GROUNDING_SIZE = Size("least-grounding-size", "Smallest grounding conductor.");
        COUNTED_DEVICE = Current("counted-device", "The device it is sized for: the one there, or the one the repair puts in.");
        LEAST_AREA = Area("least-area", "Its area after enlarging.");
    }
    verdicts {
        WORKED_OUT;
        ENOUGH = plain("enough", "The grounding conductor fitted is large enough.");
        TOO_SMALL = violation("too-small", "The grounding conductor fitted is too small.");
    }
}

fn work(mut sheet: Sheet<'_>) -> Answer {
    let device = counted(&mut sheet)?;
    sheet.output(COUNTED_DEVICE, device);
    let metal = sheet.need_one(GROUNDING_METAL)?;
    let name = sheet.table(&table::GROUNDING.equipment_grounding);
    let rule = sheet.rule("egc-size");
    let Some(by_table) = lookup::grounding_conductor(device, metal) else {
        return sheet.cannot_tell(format!("{name} ends at 1200 A"));
    };
    sheet.line(
        "table size",
        format!("{name}, {} device, {metal}", keyed(device)),
        by_table.to_string(),
    );
    let mut mils = by_table.circular_mils();
    let fitted = sheet.size(CONDUCTOR_SIZE);
    if let (Some(fitted), Some(least)) = (fitted, least_conductor(&mut sheet))
        && fitted > least
    {
        let ratio = fitted.circular_mils() / least.circular_mils();
        mils *= ratio;
        sheet.line(
            "area = table area x fitted / least",
            format!(
                "{} cmil x {} cmil / {} cmil",
                keyed_number(by_table.circular_mils()),
                keyed_number(fitted.circular_mils()),
                keyed_number(least.circular_mils())
            ),
            format!("{} cmil", keyed_number(mils)),
        );
    }
    // A gauge's nominal area may fall a hair below the product of two others; no one means the next size then.
    let enough = |size: &ConductorSize| size.circular_mils() >= mils * (1.0 - 1e-6);
    let mut size = ConductorSize::ALL.into_iter().find(enough).unwrap_or(by_table);
    if let Some(fitted) = fitted
        .and_then(ConductorSize::for_tables)
        .filter(|fitted| size > *fitted && stays(&sheet, *fitted))
    {
        sheet.note("it need not be larger than the circuit conductors");
        size = fitted;
    }
    sheet.output_value(LEAST_GROUNDING_SIZE, size);
    sheet.output(
        LEAST_AREA,
        Quantity {
            kind: Kind::Area,
            base: mils * crate::quantity::circular_mil(),
        },
    );
    let Some(there) = sheet.size(GROUNDING_SIZE) else {
        return sheet.verdict(WORKED_OUT, format!("{size} {metal}"));
    };
    sheet.at_least("area", there.area(), size.area(), rule);
    if there < size {
        sheet.verdict(TOO_SMALL, format!("{there} fitted, {size} {metal} is the least"))
    } else {
        sheet.verdict(ENOUGH, format!("{there} fitted, {size} {metal} is the least"))
    }
}

/// The circuit conductor that would be enough: as given, or the smallest that carries the nameplate's minimum there.
///
/// What is not given about it is taken as most favorable to a thin conductor, so that the grounding conductor is
/// never called enlarged too little.
///
/// *Source* NEC 250.122(B): an increase for heat or bundling does not count.
fn least_conductor(sheet: &mut Sheet<'_>) -> Option<ConductorSize> {
    if let Some(least) = sheet.size(LEAST_SIZE) {
        return Some(least);
    }
    let needed: ElectricCurrent = sheet.maybe(MCA).map(Known::get)?;
    sheet.size(CONDUCTOR_SIZE)?;
    let setting = setting(sheet, Column::C90, Column::C75);
    let least = enough(sheet, needed, &setting)?;
    let name = sheet.table(&table::CONDUCTORS.ampacity_30c);
    sheet.line(
        "smallest circuit conductor that would be enough",
        format!("{} in {name}, {}", keyed(needed), setting.metal),
        least.to_string(),
    );
    Some(least)
}

/// Whether the circuit conductor may stay, so that the grounding conductor need not be larger than it.
///
/// One that the nameplate's minimum may be too much for is going to be replaced by a thicker one.
fn stays(sheet: &Sheet<'_>, fitted: ConductorSize) -> bool {
    let least = sheet.size(LEAST_SIZE).or_else(|| {
        let needed: ElectricCurrent = sheet.maybe(MCA).map(Known::get)?;
        enough(sheet, needed, &setting(sheet, Column::C60, Column::C60))
    });
    least.is_none_or(|least| fitted >= least)
}

/// The smallest circuit conductor that carries the nameplate's minimum and suits a breaker ahead of fuses.
fn enough(sheet: &Sheet<'_>, needed: ElectricCurrent, setting: &Setting) -> Option<ConductorSize> {
    let ahead = ahead_of_fuses(sheet);
    ConductorSize::ALL.into_iter().find(|size| {
        let Some(found) = usable(*size, setting) else {
            return false;
        };
        let suits = |ahead| {
            largest_general_device(*size, setting.metal, found.usable)
                .is_none_or(|largest| !exceeds(ahead, largest))
        };
        !exceeds(needed, found.usable) && ahead.is_none_or(suits)
    })
}

/// The breaker in the panel, where it is larger than the fuses in the disconnect.
fn ahead_of_fuses(sheet: &Sheet<'_>) -> Option<ElectricCurrent> {
    let upstream: ElectricCurrent = sheet.maybe(UPSTREAM).map(Known::get)?;
    let fuses: ElectricCurrent = sheet.maybe(DEVICE).map(Known::get)?;
    exceeds(upstream, fuses).then_some(upstream)
}

/// Where the circuit conductor runs and ends; the columns are those of markings that are not given.
fn setting(sheet: &Sheet<'_>, insulation: Column, terminal: Column) -> Setting {
    Setting {
        metal: sheet.one_of(CONDUCTOR_METAL).unwrap_or(Metal::Copper),
        insulation: sheet.one_of(CONDUCTOR_INSULATION).unwrap_or(insulation),
        terminal: sheet.one_of(TERMINAL).unwrap_or(terminal),
        ambient: sheet
            .maybe(AMBIENT_TEMPERATURE)
            .map_or_else(|| Temperature::of(30.0), Known::get),
        together: sheet.maybe(CONDUCTORS_TOGETHER).map(Known::number).unwrap_or(3.0) as u32,
    }
}

/// The device the grounding conductor must serve.
///
/// A device outside the nameplate's limits is going to be replaced, by one of at most the maximum; a breaker ahead of
/// fuses counts where it is larger, for the wire up to them.
///
/// *Errors* without any rating.
/// *Source* NEC 250.122(A): the device ahead of the equipment.
fn counted(sheet: &mut Sheet<'_>) -> Result<ElectricCurrent, InputError> {
    let fitted = sheet.maybe(DEVICE).map(Known::get);
    let least = sheet.maybe(MCA).map(Known::get);
    let most = sheet.maybe(MOP).map(Known::get);
    let stays = |device: ElectricCurrent| {
        most.is_none_or(|most| !exceeds(device, most)) && least.is_none_or(|least| !exceeds(least, device))
    };
    let own = match (fitted, most) {
        (Some(fitted), _) if stays(fitted) => fitted,
        (_, Some(most)) => {
            let device = lookup::rating_at_or_below(most).unwrap_or(most);
            sheet.assume(match fitted {
                Some(fitted) => format!(
                    "the {} device does not suit the nameplate: sized for the largest that may replace it, {}",
                    text(fitted),
                    text(device)
                ),
                None => format!(
                    "`protective-device-rating` not given: sized for the largest the nameplate allows, {}",
                    text(device)
                ),
            });
            device
        }
        (Some(fitted), None) => {
            // Below the minimum and without a maximum: the smallest device that may replace it.
            let device = least.and_then(lookup::rating_at_or_above).unwrap_or(fitted);
            sheet.note("without the nameplate's maximum the device is taken as the smallest that serves; a larger one may need a larger grounding conductor");
            device.max(fitted)
        }
        (None, None) => return Err(sheet.missing(DEVICE)),
    };
    Ok(match ahead_of_fuses(sheet) {
        Some(upstream) => {
            sheet.assume(format!(
                "the breaker ahead of the fuses, {}, counts for the wire up to them",
                text(upstream)
            ));
            own.max(upstream)
        }
        None => own,
    })
}
