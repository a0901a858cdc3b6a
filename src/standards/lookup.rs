//! Looking things up in the published tables.
//!
//! A lookup outside a table gives nothing; no value is ever extrapolated.

use std::fmt;

use uom::si::electric_current::ampere;
use uom::si::electrical_resistance::ohm;
use uom::si::f64::{ElectricCurrent, ElectricalResistance, Length, ThermodynamicTemperature, Time};
use uom::si::length::foot;
use uom::si::ratio::ratio;
use uom::si::thermodynamic_temperature::degree_celsius;
use uom::si::time::minute;

use super::Edition;
use super::table::{
    AcRow, CONDUCTORS, CORRECTIONS, Column, GROUNDING, MOTORS, Metal, MotorRow, OVERCURRENT, TripRow,
};
use crate::quantity::ConductorSize;

/// Returns the ampacity of a size at 30 C with up to three conductors together.
///
/// *Source* NEC Table 310.16.
#[must_use]
pub fn ampacity(size: ConductorSize, metal: Metal, column: Column) -> Option<ElectricCurrent> {
    let size = size.for_tables()?;
    let row = CONDUCTORS.ampacity_30c.rows.iter().find(|row| row.size == size)?;
    let amps = match (metal, column) {
        (Metal::Copper, Column::C60) => row.cu_60,
        (Metal::Copper, Column::C75) => row.cu_75,
        (Metal::Copper, Column::C90) => row.cu_90,
        (Metal::Aluminium, Column::C60) => row.al_60,
        (Metal::Aluminium, Column::C75) => row.al_75,
        (Metal::Aluminium, Column::C90) => row.al_90,
    };
    amps.map(ElectricCurrent::new::<ampere>)
}

/// Returns the factor for an ambient temperature; nothing outside the table or at the end of the column.
///
/// A temperature between two bands takes the hotter one.
///
/// *Source* NEC Table 310.15(B)(1)(1).
#[must_use]
pub fn ambient_factor(ambient: ThermodynamicTemperature, column: Column) -> Option<f64> {
    let celsius = ambient.get::<degree_celsius>();
    let rows = &CORRECTIONS.ambient.rows;
    // A thousandth of a degree of tolerance: 86 F is 30 C and must not fall into the next band by rounding.
    let row = rows.iter().find(|row| celsius <= row.ambient_c_max + 1e-3)?;
    match column {
        Column::C60 => row.f_60,
        Column::C75 => row.f_75,
        Column::C90 => row.f_90,
    }
}

/// Returns the factor for so many current-carrying conductors together.
///
/// *Source* NEC Table 310.15(C)(1).
#[must_use]
pub fn bundling_factor(count: u32) -> Option<f64> {
    CORRECTIONS
        .bundling
        .rows
        .iter()
        .find(|row| (row.count_min..=row.count_max).contains(&count))
        .map(|row| row.factor)
}

/// Returns the largest general-purpose device for a small conductor; nothing where the rule sets none.
///
/// *Source* NEC 240.4(D).
#[must_use]
pub fn small_conductor_limit(size: ConductorSize, metal: Metal) -> Option<ElectricCurrent> {
    let size = size.for_tables()?;
    let rows = &CORRECTIONS.small_conductor.rows;
    rows.iter()
        .find(|row| row.size == size && row.metal == metal)
        .map(|row| ElectricCurrent::new::<ampere>(row.max_a))
}

/// Returns the largest standard rating that is not above `current`.
///
/// The 10 A size of 2023 is left out: its circuits may serve little but lighting, never heat or cooling.
///
/// *Source* NEC 240.6(A).
#[must_use]
pub fn rating_at_or_below(current: ElectricCurrent) -> Option<ElectricCurrent> {
    let amps = current.get::<ampere>() * (1.0 + 1e-9);
    let ratings = OVERCURRENT.standard_ratings.more.ratings_a.iter().copied();
    ratings
        .filter(|rating| *rating <= amps)
        .reduce(f64::max)
        .map(ElectricCurrent::new::<ampere>)
}

/// Returns the smallest standard rating that is not below `current`; 10 A is left out as above.
///
/// *Source* NEC 240.6(A).
#[must_use]
pub fn rating_at_or_above(current: ElectricCurrent) -> Option<ElectricCurrent> {
    let amps = current.get::<ampere>() * (1.0 - 1e-9);
    let ratings = OVERCURRENT.standard_ratings.more.ratings_a.iter().copied();
    ratings
        .filter(|rating| *rating >= amps)
        .reduce(f64::min)
        .map(ElectricCurrent::new::<ampere>)
}

/// Returns the standard rating nearest to `current`, 10 A among them: what the handle of an existing device may say.
///
/// *Source* NEC 240.6(A).
#[must_use]
pub fn nearest_rating(current: ElectricCurrent) -> Option<ElectricCurrent> {
    let table = &OVERCURRENT.standard_ratings.more;
    let far = |rating: &f64| (rating - current.get::<ampere>()).abs();
    let ratings = table.added_2023_a.iter().chain(&table.ratings_a).copied();
    ratings
        .min_by(|a, b| far(a).total_cmp(&far(b)))
        .map(ElectricCurrent::new::<ampere>)
}

/// Says whether `current` is a standard rating of an edition; 10 A is one from 2023 on.
///
/// *Source* NEC 240.6(A).
#[must_use]
pub fn is_standard_rating(current: ElectricCurrent, edition: Edition) -> bool {
    let table = &OVERCURRENT.standard_ratings.more;
    let added: &[f64] = if edition >= Edition::E2023 {
        &table.added_2023_a
    } else {
        &[]
    };
    added
        .iter()
        .chain(&table.ratings_a)
        .any(|rating| (rating - current.get::<ampere>()).abs() < 1e-9)
}

/// Returns the longest a breaker may take at 135 % of its rating.
///
/// *Source* UL 489.
#[must_use]
pub fn trip_time_at_135_percent(rating: ElectricCurrent) -> Option<Time> {
    longest(
        &OVERCURRENT.breaker_calibration.more.must_trip_135_percent,
        rating,
    )
}

/// Returns the longest a breaker may take at 200 % of its rating.
///
/// *Source* UL 489.
#[must_use]
pub fn trip_time_at_200_percent(rating: ElectricCurrent) -> Option<Time> {
    longest(
        &OVERCURRENT.breaker_calibration.more.must_trip_200_percent,
        rating,
    )
}

fn longest(rows: &[TripRow], rating: ElectricCurrent) -> Option<Time> {
    rows.iter()
        .find(|row| rating.get::<ampere>() <= row.rating_max_a + 1e-9)
        .map(|row| Time::new::<minute>(row.within_min))
}

/// Returns the direct-current resistance of a length of one conductor at a temperature of the metal.
///
/// *Formula* R(T) = R75 x (1 + a x (T - 75 C)) x length.
/// *Arguments* `solid` takes the column for a solid conductor where the table has one (14 to 8 AWG).
/// *Limits* uncoated metal; no skin effect, which is below 1 % up to 4/0 at 60 Hz.
/// *Source* NEC Chapter 9 Table 8.
#[must_use]
pub fn resistance(
    size: ConductorSize,
    metal: Metal,
    solid: bool,
    metal_temperature: ThermodynamicTemperature,
    length: Length,
) -> Option<ElectricalResistance> {
    let table = &CONDUCTORS.dc_resistance_75c;
    let gauge = size.for_tables()?;
    let row = table.rows.iter().find(|row| row.size == gauge)?;
    let (of_solid, of_stranded, coefficient) = match metal {
        Metal::Copper => (
            row.r_cu_solid,
            row.r_cu_stranded,
            table.more.temperature_coefficient_copper,
        ),
        Metal::Aluminium => (
            row.r_al_solid,
            row.r_al_stranded,
            table.more.temperature_coefficient_aluminium,
        ),
    };
    let per_thousand_feet = if solid {
        of_solid.unwrap_or(of_stranded)
    } else {
        of_stranded
    };
    // A metric size keeps its own area here: resistance has no safe side, it must be right.
    let per_thousand_feet = per_thousand_feet * gauge.circular_mils() / size.circular_mils();
    let warmth = 1.0 + coefficient * (metal_temperature.get::<degree_celsius>() - 75.0);
    Some(ElectricalResistance::new::<ohm>(
        per_thousand_feet * warmth * length.get::<foot>() / 1000.0,
    ))
}

/// What a conduit is made of; it adds to the resistance and reactance of the conductors in it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs, reason = "what a name leaves unsaid is added")]
pub enum Conduit {
    Plastic,
    Aluminum,
    Steel,
}

impl Conduit {
    /// Every one the table has.
    pub const ALL: [Self; 3] = [Self::Plastic, Self::Aluminum, Self::Steel];
}

impl fmt::Display for Conduit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Plastic => "plastic conduit",
            Self::Aluminum => "aluminum conduit",
            Self::Steel => "steel conduit",
        })
    }
}

fn impedance_row(size: ConductorSize) -> Option<&'static AcRow> {
    let size = size.for_tables()?;
    let rows = &CONDUCTORS.ac_impedance_75c.rows;
    rows.iter().find(|row| row.size == size)
}

/// Returns the 60 Hz resistance of a length of one conductor in conduit at 75 C; nothing where the table has none.
///
/// *Limits* the table rounds to two figures, so for 8 AWG and thinner [`resistance`] is finer.
/// *Source* NEC Chapter 9 Table 9.
#[must_use]
pub fn ac_resistance(
    size: ConductorSize,
    metal: Metal,
    conduit: Conduit,
    length: Length,
) -> Option<ElectricalResistance> {
    let row = impedance_row(size)?;
    let per_thousand_feet = match (metal, conduit) {
        (Metal::Copper, Conduit::Plastic) => row.r_cu_pvc,
        (Metal::Copper, Conduit::Aluminum) => row.r_cu_al_conduit,
        (Metal::Copper, Conduit::Steel) => row.r_cu_steel,
        (Metal::Aluminium, Conduit::Plastic) => row.r_al_pvc,
        (Metal::Aluminium, Conduit::Aluminum) => row.r_al_al_conduit,
        (Metal::Aluminium, Conduit::Steel) => row.r_al_steel,
    };
    per_thousand_feet.map(|ohms| ElectricalResistance::new::<ohm>(ohms * length.get::<foot>() / 1000.0))
}

/// Returns the resistance to count with for a length of one conductor in conduit, and whether it is the 60 Hz one.
///
/// The larger of the direct-current and the 60 Hz value: alternating current never meets less, and the table for
/// 60 Hz is rounded to two figures. Below 6 AWG the two agree and the direct-current one is the finer.
///
/// *Arguments* `metal_temperature` of the conductor; the 60 Hz table is for 75 C.
/// *Source* NEC Chapter 9 Tables 8 and 9.
#[must_use]
pub fn run_resistance(
    size: ConductorSize,
    metal: Metal,
    conduit: Conduit,
    metal_temperature: ThermodynamicTemperature,
    length: Length,
) -> Option<(ElectricalResistance, bool)> {
    let direct = resistance(size, metal, false, metal_temperature, length)?;
    let alternating = ac_resistance(size, metal, conduit, length)
        .filter(|alternating| size >= ConductorSize::Awg(6) && *alternating > direct);
    Some(alternating.map_or((direct, false), |alternating| (alternating, true)))
}

/// Returns the 60 Hz reactance to neutral of a length of one conductor in conduit.
///
/// *Source* NEC Chapter 9 Table 9.
#[must_use]
pub fn reactance(size: ConductorSize, conduit: Conduit, length: Length) -> Option<ElectricalResistance> {
    let row = impedance_row(size)?;
    let per_thousand_feet = match conduit {
        Conduit::Steel => row.x_steel_conduit,
        Conduit::Plastic | Conduit::Aluminum => row.x_pvc_or_al_conduit,
    };
    Some(ElectricalResistance::new::<ohm>(
        per_thousand_feet * length.get::<foot>() / 1000.0,
    ))
}

/// Returns the smallest equipment grounding conductor for a device.
///
/// *Source* NEC Table 250.122.
#[must_use]
pub fn grounding_conductor(device: ElectricCurrent, metal: Metal) -> Option<ConductorSize> {
    let rows = &GROUNDING.equipment_grounding.rows;
    let row = rows
        .iter()
        .find(|row| device.get::<ampere>() <= row.device_max_a + 1e-9)?;
    Some(match metal {
        Metal::Copper => row.copper,
        Metal::Aluminium => row.aluminium,
    })
}

/// Voltage column of a motor table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MotorVoltage {
    /// 115 V, for systems of 110 V to 120 V.
    V115,
    /// 200 V.
    V200,
    /// 208 V.
    V208,
    /// 230 V, for systems of 220 V to 240 V.
    V230,
    /// 460 V, for systems of 440 V to 480 V.
    V460,
    /// 575 V, for systems of 550 V to 600 V.
    V575,
}

impl MotorVoltage {
    /// Returns the column that serves a voltage; nothing between columns.
    #[must_use]
    pub fn of(volts: f64) -> Option<Self> {
        match volts {
            v if (110.0..=127.0).contains(&v) => Some(Self::V115),
            v if (199.0..=201.0).contains(&v) => Some(Self::V200),
            v if (207.0..=209.0).contains(&v) => Some(Self::V208),
            v if (220.0..=240.0).contains(&v) => Some(Self::V230),
            v if (440.0..=480.0).contains(&v) => Some(Self::V460),
            v if (550.0..=600.0).contains(&v) => Some(Self::V575),
            _ => None,
        }
    }

    fn cell(self, row: &MotorRow) -> Option<f64> {
        match self {
            Self::V115 => row.v115,
            Self::V200 => row.v200,
            Self::V208 => row.v208,
            Self::V230 => row.v230,
            Self::V460 => row.v460,
            Self::V575 => row.v575,
        }
    }
}

/// Returns the full-load current of a motor from the code tables.
///
/// *Arguments* `hp` is a horsepower the table has: no value between rows is made up.
/// *Source* NEC Tables 430.248 and 430.250.
#[must_use]
pub fn full_load_current(hp: f64, voltage: MotorVoltage, three_phase: bool) -> Option<ElectricCurrent> {
    let table = if three_phase {
        &MOTORS.full_load_three_phase
    } else {
        &MOTORS.full_load_single_phase
    };
    motor_cell(&table.rows, hp, voltage)
}

fn motor_cell(rows: &[MotorRow], hp: f64, voltage: MotorVoltage) -> Option<ElectricCurrent> {
    // 1/6 and 1/3 hp stand in the table with four decimals.
    let row = rows.iter().find(|row| (row.hp - hp).abs() <= 0.002 * hp)?;
    voltage.cell(row).map(ElectricCurrent::new::<ampere>)
}

/// Returns the share of its rated load a motor may carry at a voltage unbalance, between 0 and 5 %.
///
/// *Formula* straight line between the published points.
/// *Source* NEMA MG 1 derating curve, read by others; readings of it differ by up to 0.02.
#[must_use]
pub fn unbalance_factor(unbalance: uom::si::f64::Ratio) -> Option<f64> {
    let percent = unbalance.get::<ratio>() * 100.0;
    let rows = &MOTORS.unbalance_derating.rows;
    rows.windows(2)
        .find(|pair| percent >= pair[0].unbalance_percent && percent <= pair[1].unbalance_percent + 1e-9)
        .map(|pair| {
            let along = (percent - pair[0].unbalance_percent)
                / (pair[1].unbalance_percent - pair[0].unbalance_percent);
            pair[0].factor + along * (pair[1].factor - pair[0].factor)
        })
}
