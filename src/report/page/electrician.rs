//! The page of the electrician: what to correct on the line side, each thing with its figure, its basis and the reading
//! that showed it, and what has not been established.

use crate::inference::words;
use crate::knowledge::model::{Job, State};
use crate::report::{CaseResult, CauseStanding, DefectShown, RequirementShown, Spot};
use crate::standards::calculation::Report;
use crate::walk::caution;

use super::block::{Block, Card, Page, Pair, Reader, Section, Table};
use super::figures::{assumed, figures, grouped, numbered, with_job};
use super::pieces::{
    calculations, head, inputs, is_line_side, led, limits, others, photographs, points, said, source_name,
    told_of_line_side,
};
use super::subject::Subject;
use super::{customer, ground, place, plain, spared};

pub(super) fn page(result: &CaseResult) -> Page {
    let suspected = suspects(result);
    let corrections = corrections(result);
    let (lead, sections) = if suspected.is_empty() && corrections.is_empty() {
        (spared::lead(result), spared::sections(result))
    } else {
        (
            std::iter::once(result.conclusion.text.clone())
                .chain(told_the_customer(result))
                .collect(),
            work(result, suspected, &corrections),
        )
    };
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

/// What the people there were told to do until then: whoever corrects it finds the house so.
fn told_the_customer(result: &CaseResult) -> Option<String> {
    let says = customer::meanwhile(result)?;
    Some(format!("The people there were told: {says}"))
}

/// What is to be done, with everything it rests on. The working stands last: it is for looking up.
fn work(result: &CaseResult, suspected: Vec<Card>, corrections: &[(Subject, Card)]) -> Vec<Section> {
    let mut number = 0;
    let mut to_correct = numbered(suspected, &mut number);
    to_correct.extend(grouped(corrections, &mut number));
    vec![
        Section::new(
            "Where it is: fill in what is not known",
            vec![Block::Card(place::card(result))],
        ),
        Section::new(
            "Before anything is opened",
            vec![Block::Cautions(cautions(result))],
        ),
        Section::new("To correct", to_correct),
        Section::new(
            "What the work must come to",
            grouped(&figures(result, &on_cards(result)), &mut number),
        ),
        Section::new(
            "Not established: read it before you size anything",
            points(not_established(result)),
        ),
        Section::new("Where it was measured", vec![Block::OneLine]),
        Section::new("Proof, after the work", proofs(result)),
        Section::new("Readings, and the same after the work", readings(result)),
        Section::new("Seen and told, line side", looks(result)),
        Section::folded("What went before, and the rest", history(result)),
        Section::new("Not on the line side", others(result)),
        Section::new("Photographs", photographs(result)),
        Section::new("Signed", vec![Block::Signatures(signatures(result))]),
        Section::folded(
            "Calculations, with their working",
            calculations(result, |name| {
                Subject::of_calculation(name).is_some() || LINE_SIDE.contains(&name)
            }),
        ),
    ]
}

/// Who attests what.
fn signatures(result: &CaseResult) -> Vec<&'static str> {
    let mut suspects = led(result).filter(|cause| corrected(cause)).peekable();
    let beyond = suspects.peek().is_some() && suspects.all(|cause| cause.trade == Job::Utility);
    let mut who = vec![
        "Proved dead before the work, by",
        "Work done, and read as above, by; license number",
    ];
    if beyond {
        who.push("Utility: ticket number, spoken to");
    }
    who.extend([
        "Permit or inspection number",
        "Handed over by; phone for questions",
    ]);
    who
}

/// Cautions of this trade and this job. What nobody has looked at yet stands under what is not established, and what is
/// about refrigerant or lamps only where the repair has to do with them.
fn cautions(result: &CaseResult) -> Vec<String> {
    let not_looked: Vec<&str> = result
        .held
        .iter()
        .filter(|hold| hold.from_start)
        .map(|hold| hold.says.as_str())
        .collect();
    let own: Vec<&str> = led(result)
        .filter(|cause| corrected(cause))
        .map(|cause| cause.caution.as_str())
        .collect();
    let of_others = |text: &str| {
        let text = text.to_lowercase();
        ["refrigerant", "ultraviolet", "a2l"]
            .iter()
            .any(|word| text.contains(word))
    };
    result
        .cautions
        .iter()
        .filter(|text| !not_looked.contains(&text.as_str()))
        .filter(|text| own.contains(&text.as_str()) || !of_others(text))
        .cloned()
        .chain(for_the_proof(result))
        .collect()
}

/// Most proofs are read live, although the repair is made dead: what that asks for, in one piece.
fn for_the_proof(result: &CaseResult) -> Option<String> {
    let more: Vec<&str> = caution::cautions(State::Energised)
        .iter()
        .copied()
        .filter(|text| !result.cautions.iter().any(|known| known == text))
        .collect();
    (!more.is_empty()).then(|| format!("For the proof, where it is read live: {}", more.join(" ")))
}

/// The test that proves each repair, with room for what it reads.
fn proofs(result: &CaseResult) -> Vec<Block> {
    let rows: Vec<Vec<String>> = led(result)
        .filter(|cause| corrected(cause))
        .map(|cause| vec![cause.name.clone(), cause.proof.clone(), String::new()])
        .collect();
    if rows.is_empty() {
        return Vec::new();
    }
    vec![Block::Table(Table {
        heads: vec!["Repair of", "To prove it, read", "Read, with load and meter"],
        rows,
    })]
}

/// Notes, and what was told and seen that has no place on the line side: what was replaced, when it happens.
fn history(result: &CaseResult) -> Vec<Block> {
    let mut told: Vec<String> = result.notes.iter().map(|note| format!("Note: {note}")).collect();
    told.extend(
        result
            .given
            .iter()
            .filter(|one| one.known && matches!(one.kind, "look" | "fact"))
            .filter(|one| one.spot.is_none())
            .map(said),
    );
    points(told)
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

/// The causes suspected on the line side, the leader first.
fn suspects(result: &CaseResult) -> Vec<Card> {
    led(result)
        .filter(|cause| corrected(cause))
        .map(|cause| suspected(result, cause))
        .collect()
}

/// Whether a cause is something to correct on the line side. That all is right is no correction.
fn corrected(cause: &CauseStanding) -> bool {
    is_line_side(cause.trade) && !plain::nothing_broken(&cause.cause)
}

/// Whether a defect is shown by what speaks for a suspected cause and has no figures of its own: then it is one thing
/// with that cause, and stands on its card.
fn belongs(result: &CaseResult, defect: &DefectShown) -> bool {
    let calculated = result.calculations.iter().any(|made| made.test == defect.test);
    !calculated
        && led(result)
            .filter(|cause| corrected(cause))
            .any(|cause| speaks_for(cause, defect))
}

fn speaks_for(cause: &CauseStanding, defect: &DefectShown) -> bool {
    cause
        .supporting
        .iter()
        .any(|item| item.test == defect.test && item.outcome == defect.outcome)
}

/// Violated limits and damage.
fn corrections(result: &CaseResult) -> Vec<(Subject, Card)> {
    let mut found: Vec<(Subject, Card)> = Vec::new();
    for defect in result
        .defects
        .iter()
        .filter(|defect| is_line_side(defect.trade) && !belongs(result, defect))
    {
        found.push((of_defect(result, defect), violated(result, defect)));
    }
    found.extend(ground::too_small(result).map(|card| (Subject::Ground, card)));
    found
}

/// Calculations whose figure stands on the card of a violated limit already.
fn on_cards(result: &CaseResult) -> Vec<&'static str> {
    result
        .defects
        .iter()
        .filter(|defect| is_line_side(defect.trade) && !belongs(result, defect))
        .filter_map(|defect| Some(calculated(result, defect)?.calculation))
        .collect()
}

/// The calculation that showed a defect.
fn calculated<'r>(result: &'r CaseResult, defect: &DefectShown) -> Option<&'r Report> {
    let made = result.calculations.iter().find(|made| made.test == defect.test)?;
    made.report.as_ref()
}

fn of_defect(result: &CaseResult, defect: &DefectShown) -> Subject {
    let calculation =
        calculated(result, defect).and_then(|report| Subject::of_calculation(report.calculation));
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
    for defect in result
        .defects
        .iter()
        .filter(|defect| belongs(result, defect) && speaks_for(cause, defect))
    {
        let text = format!(
            "{}: {} ({})",
            defect.name,
            defect.correct,
            checked(source_name(&defect.source))
        );
        pairs.push(Pair::new("Found there", text));
    }
    let showed: Vec<&str> = cause
        .supporting
        .iter()
        .take(4)
        .map(|item| item.text.as_str())
        .collect();
    pairs.extend(Pair::unless_empty("Shown by", showed.join("; ")));
    if let Some(against) = cause.against.first() {
        pairs.push(Pair::new("Against", &against.text));
    }
    pairs.push(Pair::new("Why", &cause.mechanism));
    pairs.push(Pair::new("To prove it", &cause.proof));
    pairs.extend(Pair::unless_empty("Caution", &cause.caution));
    let mut card = with_job(format!("{sure}: {}", cause.name), cause.trade, pairs);
    card.mark = Some(words::percent(cause.probability));
    card
}

fn violated(result: &CaseResult, defect: &DefectShown) -> Card {
    let mut pairs = vec![Pair::new("Must be", &defect.correct)];
    if let Some(finding) = &defect.finding {
        pairs.push(Pair::new("Is now", finding));
    }
    pairs.extend(Pair::unless_empty("Shown by", inputs(&defect.shown_by)));
    let report = calculated(result, defect);
    let size = report.and_then(|report| {
        let same = |entry: &&RequirementShown| {
            entry.report.as_ref().map(|other| other.calculation) == Some(report.calculation)
        };
        result.requirements.iter().find(same)?.must_be.as_ref()
    });
    pairs.extend(size.map(|size| Pair::new("Size", size)));
    pairs.extend(report.into_iter().flat_map(assumed));
    pairs.push(Pair::new("Basis", checked(source_name(&defect.source))));
    pairs.extend(report.into_iter().flat_map(limits));
    pairs.push(Pair::new("Hazard", &defect.hazard));
    let mut card = with_job(defect.name.clone(), defect.trade, pairs);
    if !defect.sure {
        card.mark = Some("not sure: check it first".to_owned());
    }
    card
}

/// A source in the words of the trade: nobody can show an inspector a memory.
fn checked(source: &str) -> String {
    source
        .replace(", from memory", " (section not looked up)")
        .replace("from memory", "section not looked up")
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
    missing.extend(
        result
            .held
            .iter()
            .filter(|hold| hold.from_start)
            .map(|hold| match &hold.unlooked {
                Some(says) => says.clone(),
                None => format!("Not looked at by the technician: {}", hold.name),
            }),
    );
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
        return vec![Block::Text(
            "No figure was written down for the line side; what was seen stands below.".to_owned(),
        )];
    }
    let mut heads = vec!["Reading", "Found"];
    if result.head.opened.is_some() {
        heads.push("When");
    }
    heads.push("After the work");
    vec![Block::Table(Table { heads, rows })]
}

pub(super) fn looks(result: &CaseResult) -> Vec<Block> {
    points(told_of_line_side(result, &["look", "fact"]))
}
