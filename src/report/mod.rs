//! What to say about one case: the result as data, and as text.
//!
//! [`CaseResult`] is built from a walk, with a [`Head`] from the file that keeps it, and is what `--format json` prints;
//! [`text::render`] shows the same result to a person. Nothing here decides anything: probabilities come from `inference`, limits from
//! `standards`, wording of causes and defects from `knowledge`.

mod basis;
mod case;
mod ending;
pub mod first;
mod form;
mod given;
mod head;
mod one_line;
pub mod page;
mod path;
pub mod picture;
pub mod predicted;
mod reasons;
mod recheck;
mod repair;
mod schema;
mod spot;
pub mod text;
pub mod visible;

pub use ending::{By, Check, Ending, Step, Told};
pub use form::{
    AnswerShown, CalculationShown, CaseResult, CauseStanding, ClosedShown, Conclusion, DefectShown,
    DoubtShown, EvidenceItem, Firmness, HeldShown, InputShown, LeftOut, NextTest, PairShown, PreventionShown,
    RequirementShown, SCHEMA, Unexplained,
};
pub use given::GivenShown;
pub use head::{AcceptedShown, Head, PhotographShown, ProofShown, RepairShown, VisitShown, Zone};
pub use one_line::{OneLine, Station, Suspect};
pub use path::picture;
pub use schema::schema;
pub use spot::Spot;
