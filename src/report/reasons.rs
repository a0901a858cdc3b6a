//! What speaks for a cause and against it: by effect, each once, with how often the cause brings it.

use crate::inference::Answered;
use crate::inference::standing::Weight;
use crate::knowledge::model::{Cause, CauseIndex, EffectIndex, Outcome, Shown, Test};
use crate::walk::Walk;

use super::form::EvidenceItem;
use super::wording::finding_text;

/// From so many times the usual share on it is said to be more or less frequent. Our choice, no source.
const NOTABLY: f64 = 1.25;

/// A reason for a cause or against it.
pub(super) struct Reason {
    /// The cause is more probable with it than without.
    pub(super) raises: bool,
    /// The cause brings it at least as often as is usual: if it lowers the cause all the same, only because a rival brings it
    /// oftener still. That speaks against nothing.
    pub(super) fits: bool,
    pub(super) item: EvidenceItem,
    effect: Option<EffectIndex>,
}

/// The findings that bear on a cause. Those that show one effect stand together under the one that says most.
pub(super) fn evidence(walk: &Walk<'_>, weights: &[Vec<Weight>], cause: CauseIndex) -> Vec<Reason> {
    let Some(place) = walk.model().and_then(|model| model.place(cause)) else {
        return Vec::new();
    };
    let mut by_weight: Vec<(Weight, &Answered)> = weights
        .iter()
        .map(|weights| weights[place])
        .zip(walk.findings())
        .collect();
    by_weight.sort_by(|a, b| b.0.bits.abs().total_cmp(&a.0.bits.abs()));
    let mut reasons: Vec<Reason> = Vec::new();
    for (Weight { bits, raises }, finding) in by_weight {
        let test = &walk.knowledge().tests[finding.test];
        let outcome = &test.outcomes[finding.outcome];
        let text = finding_text(walk, finding.test, finding.outcome);
        let Says {
            effect,
            because,
            fits,
        } = reason(walk, cause, outcome, raises);
        let same = |known: &&mut Reason| {
            effect.is_some() && (known.effect, known.raises, known.fits) == (effect, raises, fits)
        };
        if let Some(known) = reasons.iter_mut().find(same) {
            known.item.bits += bits;
            known.item.with.push(text);
        } else {
            reasons.push(Reason {
                raises,
                fits,
                item: item(test, outcome, text, because, bits),
                effect,
            });
        }
    }
    reasons
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

/// Through what an outcome bears on a cause.
struct Says {
    /// The effect; none where the outcome finds the cause by itself.
    effect: Option<EffectIndex>,
    /// What it says, in words.
    because: Option<String>,
    /// The cause brings it at least as often as is usual.
    fits: bool,
}

fn reason(walk: &Walk<'_>, cause: CauseIndex, outcome: &Outcome, raises: bool) -> Says {
    if let Some(chance) = outcome.finding(cause) {
        let (how, others) = compared(chance, outcome.usual, raises);
        return Says {
            effect: None,
            because: Some(format!("{how} with this cause{others}")),
            fits: chance >= outcome.usual,
        };
    }
    let known = &walk.knowledge().causes[cause];
    let most = outcome
        .shows
        .iter()
        .filter_map(|shown| Some((shown, state(walk, known, shown, raises)?)))
        .max_by(|a, b| a.1.ratio.abs().total_cmp(&b.1.ratio.abs()));
    match most {
        Some((shown, state)) => Says {
            effect: Some(shown.effect),
            because: Some(state.words),
            fits: state.ratio >= 0.0,
        },
        None => Says {
            effect: outcome.shows.first().map(|shown| shown.effect),
            because: None,
            fits: false,
        },
    }
}

/// What a cause does to the states an outcome shows.
struct StateSaid {
    words: String,
    /// Log of its share over the usual one.
    ratio: f64,
}

fn state(walk: &Walk<'_>, cause: &Cause, shown: &Shown, raises: bool) -> Option<StateSaid> {
    let does = cause.does.iter().find(|does| does.effect == shown.effect)?;
    let effect = &walk.knowledge().effects[shown.effect];
    let sum = |shares: &dyn Fn(usize) -> f64| shown.states.iter().map(|state| shares(*state)).sum::<f64>();
    let share = sum(&|state| does.shares[state]);
    let usual = sum(&|state| effect.states[state].usual);
    let state = shown
        .states
        .iter()
        .max_by(|a, b| does.shares[**a].total_cmp(&does.shares[**b]))?;
    let (how, others) = compared(share, usual, raises);
    // Of several states one answer may stand for, which it was is not known.
    let seen = match shown.states.as_slice() {
        [_] => effect.states[*state].says.as_str(),
        _ => "such an answer",
    };
    Some(StateSaid {
        words: format!("{seen}: {how} with this cause{others}"),
        ratio: (share / usual).ln(),
    })
}

/// How often something comes with a cause, and who brings it more or less often, in words: others in general, or, where it
/// raises the cause although others bring it oftener, the rivals it is compared with.
fn compared(share: f64, usual: f64, raises: bool) -> (&'static str, &'static str) {
    let others = match (share / usual, raises) {
        (times, true) if times >= NOTABLY => ", less often with others",
        (times, false) if times <= 1.0 / NOTABLY => ", more often with others",
        (times, true) if times <= 1.0 / NOTABLY => ", less often still with its rivals",
        _ => "",
    };
    (how_often(share), others)
}

/// A share in the words of a tradesman; the one table.
fn how_often(share: f64) -> &'static str {
    match share {
        share if share >= 0.9 => "nearly always",
        share if share >= 0.65 => "most times",
        share if share >= 0.35 => "about half the time",
        share if share >= 0.12 => "now and then",
        share if share >= 0.02 => "seldom",
        _ => "hardly ever",
    }
}
