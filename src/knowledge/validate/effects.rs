//! Effects, families, and what causes and outcomes say of them.

use rustc_hash::FxHashMap;

use crate::knowledge::chance::{CHANCES, spread};
use crate::knowledge::document::{Entry, check_id};
use crate::knowledge::fields::{Fields, Text, pairs_of, word_of};
use crate::knowledge::finding::{Code, Finding, Stretch};
use crate::knowledge::model::{
    CauseIndex, Commonness, Does, Effect, EffectIndex, EffectState, Family, FamilyIndex, Follows, Outcome,
    Shown,
};
use crate::knowledge::nearest;
use crate::knowledge::raw::{Placed, Raw};

use super::commonness;
use super::context::Context;

/// The effect whose states are the complaints.
pub(super) const COMPLAINT: &str = "complaint";

/// How far shares and chances may be from 1 before it is a slip rather than rounding.
const SUM_TOLERANCE: f64 = 0.002;

/// States of every effect by id, for those who name them.
pub(super) struct States<'d> {
    effects: Vec<(&'d str, FxHashMap<&'d str, usize>)>,
}

/// Reads what an effect is; what it follows from is read by [`follows`], once all are known.
pub(super) fn effects<'d>(
    entries: &[Entry<'d>],
    context: &Context<'_>,
    findings: &mut Vec<Finding>,
) -> (Vec<Effect>, States<'d>) {
    let mut states = States { effects: Vec::new() };
    let mut list: Vec<Effect> = entries
        .iter()
        .map(|entry| {
            let (effect, places) = effect(entry, context, findings);
            states.effects.push((entry.id(), places));
            effect
        })
        .collect();
    for (place, entry) in entries.iter().enumerate() {
        follows(place, entry, &mut list, &states, context, findings);
    }
    for (place, entry) in entries.iter().enumerate() {
        if in_a_circle(place, &list) {
            findings.push(Finding::error(
                Code::EffectCircle,
                entry.place(),
                format!("effect `{}` follows from itself", entry.id()),
                "what follows from what must end at something that follows from nothing",
            ));
            list[place].follows = None;
        }
    }
    (list, states)
}

fn effect<'d>(
    entry: &Entry<'d>,
    context: &Context<'_>,
    findings: &mut Vec<Finding>,
) -> (Effect, FxHashMap<&'d str, usize>) {
    let broken = context.is_broken(entry);
    let what = format!("effect `{}`", entry.id());
    let mut fields = Fields::new(what, entry.place(), entry.value, broken, findings);
    let name = fields.prose("name", findings);
    let mut states = Vec::new();
    let mut places = FxHashMap::default();
    for (id, value) in fields.pairs("states", findings) {
        check_id(id.text, id.place.clone(), findings);
        let place = Stretch {
            file: entry.file,
            span: value.span(),
        };
        let mut inner = Fields::new(format!("state `{}`", id.text), place, value, broken, findings);
        let usual = inner.number("usual", 0.0001, 0.9999, findings);
        let says = inner.prose("says", findings);
        inner.finish(findings);
        places.insert(id.text, states.len());
        states.push(EffectState {
            id: id.text.to_owned(),
            usual,
            says,
        });
    }
    fields.value("follows");
    let total: f64 = states.iter().map(|state| state.usual).sum();
    if !broken && (states.len() < 2 || (total - 1.0).abs() > SUM_TOLERANCE) {
        findings.push(Finding::error(
            Code::UsualSum,
            entry.place(),
            format!(
                "the `usual` shares of effect `{}` add up to {total:.3}, expected 1 over two states or more",
                entry.id()
            ),
            "correct the shares; they are those met among all callbacks",
        ));
    }
    for state in &mut states {
        state.usual /= total.max(f64::MIN_POSITIVE);
    }
    fields.finish(findings);
    let effect = Effect {
        id: entry.id().to_owned(),
        name,
        states,
        on_complaint: Vec::new(),
        follows: None,
    };
    (effect, places)
}

/// Reads the rows `follows.OTHER.STATE`: how an effect is shared where another one is in a state.
fn follows(
    own: usize,
    entry: &Entry<'_>,
    list: &mut [Effect],
    states: &States<'_>,
    context: &Context<'_>,
    findings: &mut Vec<Finding>,
) {
    let Some(value) = entry
        .value
        .get_ref()
        .as_table()
        .and_then(|table| table.get("follows"))
    else {
        return;
    };
    let Some(parents) = value.get_ref().as_table() else {
        return;
    };
    for (parent, rows) in pairs_of(entry.file, parents) {
        let Some(other) = context.effects.find(&parent, findings) else {
            continue;
        };
        let Some(rows) = rows.get_ref().as_table() else {
            continue;
        };
        for (state, row) in pairs_of(entry.file, rows) {
            let Some(given) = states.find(other, &state, findings) else {
                continue;
            };
            let usual: Vec<f64> = list[own].states.iter().map(|state| state.usual).collect();
            let Some(shares) = stated(own, row, entry.file, &usual, states, findings) else {
                continue;
            };
            if parent.text == COMPLAINT {
                list[own].on_complaint.push((given, shares));
                continue;
            }
            let width = list[other].states.len();
            let known = list[own].follows.get_or_insert_with(|| Follows {
                effect: EffectIndex(other),
                given: vec![None; width],
            });
            if known.effect.0 == other {
                known.given[given] = Some(shares);
            } else {
                findings.push(Finding::error(
                    Code::EffectCircle,
                    parent.place.clone(),
                    format!("effect `{}` follows from two others", entry.id()),
                    "let it follow from the complaint and one other effect at most",
                ));
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

impl States<'_> {
    fn find(&self, effect: usize, text: &Text<'_>, findings: &mut Vec<Finding>) -> Option<usize> {
        let (id, states) = &self.effects[effect];
        let found = states.get(text.text).copied();
        if found.is_none() {
            findings.push(Finding::error(
                Code::UnknownState,
                text.place.clone(),
                format!("effect `{id}` has no state `{}`", text.text),
                nearest::did_you_mean_after(
                    findings.len(),
                    text.text,
                    states.keys().copied(),
                    "use one of its states, or add this one to the effect",
                ),
            ));
        }
        found
    }
}

/// A chance: a word or a number between 0 and 1.
fn chance(name: &Text<'_>, value: &Placed<Raw<'_>>, findings: &mut Vec<Finding>) -> Option<f64> {
    let place = Stretch {
        file: name.place.file,
        span: value.span(),
    };
    if let Raw::Text(text) = value.get_ref() {
        let text = Text {
            text: text.as_ref(),
            place,
        };
        return word_of("chance", &text, CHANCES, findings);
    }
    let number = value
        .get_ref()
        .as_number()
        .filter(|chance| *chance > 0.0 && *chance < 1.0);
    if number.is_none() {
        findings.push(Finding::error(
            Code::BadFigure,
            place,
            format!(
                "the chance of `{}` is no number between 0 and 1 and no word",
                name.text
            ),
            "write a word such as \"mostly\", or a number above 0 and below 1",
        ));
    }
    number
}

/// A table of states and chances as a whole distribution.
fn stated(
    effect: usize,
    value: &Placed<Raw<'_>>,
    file: usize,
    usual: &[f64],
    states: &States<'_>,
    findings: &mut Vec<Finding>,
) -> Option<Vec<f64>> {
    let place = Stretch {
        file,
        span: value.span(),
    };
    let Some(table) = value.get_ref().as_table() else {
        findings.push(Finding::error(
            Code::WrongType,
            place,
            "expected a table in braces of states and chances",
            "write `{ state = \"mostly\" }`",
        ));
        return None;
    };
    let mut named = vec![None; usual.len()];
    for (state, value) in pairs_of(file, table) {
        let found = states.find(effect, &state, findings);
        let chance = chance(&state, value, findings);
        if let (Some(found), Some(chance)) = (found, chance) {
            named[found] = Some(chance);
        }
    }
    let total: f64 = named.iter().flatten().sum();
    if total > 1.0 + SUM_TOLERANCE {
        findings.push(Finding::error(
            Code::ChanceSum,
            place,
            format!("the chances add up to {total:.2}, more than 1"),
            "lower them; states that are not named share what is left",
        ));
    }
    Some(spread(usual, &named))
}

/// Reads `does.EFFECT = { STATE = chance }` of a cause or a family.
pub(super) fn does(
    fields: &mut Fields<'_>,
    file: usize,
    effects: &[Effect],
    states: &States<'_>,
    context: &Context<'_>,
    findings: &mut Vec<Finding>,
) -> Vec<Does> {
    let mut list = Vec::new();
    for (name, value) in fields.pairs("does", findings) {
        let Some(effect) = context.effects.find(&name, findings) else {
            continue;
        };
        let usual: Vec<f64> = effects[effect].states.iter().map(|state| state.usual).collect();
        if let Some(shares) = stated(effect, value, file, &usual, states, findings) {
            list.push(Does {
                effect: EffectIndex(effect),
                shares,
                from_family: false,
            });
        }
    }
    list
}

/// Reads the families: what is common to a kind of causes.
pub(super) fn families(
    entries: &[Entry<'_>],
    effects: &[Effect],
    states: &States<'_>,
    context: &Context<'_>,
    findings: &mut Vec<Finding>,
) -> Vec<Family> {
    entries
        .iter()
        .map(|entry| {
            let what = format!("family `{}`", entry.id());
            let broken = context.is_broken(entry);
            let mut fields = Fields::new(what, entry.place(), entry.value, broken, findings);
            let does = does(&mut fields, entry.file, effects, states, context, findings);
            fields.finish(findings);
            Family {
                id: entry.id().to_owned(),
                does,
            }
        })
        .collect()
}

/// What a cause is of its own and through its family.
pub(super) struct OfCause {
    pub(super) base: Option<Commonness>,
    pub(super) family: Option<FamilyIndex>,
    pub(super) does: Vec<Does>,
}

/// What a cause says of effects, with what its family says where it is silent; and how common it is.
pub(super) fn of_cause(
    fields: &mut Fields<'_>,
    file: usize,
    effects: &[Effect],
    families: &[Family],
    states: &States<'_>,
    context: &Context<'_>,
    findings: &mut Vec<Finding>,
) -> OfCause {
    let base = fields.value("base").and_then(|value| {
        let place = Stretch {
            file,
            span: value.span(),
        };
        let name = Text { text: "base", place };
        commonness::commonness(file, &name, value, context, findings)
    });
    let mut list = does(fields, file, effects, states, context, findings);
    let family = fields
        .text_if("family", findings)
        .and_then(|name| context.families.find(&name, findings));
    for common in family.iter().flat_map(|family| &families[*family].does) {
        if !list.iter().any(|own| own.effect == common.effect) {
            list.push(Does {
                from_family: true,
                ..common.clone()
            });
        }
    }
    OfCause {
        base,
        family: family.map(FamilyIndex),
        does: list,
    }
}

/// What an outcome shows of effects, which causes it finds, and whether it says nothing.
pub(super) fn of_outcome(
    fields: &mut Fields<'_>,
    outcome: &mut Outcome,
    states: &States<'_>,
    context: &Context<'_>,
    findings: &mut Vec<Finding>,
) {
    for (name, value) in fields.pairs("shows", findings) {
        let Some(effect) = context.effects.find(&name, findings) else {
            continue;
        };
        let written: Vec<&Placed<Raw<'_>>> = match value.get_ref() {
            Raw::List(items) => items.iter().collect(),
            _ => vec![value],
        };
        let mut shown = Vec::new();
        for value in written {
            let place = Stretch {
                file: name.place.file,
                span: value.span(),
            };
            let Some(text) = value.get_ref().as_str() else {
                fields.wrong(name.text, value, "a state, or a list of states", findings);
                continue;
            };
            if let Some(state) = states.find(effect, &Text { text, place }, findings) {
                shown.push(state);
            }
        }
        outcome.shows.push(Shown {
            effect: EffectIndex(effect),
            states: shown,
        });
    }
    for (cause, value) in fields.pairs("finds", findings) {
        let found = context.causes.find(&cause, findings);
        if let (Some(found), Some(chance)) = (found, chance(&cause, value, findings)) {
            outcome.finds.push((CauseIndex(found), chance));
        }
    }
    outcome.says_nothing = fields.flag("says-nothing", findings);
    if outcome.says_nothing && !(outcome.shows.is_empty() && outcome.finds.is_empty()) {
        findings.push(Finding::error(
            Code::SilentAndSpeaking,
            fields.place(),
            format!(
                "outcome `{}` says nothing and shows or finds something",
                outcome.id
            ),
            "remove `says-nothing`, or what it shows and finds",
        ));
    }
}
