//! Conductor sizes: American wire gauge, thousand circular mils, and metric cross-sections.

use std::cmp::Ordering;
use std::fmt;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::unit::CIRCULAR_MIL;
use super::{Kind, Quantity, ReadError};

/// The size of one conductor.
///
/// Ordered from thin to thick by area, so that "smallest size that serves" is a minimum.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(into = "String", try_from = "String")]
pub enum ConductorSize {
    /// American wire gauge; `0` is 1/0, `-1` is 2/0, `-2` is 3/0, `-3` is 4/0.
    Awg(i8),
    /// Area in thousand circular mils, 250 and larger.
    Kcmil(u16),
    /// Metric cross-section in tenths of a square millimeter, `100` for 10 mm2.
    Metric(u16),
}

impl ConductorSize {
    /// The sizes the tables have, thin to thick.
    pub const ALL: [Self; 22] = [
        Self::Awg(22),
        Self::Awg(20),
        Self::Awg(18),
        Self::Awg(16),
        Self::Awg(14),
        Self::Awg(12),
        Self::Awg(10),
        Self::Awg(8),
        Self::Awg(6),
        Self::Awg(4),
        Self::Awg(3),
        Self::Awg(2),
        Self::Awg(1),
        Self::Awg(0),
        Self::Awg(-1),
        Self::Awg(-2),
        Self::Awg(-3),
        Self::Kcmil(250),
        Self::Kcmil(300),
        Self::Kcmil(350),
        Self::Kcmil(400),
        Self::Kcmil(500),
    ];

    /// The metric sizes sold, in tenths of a square millimeter (IEC 60228 table 1, from memory).
    const METRIC: [u16; 15] = [5, 8, 10, 15, 25, 40, 60, 100, 160, 250, 350, 500, 700, 950, 1200];

    /// Reads a conductor size as a person would type it: `#8`, `8 AWG`, `1/0`, `00`, `250 kcmil`, `10 mm2`.
    ///
    /// # Errors
    /// When it is not a size, or not one the tables have; the message names the nearest that are.
    pub fn parse(text: &str) -> Result<Self, ReadError> {
        let typed = text.trim();
        let not_a_size = || ReadError::NotASize {
            text: typed.to_owned(),
        };
        // What `Display` adds for a metric size says how it is looked up; it is not part of the size.
        let bare = typed.split_once('(').map_or(typed, |(size, _)| size);
        let lower = bare
            .to_ascii_lowercase()
            .replace('\u{b2}', "2")
            .replace(['_', '\u{a0}'], " ");
        let lower = lower
            .trim()
            .trim_start_matches("no.")
            .trim_start_matches('#')
            .trim();
        let ends = |suffixes: &[&str]| {
            suffixes
                .iter()
                .find_map(|suffix| lower.strip_suffix(suffix))
                .map(|rest| rest.trim().to_owned())
        };
        if let Some(area) = ends(&["mm2", "sqmm", "mm^2", "sq mm"]) {
            return Self::metric(&area, typed);
        }
        if let Some(area) = ends(&["kcmil", "mcm"]) {
            return Self::kcmil(area.parse().map_err(|_| not_a_size())?, typed);
        }
        let named = ends(&["awg", "gauge", "ga"]);
        let gauge = named.clone().unwrap_or_else(|| lower.to_owned());
        let gauge = gauge.trim_start_matches('#').trim();
        if let Some(oughts) = gauge.strip_suffix("/0") {
            return match oughts.trim().parse::<i8>() {
                Ok(count @ 1..=4) => Ok(Self::Awg(1 - count)),
                Ok(_) => Err(no_such(typed, Some(Self::Awg(-3)), Some(Self::Kcmil(250)))),
                Err(_) => Err(not_a_size()),
            };
        }
        if !gauge.is_empty() && gauge.chars().all(|c| c == '0') {
            return match gauge.len() {
                count @ 1..=4 => Ok(Self::Awg(1 - count as i8)),
                _ => Err(not_a_size()),
            };
        }
        let number: u32 = gauge.parse().map_err(|_| not_a_size())?;
        if number >= 100 && named.is_none() {
            return Self::kcmil(number, typed);
        }
        i8::try_from(number)
            .ok()
            .map(Self::Awg)
            .filter(|size| Self::ALL.contains(size))
            .ok_or_else(|| match i8::try_from(number) {
                Ok(gauge @ 1..=40) => Self::around(Self::Awg(gauge), typed),
                _ => not_a_size(),
            })
    }

    fn kcmil(area: u32, typed: &str) -> Result<Self, ReadError> {
        let size = Self::Kcmil(u16::try_from(area).unwrap_or(u16::MAX));
        if Self::ALL.contains(&size) {
            Ok(size)
        } else {
            Err(Self::around(size, typed))
        }
    }

    fn metric(area: &str, typed: &str) -> Result<Self, ReadError> {
        let area: f64 = area.parse().map_err(|_| ReadError::NotASize {
            text: typed.to_owned(),
        })?;
        let tenths = (area * 10.0).round();
        // 0.75 mm2 is the one size sold that is not a whole tenth; it stands as 0.8.
        if let Some(&sold) = Self::METRIC.iter().find(|&&sold| f64::from(sold) == tenths) {
            return Ok(Self::Metric(sold));
        }
        let text = |tenths: u16| Self::Metric(tenths).area_text();
        let below = Self::METRIC.iter().rev().find(|&&sold| f64::from(sold) < tenths);
        let above = Self::METRIC.iter().find(|&&sold| f64::from(sold) > tenths);
        let nearest = match (below, above) {
            (Some(&below), Some(&above)) => format!("{} and {}", text(below), text(above)),
            (Some(&only), None) | (None, Some(&only)) => text(only),
            (None, None) => {
                return Err(ReadError::NotASize {
                    text: typed.to_owned(),
                });
            }
        };
        Err(ReadError::NoSuchSize {
            text: typed.to_owned(),
            nearest,
        })
    }

    fn around(size: Self, typed: &str) -> ReadError {
        let below = Self::ALL.into_iter().rev().find(|other| *other < size);
        let above = Self::ALL.into_iter().find(|other| *other > size);
        no_such(typed, below, above)
    }

    /// Returns the size under which tables made for gauges are read: the nearest one that is not thicker.
    ///
    /// A gauge or kcmil size is itself. A metric size takes the next thinner gauge, which is the safe side.
    /// Nothing for a metric size thinner than 22 AWG.
    #[must_use]
    pub fn for_tables(self) -> Option<Self> {
        match self {
            Self::Metric(_) => Self::ALL.into_iter().rev().find(|size| *size <= self),
            gauge => Some(gauge),
        }
    }

    /// Returns the next thicker size of the tables, if there is one.
    #[must_use]
    pub fn next_thicker(self) -> Option<Self> {
        Self::ALL.into_iter().find(|size| *size > self)
    }

    /// Returns the metal cross-section in circular mils.
    ///
    /// *Formula* d = 5 mil x 92^((36 - n) / 39), area = d squared.
    /// *Returns* circular mils, unrounded.
    /// *Limits* geometry of a solid round conductor; a stranded one has the same metal area.
    /// *Source* ASTM B258.
    #[must_use]
    pub fn circular_mils(self) -> f64 {
        match self {
            Self::Awg(gauge) => 25.0 * 92f64.powf((36.0 - f64::from(gauge)) / 19.5),
            Self::Kcmil(area) => f64::from(area) * 1000.0,
            Self::Metric(tenths) => f64::from(tenths) * 1e-7 / CIRCULAR_MIL,
        }
    }

    /// Returns the metal cross-section.
    #[must_use]
    pub fn area(self) -> Quantity {
        Quantity {
            kind: Kind::Area,
            base: self.circular_mils() * CIRCULAR_MIL,
        }
    }

    fn area_text(self) -> String {
        match self {
            Self::Metric(tenths) if tenths % 10 == 0 => format!("{} mm2", tenths / 10),
            Self::Metric(tenths) => format!("{}.{} mm2", tenths / 10, tenths % 10),
            gauge => gauge.to_string(),
        }
    }
}

fn no_such(typed: &str, below: Option<ConductorSize>, above: Option<ConductorSize>) -> ReadError {
    let nearest = match (below, above) {
        (Some(below), Some(above)) => format!("{below} and {above}"),
        (Some(only), None) | (None, Some(only)) => only.to_string(),
        (None, None) => String::new(),
    };
    ReadError::NoSuchSize {
        text: typed.to_owned(),
        nearest,
    }
}

impl Ord for ConductorSize {
    fn cmp(&self, other: &Self) -> Ordering {
        self.circular_mils().total_cmp(&other.circular_mils())
    }
}

impl PartialOrd for ConductorSize {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl fmt::Display for ConductorSize {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Awg(gauge @ 1..) => write!(f, "{gauge} AWG"),
            Self::Awg(oughts) => write!(f, "{}/0 AWG", 1 - oughts),
            Self::Kcmil(area) => write!(f, "{area} kcmil"),
            Self::Metric(_) => {
                f.write_str(&self.area_text())?;
                match self.for_tables() {
                    Some(size) => write!(f, " (as {size})"),
                    None => Ok(()),
                }
            }
        }
    }
}

impl From<ConductorSize> for String {
    fn from(size: ConductorSize) -> Self {
        size.to_string()
    }
}

impl TryFrom<String> for ConductorSize {
    type Error = ReadError;

    fn try_from(text: String) -> Result<Self, Self::Error> {
        Self::parse(&text)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_every_way_a_size_is_typed() {
        for (text, size) in [
            ("#8", ConductorSize::Awg(8)),
            ("8 AWG", ConductorSize::Awg(8)),
            ("8awg", ConductorSize::Awg(8)),
            ("8", ConductorSize::Awg(8)),
            ("10 gauge", ConductorSize::Awg(10)),
            ("1/0", ConductorSize::Awg(0)),
            ("#1/0 AWG", ConductorSize::Awg(0)),
            ("0", ConductorSize::Awg(0)),
            ("00", ConductorSize::Awg(-1)),
            ("4/0", ConductorSize::Awg(-3)),
            ("0000", ConductorSize::Awg(-3)),
            ("250", ConductorSize::Kcmil(250)),
            ("250 kcmil", ConductorSize::Kcmil(250)),
            ("250 MCM", ConductorSize::Kcmil(250)),
            ("10 mm2", ConductorSize::Metric(100)),
            ("10 mm\u{b2}", ConductorSize::Metric(100)),
            ("2.5mm2", ConductorSize::Metric(25)),
        ] {
            assert_eq!(ConductorSize::parse(text), Ok(size), "{text}");
        }
    }

    #[test]
    fn refuses_sizes_the_tables_do_not_have() {
        let refused = |text| ConductorSize::parse(text).unwrap_err().to_string();
        assert_eq!(
            refused("9 AWG"),
            "`9 AWG` is not a size of the conductor tables; the nearest are 10 AWG and 8 AWG"
        );
        assert!(refused("260 kcmil").contains("250 kcmil and 300 kcmil"));
        assert!(refused("600").contains("500 kcmil"));
        assert!(refused("5/0").contains("4/0 AWG and 250 kcmil"));
        assert!(refused("11 mm2").contains("10 mm2 and 16 mm2"));
        for text in [
            "", "thick", "-3", "8.5", "8 Cu", "#", "/0", "00000", "mm2", "nan mm2",
        ] {
            assert!(ConductorSize::parse(text).is_err(), "{text}");
        }
    }

    #[test]
    fn every_size_reads_back_and_they_stand_thin_to_thick() {
        for size in ConductorSize::ALL
            .into_iter()
            .chain(ConductorSize::METRIC.map(ConductorSize::Metric))
        {
            assert_eq!(ConductorSize::parse(&size.to_string()), Ok(size));
        }
        assert!(ConductorSize::ALL.is_sorted());
        assert!(ConductorSize::Awg(-3) < ConductorSize::Kcmil(250));
    }

    #[test]
    fn a_metric_size_is_looked_up_as_the_next_thinner_gauge() {
        // 10 mm2 is 19.7 kcmil, between 8 AWG (16.5) and 6 AWG (26.2).
        let ten = ConductorSize::Metric(100);
        assert_eq!(ten.for_tables(), Some(ConductorSize::Awg(8)));
        assert_eq!(ten.to_string(), "10 mm2 (as 8 AWG)");
        assert!((ten.circular_mils() - 19_735.0).abs() < 1.0);
        // 16 mm2 is thinner than 4 AWG (21.15 mm2) and thicker than 6 AWG (13.30 mm2).
        assert_eq!(
            ConductorSize::Metric(160).for_tables(),
            Some(ConductorSize::Awg(6))
        );
    }

    #[test]
    fn areas_agree_with_the_wire_gauge_standard() {
        // ASTM B258: 10 AWG is 0.1019 in across, 4/0 is 0.4600 in; 36 AWG is 5 mil by definition.
        assert!((ConductorSize::Awg(10).circular_mils() - 10_383.0).abs() < 1.0);
        assert!((ConductorSize::Awg(-3).circular_mils() - 211_600.0).abs() < 1.0);
        assert!((ConductorSize::Awg(36).circular_mils() - 25.0).abs() < 1e-9);
    }
}
