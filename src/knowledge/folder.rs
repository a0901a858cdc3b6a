//! Reading the files of a folder.

use std::borrow::Cow;
use std::fs;
use std::io;
use std::path::Path;

use thiserror::Error;

use crate::files::{self, Limit, ReadError};

use super::files::{Files, SourceFile};
use super::finding::{Code, Finding, Stretch};

/// Largest file read. The largest file written so far is a few hundred kilobytes; a file beyond this is a mistake
/// (a log, an archive) and reading it would only make a technician wait. Of the worst file this large, nothing but
/// faults, the findings take about 130 MB.
pub const LARGEST_FILE: Limit = Limit {
    what: "a file of knowledge",
    bytes: 1024 * 1024,
};

/// Why a folder could not be read at all.
#[derive(Debug, Error)]
pub enum FolderError {
    /// The folder is not there or may not be read.
    #[error("cannot read folder `{path}`: {source}")]
    Unreadable {
        /// The folder.
        path: String,
        /// What the system said.
        source: io::Error,
    },
}

impl Files {
    /// Reads every `.toml` file of a folder and the folders in it.
    ///
    /// A file that cannot be read, is too large or is not UTF-8 becomes a finding and the others are read on.
    ///
    /// # Errors
    /// When the folder itself, or one in it, cannot be listed.
    pub fn read(folder: &Path) -> Result<Self, FolderError> {
        let mut names = Vec::new();
        list_folder(folder, "", 0, &mut names)?;
        names.sort();
        let mut files = Self {
            list: Vec::new(),
            findings: Vec::new(),
        };
        for name in names {
            let path = folder.join(&name);
            let place = Stretch {
                file: files.list.len(),
                span: 0..0,
            };
            let shown = path.display().to_string();
            let text = match read_text(&path, place) {
                Ok(text) => text,
                Err(finding) => {
                    files.findings.push(*finding);
                    String::new()
                }
            };
            files.list.push(SourceFile {
                name,
                shown,
                text: Cow::Owned(text),
            });
        }
        if files.list.is_empty() {
            files.list.push(SourceFile {
                name: String::new(),
                shown: folder.display().to_string(),
                text: Cow::Borrowed(""),
            });
            files.findings.push(Finding::error(
                Code::NoFiles,
                Stretch { file: 0, span: 0..0 },
                format!("no file with the ending `.toml` in `{}`", folder.display()),
                "give the folder that holds `causes`, `tests`, `facts` and `equipment`",
            ));
        }
        Ok(files)
    }
}

fn list_folder(root: &Path, under: &str, depth: usize, names: &mut Vec<String>) -> Result<(), FolderError> {
    let folder = root.join(under);
    let failed = |source| FolderError::Unreadable {
        path: folder.display().to_string(),
        source,
    };
    for entry in fs::read_dir(&folder).map_err(failed)? {
        let entry = entry.map_err(failed)?;
        let name = entry.file_name().to_string_lossy().into_owned();
        if name.starts_with('.') {
            continue;
        }
        let name = if under.is_empty() {
            name
        } else {
            format!("{under}/{name}")
        };
        // Two levels are all the format has; a bound also ends a folder that links to itself.
        if entry.path().is_dir() {
            if depth < 2 {
                list_folder(root, &name, depth + 1, names)?;
            }
        } else if name.ends_with(".toml") {
            names.push(name);
        }
    }
    Ok(())
}

fn read_text(path: &Path, place: Stretch) -> Result<String, Box<Finding>> {
    files::read_text(path, LARGEST_FILE).map_err(|error| {
        let (code, fix) = match &error {
            ReadError::Io { .. } => (
                Code::UnreadableFile,
                "give yourself the right to read it, or remove it",
            ),
            ReadError::NotAFile { .. } => (Code::UnreadableFile, "put a file in its place, or remove it"),
            ReadError::TooLarge { .. } => (Code::FileTooLarge, "split the file by subject"),
            ReadError::NotText { .. } => (Code::NotUtf8, "save it as UTF-8"),
        };
        Box::new(Finding::error(code, place, error.to_string(), fix))
    })
}
