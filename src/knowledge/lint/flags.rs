//! Flags that say nothing where they stand, and two that cannot both hold.

use crate::knowledge::document::{Leg, Section};
use crate::knowledge::fields::Key;
use crate::knowledge::fields::keys::{effect, hold, state, test};
use crate::knowledge::finding::{Code, Stretch};
use crate::knowledge::model::{CauseIndex, Effect, Hold, State, Test, TestKind};

use super::scope::Scope;

pub(super) fn check(scope: &Scope<'_>) {
    for hold in &scope.knowledge.holds {
        of_the_work(scope, hold);
        unlooked(scope, hold);
    }
    for effect in &scope.knowledge.effects {
        all_clear(scope, effect);
    }
    for test in &scope.knowledge.tests {
        tried_in_vain(scope, test);
    }
}

/// Who is sent out, or somebody called for, concerns all who are there, and the customer first.
fn of_the_work(scope: &Scope<'_>, hold: &Hold) {
    if hold.of_the_work && (hold.later || hold.call.is_some()) {
        scope.sink.error(
            Code::EndsForTheWork,
            place_in(scope, &hold.id, hold::OF_THE_WORK),
            format!("hold `{}` is of the work alone, yet it ends the walk", hold.id),
            "leave out `of-the-work`: the customer is told to leave the equipment off",
        );
    }
}

/// What is raised by a find has been looked at.
fn unlooked(scope: &Scope<'_>, hold: &Hold) {
    if hold.unlooked.is_some() && !hold.from_start {
        scope.sink.warning(
            Code::IdleKey,
            place_in(scope, &hold.id, hold::UNLOOKED),
            format!(
                "hold `{}` is raised by a find, so `unlooked` is never read",
                hold.id
            ),
            "remove it, or say `from-start = true`",
        );
    }
}

/// An all-clear wants a state that is none beside it, and a cause that mostly brings it.
fn all_clear(scope: &Scope<'_>, effect: &Effect) {
    let knowledge = scope.knowledge;
    let Some(clear) = effect.states.iter().find(|state| state.all_clear) else {
        return;
    };
    let brings = |cause: CauseIndex| {
        let mut does = knowledge.causes[cause].does.iter();
        does.any(|does| knowledge.effects[does.effect].id == effect.id) && knowledge.is_all_clear(cause)
    };
    let why = if effect.states.iter().all(|state| state.all_clear) {
        "every one of its states is"
    } else if !knowledge.causes.indices().any(brings) {
        "no cause mostly brings it"
    } else {
        return;
    };
    let path = [
        Leg::Key(effect::STATES.name),
        Leg::Key(&clear.id),
        Leg::Key(state::ALL_CLEAR.name),
    ];
    scope.sink.warning(
        Code::IdleKey,
        scope.documents.place(Section::Effect, &effect.id, &path),
        format!(
            "state `{}` of effect `{}` is an all-clear, and {why}",
            clear.id, effect.id
        ),
        "mark the state in which nothing is wrong, and say under `does` which causes mostly bring it",
    );
}

/// What was replaced in vain is told: a figure names no part, and what is seen now is no memory.
fn tried_in_vain(scope: &Scope<'_>, test: &Test) {
    let told = matches!(test.kind, TestKind::Look) && test.state == State::Told;
    if test.tried_in_vain && !told {
        scope.sink.warning(
            Code::IdleKey,
            scope
                .documents
                .place(Section::Test, &test.id, &[Leg::Key(test::TRIED_IN_VAIN.name)]),
            format!(
                "test `{}` is no told look, so it names nothing that was tried",
                test.id
            ),
            "leave out `tried-in-vain`, or let the person tell it: kind `look`, state `told`",
        );
    }
}

fn place_in(scope: &Scope<'_>, hold: &str, key: Key) -> Stretch {
    scope.documents.place(Section::Hold, hold, &[Leg::Key(key.name)])
}
