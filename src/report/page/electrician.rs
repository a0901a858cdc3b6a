//! The page of the electrician: what to correct on the line side, each thing with its figure, its basis and the reading
//! that showed it, and what has not been established.

use crate::knowledge::model::Job;
use crate::report::text::job;
use crate::report::{CaseResult, CauseStanding, DefectShown, Spot};
use crate::standards::registry::{self, Report};

use super::block::{Block, Card, Pair, Section, Table};
use super::pieces::{basis, calculations, head, inputs, is_line_side, led, limits};
use super::subject::Subject;
use super::{Page, Reader};

pub(super) fn page(result: &CaseResult) -> Page {
    let suspected = suspects(result);
    let corrections = corrections(result);
    let lead = lead(result, suspected.len() + corrections.len());
    let mut number = 0;
    let mut to_correct = numbered(suspected, &mut number);
    to_correct.extend(grouped(&corrections, &mut number));
    let mut sections = vec![
        Section::new("To correct", to_correct),
        Section::new(
            "What the work must come to",
            grouped(&figures(result), &mut number),
        ),
    ];
    let missing = not_established(result);
    if !missing.is_empty() {
        sections.push(Section::new(
            "Not established: read it before you size anything",
            vec![Block::Points(missing)],
        ));
    }
    sections.push(Section::new("Where it was measured", vec![Block::OneLine]));
    sections.push(Section::new(
        "Before anything is opened",
        vec![Block::Cautions(result.cautions.clone())],
    ));
    sections.push(Section::new(
        "Readings, and the same after the work",
        readings(result),
    ));
    sections.push(Section::new("Seen and told, line side", looks(result)));
    sections.push(Section::new(
        "Calculations, with their working",
        calculations(result, |name| {
            Subject::of_calculation(name).is_some() || LINE_SIDE.contains(&name)
        }),
    ));
    sections.push(Section::new("Not on the line side", others(result)));
    sections.push(Section::new("Photographs", photographs(result)));
    sections.push(Section::new(
        "Signed",
        vec![Block::Signatures(vec![
            "Electrician, license number",
            "Handed over by",
        ])],
    ));
    Page {
        reader: Reader::Electrician,
        title: "For the electrician: line side of the disconnect".to_owned(),
        head: head(result),
        lead,
        sections,
        foot: vec![
            "Local codes and the equipment's own instructions come first; the local authority decides which edition \
             is in force."
                .to_owned(),
            "Where each source was looked up stands in the manager's report.".to_owned(),
        ],
    }
}

/// Calculations an electrician wants to see although they correct nothing by themselves.
const LINE_SIDE: [&str; 7] = [
    "stretch-resistance",
    "leg-balance",
    "voltage-unbalance",
    "conductor-size-for",
    "neutral-resistance",
    "open-neutral",
    "nameplate-rebuild",
];

pub(super) fn photographs(result: &CaseResult) -> Vec<Block> {
    if result.head.photographs.is_empty() {
        Vec::new()
    } else {
        vec![Block::Photographs]
    }
}

fn lead(result: &CaseResult, corrections: usize) -> Vec<String> {
    let mut lead = vec![result.conclusion.text.clone()];
    if corrections == 0 {
        lead.push("By what was checked, nothing on the line side has to be corrected.".to_owned());
    }
    lead
}

/// The causes suspected on the line side, the leader first.
fn suspects(result: &CaseResult) -> Vec<Card> {
    led(result)
        .filter(|cause| is_line_side(cause.trade))
        .map(|cause| suspected(result, cause))
        .collect()
}

/// Violated limits and damage.
fn corrections(result: &CaseResult) -> Vec<(Subject, Card)> {
    let mut found: Vec<(Subject, Card)> = Vec::new();
    for defect in result.defects.iter().filter(|defect| is_line_side(defect.trade)) {
        found.push((of_defect(result, defect), violated(result, defect)));
    }
    found
}

/// What breaker, conductors, ground and circuits must come to, whatever is corrected.
fn figures(result: &CaseResult) -> Vec<(Subject, Card)> {
    let mut found: Vec<(Subject, Card)> = Vec::new();
    for entry in result
        .requirements
        .iter()
        .filter(|entry| is_line_side(entry.trade))
    {
        let (Some(must_be), Some(report)) = (&entry.must_be, &entry.report) else {
            continue;
        };
        let subject = match report.calculation {
            "conductor-size-for" => Subject::of_words(&entry.name),
            name => Subject::of_calculation(name).unwrap_or_else(|| Subject::of_words(&entry.name)),
        };
        let mut pairs = vec![Pair::new("Must be", must_be)];
        let now = fitted(result, subject);
        if !now.is_empty() {
            pairs.push(Pair::new("Is now", now));
        }
        if !entry.inputs.is_empty() {
            pairs.push(Pair::new("Shown by", inputs(&entry.inputs)));
        }
        pairs.push(Pair::new("Finding", &report.finding));
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
    judges && !breaks && report.limits.iter().all(|limit| limit.margin >= 0.0)
}

/// What is there now, by the facts of the case.
fn fitted(result: &CaseResult, subject: Subject) -> String {
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

fn of_defect(result: &CaseResult, defect: &DefectShown) -> Subject {
    let calculation = result
        .calculations
        .iter()
        .find(|made| made.test == defect.test)
        .and_then(|made| made.report.as_ref())
        .and_then(|report| Subject::of_calculation(report.calculation));
    calculation.unwrap_or_else(|| Subject::of_words(&defect.name))
}

fn suspected(result: &CaseResult, cause: &CauseStanding) -> Card {
    let sure = if result.conclusion.kind == "found"
        && led(result).next().is_some_and(|first| first.cause == cause.cause)
    {
        "Cause"
    } else {
        "Suspected"
    };
    let mut pairs = vec![Pair::new("Work", &cause.remedy)];
    let showed: Vec<&str> = cause
        .supporting
        .iter()
        .take(4)
        .map(|item| item.text.as_str())
        .collect();
    if !showed.is_empty() {
        pairs.push(Pair::new("Shown by", showed.join("; ")));
    }
    if let Some(against) = cause.against.first() {
        pairs.push(Pair::new("Against", &against.text));
    }
    pairs.push(Pair::new("Basis", &cause.mechanism));
    pairs.push(Pair::new("Proved by", &cause.proof));
    if !cause.caution.is_empty() {
        pairs.push(Pair::new("Caution", &cause.caution));
    }
    with_job(format!("{sure}: {}", cause.name), cause.trade, pairs)
}

fn violated(result: &CaseResult, defect: &DefectShown) -> Card {
    let mut pairs = vec![Pair::new("Must be", &defect.correct)];
    if let Some(finding) = &defect.finding {
        pairs.push(Pair::new("Is now", finding));
    }
    if !defect.shown_by.is_empty() {
        pairs.push(Pair::new("Shown by", inputs(&defect.shown_by)));
    }
    pairs.push(Pair::new("Basis", &defect.source));
    let report = result.calculations.iter().find(|made| made.test == defect.test);
    if let Some(report) = report.and_then(|made| made.report.as_ref()) {
        pairs.extend(limits(report));
    }
    pairs.push(Pair::new("Hazard", &defect.hazard));
    let mut card = with_job(defect.name.clone(), defect.trade, pairs);
    if !defect.sure {
        card.mark = Some("not sure: check it first".to_owned());
    }
    card
}

/// A card that says whose job it is where it is not plainly the electrician's.
fn with_job(title: String, trade: Job, mut pairs: Vec<Pair>) -> Card {
    if trade != Job::Electrician {
        pairs.push(Pair::new("Whose job", job(trade)));
    }
    Card {
        title,
        mark: None,
        pairs,
    }
}

/// Cards under the heading of what they are about, numbered through, so that "item 3" can be said on the phone.
fn grouped(corrections: &[(Subject, Card)], number: &mut usize) -> Vec<Block> {
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

fn numbered(cards: impl IntoIterator<Item = Card>, number: &mut usize) -> Vec<Block> {
    cards
        .into_iter()
        .map(|mut card| {
            *number += 1;
            card.title = format!("{number}. {}", card.title);
            Block::Card(card)
        })
        .collect()
}

fn not_established(result: &CaseResult) -> Vec<String> {
    let mut missing: Vec<String> = result
        .requirements
        .iter()
        .filter(|entry| is_line_side(entry.trade))
        .filter_map(|entry| {
            if let Some(problem) = &entry.problem {
                return Some(format!("{}: {problem}", entry.name));
            }
            (!entry.needs.is_empty()).then(|| format!("{}: wants {}", entry.name, entry.needs.join("; ")))
        })
        .collect();
    let unknown: Vec<&str> = result
        .given
        .iter()
        .filter(|one| !one.known && one.spot.is_some_and(|spot| spot <= Spot::Disconnect))
        .map(|one| one.name.as_str())
        .collect();
    if !unknown.is_empty() {
        missing.push(format!("Could not be found or checked: {}", unknown.join("; ")));
    }
    missing
}

/// Readings of the line side, with room for the same reading after the work.
fn readings(result: &CaseResult) -> Vec<Block> {
    let rows: Vec<Vec<String>> = result
        .given
        .iter()
        .filter(|one| one.kind == "reading" && one.spot.is_some_and(|spot| spot <= Spot::Unit))
        .map(|one| {
            let mut row = vec![one.name.clone(), one.said.clone()];
            if result.head.opened.is_some() {
                row.push(one.at.map_or_else(String::new, |at| result.head.clock(at)));
            }
            row.push(String::new());
            row
        })
        .collect();
    if rows.is_empty() {
        return vec![Block::Text("No reading was taken on the line side.".to_owned())];
    }
    let mut heads = vec!["Reading", "Found"];
    if result.head.opened.is_some() {
        heads.push("When");
    }
    heads.push("After the work");
    vec![Block::Table(Table { heads, rows })]
}

fn looks(result: &CaseResult) -> Vec<Block> {
    let told: Vec<String> = result
        .given
        .iter()
        .filter(|one| one.known && matches!(one.kind, "look" | "fact"))
        .filter(|one| one.spot.is_some_and(|spot| spot <= Spot::Unit))
        .map(|one| {
            let doubt = if one.sure { "" } else { " (not sure)" };
            format!("{}: {}{doubt}", one.name, one.said)
        })
        .collect();
    if told.is_empty() {
        Vec::new()
    } else {
        vec![Block::Points(told)]
    }
}

/// What is left to others, so that nobody waits for the electrician.
fn others(result: &CaseResult) -> Vec<Block> {
    let mut left: Vec<String> = led(result)
        .filter(|cause| !is_line_side(cause.trade))
        .map(|cause| format!("Suspected: {}: {}", cause.name, job(cause.trade)))
        .collect();
    left.extend(
        result
            .defects
            .iter()
            .filter(|defect| !is_line_side(defect.trade))
            .map(|defect| format!("{}: {}", defect.name, job(defect.trade))),
    );
    if left.is_empty() {
        Vec::new()
    } else {
        vec![Block::Points(left)]
    }
}
