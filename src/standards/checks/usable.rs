//! The usable ampacity of a conductor: insulation, ambient, bundling, and the terminals it ends at.

use uom::si::length::inch;
use uom::si::temperature_interval::kelvin;

use super::super::lookup::{
    ambient_factor, ampacity, bundling_factor, rating_at_or_above, small_conductor_limit,
};
use super::super::table::CORRECTIONS;
use super::prelude::*;

/// Where a conductor runs and ends.
#[derive(Clone, Copy, Debug)]
pub(super) struct Setting {
    pub(super) metal: Metal,
    pub(super) insulation: Column,
    pub(super) terminal: Column,
    pub(super) ambient: ThermodynamicTemperature,
    pub(super) together: u32,
}

/// Every figure on the way to the usable ampacity.
#[derive(Clone, Copy, Debug)]
pub(super) struct Usable {
    /// Table value in the column of the insulation.
    pub(super) by_insulation: ElectricCurrent,
    /// Ambient factor; zero where the insulation may not be used at all.
    pub(super) ambient: f64,
    pub(super) bundling: f64,
    /// Product of the three above.
    pub(super) corrected: ElectricCurrent,
    /// Table value in the column the terminals allow, uncorrected.
    pub(super) by_terminal: ElectricCurrent,
    /// The lower of the last two.
    pub(super) usable: ElectricCurrent,
}

/// Reads the column terminals allow; without a marking it is the least there may be.
pub(super) fn terminal_of(sheet: &mut Sheet<'_>, circuit: ElectricCurrent, size: ConductorSize) -> Column {
    sheet.one_of(TERMINAL).unwrap_or_else(|| {
        let column = unmarked_terminal(circuit, size);
        sheet.assume(format!(
            "`terminal-rating` not given: {column}, as for terminals without a marking"
        ));
        column
    })
}

/// Reads where the conductor of a circuit runs and ends.
///
/// *Arguments* `circuit` current and `size` by which terminals without a marking are judged.
pub(super) fn setting_of(
    sheet: &mut Sheet<'_>,
    circuit: ElectricCurrent,
    size: ConductorSize,
) -> Result<Setting, InputError> {
    Ok(Setting {
        metal: sheet.need_one(METAL)?,
        insulation: sheet.need_one(INSULATION)?,
        terminal: terminal_of(sheet, circuit, size),
        ambient: ambient(sheet)?,
        together: sheet.need(TOGETHER)?.number() as u32,
    })
}

/// The error for a conductor size that a table does not have.
pub(super) fn no_such_size(size: ConductorSize, expected: impl Into<String>) -> InputError {
    InputError::OutOfRange {
        input: "conductor-size".to_owned(),
        value: size.to_string(),
        expected: expected.into(),
    }
}

/// The same for the table of ampacities.
pub(super) fn no_ampacity(size: ConductorSize, metal: Metal) -> InputError {
    let name = table::CONDUCTORS.ampacity_30c.name();
    no_such_size(size, format!("a size that {name} gives for {metal}"))
}

/// The same for a table of resistances.
pub(super) fn no_resistance<Row, More>(size: ConductorSize, table: &table::Table<Row, More>) -> InputError {
    no_such_size(size, format!("a size of {}", table.name()))
}

/// The ambient temperature to look up: that of the air, and more where a conduit lies in the sun close to a roof.
///
/// *Source* NEC 310.15(B)(2); in 2014 the adders went by height.
pub(super) fn ambient(sheet: &mut Sheet<'_>) -> Result<ThermodynamicTemperature, InputError> {
    let air = sheet.need(AMBIENT)?.get();
    let Some(height) = sheet.maybe(ABOVE_ROOF).map(Known::get) else {
        return Ok(air);
    };
    let inches = height.get::<inch>();
    let rooftop = &CORRECTIONS.rooftop.more;
    let adder = if sheet.edition == Edition::E2014 {
        // Bottom of the bands in inches and kelvins added, from memory.
        [(0.5, 33.0), (3.5, 22.0), (12.0, 17.0), (36.0, 14.0)]
            .into_iter()
            .find(|(top, _)| inches <= *top)
            .map_or(0.0, |(_, adder)| adder)
    } else if inches < rooftop.clearance_inches {
        rooftop.adder_kelvin
    } else {
        0.0
    };
    let rule = sheet.rule("rooftop-adder");
    let hot = air + TemperatureInterval::new::<kelvin>(adder);
    sheet.line(
        "T = T_air + roof adder",
        format!(
            "{} + {adder} C ({} above the roof, {rule})",
            keyed(air),
            text(height)
        ),
        keyed(hot),
    );
    sheet.note("XHHW-2 insulation is excepted from the roof adder");
    Ok(hot)
}

/// The column terminals allow when their marking is not known.
///
/// *Source* NEC 110.14(C)(1): 60 C up to 100 A or 1 AWG, 75 C above.
pub(super) fn unmarked_terminal(circuit: ElectricCurrent, size: ConductorSize) -> Column {
    let rule = &CORRECTIONS.terminal.more;
    if circuit.get::<ampere>() > rule.sixty_up_to_amps || size > rule.sixty_up_to_size {
        Column::C75
    } else {
        Column::C60
    }
}

/// Works out the usable ampacity; nothing when the tables have no value for the size.
///
/// *Formula* the lower of I_insulation x F_ambient x F_bundling and I_terminal.
/// *Source* NEC 310.15, 110.14(C).
pub(super) fn usable(size: ConductorSize, setting: &Setting) -> Option<Usable> {
    let by_insulation = ampacity(size, setting.metal, setting.insulation)?;
    let by_terminal = ampacity(size, setting.metal, setting.terminal.min(setting.insulation))?;
    let ambient = ambient_factor(setting.ambient, setting.insulation).unwrap_or(0.0);
    let bundling = bundling_factor(setting.together)?;
    let corrected = by_insulation * ambient * bundling;
    Some(Usable {
        by_insulation,
        ambient,
        bundling,
        corrected,
        by_terminal,
        usable: corrected.min(by_terminal),
    })
}

/// Finds the smallest size that carries a current; nothing when none in the tables does.
pub(super) fn smallest(current: ElectricCurrent, setting: &Setting) -> Option<ConductorSize> {
    ConductorSize::ALL
        .into_iter()
        .find(|size| usable(*size, setting).is_some_and(|found| !exceeds(current, found.usable)))
}

/// The largest device a conductor of general use may stand behind.
///
/// The limits for a motor or cooling circuit end at its own branch-circuit device: the wire from the panel to the
/// fuses in a disconnect is such a conductor.
///
/// *Arguments* `usable` of the conductor, where it is hottest.
/// *Returns* nothing above the largest standard rating.
/// *Source* NEC 240.4(D) for small conductors, otherwise 240.4(B), the next standard rating.
pub(super) fn largest_general_device(
    size: ConductorSize,
    metal: Metal,
    usable: ElectricCurrent,
) -> Option<ElectricCurrent> {
    small_conductor_limit(size, metal).or_else(|| rating_at_or_above(usable))
}
