//! What must be put right or kept from, whatever the cause: requirements, holds, defects.

use indexmap::IndexMap;
use serde::{Deserialize, Serialize};

use super::Fit;
use super::cause::Job;
use super::index::{FactIndex, OutcomeIndex, TestIndex};
use super::state::State;
use crate::knowledge::cited::Source;
use crate::quantity::Value;

/// What something must be corrected to, worked out from the facts of the case.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Requirement {
    /// Kebab-case id.
    pub id: String,
    /// Name shown to a person.
    pub name: String,
    /// Whose job the correction is.
    pub job: Job,
    /// Parts the equipment must have.
    pub parts: Vec<String>,
    /// Name in the registry of calculations.
    pub calculation: String,
    /// What goes into it, by input name.
    pub inputs: IndexMap<String, InputFrom>,
    /// What it must become, with `{output}` where a figure of the calculation stands.
    pub says: String,
}

/// A danger that keeps some tests from being made, whatever a tree says, until it is cleared.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Hold {
    /// Kebab-case id.
    pub id: String,
    /// What it is, as a person would say it: "heat damage that is not repaired".
    pub name: String,
    /// Tests in these states are not made while it holds.
    pub stops: Vec<State>,
    /// Besides, these tests are not made, whatever their state.
    pub stops_tests: Vec<TestIndex>,
    /// It holds from the start, not only once an outcome or a complaint raises it.
    pub from_start: bool,
    /// What it asks for from the start comes before calls for heat too, not only before a burner that is known to be lit.
    pub calls_heat: bool,
    /// A remark that says a word of what clears it asks for that.
    pub noted: bool,
    /// The equipment it can hold on.
    pub fit: Fit,
    /// Each further visit raises it: what was looked at on another day, or by somebody else, may be otherwise now.
    pub each_visit: bool,
    /// Its proofs count only when they were answered after it was last raised: a new find asks for them again. Nothing but
    /// them takes it down, another answer to what raised it neither.
    pub proved_anew: bool,
    /// It ends the walk as soon as it is raised; what clears it is asked on a further visit, or taken when it is told.
    pub later: bool,
    /// It endangers whoever works on the equipment, not whoever uses it: the customer need not leave it off.
    pub of_the_work: bool,
    /// What clears it: each of these tests must have come out in one of its outcomes. Empty: only correcting the answer
    /// that raised it does.
    pub cleared_by: Vec<(TestIndex, Vec<OutcomeIndex>)>,
    /// What the person is told while it holds; where it ends the walk, what to do now.
    pub says: String,
    /// What the electrician reads while nobody has looked, where its name would sound as though something were found.
    pub unlooked: Option<String>,
    /// Whom to call: as soon as it is raised, the walk stops for safety. Nothing where the walk goes on without the tests it
    /// stops.
    pub call: Option<String>,
    /// Sources, never empty.
    pub source: Vec<Source>,
}

/// A limit proved violated, to be corrected whatever the cause.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Defect {
    /// What is wrong, short.
    pub name: String,
    /// What it can do.
    pub hazard: String,
    /// Whose job it is.
    pub job: Job,
    /// What it must become; `{output}` names an output of the calculation.
    pub correct: String,
    /// The rule, or "common practice, no source".
    pub source: String,
}

/// Where an input of a calculation comes from.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum InputFrom {
    /// A fact of the installation.
    Fact(FactIndex),
    /// A test whose reading it is.
    Reading(TestIndex),
    /// Always the same.
    Fixed(Value),
}
