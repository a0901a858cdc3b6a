//! Pieces that stand on the pages of several readers.

use crate::inference::words;
use crate::knowledge::model::Job;
use crate::report::form::{InputShown, RequirementShown};
use crate::report::repair::must;
use crate::report::text::margin;
use crate::report::{CaseResult, CauseStanding, GivenShown, Spot};
use crate::standards::calculation::Report;

use super::block::{Block, Card, Pair};

/// The least probability, 0 to 1, from which a cause is told of, and how many are.
const TOLD: (f64, usize) = (0.10, 3);

/// The causes that are told of: the first three, none below a tenth.
pub(super) fn led(result: &CaseResult) -> impl Iterator<Item = &CauseStanding> {
    result
        .standing
        .iter()
        .take(TOLD.1)
        .filter(|cause| cause.probability >= TOLD.0)
}

/// Whether it is the electrician's, or the electrician must know of it: what is beyond the meter is called in together.
pub(super) fn is_line_side(job: Job) -> bool {
    matches!(
        job,
        Job::Electrician | Job::UtilityOrElectrician | Job::CheckLocally | Job::Utility
    )
}

/// Who, when and where.
pub(super) fn head(result: &CaseResult) -> Vec<Pair> {
    let mut head = vec![
        Pair::new("Complaint", &result.complaint_name),
        Pair::new("Equipment", &result.equipment_name),
    ];
    for (label, text) in result.head.lines() {
        let label = match label {
            "invented" => "Invented",
            "place" => "Place",
            "unit" => "Unit",
            "opened" => "Opened",
            "last entry" => "Last entry",
            "visit" => "Visit",
            "comes after" => "Comes after",
            "stage" => "Stage",
            "DOUBT" => "Doubt",
            "not chained" => "Not chained",
            "case" => "Case",
            _ => "Head",
        };
        head.push(Pair::new(label, text));
    }
    head
}

/// Facts and readings in a line: `Conductor size 10 AWG; ...`.
pub(super) fn inputs(inputs: &[InputShown]) -> String {
    let listed: Vec<String> = inputs
        .iter()
        .map(|input| format!("{}: {}", input.name, input.said))
        .collect();
    listed.join("; ")
}

/// The working of a calculation: finding, formulas with numbers, limits with margin and source, what was assumed.
pub(super) fn working(report: &Report) -> Vec<Pair> {
    let mut pairs = vec![Pair::new("Finding", &report.finding)];
    for line in &report.working {
        pairs.push(Pair::new("Formula", &line.formula));
        pairs.extend(Pair::unless_empty("Numbers", &line.substituted));
        pairs.push(Pair::new("Result", &line.result));
    }
    pairs.extend(limits(report));
    pairs.extend(report.assumptions.iter().map(|text| Pair::new("Assumed", text)));
    pairs.extend(report.notes.iter().map(|text| Pair::new("Note", text)));
    pairs.extend(Pair::unless_empty("Source", basis(report)));
    pairs
}

/// Limits with margin and source.
pub(super) fn limits(report: &Report) -> Vec<Pair> {
    report
        .limits
        .iter()
        .map(|limit| {
            let text = format!(
                "{}; margin {}; {}",
                limit.text,
                margin(limit.margin),
                limit.source
            );
            Pair::new("Limit", text)
        })
        .collect()
}

/// A requirement with its figures.
pub(super) fn requirement(entry: &RequirementShown) -> Card {
    let mut pairs = Vec::new();
    if let Some(must_be) = &entry.must_be {
        let label = if must(entry) == "must run" {
            "Must run"
        } else {
            "Must be"
        };
        pairs.push(Pair::new(label, must_be));
    }
    if let Some(problem) = &entry.problem {
        pairs.push(Pair::new("Cannot tell", problem));
    }
    if !entry.needs.is_empty() {
        let text = format!("give {} to have it worked out", entry.needs.join("; "));
        pairs.push(Pair::new("Not yet", text));
    }
    pairs.extend(Pair::unless_empty("From", inputs(&entry.inputs)));
    if let Some(report) = &entry.report {
        pairs.push(Pair::new("Finding", &report.finding));
        pairs.push(Pair::new("Basis", basis(report)));
        pairs.extend(limits(report));
    }
    pairs.push(Pair::new("Whose job", entry.trade.in_words()));
    Card {
        title: entry.name.clone(),
        mark: None,
        pairs,
    }
}

/// Sources of a calculation in a line, each by its name.
pub(super) fn basis(report: &Report) -> String {
    let mut names: Vec<&str> = Vec::new();
    for source in &report.sources {
        let name = source_name(source);
        if !names.contains(&name) {
            names.push(name);
        }
    }
    names.join("; ")
}

/// A source without how it was checked and without addresses: those stand once, at the end of the manager's page.
pub(super) fn source_name(source: &str) -> &str {
    let end = [" (checked", " - http", ", http"]
        .iter()
        .filter_map(|mark| source.find(mark))
        .min()
        .unwrap_or(source.len());
    &source[..end]
}

/// Every source of the calculations, whole and once.
pub(super) fn sources(result: &CaseResult) -> Vec<String> {
    let made = result.calculations.iter().filter_map(|made| made.report.as_ref());
    let required = result
        .requirements
        .iter()
        .filter_map(|entry| entry.report.as_ref());
    let mut all: Vec<String> = Vec::new();
    for source in made.chain(required).flat_map(|report| &report.sources) {
        if !all.contains(source) {
            all.push(source.clone());
        }
    }
    all
}

/// Calculations with their working; `wanted` picks by name of the calculation.
pub(super) fn calculations(result: &CaseResult, wanted: impl Fn(&str) -> bool) -> Vec<Block> {
    let mut blocks = Vec::new();
    for made in &result.calculations {
        let mut pairs = Vec::new();
        pairs.extend(Pair::unless_empty("From", inputs(&made.inputs)));
        match (&made.report, &made.problem) {
            (Some(report), _) if wanted(report.calculation) => pairs.extend(working(report)),
            (None, Some(problem)) if wanted("") => pairs.push(Pair::new("Cannot tell", problem)),
            _ => continue,
        }
        blocks.push(card(&made.name, pairs));
    }
    for entry in &result.requirements {
        let Some(report) = entry.report.as_ref().filter(|report| wanted(report.calculation)) else {
            continue;
        };
        let shown =
            |other: &Report| other.calculation == report.calculation && other.outputs == report.outputs;
        if result
            .calculations
            .iter()
            .filter_map(|made| made.report.as_ref())
            .any(shown)
        {
            continue;
        }
        blocks.push(card(&entry.name, working(report)));
    }
    blocks
}

/// A card without a mark.
pub(super) fn card(title: &str, pairs: Vec<Pair>) -> Block {
    Block::Card(Card {
        title: title.to_owned(),
        mark: None,
        pairs,
    })
}

/// What was given, with the doubt of whoever gave it.
pub(super) fn said(one: &GivenShown) -> String {
    let doubt = if one.sure { "" } else { " (not sure)" };
    format!("{}: {}{doubt}", one.name, one.said)
}

pub(super) fn photographs(result: &CaseResult) -> Vec<Block> {
    if result.head.photographs.is_empty() {
        Vec::new()
    } else {
        vec![Block::Photographs]
    }
}

/// What is left to others, so that nobody waits for the electrician.
pub(super) fn others(result: &CaseResult) -> Vec<Block> {
    let mut left: Vec<String> = led(result)
        .filter(|cause| !is_line_side(cause.trade))
        .map(|cause| {
            let share = words::percent(cause.probability);
            format!("{} ({share}): {}", cause.name, cause.trade.in_words())
        })
        .collect();
    left.extend(
        result
            .defects
            .iter()
            .filter(|defect| !is_line_side(defect.trade))
            .map(|defect| format!("{}: {}", defect.name, defect.trade.in_words())),
    );
    points(left)
}

/// Points, where there are any.
pub(super) fn points(points: Vec<String>) -> Vec<Block> {
    if points.is_empty() {
        Vec::new()
    } else {
        vec![Block::Points(points)]
    }
}

/// What is known of some kinds between the source and the unit's terminals.
pub(super) fn told_of_line_side(result: &CaseResult, kinds: &[&str]) -> Vec<String> {
    let known = result
        .given
        .iter()
        .filter(|one| one.known && kinds.contains(&one.kind));
    let there = known.filter(|one| one.spot.is_some_and(|spot| spot <= Spot::Unit));
    there.map(said).collect()
}
