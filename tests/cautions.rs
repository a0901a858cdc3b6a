//! What every cause or test of a kind must carry, whoever writes the next one: its cautions, and a proof for the visit.

use std::sync::LazyLock;

use lineside::knowledge::exposure::Exposure;
use lineside::knowledge::model::Knowledge;
use lineside::knowledge::{self};

static KNOWLEDGE: LazyLock<Knowledge> = LazyLock::new(|| knowledge::embedded().expect("it is sound"));

/// Words of a repair that opens the refrigerant circuit.
const OPENS_THE_CIRCUIT: [&str; 7] = [
    "evacuate",
    "recover, ",
    "weigh in",
    "braze",
    "replace the compressor",
    "deep vacuum",
    "gauges show",
];

fn has_one(text: &str, words: &[&str]) -> bool {
    let text = text.to_lowercase();
    words.iter().any(|word| text.contains(word))
}

/// A flammable refrigerant is met without warning: whoever opens the circuit is told each time (UL 60335-2-40 annex DD
/// as equipment manuals repeat it; see `knowledge/exposure.rs`).
#[test]
fn whoever_opens_the_refrigerant_circuit_is_told_that_it_may_burn() {
    let caution = Exposure::Refrigerant.caution();
    let (mut seen, mut silent) = (0, Vec::new());
    for cause in &KNOWLEDGE.causes {
        let own = cause.caution.replace(caution, "");
        let repair = format!("{} {} {own}", cause.remedy, cause.proof);
        if has_one(&repair, &OPENS_THE_CIRCUIT) {
            seen += 1;
            if !cause.caution.contains(caution) {
                silent.push(&cause.id);
            }
        }
    }
    for test in &KNOWLEDGE.tests {
        if has_one(&test.instrument, &["gauges", "manifold set", "acid test"])
            && test.parts.contains(&"compressor".to_owned())
        {
            seen += 1;
            if !test.caution.contains(caution) {
                silent.push(&test.id);
            }
        }
    }
    assert!(
        silent.is_empty() && seen > 10,
        "{seen} seen, of them without the caution: {silent:?}"
    );
}

/// A pin can blow out of a charged shell ("Take Care When Inspecting Compressor Terminals", achrnews.com).
#[test]
fn whoever_comes_near_a_compressors_pins_is_told_to_read_at_the_far_end() {
    let caution = Exposure::CompressorTerminals.caution();
    for id in [
        "grounded-compressor-winding",
        "open-compressor-winding",
        "shorted-compressor-turns",
        "burnt-compressor-terminal-or-lead",
        "locked-compressor",
        "inverter-compressor-winding",
    ] {
        let cause = &KNOWLEDGE.causes[KNOWLEDGE.cause(id).expect(id)];
        assert!(cause.caution.contains(caution), "cause `{id}`");
    }
    for id in [
        "compressor-terminals-look",
        "compressor-windings",
        "compressor-insulation",
    ] {
        let test = &KNOWLEDGE.tests[KNOWLEDGE.test(id).expect(id)];
        assert!(test.caution.contains(caution), "test `{id}`");
    }
}

/// A melted plug bares live metal: it is pulled dead.
#[test]
fn a_hot_plug_is_pulled_dead() {
    for id in ["worn-receptacle-or-plug", "generator-cord-too-thin"] {
        let caution = KNOWLEDGE.causes[KNOWLEDGE.cause(id).expect(id)]
            .caution
            .to_lowercase();
        assert!(
            caution.contains("breaker off before") || caution.contains("open the breaker at the source"),
            "cause `{id}`: {caution}"
        );
    }
}

/// A repair whose only proof is a month without trouble is not proved when the technician leaves.
#[test]
fn every_proof_that_has_to_wait_has_one_before_leaving_beside_it() {
    let waits = [
        "month",
        "week",
        "storm",
        "next rain",
        "after rain",
        "heavy rain",
        "design day",
        "next day",
        "a day of",
        "a day with",
        "through a day",
        "over a day",
        "cold night",
        "humid day",
        "hot or cold day",
    ];
    let waiting: Vec<_> = KNOWLEDGE
        .causes
        .iter()
        .filter(|cause| has_one(&cause.proof, &waits))
        .collect();
    assert!(waiting.len() > 20, "{}", waiting.len());
    let without: Vec<_> = waiting
        .iter()
        .filter(|cause| !cause.proof.starts_with("Before leaving: ") || !cause.proof.contains(". Then "))
        .map(|cause| &cause.id)
        .collect();
    assert!(without.is_empty(), "{without:?}");
}
