//! What can be marked at a question.

use crate::quantity::Word;
use crate::walk::{Question, Walk};

/// What can be marked at a question, by id and words.
pub(super) fn markable<'w>(walk: &'w Walk<'_>) -> Vec<(&'w str, &'w str)> {
    let knowledge = walk.knowledge();
    match walk.question() {
        Question::Accessories => {
            let own = walk.installation().map_or(&[][..], |own| &own.accessories);
            own.iter()
                .map(|id| {
                    let name = knowledge.accessory(id).map_or(id.as_str(), |known| &known.name);
                    (id.as_str(), name)
                })
                .collect()
        }
        Question::Offer { tests, .. } => tests
            .iter()
            .map(|test| &knowledge.tests[*test])
            .map(|test| (test.id.as_str(), test.name.as_str()))
            .collect(),
        Question::Able { among } => among
            .iter()
            .map(|ability| (ability.word(), ability.in_words()))
            .collect(),
        _ => Vec::new(),
    }
}

/// Whether a list in which entries are marked ends with a line for what was told besides.
pub(super) fn is_by_words(walk: &Walk<'_>) -> bool {
    matches!(walk.question(), Question::Offer { known: true, .. })
}
