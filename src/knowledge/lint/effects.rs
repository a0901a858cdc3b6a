//! Effects and states nobody reads, and complaints the effect `complaint` does not have.

use crate::knowledge::behind::COMPLAINT;
use crate::knowledge::document::Section;
use crate::knowledge::finding::Code;
use crate::knowledge::model::{Effect, EffectIndex, Knowledge};

use super::scope::Scope;

pub(super) fn check(scope: &Scope<'_>) {
    for (index, effect) in scope.knowledge.effects.iter().enumerate() {
        if effect.id == COMPLAINT {
            complaints(scope, effect);
        } else {
            read(scope, EffectIndex(index), effect);
        }
    }
}

fn read(scope: &Scope<'_>, index: EffectIndex, effect: &Effect) {
    let place = || scope.documents.entry(Section::Effect, &effect.id);
    let shown = shown(scope.knowledge, index);
    if !shown.contains(&true) {
        scope.sink.warning(
            Code::UnreadEffect,
            place(),
            format!("no test shows anything of the effect `{}`", effect.id),
            "name it under `shows` of the outcomes that tell its states, or remove it",
        );
        return;
    }
    // What is ordinary needs no outcome: a test may be asked only once something is known not to be.
    let most = effect.states.iter().map(|state| state.usual).fold(0.0, f64::max);
    for (state, shown) in effect.states.iter().zip(shown) {
        if !shown && state.usual < most {
            scope.sink.warning(
                Code::UnshownState,
                place(),
                format!("no outcome shows state `{}` of effect `{}`", state.id, effect.id),
                "name it under `shows` of an outcome, or remove it",
            );
        }
    }
}

/// By state: whether an outcome shows it, or an effect that is shared another way where it holds is shown.
fn shown(knowledge: &Knowledge, effect: EffectIndex) -> Vec<bool> {
    let mut shown = vec![false; knowledge.effects[effect].states.len()];
    let outcomes = knowledge.tests.iter().flat_map(|test| &test.outcomes);
    for part in outcomes.flat_map(|outcome| &outcome.shows) {
        if part.effect == effect {
            for state in &part.states {
                shown[*state] = true;
            }
        }
    }
    for (below, known) in knowledge.effects.iter().enumerate() {
        let Some(follows) = known.follows.as_ref().filter(|follows| follows.effect == effect) else {
            continue;
        };
        if self::shown(knowledge, EffectIndex(below)).contains(&true) {
            for (state, given) in shown.iter_mut().zip(&follows.given) {
                *state |= given.is_some();
            }
        }
    }
    shown
}

fn complaints(scope: &Scope<'_>, effect: &Effect) {
    let trees = || scope.knowledge.trees.iter().filter(|tree| tree.is_complaint());
    for tree in trees().filter(|tree| effect.states.iter().all(|state| state.id != tree.id)) {
        scope.sink.error(
            Code::UnlistedComplaint,
            scope.documents.tree(&tree.id),
            format!(
                "the complaint `{}` is no state of the effect `{COMPLAINT}`",
                tree.id
            ),
            "add it there, with how often it is what one is called for",
        );
    }
    for state in effect
        .states
        .iter()
        .filter(|state| trees().all(|tree| tree.id != state.id))
    {
        scope.sink.error(
            Code::UnlistedComplaint,
            scope.documents.entry(Section::Effect, &effect.id),
            format!(
                "`{}` is a state of the effect `{COMPLAINT}` and no complaint",
                state.id
            ),
            "remove it, or write the tree of that complaint",
        );
    }
}
