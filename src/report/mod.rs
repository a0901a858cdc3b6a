//! What to say about one case: the result as data, and as text.
//!
//! [`CaseResult`] is built from a walk, with a [`Head`] from the file that keeps it, and is what `--format json` prints;
//! [`text::render`] shows the same result to a person. Nothing here decides anything: probabilities come from `inference`, limits from
//! `standards`, wording of causes and defects from `knowledge`.

mod basis;
mod case;
mod closed;
mod ending;
pub mod first;
mod form;
mod given;
mod head;
pub mod layout;
mod one_line;
pub mod page;
pub mod picture;
pub mod predicted;
mod reasons;
mod recheck;
mod repair;
mod schema;
mod spot;
pub mod text;
pub mod visible;
mod wording;

pub use form::{
    AnswerShown, By, CalculationShown, CaseResult, CauseStanding, Check, ClosedShown, Conclusion,
    DefectShown, DoubtShown, Ending, EvidenceItem, Firmness, HeldShown, InputShown, LeftOut, NextTest,
    OneLine, PairShown, PreventionShown, RequirementShown, SCHEMA, Station, Step, Suspect, Told, Unexplained,
};
pub use given::GivenShown;
pub use head::{AcceptedShown, Head, PhotographShown, ProofShown, RepairShown, VisitShown, Zone};
pub use schema::schema;
pub use spot::Spot;
