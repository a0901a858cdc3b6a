//! The index: the rows of files that were read before, so that a second run reads only what changed.
//!
//! It holds nothing that is not in the case files, so it may be deleted at any time. One that is damaged, of another
//! program version, of another form or of knowledge by which other tests tell what was tried in vain is not used and made anew.

use std::collections::HashMap;
use std::fs::Metadata;
use std::hash::Hasher;
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use crate::knowledge::model::Knowledge;

use super::names::Names;
use super::row::Row;

/// Form of the index. Rises with every change of [`Row`] or of what is counted into it.
const FORM: u32 = 4;

/// What tells whether a file is as it was.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(super) struct Stamp {
    bytes: u64,
    /// Nanoseconds since 1970: last written, and last changed in any way where the system says so.
    written: i128,
    changed: i128,
    /// Which file it is, where the system says so.
    number: u64,
}

impl Stamp {
    pub(super) fn of(about: &Metadata) -> Self {
        let written = about.modified().ok().and_then(|at| {
            let since = at.duration_since(std::time::UNIX_EPOCH).ok()?;
            i128::try_from(since.as_nanos()).ok()
        });
        #[cfg(unix)]
        let (changed, number) = {
            use std::os::unix::fs::MetadataExt;
            (
                i128::from(about.ctime()) * 1_000_000_000 + i128::from(about.ctime_nsec()),
                about.ino(),
            )
        };
        #[cfg(not(unix))]
        let (changed, number) = (0, 0);
        Self {
            bytes: about.len(),
            written: written.unwrap_or(-1),
            changed,
            number,
        }
    }
}

#[derive(Serialize, Deserialize)]
struct Stored {
    form: u32,
    program: String,
    tried_in_vain: Vec<String>,
    names: Vec<String>,
    files: Vec<(PathBuf, Stamp, Row)>,
}

/// Rows by file, as they were at the last run.
pub struct Index {
    /// Tests that tell what was tried in vain.
    pub(super) tried_in_vain: Vec<String>,
    pub(super) names: Names,
    pub(super) files: HashMap<PathBuf, (Stamp, Row)>,
}

impl Index {
    /// An empty one.
    #[must_use]
    pub fn new(knowledge: &Knowledge) -> Self {
        let tests = knowledge.tests.iter().filter(|test| test.tried_in_vain);
        Self {
            tried_in_vain: tests.map(|test| test.id.clone()).collect(),
            names: Names::default(),
            files: HashMap::new(),
        }
    }

    /// Reads an index; an empty one when it cannot be used.
    #[must_use]
    pub fn from_bytes(bytes: &[u8], knowledge: &Knowledge) -> Self {
        let mut index = Self::new(knowledge);
        let stored = bytes
            .split_first_chunk::<8>()
            .filter(|(sum, rest)| u64::from_le_bytes(**sum) == checksum(rest))
            .and_then(|(_, rest)| postcard::from_bytes::<Stored>(rest).ok())
            .filter(|stored| stored.form == FORM && stored.program == env!("CARGO_PKG_VERSION"))
            .filter(|stored| stored.tried_in_vain == index.tried_in_vain);
        if let Some(stored) = stored {
            index.names = Names::from_texts(stored.names);
            let files = stored.files.into_iter();
            index.files = files.map(|(path, stamp, row)| (path, (stamp, row))).collect();
        }
        index
    }

    /// The bytes of an index of some files; nothing when it cannot be written, which costs only time.
    pub(super) fn to_bytes(&self, names: &Names, files: Vec<(PathBuf, Stamp, Row)>) -> Option<Vec<u8>> {
        let stored = Stored {
            form: FORM,
            program: env!("CARGO_PKG_VERSION").to_owned(),
            tried_in_vain: self.tried_in_vain.clone(),
            names: names.texts().to_vec(),
            files,
        };
        let rest = postcard::to_allocvec(&stored).ok()?;
        let mut bytes = checksum(&rest).to_le_bytes().to_vec();
        bytes.extend(rest);
        Some(bytes)
    }

    /// The row of a file that is as it was.
    pub(super) fn row(&self, path: &Path, stamp: Stamp) -> Option<&Row> {
        self.files
            .get(path)
            .filter(|(known, _)| *known == stamp)
            .map(|(_, row)| row)
    }
}

/// Enough to notice a damaged disk; nobody is kept out by it.
fn checksum(bytes: &[u8]) -> u64 {
    let mut hasher = rustc_hash::FxHasher::default();
    hasher.write(bytes);
    hasher.finish()
}
