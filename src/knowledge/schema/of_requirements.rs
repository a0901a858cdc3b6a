//! Schema of requirements.

use serde_json::Value as Json;

use super::of_tests::{calculation, inputs};
use super::pieces::{file, ids, parts, prose, table, word};
use crate::knowledge::model::Knowledge;
use crate::knowledge::validate::words;
use crate::standards::calculation::Calculation;

pub(super) fn requirements(knowledge: &Knowledge, catalog: &[Calculation]) -> Json {
    let entry = table(
        &[
            ("name", prose("What it is about.")),
            ("job", word(words::JOBS, "Whose job it is.")),
            (
                "parts",
                parts(knowledge, "Only for equipment that has all these parts."),
            ),
            ("calculation", calculation(catalog)),
            ("inputs", inputs()),
            (
                "says",
                prose("What it must become; `{output}` names an output of the calculation."),
            ),
        ],
        &["name", "job", "calculation", "says"],
    );
    file("lineside: requirements", "requirement", &entry)
}

/// The requirements a cause or a complaint names.
pub(super) fn requires(knowledge: &Knowledge) -> Json {
    ids(
        knowledge.requirements.iter().map(|one| one.id.as_str()),
        "What a repair must come to, worked out from the facts of the case.",
    )
}
