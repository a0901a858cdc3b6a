//! Shares that say what would follow without them: they move nothing and are still to be read and kept true.

use crate::knowledge::chance::spread;
use crate::knowledge::document::{Leg, Section};
use crate::knowledge::fields::keys::cause as keys;
use crate::knowledge::finding::Code;
use crate::knowledge::model::{Does, Knowledge};
use crate::knowledge::raw::Raw;

use super::scope::Scope;

/// Shares as near as this, as a ratio, are the same. Our choice, no source: what a person who judges a share cannot mean.
const SAME: f64 = 1.05;

pub(super) fn check(scope: &Scope<'_>) {
    let knowledge = scope.knowledge;
    for family in &knowledge.families {
        idle(scope, Section::Family, &family.id, &family.does, &[]);
    }
    for cause in &knowledge.causes {
        let path = [Leg::Value(keys::FAMILY.name)];
        let family = scope.documents.value(Section::Cause, &cause.id, &path);
        let family = family.and_then(Raw::as_str);
        let family = family.and_then(|id| knowledge.families.iter().find(|family| family.id == id));
        let common = family.map_or(&[][..], |family| &family.does);
        idle(scope, Section::Cause, &cause.id, &cause.does, common);
    }
}

fn idle(scope: &Scope<'_>, section: Section, id: &str, does: &[Does], common: &[Does]) {
    for (name, place, states) in scope.documents.does(section, id) {
        let Some(said) = does.iter().find(|does| is(scope.knowledge, does, name)) else {
            continue;
        };
        let effect = &scope.knowledge.effects[said.effect];
        let usual: Vec<f64> = effect.states.iter().map(|state| state.usual).collect();
        let common = common.iter().find(|does| does.effect == said.effect);
        let otherwise = common.map_or(&usual, |does| &does.shares);
        if same(&said.shares, otherwise) {
            let of = if common.is_some() {
                "its family says"
            } else {
                "is usual"
            };
            scope.sink.warning(
                Code::IdleStatement,
                place,
                format!("what `{id}` says of `{name}` is what {of}"),
                "remove the line",
            );
            continue;
        }
        let named = |state: &str| states.iter().any(|(name, _)| *name == state);
        for (state, place) in states.iter().filter(|_| states.len() > 1) {
            let left: Vec<Option<f64>> = effect
                .states
                .iter()
                .zip(&said.shares)
                .map(|(known, share)| (known.id != *state && named(&known.id)).then_some(*share))
                .collect();
            if same(&said.shares, &spread(&usual, &left)) {
                scope.sink.warning(
                    Code::IdleStatement,
                    place.clone(),
                    format!("the share of `{state}` that `{id}` gives `{name}` is what the others leave it"),
                    "remove it",
                );
            }
        }
    }
}

fn is(knowledge: &Knowledge, does: &Does, name: &str) -> bool {
    knowledge.effects[does.effect].id == name
}

fn same(one: &[f64], other: &[f64]) -> bool {
    let mut pairs = one.iter().zip(other);
    pairs.all(|(one, other)| one.max(*other) <= SAME * one.min(*other))
}
