//! The entry of a cause: what it is, what it does, and what each test would show.

use std::fmt::Write as _;

use crate::drawing::escape::escape;
use crate::drawing::words;
use crate::inference::under::Reason;
use crate::knowledge::behind::COMPLAINT;
use crate::knowledge::model::{CauseIndex, Does, Knowledge};
use crate::knowledge::saying::{commonness, in_words, percent};

use super::links::{Found, Links, TIMES_OTHERWISE};
use super::markup::List;
use super::{markup, rest};

/// Tests named for what they would show, besides those that find the cause itself.
const MOST_TESTS: usize = 6;

/// Writes the entry.
pub(super) fn write(page: &mut String, knowledge: &Knowledge, links: &Links<'_>, index: CauseIndex) {
    let cause = &knowledge.causes[index];
    markup::open(
        page,
        &format!("cause-{}", cause.id),
        &cause.name,
        false,
        cause.job.in_words(),
    );
    page.push_str(&format!(
        "<p class=\"way\">{}</p>\n",
        escape(cause.place.in_words())
    ));
    markup::part(page, "How it makes the trouble", &cause.mechanism, true);
    markup::part(page, "Caution", &cause.caution, false);
    markup::part(page, "Repair", &cause.remedy, true);
    markup::part(page, "To prove the repair", &cause.proof, false);
    rest::required(page, knowledge, rest::MUST_COME_TO, &cause.requires);
    let prevent = cause.prevent.iter().map(|advice| {
        let basis = advice.rule.as_deref().unwrap_or("good practice");
        escape(&format!("{} ({basis})", advice.text.trim_end_matches('.')))
    });
    markup::list(page, "What keeps it from coming back", List::Points, prevent);
    if !cause.parts.is_empty() {
        let parts = cause.parts.join(", ");
        markup::part(page, "Only on equipment with", &parts, false);
    }
    how_often(page, knowledge, index);
    does(page, knowledge, index);
    found(page, knowledge, links, index);
    shown(page, knowledge, links, index);
    markup::foot(page, &cause.id, &cause.source);
    markup::close(page);
}

/// Base rate, and what it is called in for.
fn how_often(page: &mut String, knowledge: &Knowledge, index: CauseIndex) {
    let base = knowledge.causes[index].base.as_ref();
    markup::part(
        page,
        "How often it is behind a callback",
        &words::capital(&base.map_or_else(String::new, commonness)),
        false,
    );
    let behind = knowledge.complaints_of(index).into_iter();
    let behind = behind.map(|(tree, share)| {
        let link = markup::tree_link(knowledge, tree);
        format!("{link} {}", percent(share))
    });
    markup::list(page, "What it is called in for", List::Links, behind);
}

/// What it does itself, effect by effect, and what it does as one of its family.
fn does(page: &mut String, knowledge: &Knowledge, index: CauseIndex) {
    let cause = &knowledge.causes[index];
    let (common, own): (Vec<&Does>, Vec<&Does>) = cause
        .does
        .iter()
        .filter(|does| knowledge.effects[does.effect].id != COMPLAINT)
        .partition(|does| does.from_family);
    let own = own.into_iter().map(|does| markup::does(knowledge, does));
    markup::list(page, "What it does", List::Links, own);
    let Some(family) = cause.family else { return };
    markup::links(page, "From its family", [markup::family_link(knowledge, family)]);
    if common.is_empty() {
        return;
    }
    let _ = write!(page, "<ul class=\"said\">");
    for does in common {
        let effect = &knowledge.effects[does.effect];
        let said = format!("{}: {}", effect.name, in_words(effect, &does.shares));
        let _ = write!(page, "<li>{}</li>", escape(&said));
    }
    let _ = writeln!(page, "</ul>");
}

/// Outcomes that find it, and those the author excepted from what follows from the effects.
fn found(page: &mut String, knowledge: &Knowledge, links: &Links<'_>, cause: CauseIndex) {
    let mut finding: Vec<(f64, String)> = Vec::new();
    let mut excepted: Vec<String> = Vec::new();
    for (test, outcomes) in &links.found_by[cause] {
        let known = &knowledge.tests[*test];
        let (direct, other): (Vec<&Found>, Vec<&Found>) =
            outcomes.iter().partition(|found| found.is_direct());
        let item = |found: &[&Found]| {
            let said: Vec<String> = found
                .iter()
                .map(|found| {
                    let label = &known.outcomes[found.outcome].label;
                    let (share, otherwise) = (percent(found.share), percent(found.otherwise));
                    escape(&format!("{label}: {share}, otherwise {otherwise}"))
                })
                .collect();
            format!("{} {}", markup::test_link(knowledge, *test), said.join("; "))
        };
        let times = direct.iter().map(|found| found.share / found.otherwise);
        if let Some(most) = times.max_by(f64::total_cmp) {
            finding.push((most, item(&direct)));
        }
        if !other.is_empty() {
            excepted.push(item(&other));
        }
    }
    finding.sort_by(|a, b| b.0.total_cmp(&a.0));
    let finding = finding.into_iter().map(|(_, item)| item);
    let heading = format!(
        "What finds it <span class=\"number\">met {TIMES_OTHERWISE} times as often as otherwise, or more</span>"
    );
    markup::list(page, &heading, List::Links, finding);
    let heading = "What it shows besides, against what its effects would say";
    markup::list(page, heading, List::Links, excepted);
}

/// What the most telling tests would mostly show, and why.
fn shown(page: &mut String, knowledge: &Knowledge, links: &Links<'_>, index: CauseIndex) {
    let under = links.matrix.under();
    let tellings = links.matrix.tellings_alone(index);
    let items = tellings.iter().filter_map(|telling| {
        let reason = under
            .reason(index, telling.test, telling.outcome)
            .filter(|reason| *reason != Reason::Finds)?;
        let said = format!(
            "{}: {} (usual {}), {}",
            knowledge.tests[telling.test].outcomes[telling.outcome].label,
            percent(telling.first),
            percent(telling.second),
            under.in_words(reason)
        );
        let link = markup::test_link(knowledge, telling.test);
        Some(format!("{link} {}", escape(&said)))
    });
    let heading = "What other tests would mostly show";
    markup::list(page, heading, List::Links, items.take(MOST_TESTS));
}
