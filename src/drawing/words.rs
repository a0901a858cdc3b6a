//! Short wordings that pictures and page share.

use crate::knowledge::model::{Hazard, State, Test, TestKind, Tree};

/// An id as words: `supply-path` is the supply path.
pub(super) fn spoken(id: &str) -> String {
    capital(&id.replace('-', " "))
}

/// What a tree is called: its complaint, or its id as words when it is shared.
pub(super) fn name_of(tree: &Tree) -> String {
    tree.complaint.clone().unwrap_or_else(|| spoken(&tree.id))
}

pub(super) fn kind(test: &Test) -> &'static str {
    match test.kind {
        TestKind::Look => "look",
        TestKind::Reading { .. } => "reading",
        TestKind::Calculation { .. } => "calculation",
    }
}

/// Minutes, said shortly; nothing for a calculation, which takes none.
fn minutes(test: &Test) -> Option<String> {
    (test.minutes > 0.0).then(|| format!("{} min", test.minutes))
}

/// One line about a test: kind, state unless `ENERGIZED` is said beside it, time, hazard.
pub(super) fn manner(test: &Test, with_energised: bool) -> String {
    let mut parts = vec![kind(test).to_owned()];
    if with_energised || test.state == State::LockedOut {
        parts.push(test.state.in_words().to_owned());
    }
    parts.extend(minutes(test));
    if test.hazard > Hazard::Low {
        parts.push(test.hazard.in_words().to_owned());
    }
    parts.join(", ")
}

/// The same text with a capital first.
pub(super) fn capital(text: &str) -> String {
    let mut text = text.to_owned();
    if let Some(first) = text.get_mut(0..1) {
        first.make_ascii_uppercase();
    }
    text
}

/// A text of the knowledge that holds places for figures, such as `{least-size}`, with their names to be read.
pub(super) fn with_places(text: &str) -> String {
    let mut words = String::new();
    let mut rest = text;
    while let Some((before, after)) = rest.split_once('{') {
        let Some((place, after)) = after.split_once('}') else {
            break;
        };
        words.push_str(&format!("{before}[{}]", place.replace('-', " ")));
        rest = after;
    }
    words + rest
}

#[cfg(test)]
mod tests {
    use super::with_places;

    #[test]
    fn a_place_is_named() {
        assert_eq!(with_places("At least {least-size}."), "At least [least size].");
        assert_eq!(with_places("a { b"), "a { b");
    }
}
