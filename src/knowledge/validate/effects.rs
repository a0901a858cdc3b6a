//! Effects, families, and what causes and outcomes say of them.

use rustc_hash::FxHashMap;

use crate::knowledge::document::{Entry, check_id};
use crate::knowledge::fields::{Fields, Key, Text, pairs_of};
use crate::knowledge::finding::Code;
use crate::knowledge::model::{
    COMPLAINT, CauseIndex, Does, Effect, EffectIndex, EffectState, Family, Follows, Shown,
};
use crate::knowledge::raw::Raw;

use super::context::Context;
use super::states::{SUM_TOLERANCE, States, StatesOf, chance};
use crate::knowledge::fields::keys::{effect as keys, family, state};

/// Reads what every effect is and the states it has; what it follows from is read by [`follow`], once all are known.
pub(super) fn effects<'c>(entries: &[Entry<'c>], context: Context<'c>) -> (Vec<Effect>, States) {
    let read = entries.iter().map(|entry| effect(entry, context));
    let (effects, states) = read.unzip();
    (effects, States(states))
}

fn effect<'c>(entry: &Entry<'c>, context: Context<'c>) -> (Effect, StatesOf) {
    let mut fields = context.fields("effect", entry);
    let name = fields.prose(keys::NAME);
    let mut states = Vec::new();
    let mut places = FxHashMap::default();
    for (id, value) in fields.pairs(keys::STATES) {
        check_id(id.text, id.place.clone(), context.sink);
        let mut inner = fields.inner(format!("state `{}`", id.text), value);
        let usual = inner.number(state::USUAL);
        let says = inner.prose(state::SAYS);
        let all_clear = inner.flag(state::ALL_CLEAR);
        inner.finish();
        places.insert(id.owned(), states.len());
        states.push(EffectState {
            id: id.owned(),
            usual,
            says,
            all_clear,
        });
    }
    fields.value(keys::FOLLOWS);
    let total: f64 = states.iter().map(|state| state.usual).sum();
    if !fields.broken() && (states.len() < 2 || (total - 1.0).abs() > SUM_TOLERANCE) {
        context.sink.error(
            Code::UsualSum,
            entry.place(),
            format!(
                "the `usual` shares of effect `{}` add up to {total:.3}, expected 1 over two states or more",
                entry.id()
            ),
            "correct the shares; they are those met among all callbacks",
        );
    }
    for state in &mut states {
        state.usual /= total.max(f64::MIN_POSITIVE);
    }
    fields.finish();
    let named = StatesOf {
        id: entry.id().to_owned(),
        places,
        usual: states.iter().map(|state| state.usual).collect(),
    };
    let effect = Effect {
        id: entry.id().to_owned(),
        name,
        states,
        on_complaint: Vec::new(),
        follows: None,
    };
    (effect, named)
}

/// Reads what each effect follows from.
pub(super) fn follow(entries: &[Entry<'_>], effects: &mut [Effect], context: Context<'_>) {
    for (own, (entry, effect)) in entries.iter().zip(&mut *effects).enumerate() {
        follows(EffectIndex(own), entry, effect, context);
    }
    for (place, entry) in entries.iter().enumerate() {
        if in_a_circle(place, effects) {
            context.sink.error(
                Code::EffectCircle,
                entry.place(),
                format!("effect `{}` follows from itself", entry.id()),
                "what follows from what must end at something that follows from nothing",
            );
            effects[place].follows = None;
        }
    }
}

/// Reads the rows `follows.OTHER.STATE`: how an effect is shared where another one is in a state.
fn follows(own: EffectIndex, entry: &Entry<'_>, effect: &mut Effect, context: Context<'_>) {
    let (file, sink) = (entry.file, context.sink);
    let parents = entry.value.get_ref().get(keys::FOLLOWS.name);
    let parents = parents.and_then(|value| value.get_ref().as_table());
    for (parent, rows) in parents.into_iter().flat_map(|table| pairs_of(file, table)) {
        let Some(other) = context.find(&context.effect_ids, &parent) else {
            continue;
        };
        let rows = rows.get_ref().as_table();
        for (state, row) in rows.into_iter().flat_map(|table| pairs_of(file, table)) {
            let Some(given) = context.states.find(other, &state, sink) else {
                continue;
            };
            let Some(shares) = context.states.shares(own, row, file, sink) else {
                continue;
            };
            if parent.text == COMPLAINT {
                effect.on_complaint.push((given, shares));
                continue;
            }
            let known = effect.follows.get_or_insert_with(|| Follows {
                effect: other,
                given: vec![None; context.states.0[other.place()].usual.len()],
            });
            if known.effect == other {
                known.given[given] = Some(shares);
            } else {
                sink.error(
                    Code::EffectCircle,
                    parent.place.clone(),
                    format!("effect `{}` follows from two others", entry.id()),
                    "let it follow from the complaint and one other effect at most",
                );
            }
        }
    }
}

fn in_a_circle(start: usize, list: &[Effect]) -> bool {
    let mut at = start;
    for _ in 0..=list.len() {
        match &list[at].follows {
            None => return false,
            Some(follows) if follows.effect.0 == start => return true,
            Some(follows) => at = follows.effect.0,
        }
    }
    false
}

/// Reads `does.EFFECT = { STATE = chance }` of a cause or a family.
pub(super) fn does(fields: &mut Fields<'_>, key: Key, context: Context<'_>) -> Vec<Does> {
    let file = fields.place().file;
    let pairs = fields.pairs(key).into_iter();
    let said = pairs.filter_map(|(name, value)| {
        let effect = context.find(&context.effect_ids, &name)?;
        Some(Does {
            effect,
            shares: context.states.shares(effect, value, file, context.sink)?,
            from_family: false,
        })
    });
    said.collect()
}

/// Reads the families: what is common to a kind of causes.
pub(super) fn families<'c>(entries: &[Entry<'c>], context: Context<'c>) -> Vec<Family> {
    let families = entries.iter().map(|entry| {
        let mut fields = context.fields("family", entry);
        let does = does(&mut fields, family::DOES, context);
        fields.finish();
        Family {
            id: entry.id().to_owned(),
            does,
        }
    });
    families.collect()
}

/// What an outcome shows: for each effect a state, or a list of states.
pub(super) fn shown(fields: &mut Fields<'_>, key: Key, context: Context<'_>) -> Vec<Shown> {
    let mut shown = Vec::new();
    for (name, value) in fields.pairs(key) {
        let Some(effect) = context.find(&context.effect_ids, &name) else {
            continue;
        };
        let written = match value.get_ref() {
            Raw::List(items) => items.as_slice(),
            _ => std::slice::from_ref(value),
        };
        let states = written.iter().filter_map(|value| {
            let Some(text) = value.get_ref().as_str() else {
                fields.wrong(name.text, value, "a state, or a list of states");
                return None;
            };
            let place = fields.at(value);
            context.states.find(effect, &Text { text, place }, context.sink)
        });
        shown.push(Shown {
            effect,
            states: states.collect(),
        });
    }
    shown
}

/// Which causes an outcome finds, with the chance of each.
pub(super) fn found(fields: &mut Fields<'_>, key: Key, context: Context<'_>) -> Vec<(CauseIndex, f64)> {
    let pairs = fields.pairs(key).into_iter();
    let found = pairs.filter_map(|(cause, value)| {
        let found = context.find(&context.causes, &cause);
        let chance = chance(&cause, value, context.sink);
        found.zip(chance)
    });
    found.collect()
}
