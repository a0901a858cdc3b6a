//! The page of the manager: everything.

use crate::inference::words;
use crate::report::form::made_safe_first;
use crate::report::text::trust;
use crate::report::{CaseResult, CauseStanding, EvidenceItem, GivenShown};

use super::super::closed::{against, how_proved};
use super::block::{Block, Card, Page, Pair, Reader, Section, Table};
use super::pieces::{calculations, card, head, inputs, photographs, points, requirement, sources};

pub(super) fn page(result: &CaseResult) -> Page {
    let sections = vec![
        Section::new("Dangers", dangers(result)),
        Section::new("Found in the end", closed(result)),
        Section::new(repaired_title(result), repaired(result)),
        Section::new("The way from the utility to the load", vec![Block::OneLine]),
        Section::new("Causes, for and against", causes(result)),
        Section::new("Defects to correct, whatever the cause", defects(result)),
        Section::new(
            "What the repair must come to",
            result
                .requirements
                .iter()
                .map(|entry| Block::Card(requirement(entry)))
                .collect(),
        ),
        Section::new("Answers and readings, in order", given(result)),
        Section::new("Live work, and the cautions accepted before it", live(result)),
        Section::new("Could not be checked or found", unknown(result)),
        Section::new("Calculations, with their working", calculations(result, |_| true)),
        Section::new(
            "Checks that would change what is done",
            if result.closed.is_some() {
                Vec::new()
            } else {
                next(result)
            },
        ),
        Section::new("What keeps it from coming back", prevention(result)),
        Section::new(
            "Before any of this is done",
            vec![Block::Cautions(result.cautions.clone())],
        ),
        Section::new("Notes", points(result.notes.clone())),
        Section::folded("Sources of the calculations", points(sources(result))),
        Section::new("Photographs", photographs(result)),
        Section::new("Signed", vec![Block::Signatures(vec!["Technician", "Manager"])]),
    ];
    Page {
        reader: Reader::Manager,
        title: "Report of a case".to_owned(),
        head: head(result),
        lead: vec![result.conclusion.text.clone(), stage(result)],
        sections,
        foot: Vec::new(),
    }
}

/// How far the case got, so that nobody takes a conclusion for a repair, or a proof to be made for one that was made.
fn stage(result: &CaseResult) -> String {
    let head = &result.head;
    match (&result.closed, head.repairs.is_empty(), head.proofs.is_empty()) {
        (Some(_), _, _) => format!("Closed, {}.", how_proved(result)),
        (None, true, false) => "Proved; no repair is written down; not closed.".to_owned(),
        (None, false, false) => "Repaired and proved; not closed.".to_owned(),
        (None, false, true) => "Repaired, not proved; not closed.".to_owned(),
        (None, true, true) => "Open: no repair is written down, so nothing is proved.".to_owned(),
    }
}

/// Every test made with power or flame on: who, when, and whether its cautions had been accepted.
fn live(result: &CaseResult) -> Vec<Block> {
    let head = &result.head;
    let rows: Vec<Vec<String>> = result
        .given
        .iter()
        .filter(|one| one.known)
        .filter_map(|one| Some((one, one.state.filter(|state| state.is_powered())?)))
        .map(|(one, in_state)| {
            let accepted = one.at.and_then(|at| head.accepted_before(at, in_state));
            vec![
                one.at.map_or_else(|| "not known".to_owned(), |at| head.clock(at)),
                who(result, one),
                format!("{} ({})", one.name, in_state.in_words()),
                one.said.clone(),
                accepted.map_or_else(|| "NONE: told, or from a file".to_owned(), |at| head.clock(at)),
            ]
        })
        .collect();
    if rows.is_empty() {
        return vec![Block::Text("None was made.".to_owned())];
    }
    vec![Block::Table(Table {
        heads: vec!["When", "Who", "Test", "Answered", "Cautions accepted"],
        rows,
    })]
}

/// On whose visit something was answered.
fn who(result: &CaseResult, one: &GivenShown) -> String {
    let name = one.at.and_then(|at| result.head.technician_at(at));
    name.unwrap_or("not named").to_owned()
}

fn closed(result: &CaseResult) -> Vec<Block> {
    let Some(closed) = &result.closed else {
        return Vec::new();
    };
    let mut blocks = vec![Block::Strong(format!("{}, {}.", closed.name, how_proved(result)))];
    blocks.extend(against(result).map(Block::Strong));
    if !closed.text.is_empty() {
        blocks.push(Block::Text(closed.text.clone()));
    }
    blocks
}

const fn repaired_title(result: &CaseResult) -> &'static str {
    match (result.head.repairs.is_empty(), result.head.proofs.is_empty()) {
        (_, true) => "Repaired",
        (true, false) => "Proved",
        (false, false) => "Repaired and proved",
    }
}

/// What still keeps it off, and what was cleared and how. Of a closed case its closing decides.
fn dangers(result: &CaseResult) -> Vec<Block> {
    let standing: Vec<String> = match &result.closed {
        Some(closed) => closed.standing.clone(),
        None => {
            let met = result.held.iter().filter(|hold| !hold.from_start);
            met.map(|hold| hold.name.clone()).collect()
        }
    };
    let cleared = result.closed.as_ref().map_or(&[][..], |closed| &closed.cleared);
    let standing = standing
        .into_iter()
        .map(|name| Block::Strong(format!("STILL STANDING: {name}.")));
    let cleared = cleared.iter().map(|said| Block::Text(format!("Cleared: {said}")));
    standing.chain(cleared).collect()
}

/// What was asked and could not be answered, so that it is known what the result does not rest on.
fn unknown(result: &CaseResult) -> Vec<Block> {
    points(
        result
            .given
            .iter()
            .filter(|one| !one.known)
            .map(|one| one.name.clone())
            .collect(),
    )
}

fn repaired(result: &CaseResult) -> Vec<Block> {
    let head = &result.head;
    let mut lines: Vec<String> = head
        .repairs
        .iter()
        .map(|repair| format!("{}: {}{}", head.clock(repair.at), repair.text, repair.by_whom()))
        .collect();
    lines.extend(
        head.proofs
            .iter()
            .map(|proof| format!("{}: proved by {}", head.clock(proof.at), proof.text)),
    );
    points(lines)
}

fn causes(result: &CaseResult) -> Vec<Block> {
    let mut blocks: Vec<Block> = result
        .leaders()
        .iter()
        .enumerate()
        .map(|(number, cause)| cause_card(number + 1, cause))
        .collect();
    blocks.push(Block::Text(format!(
        "Something not listed here: {}.",
        words::percent(result.unexplained.probability)
    )));
    blocks.extend(trust(result).into_iter().map(Block::Text));
    blocks
}

fn cause_card(number: usize, cause: &CauseStanding) -> Block {
    let mut pairs = vec![
        Pair::new("Where", cause.place.in_words()),
        Pair::new("Whose job", cause.trade.in_words()),
    ];
    pairs.extend(evidence("For", &cause.supporting));
    pairs.extend(evidence("Against", &cause.against));
    for (label, text) in [
        ("Mechanism", &cause.mechanism),
        ("Remedy", &cause.remedy),
        ("To prove it", &cause.proof),
        ("Caution", &cause.caution),
    ] {
        pairs.extend(Pair::unless_empty(label, text));
    }
    Block::Card(Card {
        title: format!("{number}. {}", cause.name),
        mark: Some(format!("{}, {}", words::percent(cause.probability), cause.words)),
        pairs,
    })
}

fn evidence(label: &'static str, items: &[EvidenceItem]) -> Vec<Pair> {
    if items.is_empty() {
        return vec![Pair::new(label, "nothing yet")];
    }
    items.iter().map(|item| Pair::new(label, item.said())).collect()
}

fn defects(result: &CaseResult) -> Vec<Block> {
    if result.defects.is_empty() {
        return vec![Block::Text("None found by what was checked.".to_owned())];
    }
    result
        .defects
        .iter()
        .map(|defect| {
            let mut pairs = Vec::new();
            if let Some(finding) = &defect.finding {
                pairs.push(Pair::new("Found", finding));
            }
            pairs.extend(Pair::unless_empty("Shown by", inputs(&defect.shown_by)));
            pairs.push(Pair::new("Hazard", &defect.hazard));
            pairs.push(Pair::new("Must be", &defect.correct));
            pairs.push(Pair::new("Source", &defect.source));
            pairs.push(Pair::new("Whose job", defect.trade.in_words()));
            Block::Card(Card {
                title: defect.name.clone(),
                mark: (!defect.sure).then(|| "not sure: check it first".to_owned()),
                pairs,
            })
        })
        .collect()
}

fn given(result: &CaseResult) -> Vec<Block> {
    let timed = result.head.opened.is_some();
    let several = result.head.several_came();
    let rows = result
        .given
        .iter()
        .map(|one| {
            let mut row = Vec::new();
            if timed {
                row.push(one.at.map_or_else(String::new, |at| result.head.clock(at)));
            }
            if several {
                row.push(who(result, one));
            }
            let doubt = if one.sure { "" } else { " (not sure)" };
            row.push(one.ask.clone());
            row.push(format!("{}{doubt}", one.said));
            row
        })
        .collect();
    let mut heads = Vec::new();
    if timed {
        heads.push("When");
    }
    if several {
        heads.push("Who");
    }
    heads.extend(["Asked", "Answered"]);
    vec![Block::Table(Table { heads, rows })]
}

fn next(result: &CaseResult) -> Vec<Block> {
    result
        .ending
        .worth_making(&result.next)
        .into_iter()
        .map(|test| {
            let cost = format!(
                "{:.0} min, {}, {}",
                test.minutes.round().max(1.0),
                test.state.in_words(),
                test.hazard.in_words()
            );
            let mut pairs = vec![Pair::new("Cost", cost)];
            pairs.extend(
                test.made_safe_by
                    .map(|by| Pair::new("Before that", made_safe_first(by))),
            );
            pairs.extend(Pair::unless_empty("Needs", test.needs.join("; ")));
            pairs.extend(Pair::unless_empty("Caution", &test.caution));
            card(&test.name, pairs)
        })
        .collect()
}

fn prevention(result: &CaseResult) -> Vec<Block> {
    points(
        result
            .prevention
            .iter()
            .map(|advice| {
                let basis = advice.rule.as_deref().unwrap_or("good practice");
                format!("{} ({basis})", advice.text.trim_end_matches('.'))
            })
            .collect(),
    )
}
