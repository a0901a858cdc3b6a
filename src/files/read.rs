//! Reading what comes from outside: regular files, up to a limit.

use std::fs::{self, File, Metadata, OpenOptions};
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use thiserror::Error;

use super::kind_of;

/// How large a file of one kind may be.
#[derive(Clone, Copy, Debug)]
pub struct Limit {
    /// What the file is, with its article, for the message.
    pub what: &'static str,
    /// Bytes it may have at most.
    pub bytes: u64,
}

/// What to do with a path whose last part is a symbolic link.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Links {
    /// Go where it leads: the person named it.
    Follow,
    /// Refuse it: whoever put it there could make the program read or write something else.
    Refuse,
}

/// Why a file was not read. Every message names the file.
#[derive(Debug, Error)]
#[expect(missing_docs, reason = "what a name leaves unsaid is added")]
pub enum ReadError {
    /// The system refused.
    #[error("cannot read `{}`: {source}", path.display())]
    Io {
        path: PathBuf,
        /// The system's reason.
        source: io::Error,
    },
    /// It is a folder, a pipe, a device or a link that is not followed.
    #[error("`{}` is {found}, expected a regular file", path.display())]
    NotAFile {
        path: PathBuf,
        /// With its article: "a folder".
        found: &'static str,
    },
    /// It is larger than anything of its kind.
    #[error("`{}` has {size} bytes or more, expected at most {} for {}", path.display(), limit.bytes, limit.what)]
    TooLarge {
        path: PathBuf,
        /// Bytes it has at least.
        size: u64,
        /// What was expected.
        limit: Limit,
    },
    /// It is not text.
    #[error("`{}` is not UTF-8 text: byte {at} cannot be read", path.display())]
    NotText {
        path: PathBuf,
        /// The first byte that is not text, from 1.
        at: usize,
    },
}

impl ReadError {
    /// What to do about it.
    #[must_use]
    pub fn hint(&self) -> &'static str {
        match self {
            Self::Io { .. } => "check that it exists and that you may read it",
            Self::NotAFile { found: "a link", .. } => "give the file it leads to",
            Self::NotAFile {
                found: "a folder", ..
            } => "give a file in it",
            Self::NotAFile { .. } => "save it to a file first, and give that file",
            Self::TooLarge { .. } => "see whether it is the right file",
            Self::NotText { .. } => "save it as UTF-8",
        }
    }
}

/// Opens a regular file, and nothing else, without waiting.
///
/// # Errors
/// When there is no regular file, or the system refuses.
pub fn open(path: &Path, options: &OpenOptions, links: Links) -> Result<File, ReadError> {
    let failed = |source| ReadError::Io {
        path: path.to_owned(),
        source,
    };
    // Before, as opening a device can already do something; and after, as what was looked at can have been
    // exchanged in between.
    let before = match links {
        Links::Follow => fs::metadata(path),
        Links::Refuse => fs::symlink_metadata(path),
    };
    regular(path, &before.map_err(failed)?)?;
    let file = without_waiting(options.clone(), links)
        .open(path)
        .map_err(failed)?;
    regular(path, &file.metadata().map_err(failed)?)?;
    Ok(file)
}

#[cfg(unix)]
fn without_waiting(mut options: OpenOptions, links: Links) -> OpenOptions {
    use rustix::fs::OFlags;
    use std::os::unix::fs::OpenOptionsExt;
    let mut flags = OFlags::NONBLOCK | OFlags::NOCTTY;
    if links == Links::Refuse {
        flags |= OFlags::NOFOLLOW;
    }
    options.custom_flags(flags.bits().cast_signed());
    options
}

#[cfg(not(unix))]
fn without_waiting(options: OpenOptions, _: Links) -> OpenOptions {
    options
}

fn regular(path: &Path, about: &Metadata) -> Result<(), ReadError> {
    if about.is_file() {
        return Ok(());
    }
    Err(ReadError::NotAFile {
        path: path.to_owned(),
        found: kind_of(about.file_type()),
    })
}

/// Reads an open file to its end. The limit holds for the bytes read, as a file can grow meanwhile or hide its size.
///
/// # Errors
/// When it is larger, or the system refuses.
pub fn read_within(file: &mut File, path: &Path, limit: Limit) -> Result<Vec<u8>, ReadError> {
    let failed = |source| ReadError::Io {
        path: path.to_owned(),
        source,
    };
    let within = |size: u64| {
        if size <= limit.bytes {
            return Ok(());
        }
        Err(ReadError::TooLarge {
            path: path.to_owned(),
            size,
            limit,
        })
    };
    let size = file.metadata().map_err(failed)?.len();
    within(size)?;
    let mut bytes = Vec::with_capacity(usize::try_from(size).unwrap_or(0));
    file.take(limit.bytes + 1)
        .read_to_end(&mut bytes)
        .map_err(failed)?;
    within(bytes.len() as u64)?;
    Ok(bytes)
}

/// Reads a regular file; a link is followed.
///
/// # Errors
/// When it is none, is too large, or the system refuses.
pub fn read(path: &Path, limit: Limit) -> Result<Vec<u8>, ReadError> {
    let mut file = open(path, OpenOptions::new().read(true), Links::Follow)?;
    read_within(&mut file, path, limit)
}

/// Reads a regular file as text; a link is followed.
///
/// # Errors
/// When it is none, is too large or is not UTF-8, or the system refuses.
pub fn read_text(path: &Path, limit: Limit) -> Result<String, ReadError> {
    String::from_utf8(read(path, limit)?).map_err(|error| ReadError::NotText {
        path: path.to_owned(),
        at: error.utf8_error().valid_up_to() + 1,
    })
}
