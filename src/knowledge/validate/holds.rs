//! Holds: what keeps tests from being made until it is cleared.

use crate::knowledge::document::Entry;
use crate::knowledge::fields::{Fields, word_of};
use crate::knowledge::finding::{Code, Finding, Stretch};
use crate::knowledge::indexed::Indexed;
use crate::knowledge::model::{Hold, HoldIndex, OutcomeIndex, State, Test, TestIndex};
use crate::knowledge::nearest;

use super::context::Context;
use super::{sources, words};

pub(super) fn holds(
    entries: &[Entry<'_>],
    tests: &Indexed<TestIndex, Test>,
    context: &Context<'_>,
    findings: &mut Vec<Finding>,
) -> Vec<Hold> {
    let holds: Vec<Hold> = entries
        .iter()
        .map(|entry| hold(entry, tests, context, findings))
        .collect();
    // Not even another hold may stop a proof: two could then wait for each other.
    for (entry, own) in entries.iter().zip(&holds) {
        for (proof, _) in &own.cleared_by {
            let test = &tests[*proof];
            let Some(stopping) = holds
                .iter()
                .find(|hold| hold.stops.contains(&test.state) || hold.stops_tests.contains(proof))
            else {
                continue;
            };
            findings.push(Finding::error(
                Code::HoldStopsItsProof,
                entry.place(),
                format!(
                    "`{}` is to clear hold `{}`, and hold `{}` stops it",
                    test.id, own.id, stopping.id
                ),
                "name a test that can be made while anything holds",
            ));
        }
    }
    holds
}

fn hold(
    entry: &Entry<'_>,
    tests: &Indexed<TestIndex, Test>,
    context: &Context<'_>,
    findings: &mut Vec<Finding>,
) -> Hold {
    let what = format!("hold `{}`", entry.id());
    let broken = context.is_broken(entry);
    let mut fields = Fields::new(what, entry.place(), entry.value, broken, findings);
    let name = fields.prose("name", findings);
    let stops: Vec<State> = fields
        .texts("stops", findings)
        .iter()
        .filter_map(|word| word_of("state", word, words::STATES, findings))
        .collect();
    let stops_tests: Vec<TestIndex> = fields
        .texts("stops-tests", findings)
        .iter()
        .filter_map(|test| context.tests.find(test, findings))
        .map(TestIndex)
        .collect();
    let call = fields.text_if("call", findings).map(|text| text.text.to_owned());
    if stops.is_empty() && stops_tests.is_empty() && call.is_none() && !broken {
        findings.push(Finding::error(
            Code::MissingKey,
            entry.place(),
            format!("{} stops nothing", fields.what()),
            "add `stops = [\"energised\", \"running\", \"firing\"]`, `stops-tests = [...]`, or `call` where it ends the walk",
        ));
    }
    let from_start = fields.flag("from-start", findings);
    let proved_anew = fields.flag("proved-anew", findings);
    let parts = fields.texts("parts", findings);
    let cleared_by = cleared_by(&mut fields, tests, context, findings);
    if from_start && cleared_by.is_empty() && !broken {
        findings.push(Finding::error(
            Code::MissingKey,
            entry.place(),
            format!("{} holds from the start and nothing clears it", fields.what()),
            "add `cleared-by = { TEST = [\"OUTCOME\"] }`",
        ));
    }
    let says = fields.prose("says", findings);
    let source = sources::sources(&mut fields, findings);
    fields.finish(findings);
    Hold {
        id: entry.id().to_owned(),
        name,
        stops,
        stops_tests,
        from_start,
        proved_anew,
        parts: context.parts(&parts, findings),
        cleared_by,
        says,
        call,
        source,
    }
}

/// The tests that clear it with their outcomes. None of them may be one that the hold itself stops.
fn cleared_by(
    fields: &mut Fields<'_>,
    tests: &Indexed<TestIndex, Test>,
    context: &Context<'_>,
    findings: &mut Vec<Finding>,
) -> Vec<(TestIndex, Vec<OutcomeIndex>)> {
    let mut cleared = Vec::new();
    for (id, value) in fields.pairs("cleared-by", findings) {
        let Some(index) = context.tests.find(&id, findings).map(TestIndex) else {
            continue;
        };
        let test = &tests[index];
        let Some(items) = value.get_ref().as_array() else {
            fields.wrong(id.text, value, "a list of outcomes in square brackets", findings);
            continue;
        };
        let mut outcomes = Vec::new();
        for item in items.iter() {
            let place = Stretch {
                file: id.place.file,
                span: item.span(),
            };
            let text = item.get_ref().as_str().unwrap_or_default();
            match test.outcome(text) {
                Some(outcome) => outcomes.push(outcome),
                None => findings.push(Finding::error(
                    Code::UnknownOutcome,
                    place,
                    format!("test `{}` has no outcome `{text}`", test.id),
                    nearest::did_you_mean(
                        text,
                        test.outcomes.iter().map(|outcome| outcome.id.as_str()),
                        "use the id of one of its outcomes",
                    ),
                )),
            }
        }
        cleared.push((index, outcomes));
    }
    cleared
}

/// The holds an outcome or a complaint raises.
pub(super) fn raised(
    fields: &mut Fields<'_>,
    context: &Context<'_>,
    findings: &mut Vec<Finding>,
) -> Vec<HoldIndex> {
    fields
        .texts("raises", findings)
        .iter()
        .filter_map(|id| context.holds.find(id, findings))
        .map(HoldIndex)
        .collect()
}
