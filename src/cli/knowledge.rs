//! Where the commands get the knowledge from: compiled in, or a folder given.

use std::path::PathBuf;

use clap::Args;

use crate::knowledge::model::Knowledge;
use crate::standards::registry;

use super::Problem;

/// Where the knowledge is read from, as typed.
#[derive(Args, Clone, Debug, Default)]
pub struct Folder {
    /// Read the knowledge from this folder instead of the one compiled in
    #[arg(long, value_name = "DIR")]
    pub trees: Option<PathBuf>,
}

impl Folder {
    /// Loads the knowledge, which stands until the program ends: taking it apart first would only make its end wait.
    ///
    /// # Errors
    /// When the folder cannot be read or its files have faults; `lineside trees check` shows them all.
    pub(super) fn load(&self) -> Result<&'static Knowledge, Problem> {
        let knowledge = crate::knowledge::load(self.trees.as_deref(), registry::all())?;
        Ok(Box::leak(Box::new(knowledge)))
    }
}
