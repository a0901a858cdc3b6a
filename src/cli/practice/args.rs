//! What was typed at `lineside practice`.

use std::path::PathBuf;

use clap::{Args, Subcommand};

use crate::cli::shared::{Plain, Shared};
use crate::cli::{Problem, settings};
use crate::knowledge::model::Knowledge;
use crate::practice::{Chosen, Session, catalog, replay};

use super::{kept, list, record};

/// What was typed.
#[derive(Args, Clone, Debug)]
#[command(args_conflicts_with_subcommands = true)]
pub(crate) struct PracticeArgs {
    #[command(subcommand)]
    pub(super) what: Option<What>,
    /// An exercise of the list, by its id or number
    #[arg(value_name = "EXERCISE", conflicts_with_all = ["complaint", "equipment", "level", "seed"])]
    exercise: Option<String>,
    /// Draw a fault behind this complaint
    #[arg(long, value_name = "ID")]
    complaint: Option<String>,
    /// Draw a fault of this equipment
    #[arg(long, value_name = "ID")]
    equipment: Option<String>,
    /// How hard: 1 asked for or seen from outside, 2 found locked out, 3 with power on or only now and then
    #[arg(long, value_name = "1-3", value_parser = clap::value_parser!(u8).range(1..=3))]
    level: Option<u8>,
    /// Seed of the drawing; the same seed gives the same fault
    #[arg(long, value_name = "N")]
    seed: Option<u64>,
    /// Play a run again from this file, and print it
    #[arg(
        long,
        value_name = "FILE.toml",
        conflicts_with_all = ["exercise", "complaint", "equipment", "level", "seed"]
    )]
    pub(super) answers: Option<PathBuf>,
    /// Write the run to this file, to be played again with `--answers`
    #[arg(long, value_name = "FILE.toml", conflicts_with = "answers")]
    pub(super) keep: Option<PathBuf>,
    /// Write how it went to this file instead of the usual one
    #[arg(long, value_name = "FILE.jsonl")]
    pub(super) record: Option<PathBuf>,
    /// Write nothing of how it went
    #[arg(long, conflicts_with = "record")]
    no_record: bool,
    /// Who practices
    #[arg(long, value_name = "TEXT")]
    technician: Option<String>,
    #[command(flatten)]
    pub(super) plain: Plain,
    #[command(flatten)]
    pub(super) shared: Shared,
}

#[derive(Clone, Debug, Subcommand)]
pub(super) enum What {
    /// List the exercises by topic and level, each with what it teaches
    List(list::ListArgs),
    /// Show what was practiced and how it went
    #[command(after_help = record::EXAMPLES)]
    Record(record::RecordArgs),
}

impl PracticeArgs {
    pub(super) fn by(&self) -> Option<&str> {
        self.technician
            .as_deref()
            .or(settings::held().technician.as_deref())
    }

    /// The exercise asked for; nothing when the person is to choose.
    pub(super) fn chosen(&self, knowledge: &Knowledge) -> Result<Option<Chosen>, Problem> {
        if let Some(name) = &self.exercise {
            let listed = catalog::find(knowledge, name).map_err(|error| {
                Problem::usage(error).hint("`lineside practice list` lists the exercises")
            })?;
            return Ok(Some(Chosen::Listed(Box::new(listed))));
        }
        let sampled = self.complaint.is_some()
            || self.equipment.is_some()
            || self.level.is_some()
            || self.seed.is_some();
        if sampled {
            self.sampled(knowledge).map(Some)
        } else {
            Ok(None)
        }
    }

    pub(super) fn sampled(&self, knowledge: &Knowledge) -> Result<Chosen, Problem> {
        let (complaint, equipment) = (self.complaint.as_deref(), self.equipment.as_deref());
        let wish = replay::wish(knowledge, complaint, equipment, self.level).map_err(|error| {
            Problem::usage(error)
                .hint("`lineside trees list complaints` and `lineside trees list equipment` list the ids")
        })?;
        // Short enough to be told over the phone.
        Ok(Chosen::Sampled(
            wish,
            self.seed.unwrap_or_else(|| fastrand::u64(1..1_000_000)),
        ))
    }

    /// The file of runs; nothing when nothing is to be written.
    pub(super) fn record_file(&self) -> Result<Option<PathBuf>, Problem> {
        match (&self.record, self.no_record) {
            (Some(file), _) => Ok(Some(file.clone())),
            (None, true) => Ok(None),
            (None, false) => kept::usual_file().map(Some),
        }
    }
}

pub(super) fn begin<'k>(knowledge: &'k Knowledge, chosen: &Chosen) -> Result<Session<'k>, Problem> {
    let exercise = chosen.exercise(knowledge).map_err(|error| {
        Problem::data(error).hint("leave out `--level`, `--equipment` or `--complaint`, or take another")
    })?;
    Session::new(knowledge, &exercise)
        .ok_or_else(|| Problem::data("this equipment cannot have this fault with this knowledge"))
}
