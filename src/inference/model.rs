//! The causes, priors and likelihoods that fit one complaint and one kind of equipment.

use std::sync::OnceLock;

use crate::knowledge::indexed::Indexed;
use crate::knowledge::model::{Cause, CauseIndex, EffectIndex, Equipment, Knowledge, TestIndex, TreeIndex};

use super::evidence::Likelihoods;
use super::network::{self, Network};
use super::showing::Showing;
use super::{learn, prior};

/// Everything the score needs for one complaint on one kind of equipment.
#[derive(Clone, Debug)]
pub struct Model {
    causes: Vec<CauseIndex>,
    /// Priors of `causes`, then of the remainder.
    priors: Vec<f64>,
    evidence: Evidence,
}

/// How answers weigh.
#[derive(Clone, Debug)]
enum Evidence {
    /// Each by itself, by a table; nothing for a test that does not apply.
    Tables(Indexed<TestIndex, Option<Likelihoods>>),
    /// Through the effects they show.
    Effects(Box<Effects>),
}

#[derive(Clone, Debug)]
struct Effects {
    network: Network,
    /// By test; nothing for a test that does not apply.
    showings: Indexed<TestIndex, Option<Showing>>,
    /// What each test would show with nothing answered, worked out when it is first asked for.
    alone: Indexed<TestIndex, OnceLock<Likelihoods>>,
    /// What each cause brings with nothing answered.
    beliefs: OnceLock<Vec<Vec<f64>>>,
}

impl Effects {
    /// What each cause brings with nothing answered.
    fn beliefs(&self) -> &[Vec<f64>] {
        self.beliefs.get_or_init(|| {
            let nothing = self.network.nothing();
            (0..self.network.causes())
                .map(|place| self.network.beliefs(self.network.own(place), &nothing))
                .collect()
        })
    }

    fn alone(&self, test: TestIndex) -> Option<&Likelihoods> {
        let showing = self.showings[test].as_ref()?;
        Some(self.alone[test].get_or_init(|| {
            let mut rows: Vec<Vec<f64>> = self
                .beliefs()
                .iter()
                .enumerate()
                .map(|(place, beliefs)| showing.row(&self.network, place, beliefs))
                .collect();
            let usual = rows.pop().unwrap_or_default();
            Likelihoods::from_rows(usual, rows)
        }))
    }
}

impl Model {
    /// Builds the model. What does not apply to the equipment is left out.
    #[must_use]
    pub fn new(knowledge: &Knowledge, complaint: TreeIndex, equipment: &Equipment) -> Self {
        let mut places = Indexed::like(&knowledge.causes, None);
        let mut causes = Vec::new();
        for (index, cause) in knowledge.causes.indexed() {
            if cause.applies_to(equipment) {
                places[index] = Some(causes.len());
                causes.push(index);
            }
        }
        let own: Vec<&Cause> = causes.iter().map(|cause| &knowledge.causes[*cause]).collect();
        let network = Network::new(knowledge, &own, Some(complaint));
        let priors = prior::of_bases(own.into_iter().map(|cause| {
            let base = prior::base(cause, equipment);
            base * network::of_complaint(knowledge, &cause.does, complaint)
        }));
        let width = |effect: EffectIndex| knowledge.effects[effect].states.len();
        let showings: Indexed<TestIndex, Option<Showing>> = knowledge
            .tests
            .iter()
            .map(|test| {
                let place = |cause: CauseIndex| places[cause];
                test.applies_to(equipment)
                    .then(|| Showing::of(test, width, Some(equipment), place))
            })
            .collect();
        Self {
            causes,
            priors,
            evidence: Evidence::Effects(Box::new(Effects {
                network,
                alone: showings.iter().map(|_| OnceLock::new()).collect(),
                showings,
                beliefs: OnceLock::new(),
            })),
        }
    }

    /// The same model with priors learned from a shop's confirmed cases of this complaint.
    ///
    /// Causes the equipment cannot have are left out of the counts.
    #[must_use]
    pub fn learned(mut self, knowledge: &Knowledge, complaint: TreeIndex, counts: &learn::Counts) -> Self {
        if let Some(by_cause) = counts.counts.get(&knowledge.trees[complaint].id) {
            let count = |id: &str| by_cause.get(id).copied().unwrap_or(0.0);
            let mut seen: Vec<f64> = self
                .causes
                .iter()
                .map(|cause| count(&knowledge.causes[*cause].id))
                .collect();
            seen.push(count(learn::NOT_LISTED));
            self.priors = learn::shares(&self.priors, &seen, learn::AUTHORED_CASES);
        }
        self
    }

    /// Takes a model as given: priors of the causes and then of the remainder, and the likelihoods by test.
    ///
    /// For models worked out elsewhere, such as published examples.
    #[must_use]
    pub fn from_tables(priors: Vec<f64>, likelihoods: Vec<Likelihoods>) -> Self {
        let causes = (0..priors.len().saturating_sub(1)).map(CauseIndex).collect();
        Self {
            causes,
            priors,
            evidence: Evidence::Tables(likelihoods.into_iter().map(Some).collect()),
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

    /// Priors of the causes, then of the remainder; they sum to 1.
    #[must_use]
    pub fn priors(&self) -> &[f64] {
        &self.priors
    }

    /// Likelihoods of a test with nothing else answered, or nothing when it does not apply.
    #[must_use]
    pub fn likelihoods(&self, test: TestIndex) -> Option<&Likelihoods> {
        match &self.evidence {
            Evidence::Tables(tables) => tables[test].as_ref(),
            Evidence::Effects(effects) => effects.alone(test),
        }
    }

    /// Samples one state of every effect, as a cause brings them together under the complaint; the place
    /// behind the last cause is the remainder, under which all is as usual. Nothing where answers weigh by tables, or
    /// where there is no such place.
    #[must_use]
    pub fn sample_states(
        &self,
        place: usize,
        rng: &mut fastrand::Rng,
    ) -> Option<Indexed<EffectIndex, usize>> {
        let (network, _) = self.network()?;
        if place >= network.causes() {
            return None;
        }
        let states = network.sample(network.own(place), &mut |shares| super::shares::pick(rng, shares));
        Some(states.into())
    }

    /// What a cause brings with nothing answered; empty where answers weigh by tables.
    pub(super) fn alone(&self, place: usize) -> &[f64] {
        match &self.evidence {
            Evidence::Tables(_) => &[],
            Evidence::Effects(effects) => &effects.beliefs()[place],
        }
    }

    /// The network of effects and what the tests show in it; nothing where answers weigh by tables.
    pub(super) fn network(&self) -> Option<(&Network, &Indexed<TestIndex, Option<Showing>>)> {
        match &self.evidence {
            Evidence::Tables(_) => None,
            Evidence::Effects(effects) => Some((&effects.network, &effects.showings)),
        }
    }
}
