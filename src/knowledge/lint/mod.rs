//! rules
use super::document::Documents;
use super::finding::Finding;
use super::model::Knowledge;

pub(super) fn each_entry(_: &Knowledge, _: &Documents<'_>, _: &mut Vec<Finding>) {}
pub(super) fn whole(_: &Knowledge, _: &Documents<'_>, _: &mut Vec<Finding>) {}
