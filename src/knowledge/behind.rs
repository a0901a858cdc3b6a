//! Which complaints a cause is behind, as the cause itself says it of the effect `complaint`.

pub use super::model::COMPLAINT;
use super::model::{CauseIndex, EffectIndex, Knowledge, TreeIndex};

/// From this share of a cause's callbacks on it counts as behind a complaint, where it is asked which causes a
/// complaint has: one callback in fifty. Below, it is possible and far-fetched. Our choice, no source.
pub const LISTED: f64 = 0.02;

impl Knowledge {
    /// Finds an effect by id.
    #[must_use]
    pub fn effect(&self, id: &str) -> Option<EffectIndex> {
        self.effects.find(|effect| effect.id == id)
    }

    /// P(complaint | cause): of the callbacks a cause is behind, the share that is called in with a complaint. What is usual
    /// where the cause says nothing of it; 1 where the knowledge does not know the complaint as an effect.
    #[must_use]
    pub fn share_of_complaint(&self, cause: CauseIndex, complaint: TreeIndex) -> f64 {
        let Some(effect) = self.effect(COMPLAINT) else {
            return 1.0;
        };
        let states = &self.effects[effect].states;
        let id = &self.trees[complaint].id;
        let Some(state) = states.iter().position(|state| state.id == *id) else {
            return 1.0;
        };
        self.causes[cause]
            .does
            .iter()
            .find(|does| does.effect == effect)
            .map_or(states[state].usual, |does| does.shares[state])
    }

    /// Whether a cause is behind a complaint often enough to be listed with it.
    #[must_use]
    pub fn is_behind(&self, cause: CauseIndex, complaint: TreeIndex) -> bool {
        self.trees[complaint].is_complaint() && self.share_of_complaint(cause, complaint) >= LISTED
    }

    /// The complaints a cause is listed with, and in what share of its callbacks, the most frequent first.
    #[must_use]
    pub fn complaints_of(&self, cause: CauseIndex) -> Vec<(TreeIndex, f64)> {
        let mut complaints: Vec<(TreeIndex, f64)> = self
            .trees
            .indices()
            .filter(|tree| self.is_behind(cause, *tree))
            .map(|tree| (tree, self.share_of_complaint(cause, tree)))
            .collect();
        complaints.sort_by(|a, b| b.1.total_cmp(&a.1));
        complaints
    }
}

#[cfg(test)]
mod tests {
    /// Most causes say where their callbacks come from, so the shares of one add up to 1 over the complaints.
    #[test]
    fn a_cause_is_listed_with_what_it_is_called_in_for() {
        let knowledge = crate::knowledge::embedded().unwrap();
        for (cause, known) in knowledge.causes.indexed() {
            let complaints = knowledge
                .trees
                .indices()
                .filter(|tree| knowledge.trees[*tree].is_complaint());
            let total: f64 = complaints
                .map(|tree| knowledge.share_of_complaint(cause, tree))
                .sum();
            assert!((total - 1.0).abs() < 1e-9, "{}", known.id);
            let listed = knowledge.complaints_of(cause);
            assert!(!listed.is_empty() && listed.is_sorted_by(|a, b| a.1 >= b.1));
            assert!(listed.iter().all(|(tree, _)| knowledge.is_behind(cause, *tree)));
        }
    }
}
