//! The files the knowledge is made of: compiled in, or read from a folder.

use std::borrow::Cow;
use std::fs;
use std::io;
use std::path::Path;

use thiserror::Error;

use crate::files::{self, Limit, ReadError};

use super::finding::{Code, Finding, Place};

/// Largest file read. The largest file written so far is a few hundred kilobytes; a file beyond this is a mistake
/// (a log, an archive) and reading it would only make a technician wait. Of the worst file this large, nothing but
/// faults, the findings take about 130 MB.
pub const LARGEST_FILE: Limit = Limit {
    what: "a file of knowledge",
    bytes: 1024 * 1024,
};

/// Name, text and what `build.rs` parsed of it, as bytes of the raw form; none where it could not.
static EMBEDDED: &[(&str, &str, &[u8])] = include!(concat!(env!("OUT_DIR"), "/trees.rs"));

/// One file as read.
#[derive(Clone, Debug)]
pub struct SourceFile {
    /// Path below the folder, with `/` between its parts, such as `causes/supply.toml`.
    pub name: String,
    /// Path to show to a person.
    pub shown: String,
    /// The text; empty when it could not be read.
    pub text: Cow<'static, str>,
    /// What was parsed of it when the program was built.
    pub(super) parsed: Option<&'static [u8]>,
}

/// All files of one knowledge, sorted by name, with what went wrong while reading them.
#[derive(Clone, Debug)]
pub struct Files {
    /// The files.
    pub list: Vec<SourceFile>,
    /// Files that could not be read as text.
    pub findings: Vec<Finding>,
}

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
    /// The files compiled into the program.
    #[must_use]
    pub fn embedded() -> Self {
        let list = EMBEDDED
            .iter()
            .map(|(name, text, parsed)| SourceFile {
                name: (*name).to_owned(),
                shown: format!("trees/{name}"),
                text: Cow::Borrowed(text),
                parsed: Some(*parsed).filter(|bytes| !bytes.is_empty()),
            })
            .collect();
        Self {
            list,
            findings: Vec::new(),
        }
    }

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
            let place = Place {
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
                parsed: None,
            });
        }
        if files.list.is_empty() {
            files.list.push(SourceFile {
                name: String::new(),
                shown: folder.display().to_string(),
                text: Cow::Borrowed(""),
                parsed: None,
            });
            files.findings.push(Finding::error(
                Code::NoFiles,
                Place { file: 0, span: 0..0 },
                format!("no file with the ending `.toml` in `{}`", folder.display()),
                "give the folder that holds `causes`, `tests`, `facts` and `equipment`",
            ));
        }
        Ok(files)
    }

    /// Files held in memory, for tests and editors.
    #[must_use]
    pub fn in_memory<N: Into<String>, T: Into<String>>(files: impl IntoIterator<Item = (N, T)>) -> Self {
        let mut list: Vec<_> = files
            .into_iter()
            .map(|(name, text)| {
                let name = name.into();
                SourceFile {
                    shown: name.clone(),
                    name,
                    text: Cow::Owned(text.into()),
                    parsed: None,
                }
            })
            .collect();
        list.sort_by(|a, b| a.name.cmp(&b.name));
        Self {
            list,
            findings: Vec::new(),
        }
    }

    /// Hash over names and contents, 16 hexadecimal digits; the same on every platform and release.
    ///
    /// It tells versions apart and protects against nobody. Each step (exclusive or, rotation, product with an odd
    /// number) can be undone, so that files which differ in one place always differ in their hash. Eight bytes a
    /// step, as hashing byte by byte took a sixth of the whole time to load.
    #[must_use]
    pub fn fingerprint(&self) -> String {
        let mut hash: u64 = 0xcbf2_9ce4_8422_2325;
        let mut take = |bytes: &[u8]| {
            // Lengths go in too, so that moving text from one file into the next is seen.
            let mut step = |word: u64| {
                hash = (hash ^ word).rotate_left(23).wrapping_mul(0x9e37_79b9_7f4a_7c15);
            };
            step(bytes.len() as u64);
            for chunk in bytes.chunks(8) {
                let mut word = [0; 8];
                word[..chunk.len()].copy_from_slice(chunk);
                step(u64::from_le_bytes(word));
            }
        };
        for file in &self.list {
            take(file.name.as_bytes());
            take(file.text.as_bytes());
        }
        format!("{hash:016x}")
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

fn read_text(path: &Path, place: Place) -> Result<String, Box<Finding>> {
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

#[cfg(test)]
mod tests {
    use super::Files;

    #[test]
    fn fingerprint_tells_a_moved_text_from_the_original() {
        let whole = Files::in_memory([("a", "xy"), ("b", "")]);
        let moved = Files::in_memory([("a", "x"), ("b", "y")]);
        assert_ne!(whole.fingerprint(), moved.fingerprint());
        assert_eq!(
            whole.fingerprint(),
            Files::in_memory([("b", ""), ("a", "xy")]).fingerprint()
        );
    }

    /// A case names the knowledge it was walked with, so the figure must not change with the program.
    /// The expected figure was worked out by the same steps written in Python.
    #[test]
    fn fingerprint_stays_what_it_was() {
        assert_eq!(
            Files::in_memory([("a.toml", "x = 1\n"), ("b.toml", "")]).fingerprint(),
            "002b442e251129e5"
        );
    }

    #[test]
    fn embedded_list_is_the_folder() {
        let folder = Files::read(std::path::Path::new(concat!(
            env!("CARGO_MANIFEST_DIR"),
            "/trees"
        )))
        .unwrap();
        let embedded = Files::embedded();
        let names = |files: &Files| files.list.iter().map(|f| f.name.clone()).collect::<Vec<_>>();
        assert_eq!(names(&folder), names(&embedded));
        assert_eq!(folder.fingerprint(), embedded.fingerprint());
    }
}
