//! What speaks for a cause and against it: by effect, each once, with how often the cause brings it.

use crate::inference::Finding;
use crate::knowledge::model::{Cause, CauseIndex, EffectIndex, Outcome, Shown, Test};
use crate::walk::Walk;

use super::case::finding_text;
use super::form::EvidenceItem;

/// An outcome this many times more frequent with a cause than usual is said to find it. Our choice, no source.
const FINDS: f64 = 3.0;

/// The findings that bear on a cause. Those that show one effect stand together under the one that says most.
pub(super) fn evidence(walk: &Walk<'_>, weights: &[Vec<f64>], cause: CauseIndex) -> Vec<EvidenceItem> {
    let Some(place) = walk.model().and_then(|model| model.place(cause)) else {
        return Vec::new();
    };
    let mut by_weight: Vec<(f64, &Finding)> = weights
        .iter()
        .map(|weights| weights[place])
        .zip(walk.findings())
        .collect();
    by_weight.sort_by(|a, b| b.0.abs().total_cmp(&a.0.abs()));
    let mut items: Vec<(Option<EffectIndex>, EvidenceItem)> = Vec::new();
    for (bits, finding) in by_weight {
        let test = &walk.knowledge().tests[finding.test.0];
        let outcome = &test.outcomes[finding.outcome.0];
        let text = finding_text(walk, finding.test, finding.outcome);
        let (effect, because) = reason(walk, cause, outcome);
        let same = |(known, item): &&mut (Option<EffectIndex>, EvidenceItem)| {
            effect.is_some() && *known == effect && (item.bits > 0.0) == (bits > 0.0)
        };
        if let Some((_, item)) = items.iter_mut().find(same) {
            item.bits += bits;
            item.with.push(text);
        } else {
            items.push((effect, item(test, outcome, text, because, bits)));
        }
    }
    items.into_iter().map(|(_, item)| item).collect()
}

fn item(test: &Test, outcome: &Outcome, text: String, because: Option<String>, bits: f64) -> EvidenceItem {
    EvidenceItem {
        test: test.id.clone(),
        outcome: outcome.id.clone(),
        text,
        because,
        with: Vec::new(),
        bits,
    }
}

/// The effect through which an outcome bears on a cause, and what it says in words; no effect where the outcome finds the
/// cause by itself.
fn reason(walk: &Walk<'_>, cause: CauseIndex, outcome: &Outcome) -> (Option<EffectIndex>, Option<String>) {
    if let Some((_, chance)) = outcome.finds.iter().find(|(of, _)| *of == cause) {
        let said = (*chance > FINDS * outcome.usual).then(|| "its own finding".to_owned());
        return (None, said);
    }
    let known = &walk.knowledge().causes[cause.0];
    let most = outcome
        .shows
        .iter()
        .filter_map(|shown| Some((shown, says(walk, known, shown)?)))
        .max_by(|a, b| a.1.ratio.abs().total_cmp(&b.1.ratio.abs()));
    match most {
        Some((shown, says)) => (Some(shown.effect), Some(says.words)),
        None => (outcome.shows.first().map(|shown| shown.effect), None),
    }
}

/// What a cause does to the states an outcome shows.
struct Says {
    words: String,
    /// Log of its share over the usual one.
    ratio: f64,
}

fn says(walk: &Walk<'_>, cause: &Cause, shown: &Shown) -> Option<Says> {
    let does = cause.does.iter().find(|does| does.effect == shown.effect)?;
    let effect = &walk.knowledge().effects[shown.effect.0];
    let sum = |shares: &dyn Fn(usize) -> f64| shown.states.iter().map(|state| shares(*state)).sum::<f64>();
    let share = sum(&|state| does.shares[state]);
    let usual = sum(&|state| effect.states[state].usual);
    let state = shown
        .states
        .iter()
        .max_by(|a, b| does.shares[**a].total_cmp(&does.shares[**b]))?;
    Some(Says {
        words: format!(
            "with this one {} {}",
            how_often(share),
            effect.states[*state].says
        ),
        ratio: (share / usual).ln(),
    })
}

/// A share in the words of a tradesman; the one table.
fn how_often(share: f64) -> &'static str {
    match share {
        share if share >= 0.9 => "nearly always",
        share if share >= 0.65 => "mostly",
        share if share >= 0.35 => "often",
        share if share >= 0.12 => "at times",
        share if share >= 0.02 => "seldom",
        _ => "hardly ever",
    }
}
