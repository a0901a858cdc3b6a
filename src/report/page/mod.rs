//! A case as a page for one reader: what stands on it and in which order, before it becomes text or HTML.
//!
//! [`Page::new`] picks from a [`CaseResult`] what a reader needs: the *electrician* what to correct on the line side, the
//! *customer* plain words on one sheet, the *manager* everything. What is written here are words and figures as data;
//! whoever writes a page down escapes them. Nothing is decided here that the result does not say.

mod block;
mod customer;
mod danger;
mod electrician;
mod figures;
mod ground;
mod left_off;
mod manager;
mod pieces;
mod place;
pub mod plain;
mod spared;
mod subject;
mod words;

use jiff::Timestamp;

use super::CaseResult;

pub use block::{Block, Card, Page, Pair, Reader, Section, Table};
pub(super) use left_off::made_safe_by;
pub use words::render;

impl Page {
    /// Makes the page of a case for a reader; `printed` is the present moment.
    #[must_use]
    pub fn new(result: &CaseResult, reader: Reader, printed: Timestamp) -> Self {
        let mut page = match reader {
            Reader::Electrician => electrician::page(result),
            Reader::Customer => customer::page(result),
            Reader::Manager => manager::page(result),
        };
        page.sections.retain(|section| !section.blocks.is_empty());
        page.foot.extend(foot(result, reader, printed));
        page
    }
}

fn foot(result: &CaseResult, reader: Reader, printed: Timestamp) -> Vec<String> {
    let head = &result.head;
    let mut foot = vec![format!("Printed {}.", head.clock(printed))];
    if reader == Reader::Customer {
        // Enough to ask for it on the phone.
        if let Some(short) = head.case.as_deref().and_then(|case| case.get(..8)) {
            foot.push(format!("Case {}-{}.", &short[..4], &short[4..]));
        }
        return foot;
    }
    if let Some(case) = &head.case {
        foot.push(format!("Case {case}."));
    }
    if let Some(seal) = &head.seal {
        foot.push(format!("Head of the closed case (SHA-256): {seal}."));
    }
    foot.push(format!(
        "lineside {}, knowledge {}.",
        result.program, result.knowledge
    ));
    foot
}
