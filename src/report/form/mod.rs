//! The result of a case as data: documented, versioned, what `--format json` prints.
//!
//! `lineside report --schema` prints its JSON Schema, made from these types and their comments.

mod ending;
mod one_line;

use schemars::JsonSchema;
use serde::Serialize;

use crate::inference::stop;
use crate::knowledge::model::{Hazard, Job, Place, State};
use crate::standards::calculation::Report;

use super::given::GivenShown;
use super::head::Head;

pub(super) use ending::made_safe_first;
pub use ending::{By, Check, Ending, Step, Told};
pub use one_line::{OneLine, Station, Suspect};

/// Version of the result's form. Rises when a field changes meaning or goes; a new field does not raise it.
///
/// 2: `standing` ends below 1 % or after ten causes, and `left_out` says what that cut off; in 1 it held every cause.
pub const SCHEMA: u32 = 2;

/// Everything to be said about a case.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct CaseResult {
    /// Version of this form.
    pub schema: u32,
    /// Version of the program.
    pub program: &'static str,
    /// Fingerprint of the knowledge used.
    pub knowledge: String,
    /// Who, when and where.
    pub head: Head,
    /// Id of the complaint.
    pub complaint: String,
    /// The complaint in a technician's words.
    pub complaint_name: String,
    /// Id of the equipment.
    pub equipment: String,
    /// Its name, with the accessories that are fitted where that is known.
    pub equipment_name: String,
    /// How the walk stands: `finished`, `halted` or `open`.
    pub state: &'static str,
    /// Closed cases the frequencies were learned from; nothing when they are the authored ones.
    pub learned_from: Option<usize>,
    /// Why it is time to conclude; nothing while a test is worth making.
    pub stop_reason: Option<stop::Reason>,
    /// Everything given that counts, in order: answers, readings and facts, with wording and time.
    pub given: Vec<GivenShown>,
    /// The answers with how unexpected each was.
    pub answers: Vec<AnswerShown>,
    /// What it comes to.
    pub conclusion: Conclusion,
    /// What comes after it: repair, check or call, and what leads if the proof fails.
    pub ending: Ending,
    /// Causes from most to least probable: those of 1 % and more, ten at most, unless all were asked for.
    pub standing: Vec<CauseStanding>,
    /// The causes left out of `standing`.
    pub left_out: LeftOut,
    /// What the listed causes leave over.
    pub unexplained: Unexplained,
    /// Whether the conclusion is firm.
    pub firmness: Firmness,
    /// What keeps steps from being taken until it is cleared.
    pub held: Vec<HeldShown>,
    /// What must be looked at before the equipment runs, and was not, or not surely.
    pub not_looked_at: Vec<HeldShown>,
    /// Limits violated and damage found.
    pub defects: Vec<DefectShown>,
    /// What a repair must come to, in figures.
    pub requirements: Vec<RequirementShown>,
    /// Tests worth making next.
    pub next: Vec<NextTest>,
    /// Calculations with their working.
    pub calculations: Vec<CalculationShown>,
    /// The way from the utility to the load, with what is known at each spot.
    pub one_line: OneLine,
    /// What would keep the trouble from coming back.
    pub prevention: Vec<PreventionShown>,
    /// What to mind before any of it is done.
    pub cautions: Vec<String>,
    /// Remarks of the person.
    pub notes: Vec<String>,
    /// What was found in the end, once the case is closed.
    pub closed: Option<ClosedShown>,
}

/// A danger that is not cleared.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct HeldShown {
    /// Id of the hold.
    pub hold: String,
    /// What it is.
    pub name: String,
    /// What the person is told while it holds.
    pub says: String,
    /// It holds until somebody has looked; nothing was found that raised it.
    pub from_start: bool,
    /// Nothing is switched on while it holds; otherwise only some tests are not made.
    pub off: bool,
    /// It endangers whoever works on the equipment, not whoever uses it.
    pub of_the_work: bool,
    /// What the electrician reads while nobody has looked.
    #[serde(skip)]
    pub unlooked: Option<String>,
}

/// The causes that are not in `standing`.
#[derive(Clone, Copy, Debug, Default, Serialize, JsonSchema)]
pub struct LeftOut {
    /// How many.
    pub causes: usize,
    /// Their probabilities added up, 0 to 1.
    pub probability: f64,
}

/// What went into a calculation or showed a defect.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct InputShown {
    /// Name of the fact or test.
    pub name: String,
    /// Its value or outcome in words.
    pub said: String,
    /// It was measured or seen; otherwise it is a fact, told or read off a plate.
    pub measured: bool,
}

/// What a closed case turned out to be, in the words of the one who closed it.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct ClosedShown {
    /// Id of the cause; nothing when the knowledge does not list it.
    pub cause: Option<String>,
    /// Name of the cause, or that it is not listed.
    pub name: String,
    /// A reading proved it, and no danger was left standing.
    pub proved: bool,
    /// What proved it or what was done.
    pub text: String,
    /// Dangers it was closed with, of which nobody said what cleared them, by name.
    pub standing: Vec<String>,
    /// Dangers that stood by the answers, each with what was said to have cleared it.
    pub cleared: Vec<String>,
}

/// What the case comes to.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Conclusion {
    /// `found`, `likely`, `open`, `unlisted` or `halted`.
    pub kind: &'static str,
    /// One or two sentences.
    pub text: String,
    /// Id of the stop for safety the walk ended at, as its tree names it.
    pub stop: Option<String>,
}

/// A cause in the result.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct CauseStanding {
    /// Its id.
    pub cause: String,
    /// Its name.
    pub name: String,
    /// Its probability, 0 to 1.
    pub probability: f64,
    /// The same in words.
    pub words: &'static str,
    /// Where it sits on the way from the utility to the load.
    #[serde(rename = "where")]
    pub place: Place,
    /// Whose job the repair is.
    pub trade: Job,
    /// What makes it more probable, the strongest first.
    #[serde(rename = "for")]
    pub supporting: Vec<EvidenceItem>,
    /// What makes it less probable, the strongest first.
    pub against: Vec<EvidenceItem>,
    /// How it makes the trouble.
    pub mechanism: String,
    /// The repair.
    pub remedy: String,
    /// The reading that proves the repair.
    pub proof: String,
    /// What can hurt.
    pub caution: String,
}

/// One finding and how much it weighs.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct EvidenceItem {
    /// Id of the test.
    pub test: String,
    /// Id of the outcome.
    pub outcome: String,
    /// The finding in words.
    pub text: String,
    /// Why it bears on the cause: what the cause does to the effect it shows.
    pub because: Option<String>,
    /// Other findings that show the same effect.
    pub with: Vec<String>,
    /// Weight of evidence in bits against "something not listed", of all these together; positive speaks for the cause. A
    /// finding that lowers its rivals more than it stands under `for` though its own weight is below 0, and the other way
    /// round.
    pub bits: f64,
}

impl EvidenceItem {
    /// All findings together, with what they rest on.
    #[must_use]
    pub fn said(&self) -> String {
        let mut text = self.text.clone();
        for other in &self.with {
            text.push_str("; ");
            text.push_str(&super::wording::lower_first(other));
        }
        if let Some(because) = &self.because {
            text.push_str(&format!(" ({because})"));
        }
        text
    }
}

/// What the listed causes leave over.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Unexplained {
    /// Probability that the cause is none of those listed.
    pub probability: f64,
    /// The findings that fit the leading cause least.
    pub clashes: Vec<EvidenceItem>,
    /// Conflict of the findings in bits: above 0 they are rarer together than by chance.
    pub conflict: f64,
    /// The findings clash under every listed cause.
    pub contradictory: bool,
    /// The finding to doubt and check again, when there is one.
    pub doubt: Option<DoubtShown>,
    /// Two causes that together explain the findings far better than any one.
    pub pair: Option<PairShown>,
}

/// A finding to doubt.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct DoubtShown {
    /// Id of the test.
    pub test: String,
    /// The finding in words.
    pub text: String,
    /// How far the other answers speak for the cause that leads without it, in bits.
    pub bits: f64,
    /// Id of the cause that would lead without it.
    pub leads_without: String,
    /// Its name.
    pub leads_without_name: String,
    /// The check that would settle it.
    pub recheck: String,
}

/// An answer and how unexpected it was after all the others.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct AnswerShown {
    /// Id of the test.
    pub test: String,
    /// Id of the outcome, or of the one most leaned to.
    pub outcome: String,
    /// Share of the answer on that outcome: 1 when it is certain.
    pub certainty: f64,
    /// Surprise in bits.
    pub surprise: f64,
    /// What was to be expected on average, in bits.
    pub expected: f64,
}

/// Two causes at once.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct PairShown {
    /// Ids of the causes.
    pub causes: [String; 2],
    /// Their names.
    pub names: [String; 2],
    /// How many times more probable the pair is than the best single cause.
    pub times: f64,
}

/// Whether the conclusion stands when one strength moves a step.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Firmness {
    /// No single step makes another cause lead.
    pub firm: bool,
    /// What it hangs on, in words; empty when it is firm.
    pub hangs_on: Vec<String>,
}

/// A defect in the result.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct DefectShown {
    /// Id of the test that showed it.
    pub test: String,
    /// Id of its outcome.
    pub outcome: String,
    /// What is wrong.
    pub name: String,
    /// It was seen or measured for sure; else it is to be checked before anything is corrected.
    pub sure: bool,
    /// The numbers, when it was calculated.
    pub finding: Option<String>,
    /// The readings, looks and facts that showed it.
    pub shown_by: Vec<InputShown>,
    /// What it can do.
    pub hazard: String,
    /// Whose job it is.
    pub trade: Job,
    /// What it must become.
    pub correct: String,
    /// The rule, or "common practice, no source".
    pub source: String,
}

/// What something must be corrected to.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct RequirementShown {
    /// Its id.
    pub requirement: String,
    /// Its name.
    pub name: String,
    /// Whose job the correction is.
    pub trade: Job,
    /// What it must become; nothing when it could not be worked out.
    pub must_be: Option<String>,
    /// The facts and readings it was worked out from.
    pub inputs: Vec<InputShown>,
    /// The report with its working, or nothing when it could not be made.
    pub report: Option<Report>,
    /// Why it could not be made.
    pub problem: Option<String>,
    /// Names of the facts and readings it waits for.
    pub needs: Vec<String>,
}

/// A test worth making.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct NextTest {
    /// Its id.
    pub test: String,
    /// Its name.
    pub name: String,
    /// Expected information in bits.
    pub bits: f64,
    /// Expected drop of the cost of repair, in minutes.
    pub saves: f64,
    /// After one of its likelier outcomes one cause stands clear, or another one leads.
    pub decides: bool,
    /// Minutes, with the change of state and the readings a calculation still needs.
    pub minutes: f64,
    /// State the equipment must be in.
    pub state: State,
    /// What it can do to the person.
    pub hazard: Hazard,
    /// What to mind.
    pub caution: String,
    /// Names of the facts and readings a calculation still needs.
    pub needs: Vec<String>,
    /// Who makes it safe before this test; nothing where it need not be left off, or the test switches nothing on.
    pub made_safe_by: Option<Job>,
}

/// A calculation in the result.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct CalculationShown {
    /// Id of the test.
    pub test: String,
    /// Its name.
    pub name: String,
    /// The facts and readings that went into it.
    pub inputs: Vec<InputShown>,
    /// The report with its working, or nothing when it could not be made.
    pub report: Option<Report>,
    /// Why it could not be made.
    pub problem: Option<String>,
}

/// Advice in the result.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct PreventionShown {
    /// Id of the cause it belongs to.
    pub cause: String,
    /// What to do.
    pub text: String,
    /// The rule that asks for it; nothing when it is good practice.
    pub rule: Option<String>,
}
