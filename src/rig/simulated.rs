//! A hidden fault in a simulated installation: readings from its meter, looks from its states, and what physics does not decide
//! as it was sampled with the fault.

use std::rc::Rc;

use fastrand::Rng;

use crate::knowledge::indexed::Indexed;
use crate::knowledge::model::{CauseIndex, FactIndex, State, TestIndex, TestKind};
use crate::quantity::{Quantity, Value};
use crate::walk::Walk;

use super::bench::{Because, Stage};
use super::case::{self, NoModel, Site};
use super::course::Course;
use super::faults::When;
use super::hidden::{Figures, Hidden};
use super::visit::WAITS;
use super::{plates, states};

/// An installation with its fault, and everything that can be found out about it.
#[derive(Clone)]
pub struct Simulated {
    /// The installation.
    pub site: Rc<Site>,
    /// What is found.
    pub hidden: Hidden,
}

/// Why there is no rig for a cause in a walk.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NoRig {
    /// The cause has no model.
    NoModel(NoModel),
    /// The equipment cannot have it, or complaint and equipment are not given.
    NotHere,
    /// The circuit has no solution.
    NoSolution,
    /// Nobody calls for this complaint with it, even at its gravest.
    NotBrought,
}

/// Parts of the way to the gravest by which a fault grows until somebody calls.
pub(super) const GROWS: [f64; 4] = [0.0, 0.34, 0.67, 1.0];

/// The figures of a site: what its meter shows, and what stands on its plates.
struct Shown {
    readings: Indexed<TestIndex, Result<Quantity, Because>>,
    facts: Indexed<FactIndex, Option<Value>>,
}

impl Figures for Shown {
    fn reading(&self, test: TestIndex) -> Result<Quantity, Because> {
        self.readings.get(test).copied().unwrap_or(Err(Because::NoModel))
    }

    fn fact(&self, fact: FactIndex) -> Option<&Value> {
        self.facts.get(fact)?.as_ref()
    }
}

impl Shown {
    fn of(walk: &Walk<'_>, site: &Site) -> Self {
        let knowledge = walk.knowledge();
        let readings = knowledge.tests.indices().map(|test| {
            let reads = matches!(knowledge.tests[test].kind, TestKind::Reading { .. }) && walk.applies(test);
            if reads {
                site.read(knowledge, test)
            } else {
                Err(Because::NoModel)
            }
        });
        Self {
            readings: readings.collect(),
            facts: plates::facts(walk, &site.bench.installation, &site.fault),
        }
    }
}

impl Simulated {
    /// Puts a cause into a typical installation for a walk whose complaint, equipment and accessories are given.
    ///
    /// # Errors
    /// When the cause has no model, or cannot be there.
    pub fn sample(walk: &Walk<'_>, truth: CauseIndex, severity: f64, seed: u64) -> Result<Self, NoRig> {
        let equipment = walk.installation().ok_or(NoRig::NotHere)?;
        let cause = &walk.knowledge().causes[truth];
        let site = Site::sample(equipment, cause, Some(severity), seed).map_err(NoRig::NoModel)?;
        let course = Course::of(&site).map_err(|_| NoRig::NoSolution)?;
        Self::of(walk, truth, site, &course, seed)
    }

    /// The same with plates of a case, as grave as it must be for somebody to call for the complaint of the walk: of a severity
    /// that the seed settles, or from there on graver until it brings that.
    ///
    /// # Errors
    /// When the cause has no model, cannot be there or never brings the complaint.
    pub fn called_for(
        walk: &Walk<'_>,
        truth: CauseIndex,
        fact: &dyn Fn(&str) -> Option<Value>,
        seed: u64,
    ) -> Result<Self, NoRig> {
        let knowledge = walk.knowledge();
        let equipment = walk.installation().ok_or(NoRig::NotHere)?;
        let complaint = &knowledge.trees[walk.complaint().ok_or(NoRig::NotHere)?].id;
        let cause = &knowledge.causes[truth];
        let first = Rng::with_seed(seed ^ 0x5e7e_0000_0000_0001).f64();
        for part in GROWS {
            let severity = first + part * (1.0 - first);
            let plate = case::plate(equipment, fact);
            let site = Site::sample_with(plate, cause, Some(severity), seed).map_err(NoRig::NoModel)?;
            let course = Course::of(&site).map_err(|_| NoRig::NoSolution)?;
            if states::brings(&site, &course, complaint) != Some(false) {
                return Self::of(walk, truth, site, &course, seed);
            }
        }
        Err(NoRig::NotBrought)
    }

    fn of(walk: &Walk<'_>, truth: CauseIndex, site: Site, course: &Course, seed: u64) -> Result<Self, NoRig> {
        let knowledge = walk.knowledge();
        let shown: Rc<dyn Figures> = Rc::new(Shown::of(walk, &site));
        let sample = |fitting: &[states::Fitting]| {
            let placed = states::placed(knowledge, fitting);
            Hidden::sample(walk, truth, seed, &placed, |_, _, _| Rc::clone(&shown))
        };
        let complaint = walk.complaint().map(|tree| knowledge.trees[tree].id.as_str());
        let called = states::of_call(knowledge, truth, complaint, &site, course);
        let mut hidden = sample(&called).ok_or(NoRig::NotHere)?;
        let away = site.calm.as_ref().filter(|_| !site.meets(Stage::Running));
        if let Some(away) = away.and_then(|calm| sample(&states::now(calm))) {
            hidden = hidden.met_while_away(knowledge, &away);
        }
        Ok(Self {
            hidden: hidden.judged(walk),
            site: Rc::new(site),
        })
    }

    /// Minutes for which it is let run before the first test in a state: a fault of a warm part is waited for.
    #[must_use]
    pub fn waits(&self, state: State) -> f64 {
        let runs = matches!(state, State::Running | State::Energised);
        if runs && self.site.fault.when == When::Warm {
            WAITS
        } else {
            0.0
        }
    }
}
