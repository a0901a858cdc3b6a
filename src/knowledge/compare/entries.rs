//! Equipment, accessories, facts, requirements, holds and causes.

use crate::knowledge::model::{
    Accessory, Cause, Equipment, Fact, Hold, HoldIndex, Knowledge, Requirement, RequirementIndex,
};
use crate::knowledge::saying::commonness;

use super::pieces::{inputs_text, looked_up, reworded, setting, texts, written};
use super::{Change, Sort, of_effects};

pub(super) fn equipment(old: &Equipment, new: &Equipment, changes: &mut Vec<Change>) {
    // Accessories that can be fitted are among the parts; they are told with the accessories.
    let parts = |kind: &Equipment| {
        let own: Vec<&str> = kind
            .parts
            .iter()
            .filter(|part| !kind.accessories.contains(part))
            .map(String::as_str)
            .collect();
        own.join(", ")
    };
    setting(
        Sort::Equipment,
        &new.id,
        "parts",
        &parts(old),
        &parts(new),
        changes,
    );
    reworded(Sort::Equipment, &new.id, old.name != new.name, changes);
}

pub(super) fn accessory(old: &Accessory, new: &Accessory, changes: &mut Vec<Change>) {
    setting(
        Sort::Accessory,
        &new.id,
        "parts",
        &old.parts.join(", "),
        &new.parts.join(", "),
        changes,
    );
    reworded(Sort::Accessory, &new.id, old.name != new.name, changes);
}

pub(super) fn fact(old: &Fact, new: &Fact, changes: &mut Vec<Change>) {
    setting(
        Sort::Fact,
        &new.id,
        "parts",
        &old.parts.join(", "),
        &new.parts.join(", "),
        changes,
    );
    setting(
        Sort::Fact,
        &new.id,
        "kind",
        &old.kind.wanted(),
        &new.kind.wanted(),
        changes,
    );
    let range = |fact: &Fact| {
        let range = fact
            .range
            .map(|(low, high)| format!("{low} to {high} in base units"));
        range.unwrap_or_default()
    };
    setting(Sort::Fact, &new.id, "range", &range(old), &range(new), changes);
    setting(Sort::Fact, &new.id, "unit", &old.unit, &new.unit, changes);
    let is_reworded =
        (&old.name, &old.ask, &old.find, &old.choices) != (&new.name, &new.ask, &new.find, &new.choices);
    reworded(Sort::Fact, &new.id, is_reworded, changes);
}

pub(super) fn requirement(
    (before, old): (&Knowledge, &Requirement),
    (after, new): (&Knowledge, &Requirement),
    changes: &mut Vec<Change>,
) {
    let id = &new.id;
    let mut differs =
        |key, from: String, to: String| setting(Sort::Requirement, id, key, &from, &to, changes);
    differs("parts", old.parts.join(", "), new.parts.join(", "));
    differs("job", written(&old.job), written(&new.job));
    differs("calculation", old.calculation.clone(), new.calculation.clone());
    differs(
        "inputs",
        inputs_text(before, &old.inputs),
        inputs_text(after, &new.inputs),
    );
    reworded(
        Sort::Requirement,
        id,
        (&old.name, &old.says) != (&new.name, &new.says),
        changes,
    );
}

pub(super) fn hold(
    (before, old): (&Knowledge, &Hold),
    (after, new): (&Knowledge, &Hold),
    changes: &mut Vec<Change>,
) {
    let id = &new.id;
    let mut differs = |key, from: String, to: String| setting(Sort::Hold, id, key, &from, &to, changes);
    let stops = |knowledge: &Knowledge, hold: &Hold| {
        let tests = hold
            .stops_tests
            .iter()
            .map(|test| knowledge.tests[*test].id.clone());
        let states = hold.stops.iter().map(written);
        states.chain(tests).collect::<Vec<_>>().join(", ")
    };
    let cleared = |knowledge: &Knowledge, hold: &Hold| {
        let proofs = hold.cleared_by.iter().map(|(test, outcomes)| {
            let test = &knowledge.tests[*test];
            let outcomes: Vec<&str> = outcomes
                .iter()
                .map(|outcome| test.outcomes[*outcome].id.as_str())
                .collect();
            format!("{} {}", test.id, outcomes.join(" or "))
        });
        proofs.collect::<Vec<_>>().join(", ")
    };
    differs("stops", stops(before, old), stops(after, new));
    differs("cleared-by", cleared(before, old), cleared(after, new));
    differs(
        "from-start",
        old.from_start.to_string(),
        new.from_start.to_string(),
    );
    differs(
        "proved-anew",
        old.proved_anew.to_string(),
        new.proved_anew.to_string(),
    );
    differs("parts", old.parts.join(", "), new.parts.join(", "));
    let ends = |hold: &Hold| hold.call.is_some().to_string();
    differs("ends the walk", ends(old), ends(new));
    let is_reworded = (&old.name, &old.says, &old.call) != (&new.name, &new.says, &new.call)
        || texts(&old.source) != texts(&new.source);
    reworded(Sort::Hold, id, is_reworded, changes);
}

/// The holds an outcome or a complaint raises, as written in the files.
pub(super) fn raises(knowledge: &Knowledge, raised: &[HoldIndex]) -> String {
    let ids: Vec<&str> = raised
        .iter()
        .map(|one| knowledge.holds[*one].id.as_str())
        .collect();
    ids.join(", ")
}

/// The requirements an entry names, as written in the files.
pub(super) fn requires(knowledge: &Knowledge, named: &[RequirementIndex]) -> String {
    let ids: Vec<&str> = named
        .iter()
        .map(|one| knowledge.requirements[*one].id.as_str())
        .collect();
    ids.join(", ")
}

pub(super) fn cause(
    (before, old): (&Knowledge, &Cause),
    (after, new): (&Knowledge, &Cause),
    changes: &mut Vec<Change>,
) {
    let id = &new.id;
    let mut differs = |key, from: String, to: String| setting(Sort::Cause, id, key, &from, &to, changes);
    differs("parts", old.parts.join(", "), new.parts.join(", "));
    differs("place", written(&old.place), written(&new.place));
    differs(
        "requires",
        requires(before, &old.requires),
        requires(after, &new.requires),
    );
    differs("job", written(&old.job), written(&new.job));
    differs("looked-up", looked_up(&old.source), looked_up(&new.source));
    let base = |cause: &Cause| cause.base.as_ref().map(commonness).unwrap_or_default();
    differs("base", base(old), base(new));
    let family = |knowledge: &Knowledge, cause: &Cause| {
        let family = cause.family.map(|family| knowledge.families[family].id.clone());
        family.unwrap_or_default()
    };
    differs("family", family(before, old), family(after, new));
    of_effects::does(Sort::Cause, id, (before, &old.does), (after, &new.does), changes);
    let minutes = |cause: &Cause| cause.repair_minutes.map(|minutes| minutes.to_string());
    setting(
        Sort::Cause,
        id,
        "repair-minutes",
        &minutes(old).unwrap_or_default(),
        &minutes(new).unwrap_or_default(),
        changes,
    );
    let is_reworded = (&old.name, &old.mechanism, &old.remedy, &old.proof, &old.caution)
        != (&new.name, &new.mechanism, &new.remedy, &new.proof, &new.caution)
        || old.prevent != new.prevent
        || texts(&old.source) != texts(&new.source);
    reworded(Sort::Cause, id, is_reworded, changes);
}
