//! Effects, and what causes and families say of them.

use std::collections::BTreeMap;

use crate::knowledge::behind::COMPLAINT;
use crate::knowledge::fields::Key;
use crate::knowledge::fields::keys::state;
use crate::knowledge::model::{Cause, Does, Effect, EffectState, Family, Knowledge};

use super::pieces::lists;
use super::{Change, Sort};

/// Shares closer than this are the same, written otherwise.
const SAME: f64 = 1e-9;

pub(super) fn effect(
    (before, old): (&Knowledge, &Effect),
    (after, new): (&Knowledge, &Effect),
    changes: &mut Vec<Change>,
) {
    let id = Some(new.id.as_str());
    let mut is_reworded = old.name != new.name;
    lists(
        Sort::State,
        id,
        &old.states,
        &new.states,
        changes,
        |old, state, changes| {
            is_reworded |= old.says != state.says;
            let mut set = |key: Key, from: String, to: String| {
                changes.push(Change::Setting {
                    sort: Sort::State,
                    id: format!("{}/{}", new.id, state.id),
                    key: key.name,
                    from,
                    to,
                });
            };
            if (old.usual - state.usual).abs() > SAME {
                set(
                    state::USUAL,
                    rounded(old.usual).to_string(),
                    rounded(state.usual).to_string(),
                );
            }
            if old.all_clear != state.all_clear {
                set(
                    state::ALL_CLEAR,
                    old.all_clear.to_string(),
                    state.all_clear.to_string(),
                );
            }
        },
    );
    if is_reworded {
        changes.push(Change::Reworded {
            sort: Sort::Effect,
            id: new.id.clone(),
        });
    }
    all_shares(
        Sort::Effect,
        &new.id,
        &follows(before, old),
        &follows(after, new),
        changes,
    );
}

/// What a cause says itself.
pub(super) fn cause(
    (before, old): (&Knowledge, &Cause),
    (after, new): (&Knowledge, &Cause),
    changes: &mut Vec<Change>,
) {
    let (had, has) = (own(before, &old.does), own(after, &new.does));
    all_shares(Sort::Cause, &new.id, &had, &has, changes);
}

/// What a family says.
pub(super) fn family(
    (before, old): (&Knowledge, &Family),
    (after, new): (&Knowledge, &Family),
    changes: &mut Vec<Change>,
) {
    let (had, has) = (own(before, &old.does), own(after, &new.does));
    all_shares(Sort::Family, &new.id, &had, &has, changes);
}

/// What is said here and not by the family, effect by effect.
fn own(knowledge: &Knowledge, does: &[Does]) -> BTreeMap<String, Shares> {
    let own = does.iter().filter(|does| !does.from_family).map(|does| {
        let effect = &knowledge.effects[does.effect];
        (effect.id.clone(), by_state(&effect.states, &does.shares))
    });
    own.collect()
}

/// Share by state.
type Shares = BTreeMap<String, f64>;

fn by_state(states: &[EffectState], shares: &[f64]) -> Shares {
    let ids = states.iter().map(|state| state.id.clone());
    ids.zip(shares.iter().copied()).collect()
}

/// How an effect is shared by what it follows from, as `effect/state`.
fn follows(knowledge: &Knowledge, effect: &Effect) -> BTreeMap<String, Shares> {
    let mut rows = BTreeMap::new();
    if let Some(complaint) = knowledge.effect(COMPLAINT) {
        for (state, shares) in &effect.on_complaint {
            let given = &knowledge.effects[complaint].states[*state].id;
            rows.insert(format!("{COMPLAINT}/{given}"), by_state(&effect.states, shares));
        }
    }
    if let Some(follows) = &effect.follows {
        let other = &knowledge.effects[follows.effect];
        for (state, shares) in other.states.iter().zip(&follows.given) {
            if let Some(shares) = shares {
                rows.insert(
                    format!("{}/{}", other.id, state.id),
                    by_state(&effect.states, shares),
                );
            }
        }
    }
    rows
}

fn all_shares(
    sort: Sort,
    id: &str,
    before: &BTreeMap<String, Shares>,
    after: &BTreeMap<String, Shares>,
    changes: &mut Vec<Change>,
) {
    let nothing = Shares::new();
    let others = after.keys().filter(|of| !before.contains_key(*of));
    for of in before.keys().chain(others) {
        let (old, new) = (before.get(of), after.get(of));
        let (had, has) = (old.unwrap_or(&nothing), new.unwrap_or(&nothing));
        let differs = |state: &&String| match (had.get(*state), has.get(*state)) {
            (Some(had), Some(has)) => (had - has).abs() > SAME,
            (one, other) => one.is_some() != other.is_some(),
        };
        let more = has.keys().filter(|state| !had.contains_key(*state));
        let differing: Vec<&String> = had.keys().chain(more).filter(differs).collect();
        if differing.is_empty() {
            continue;
        }
        let side = |shares: Option<&Shares>| {
            let shares = shares?;
            let said: Vec<String> = differing
                .iter()
                .filter_map(|state| Some(format!("{state} {}", rounded(*shares.get(*state)?))))
                .collect();
            Some(said.join(", "))
        };
        changes.push(Change::Shares {
            sort,
            id: id.to_owned(),
            of: of.clone(),
            from: side(old),
            to: side(new),
        });
    }
}

/// A share with four digits behind the point and no idle zeros.
fn rounded(share: f64) -> f64 {
    (share * 1e4).round() / 1e4
}
