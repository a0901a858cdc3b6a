//! What readings of the case settle of the installation: the voltage of the source, and how hard compressor or heater really work.
//!
//! Only a reading near what the sound installation gives is taken for ordinary; one far off is what the causes are there to explain. A cause
//! that changes by itself what was read keeps its own values.

use crate::knowledge::model::{Knowledge, TestIndex};
use crate::walk::Walk;

use super::super::bench::Bench;
use super::super::faults::Change;
use super::super::installation::{Call, Installation, Plate};
use super::Tuned;

/// Share by which a voltage, and a current, may differ from what is expected to count as ordinary: utilities keep within 5 %, and a little
/// more at the unit (ANSI C84.1); motors and heaters by their load. Our choice, no source.
const VOLTS: f64 = 0.08;
const AMPS: f64 = 0.15;

/// Readings of each kind, the best first.
const SOURCE: [&str; 3] = [
    "voltage-at-panel-rest",
    "voltage-at-disconnect-rest",
    "voltage-at-unit-rest",
];
const COMPRESSOR: [&str; 2] = ["compressor-running-current", "unit-current-running"];
const HEATER: [&str; 1] = ["heater-amps"];

/// Values that decide by themselves what such a reading is.
const OF_SOURCE: [&str; 10] = [
    "utility",
    "wrong-volts",
    "same-leg",
    "phase",
    "high-leg",
    "service-neutral",
    "service-hot",
    "floating-neutral",
    "source",
    "service-drop",
];
const OF_COMPRESSOR: [&str; 13] = [
    "head",
    "turns",
    "capacitor",
    "capacitor-short",
    "stiff",
    "locked",
    "windings-unequal",
    "winding-open",
    "winding-leak",
    "fan-load",
    "fan-open",
    "fan-locked",
    "reversed",
];
const OF_HEATER: [&str; 4] = ["heat-power", "heat-dead", "heat-stuck", "heat-leak"];

/// Times the interval of the compressor's load is halved.
const HALVINGS: usize = 12;

/// What the readings settle: each value with the keys that keep it from a cause.
#[derive(Default)]
pub(super) struct Tuning {
    settled: Vec<(Change, &'static [&'static str])>,
    /// The readings it was made of.
    pub(super) from: Vec<Tuned>,
}

impl Tuning {
    /// Works it out from the readings of a walk.
    pub(super) fn of(walk: &Walk<'_>, plate: &Plate, mode: Call) -> Self {
        let mut tuning = Self::default();
        let bench = |tuning: &Self, change: Option<Change>| {
            let mut changes = tuning.changes(&[]);
            changes.extend(change);
            Bench::new(Installation::sound(plate.clone()).with(&changes, 0.5, 1), mode)
        };
        if let Some((id, read, ordinary)) = first(walk, &SOURCE, &bench(&tuning, None), VOLTS) {
            tuning.settle(walk.knowledge(), id, "utility", read / ordinary, &OF_SOURCE);
        }
        if mode == Call::Heat
            && let Some((id, read, ordinary)) = first(walk, &HEATER, &bench(&tuning, None), AMPS)
        {
            tuning.settle(walk.knowledge(), id, "heat-power", read / ordinary, &OF_HEATER);
        }
        if mode == Call::Cooling
            && let Some((id, read, _)) = first(walk, &COMPRESSOR, &bench(&tuning, None), AMPS)
        {
            let (mut low, mut high) = (0.4, 1.8);
            for _ in 0..HALVINGS {
                let middle = f64::midpoint(low, high);
                let amps = bench(&tuning, Some(always("head", middle))).reading(id);
                if amps.is_ok_and(|amps| amps < read) {
                    low = middle;
                } else {
                    high = middle;
                }
            }
            tuning.settle(walk.knowledge(), id, "head", low, &OF_COMPRESSOR);
        }
        tuning
    }

    fn settle(
        &mut self,
        knowledge: &Knowledge,
        id: &str,
        key: &str,
        value: f64,
        of: &'static [&'static str],
    ) {
        let name = knowledge
            .test(id)
            .map_or_else(|| id.to_owned(), |test| knowledge.tests[test].name.clone());
        self.settled.push((always(key, value), of));
        self.from.push(Tuned {
            test: id.to_owned(),
            name,
        });
    }

    /// The values settled for a fault that changes some by itself.
    pub(super) fn changes(&self, fault: &[Change]) -> Vec<Change> {
        let own = |keys: &[&str]| fault.iter().any(|change| keys.contains(&change.key.as_str()));
        let settled = self.settled.iter().filter(|(_, keys)| !own(keys));
        settled.map(|(change, _)| change.clone()).collect()
    }
}

fn always(key: &str, value: f64) -> Change {
    Change {
        key: key.to_owned(),
        range: (value, value),
    }
}

/// The first of some readings that was taken and is near what the bench gives: its id, what was read, what the bench gives.
fn first(
    walk: &Walk<'_>,
    ids: &[&'static str],
    bench: &Bench,
    near: f64,
) -> Option<(&'static str, f64, f64)> {
    ids.iter().find_map(|id| {
        let test: TestIndex = walk.knowledge().test(id)?;
        let read = walk.reading(test)?.base;
        let ordinary = bench.reading(id).ok()?;
        ((read / ordinary - 1.0).abs() <= near).then_some((*id, read, ordinary))
    })
}
