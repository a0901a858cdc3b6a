//! Cases by what they have in common: complaint, equipment, technician, month, and the cause they were closed with.

use std::collections::BTreeMap;

use super::cases::Cases;
use super::names::Name;
use super::row::Row;
use super::table::{Cell, Table, columns};

/// What cases are put together by.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum By {
    Complaint,
    Equipment,
    Technician,
    Month,
}

/// What is counted of a group.
#[derive(Clone, Copy, Debug, Default)]
struct Tally {
    cases: u64,
    closed: u64,
    proved: u64,
    came_back: u64,
    overturned: u64,
    right: u64,
    judged: u64,
    seconds: i64,
    tests: i64,
    skipped: i64,
}

impl Tally {
    fn add(&mut self, cases: &Cases<'_>, row: &Row) {
        self.cases += 1;
        if let Some(closing) = row.closing {
            self.closed += 1;
            self.proved += u64::from(closing.proved);
            self.came_back += u64::from(cases.came_back.contains_key(&row.id));
            self.overturned += u64::from(cases.is_overturned(row));
        }
        if let Some(right) = cases.named_right(row) {
            self.judged += 1;
            self.right += u64::from(right);
        }
        self.seconds += row.seconds;
        self.tests += row.made.len() as i64;
        self.skipped += row.skipped.len() as i64;
    }

    fn of_closed(self, part: u64) -> Cell {
        Cell::share(part, self.closed)
    }
}

/// The groups in order: of what is named, the largest first; of months, the earliest.
pub(super) fn table(cases: &Cases<'_>, by: By) -> Table {
    let mut tallies: BTreeMap<Option<Name>, Tally> = BTreeMap::new();
    for row in &cases.rows {
        let key = match by {
            By::Complaint => row.complaint,
            By::Equipment => row.equipment,
            By::Technician => row.technician,
            By::Month => Some(row.month),
        };
        tallies.entry(key).or_default().add(cases, row);
    }
    let mut groups: Vec<(Cell, Tally)> = tallies
        .into_iter()
        .map(|(key, tally)| (named(cases, by, key), tally))
        .collect();
    groups.sort_by(|(a, x), (b, y)| {
        let by_size = if by == By::Month {
            std::cmp::Ordering::Equal
        } else {
            y.cases.cmp(&x.cases)
        };
        by_size.then_with(|| id(a).cmp(id(b)))
    });
    let (table_id, title, head) = match by {
        By::Complaint => ("complaint", "By complaint", "complaint"),
        By::Equipment => ("equipment", "By equipment", "equipment"),
        By::Technician => ("technician", "By technician", "who came last"),
        By::Month => ("month", "By month opened (UTC)", "month"),
    };
    Table {
        id: table_id,
        title,
        note: if by != By::Complaint {
            "Columns as by complaint."
        } else {
            "Back: closed cases that came back. Over: closed cases whose cause was proved later to be another; a later guess \
             overturns nothing. Led: of the cases whose true cause is known, those in which the program had it first at the end. Minutes \
               between entries, pauses of over an hour left out. Tests: those that gave an answer; skip: could not be \
               checked. Differences between a few dozen cases are mostly chance."
        },
        columns: columns(&[
            ("name", head),
            ("cases", "cases"),
            ("closed", "closed"),
            ("proved", "proved"),
            ("came-back", "back"),
            ("overturned", "over"),
            ("right", "led"),
            ("seconds", "min"),
            ("tests", "tests"),
            ("skipped", "skip"),
        ]),
        rows: groups
            .into_iter()
            .map(|(name, tally)| {
                let mean = |sum| Cell::Mean { sum, of: tally.cases };
                vec![
                    name,
                    Cell::Count(tally.cases),
                    Cell::share(tally.closed, tally.cases),
                    tally.of_closed(tally.proved),
                    tally.of_closed(tally.came_back),
                    tally.of_closed(tally.overturned),
                    Cell::share(tally.right, tally.judged),
                    Cell::Seconds {
                        sum: tally.seconds,
                        of: tally.cases,
                    },
                    mean(tally.tests),
                    mean(tally.skipped),
                ]
            })
            .collect(),
        bars: Some(1),
        shown: if by == By::Month { 24 } else { 10 },
    }
}

/// Causes that cases were closed with, most often first.
pub(super) fn causes(cases: &Cases<'_>) -> Table {
    let mut tallies: BTreeMap<Option<Name>, Tally> = BTreeMap::new();
    for row in &cases.rows {
        if let Some(closing) = row.closing {
            tallies.entry(closing.cause).or_default().add(cases, row);
        }
    }
    let closed: u64 = tallies.values().map(|tally| tally.closed).sum();
    let mut groups: Vec<(Cell, Tally)> = tallies
        .into_iter()
        .map(|(key, tally)| (cause(cases, key), tally))
        .collect();
    groups.sort_by(|(a, x), (b, y)| y.cases.cmp(&x.cases).then_with(|| id(a).cmp(id(b))));
    Table {
        id: "cause",
        title: "What it was found to be",
        note: "Closed cases by their cause. Proved by a reading or a clean run; the others are guesses. Back, over and \
               led as below.",
        columns: columns(&[
            ("name", "cause"),
            ("cases", "cases"),
            ("share", "share"),
            ("proved", "proved"),
            ("guessed", "guess"),
            ("came-back", "back"),
            ("overturned", "over"),
            ("right", "led"),
        ]),
        rows: groups
            .into_iter()
            .map(|(name, tally)| {
                vec![
                    name,
                    Cell::Count(tally.cases),
                    Cell::share(tally.cases, closed),
                    Cell::Count(tally.proved),
                    Cell::Count(tally.closed - tally.proved),
                    tally.of_closed(tally.came_back),
                    tally.of_closed(tally.overturned),
                    Cell::share(tally.right, tally.judged),
                ]
            })
            .collect(),
        bars: Some(1),
        shown: 12,
    }
}

/// A cause with its name; one the knowledge does not list is called so.
pub(super) fn cause(cases: &Cases<'_>, name: Option<Name>) -> Cell {
    cause_of(cases, name.map(|name| cases.text(name)))
}

/// The same by its id.
pub(super) fn cause_of(cases: &Cases<'_>, id: Option<&str>) -> Cell {
    let Some(id) = id else {
        return Cell::named(crate::inference::learn::NOT_LISTED, Some("Not listed"));
    };
    let known = cases.knowledge.cause(id);
    Cell::named(id, known.map(|cause| cases.knowledge.causes[cause].name.as_str()))
}

fn named(cases: &Cases<'_>, by: By, name: Option<Name>) -> Cell {
    let Some(name) = name else {
        return Cell::named("", Some("(not said)"));
    };
    let id = cases.text(name);
    let knowledge = cases.knowledge;
    let known = match by {
        By::Complaint => knowledge
            .complaints()
            .into_iter()
            .find(|(tree, _)| tree.id == id)
            .map(|(_, words)| words),
        By::Equipment => knowledge
            .equipment(id)
            .map(|kind| knowledge.equipment[kind].name.as_str()),
        By::Technician | By::Month => return Cell::Text(id.to_owned()),
    };
    Cell::named(id, known)
}

/// What a cell is ordered by.
pub(super) fn id(cell: &Cell) -> &str {
    match cell {
        Cell::Text(id) | Cell::Named { id, .. } => id,
        _ => "",
    }
}
