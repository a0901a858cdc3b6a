//! How a closed case ended.

use crate::inference::words;

use super::CaseResult;

/// How a closed case was proved: by its last proof, or not at all.
pub(super) fn how_proved(result: &CaseResult) -> String {
    let proved = result.closed.as_ref().is_some_and(|closed| closed.proved);
    let standing = result.closed.as_ref().map_or(&[][..], |closed| &closed.standing);
    if !standing.is_empty() {
        return format!("a guess: closed with a danger standing: {}", standing.join("; "));
    }
    match result.head.proofs.last() {
        _ if !proved => "not proved: a guess".to_owned(),
        Some(proof) => format!("proved: {}", proof.text.trim_end_matches('.')),
        None => "proved".to_owned(),
    }
}

/// That a case was closed with another cause than the answers lead to, where it was.
pub(super) fn against(result: &CaseResult) -> Option<String> {
    let closed = result.closed.as_ref()?;
    let leader = result.standing.first()?;
    if closed.cause.as_ref() == Some(&leader.cause) {
        return None;
    }
    let own = result
        .standing
        .iter()
        .find(|cause| Some(&cause.cause) == closed.cause.as_ref())
        .map_or_else(
            || "what it was closed with is not listed".to_owned(),
            |cause| {
                format!(
                    "what it was closed with stands at {}",
                    words::percent(cause.probability)
                )
            },
        );
    Some(format!(
        "Closed against what the answers say: they lead to {} ({}); {own}.",
        leader.name,
        words::percent(leader.probability)
    ))
}
