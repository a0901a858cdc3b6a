//! Short wordings that pictures and page share.

use crate::knowledge::model::{Hazard, State, Strength, Test, TestKind, Tree};
use crate::report::text;

/// An id as words: `supply-path` is the supply path.
pub(super) fn spoken(id: &str) -> String {
    let mut words = id.replace('-', " ");
    if let Some(first) = words.get_mut(0..1) {
        first.make_ascii_uppercase();
    }
    words
}

/// What a tree is called: its complaint, or its id as words when it is shared.
pub(super) fn name_of(tree: &Tree) -> String {
    tree.complaint.clone().unwrap_or_else(|| spoken(&tree.id))
}

/// Kind of a test.
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

/// One line about a test: kind, state unless `ENERGISED` is said beside it, time, hazard.
pub(super) fn manner(test: &Test, with_energised: bool) -> String {
    let mut parts = vec![kind(test).to_owned()];
    if with_energised || test.state == State::LockedOut {
        parts.push(text::state(test.state).to_owned());
    }
    parts.extend(minutes(test));
    if test.hazard > Hazard::Low {
        parts.push(text::hazard(test.hazard).to_owned());
    }
    parts.join(", ")
}

/// Says how an outcome speaks about a cause.
pub(super) fn strength(strength: Strength) -> &'static str {
    match strength {
        Strength::RulesOut => "rules out",
        Strength::ArguesAgainst => "argues against",
        Strength::Weak => "weak",
        Strength::Moderate => "moderate",
        Strength::Strong => "strong",
        Strength::NearlyProves => "nearly proves",
    }
}
