//! Fourth phase: how the causes stand after what was found, and which holds are up.

use std::ops::Deref;
use std::rc::Rc;

use crate::inference::choice::Position;
use crate::inference::learn::Counts;
use crate::inference::{Model, Standing, repair};
use crate::knowledge::indexed::Indexed;
use crate::knowledge::model::{CauseIndex, HoldIndex};

use super::found::Found;
use super::stands::Stand;

/// A model, and the minutes of the repair of each of its causes.
#[derive(Debug)]
struct Causes {
    model: Model,
    repairs: Vec<f64>,
}

/// How the causes stand.
#[derive(Clone, Debug)]
pub struct Posterior<'k> {
    found: Found<'k>,
    /// Once complaint and equipment are known.
    causes: Option<(Rc<Causes>, Standing)>,
    /// How each hold stands.
    pub(super) stands: Indexed<HoldIndex, Stand>,
}

impl<'k> Deref for Posterior<'k> {
    type Target = Found<'k>;

    fn deref(&self) -> &Self::Target {
        &self.found
    }
}

impl<'k> Posterior<'k> {
    /// Weighs what was found. The model of the posterior `earlier` is kept where complaint and equipment are the same.
    pub(super) fn of(found: Found<'k>, counts: Option<&Counts>, earlier: Option<&Self>) -> Self {
        let same = |earlier: &&Self| {
            earlier.complaint == found.complaint && earlier.installation == found.installation
        };
        let kept = earlier.filter(same).and_then(|earlier| earlier.causes.as_ref());
        let causes = found.complaint.zip(found.installation()).map(|(tree, own)| {
            kept.map_or_else(
                || {
                    let model = Model::new(found.knowledge, tree, own);
                    let model = match counts {
                        Some(counts) => model.learned(found.knowledge, tree, counts),
                        None => model,
                    };
                    Rc::new(Causes {
                        repairs: repair::all_minutes(found.knowledge, &model),
                        model,
                    })
                },
                |(causes, _)| Rc::clone(causes),
            )
        });
        let causes = causes.map(|causes| {
            let standing = Standing::new(&causes.model, found.findings());
            (causes, standing)
        });
        Self {
            stands: found.stands(),
            causes,
            found,
        }
    }

    /// The standing of causes, once complaint and equipment are known.
    #[must_use]
    pub fn standing(&self) -> Option<&Standing> {
        self.causes.as_ref().map(|(_, standing)| standing)
    }

    /// The causes with their probabilities, from the most probable; none before complaint and equipment are known.
    #[must_use]
    pub fn ranked(&self) -> Vec<(CauseIndex, f64)> {
        self.standing().map(Standing::ranked).unwrap_or_default()
    }

    /// The model behind the standing.
    #[must_use]
    pub fn model(&self) -> Option<&Model> {
        self.causes.as_ref().map(|(causes, _)| &causes.model)
    }

    /// What the next test is chosen by.
    pub(super) fn position(&self) -> Option<Position<'_>> {
        self.causes.as_ref().map(|(causes, standing)| Position {
            model: &causes.model,
            standing,
            state: self.state(),
            repairs: &causes.repairs,
        })
    }
}
