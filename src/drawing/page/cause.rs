//! The entry of a cause.

use std::fmt::Write as _;

use crate::drawing::escape::escape;
use crate::drawing::words;
use crate::knowledge::model::{Cause, Frequency, Knowledge, Sign, Strength};
use crate::report::{picture, text};

use super::links::{Links, SignOf};
use super::{markup, rest};

/// Writes the entry.
pub(super) fn write(page: &mut String, knowledge: &Knowledge, links: &Links, place: usize) {
    let cause = &knowledge.causes[place];
    markup::open(
        page,
        &format!("cause-{}", cause.id),
        &cause.name,
        false,
        text::job(cause.job),
    );
    page.push_str(&format!(
        "<p class=\"way\">{}</p>\n",
        escape(&picture(cause.place))
    ));
    markup::part(page, "How it makes the trouble", &cause.mechanism, true);
    markup::part(page, "Caution", &cause.caution, false);
    markup::part(page, "Repair", &cause.remedy, true);
    markup::part(page, "Proved by", &cause.proof, false);
    rest::required(page, knowledge, rest::MUST_COME_TO, &cause.requires);
    let prevent: Vec<String> = cause
        .prevent
        .iter()
        .map(|advice| {
            let basis = advice.rule.as_deref().unwrap_or("good practice");
            escape(&format!("{} ({basis})", advice.text.trim_end_matches('.')))
        })
        .collect();
    markup::list(
        page,
        "What keeps it from coming back",
        markup::List::Points,
        &prevent,
    );
    if !cause.parts.is_empty() {
        let parts = cause.parts.join(", ");
        markup::part(page, "Only on equipment with", &parts, false);
    }
    complaints(page, knowledge, cause);
    signs(page, knowledge, &links.tests_of_cause[place]);
    markup::foot(page, &cause.id, &cause.source);
    markup::close(page);
}

fn complaints(page: &mut String, knowledge: &Knowledge, cause: &Cause) {
    let mut behind: Vec<(Frequency, String)> = Vec::new();
    for tree in &knowledge.trees {
        if let Some(listed) = cause.frequency.get(&tree.id) {
            let mut often = words::frequency(listed.usual).to_owned();
            for (part, frequency) in &listed.with {
                often.push_str(&format!("; with {part} {}", words::frequency(*frequency)));
            }
            let link = markup::link("tree", &tree.id, &words::name_of(tree));
            let item = format!("{link} {}", escape(&often));
            behind.push((listed.usual, item));
        }
    }
    behind.sort_by_key(|(frequency, _)| std::cmp::Reverse(*frequency));
    let behind: Vec<String> = behind.into_iter().map(|(_, item)| item).collect();
    markup::list(page, "Behind these complaints", markup::List::Links, &behind);
}

/// Tests that speak for it and that rule it out; a test that can do both stands in both lists. Those that only argue
/// against it are counted: they are most of all signs, and each stands with its test.
fn signs(
    page: &mut String,
    knowledge: &Knowledge,
    tests: &[(crate::knowledge::model::TestIndex, Vec<SignOf>)],
) {
    for (heading, wants_for) in [
        ("Tests that speak for it", true),
        ("Tests that rule it out", false),
    ] {
        let mut items: Vec<(i32, String)> = Vec::new();
        for (index, signs) in tests {
            let test = &knowledge.tests[index.0];
            let mut strongest = 0;
            let mut said = Vec::new();
            for sign in signs {
                let outcome = &test.outcomes[sign.outcome.0];
                if sign.sign == Sign::Word(Strength::ArguesAgainst) {
                    continue;
                }
                let speaks_for = match sign.sign {
                    Sign::Word(word) => word > Strength::ArguesAgainst,
                    Sign::Chance(chance) => chance >= outcome.usual,
                };
                if speaks_for == wants_for {
                    strongest = strongest.max(weight(sign.sign, outcome.usual));
                    said.push(escape(&format!("{}: {}", outcome.label, words::sign(sign.sign))));
                }
            }
            if !said.is_empty() {
                let link = markup::test_link(knowledge, *index);
                items.push((strongest, format!("{link} {}", said.join("; "))));
            }
        }
        items.sort_by_key(|(strongest, _)| std::cmp::Reverse(*strongest));
        let items: Vec<String> = items.into_iter().map(|(_, item)| item).collect();
        markup::list(page, heading, markup::List::Links, &items);
    }
    let against = tests
        .iter()
        .flat_map(|(_, signs)| signs)
        .filter(|sign| sign.sign == Sign::Word(Strength::ArguesAgainst))
        .count();
    if against > 0 {
        let _ = writeln!(
            page,
            "<p>{against} more outcomes argue against it; each says so with its test.</p>"
        );
    }
}

/// How far a sign moves the standing, only to put the strongest first.
fn weight(sign: Sign, usual: f64) -> i32 {
    match sign {
        Sign::Word(Strength::NearlyProves | Strength::RulesOut) => 4,
        Sign::Word(Strength::Strong) => 3,
        Sign::Word(Strength::Moderate | Strength::ArguesAgainst) => 2,
        Sign::Word(Strength::Weak) => 1,
        Sign::Chance(chance) => {
            let times = (chance / usual).max(usual / chance);
            match times {
                times if times >= 20.0 => 4,
                times if times >= 6.0 => 3,
                times if times >= 2.0 => 2,
                _ => 1,
            }
        }
    }
}
