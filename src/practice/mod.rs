//! Exercises for the apprentice: a hidden fault, a customer's complaint, and every test to choose from.
//!
//! Nothing here is a real case. A fault is put into a simulated installation and sampled once with everything that can be
//! found out about it (`rig`), so that all answers fit together and an exercise can be had again by its seed. What the rig has
//! no model of is drawn from what the cause does (`values`). The apprentice goes by the same walk as
//! at a real callback or picks any test, fact or calculation; what each costs is counted, and a step that a hold or a
//! missing lockout stops is explained and never made (`session`). At the end the way taken is laid beside the engine's
//! over the same fault (`debrief`). It knows no terminal, no file and no clock.
//!
//! Start with [`Exercise`] and [`Session`].

mod act;
mod advice;
mod apart;
pub mod catalog;
mod choice;
mod debrief;
mod debriefing;
mod exercise;
mod fit;
mod habit;
mod level;
mod plates;
mod record;
pub mod replay;
mod session;
mod step;
mod truth;
mod values;

pub use catalog::Listed;
pub use choice::Choice;
pub use debrief::{Debrief, Parted, Pointer, Shows, Way};
pub use exercise::{Exercise, ExerciseError, Wish};
pub use habit::{Habit, Kind as HabitKind};
pub use level::Level;
pub use record::{Engine, Entry, RECORD_SCHEMA, Record, Sum, Wrong};
pub use replay::{Chosen, LARGEST_REPLAY, Replay};
pub use session::Session;
pub use step::{Did, Ending, Happened, Step, Unsafe};
pub use truth::Truth;
