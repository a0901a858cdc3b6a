//! What is said of effects, in words: "mostly (80 %) the 24 V is gone".

use super::chance;
use super::model::{Commonness, Effect, Knowledge, Shown};

/// A state is named from this share on where it is met as often as usual or oftener, and from `WORTH_NAMING_ANYWAY` on in
/// any case.
const WORTH_NAMING: f64 = 0.1;
const WORTH_NAMING_ANYWAY: f64 = 0.25;

/// A smaller one is named as well where it is this many times its usual share, and not less than `LEAST`.
const TIMES_USUAL: f64 = 3.0;
const LEAST: f64 = 0.03;

/// A share in per cent: "0.4 %", "62 %".
#[must_use]
pub fn percent(share: f64) -> String {
    let percent = share * 100.0;
    if percent < 0.95 {
        format!("{percent:.1} %")
    } else {
        format!("{percent:.0} %")
    }
}

/// The states worth naming out of a distribution, the likeliest first; never none.
#[must_use]
pub fn worth_naming(effect: &Effect, shares: &[f64]) -> Vec<usize> {
    let mut states: Vec<usize> = (0..shares.len()).collect();
    states.sort_by(|a, b| shares[*b].total_cmp(&shares[*a]));
    let named = |state: usize| {
        let (share, usual) = (shares[state], effect.states[state].usual);
        share >= WORTH_NAMING_ANYWAY
            || share >= WORTH_NAMING && share >= usual
            || share >= LEAST && share >= TIMES_USUAL * usual
    };
    let likeliest = states.first().copied();
    states.retain(|state| Some(*state) == likeliest || named(*state));
    states
}

/// A distribution over the states of an effect: how often which state, the likeliest first.
#[must_use]
pub fn in_words(effect: &Effect, shares: &[f64]) -> String {
    let said: Vec<String> = worth_naming(effect, shares)
        .into_iter()
        .map(|state| {
            let share = shares[state];
            format!(
                "{} ({}) {}",
                chance::word(share),
                percent(share),
                effect.states[state].says
            )
        })
        .collect();
    said.join("; ")
}

/// The states an outcome shows of one effect: "the lug is burnt, or the wire is burnt".
#[must_use]
pub fn shown(knowledge: &Knowledge, shown: &Shown) -> String {
    let states = &knowledge.effects[shown.effect].states;
    let said: Vec<&str> = shown
        .states
        .iter()
        .map(|state| states[*state].says.as_str())
        .collect();
    said.join("; or ")
}

/// How common a cause is behind callbacks, with the parts that change it: "rare; with three-phase common".
#[must_use]
pub fn commonness(base: &Commonness) -> String {
    let mut text = base.usual.in_words().to_owned();
    for (part, word) in &base.with {
        text.push_str(&format!("; with {part} {}", word.in_words()));
    }
    text
}

#[cfg(test)]
mod tests {
    use super::super::model::EffectState;
    use super::*;

    fn effect(usual: &[f64]) -> Effect {
        Effect {
            id: "lug".to_owned(),
            name: "The lug".to_owned(),
            states: usual
                .iter()
                .zip(["firm", "loose", "burnt"])
                .map(|(usual, id)| EffectState {
                    id: id.to_owned(),
                    usual: *usual,
                    says: format!("the lug is {id}"),
                    all_clear: false,
                })
                .collect(),
            on_complaint: Vec::new(),
            follows: None,
        }
    }

    #[test]
    fn the_likeliest_comes_first_and_what_is_as_usual_is_left_out() {
        let lug = effect(&[0.9, 0.08, 0.02]);
        assert_eq!(
            in_words(&lug, &[0.3, 0.65, 0.05]),
            "often (65 %) the lug is loose; sometimes (30 %) the lug is firm"
        );
        assert_eq!(worth_naming(&lug, &[0.15, 0.78, 0.07]), [1, 2]);
        assert_eq!(worth_naming(&lug, &[0.91, 0.05, 0.04]), [0]);
        let many = effect(&[0.05, 0.05, 0.05]);
        assert_eq!(worth_naming(&many, &[0.05, 0.06, 0.05]), [1]);
    }
}
