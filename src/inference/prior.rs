//! How common causes are before anything is known but the complaint.

use crate::knowledge::model::{Cause, Equipment, Frequency, Knowledge, TreeIndex};

use super::network;

/// Prior probability of "something not listed here".
///
/// Within the 0.05 to 0.10 that the design allows; our choice, no source.
pub const REMAINDER: f64 = 0.07;

/// Relative weight of how common a cause is behind callbacks.
///
/// The steps are a little above a factor of 2 apart. Our choice, no source: no survey of callbacks with counts was found.
const fn weight(frequency: Frequency) -> f64 {
    match frequency {
        Frequency::VeryCommon => 10.0,
        Frequency::Common => 5.0,
        Frequency::Occasional => 2.2,
        Frequency::Rare => 1.0,
    }
}

/// Relative weight of how common a cause is behind a callback on an equipment, whatever the complaint.
#[must_use]
pub fn base(cause: &Cause, equipment: &Equipment) -> f64 {
    weight(
        cause
            .base
            .as_ref()
            .map_or(Frequency::Rare, |base| base.on(equipment)),
    )
}

/// Prior probabilities of all causes for a complaint on any equipment, with the remainder last; they sum to 1.
#[must_use]
pub fn of_complaint(knowledge: &Knowledge, complaint: TreeIndex) -> Vec<f64> {
    of_bases(knowledge.causes.iter().map(|cause| {
        let base = cause.base.as_ref().map_or(Frequency::Rare, |base| base.usual);
        weight(base) * network::of_complaint(knowledge, &cause.does, complaint)
    }))
}

/// Prior probabilities out of relative weights, in the given order, with the remainder last; they sum to 1.
pub fn of_bases(bases: impl Iterator<Item = f64>) -> Vec<f64> {
    let mut shares: Vec<f64> = bases.collect();
    let total: f64 = shares.iter().sum();
    if total > 0.0 {
        for share in &mut shares {
            *share *= (1.0 - REMAINDER) / total;
        }
        shares.push(REMAINDER);
    } else {
        shares.push(1.0);
    }
    shares
}

#[cfg(test)]
mod tests {
    use crate::knowledge;

    use super::{base, of_bases};

    #[test]
    fn the_equipment_changes_a_base_where_the_cause_says_so() {
        let knowledge = knowledge::embedded().unwrap();
        let share = |equipment: &str| {
            let equipment = &knowledge.equipment[knowledge.equipment(equipment).unwrap()];
            let cause = knowledge.cause("shared-circuit-overload").unwrap();
            let shares = of_bases(knowledge.causes.iter().map(|cause| base(cause, equipment)));
            assert!((shares.iter().sum::<f64>() - 1.0).abs() < 1e-12);
            shares[cause.place()]
        };
        assert!(share("room-unit") > share("split-air-conditioner"));
    }
}
