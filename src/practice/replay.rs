//! A run written down: which exercise, and every choice made. The same file gives the same run.
//!
//! ```toml
//! exercise = "first-walk"          # an exercise of the list; or, for a sampled one:
//! # seed = 7                       # with, as they were wished for: complaint, equipment, level
//! choices = [
//!   "ask when-does-it-happen",     # of what is offered to be asked, these; or: ask none
//!   "walk",                        # what the walk asks, with the steps before it
//!   "test disconnect-look",        # picked freely; so are: fact ID, calculate ID
//!   "straight",                    # without the steps before it: stopped, explained and counted
//!   "hint",                        # what leads
//!   "name loose-disconnect-lug",   # the end; or: give-up
//! ]
//! ```

use std::fmt::Write;

use serde::Deserialize;

use crate::files::Limit;
use crate::knowledge::model::Knowledge;
use crate::knowledge::nearest::unknown;
use crate::walk::Refusal;

use super::{Choice, Exercise, Happened, Level, Listed, Session, Wish, catalog};

/// The largest file of a run that is read.
pub const LARGEST_REPLAY: Limit = Limit {
    what: "a practice run",
    bytes: 1_000_000,
};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Raw {
    exercise: Option<String>,
    seed: Option<u64>,
    complaint: Option<String>,
    equipment: Option<String>,
    level: Option<u8>,
    choices: Vec<String>,
}

/// Which exercise it is.
#[derive(Clone, Debug, PartialEq)]
pub enum Chosen {
    /// An exercise of the list: the file names its id.
    Listed(Box<Listed>),
    /// A sampled one: the file names the seed and what was wished for.
    Sampled(Wish, u64),
}

/// A run written down.
#[derive(Clone, Debug, PartialEq)]
pub struct Replay {
    /// Which exercise.
    pub chosen: Chosen,
    /// What was chosen in it.
    pub choices: Vec<Choice>,
}

impl Chosen {
    /// The exercise itself.
    ///
    /// # Errors
    /// When the knowledge lists no such fault; in words.
    pub fn exercise(&self, knowledge: &Knowledge) -> Result<Exercise, String> {
        match self {
            Self::Listed(listed) => Ok(listed.exercise.clone()),
            Self::Sampled(wish, seed) => {
                Exercise::sample(knowledge, *wish, *seed).map_err(|error| error.to_string())
            }
        }
    }

    /// How it is had again, as options of the command.
    #[must_use]
    pub fn again(&self, knowledge: &Knowledge) -> String {
        match self {
            Self::Listed(listed) => listed.id.clone(),
            Self::Sampled(wish, seed) => {
                let mut words = String::new();
                if let Some(complaint) = wish.complaint {
                    let _ = write!(words, "--complaint {} ", knowledge.trees[complaint].id);
                }
                if let Some(equipment) = wish.equipment {
                    let _ = write!(words, "--equipment {} ", knowledge.equipment[equipment].id);
                }
                if let Some(level) = wish.level {
                    let _ = write!(words, "--level {} ", level.number());
                }
                let _ = write!(words, "--seed {seed}");
                words
            }
        }
    }
}

impl Replay {
    /// Reads a run. Whether the choices can be taken shows when it is run.
    ///
    /// # Errors
    /// What is wrong with it, in words.
    pub fn parse(text: &str, knowledge: &Knowledge) -> Result<Self, String> {
        let raw: Raw = toml::from_str(text).map_err(|error| error.to_string())?;
        let chosen = match (&raw.exercise, raw.seed) {
            (Some(id), None) if raw.complaint.is_none() && raw.equipment.is_none() && raw.level.is_none() => {
                Chosen::Listed(Box::new(catalog::find(knowledge, id)?))
            }
            (None, Some(seed)) => Chosen::Sampled(
                wish(
                    knowledge,
                    raw.complaint.as_deref(),
                    raw.equipment.as_deref(),
                    raw.level,
                )?,
                seed,
            ),
            _ => {
                return Err(
                    "expected either `exercise`, or `seed` with what was wished for beside it".to_owned(),
                );
            }
        };
        let choices = raw
            .choices
            .iter()
            .enumerate()
            .map(|(place, line)| {
                Choice::parse(line).map_err(|error| format!("choice {}: {error}", place + 1))
            })
            .collect::<Result<_, _>>()?;
        Ok(Self { chosen, choices })
    }

    /// Writes a run down.
    #[must_use]
    pub fn text(&self, knowledge: &Knowledge) -> String {
        let mut text = String::from("# A run of `lineside practice`: an exercise, not a real case.\n");
        let quoted = |word: &str| toml::Value::String(word.to_owned()).to_string();
        match &self.chosen {
            Chosen::Listed(listed) => {
                let _ = writeln!(text, "exercise = {}", quoted(&listed.id));
            }
            Chosen::Sampled(wish, seed) => {
                let _ = writeln!(text, "seed = {seed}");
                if let Some(complaint) = wish.complaint {
                    let _ = writeln!(text, "complaint = {}", quoted(&knowledge.trees[complaint].id));
                }
                if let Some(equipment) = wish.equipment {
                    let _ = writeln!(text, "equipment = {}", quoted(&knowledge.equipment[equipment].id));
                }
                if let Some(level) = wish.level {
                    let _ = writeln!(text, "level = {}", level.number());
                }
            }
        }
        text.push_str("choices = [\n");
        for choice in &self.choices {
            let _ = writeln!(text, "  {},", quoted(&choice.to_string()));
        }
        text.push_str("]\n");
        text
    }
}

/// A wish by ids.
///
/// # Errors
/// An id or level there is not, with what is near.
pub fn wish(
    knowledge: &Knowledge,
    complaint: Option<&str>,
    equipment: Option<&str>,
    level: Option<u8>,
) -> Result<Wish, String> {
    let complaint = complaint
        .map(|id| {
            let complaints = knowledge.complaints();
            let known = complaints.iter().any(|(tree, _)| tree.id == id);
            let ids = complaints.iter().map(|(tree, _)| tree.id.as_str());
            let found = knowledge.tree(id).filter(|_| known);
            found.ok_or_else(|| unknown("complaint", id, ids))
        })
        .transpose()?;
    let equipment = equipment
        .map(|id| {
            let ids = knowledge.equipment.iter().map(|kind| kind.id.as_str());
            knowledge
                .equipment(id)
                .ok_or_else(|| unknown("equipment", id, ids))
        })
        .transpose()?;
    Ok(Wish {
        complaint,
        equipment,
        level: level.map(Level::try_from).transpose()?,
    })
}

/// Runs choices one after the other; `seen` is told what came of each.
///
/// # Errors
/// The first choice that cannot be taken: its number from 1, and why.
pub fn run(
    session: &mut Session<'_>,
    choices: &[Choice],
    seen: &mut dyn FnMut(&Session<'_>, &Choice, &[Happened]),
) -> Result<(), (usize, Refusal)> {
    for (place, choice) in choices.iter().enumerate() {
        let happened = session.act(choice).map_err(|refusal| (place + 1, refusal))?;
        seen(session, choice, &happened);
    }
    Ok(())
}
