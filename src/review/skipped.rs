//! Tests that were skipped and would have told.

use std::collections::{BTreeMap, HashMap};

use crate::inference::matrix::{BAR, Field, Matrix};
use crate::knowledge::model::CauseIndex;

use super::cases::Cases;
use super::groups::id;
use super::names::Name;
use super::row::Row;
use super::table::{Cell, Table, columns};

/// Tests skipped, by how often they would have told the proved cause from the one that led instead.
pub(super) fn skipped(cases: &Cases<'_>) -> Table {
    let matrix = Matrix::new(cases.knowledge, Field::default());
    let mut telling: HashMap<(CauseIndex, CauseIndex), Vec<usize>> = HashMap::new();
    let mut counts: BTreeMap<Name, (u64, u64)> = BTreeMap::new();
    for row in &cases.rows {
        let pair = misled(cases, row);
        for test in &row.skipped {
            let (times, told) = counts.entry(*test).or_default();
            *times += 1;
            let (Some(pair), Some(known)) = (pair, cases.knowledge.test(cases.text(*test))) else {
                continue;
            };
            let tests = telling.entry(pair).or_insert_with(|| {
                let tellings = matrix.tellings(pair.0, pair.1);
                tellings
                    .iter()
                    .filter(|telling| telling.ratio >= BAR)
                    .map(|telling| telling.test.0)
                    .collect()
            });
            *told += u64::from(tests.contains(&known.0));
        }
    }
    let mut rows: Vec<(Cell, u64, u64)> = counts
        .into_iter()
        .map(|(name, (times, told))| (test(cases, name), times, told))
        .collect();
    rows.sort_by(|a, b| {
        b.2.cmp(&a.2)
            .then(b.1.cmp(&a.1))
            .then_with(|| id(&a.0).cmp(id(&b.0)))
    });
    Table {
        id: "skipped",
        title: "Skipped, and would have told",
        note: "Told: proved cases in which another cause led at the end and this test, which could not be checked, tells the \
               two apart (typical ratio 2 or more, as `lineside trees matrix` has it).",
        columns: columns(&[
            ("test", "test"),
            ("would-have-told", "told"),
            ("skipped", "skipped"),
        ]),
        rows: rows
            .into_iter()
            .map(|(test, times, told)| vec![test, Cell::Count(told), Cell::Count(times)])
            .collect(),
        bars: Some(1),
        shown: 10,
    }
}

/// The proved cause and the one that led in its place.
fn misled(cases: &Cases<'_>, row: &Row) -> Option<(CauseIndex, CauseIndex)> {
    if cases.named_right(row)? {
        return None;
    }
    let cause = |name: Name| cases.knowledge.cause(cases.text(name));
    Some((cause(cases.truth(row)??)?, cause(row.leader?.0)?))
}

pub(super) fn test(cases: &Cases<'_>, name: Name) -> Cell {
    let id = cases.text(name);
    let known = cases.knowledge.test(id);
    Cell::named(id, known.map(|test| cases.knowledge.tests[test].name.as_str()))
}
