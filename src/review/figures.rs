//! A review: which cases, and every table of them.

use crate::knowledge::model::Knowledge;

use super::cases::Cases;
use super::filter::Filter;
use super::groups::{self, By};
use super::read::{Broken, Gathered};
use super::row::Row;
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

impl Scope {
    /// When they were opened, as the end of a sentence; nothing where there is none.
    pub(super) fn opened(&self) -> String {
        match &self.months {
            Some((first, last)) if first == last => format!(", opened in {first}"),
            Some((first, last)) => format!(", opened {first} to {last}"),
            None => String::new(),
        }
    }
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

impl Review {
    /// Works out every table.
    ///
    /// Invented cases count only where there are no real ones. `every_case` adds the table with a line for each case,
    /// which is as long as there are cases.
    #[must_use]
    pub fn new(knowledge: &Knowledge, mut gathered: Gathered, filter: &Filter, every_case: bool) -> Self {
        let broken = std::mem::take(&mut gathered.broken);
        gathered.call_as_now(knowledge);
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
            returns::causes(&cases),
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
