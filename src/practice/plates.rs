//! What stands on the plates of everyday equipment, and what meters mostly read on it: `plates.toml`, which is invented.

use std::sync::LazyLock;

use fastrand::Rng;
use indexmap::IndexMap;
use serde::Deserialize;

/// One plate: ids of facts with what stands there.
type Plate = IndexMap<String, String>;

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct Plates {
    cooling: Vec<Plate>,
    three_phase: Plate,
    room_unit: Plate,
    furnace: Plate,
    electric_heat: Plate,
    any: Plate,
    others: IndexMap<String, Vec<String>>,
    usual: Vec<Usual>,
}

/// Between which figures a reading mostly lies in an outcome: in the unit of its test, or times a fact or another reading.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Usual {
    test: String,
    outcome: String,
    pub(super) low: f64,
    pub(super) high: f64,
    pub(super) of: Option<String>,
}

// A test reads the file, so that a released one can be read.
static PLATES: LazyLock<Plates> =
    LazyLock::new(|| toml::from_str(include_str!("plates.toml")).unwrap_or_default());

/// What stands on the plates of equipment with these parts. The first line of a fact counts.
pub(super) fn of(parts: &[String], rng: &mut Rng) -> Vec<(&'static str, &'static str)> {
    let has = |part: &str| parts.iter().any(|own| own == part);
    let plates = &*PLATES;
    let own = if has("three-phase") {
        Some(&plates.three_phase)
    } else if has("cord-and-plug") && has("circuit-neutral") {
        Some(&plates.room_unit)
    } else if has("compressor") {
        rng.choice(&plates.cooling)
    } else if has("electric-heat") {
        Some(&plates.electric_heat)
    } else if has("burner") {
        Some(&plates.furnace)
    } else {
        None
    };
    let lines = own.into_iter().chain([&plates.any]).flatten();
    lines
        .map(|(fact, typed)| (fact.as_str(), typed.as_str()))
        .collect()
}

/// What else may stand there, tried where a calculation should come out with a broken limit.
pub(super) fn others(fact: &str) -> &'static [String] {
    PLATES.others.get(fact).map_or(&[], Vec::as_slice)
}

/// What a test mostly reads in an outcome.
pub(super) fn usual(test: &str, outcome: &str) -> Option<&'static Usual> {
    let is_meant = |usual: &&Usual| usual.test == test && usual.outcome == outcome;
    PLATES.usual.iter().find(is_meant)
}

#[cfg(test)]
mod tests {
    use super::{PLATES, Plates};

    #[test]
    fn every_id_is_of_the_knowledge_and_every_value_can_be_typed() {
        let read: Result<Plates, _> = toml::from_str(include_str!("plates.toml"));
        assert!(read.is_ok(), "{:?}", read.err());
        let knowledge = crate::knowledge::embedded().expect("it is sound");
        let plates = &*PLATES;
        let own = [
            &plates.three_phase,
            &plates.room_unit,
            &plates.furnace,
            &plates.electric_heat,
            &plates.any,
        ];
        for id in plates.cooling.iter().chain(own).flat_map(|plate| plate.keys()) {
            assert!(knowledge.fact(id).is_some(), "no fact `{id}`");
        }
        for usual in &plates.usual {
            let (test, outcome) = (&usual.test, &usual.outcome);
            let known = knowledge.test(test).map(|test| &knowledge.tests[test]);
            assert!(
                known.is_some_and(|known| known.outcome(outcome).is_some()),
                "no `{test}/{outcome}`"
            );
            let of = usual.of.as_deref();
            assert!(
                of.is_none_or(|of| knowledge.fact(of).is_some() || knowledge.test(of).is_some()),
                "no {of:?}"
            );
        }
    }
}
