//! One run through a tree: what to ask next, what a reply means, what follows from it.
//!
//! The walk keeps a list of given [`Event`]s and nothing else; where it stands in the graph, the outcomes,
//! calculations, defects and the standing of causes are all worked out anew from that list. So taking back,
//! correcting a fact and continuing a case after a kill need no code of their own: the same list gives the
//! same walk. It knows no terminal, no file and no clock.
//!
//! What follows is worked out in phases, each a type made from the one before: answers, what is calculated, what is found,
//! how the causes stand, the question (`step.rs`).
//!
//! Start with [`Walk`] for one step and [`drive`] for the whole run.

mod able;
mod account;
mod answer_file;
mod answers;
mod calculate;
pub mod caution;
mod choices;
mod derive;
mod drive;
mod event;
mod found;
mod free;
mod holds;
mod needs;
mod pace;
mod passing;
mod posterior;
mod question;
mod reply;
mod respondent;
mod route;
mod stands;
mod state;
mod step;
mod sure;
mod worded;
mod worth;

pub use able::Ability;
pub use answer_file::{AnswerFile, AnswerFileError, Expect, LARGEST as LARGEST_ANSWER_FILE};
pub use calculate::{Calculated, Required, Resolution};
pub use derive::UnknownId;
pub use drive::{DriveError, End, drive, follow};
pub use event::{Event, Given, Proof, Share, Stood, standing};
pub use found::DefectFound;
pub use free::Takes;
pub use holds::Stopped;
pub use question::{Because, Question};
pub use reply::{LEANING_WORD, NO_ACCESSORY, Taken};
pub use respondent::{NOTHING, Prompt, Refusal, Reply, Respondent, RespondentError};
pub use state::Walk;
pub use worded::sayings;
