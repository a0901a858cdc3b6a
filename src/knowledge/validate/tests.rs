//! Tests: what all have, and what each kind adds.

use crate::knowledge::document::Entry;
use crate::knowledge::fields::Fields;
use crate::knowledge::finding::{Code, Finding};
use crate::knowledge::indexed::Indexed;
use crate::knowledge::model::{Fact, FactIndex, Test, TestIndex, TestKind, TreeIndex};
use crate::knowledge::{nearest, threads};
use crate::quantity::Kind;

use super::context::{Context, Measured};
use super::effects::States;
use super::{exposures, facts, inputs, outcomes, sources, words};

/// Enough minutes for any one test; a longer one is a recorder left overnight, counted as hands-on minutes only.
pub(in crate::knowledge) const MOST_MINUTES: f64 = 240.0;

pub(super) fn tests(
    entries: &[Entry<'_>],
    facts: &[Fact],
    states: &States<'_>,
    context: &Context<'_>,
    findings: &mut Vec<Finding>,
) -> Indexed<TestIndex, Test> {
    let measured = all_measured(entries);
    let order: Vec<usize> = (0..entries.len()).collect();
    let read = threads::each(&order, |index| {
        let mut findings = Vec::new();
        let test = test(&entries[index], facts, &measured, states, context, &mut findings);
        (test, findings)
    });
    let (tests, own): (Vec<Test>, Vec<Vec<Finding>>) = read.into_iter().unzip();
    findings.extend(own.into_iter().flatten());
    let mut tests = Indexed::from(tests);
    share_outcomes(&mut tests, entries, context, findings);
    tests
}

/// Gives each test that is written with `outcomes-of` the outcomes of the other: they ask the same thing, the one of
/// memory and the other by trying.
fn share_outcomes(
    tests: &mut Indexed<TestIndex, Test>,
    entries: &[Entry<'_>],
    context: &Context<'_>,
    findings: &mut Vec<Finding>,
) {
    for (index, entry) in tests.indices().zip(entries) {
        let Some(of) = tests[index].outcomes_of else {
            continue;
        };
        let (own, other) = (&tests[index], &tests[of]);
        let look = |test: &Test| matches!(test.kind, TestKind::Look);
        if other.outcomes_of.is_some() || !look(own) || !look(other) {
            let mut fields = Fields::new(
                format!("test `{}`", own.id),
                entry.place(),
                entry.value,
                context.is_broken(entry),
                findings,
            );
            let place = fields.text("outcomes-of", findings).place;
            findings.push(Finding::error(
                Code::BadFigure,
                place,
                format!("`{}` cannot take the outcomes of `{}`", own.id, other.id),
                "both are looks, and the other one has outcomes of its own",
            ));
            continue;
        }
        tests[index].outcomes = tests[of].outcomes.clone();
    }
}

/// What each test measures, if it is a reading.
pub(super) fn all_measured(entries: &[Entry<'_>]) -> Measured {
    entries.iter().map(measured).collect()
}

fn measured(entry: &Entry<'_>) -> Option<Kind> {
    let table = entry.value.get_ref().as_table()?;
    let text = |key: &str| table.get(key).and_then(|value| value.get_ref().as_str());
    if text("kind")? != "reading" {
        return None;
    }
    let unit = text("unit")?;
    words::UNITS
        .iter()
        .find(|(symbol, _)| *symbol == unit)
        .map(|(_, kind)| *kind)
}

fn test(
    entry: &Entry<'_>,
    facts: &[Fact],
    measured: &Measured,
    states: &States<'_>,
    context: &Context<'_>,
    findings: &mut Vec<Finding>,
) -> Test {
    let what = format!("test `{}`", entry.id());
    let broken = context.is_broken(entry);
    let mut fields = Fields::new(what, entry.place(), entry.value, broken, findings);
    let sort = fields.word("kind", words::SORTS, findings);
    let name = fields.prose("name", findings);
    let ask = fields.prose("ask", findings);
    let why = fields.prose("why", findings);
    let state = fields.word("state", words::STATES, findings);
    let hazard = fields.word("hazard", words::HAZARDS, findings);
    let minutes = fields.number("minutes", 0.0, MOST_MINUTES, findings);
    let optional = |text: Option<crate::knowledge::fields::Text<'_>>| {
        text.map(|text| text.text.to_owned()).unwrap_or_default()
    };
    let caution = optional(fields.text_if("caution", findings));
    let caution = exposures::with_caution(caution, &mut fields, findings);
    let instrument = if sort == words::Sort::Calculation {
        optional(fields.text_if("instrument", findings))
    } else {
        fields.prose("instrument", findings)
    };
    let how = if sort == words::Sort::Calculation {
        Vec::new()
    } else {
        fields.proses("how", findings)
    };
    let texts = |texts: Vec<crate::knowledge::fields::Text<'_>>| -> Vec<String> {
        texts.iter().map(|text| text.text.to_owned()).collect()
    };
    let words = texts(fields.texts("words", findings));
    let parts = fields.texts("parts", findings);
    let needs = fields.texts("needs", findings);
    let needs = needs
        .iter()
        .filter_map(|fact| context.facts.find(fact, findings))
        .map(FactIndex)
        .collect();
    let job = fields.word_if("job", words::JOBS, findings);
    let sureness = fields.number_if("sureness", 0.05, 0.999, findings);
    let stand_in = fields
        .texts("stand-in", findings)
        .iter()
        .filter_map(|test| context.tests.find(test, findings))
        .map(TestIndex)
        .collect();
    let safety = fields.flag("safety", findings);
    let kind = match sort {
        words::Sort::Look => TestKind::Look,
        words::Sort::Reading => reading(&mut fields, findings),
        words::Sort::Calculation => {
            let (calculation, inputs) = inputs::calculation(&mut fields, facts, measured, context, findings);
            TestKind::Calculation { calculation, inputs }
        }
    };
    let source = sources::sources(&mut fields, findings);
    let complaints = fields
        .texts("complaints", findings)
        .iter()
        .filter_map(|tree| context.trees.find(tree, findings))
        .map(TreeIndex)
        .collect();
    let outcomes_of = fields
        .text_if("outcomes-of", findings)
        .and_then(|test| context.tests.find(&test, findings))
        .map(TestIndex);
    let outcomes = match outcomes_of {
        Some(_) => Indexed::default(),
        None => outcomes::outcomes(
            &mut fields,
            entry,
            &kind,
            facts,
            measured,
            states,
            context,
            findings,
        ),
    };
    fields.finish(findings);
    Test {
        id: entry.id().to_owned(),
        name,
        ask,
        why,
        how,
        words,
        kind,
        state,
        hazard,
        caution,
        instrument,
        minutes,
        parts: context.parts(&parts, findings),
        needs,
        sureness,
        job,
        stand_in,
        safety,
        outcomes_of,
        complaints,
        outcomes,
        source,
    }
}

fn reading(fields: &mut Fields<'_>, findings: &mut Vec<Finding>) -> TestKind {
    let unit = fields.text("unit", findings);
    let kind = words::UNITS
        .iter()
        .find(|(symbol, _)| *symbol == unit.text)
        .map(|(_, kind)| *kind);
    if kind.is_none() && !unit.text.is_empty() {
        let known: Vec<&str> = words::UNITS.iter().map(|(symbol, _)| *symbol).collect();
        findings.push(Finding::error(
            crate::knowledge::finding::Code::UnknownWord,
            unit.place.clone(),
            format!("`{}` is no unit of a reading", unit.text),
            format!("use {}", nearest::one_of(&known)),
        ));
    }
    let kind = kind.unwrap_or(Kind::Ratio);
    let symbol = if kind == Kind::Count { "" } else { unit.text };
    let figures = fields.texts("range", findings);
    if figures.is_empty() && !fields.broken() {
        findings.push(Finding::error(
            crate::knowledge::finding::Code::MissingKey,
            fields.place(),
            format!("{} has no `range`", fields.what()),
            "add the lowest and highest believable reading, such as `range = [\"0 V\", \"700 V\"]`",
        ));
    }
    let range =
        facts::range(fields, &figures, kind, symbol, findings).unwrap_or((f64::NEG_INFINITY, f64::INFINITY));
    let probes = fields.prose("probes", findings);
    TestKind::Reading {
        unit: kind,
        symbol: symbol.to_owned(),
        range,
        probes,
    }
}
