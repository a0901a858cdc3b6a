//! Schema of causes.

use serde_json::{Value as Json, json};

use super::pieces::{file, parts, prose, sources, table};
use crate::knowledge::model::Knowledge;
use crate::knowledge::validate::words;

pub(super) fn causes(knowledge: &Knowledge) -> Json {
    let advice = table(
        &[
            ("text", prose("What to do.")),
            (
                "rule",
                prose("The rule that asks for it; left out for good practice."),
            ),
        ],
        &["text"],
    );
    let entry = table(
        &[
            ("name", prose("Name shown to a person.")),
            ("place", word_of_place()),
            (
                "job",
                super::pieces::word(
                    words::JOBS,
                    "Whose job the repair is: line side, load side, beyond the meter.",
                ),
            ),
            (
                "parts",
                parts(
                    knowledge,
                    "Considered only for equipment that has all these parts.",
                ),
            ),
            ("base", super::of_effects::base()),
            (
                "family",
                super::pieces::text("The family whose share counts where it is silent."),
            ),
            ("does", super::of_effects::does(knowledge)),
            ("mechanism", prose("How it makes the trouble.")),
            ("remedy", prose("What must be done, as an order.")),
            (
                "proof",
                prose("The reading that proves the repair, with figures."),
            ),
            ("caution", prose("What can hurt, and how to keep clear of it.")),
            (
                "exposes",
                super::pieces::several(
                    words::EXPOSURES,
                    "What it opens or comes near to; the caution for it is added.",
                ),
            ),
            (
                "repair-minutes",
                json!({ "type": "number", "minimum": 1, "maximum": 10000, "description": "Minutes of the repair with its proof." }),
            ),
            ("requires", super::of_requirements::requires(knowledge)),
            (
                "prevent",
                json!({ "type": "array", "items": advice, "description": "What keeps it from coming back." }),
            ),
            ("source", sources()),
        ],
        &[
            "name",
            "place",
            "job",
            "mechanism",
            "remedy",
            "proof",
            "caution",
            "source",
        ],
    );
    file("lineside: causes", "cause", &entry)
}

fn word_of_place() -> Json {
    super::pieces::word(
        words::PLACES,
        "Where it sits on the way from the utility to the load.",
    )
}
