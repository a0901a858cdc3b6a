//! Some cases, and what is needed to read them.

use std::collections::HashMap;

use crate::knowledge::model::Knowledge;

use super::names::{Name, Names};
use super::read::Gathered;
use super::row::{Row, RowClosing};

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
    pub(super) fn new(
        knowledge: &'a Knowledge,
        gathered: &'a Gathered,
        rows: Vec<&'a Row>,
        all: &[&'a Row],
    ) -> Self {
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

    /// Whether what a case was closed with was shown not to hold: it was closed anew, or came back and was then closed, with
    /// another cause that was proved. A guess overturns nothing.
    pub(super) fn is_overturned(&self, row: &Row) -> bool {
        let anew = || row.closed_otherwise && row.closing.is_some_and(|closing| closing.proved);
        self.disproved_by(row).is_some() || anew()
    }

    /// Whether a later closing named another cause but only guessed, and none that was proved did.
    pub(super) fn is_doubted(&self, row: &Row) -> bool {
        let otherwise = || {
            let now = self.came_back.get(&row.id)?.closing?;
            Some(now.cause != row.closing?.cause)
        };
        !self.is_overturned(row) && (row.closed_otherwise || otherwise() == Some(true))
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
