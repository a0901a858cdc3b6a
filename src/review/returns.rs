//! What came back: callbacks by place, and what the case before had concluded.

use std::collections::BTreeMap;

use super::cases::Cases;
use super::groups::{cause, id};
use super::names::Name;
use super::row::{Row, RowClosing};
use super::table::{Cell, Table, columns};

/// Places with callbacks, most first.
pub(super) fn places(cases: &Cases<'_>) -> Table {
    let mut counts: BTreeMap<Option<Name>, (u64, u64, u64)> = BTreeMap::new();
    for row in &cases.rows {
        let (all, callbacks, overturned) = counts.entry(row.place).or_default();
        *all += 1;
        *callbacks += u64::from(row.callback_of.is_some());
        *overturned += u64::from(row.closing.is_some() && cases.is_overturned(row));
    }
    let mut rows: Vec<(&str, u64, u64, u64)> = counts
        .into_iter()
        .filter(|(_, (_, callbacks, _))| *callbacks > 0)
        .map(|(place, (all, callbacks, overturned))| {
            (
                place.map_or("(not said)", |place| cases.text(place)),
                all,
                callbacks,
                overturned,
            )
        })
        .collect();
    rows.sort_by(|a, b| b.2.cmp(&a.2).then(b.1.cmp(&a.1)).then(a.0.cmp(b.0)));
    Table {
        id: "callback-place",
        title: "Places that called again",
        note: "Cases at a place, those opened as a callback of an earlier one, and cases there whose cause was proved later \
               to be another.",
        columns: columns(&[
            ("place", "place"),
            ("cases", "cases"),
            ("callbacks", "callbacks"),
            ("overturned", "over"),
        ]),
        rows: rows
            .into_iter()
            .map(|(place, all, callbacks, overturned)| {
                vec![
                    Cell::Text(place.to_owned()),
                    Cell::Count(all),
                    Cell::Count(callbacks),
                    Cell::Count(overturned),
                ]
            })
            .collect(),
        bars: Some(2),
        shown: 8,
    }
}

/// How often a cause came back, and as what.
#[derive(Clone, Copy, Default)]
struct CameBack {
    all: u64,
    same: u64,
    other: u64,
    guessed: u64,
}

/// Causes cases were closed with and came back, most often first, and whether the callback closed with the same one.
pub(super) fn causes(cases: &Cases<'_>) -> Table {
    let mut of: BTreeMap<Option<Name>, CameBack> = BTreeMap::new();
    for row in &cases.rows {
        let (Some(closing), Some(now)) = (row.closing, cases.came_back.get(&row.id)) else {
            continue;
        };
        let counts = of.entry(closing.cause).or_default();
        counts.all += 1;
        if let Some(later) = now.closing {
            let same = later.cause == closing.cause;
            counts.same += u64::from(same);
            counts.other += u64::from(!same && later.proved);
            counts.guessed += u64::from(!same && !later.proved);
        }
    }
    let mut rows: Vec<(Cell, CameBack)> = of
        .into_iter()
        .map(|(name, counts)| (cause(cases, name), counts))
        .collect();
    rows.sort_by(|(a, x), (b, y)| y.all.cmp(&x.all).then_with(|| id(a).cmp(id(b))));
    Table {
        id: "came-back",
        title: "Causes that came back most",
        note: "What the case before was closed with. Same again: the callback was closed with the same cause, so the repair \
               or what keeps it from coming back failed. Another: the callback proved another cause. Guessed: it was closed with another cause, \
               as a guess.",
        columns: columns(&[
            ("name", "closed before as"),
            ("came-back", "came back"),
            ("same", "same again"),
            ("other", "another"),
            ("guessed", "guessed"),
        ]),
        rows: rows
            .into_iter()
            .map(|(name, counts)| {
                vec![
                    name,
                    Cell::Count(counts.all),
                    Cell::Count(counts.same),
                    Cell::Count(counts.other),
                    Cell::Count(counts.guessed),
                ]
            })
            .collect(),
        bars: Some(1),
        shown: 12,
    }
}

/// Callbacks, the newest first, with what was concluded before and what was found then.
pub(super) fn callbacks(cases: &Cases<'_>) -> Table {
    let mut rows: Vec<&Row> = cases
        .rows
        .iter()
        .copied()
        .filter(|row| row.callback_of.is_some())
        .collect();
    rows.sort_by(|a, b| {
        let id = |row: &Row| cases.text(row.id).to_owned();
        b.opened.cmp(&a.opened).then_with(|| id(a).cmp(&id(b)))
    });
    Table {
        id: "callback",
        title: "What the visit before had concluded",
        note: "Each callback: what the case before was closed with, by whom and what was done, and what this one was closed \
               with, by whom and how many days after. Disproved: another cause was proved then.",
        columns: columns(&[
            ("opened", "opened"),
            ("place", "place"),
            ("before", "concluded before"),
            ("how-before", "how"),
            ("by-before", "by"),
            ("days", "days after"),
            ("now", "found now"),
            ("how-now", "how"),
            ("by-now", "by"),
            ("verdict", "that was"),
            ("done-before", "done before"),
        ]),
        rows: rows.into_iter().map(|row| callback(cases, row)).collect(),
        bars: None,
        shown: 8,
    }
}

fn callback(cases: &Cases<'_>, row: &Row) -> Vec<Cell> {
    let before = row.callback_of.and_then(|id| cases.by_id.get(&id).copied());
    let closed_before = before.and_then(|before| before.closing);
    let verdict = match (before, closed_before, row.closing) {
        (None, _, _) => "not among these files",
        (_, None, _) => "was never closed",
        (_, _, None) => "not closed yet",
        (_, Some(before), Some(now)) if before.cause != now.cause && now.proved => "disproved",
        (_, Some(before), Some(now)) if before.cause != now.cause => "doubted by a guess",
        _ => "the same again",
    };
    let how = |closing: Option<RowClosing>| match closing {
        None => Cell::Nothing,
        Some(closing) => Cell::Text(closing.how().to_owned()),
    };
    let who = |row: Option<&Row>| {
        row.and_then(|row| row.technician)
            .map_or(Cell::Nothing, |name| Cell::Text(cases.text(name).to_owned()))
    };
    let days = closed_before.and_then(|before| u64::try_from((row.opened - before.at) / (24 * 3600)).ok());
    let place = [row.place, row.unit]
        .into_iter()
        .flatten()
        .map(|name| cases.text(name))
        .collect::<Vec<_>>()
        .join(", ");
    vec![
        Cell::Text(day(row.opened)),
        Cell::Text(place),
        closed_before.map_or(Cell::Nothing, |before| cause(cases, before.cause)),
        how(closed_before),
        who(before),
        days.map_or(Cell::Nothing, Cell::Count),
        row.closing.map_or(Cell::Nothing, |now| cause(cases, now.cause)),
        how(row.closing),
        who(Some(row)),
        Cell::Text(verdict.to_owned()),
        before
            .and_then(|before| before.repaired)
            .map_or(Cell::Nothing, |done| Cell::Text(cases.text(done).to_owned())),
    ]
}

/// The day of a moment in UTC.
pub(super) fn day(seconds: i64) -> String {
    jiff::Timestamp::from_second(seconds)
        .map_or_else(|_| String::new(), |at| at.strftime("%Y-%m-%d").to_string())
}
