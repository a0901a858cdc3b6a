//! Which fault is hidden in which equipment behind which complaint.

use crate::knowledge::behind::COMPLAINT;
use fastrand::Rng;
use thiserror::Error;

use crate::inference::shares::pick;
use crate::knowledge::model::{CauseIndex, EquipmentIndex, Knowledge, TreeIndex};
use crate::rig::NoRig;
use crate::walk::{Event, Walk};

use super::Level;
use super::truth::{self, Truth};

/// What an exercise should be like; what is left open is sampled.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[expect(missing_docs, reason = "what a name leaves unsaid is added")]
pub struct Wish {
    pub complaint: Option<TreeIndex>,
    /// How hard.
    pub level: Option<Level>,
    pub equipment: Option<EquipmentIndex>,
}

/// A hidden fault in its place.
#[derive(Clone, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "what a name leaves unsaid is added")]
pub struct Exercise {
    pub complaint: TreeIndex,
    pub equipment: EquipmentIndex,
    /// Ids of the accessories fitted.
    pub accessories: Vec<String>,
    /// What is wrong.
    pub truth: CauseIndex,
    /// What everything found out about it is sampled from.
    pub seed: u64,
}

/// Why there is no such exercise.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum ExerciseError {
    /// The complaint is none that this equipment can have, or no listed cause has this level.
    #[error("no fault of this kind is listed: {wish}")]
    NoSuchFault {
        /// What was wished for, in words.
        wish: String,
    },
}

impl Exercise {
    /// Samples one. The same wish, seed and knowledge give the same exercise.
    ///
    /// # Errors
    /// When the knowledge lists no such fault.
    pub fn sample(knowledge: &Knowledge, wish: Wish, seed: u64) -> Result<Self, ExerciseError> {
        let mut rng = Rng::with_seed(seed);
        let mut complaints: Vec<TreeIndex> = match wish.complaint {
            Some(complaint) => vec![complaint],
            None => knowledge
                .trees
                .indices()
                .filter(|tree| knowledge.trees[*tree].is_complaint())
                .collect(),
        };
        rng.shuffle(&mut complaints);
        for complaint in complaints {
            let mut walk = Walk::new(knowledge);
            give(&mut walk, complaint_event(knowledge, complaint));
            let mut kinds = walk.equipment_offered();
            kinds.retain(|kind| wish.equipment.is_none_or(|wanted| wanted == *kind));
            rng.shuffle(&mut kinds);
            for equipment in kinds {
                let mut walk = walk.clone();
                give(&mut walk, equipment_event(knowledge, equipment));
                let mut shares = causes(&walk, wish.level);
                while let Some(truth) = sample_cause(&walk, &mut shares, &mut rng) {
                    let exercise = Self {
                        complaint,
                        equipment,
                        accessories: fitted(&walk, truth, &mut rng),
                        truth,
                        seed,
                    };
                    if exercise.is_called_for(knowledge) {
                        return Ok(exercise);
                    }
                }
            }
        }
        Err(ExerciseError::NoSuchFault {
            wish: in_words(knowledge, wish),
        })
    }

    /// The walk at its beginning: complaint, equipment and accessories given.
    #[must_use]
    pub fn walk<'k>(&self, knowledge: &'k Knowledge) -> Walk<'k> {
        let mut walk = Walk::new(knowledge);
        give(&mut walk, complaint_event(knowledge, self.complaint));
        give(&mut walk, equipment_event(knowledge, self.equipment));
        if walk.installation().is_some_and(|own| !own.accessories.is_empty()) {
            give(
                &mut walk,
                Event::Accessories {
                    fitted: Some(self.accessories.clone()),
                },
            );
        }
        walk
    }

    /// The fault with everything that can be found out about it; nothing when the equipment cannot have it.
    #[must_use]
    pub fn truth(&self, knowledge: &Knowledge) -> Option<Truth> {
        Truth::sample(&self.walk(knowledge), self.truth, self.seed)
    }

    /// Whether physics, where it has a say, lets anybody call for this complaint with this fault.
    fn is_called_for(&self, knowledge: &Knowledge) -> bool {
        let simulated = truth::simulated(&self.walk(knowledge), self.truth, self.seed);
        !matches!(simulated, Err(NoRig::NotBrought | NoRig::NoSolution))
    }
}

fn complaint_event(knowledge: &Knowledge, complaint: TreeIndex) -> Event {
    Event::Complaint {
        complaint: knowledge.trees[complaint].id.clone(),
    }
}

fn equipment_event(knowledge: &Knowledge, equipment: EquipmentIndex) -> Event {
    Event::Equipment {
        equipment: knowledge.equipment[equipment].id.clone(),
    }
}

fn give(walk: &mut Walk<'_>, event: Event) {
    // The ids come from the walk's own knowledge.
    let given = walk.apply(&event);
    debug_assert!(given.is_ok(), "{given:?}");
}

/// How often each cause of the level is behind this complaint.
fn causes(walk: &Walk<'_>, level: Option<Level>) -> Vec<f64> {
    let Some(model) = walk.model() else {
        return Vec::new();
    };
    let causes = model.causes().iter().zip(model.priors());
    let shares = causes.map(|(cause, prior)| {
        let fits = brings(walk, *cause) && level.is_none_or(|level| Level::of(walk, *cause) == level);
        if fits { *prior } else { 0.0 }
    });
    shares.collect()
}

/// One of the causes that have a share left, which it takes.
fn sample_cause(walk: &Walk<'_>, shares: &mut [f64], rng: &mut Rng) -> Option<CauseIndex> {
    if shares.iter().sum::<f64>() <= 0.0 {
        return None;
    }
    let place = pick(rng, shares);
    shares[place] = 0.0;
    Some(walk.model()?.causes()[place])
}

/// Customers with a fault who call for something this seldom would only puzzle whoever learns. Our choice, no source.
const SELDOM: f64 = 0.05;

/// Whether a cause brings the complaint often enough to learn from.
fn brings(walk: &Walk<'_>, cause: CauseIndex) -> bool {
    let knowledge = walk.knowledge();
    let Some(complaint) = walk.complaint() else {
        return false;
    };
    knowledge.effect(COMPLAINT).is_some_and(|effect| {
        let id = &knowledge.trees[complaint].id;
        let state = knowledge.effects[effect]
            .states
            .iter()
            .position(|state| state.id == *id);
        let mut does = knowledge.causes[cause].does.iter();
        let says = does.find(|does| does.effect == effect);
        matches!((state, says), (Some(state), Some(says)) if says.shares[state] >= SELDOM)
    })
}

/// Accessories fitted where the cause is: those it needs, and now and then one more, so that one fitted gives nothing away.
fn fitted(walk: &Walk<'_>, truth: CauseIndex, rng: &mut Rng) -> Vec<String> {
    let own = walk.installation().map_or(&[][..], |own| &own.accessories);
    let needed = &walk.knowledge().causes[truth].parts;
    let besides = (!own.is_empty() && rng.u8(..3) == 0).then(|| rng.usize(..own.len()));
    own.iter()
        .enumerate()
        .filter(|(place, id)| needed.contains(id) || besides == Some(*place))
        .map(|(_, id)| id.clone())
        .collect()
}

fn in_words(knowledge: &Knowledge, wish: Wish) -> String {
    let mut words = Vec::new();
    if let Some(complaint) = wish.complaint {
        words.push(format!("complaint `{}`", knowledge.trees[complaint].id));
    }
    if let Some(level) = wish.level {
        words.push(format!("level {}", level.number()));
    }
    if let Some(equipment) = wish.equipment {
        words.push(format!("equipment `{}`", knowledge.equipment[equipment].id));
    }
    words.join(", ")
}
