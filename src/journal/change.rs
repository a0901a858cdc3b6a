//! What somebody else did to a case file while it was open.

use std::fs::File;
use std::path::Path;
use std::{fmt, fs};

/// What somebody else did to an open case file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Change {
    /// Nothing is left under its name: it was deleted or renamed, or its disk is gone.
    Gone,
    /// Another file has its name.
    Replaced,
    /// It is shorter or longer than what was written to it.
    Altered,
}

impl Change {
    /// What happened to a file that had this path and these many bytes; nothing when all is well.
    pub(super) fn of(path: &Path, file: &File, bytes: u64) -> Option<Self> {
        let (Ok(named), Ok(held)) = (fs::symlink_metadata(path), file.metadata()) else {
            return Some(Self::Gone);
        };
        #[cfg(unix)]
        {
            use std::os::unix::fs::MetadataExt;
            if (named.dev(), named.ino()) != (held.dev(), held.ino()) {
                return Some(Self::Replaced);
            }
        }
        (named.len() != bytes || held.len() != bytes).then_some(Self::Altered)
    }
}

impl fmt::Display for Change {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Gone => "is no longer there",
            Self::Replaced => "was replaced by another file",
            Self::Altered => "was changed by somebody else",
        })
    }
}
