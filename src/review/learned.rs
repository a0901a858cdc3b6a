//! What the frequencies would become if they were learned from these cases.

use std::collections::BTreeMap;

use crate::inference::{learn, prior};

use super::cases::Cases;
use super::groups::cause_of;
use super::names::Name;
use super::table::{Cell, Table, columns};

/// Causes shown of a complaint: those that move most.
const MOVES: usize = 3;

/// Frequencies by complaint before and after learning, those that move most; the complaint with most cases first.
pub(super) fn learned(cases: &Cases<'_>) -> Table {
    let mut counts: BTreeMap<Name, BTreeMap<Option<Name>, (u64, f64)>> = BTreeMap::new();
    // What a callback proved to have been something else must not be learned from.
    for row in cases.rows.iter().filter(|row| cases.disproved_by(row).is_none()) {
        if let (Some(complaint), Some(closing)) = (row.complaint, row.closing) {
            let (number, weight) = counts
                .entry(complaint)
                .or_default()
                .entry(closing.cause)
                .or_default();
            *number += 1;
            *weight += learn::case_weight(closing.proved);
        }
    }
    let total =
        |by_cause: &BTreeMap<Option<Name>, (u64, f64)>| by_cause.values().map(|(n, _)| *n).sum::<u64>();
    let mut complaints: Vec<_> = counts.iter().collect();
    complaints.sort_by(|a, b| {
        total(b.1)
            .cmp(&total(a.1))
            .then_with(|| cases.text(*a.0).cmp(cases.text(*b.0)))
    });
    let rows = complaints
        .into_iter()
        .flat_map(|(complaint, by_cause)| moves(cases, *complaint, by_cause))
        .collect();
    Table {
        id: "learned",
        title: "Frequencies, before and after learning from these",
        note: "Closed cases count 1 where proved and 1/2 where guessed, against the authors' frequencies, which weigh as 50 \
               cases (`lineside learn` writes them); those a callback disproved do not count. The three causes that move most.",
        columns: columns(&[
            ("complaint", "complaint"),
            ("cause", "cause"),
            ("cases", "cases"),
            ("before", "before"),
            ("after", "after"),
        ]),
        rows,
        bars: None,
        shown: 12,
    }
}

fn moves(
    cases: &Cases<'_>,
    complaint: Name,
    by_cause: &BTreeMap<Option<Name>, (u64, f64)>,
) -> Vec<Vec<Cell>> {
    let knowledge = cases.knowledge;
    let id = cases.text(complaint);
    let Some(tree) = knowledge.tree(id) else {
        return Vec::new();
    };
    let before = prior::of_complaint(knowledge, tree);
    let of = |cause: Option<&str>| {
        let name = match cause {
            Some(id) => Some(cases.names.find(id)?),
            None => None,
        };
        by_cause.get(&name).copied()
    };
    let ids = || {
        knowledge
            .causes
            .iter()
            .map(|cause| Some(cause.id.as_str()))
            .chain([None])
    };
    let seen: Vec<(u64, f64)> = ids().map(|id| of(id).unwrap_or_default()).collect();
    let weights: Vec<f64> = seen.iter().map(|(_, weight)| *weight).collect();
    let after = learn::shares(&before, &weights, learn::AUTHORED_CASES);
    let mut moves: Vec<_> = ids().zip(&seen).zip(before.iter().zip(&after)).collect();
    moves.sort_by(|a, b| {
        let size = |(_, (before, after)): &(_, (&f64, &f64))| (*after - *before).abs();
        size(b).total_cmp(&size(a)).then_with(|| a.0.0.cmp(&b.0.0))
    });
    moves
        .into_iter()
        .take(MOVES)
        .map(|((id, (number, _)), (before, after))| {
            vec![
                Cell::Text(cases.text(complaint).to_owned()),
                cause_of(cases, id),
                Cell::Count(*number),
                Cell::Probability(*before),
                Cell::Probability(*after),
            ]
        })
        .collect()
}
