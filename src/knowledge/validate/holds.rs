//! Holds: what keeps tests from being made until it is cleared.

use crate::knowledge::document::Entry;
use crate::knowledge::fields::Fields;
use crate::knowledge::finding::Code;
use crate::knowledge::model::{Hold, OutcomeIndex, Test, TestIndex};
use crate::knowledge::nearest;

use super::context::Context;
use super::sources;
use crate::knowledge::fields::keys::hold as keys;

pub(super) fn holds(entries: &[Entry<'_>], context: Context<'_>) -> Vec<Hold> {
    let holds: Vec<Hold> = entries.iter().map(|entry| hold(entry, context)).collect();
    // Not even another hold may stop a proof: two could then wait for each other.
    for (entry, own) in entries.iter().zip(&holds) {
        let at_once = |proof: &TestIndex| -> Vec<TestIndex> {
            let answers = |test: &&(TestIndex, &Test)| test.1.at_once.iter().any(|(other, _)| other == proof);
            let tests = context.tests.indexed();
            tests
                .filter(|test| answers(&test))
                .map(|(index, _)| index)
                .collect()
        };
        let proofs = own.cleared_by.iter().map(|(proof, _)| *proof);
        for proof in proofs.flat_map(|proof| std::iter::once(proof).chain(at_once(&proof))) {
            let test = &context.tests[proof];
            let stops = |hold: &&Hold| hold.keeps_from(proof, test);
            let Some(stopping) = holds.iter().find(stops) else {
                continue;
            };
            context.sink.error(
                Code::HoldStopsItsProof,
                entry.place(),
                format!(
                    "`{}` is to clear hold `{}`, and hold `{}` stops it",
                    test.id, own.id, stopping.id
                ),
                "name a test that can be made while anything holds",
            );
        }
    }
    holds
}

fn hold<'c>(entry: &Entry<'c>, context: Context<'c>) -> Hold {
    let mut fields = context.fields("hold", entry);
    let hold = Hold {
        id: entry.id().to_owned(),
        name: fields.prose(keys::NAME),
        stops: fields.words(keys::STOPS, "state"),
        stops_tests: context.all(&context.test_ids, &mut fields, keys::STOPS_TESTS),
        from_start: fields.flag(keys::FROM_START),
        each_visit: fields.flag(keys::EACH_VISIT),
        proved_anew: fields.flag(keys::PROVED_ANEW),
        later: fields.flag(keys::LATER),
        of_the_work: fields.flag(keys::OF_THE_WORK),
        calls_heat: fields.flag(keys::CALLS_HEAT),
        noted: fields.flag(keys::NOTED),
        fit: context.fit(&mut fields, [keys::PARTS, keys::WITHOUT]),
        cleared_by: cleared_by(&mut fields, context),
        says: fields.prose(keys::SAYS),
        unlooked: fields.prose_if(keys::UNLOOKED),
        call: fields.prose_if(keys::CALL),
        source: sources::sources(&mut fields, keys::SOURCE),
    };
    let lacks = |what: &str, fix: &str| {
        if !fields.broken() {
            let message = format!("{} {what}", fields.what());
            context.sink.error(Code::MissingKey, entry.place(), message, fix);
        }
    };
    if hold.stops.is_empty() && hold.stops_tests.is_empty() && hold.call.is_none() {
        lacks(
            "stops nothing",
            "add `stops = [\"energised\", \"running\", \"firing\"]`, `stops-tests = [...]`, or `call` where it ends the walk",
        );
    }
    if hold.from_start && hold.cleared_by.is_empty() {
        lacks(
            "holds from the start and nothing clears it",
            "add `cleared-by = { TEST = [\"OUTCOME\"] }`",
        );
    }
    if hold.proved_anew && hold.cleared_by.is_empty() && hold.call.is_none() {
        lacks(
            "is `proved-anew` and has no proof, so it never comes down",
            "add `cleared-by = { TEST = [\"OUTCOME\"] }`, or leave `proved-anew` out: then the answer that raised it, given anew, ends it",
        );
    }
    fields.finish();
    hold
}

/// The tests that clear it with their outcomes. None of them may be one that the hold itself stops.
fn cleared_by(fields: &mut Fields<'_>, context: Context<'_>) -> Vec<(TestIndex, Vec<OutcomeIndex>)> {
    let mut cleared = Vec::new();
    for (id, value) in fields.pairs(keys::CLEARED_BY) {
        let Some(index) = context.find(&context.test_ids, &id) else {
            continue;
        };
        let test = &context.tests[index];
        let Some(items) = value.get_ref().as_array() else {
            fields.wrong(id.text, value, "a list of outcomes in square brackets");
            continue;
        };
        let outcomes = items.iter().filter_map(|item| {
            let text = item.get_ref().as_str().unwrap_or_default();
            let outcome = test.outcome(text);
            if outcome.is_none() {
                context.sink.error(
                    Code::UnknownOutcome,
                    fields.at(item),
                    format!("test `{}` has no outcome `{text}`", test.id),
                    nearest::did_you_mean(
                        text,
                        test.outcomes.iter().map(|outcome| outcome.id.as_str()),
                        "use the id of one of its outcomes",
                    ),
                );
            }
            outcome
        });
        cleared.push((index, outcomes.collect()));
    }
    cleared
}
