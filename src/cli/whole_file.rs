//! Writing a file whole, so that a kill leaves the old one or the new one.

use std::fs::{self, File};
use std::io;
use std::path::{Path, PathBuf};

/// Writes a text aside, syncs it and puts it in the place of the old file.
///
/// # Errors
/// When the folder cannot be written to.
pub(super) fn write(path: &Path, text: &str) -> io::Result<()> {
    let mut aside = path.as_os_str().to_owned();
    aside.push(".new");
    let aside = PathBuf::from(aside);
    fs::write(&aside, text)?;
    File::open(&aside).and_then(|file| file.sync_all())?;
    fs::rename(&aside, path)
}
