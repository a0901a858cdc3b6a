//! How common causes are before anything is known but the complaint.

use crate::knowledge::model::{Cause, Equipment, Frequency};

/// Prior probability of "something not listed here".
///
/// Within the 0.05 to 0.10 that the design allows; our choice, no source.
pub const REMAINDER: f64 = 0.07;

/// Relative weight of an authored frequency; `None` is a cause the complaint does not list.
///
/// The steps are about a factor of 2.5 apart, so that one moderate sign outweighs one step of frequency.
/// Our choice, no source: no survey of callbacks with counts was found.
#[must_use]
pub fn weight(frequency: Option<Frequency>) -> f64 {
    match frequency {
        Some(Frequency::VeryCommon) => 12.0,
        Some(Frequency::Common) => 5.0,
        Some(Frequency::Occasional) => 2.0,
        Some(Frequency::Rare) => 0.8,
        None => 0.1,
    }
}

/// Prior probabilities of the causes for a complaint, in the given order, with the remainder last.
///
/// With an equipment, its own frequencies count where a cause has them.
///
/// Returns values that sum to 1. With no cause at all the remainder has everything.
pub fn priors<'a>(
    causes: impl Iterator<Item = &'a Cause>,
    complaint: &str,
    equipment: Option<&Equipment>,
) -> Vec<f64> {
    of_bases(causes.map(|cause| weight(cause.frequency_on(complaint, equipment))))
}

/// Relative weight of how common a cause is behind a callback on an equipment, whatever the complaint.
#[must_use]
pub fn base(cause: &Cause, equipment: &Equipment) -> f64 {
    match cause.base.as_ref().map(|base| base.on(equipment)) {
        Some(Frequency::VeryCommon) => 10.0,
        Some(Frequency::Common) => 5.0,
        Some(Frequency::Occasional) => 2.2,
        Some(Frequency::Rare) | None => 1.0,
    }
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

    use super::priors;

    #[test]
    fn the_equipment_changes_a_frequency_where_the_cause_says_so() {
        let knowledge = knowledge::embedded().unwrap();
        let share = |equipment: &str| {
            let equipment = &knowledge.equipment[knowledge.equipment(equipment).unwrap().0];
            let cause = knowledge.cause("shared-circuit-overload").unwrap();
            let shares = priors(knowledge.causes.iter(), "breaker-opens", Some(equipment));
            assert!((shares.iter().sum::<f64>() - 1.0).abs() < 1e-12);
            shares[cause.0]
        };
        assert!(share("room-unit") > share("split-air-conditioner"));
        assert!(share("split-air-conditioner") > share("rooftop-three-phase"));
    }
}
