//! Why a case file cannot be used.

use std::io;
use std::path::PathBuf;

use thiserror::Error;

use crate::files::ReadError;

use super::{Change, SCHEMA};

/// Why a case file cannot be used. Every message names the file.
#[derive(Debug, Error)]
pub enum JournalError {
    /// The system refused to open, read or create it.
    #[error("cannot {doing} the case file `{}`: {source}", path.display())]
    Io {
        /// "open", "read" or "create".
        doing: &'static str,
        /// The file.
        path: PathBuf,
        /// The system's reason.
        source: io::Error,
    },
    /// An event could not be written. Everything before it is kept.
    #[error("cannot write to the case file `{}`: {source}; {lost}", path.display())]
    Write {
        /// The file.
        path: PathBuf,
        /// The system's reason.
        source: io::Error,
        /// What is lost with it, and what is not.
        lost: &'static str,
    },
    /// Somebody deleted, replaced or changed it while it was open, and it could not be written anew.
    #[error(
        "the case file `{}` {change} while the case was open, and the case cannot be written anew beside it: \
         {source}; count none of the answers as kept",
        path.display()
    )]
    Lost {
        /// The file.
        path: PathBuf,
        /// What happened to it.
        change: Change,
        /// The system's reason.
        source: io::Error,
    },
    /// It cannot be read as a file.
    #[error(transparent)]
    Read(#[from] ReadError),
    /// It can be read where it is and not be added to.
    #[error("cannot add to the case file `{}`: {source}", path.display())]
    ReadOnly {
        /// The file.
        path: PathBuf,
        /// The system's reason.
        source: io::Error,
    },
    /// Another process has it open.
    #[error("the case file `{}` is open in another process", path.display())]
    InUse {
        /// The file.
        path: PathBuf,
    },
    /// It is some other file.
    #[error("`{}` is not a case file of this program: its first line is no case header", path.display())]
    NotACase {
        /// The file.
        path: PathBuf,
    },
    /// It is empty, or the program was ended while it wrote the first line. Nothing was answered yet.
    #[error("the case file `{}` breaks off in its first line; it holds no answer", path.display())]
    NoHeader {
        /// The file.
        path: PathBuf,
    },
    /// A newer program wrote it.
    #[error("the case file `{}` has schema {found}, this program knows up to {SCHEMA}", path.display())]
    Newer {
        /// The file.
        path: PathBuf,
        /// Its schema.
        found: u64,
    },
    /// A line is not the one that was written there.
    #[error(
        "line {line} of the case file `{}` does not follow on the line before: it was changed, or a line before it was \
         dropped, added or moved",
        path.display()
    )]
    Changed {
        /// The file.
        path: PathBuf,
        /// The line, from 1.
        line: usize,
    },
    /// It is closed, and the closing stays its last line.
    #[error("the case `{}` is closed", path.display())]
    Closed {
        /// The file.
        path: PathBuf,
    },
    /// A line in the middle is damaged.
    #[error("line {line} of the case file `{}` is damaged: {reason}", path.display())]
    Damaged {
        /// The file.
        path: PathBuf,
        /// The line, from 1.
        line: usize,
        /// What is wrong with it.
        reason: String,
    },
}

impl JournalError {
    /// What to do about it.
    #[must_use]
    pub fn fix(&self) -> &'static str {
        match self {
            Self::Read(error) => error.hint(),
            Self::Lost { .. } => {
                "note down what was found; make room or give the folder back, then start a new case"
            }
            Self::Io { .. } | Self::Write { .. } => {
                "check that the folder exists, may be written and has room, or give another file with `--case FILE`"
            }
            Self::ReadOnly { .. } => {
                "`lineside case show FILE` shows it as it is; to go on with it, copy it to a folder that may be written"
            }
            Self::InUse { .. } => "close the other one first, or start a new case with another file",
            Self::NotACase { .. } => {
                "give the file of a case, or a name that does not exist yet for a new case"
            }
            Self::NoHeader { .. } => "delete it and give the same command again: the case begins anew",
            Self::Newer { .. } => "use the newer program for this case",
            Self::Damaged { .. } | Self::Changed { .. } => {
                "`lineside case mend FILE -o NEW` puts what can be read of it into a new file, which can be continued"
            }
            Self::Closed { .. } => "a trouble that came back is a new case: `lineside case reopen FILE`",
        }
    }
}
