//! The states of every effect by id, for those who name them, and the chances they are given.

use rustc_hash::FxHashMap;

use crate::knowledge::chance::{CHANCES, spread};
use crate::knowledge::fields::{Text, no_such_word, pairs_of};
use crate::knowledge::finding::{Code, Sink};
use crate::knowledge::model::EffectIndex;
use crate::knowledge::nearest;
use crate::knowledge::raw::{Placed, Raw};

/// How far shares and chances may be from 1 before it is a slip rather than rounding.
pub(super) const SUM_TOLERANCE: f64 = 0.002;

/// One effect: its id, the places of its states by id, and their usual shares.
pub(super) struct StatesOf {
    pub(super) id: String,
    pub(super) places: FxHashMap<String, usize>,
    pub(super) usual: Vec<f64>,
}

/// States of every effect.
#[derive(Default)]
pub(super) struct States(pub(super) Vec<StatesOf>);

impl States {
    pub(super) fn find(&self, effect: EffectIndex, text: &Text<'_>, sink: &Sink) -> Option<usize> {
        let effect = &self.0[effect.place()];
        let found = effect.places.get(text.text).copied();
        if found.is_none() {
            sink.error(
                Code::UnknownState,
                text.place.clone(),
                format!("effect `{}` has no state `{}`", effect.id, text.text),
                nearest::did_you_mean_after(
                    sink.count(),
                    text.text,
                    effect.places.keys().map(String::as_str),
                    "use one of its states, or add this one to the effect",
                ),
            );
        }
        found
    }

    /// A table of states and chances as a whole distribution.
    pub(super) fn shares(
        &self,
        effect: EffectIndex,
        value: &Placed<Raw<'_>>,
        file: usize,
        sink: &Sink,
    ) -> Option<Vec<f64>> {
        let Some(table) = value.get_ref().as_table() else {
            sink.error(
                Code::WrongType,
                value.in_file(file),
                "expected a table in braces of states and chances",
                "write `{ state = \"mostly\" }`",
            );
            return None;
        };
        let usual = &self.0[effect.place()].usual;
        let mut named = vec![None; usual.len()];
        for (state, value) in pairs_of(file, table) {
            let found = self.find(effect, &state, sink);
            let chance = chance(&state, value, sink);
            if let (Some(found), Some(chance)) = (found, chance) {
                named[found] = Some(chance);
            }
        }
        let total: f64 = named.iter().flatten().sum();
        if total > 1.0 + SUM_TOLERANCE {
            sink.error(
                Code::ChanceSum,
                value.in_file(file),
                format!("the chances add up to {total:.2}, more than 1"),
                "lower them; states that are not named share what is left",
            );
        }
        Some(spread(usual, &named))
    }
}

/// A chance: a word or a number between 0 and 1.
pub(super) fn chance(name: &Text<'_>, value: &Placed<Raw<'_>>, sink: &Sink) -> Option<f64> {
    let place = value.in_file(name.place.file);
    if let Raw::Text(text) = value.get_ref() {
        let found = CHANCES.iter().find(|(word, _)| *word == &**text);
        if found.is_none() {
            let known: Vec<&str> = CHANCES.iter().map(|(word, _)| *word).collect();
            no_such_word("chance", &Text { text, place }, &known, sink);
        }
        return found.map(|(_, chance)| *chance);
    }
    let number = value.get_ref().as_number();
    let number = number.filter(|chance| *chance > 0.0 && *chance < 1.0);
    if number.is_none() {
        sink.error(
            Code::BadFigure,
            place,
            format!(
                "the chance of `{}` is no number between 0 and 1 and no word",
                name.text
            ),
            "write a word such as \"mostly\", or a number above 0 and below 1",
        );
    }
    number
}
