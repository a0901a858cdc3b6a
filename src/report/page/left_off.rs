//! Whether the people there are told to leave it off, and who makes it safe: what is advised next must agree with that.

use crate::knowledge::model::Job;
use crate::report::{CauseStanding, DefectShown, HeldShown};

use super::{danger, plain};

/// From this probability on a cause that may be dangerous is treated as if it were the one. Our choice, no source.
const NOT_TO_BE_OVERLOOKED: f64 = 0.25;

/// Causes looked at for it.
const LOOKED_AT: usize = 3;

/// The first cause that asks for more than leaving it off, and what it asks for.
pub(super) fn meanwhile(standing: &[CauseStanding]) -> Option<(&CauseStanding, &'static str)> {
    standing
        .iter()
        .take(LOOKED_AT)
        .filter(|cause| cause.probability >= NOT_TO_BE_OVERLOOKED)
        .find_map(|cause| Some((cause, plain::meanwhile(&cause.cause)?)))
}

/// Whether the likely causes together are too often one that can hurt somebody while it lasts.
pub(super) fn by_its_causes(standing: &[CauseStanding]) -> bool {
    let dangerous = standing
        .iter()
        .filter(|cause| plain::cause_keeps_off(&cause.cause));
    dangerous.map(|cause| cause.probability).sum::<f64>() >= NOT_TO_BE_OVERLOOKED
}

/// Who makes it safe where it is to be left off until then; nothing where it may be used as usual.
pub(in crate::report) fn made_safe_by(
    held: &[HeldShown],
    defects: &[DefectShown],
    standing: &[CauseStanding],
) -> Option<Job> {
    let defect = defects.iter().find(|defect| danger::keeps_off(defect));
    let raised = || {
        held.iter()
            .any(|hold| !hold.from_start)
            .then_some(Job::HvacTechnician)
    };
    defect
        .map(|defect| defect.trade)
        .or_else(|| meanwhile(standing).map(|(cause, _)| cause.trade))
        .or_else(raised)
}
