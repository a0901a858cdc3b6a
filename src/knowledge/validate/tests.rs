//! Tests: what all have, and what each kind adds.

use crate::knowledge::document::Entry;
use crate::knowledge::fields::{Fields, pairs_of};
use crate::knowledge::finding::{Code, Sink};
use crate::knowledge::indexed::Indexed;
use crate::knowledge::model::{OutcomeIndex, State, Test, TestIndex, TestKind};
use crate::knowledge::{nearest, threads};
use crate::quantity::{Kind, Word};

use super::cautions::with_exposures;
use super::context::{Context, Known};
use super::{facts, inputs, outcomes, sources};
use crate::knowledge::fields::keys::test as keys;
use crate::knowledge::fields::words;
use crate::knowledge::fields::words::TestSort;

pub(super) fn tests(entries: &[Entry<'_>], known: &Known<'_>, sink: &Sink) -> Indexed<TestIndex, Test> {
    let order: Vec<usize> = (0..entries.len()).collect();
    // Each thread has a sink of its own, so that findings come in the order of the lines.
    let read = threads::each(&order, |index| {
        let own = Sink::default();
        let test = test(&entries[index], known.with(&own));
        (test, own)
    });
    let tests = read.into_iter().map(|(test, own)| {
        sink.append(own);
        test
    });
    let mut tests: Indexed<TestIndex, Test> = tests.collect();
    share_outcomes(&mut tests, entries, sink);
    for (index, entry) in entries.iter().enumerate() {
        let at_once = at_once(&tests[TestIndex(index)], &tests, entry, known.with(sink));
        tests[TestIndex(index)].at_once = at_once;
    }
    tests
}

/// The looks that the first outcome of a test answers at once. Each is one that a person makes in that state anyway, and answered so
/// that nothing is held or wrong: what is amiss is asked by itself.
fn at_once(
    own: &Test,
    tests: &Indexed<TestIndex, Test>,
    entry: &Entry<'_>,
    context: Context<'_>,
) -> Vec<(TestIndex, OutcomeIndex)> {
    let written = entry.value.get_ref().get(keys::AT_ONCE.name);
    let written = written.and_then(|value| value.get_ref().as_table());
    let mut answered = Vec::new();
    for (id, value) in written.into_iter().flat_map(|table| pairs_of(entry.file, table)) {
        let Some(index) = context.find(&context.test_ids, &id) else {
            continue;
        };
        let (other, place) = (&tests[index], value.in_file(entry.file));
        let text = value.get_ref().as_str().unwrap_or_default();
        let Some(outcome) = other.outcome(text) else {
            context.sink.error(
                Code::UnknownOutcome,
                place,
                format!("test `{}` has no outcome `{text}`", other.id),
                nearest::did_you_mean(
                    text,
                    other.outcomes.iter().map(|outcome| outcome.id.as_str()),
                    "use the id of one of its outcomes",
                ),
            );
            continue;
        };
        let known = &other.outcomes[outcome];
        let looks = [own, other]
            .iter()
            .all(|test| matches!(test.kind, TestKind::Look));
        let silent = own.outcomes.iter().all(|outcome| outcome.says_nothing);
        let well = known.raises.is_empty() && known.defect.is_none();
        if !(looks && silent && well && (other.state == State::Any || other.state == own.state)) {
            context.sink.error(
                Code::NotAtOnce,
                place,
                format!("`{}` cannot answer `{}` at once", own.id, other.id),
                "name a look made in the same state, with an outcome that raises and defects nothing; its own outcomes say nothing",
            );
        }
        answered.push((index, outcome));
    }
    answered
}

/// Gives each test that is written with `outcomes-of` the outcomes of the other: they ask the same thing, the one of
/// memory and the other by trying.
fn share_outcomes(tests: &mut Indexed<TestIndex, Test>, entries: &[Entry<'_>], sink: &Sink) {
    for (index, entry) in tests.indices().zip(entries) {
        let Some(of) = tests[index].outcomes_of else {
            continue;
        };
        let (own, other) = (&tests[index], &tests[of]);
        let look = |test: &Test| matches!(test.kind, TestKind::Look);
        if other.outcomes_of.is_some() || !look(own) || !look(other) {
            let written = entry.value.get_ref().get(keys::OUTCOMES_OF.name);
            sink.error(
                Code::BadFigure,
                written.map_or_else(|| entry.place(), |value| value.in_file(entry.file)),
                format!("`{}` cannot take the outcomes of `{}`", own.id, other.id),
                "both are looks, and the other one has outcomes of its own",
            );
            continue;
        }
        tests[index].outcomes = tests[of].outcomes.clone();
    }
}

/// What each test measures, if it is a reading.
pub(super) fn all_measured(entries: &[Entry<'_>]) -> Indexed<TestIndex, Option<Kind>> {
    entries.iter().map(measured).collect()
}

fn measured(entry: &Entry<'_>) -> Option<Kind> {
    let text = |key: &str| entry.value.get_ref().get(key)?.get_ref().as_str();
    let is_reading = text(keys::KIND.name)? == TestSort::Reading.word();
    words::kind_of_unit(text(keys::UNIT.name)?).filter(|_| is_reading)
}

fn test<'c>(entry: &Entry<'c>, context: Context<'c>) -> Test {
    let mut fields = context.fields("test", entry);
    let sort = fields.word(keys::KIND);
    let is_worked_out = sort == TestSort::Calculation;
    let mut test = Test {
        id: entry.id().to_owned(),
        name: fields.prose(keys::NAME),
        ask: fields.prose(keys::ASK),
        why: fields.prose(keys::WHY),
        how: if is_worked_out {
            Vec::new()
        } else {
            fields.proses(keys::HOW)
        },
        words: fields.proses_if(keys::WORDS),
        kind: TestKind::Look,
        state: fields.word(keys::STATE),
        hazard: fields.word(keys::HAZARD),
        caution: {
            let own = fields.prose_if(keys::CAUTION).unwrap_or_default();
            with_exposures(own, &mut fields, keys::EXPOSES)
        },
        instrument: if is_worked_out {
            fields.prose_if(keys::INSTRUMENT).unwrap_or_default()
        } else {
            fields.prose(keys::INSTRUMENT)
        },
        minutes: fields.number(keys::MINUTES),
        parts: context.parts(&mut fields, keys::PARTS),
        needs: context.all(&context.fact_ids, &mut fields, keys::NEEDS),
        sureness: fields.number_if(keys::SURENESS),
        job: fields.word_if(keys::JOB),
        stand_in: context.all(&context.test_ids, &mut fields, keys::STAND_IN),
        safety: fields.flag(keys::SAFETY),
        from_start: fields.flag(keys::FROM_START),
        while_it_fails: fields.flag(keys::WHILE_IT_FAILS),
        several: fields.flag(keys::SEVERAL),
        tried_in_vain: fields.flag(keys::TRIED_IN_VAIN),
        calls_heat: fields.flag(keys::CALLS_HEAT),
        outcomes_of: fields
            .text_if(keys::OUTCOMES_OF)
            .and_then(|test| context.find(&context.test_ids, &test)),
        at_once: {
            // Read once all outcomes are known.
            let _ = fields.pairs(keys::AT_ONCE);
            Vec::new()
        },
        complaints: context.all(&context.trees, &mut fields, keys::COMPLAINTS),
        outcomes: Indexed::default(),
        source: sources::sources(&mut fields, keys::SOURCE),
    };
    test.kind = match sort {
        TestSort::Look => TestKind::Look,
        TestSort::Reading => reading(&mut fields, context),
        TestSort::Calculation => {
            let named = [keys::CALCULATION, keys::INPUTS];
            let (calculation, inputs) = inputs::calculation(&mut fields, named, context);
            TestKind::Calculation { calculation, inputs }
        }
    };
    if test.outcomes_of.is_none() {
        test.outcomes = outcomes::outcomes(&mut fields, entry.id(), &test.kind, context);
    }
    if test.several && !fields.broken() {
        check_together(&test, entry, context);
    }
    fields.finish();
    test
}

/// Outcomes that are true together: states of one effect exclude each other, and somebody must be able to say that none is.
fn check_together(test: &Test, entry: &Entry<'_>, context: Context<'_>) {
    let look = matches!(test.kind, TestKind::Look);
    let shows = test.outcomes.iter().any(|outcome| !outcome.shows.is_empty());
    let none = test
        .outcomes
        .iter()
        .filter(|outcome| outcome.says_nothing)
        .count();
    if !look || shows || none != 1 {
        context.sink.error(
            Code::NotTogether,
            entry.place(),
            format!("the outcomes of `{}` cannot be true together", test.id),
            "remove `several`; only a look whose outcomes show no effect and of which one says nothing takes it",
        );
    }
}

fn reading(fields: &mut Fields<'_>, context: Context<'_>) -> TestKind {
    let unit = fields.text(keys::UNIT);
    let kind = words::kind_of_unit(unit.text);
    if kind.is_none() && !unit.text.is_empty() {
        context.sink.error(
            Code::UnknownWord,
            unit.place.clone(),
            format!("`{}` is no unit of a reading", unit.text),
            format!("use {}", nearest::one_of(words::UNIT_SYMBOLS)),
        );
    }
    let kind = kind.unwrap_or(Kind::Ratio);
    let symbol = if kind == Kind::Count { "" } else { unit.text };
    let figures = fields.texts(keys::RANGE);
    if figures.is_empty() && !fields.broken() {
        context.sink.error(
            Code::MissingKey,
            fields.place(),
            format!("{} has no `range`", fields.what()),
            "add the lowest and highest believable reading, such as `range = [\"0 V\", \"700 V\"]`",
        );
    }
    TestKind::Reading {
        unit: kind,
        symbol: symbol.to_owned(),
        range: facts::range(fields, keys::RANGE, &figures, kind, symbol, context)
            .unwrap_or((f64::NEG_INFINITY, f64::INFINITY)),
        probes: fields.prose(keys::PROBES),
    }
}
