//! What to say about one case: the result as data, and as text.
//!
//! [`CaseResult`] is built from a walk and is what `--format json` prints; [`text::render`] shows the same
//! result to a person. Nothing here decides anything: probabilities come from `inference`, limits from
//! `standards`, wording of causes and defects from `knowledge`.

mod case;
mod form;
mod path;
mod repair;
pub mod text;
pub mod visible;

pub use form::{
    AnswerShown, CalculationShown, CaseResult, CauseStanding, ClosedShown, Conclusion, DefectShown,
    DoubtShown, EvidenceItem, Firmness, NextTest, PairShown, PreventionShown, RequirementShown, SCHEMA,
    Unexplained,
};
pub use path::picture;
