//! Cards of what is fitted on the line side and what it must come to.

use crate::knowledge::model::Job;
use crate::report::CaseResult;
use crate::standards::calculation::Report;
use crate::standards::registry;

use super::block::{Block, Card, Pair};
use super::ground;
use super::pieces::{basis, inputs, is_line_side, limits};
use super::subject::Subject;

/// What breaker, conductors, ground and circuits must come to, whatever is corrected; `but` leaves calculations out.
pub(super) fn figures(result: &CaseResult, but: &[&str]) -> Vec<(Subject, Card)> {
    let mut found: Vec<(Subject, Card)> = Vec::new();
    for entry in result
        .requirements
        .iter()
        .filter(|entry| is_line_side(entry.trade))
    {
        let (Some(must_be), Some(report)) = (&entry.must_be, &entry.report) else {
            continue;
        };
        if but.contains(&report.calculation) {
            continue;
        }
        let subject = match report.calculation {
            "conductor-size-for" => Subject::of_words(&entry.name),
            name => Subject::of_calculation(name).unwrap_or_else(|| Subject::of_words(&entry.name)),
        };
        let must_be = match subject {
            Subject::Ground => ground::beside(result, report).unwrap_or_else(|| must_be.clone()),
            _ => must_be.clone(),
        };
        let mut pairs = vec![Pair::new("Must be", must_be)];
        let now = fitted(result, subject);
        pairs.extend(Pair::unless_empty("Is now", now));
        pairs.extend(Pair::unless_empty("Shown by", inputs(&entry.inputs)));
        pairs.push(Pair::new("Finding", &report.finding));
        pairs.extend(assumed(report));
        pairs.push(Pair::new("Basis", basis(report)));
        pairs.extend(limits(report));
        let mut card = with_job(entry.name.clone(), entry.trade, pairs);
        if is_right(report) {
            card.mark = Some("right as found".to_owned());
        }
        found.push((subject, card));
    }
    found
}

/// What a figure rests on that nobody read: it holds only where that is so.
pub(super) fn assumed(report: &Report) -> impl Iterator<Item = Pair> {
    report
        .assumptions
        .iter()
        .filter(|text| !text.trim_start_matches('`').starts_with("code"))
        .map(|text| {
            let (name, rest) = text.trim_start_matches('`').split_once('`').unwrap_or(("", text));
            Pair::new(
                "Only if",
                format!("{}{}", name.replace('-', " "), rest.replace('`', "")),
            )
        })
}

/// Whether a calculation that judges what is fitted found it right.
fn is_right(report: &Report) -> bool {
    let judges =
        ["protection-check", "circuits-fed-as-one", "disconnect-check"].contains(&report.calculation);
    let breaks = registry::find(report.calculation).is_none_or(|calculation| {
        let verdict = calculation
            .verdicts
            .iter()
            .find(|verdict| verdict.id == report.verdict);
        verdict.is_none_or(|verdict| verdict.violates)
    });
    judges && !breaks && !report.limits.is_empty() && report.limits.iter().all(|limit| limit.margin >= 0.0)
}

/// What is there now, by the facts of the case.
pub(super) fn fitted(result: &CaseResult, subject: Subject) -> String {
    let wanted: &[&str] = match subject {
        Subject::Breaker => &[
            "protective-device-kind",
            "protective-device-rating",
            "panel-breaker-rating",
        ],
        Subject::Circuits => &["circuits-supplied", "circuit-loads"],
        Subject::Conductor => &["conductor-size", "conductor-metal", "conductor-length"],
        Subject::Ground => &["grounding-conductor-size"],
        _ => &[],
    };
    let told: Vec<String> = wanted
        .iter()
        .filter_map(|id| {
            result
                .given
                .iter()
                .find(|one| one.kind == "fact" && one.known && one.id == *id)
        })
        .map(|one| format!("{}: {}", one.name, one.said))
        .collect();
    told.join("; ")
}

/// A card that says whose job it is where it is not plainly the electrician's.
pub(super) fn with_job(title: String, trade: Job, mut pairs: Vec<Pair>) -> Card {
    if trade != Job::Electrician {
        pairs.push(Pair::new("Whose job", trade.in_words()));
    }
    Card {
        title,
        mark: None,
        pairs,
    }
}

/// Cards under the heading of what they are about, numbered through, so that "item 3" can be said on the phone.
pub(super) fn grouped(corrections: &[(Subject, Card)], number: &mut usize) -> Vec<Block> {
    let mut blocks = Vec::new();
    for subject in Subject::ALL {
        let mut of_it = corrections
            .iter()
            .filter(|(about, _)| *about == subject)
            .peekable();
        if of_it.peek().is_none() {
            continue;
        }
        blocks.push(Block::Heading(subject.title().to_owned()));
        let sizes = corrections
            .iter()
            .filter(|(about, card)| {
                *about == subject && card.pairs.iter().any(|pair| pair.label == "Must be")
            })
            .count();
        if subject == Subject::Conductor && sizes > 1 {
            blocks.push(Block::Text(
                "All of these hold together: the largest size governs.".to_owned(),
            ));
        }
        blocks.extend(numbered(of_it.map(|(_, card)| card.clone()), number));
    }
    blocks
}

pub(super) fn numbered(cards: impl IntoIterator<Item = Card>, number: &mut usize) -> Vec<Block> {
    cards
        .into_iter()
        .map(|mut card| {
            *number += 1;
            card.title = format!("{number}. {}", card.title);
            Block::Card(card)
        })
        .collect()
}
