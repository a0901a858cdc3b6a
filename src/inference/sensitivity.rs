//! How firm a conclusion is: does another cause lead when one strength is a step weaker or stronger, or, where answers
//! weigh through effects, when one answer is left out?

use crate::knowledge::model::{CauseIndex, Knowledge, Sign, Strength};

use super::{Finding, Model, Standing};

/// A sign that the conclusion hangs on: moved one step, another cause leads.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hinge {
    /// Place of the finding whose sign it is.
    pub finding: usize,
    /// The cause the sign is about.
    pub cause: CauseIndex,
    /// The strength that makes another cause lead; nothing when leaving the finding out does.
    pub moved_to: Option<Strength>,
    /// The cause that leads then.
    pub then_leads: CauseIndex,
}

/// Signs the leader hangs on, those of the leader and its two rivals being moved one step at a time.
///
/// An empty answer means the conclusion is firm in this sense.
#[must_use]
pub fn hinges(knowledge: &Knowledge, model: &Model, findings: &[Finding]) -> Vec<Hinge> {
    let leaders: Vec<CauseIndex> = Standing::new(model, findings)
        .ranked()
        .into_iter()
        .take(3)
        .map(|(cause, _)| cause)
        .collect();
    let Some(leader) = leaders.first() else {
        return Vec::new();
    };
    if model.network().is_some() {
        return left_out(model, findings, *leader);
    }
    let mut hinges = Vec::new();
    for (place, finding) in findings.iter().enumerate() {
        let test = &knowledge.tests[finding.test.0];
        for &cause in &leaders {
            let sign = test.outcomes[finding.outcome.0]
                .signs
                .iter()
                .find(|(of, _)| *of == cause);
            let Some((_, Sign::Word(strength))) = sign else {
                continue;
            };
            for moved_to in neighbors(*strength) {
                let mut moved = test.clone();
                for (of, sign) in &mut moved.outcomes[finding.outcome.0].signs {
                    if *of == cause {
                        *sign = Sign::Word(moved_to);
                    }
                }
                let likelihoods = model.likelihoods_of(&moved);
                let other = Standing::new(&model.with(finding.test, likelihoods), findings);
                if let Some((first, _)) = other.ranked().first()
                    && first != leader
                {
                    hinges.push(Hinge {
                        finding: place,
                        cause,
                        moved_to: Some(moved_to),
                        then_leads: *first,
                    });
                }
            }
        }
    }
    hinges
}

/// Findings without which another cause leads.
fn left_out(model: &Model, findings: &[Finding], leader: CauseIndex) -> Vec<Hinge> {
    (0..findings.len())
        .filter_map(|place| {
            let mut others = findings.to_vec();
            others.remove(place);
            let (then_leads, _) = *Standing::new(model, &others).ranked().first()?;
            (then_leads != leader).then_some(Hinge {
                finding: place,
                cause: leader,
                moved_to: None,
                then_leads,
            })
        })
        .collect()
}

/// The strengths one step weaker and one step stronger.
fn neighbors(strength: Strength) -> Vec<Strength> {
    const SCALE: [Strength; 6] = [
        Strength::RulesOut,
        Strength::ArguesAgainst,
        Strength::Weak,
        Strength::Moderate,
        Strength::Strong,
        Strength::NearlyProves,
    ];
    let place = strength as usize;
    [place.checked_sub(1), Some(place + 1)]
        .into_iter()
        .flatten()
        .filter_map(|place| SCALE.get(place).copied())
        .collect()
}
