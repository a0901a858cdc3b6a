//! A review: which cases, and every table of them.

use std::collections::HashMap;

use crate::knowledge::model::Knowledge;

use super::filter::Filter;
use super::groups::{self, By};
use super::names::{Name, Names};
use super::read::{Broken, Gathered};
use super::row::{Row, RowClosing};
use super::table::Table;
use super::{calibration, learned, returns, skipped, tables};

/// Which cases a review is of.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Scope {
    /// Cases counted.
    pub cases: usize,
    /// They are invented: nobody was there.
    pub invented: bool,
    /// Invented cases left out, since there are real ones.
    pub invented_left_out: usize,
    /// Cases the filter leaves out.
    pub filtered_out: usize,
    /// The filter in words; empty when every case counts.
    pub filter: String,
    /// First and last month, such as `2025-06`.
    pub months: Option<(String, String)>,
}

/// Many cases together.
#[derive(Clone, Debug)]
pub struct Review {
    /// Fingerprint of the knowledge names and states were looked up in.
    pub knowledge: String,
    /// Which cases.
    pub scope: Scope,
    /// Every table.
    pub tables: Vec<Table>,
    /// Files that were not counted.
    pub broken: Vec<Broken>,
}

/// Some rows and what is needed to read them.
pub(super) struct Cases<'a> {
    pub(super) knowledge: &'a Knowledge,
    pub(super) names: &'a Names,
    /// Those the review is of.
    pub(super) rows: Vec<&'a Row>,
    /// Every row there is, by id: a callback is of a case that the filter may leave out.
    pub(super) by_id: HashMap<Name, &'a Row>,
    /// By case that came back: the case it came back as. Of several the first opened.
    pub(super) came_back: HashMap<Name, &'a Row>,
}

impl<'a> Cases<'a> {
    fn new(knowledge: &'a Knowledge, gathered: &'a Gathered, rows: Vec<&'a Row>, all: &[&'a Row]) -> Self {
        let mut came_back: HashMap<Name, &Row> = HashMap::new();
        for row in all {
            if let Some(before) = row.callback_of {
                let known = came_back.entry(before).or_insert(row);
                if (row.opened, row.id) < (known.opened, known.id) {
                    *known = row;
                }
            }
        }
        Self {
            knowledge,
            names: &gathered.names,
            rows,
            by_id: all.iter().map(|row| (row.id, *row)).collect(),
            came_back,
        }
    }

    pub(super) fn text(&self, name: Name) -> &'a str {
        self.names.text(name)
    }

    /// Whether what a case was closed with did not hold: it was closed anew with another cause, or it came back and was
    /// then closed with another one.
    pub(super) fn is_overturned(&self, row: &Row) -> bool {
        let otherwise = || {
            let now = self.came_back.get(&row.id)?.closing?;
            Some(now.cause != row.closing?.cause)
        };
        row.closed_otherwise || otherwise() == Some(true)
    }

    /// The closing of the callback that proved another cause than this case was closed with.
    pub(super) fn disproved_by(&self, row: &Row) -> Option<RowClosing> {
        let now = self.came_back.get(&row.id)?.closing?;
        (now.proved && now.cause != row.closing?.cause).then_some(now)
    }

    /// The cause a case is known to have had: what a callback proved, else what it was itself proved to be. Inside, nothing
    /// stands for a cause that is not listed.
    pub(super) fn truth(&self, row: &Row) -> Option<Option<Name>> {
        let proved = || row.closing.filter(|closing| closing.proved);
        let closing = self.disproved_by(row).or_else(proved)?;
        Some(closing.cause)
    }

    /// Whether the cause that led at the end is the true one; nothing unless both are known. A cause not listed was led
    /// by none.
    pub(super) fn named_right(&self, row: &Row) -> Option<bool> {
        let truth = self.truth(row)?;
        let (leader, _) = row.leader?;
        Some(truth == Some(leader))
    }
}

impl Review {
    /// Works out every table.
    ///
    /// Invented cases count only where there are no real ones. `every_case` adds the table with a line for each case,
    /// which is as long as there are cases.
    #[must_use]
    pub fn new(knowledge: &Knowledge, mut gathered: Gathered, filter: &Filter, every_case: bool) -> Self {
        let broken = std::mem::take(&mut gathered.broken);
        let real = gathered.rows.iter().filter(|row| !row.invented).count();
        let invented = gathered.rows.len() - real;
        let only_invented = real == 0 && invented > 0;
        let all: Vec<&Row> = gathered
            .rows
            .iter()
            .filter(|row| only_invented || !row.invented)
            .collect();
        let rows: Vec<&Row> = all
            .iter()
            .copied()
            .filter(|row| filter.takes(row, &gathered.names))
            .collect();
        let months = rows.iter().map(|row| gathered.names.text(row.month));
        let scope = Scope {
            cases: rows.len(),
            invented: only_invented,
            invented_left_out: if only_invented { 0 } else { invented },
            filtered_out: all.len() - rows.len(),
            filter: filter.in_words(),
            months: months
                .clone()
                .min()
                .map(str::to_owned)
                .zip(months.max().map(str::to_owned)),
        };
        let cases = Cases::new(knowledge, &gathered, rows, &all);
        let mut tables = vec![
            tables::overview(&cases),
            groups::causes(&cases),
            groups::table(&cases, By::Complaint),
            groups::table(&cases, By::Equipment),
            groups::table(&cases, By::Technician),
            groups::table(&cases, By::Month),
            returns::places(&cases),
            returns::callbacks(&cases),
            tables::replaced(&cases),
            skipped::skipped(&cases),
            tables::live(&cases),
            tables::live_by_technician(&cases),
            tables::effort(&cases),
            calibration::calibration(&cases),
            tables::not_listed(&cases),
            tables::surprising(&cases),
            learned::learned(&cases),
        ];
        if every_case {
            tables.push(tables::all_cases(&cases));
        }
        Self {
            knowledge: knowledge.fingerprint.clone(),
            scope,
            tables,
            broken,
        }
    }

    /// A table by its id.
    #[must_use]
    pub fn table(&self, id: &str) -> Option<&Table> {
        self.tables.iter().find(|table| table.id == id)
    }
}
