//! Words for what the walk found, and for what it still lacks.

use crate::knowledge::model::{InputFrom, OutcomeIndex, TestIndex, TestKind};
use crate::walk::{Event, Given, Walk};

pub(super) fn finding_text(walk: &Walk<'_>, test: TestIndex, outcome: OutcomeIndex) -> String {
    let knowledge = walk.knowledge();
    let label = &knowledge.tests[test].outcomes[outcome].label;
    let name = &knowledge.tests[test].name;
    let answer = walk.entries().iter().rev().find_map(|entry| match entry {
        Event::Answer { test: id, given, .. } if *id == knowledge.tests[test].id => Some(given),
        _ => None,
    });
    let doubt = match answer {
        Some(Given::Leaning(_)) => " (not sure)",
        _ => "",
    };
    match walk.reading(test) {
        Some(reading) => format!("{name}: {reading}, {}{doubt}", lower_first(label)),
        None => format!("{name}: {}{doubt}", lower_first(label)),
    }
}

/// What the words of a name speak of: the first entry of a table of which one stands in it. The name is in small letters.
pub(super) fn by_words<T: Copy>(name: &str, table: &[(T, &[&str])]) -> Option<T> {
    let speaks = |(_, words): &&(T, &[&str])| words.iter().any(|word| name.contains(word));
    table.iter().find(speaks).map(|(of, _)| *of)
}

/// Lowers a first letter that only begins a sentence; an abbreviation keeps its capitals.
pub(super) fn lower_first(text: &str) -> String {
    let mut letters = text.chars();
    match (letters.next(), letters.next()) {
        (Some(first), Some(second)) if !second.is_uppercase() => first
            .to_lowercase()
            .chain(std::iter::once(second))
            .chain(letters)
            .collect(),
        _ => text.to_owned(),
    }
}

/// Raises the first letter, as at the beginning of a sentence.
pub(super) fn upper_first(text: &str) -> String {
    let mut letters = text.chars();
    letters
        .next()
        .map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

pub(super) fn missing_inputs(walk: &Walk<'_>, test: TestIndex) -> Vec<String> {
    let knowledge = walk.knowledge();
    let TestKind::Calculation { inputs, .. } = &knowledge.tests[test].kind else {
        return Vec::new();
    };
    inputs
        .values()
        .filter_map(|from| match from {
            InputFrom::Fact(fact) if walk.fact(*fact).flatten().is_none() => {
                Some(knowledge.facts[*fact].name.clone())
            }
            InputFrom::Reading(reading) if walk.reading(*reading).is_none() => {
                Some(knowledge.tests[*reading].name.clone())
            }
            _ => None,
        })
        .collect()
}
