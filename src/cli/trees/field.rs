//! The ids typed for commands that look at causes: which causes, which complaint, which equipment.

use crate::cli::Problem;
use crate::inference::matrix::Field;
use crate::knowledge::model::{CauseIndex, Knowledge, TreeIndex};
use crate::knowledge::nearest::unknown;

pub(super) fn cause(knowledge: &Knowledge, id: &str) -> Result<CauseIndex, Problem> {
    knowledge.cause(id).ok_or_else(|| {
        let known = knowledge.causes.iter().map(|cause| cause.id.as_str());
        Problem::data(unknown("cause", id, known))
    })
}

/// A complaint and an equipment by their ids, where they were given.
pub(super) fn field(
    knowledge: &Knowledge,
    complaint: Option<&str>,
    equipment: Option<&str>,
) -> Result<Field, Problem> {
    let complaint = complaint.map(|id| {
        knowledge
            .tree(id)
            .filter(|tree: &TreeIndex| knowledge.trees[*tree].is_complaint())
            .ok_or_else(|| {
                let known = knowledge.trees.iter().filter(|tree| tree.is_complaint());
                Problem::data(unknown("complaint", id, known.map(|tree| tree.id.as_str())))
            })
    });
    let equipment = equipment.map(|id| {
        knowledge.equipment(id).ok_or_else(|| {
            let known = knowledge.equipment.iter().map(|kind| kind.id.as_str());
            Problem::data(unknown("equipment", id, known))
        })
    });
    Ok(Field {
        complaint: complaint.transpose()?,
        equipment: equipment.transpose()?,
    })
}
