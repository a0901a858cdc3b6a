//! Why `trees` could not do its work.

use std::io;

use thiserror::Error;

use crate::cli::problem::Problem;
use crate::drawing::FigureError;
use crate::files::{ReadError, WriteError};
use crate::knowledge::{FolderError, LoadError};

/// Why `trees` could not do its work.
#[derive(Debug, Error)]
pub enum TreesError {
    /// The knowledge cannot be used.
    #[error(transparent)]
    Load(#[from] LoadError),
    /// The folder cannot be read.
    #[error(transparent)]
    Folder(#[from] FolderError),
    /// A code asked for that no rule has.
    #[error("no rule `{code}` ({hint})")]
    NoSuchRule {
        /// What was asked for.
        code: String,
        /// What to write.
        hint: String,
    },
    /// A complaint or equipment asked for that there is not.
    #[error("{0}")]
    NoSuch(String),
    /// An answer file cannot be read.
    #[error(transparent)]
    Read(#[from] ReadError),
    /// A folder of answer files cannot be read.
    #[error("cannot read `{path}`: {source}")]
    Unreadable {
        /// Which.
        path: String,
        /// What the system said.
        source: io::Error,
    },
    /// A tree cannot be drawn.
    #[error(transparent)]
    Figure(#[from] FigureError),
    /// A file cannot be written.
    #[error(transparent)]
    Write(#[from] WriteError),
    /// The output could not be written.
    #[error("cannot write the output: {0}")]
    Output(#[from] io::Error),
    /// The output could not be made.
    #[error("cannot make JSON: {0}")]
    Json(#[from] serde_json::Error),
}

impl From<TreesError> for Problem {
    fn from(error: TreesError) -> Self {
        let problem = Self::data(error.to_string());
        match error {
            TreesError::Read(error) => problem.hint(error.hint()),
            TreesError::Write(error) => problem.hint(error.hint()),
            _ => problem,
        }
    }
}
