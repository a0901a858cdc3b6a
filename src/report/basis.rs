//! What a figure or a defect rests on: the facts and readings that went into it, by name and in words.

use indexmap::IndexMap;

use crate::knowledge::model::{InputFrom, OutcomeIndex, TestIndex, TestKind};
use crate::walk::Walk;

use super::form::InputShown;
use super::given::fact_words;

/// What went into the calculation of a test; nothing for any other test.
pub(super) fn inputs(walk: &Walk<'_>, test: TestIndex) -> Vec<InputShown> {
    match &walk.knowledge().tests[test].kind {
        TestKind::Calculation { inputs, .. } => inputs_of(walk, inputs),
        _ => Vec::new(),
    }
}

/// The facts and readings among some inputs that are known.
pub(super) fn inputs_of(walk: &Walk<'_>, from: &IndexMap<String, InputFrom>) -> Vec<InputShown> {
    let knowledge = walk.knowledge();
    from.values()
        .filter_map(|from| match from {
            InputFrom::Fact(fact) => {
                let value = walk.fact(*fact).flatten()?;
                Some(InputShown {
                    name: knowledge.facts[*fact].name.clone(),
                    said: fact_words(walk, *fact, value),
                    measured: false,
                })
            }
            InputFrom::Reading(test) => Some(InputShown {
                name: knowledge.tests[*test].name.clone(),
                said: walk.reading(*test)?.to_string(),
                measured: true,
            }),
            InputFrom::Fixed(_) => None,
        })
        .collect()
}

/// What showed the outcome of a test: the inputs of a calculation, the reading, or what was seen.
pub(super) fn shown_by(walk: &Walk<'_>, test: TestIndex, outcome: OutcomeIndex) -> Vec<InputShown> {
    let known = &walk.knowledge().tests[test];
    if matches!(known.kind, TestKind::Calculation { .. }) {
        return inputs(walk, test);
    }
    let label = &known.outcomes[outcome].label;
    vec![InputShown {
        name: known.name.clone(),
        said: walk
            .reading(test)
            .map_or_else(|| label.clone(), |reading| format!("{reading} ({label})")),
        measured: true,
    }]
}
