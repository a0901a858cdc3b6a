//! What can be marked at a question.

use crate::knowledge::model::{Outcome, TestIndex};
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

/// The outcomes of a look that can be true together, by id and words, and the one that says that none of them is.
pub(super) fn several<'w>(
    walk: &'w Walk<'_>,
    index: TestIndex,
) -> Option<(&'w Outcome, Vec<(&'w str, &'w str)>)> {
    let test = &walk.knowledge().tests[index];
    let offered = walk.outcomes_offered(index);
    let outcomes = || offered.iter().map(|outcome| &test.outcomes[*outcome]);
    let nothing = outcomes()
        .find(|outcome| outcome.says_nothing)
        .filter(|_| test.several)?;
    let others = outcomes().filter(|outcome| outcome.id != nothing.id);
    let others = others.map(|outcome| (outcome.id.as_str(), outcome.label.as_str()));
    Some((nothing, others.collect()))
}

/// Whether a list in which entries are marked ends with a line for what was told besides.
pub(super) fn is_by_words(walk: &Walk<'_>) -> bool {
    matches!(walk.question(), Question::Offer { known: true, .. })
}

/// The words of entries with their marks, below the one that ends the list.
pub(super) fn labels(choices: &[(&str, &str)], marked: &[&str], none: &str) -> Vec<String> {
    let end = match marked.len() {
        0 => none.to_owned(),
        1 => "That is all: go on with the 1 marked".to_owned(),
        count => format!("That is all: go on with the {count} marked"),
    };
    let mark = |id| if marked.contains(id) { "x" } else { " " };
    let entries = choices
        .iter()
        .map(|(id, words)| format!("[{}] {words}", mark(id)));
    std::iter::once(end).chain(entries).collect()
}

/// Marks an entry, or takes its mark back.
pub(super) fn turn<'c>(marked: &mut Vec<&'c str>, id: &'c str) {
    match marked.iter().position(|known| *known == id) {
        Some(known) => {
            marked.remove(known);
        }
        None => marked.push(id),
    }
}
