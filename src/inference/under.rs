//! What each cause brings, and what each test would show under it, with nothing answered: the view that whoever reads or
//! writes the knowledge needs of it.
//!
//! Without a complaint, what follows from the complaint is left out: in a walk it is known before the first test, so it
//! must not count as though a test had told it.

use crate::knowledge::indexed::Indexed;
use crate::knowledge::model::{
    Cause, CauseIndex, EffectIndex, Equipment, Knowledge, OutcomeIndex, Test, TestIndex, TreeIndex,
};
use crate::knowledge::saying::percent;

use super::network::Network;
use super::prior;
use super::showing::{self, Showing};

/// The causes of a knowledge side by side; "nothing listed" stands for what is usual.
pub struct Under<'k> {
    knowledge: &'k Knowledge,
    /// Where the states of each effect begin in a row of beliefs.
    starts: Indexed<EffectIndex, usize>,
    /// P(state | cause) by cause, what is usual last.
    beliefs: Vec<Vec<f64>>,
    /// P(outcome | cause) by test and cause, what is usual last.
    rows: Indexed<TestIndex, Vec<Vec<f64>>>,
}

/// Why an outcome is met more or less often under a cause.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reason {
    /// The test finds the cause itself there.
    Finds,
    /// It shows a state of an effect that the cause brings more or less often than usual.
    Shows {
        /// The one whose state differs most, of those the outcome shows.
        effect: EffectIndex,
        /// The state that differs most.
        state: usize,
        /// P(state | cause).
        share: f64,
        /// P(state) as usual.
        usual: f64,
    },
}

impl<'k> Under<'k> {
    /// Works everything out once: under a complaint or none, on an equipment or any.
    #[must_use]
    pub fn new(
        knowledge: &'k Knowledge,
        complaint: Option<TreeIndex>,
        equipment: Option<&Equipment>,
    ) -> Self {
        let causes: Vec<&Cause> = knowledge.causes.iter().collect();
        let network = Network::new(knowledge, &causes, complaint);
        let mut starts = Vec::new();
        let mut at = 0;
        for effect in &knowledge.effects {
            starts.push(at);
            at += effect.states.len();
        }
        let nothing = network.nothing();
        let beliefs: Vec<Vec<f64>> = (0..network.causes())
            .map(|place| network.beliefs(network.own(place), &nothing))
            .collect();
        let width = |effect: EffectIndex| knowledge.effects[effect].states.len();
        let rows = knowledge
            .tests
            .iter()
            .map(|test| {
                let there = |cause: CauseIndex| {
                    equipment.is_none_or(|equipment| knowledge.causes[cause].applies_to(equipment))
                };
                let showing = Showing::of(test, width, equipment, |cause| {
                    there(cause).then_some(cause.place())
                });
                beliefs
                    .iter()
                    .enumerate()
                    .map(|(place, beliefs)| showing.row(&network, place, beliefs))
                    .collect()
            })
            .collect();
        Self {
            knowledge,
            starts: starts.into(),
            beliefs,
            rows,
        }
    }

    /// P(state | cause) of an effect; as usual for no cause.
    #[must_use]
    pub fn states(&self, cause: Option<CauseIndex>, effect: EffectIndex) -> &[f64] {
        let place = cause.map_or(self.knowledge.causes.len(), CauseIndex::place);
        let at = self.starts[effect];
        &self.beliefs[place][at..at + self.knowledge.effects[effect].states.len()]
    }

    /// P(outcome | cause) of a test; as usual for no cause.
    #[must_use]
    pub fn row(&self, cause: Option<CauseIndex>, test: TestIndex) -> &[f64] {
        let place = cause.map_or(self.knowledge.causes.len(), CauseIndex::place);
        &self.rows[test][place]
    }

    /// What makes an outcome more or less frequent under a cause than usual; nothing when nothing does.
    #[must_use]
    pub fn reason(&self, cause: CauseIndex, test: TestIndex, outcome: OutcomeIndex) -> Option<Reason> {
        let said = &self.knowledge.tests[test].outcomes[outcome];
        if said.finding(cause).is_some() {
            return Some(Reason::Finds);
        }
        let moved = self.row(Some(cause), test)[outcome.place()] - self.row(None, test)[outcome.place()];
        // What differs by rounding only has no reason.
        const NOTHING: f64 = 1e-9;
        if moved.abs() < NOTHING {
            return None;
        }
        said.shows
            .iter()
            .flat_map(|shown| shown.states.iter().map(|state| (shown.effect, *state)))
            .map(|(effect, state)| {
                let (share, usual) = (
                    self.states(Some(cause), effect)[state],
                    self.states(None, effect)[state],
                );
                (
                    share - usual,
                    Reason::Shows {
                        effect,
                        state,
                        share,
                        usual,
                    },
                )
            })
            .filter(|(more, _)| *more * moved > 0.0)
            .max_by(|a, b| a.0.abs().total_cmp(&b.0.abs()))
            .map(|(_, reason)| reason)
    }

    /// A reason in words: "because the lug is burnt, 80 % (usual 2 %)".
    #[must_use]
    pub fn in_words(&self, reason: Reason) -> String {
        match reason {
            Reason::Finds => "the outcome names this cause".to_owned(),
            Reason::Shows {
                effect,
                state,
                share,
                usual,
            } => format!(
                "because {}: {} (usual {})",
                self.knowledge.effects[effect].states[state].says,
                percent(share),
                percent(usual)
            ),
        }
    }
}

/// How far an answer to a test shows the true state, 0 to 1.
#[must_use]
pub fn sureness(test: &Test) -> f64 {
    showing::sureness(test)
}

/// Causes listed with a complaint, with their share among all causes behind it where every part is fitted, the most
/// frequent first: base rate times P(complaint | cause).
#[must_use]
pub fn behind(knowledge: &Knowledge, complaint: TreeIndex) -> Vec<(CauseIndex, f64)> {
    let any = Equipment {
        id: String::new(),
        name: String::new(),
        parts: Vec::new(),
        accessories: Vec::new(),
    };
    let weights: Indexed<CauseIndex, f64> = knowledge
        .causes
        .indexed()
        .map(|(index, cause)| prior::base(cause, &any) * knowledge.share_of_complaint(index, complaint))
        .collect();
    let total: f64 = weights.iter().sum();
    let mut listed: Vec<(CauseIndex, f64)> = weights
        .indexed()
        .map(|(cause, weight)| (cause, weight / total))
        .filter(|(cause, _)| knowledge.is_behind(*cause, complaint))
        .collect();
    listed.sort_by(|a, b| b.1.total_cmp(&a.1));
    listed
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::inference::Model;

    /// What the walk would use: same complaint, same equipment, other code.
    #[test]
    fn a_complaint_on_an_equipment_gives_the_likelihoods_of_the_walk() {
        let knowledge = crate::knowledge::embedded().unwrap();
        let complaint = knowledge.tree("breaker-opens").unwrap();
        let equipment = &knowledge.equipment[knowledge.equipment("heat-pump").unwrap()];
        let under = Under::new(&knowledge, Some(complaint), Some(equipment));
        let model = Model::new(&knowledge, complaint, equipment);
        let mut compared = 0;
        for test in knowledge.tests.indices() {
            let Some(likelihoods) = model.likelihoods(test) else {
                continue;
            };
            for (place, cause) in model.causes().iter().enumerate() {
                for (own, other) in under.row(Some(*cause), test).iter().zip(likelihoods.row(place)) {
                    assert!((own - other).abs() < 1e-9);
                    compared += 1;
                }
            }
        }
        assert!(compared > 100_000);
    }

    #[test]
    fn a_reason_points_the_way_the_outcome_moves() {
        let knowledge = crate::knowledge::embedded().unwrap();
        let under = Under::new(&knowledge, None, None);
        for cause in knowledge.causes.indices().step_by(9) {
            for test in knowledge.tests.indices() {
                for outcome in knowledge.tests[test].outcomes.indices() {
                    let place = outcome.place();
                    let more = under.row(Some(cause), test)[place] > under.row(None, test)[place];
                    if let Some(Reason::Shows { share, usual, .. }) = under.reason(cause, test, outcome) {
                        assert_eq!(share > usual, more);
                    }
                }
            }
        }
    }
}
