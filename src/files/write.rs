//! Writing a file whole, so that a kill leaves the old one or the new one.

use std::fs::{self, File, Permissions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use thiserror::Error;

use super::{folder_of, kind_of, sync_folder};

/// Why a file was not written. Every message names the file; what stood there stands there still.
#[derive(Debug, Error)]
#[expect(missing_docs, reason = "what a name leaves unsaid is added")]
pub enum WriteError {
    /// The system refused.
    #[error("cannot write `{}`: {source}", path.display())]
    Io {
        path: PathBuf,
        /// The system's reason.
        source: io::Error,
    },
    /// A folder, a pipe, a device or a link has this name.
    #[error("`{}` is {found} and is not replaced", path.display())]
    NotAFile {
        path: PathBuf,
        /// With its article: "a folder".
        found: &'static str,
    },
    /// The file that has this name may not be written.
    #[error("`{}` is write-protected and is not replaced", path.display())]
    Protected { path: PathBuf },
}

impl WriteError {
    /// What to do about it.
    #[must_use]
    pub fn hint(&self) -> &'static str {
        match self {
            Self::Io { .. } => "check that the folder exists, may be written and has room",
            Self::NotAFile { found: "a link", .. } => "give the file it leads to, or a new name",
            Self::NotAFile { .. } | Self::Protected { .. } => "give another name",
        }
    }
}

/// Writes a text aside, syncs it and puts it in the place of the old file, whose permissions it takes over.
///
/// The file aside has a name nobody can foresee and is made anew, so that nothing put there beforehand is written
/// through. A link is refused rather than resolved: it may be somebody else's, and the file it leads to may be on
/// another disk, where nothing can be put in place in one step. The last step replaces a name and follows nothing.
///
/// # Errors
/// When the name is taken by something that is no regular file or is write-protected, or the system refuses.
pub fn write_whole(path: &Path, text: &str) -> Result<(), WriteError> {
    write_bytes_whole(path, text.as_bytes())
}

/// As [`write_whole`], for what is no text.
///
/// # Errors
/// As for [`write_whole`].
pub fn write_bytes_whole(path: &Path, bytes: &[u8]) -> Result<(), WriteError> {
    let failed = |source| WriteError::Io {
        path: path.to_owned(),
        source,
    };
    let old = match fs::symlink_metadata(path) {
        Ok(about) => Some(about),
        Err(error) if error.kind() == io::ErrorKind::NotFound => None,
        Err(error) => return Err(failed(error)),
    };
    if let Some(old) = &old {
        if !old.is_file() {
            return Err(WriteError::NotAFile {
                path: path.to_owned(),
                found: kind_of(old.file_type()),
            });
        }
        if old.permissions().readonly() {
            return Err(WriteError::Protected {
                path: path.to_owned(),
            });
        }
    }
    let folder = folder_of(path);
    let mut aside = aside(old.is_some()).tempfile_in(folder).map_err(failed)?;
    aside.write_all(bytes).map_err(failed)?;
    if let Some(old) = old {
        take_over(aside.as_file(), old.permissions()).map_err(failed)?;
    }
    aside.as_file().sync_all().map_err(failed)?;
    aside.persist(path).map_err(|error| failed(error.error))?;
    sync_folder(folder).map_err(failed)
}

/// A file of one's own until it takes over the permissions of the old one; a new one is as open as the person's
/// other new files.
fn aside(replaces: bool) -> tempfile::Builder<'static, 'static> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(".lineside-");
    #[cfg(unix)]
    if !replaces {
        use std::os::unix::fs::PermissionsExt;
        builder.permissions(Permissions::from_mode(0o666));
    }
    #[cfg(not(unix))]
    let _ = replaces;
    builder
}

fn take_over(file: &File, permissions: Permissions) -> io::Result<()> {
    if cfg!(unix) {
        file.set_permissions(permissions)
    } else {
        Ok(())
    }
}
