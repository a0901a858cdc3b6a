//! How a command ended: done, or with what stood in its way, in one or two plain lines.

use std::{fmt, io};

use crate::drawing::FigureError;
use crate::files::{ReadError, WriteError};
use crate::journal::JournalError;
use crate::knowledge::{FolderError, LoadError};

/// How a command ended when nothing stood in its way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Done {
    /// All is well: exit code 0.
    Well,
    /// The command did its work and found problems in the data: exit code 1.
    Findings,
}

/// A problem to be told on the error stream.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    message: String,
    hint: Option<String>,
    exit_code: u8,
}

impl Problem {
    /// The data or the case has a problem: exit code 1.
    pub fn data(message: impl Into<String>) -> Self {
        Self {
            message: message.into(),
            hint: None,
            exit_code: 1,
        }
    }

    /// The command was used wrongly: exit code 2.
    pub fn usage(message: impl Into<String>) -> Self {
        Self {
            message: message.into(),
            hint: None,
            exit_code: 2,
        }
    }

    /// A signal ended the program: exit code 128 and its number, as shells have it.
    pub fn signal(number: i32) -> Self {
        Self {
            message: format!("told to end by signal {number}"),
            hint: None,
            exit_code: u8::try_from(128 + number).unwrap_or(1),
        }
    }

    /// Adds what to do about it.
    #[must_use]
    pub fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hint = Some(hint.into());
        self
    }

    /// The exit code of the process.
    #[must_use]
    pub fn exit_code(&self) -> u8 {
        self.exit_code
    }
}

impl From<ReadError> for Problem {
    fn from(error: ReadError) -> Self {
        Self::data(error.to_string()).hint(error.hint())
    }
}

impl From<JournalError> for Problem {
    fn from(error: JournalError) -> Self {
        Self::data(error.to_string()).hint(error.fix())
    }
}

impl From<LoadError> for Problem {
    fn from(error: LoadError) -> Self {
        Self::data(error.to_string())
    }
}

impl From<FolderError> for Problem {
    fn from(error: FolderError) -> Self {
        Self::data(error.to_string())
    }
}

impl From<FigureError> for Problem {
    fn from(error: FigureError) -> Self {
        Self::data(error.to_string())
    }
}

/// Output that could not be written; every other failure of a file names it.
impl From<io::Error> for Problem {
    fn from(error: io::Error) -> Self {
        Self::data(format!("cannot write the output: {error}"))
    }
}

impl From<WriteError> for Problem {
    fn from(error: WriteError) -> Self {
        Self::data(error.to_string()).hint(error.hint())
    }
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(f, "error: {}", self.message)?;
        match &self.hint {
            Some(hint) => writeln!(f, "hint: {hint}"),
            None => Ok(()),
        }
    }
}
