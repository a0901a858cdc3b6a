//! The entry of a test.

use std::collections::BTreeSet;
use std::fmt::Write as _;

use crate::drawing::escape::escape;
use crate::drawing::words;
use crate::inference::under::{Under, sureness};
use crate::knowledge::model::{Bound, BoundOf, Hazard, Knowledge, OutcomeIndex, Test, TestIndex, TestKind};
use crate::knowledge::saying::{self, percent};
use crate::quantity::Quantity;

use super::links::{Links, facts_of};
use super::markup;

/// Writes the entry.
pub(super) fn write(page: &mut String, knowledge: &Knowledge, links: &Links<'_>, index: TestIndex) {
    let test = &knowledge.tests[index];
    markup::open(
        page,
        &format!("test-{}", test.id),
        &test.name,
        test.is_powered(),
        &words::manner(test, true),
    );
    let _ = writeln!(page, "<p class=\"ask find\">{}</p>", escape(&test.ask));
    markup::words(page, &test.words);
    if test.hazard == Hazard::None && test.caution.is_empty() {
        markup::part(page, "Why", &test.why, true);
    } else {
        let caution = format!("{}. {}", words::capital(test.hazard.in_words()), test.caution);
        markup::part(page, "Caution", caution.trim_end(), false);
        markup::part(page, "Why", &test.why, true);
    }
    let how = test.how.iter().map(|step| escape(step));
    markup::list(page, "How", markup::List::Steps, how);
    if let TestKind::Reading { probes, .. } = &test.kind {
        markup::part(page, "Where the probes go", probes, false);
    }
    markup::part(page, "With", &test.instrument, false);
    if !test.parts.is_empty() {
        markup::part(page, "Only on equipment with", &test.parts.join(", "), false);
    }
    uses(page, knowledge, index);
    if test.outcomes.iter().any(|outcome| !outcome.shows.is_empty()) {
        let sure = percent(sureness(test));
        let sure = format!("In {sure}; the other answers come as usual, whatever the state.");
        markup::part(page, "How often an answer shows the true state", &sure, false);
    }
    page.push_str("<h4>Outcomes</h4>\n");
    for outcome in test.outcomes.indices() {
        write_outcome(page, knowledge, links.matrix.under(), index, outcome);
    }
    let built = links.built_on_test[index].iter();
    let built = built.map(|test| markup::test_link(knowledge, *test));
    markup::links(page, "Tests that rest on it", built);
    let asked = links.trees_of_test[index].iter().map(|(tree, nodes)| {
        let link = markup::tree_link(knowledge, *tree);
        format!("{link} at {}", escape(&nodes.join(", ")))
    });
    markup::list(page, "Asked in", markup::List::Links, asked);
    markup::foot(page, &test.id, &test.source);
    markup::close(page);
}

/// Facts and readings it rests on, and the calculation that makes its outcome.
fn uses(page: &mut String, knowledge: &Knowledge, index: TestIndex) {
    let test = &knowledge.tests[index];
    if let TestKind::Calculation { calculation, .. } = &test.kind {
        let _ = writeln!(
            page,
            "<h4>Calculation</h4><p><code>lineside figure {}</code></p>",
            escape(calculation)
        );
    }
    let facts = facts_of(knowledge, index).into_iter();
    let facts = facts.map(|fact| markup::fact_link(knowledge, fact));
    let readings: BTreeSet<TestIndex> = test.readings().collect();
    let readings = readings.into_iter();
    let readings = readings.map(|reading| markup::test_link(knowledge, reading));
    markup::links(page, "Rests on", facts.chain(readings));
}

fn write_outcome(
    page: &mut String,
    knowledge: &Knowledge,
    under: &Under<'_>,
    index: TestIndex,
    number: OutcomeIndex,
) {
    let test = &knowledge.tests[index];
    let outcome = &test.outcomes[number];
    let bound = outcome
        .bound
        .as_ref()
        .map_or_else(String::new, |bound| format!(" {}", said(knowledge, test, bound)));
    let _ = writeln!(
        page,
        "<div class=\"outcome\"><p class=\"label find\"><b>{}</b>{bound} <span class=\"said\">usual {}</span></p>",
        escape(&outcome.label),
        percent(outcome.usual)
    );
    for shown in &outcome.shows {
        let link = markup::effect_link(knowledge, shown.effect);
        markup::says(page, "shows", [link, escape(&saying::shown(knowledge, shown))]);
    }
    let found = outcome.finds.iter().map(|(cause, _)| {
        let share = under.row(Some(*cause), index)[number.place()];
        format!("{} {}", markup::cause_link(knowledge, *cause), percent(share))
    });
    let otherwise = percent(under.row(None, index)[number.place()]);
    markup::says(page, &format!("finds; met otherwise in {otherwise}"), found);
    if outcome.says_nothing {
        markup::says(page, "says nothing", [String::new()]);
    }
    if let Some(defect) = &outcome.defect {
        let _ = writeln!(
            page,
            "<p class=\"defect\"><b>Defect, whatever the cause:</b> {}. {} {} <span class=\"said\">{}; {}</span></p>",
            escape(&defect.name),
            escape(&defect.hazard),
            escape(&words::with_places(&defect.correct)),
            escape(defect.job.in_words()),
            escape(&defect.source)
        );
    }
    page.push_str("</div>\n");
}

/// Where a reading must lie for an outcome.
fn said(knowledge: &Knowledge, test: &Test, bound: &Bound) -> String {
    let side = if bound.below { "less than" } else { "more than" };
    match (bound.of, &test.kind) {
        (Some(BoundOf::Fact(fact)), _) => {
            let link = markup::fact_link(knowledge, fact);
            format!("({side} {} times {link})", bound.figure)
        }
        (Some(BoundOf::Reading(reading)), _) => {
            format!(
                "({side} {} times {})",
                bound.figure,
                markup::test_link(knowledge, reading)
            )
        }
        (None, TestKind::Reading { unit, .. }) => {
            let figure = Quantity {
                kind: *unit,
                base: bound.figure,
            };
            format!("({side} {})", escape(&figure.to_string()))
        }
        (None, _) => String::new(),
    }
}
