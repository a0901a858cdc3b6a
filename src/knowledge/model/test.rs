//! Looks, readings and calculations, and what they come to.

use indexmap::IndexMap;
use serde::{Deserialize, Serialize};

use super::cause::Job;
use super::correction::{Defect, InputFrom};
use super::effect::Shown;
use super::equipment::Fit;
use super::index::{CauseIndex, FactIndex, HoldIndex, OutcomeIndex, TestIndex, TreeIndex};
use super::state::{Hazard, State};
use crate::knowledge::cited::Source;
use crate::knowledge::indexed::Indexed;
use crate::quantity::{Kind, Quantity};

/// Which side of which figure a reading must lie on.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Bound {
    /// `true`: less than the figure; `false`: more than the figure.
    pub below: bool,
    /// The figure: in the base unit of the reading, or a multiple when `of` is given.
    pub figure: f64,
    /// What the figure multiplies.
    pub of: Option<BoundOf>,
}

/// What the figure of a bound multiplies.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum BoundOf {
    /// A fact of the installation, such as the rated voltage.
    Fact(FactIndex),
    /// Another reading.
    Reading(TestIndex),
}

/// One of a test's few results.
#[derive(Clone, Debug, Serialize, Deserialize)]
#[cfg_attr(test, derive(Default))]
pub struct Outcome {
    /// Kebab-case id.
    pub id: String,
    /// What is shown.
    pub label: String,
    /// How often it is met among all callbacks; a test's outcomes add up to 1.
    pub usual: f64,
    /// For a reading: where it must lie. The one outcome without a bound takes the rest.
    pub bound: Option<Bound>,
    /// What it shows of effects.
    pub shows: Vec<Shown>,
    /// P(this outcome | cause) of the causes it finds.
    pub finds: Vec<(CauseIndex, f64)>,
    /// It says nothing: not tried, not known, not fitted.
    pub says_nothing: bool,
    /// The defect it proves, if any.
    pub defect: Option<Defect>,
    /// The holds it raises: what must be cleared before some tests are made.
    pub raises: Vec<HoldIndex>,
    /// Why it raises none, though its defect says fire, shock or burst.
    pub unheld: Option<String>,
    /// The equipment it is offered for.
    pub fit: Fit,
}

/// What makes the outcome of a test.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub enum TestKind {
    /// A person picks the outcome.
    Look,
    /// A person gives a number.
    Reading {
        /// What the number measures.
        unit: Kind,
        /// Unit symbol shown, such as `V` or `uF`.
        symbol: String,
        /// Lowest and highest believable amount, in base units.
        range: (f64, f64),
        /// Where the probes go.
        probes: String,
    },
    /// Facts and readings make it.
    Calculation {
        /// Name in the registry.
        calculation: String,
        /// Where each input comes from, by input name.
        inputs: IndexMap<String, InputFrom>,
    },
}

/// Anything with an outcome.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Test {
    /// Kebab-case id.
    pub id: String,
    /// Short name for lists and search.
    pub name: String,
    /// The question put to the technician.
    pub ask: String,
    /// Why it is asked.
    pub why: String,
    /// How it is done, step by step.
    pub how: Vec<String>,
    /// Other words a person may search by.
    pub words: Vec<String>,
    /// What makes its outcome.
    pub kind: TestKind,
    /// State of the equipment.
    pub state: State,
    /// What it can do to the person.
    pub hazard: Hazard,
    /// What to mind.
    pub caution: String,
    /// Instrument needed, with its category.
    pub instrument: String,
    /// Hands-on minutes.
    pub minutes: f64,
    /// Parts the equipment must have.
    pub parts: Vec<String>,
    /// Facts needed before it makes sense.
    pub needs: Vec<FactIndex>,
    /// Whose job it is, where it is not the HVAC technician's.
    pub job: Option<Job>,
    /// Tests that stand in for it where its instrument is not at hand.
    pub stand_in: Vec<TestIndex>,
    /// How far an answer is to be trusted to show the true state, 0 to 1; nothing for what is usual for its kind.
    pub sureness: Option<f64>,
    /// It is a safety look: every tree makes it before any energized test.
    pub safety: bool,
    /// It is among the told things offered at the start, whatever else would tell more.
    pub from_start: bool,
    /// It tells only while the trouble is there.
    pub while_it_fails: bool,
    /// Several of its outcomes can be true together.
    pub several: bool,
    /// It tells what was replaced or tried before without a cure.
    pub tried_in_vain: bool,
    /// It calls for heat, or lets a call that waits come on: what keeps a burner from being lit keeps it from being made.
    pub calls_heat: bool,
    /// The test whose outcomes it has: the same thing, told in one and tried now in the other.
    pub outcomes_of: Option<TestIndex>,
    /// What its first outcome answers at once: looks that are made together, each with what is seen where all is well. Any other
    /// outcome of it leaves them to be asked one by one.
    pub at_once: Vec<(TestIndex, OutcomeIndex)>,
    /// The complaints it belongs to; empty: all. Under others the engine does not pick it.
    pub complaints: Vec<TreeIndex>,
    /// Outcomes, in the order shown.
    pub outcomes: Indexed<OutcomeIndex, Outcome>,
    /// Sources, never empty.
    pub source: Vec<Source>,
}

impl Test {
    /// The outcome of a look that stands for several: all of it is well.
    pub const ALL_WELL: OutcomeIndex = OutcomeIndex(0);
}

#[cfg(test)]
impl Test {
    /// A look with nothing said, for tests to say what they are about.
    pub(crate) fn blank() -> Self {
        Self {
            id: String::new(),
            name: String::new(),
            ask: String::new(),
            why: String::new(),
            how: Vec::new(),
            words: Vec::new(),
            kind: TestKind::Look,
            state: State::Any,
            hazard: Hazard::None,
            caution: String::new(),
            instrument: String::new(),
            minutes: 0.0,
            parts: Vec::new(),
            needs: Vec::new(),
            sureness: None,
            job: None,
            stand_in: Vec::new(),
            safety: false,
            from_start: false,
            while_it_fails: false,
            several: false,
            tried_in_vain: false,
            calls_heat: false,
            outcomes_of: None,
            at_once: Vec::new(),
            complaints: Vec::new(),
            outcomes: Indexed::default(),
            source: Vec::new(),
        }
    }
}

/// A quantity that is a figure of a bound, once what it multiplies is known.
#[must_use]
pub fn bound_figure(bound: &Bound, of: Option<Quantity>) -> Option<f64> {
    match (bound.of, of) {
        (None, _) => Some(bound.figure),
        (Some(_), Some(quantity)) => Some(bound.figure * quantity.base),
        (Some(_), None) => None,
    }
}
