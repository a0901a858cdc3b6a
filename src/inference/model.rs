//! The causes, priors and likelihoods that fit one complaint and one kind of equipment.

use crate::knowledge::model::{CauseIndex, Equipment, Knowledge, Test, TestIndex, TreeIndex};

use super::evidence::Likelihoods;
use super::learn;
use super::prior;

/// Everything the score needs for one complaint on one kind of equipment.
#[derive(Clone, Debug)]
pub struct Model {
    causes: Vec<CauseIndex>,
    /// Priors of `causes`, then of the remainder.
    priors: Vec<f64>,
    /// By test; nothing for a test that does not apply to the equipment.
    likelihoods: Vec<Option<Likelihoods>>,
    /// Number of the echo group of each test, if it has one.
    echoes: Vec<Option<usize>>,
    /// The equipment it was built for; nothing for a model taken as given.
    equipment: Option<Equipment>,
}

impl Model {
    /// Builds the model. What does not apply to the equipment is left out.
    #[must_use]
    pub fn new(knowledge: &Knowledge, complaint: TreeIndex, equipment: &Equipment) -> Self {
        let complaint = &knowledge.trees[complaint.0].id;
        let mut places = vec![None; knowledge.causes.len()];
        let mut causes = Vec::new();
        for (index, cause) in knowledge.causes.iter().enumerate() {
            if cause.applies_to(equipment) {
                places[index] = Some(causes.len());
                causes.push(CauseIndex(index));
            }
        }
        let priors = prior::priors(
            causes.iter().map(|c| &knowledge.causes[c.0]),
            complaint,
            Some(equipment),
        );
        let likelihoods = knowledge
            .tests
            .iter()
            .map(|test| {
                test.applies_to(equipment)
                    .then(|| Likelihoods::of(test, Some(equipment), |cause| places[cause.0]))
            })
            .collect();
        let mut groups: Vec<&str> = Vec::new();
        let echoes = knowledge
            .tests
            .iter()
            .map(|test| {
                let echo = test.echo.as_deref()?;
                Some(groups.iter().position(|group| *group == echo).unwrap_or_else(|| {
                    groups.push(echo);
                    groups.len() - 1
                }))
            })
            .collect();
        Self {
            causes,
            priors,
            likelihoods,
            echoes,
            equipment: Some(equipment.clone()),
        }
    }

    /// The same model with priors learned from a shop's confirmed cases of this complaint.
    ///
    /// Causes the equipment cannot have are left out of the counts.
    #[must_use]
    pub fn learned(mut self, knowledge: &Knowledge, complaint: TreeIndex, counts: &learn::Counts) -> Self {
        if let Some(by_cause) = counts.counts.get(&knowledge.trees[complaint.0].id) {
            let count = |id: &str| by_cause.get(id).copied().unwrap_or(0.0);
            let mut seen: Vec<f64> = self
                .causes
                .iter()
                .map(|cause| count(&knowledge.causes[cause.0].id))
                .collect();
            seen.push(count(learn::NOT_LISTED));
            self.priors = learn::shares(&self.priors, &seen, learn::AUTHORED_CASES);
        }
        self
    }

    /// Takes a model as given: priors of the causes and then of the remainder, and the likelihoods by test.
    ///
    /// For models worked out elsewhere, such as published examples. No test echoes another.
    #[must_use]
    pub fn from_tables(priors: Vec<f64>, likelihoods: Vec<Likelihoods>) -> Self {
        let causes = (0..priors.len().saturating_sub(1)).map(CauseIndex).collect();
        let echoes = vec![None; likelihoods.len()];
        Self {
            causes,
            priors,
            likelihoods: likelihoods.into_iter().map(Some).collect(),
            echoes,
            equipment: None,
        }
    }

    /// The causes considered, in the order of every vector of this room.
    #[must_use]
    pub fn causes(&self) -> &[CauseIndex] {
        &self.causes
    }

    /// Place of a cause in every vector of this room; nothing when the model leaves it out.
    #[must_use]
    pub fn place(&self, cause: CauseIndex) -> Option<usize> {
        self.causes.iter().position(|c| *c == cause)
    }

    /// The same model with other likelihoods for one test.
    #[must_use]
    pub fn with(&self, test: TestIndex, likelihoods: Likelihoods) -> Self {
        let mut other = self.clone();
        other.likelihoods[test.0] = Some(likelihoods);
        other
    }

    /// The likelihoods a test would have in this model.
    #[must_use]
    pub fn likelihoods_of(&self, test: &Test) -> Likelihoods {
        Likelihoods::of(test, self.equipment.as_ref(), |cause| self.place(cause))
    }

    /// Priors of the causes, then of the remainder; they sum to 1.
    #[must_use]
    pub fn priors(&self) -> &[f64] {
        &self.priors
    }

    /// Likelihoods of a test, or nothing when it does not apply.
    #[must_use]
    pub fn likelihoods(&self, test: TestIndex) -> Option<&Likelihoods> {
        self.likelihoods[test.0].as_ref()
    }

    /// The echo group of a test.
    #[must_use]
    pub fn echo(&self, test: TestIndex) -> Option<usize> {
        self.echoes[test.0]
    }
}
