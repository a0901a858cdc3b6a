//! The published tables: their shape, and reading them from the TOML compiled in.
//!
//! Each table carries title, edition, section, source and how it was checked, so that a report can say which
//! cell it used. They are read once, on first use.

#![allow(
    missing_docs,
    reason = "a column is named as in its table, with its unit at the end: only what that leaves unsaid is added"
)]

use std::fmt;
use std::sync::LazyLock;

use serde::Deserialize;

use crate::quantity::{ConductorSize, Word, words};

/// One published table.
#[derive(Clone, Debug, Deserialize)]
pub struct Table<Row, More = Nothing> {
    /// What it gives, with its conditions.
    pub title: String,
    /// Standard or editions of the National Electrical Code.
    pub edition: String,
    /// Section or table number.
    pub section: String,
    /// Titles and addresses of the pages it was checked on.
    pub source: Vec<String>,
    /// How it was checked: `two sources`, `one source`, `from memory`.
    pub checked: String,
    /// What to mind.
    #[serde(default)]
    pub note: String,
    #[serde(default = "Vec::new")]
    pub rows: Vec<Row>,
    /// What else the table states.
    #[serde(flatten)]
    pub more: More,
}

/// A table states nothing but its rows.
#[derive(Clone, Copy, Debug, Deserialize)]
pub struct Nothing {}

/// A table has no rows.
#[derive(Clone, Copy, Debug, Deserialize)]
pub struct NoRow {}

impl<Row, More> Table<Row, More> {
    /// Names the table for a line of working: `NEC Table 250.122`.
    #[must_use]
    pub fn name(&self) -> String {
        if self.is_code() {
            format!("NEC {}", self.section)
        } else {
            format!("{} {}", self.edition, self.section)
        }
    }

    /// Cites the table for the list of sources.
    #[must_use]
    pub fn citation(&self) -> String {
        let editions = if self.is_code() {
            format!(", editions {}", self.edition)
        } else {
            String::new()
        };
        format!(
            "{}{editions}: {} (checked: {}; {})",
            self.name(),
            self.title,
            self.checked,
            self.source.join("; ")
        )
    }

    fn is_code(&self) -> bool {
        self.edition.starts_with("20")
    }
}

words! {
    /// Conductor metal.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
    pub enum Metal {
        Copper = "copper",
        /// Aluminum or copper-clad aluminum.
        Aluminium = "aluminum",
    }
}

impl fmt::Display for Metal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}

words! {
    /// Temperature column of an ampacity table, by the conductor temperature in degrees Celsius.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
    pub enum Column {
        C60 = "60",
        C75 = "75",
        C90 = "90",
    }
}

impl fmt::Display for Column {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} C", self.word())
    }
}

/// Resistance at 75 C, ohm per 1000 ft.
#[derive(Clone, Debug, Deserialize)]
pub struct DcRow {
    pub size: ConductorSize,
    /// Area, circular mils.
    pub area_cmil: f64,
    /// Bare diameter, solid, inches.
    pub diameter_solid_in: Option<f64>,
    /// Bare diameter, stranded, inches.
    pub diameter_stranded_in: f64,
    pub r_cu_solid: Option<f64>,
    pub r_cu_stranded: f64,
    pub r_al_solid: Option<f64>,
    pub r_al_stranded: f64,
}

/// What the resistance table says of temperature.
#[derive(Clone, Copy, Debug, Deserialize)]
pub struct Coefficients {
    /// Copper at 75 C, per kelvin.
    pub temperature_coefficient_copper: f64,
    /// Aluminum at 75 C, per kelvin.
    pub temperature_coefficient_aluminium: f64,
}

/// 60 Hz resistance and reactance to neutral at 75 C, ohm per 1000 ft.
#[derive(Clone, Debug, Deserialize)]
pub struct AcRow {
    pub size: ConductorSize,
    /// Reactance in plastic or aluminum conduit.
    pub x_pvc_or_al_conduit: f64,
    /// Reactance in steel conduit.
    pub x_steel_conduit: f64,
    pub r_cu_pvc: Option<f64>,
    pub r_cu_al_conduit: Option<f64>,
    pub r_cu_steel: Option<f64>,
    pub r_al_pvc: Option<f64>,
    pub r_al_al_conduit: Option<f64>,
    pub r_al_steel: Option<f64>,
}

/// Ampacity by column, amperes.
#[derive(Clone, Debug, Deserialize)]
pub struct AmpacityRow {
    pub size: ConductorSize,
    pub cu_60: Option<f64>,
    pub cu_75: Option<f64>,
    pub cu_90: Option<f64>,
    pub al_60: Option<f64>,
    pub al_75: Option<f64>,
    pub al_90: Option<f64>,
}

/// Copper resistance at 20 C, ohm per 1000 ft.
#[derive(Clone, Debug, Deserialize)]
pub struct ColdRow {
    pub size: ConductorSize,
    pub r_cu_20c: f64,
}

/// `conductors.toml`.
#[derive(Clone, Debug, Deserialize)]
pub struct Conductors {
    /// Direct-current resistance and geometry.
    pub dc_resistance_75c: Table<DcRow, Coefficients>,
    /// 60 Hz resistance and reactance.
    pub ac_impedance_75c: Table<AcRow>,
    pub ampacity_30c: Table<AmpacityRow>,
    /// Cold copper, for thermostat cable.
    pub copper_resistance_20c: Table<ColdRow>,
}

/// Ambient band and its factors.
#[derive(Clone, Debug, Deserialize)]
pub struct AmbientRow {
    /// Bottom of the band, degrees Celsius.
    pub ambient_c_min: f64,
    /// Top of the band, degrees Celsius.
    pub ambient_c_max: f64,
    pub f_60: Option<f64>,
    pub f_75: Option<f64>,
    pub f_90: Option<f64>,
}

/// Count of current-carrying conductors and its factor.
#[derive(Clone, Debug, Deserialize)]
pub struct BundlingRow {
    pub count_min: u32,
    pub count_max: u32,
    pub factor: f64,
}

/// Small conductor and the largest general device.
#[derive(Clone, Debug, Deserialize)]
pub struct SmallRow {
    pub size: ConductorSize,
    pub metal: Metal,
    /// Largest device, amperes.
    pub max_a: f64,
}

/// Adder for raceways on roofs.
#[derive(Clone, Copy, Debug, Deserialize)]
pub struct Rooftop {
    /// Added to the outdoor temperature, kelvin.
    pub adder_kelvin: f64,
    /// Applies below this height over the roof, inches.
    pub clearance_inches: f64,
}

/// Where the 60 C column governs.
#[derive(Clone, Copy, Debug, Deserialize)]
pub struct Terminal {
    /// Circuits up to so many amperes.
    pub sixty_up_to_amps: f64,
    pub sixty_up_to_size: ConductorSize,
}

/// `corrections.toml`.
#[derive(Clone, Debug, Deserialize)]
pub struct Corrections {
    pub ambient: Table<AmbientRow>,
    pub bundling: Table<BundlingRow>,
    pub rooftop: Table<NoRow, Rooftop>,
    pub small_conductor: Table<SmallRow>,
    pub terminal: Table<NoRow, Terminal>,
}

/// The longest a device of some rating may take.
#[derive(Clone, Copy, Debug, Deserialize)]
pub struct TripRow {
    /// Largest rating of the row, amperes.
    pub rating_max_a: f64,
    /// Minutes.
    pub within_min: f64,
}

/// Seconds to trip at three times rating.
#[derive(Clone, Copy, Debug, Deserialize)]
pub struct TripleRow {
    /// Largest rating of the row, amperes.
    pub rating_max_a: f64,
    /// Seconds up to 250 V.
    pub max_s_up_to_250v: f64,
    /// Seconds from 251 V to 600 V.
    pub max_s_251_to_600v: f64,
}

/// Standard ratings.
#[derive(Clone, Debug, Deserialize)]
pub struct Ratings {
    /// In every edition.
    pub ratings_a: Vec<f64>,
    pub added_2023_a: Vec<f64>,
}

/// Breaker calibration.
#[derive(Clone, Debug, Deserialize)]
pub struct Calibration {
    /// Must hold this share of its rating, percent.
    pub hold_percent: f64,
    /// In this ambient, degrees Celsius.
    pub hold_ambient_c: f64,
    /// Trip tests are made in this ambient, degrees Celsius.
    pub trip_test_ambient_c: f64,
    pub must_trip_135_percent: Vec<TripRow>,
    pub must_trip_200_percent: Vec<TripRow>,
}

/// Magnetic trip.
#[derive(Clone, Copy, Debug, Deserialize)]
pub struct Instantaneous {
    /// Tolerance of a fixed trip, as a share.
    pub fixed_tolerance: f64,
    /// Low end of the usual band, times the rating.
    pub typical_low_multiple: f64,
    /// High end of the usual band, times the rating.
    pub typical_high_multiple: f64,
    /// Low end for high-inrush versions.
    pub high_inrush_low_multiple: f64,
    /// High end for high-inrush versions.
    pub high_inrush_high_multiple: f64,
    /// First half-cycle over steady locked-rotor current, low.
    pub asymmetry_low: f64,
    /// First half-cycle over steady locked-rotor current, high.
    pub asymmetry_high: f64,
}

/// Personnel ground-fault device.
#[derive(Clone, Copy, Debug, Deserialize)]
pub struct GroundFaultClass {
    pub must_not_trip_below_ma: f64,
    pub must_trip_at_ma: f64,
}

/// Equipment protection.
#[derive(Clone, Copy, Debug, Deserialize)]
pub struct Typical {
    /// Typical setting, mA.
    pub typical_ma: f64,
}

/// Leakage a product standard allows.
#[derive(Clone, Copy, Debug, Deserialize)]
pub struct Leakage {
    pub max_leakage_ma: f64,
}

/// Fuse opening times.
#[derive(Clone, Debug, Deserialize)]
pub struct Fuses {
    /// Must carry this share of its rating, percent.
    pub carry_percent: f64,
    pub open_135_percent: Vec<TripRow>,
}

/// `overcurrent.toml`.
#[derive(Clone, Debug, Deserialize)]
pub struct Overcurrent {
    pub standard_ratings: Table<NoRow, Ratings>,
    pub breaker_calibration: Table<NoRow, Calibration>,
    /// Field test at three times rating.
    pub test_at_300_percent: Table<TripleRow>,
    /// Magnetic trip.
    pub instantaneous: Table<NoRow, Instantaneous>,
    /// Personnel ground-fault device.
    pub gfci_class_a: Table<NoRow, GroundFaultClass>,
    pub gfci_special_purpose: Table<NoRow, GroundFaultClass>,
    pub equipment_protection: Table<NoRow, Typical>,
    pub cooling_equipment_leakage: Table<NoRow, Leakage>,
    pub fuses: Table<NoRow, Fuses>,
}

/// Motor current by horsepower, amperes.
#[derive(Clone, Debug, Deserialize)]
pub struct MotorRow {
    pub hp: f64,
    pub v115: Option<f64>,
    pub v200: Option<f64>,
    pub v208: Option<f64>,
    pub v230: Option<f64>,
    pub v460: Option<f64>,
    pub v575: Option<f64>,
}

/// Branch device in percent of full-load current.
#[derive(Clone, Debug, Deserialize)]
pub struct DeviceRow {
    pub motor: String,
    /// Fuse without time delay.
    pub nontime_fuse: f64,
    pub time_delay_fuse: f64,
    pub instantaneous: f64,
    pub inverse_time: f64,
}

/// Unbalance and derating.
#[derive(Clone, Copy, Debug, Deserialize)]
pub struct DeratingRow {
    pub unbalance_percent: f64,
    /// Share of rated load.
    pub factor: f64,
}

/// Locked-rotor code letter.
#[derive(Clone, Debug, Deserialize)]
pub struct CodeRow {
    /// Letter on the nameplate.
    pub letter: String,
    /// Top of its band, kVA per horsepower.
    pub kva_per_hp_max: f64,
}

/// `motors.toml`.
#[derive(Clone, Debug, Deserialize)]
pub struct Motors {
    pub full_load_single_phase: Table<MotorRow>,
    pub full_load_three_phase: Table<MotorRow>,
    pub locked_rotor_single_phase: Table<MotorRow>,
    pub locked_rotor_three_phase: Table<MotorRow>,
    pub branch_device_percent: Table<DeviceRow>,
    pub unbalance_derating: Table<DeratingRow>,
    pub locked_rotor_code: Table<CodeRow>,
}

/// Grounding conductor by device rating.
#[derive(Clone, Debug, Deserialize)]
pub struct GroundingRow {
    /// Largest device of the row, amperes.
    pub device_max_a: f64,
    pub copper: ConductorSize,
    /// Aluminum.
    pub aluminium: ConductorSize,
}

/// `grounding.toml`.
#[derive(Clone, Debug, Deserialize)]
pub struct Grounding {
    pub equipment_grounding: Table<GroundingRow>,
}

/// Voltage ranges of one nominal voltage, volts.
#[derive(Clone, Copy, Debug, Deserialize)]
pub struct SupplyRow {
    pub nominal: f64,
    /// Range A at the service, low.
    pub a_service_min: f64,
    /// Range A at the service, high.
    pub a_service_max: f64,
    /// Range A at the equipment, low.
    pub a_utilization_min: f64,
    /// Range B at the service, low.
    pub b_service_min: f64,
    /// Range B at the service, high.
    pub b_service_max: f64,
    /// Range B at the equipment, low.
    pub b_utilization_min: f64,
}

/// Tolerance of equipment voltage.
#[derive(Clone, Copy, Debug, Deserialize)]
pub struct EquipmentVoltage {
    /// Either way from nameplate, percent.
    pub general_tolerance_percent: f64,
}

/// `supply.toml`.
#[derive(Clone, Debug, Deserialize)]
pub struct Supply {
    pub supply: Table<SupplyRow>,
    pub equipment: Table<NoRow, EquipmentVoltage>,
}

macro_rules! embedded {
    ($($(#[$doc:meta])* $name:ident $kind:ty, $file:literal;)*) => {
        $($(#[$doc])*
        pub static $name: LazyLock<$kind> = LazyLock::new(|| read(include_str!(concat!("tables/", $file)), $file));)*

        #[cfg(test)]
        const FILES: &[&str] = &[$($file),*];
    };
}

embedded! {
    CONDUCTORS Conductors, "conductors.toml";
    CORRECTIONS Corrections, "corrections.toml";
    /// Overcurrent and ground-fault devices.
    OVERCURRENT Overcurrent, "overcurrent.toml";
    MOTORS Motors, "motors.toml";
    GROUNDING Grounding, "grounding.toml";
    SUPPLY Supply, "supply.toml";
}

pub(super) fn read<T: serde::de::DeserializeOwned>(text: &str, file: &str) -> T {
    // The text is compiled in, and the test `every_table_file_is_read` reads each of them.
    toml::from_str(text).unwrap_or_else(|error| panic!("{file} compiled into the program is broken: {error}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_table_file_is_read() {
        LazyLock::force(&CONDUCTORS);
        LazyLock::force(&CORRECTIONS);
        LazyLock::force(&OVERCURRENT);
        LazyLock::force(&MOTORS);
        LazyLock::force(&GROUNDING);
        LazyLock::force(&SUPPLY);
        LazyLock::force(&crate::standards::rule::RULES);
    }

    #[test]
    fn no_table_file_is_forgotten() {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/src/standards/tables");
        let mut found: Vec<_> = std::fs::read_dir(folder)
            .unwrap()
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .filter(|name| name.ends_with(".toml"))
            .collect();
        let mut listed = FILES.to_vec();
        // It stands beside what is said of a rule.
        listed.push("rules.toml");
        found.sort_unstable();
        listed.sort_unstable();
        assert_eq!(found, listed);
    }
}
