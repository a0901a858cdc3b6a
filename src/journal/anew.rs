//! What happened to a case file while it was open, and writing the case anew when it was lost.

use std::fmt;
use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use crate::files;

use super::change::Change;
use super::lock;

/// A case that was written anew. Shown, it is one line for the person.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Moved {
    /// The file that was lost.
    pub from: PathBuf,
    /// The file that holds everything now.
    pub to: PathBuf,
    /// What happened to the old one.
    pub change: Change,
}

impl fmt::Display for Moved {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "The case file {} {} while the case was open; everything answered was written anew to {}",
            self.from.display(),
            self.change,
            self.to.display()
        )
    }
}

/// The folder a file is in.
pub(super) fn folder_of(path: &Path) -> &Path {
    path.parent()
        .filter(|folder| !folder.as_os_str().is_empty())
        .unwrap_or(Path::new("."))
}

/// Writes a whole case to a new file beside `path`, locked and synced, and gives it back.
pub(super) fn write(path: &Path, lines: &[u8]) -> io::Result<(PathBuf, File)> {
    let folder = folder_of(path);
    files::create_private_folder(folder)?;
    let (beside, mut file) = create_beside(path)?;
    let written = lock::alone(&file, &beside)
        .map_err(io::Error::other)
        .and_then(|()| file.write_all(lines))
        .and_then(|()| file.sync_all())
        .and_then(|()| files::sync_folder(folder));
    match written {
        Ok(()) => Ok((beside, file)),
        Err(error) => {
            // Half a case under a name that looks whole would mislead; if it cannot be removed, so be it.
            let _ = fs::remove_file(&beside);
            Err(error)
        }
    }
}

/// The first name of `case-2.jsonl`, `case-3.jsonl` and so on that is free.
fn create_beside(path: &Path) -> io::Result<(PathBuf, File)> {
    const MOST: u32 = 1000;
    let mut number = 2;
    loop {
        let mut name = path.file_stem().unwrap_or_default().to_owned();
        name.push(format!("-{number}"));
        if let Some(ending) = path.extension() {
            name.push(".");
            name.push(ending);
        }
        let beside = path.with_file_name(name);
        match files::create_private(&beside) {
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists && number < MOST => number += 1,
            created => return created.map(|file| (beside, file)),
        }
    }
}
