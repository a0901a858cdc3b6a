//! What comes after the result, as data.

use schemars::JsonSchema;
use serde::Serialize;

use crate::knowledge::model::{Job, State};
use crate::quantity::words;

/// What to do now.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Step {
    /// Stopped for safety: nothing but the call.
    Call,
    /// Correct the first cause, then prove it.
    Repair,
    /// Go on with the questions.
    GoOn,
    /// Make the check of `check`.
    Check,
    /// Nothing listed would tell more.
    Nothing,
}

words! {
    /// Who can make a check.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
    pub enum By {
        /// It is remembered or stands on paper.
        Customer = "customer" => "ask the customer",
        /// Load side of the disconnect, or nothing to open.
        HvacTechnician = "hvac-technician" => "HVAC technician",
        /// Line side of the disconnect.
        Electrician = "electrician" => "licensed electrician",
        /// Up to the meter.
        Utility = "utility" => "the utility",
    }
}

/// What comes before a check where it is to be left off until somebody has made it safe.
#[must_use]
pub(in crate::report) fn made_safe_first(by: Job) -> String {
    let who = by.in_words().split(" (").next().unwrap_or_default();
    format!(
        "it is to be left off; first made safe by: {}",
        who.trim_start_matches("the ")
    )
}

/// A check that would tell.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Check {
    /// Id of the test.
    pub test: String,
    /// Its name.
    pub name: String,
    /// Minutes, with the change of state and the readings a calculation still needs.
    pub minutes: f64,
    /// Who can make it.
    pub by: By,
    /// State the equipment must be in.
    pub state: State,
    /// What to mind.
    pub caution: String,
    /// Names of the facts and readings a calculation still needs.
    pub needs: Vec<String>,
    /// It was asked or offered and could not be made; no other test would tell by five points in a hundred.
    pub passed_by: bool,
    /// Who makes it safe before this check; nothing where it need not be left off, or the check switches nothing on.
    pub made_safe_by: Option<Job>,
    /// How far it moves the cause it stands with, on average over its outcomes, 0 to 1.
    pub moves: f64,
}

/// A cause and the check that would tell best about it.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Told {
    /// Id of the cause.
    pub cause: String,
    /// Its name.
    pub name: String,
    /// Its probability, 0 to 1.
    pub probability: f64,
    /// The check; nothing when no open test would move it.
    pub check: Option<Check>,
}

/// What comes after the result.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Ending {
    /// What to do now.
    pub step: Step,
    /// The finding that is the first cause itself, seen or measured; nothing where it is only concluded.
    pub seen: Option<String>,
    /// Nothing seen or measured carries the first cause: it rests on what was told.
    pub told_only: bool,
    /// The first cause means that nothing is wrong: there is nothing to correct, only to prove.
    pub no_fault: bool,
    /// What was changed before without a cure, where the first cause names just that.
    pub changed_before: Option<String>,
    /// Not decided, but the first cause leads far and no test that can be made is worth its cost: its repair comes next, and
    /// the proof of that decides.
    pub likeliest: bool,
    /// The causes that lead, three at most, while it is not decided.
    pub leaders: Vec<Told>,
    /// The check to make now, while it is not decided.
    pub check: Option<Check>,
    /// The check that makes sure of the first cause before its repair, where that is decided but only concluded; nothing where it
    /// was seen, or no check that can be made now and takes no longer than the repair would show it.
    pub make_sure: Option<Check>,
    /// The look at why the first cause burnt or failed, which comes before its repair: else it comes again. Nothing where such a
    /// look showed a reason or none is left, or the cause is still to be made sure of.
    pub why_first: Option<Check>,
    /// What leads if the proof of the repair fails, once it is decided; nothing when that would be nothing listed.
    pub failing: Option<Told>,
}
