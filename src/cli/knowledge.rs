//! Where the commands get the knowledge from: compiled in, or a folder given.

use std::path::Path;

use crate::knowledge::model::Knowledge;
use crate::standards::registry;

use super::Problem;

/// Loads the knowledge.
///
/// # Errors
/// When the folder cannot be read or its files have faults; `lineside trees check` shows them all.
pub(super) fn load(folder: Option<&Path>) -> Result<Knowledge, Problem> {
    crate::knowledge::load(folder, registry::all()).map_err(|error| Problem::data(error.to_string()))
}
