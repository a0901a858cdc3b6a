//! Whether the people there are told to leave it off, and who makes it safe: what is advised next must agree with that.

use crate::knowledge::model::Job;
use crate::report::{CauseStanding, DefectShown, HeldShown};

use super::{danger, plain};

/// From this probability on a cause that may be dangerous is treated as if it were the one. Our choice, no source.
const NOT_TO_BE_OVERLOOKED: f64 = 0.25;

/// Causes looked at for it.
const LOOKED_AT: usize = 3;

/// From this probability on one of the causes that lead still stands: nobody is told to use it as usual while it can hurt
/// somebody. Our choice, no source.
const STILL_STANDS: f64 = 0.10;

/// The likely causes that ask for more than leaving it off, and what each asks for.
fn asking(standing: &[CauseStanding]) -> impl Iterator<Item = (&CauseStanding, &'static str)> {
    standing
        .iter()
        .take(LOOKED_AT)
        .filter(|cause| cause.probability >= NOT_TO_BE_OVERLOOKED)
        .filter_map(|cause| Some((cause, plain::meanwhile(&cause.cause)?)))
}

/// What the likely causes ask for besides leaving it off, the worst first and each thing once.
pub(super) fn meanwhile(standing: &[CauseStanding]) -> Vec<&'static str> {
    let mut says: Vec<&str> = asking(standing).map(|(_, says)| says).collect();
    says.sort_by_key(|says| plain::meanwhile_rank(says));
    says.dedup();
    says
}

/// Whether one of the causes that still stand, or the likely ones together, can hurt somebody while it lasts.
pub(super) fn by_its_causes(standing: &[CauseStanding]) -> bool {
    let keeps_off = |cause: &&CauseStanding| {
        let caution = cause.caution.to_lowercase();
        plain::cause_keeps_off(&cause.cause)
            || [
                "keep the unit off",
                "keep it off",
                "leave it off",
                "leave the unit off",
            ]
            .iter()
            .any(|words| caution.contains(words))
    };
    let leads = standing.iter().take(LOOKED_AT).filter(keeps_off);
    leads
        .map(|cause| cause.probability)
        .any(|share| share >= STILL_STANDS)
        || standing
            .iter()
            .filter(keeps_off)
            .map(|cause| cause.probability)
            .sum::<f64>()
            >= NOT_TO_BE_OVERLOOKED
}

/// Who makes it safe where it is to be left off until then; nothing where it may be used as usual.
pub(in crate::report) fn made_safe_by(
    held: &[HeldShown],
    defects: &[DefectShown],
    standing: &[CauseStanding],
) -> Option<Job> {
    let defect = defects.iter().find(|defect| danger::keeps_off(defect));
    let raised = || {
        (held.iter().any(|hold| !hold.from_start) || by_its_causes(standing)).then_some(Job::HvacTechnician)
    };
    defect
        .map(|defect| defect.trade)
        .or_else(|| asking(standing).next().map(|(cause, _)| cause.trade))
        .or_else(raised)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::knowledge::model::Place;

    fn standing(cause: &str, probability: f64, caution: &str) -> CauseStanding {
        CauseStanding {
            cause: cause.to_owned(),
            name: cause.to_owned(),
            probability,
            words: "",
            place: Place::Load,
            trade: Job::Electrician,
            supporting: Vec::new(),
            against: Vec::new(),
            mechanism: String::new(),
            remedy: String::new(),
            proof: String::new(),
            caution: caution.to_owned(),
        }
    }

    /// Nothing was found and no hold raised, and nothing is asked besides leaving it off: what may be the cause keeps it off.
    #[test]
    fn a_cause_that_can_hurt_has_it_made_safe_before_it_is_run() {
        let by = |standing: &[CauseStanding]| made_safe_by(&[], &[], standing);
        let (_, mut causes) = plain::kept_off();
        let hurts = causes
            .find(|id| plain::meanwhile(id).is_none())
            .unwrap_or_default();
        assert!(!hurts.is_empty());
        assert_eq!(by(&[standing(hurts, 0.10, "")]), Some(Job::HvacTechnician));
        assert_eq!(by(&[standing(hurts, 0.09, "")]), None);
        let cautious = [standing("any", 0.4, "Leave it off until the lug is made new.")];
        assert_eq!(by(&cautious), Some(Job::HvacTechnician));
        assert_eq!(by(&[standing("any", 0.9, "Lock it out first.")]), None);
        // None of them stands by itself, and together they do.
        let few = [0.09, 0.09, 0.08].map(|share| standing(hurts, share, ""));
        assert_eq!(by(&few), Some(Job::HvacTechnician));
        assert_eq!(by(&few[..2]), None);
    }
}
