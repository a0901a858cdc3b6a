//! Files and folders for the person alone.

use std::fs::{self, File, OpenOptions};
use std::io;
use std::path::Path;

/// Creates a file that only this person may read and write, whatever the mask of the process; never opens one that is
/// there. It is open for reading and appending.
///
/// # Errors
/// When something has this name, or the system refuses.
pub fn create_private(path: &Path) -> io::Result<File> {
    let mut options = OpenOptions::new();
    options.read(true).append(true).create_new(true);
    #[cfg(unix)]
    {
        use std::os::unix::fs::{OpenOptionsExt, PermissionsExt};
        let file = options.mode(0o600).open(path)?;
        // A mask can only have taken rights away; without them the case could not be continued.
        match file.set_permissions(fs::Permissions::from_mode(0o600)) {
            Ok(()) => Ok(file),
            Err(error) => {
                // Nothing is in it, and it must not be in the way of the next attempt.
                let _ = fs::remove_file(path);
                Err(error)
            }
        }
    }
    #[cfg(not(unix))]
    options.open(path)
}

/// Creates a folder with those above it that are missing, each for this person alone. What is there stays as it is.
///
/// 0700 is also what the XDG Base Directory Specification asks of whoever creates a missing data folder
/// (<https://specifications.freedesktop.org/basedir/latest/>).
///
/// # Errors
/// When something else has the name, or the system refuses.
pub fn create_private_folder(folder: &Path) -> io::Result<()> {
    if folder.as_os_str().is_empty() || folder.is_dir() {
        return Ok(());
    }
    if let Some(above) = folder.parent() {
        create_private_folder(above)?;
    }
    match create_one(folder) {
        // Another process made it meanwhile.
        Err(error) if error.kind() == io::ErrorKind::AlreadyExists && folder.is_dir() => Ok(()),
        done => done,
    }
}

#[cfg(unix)]
fn create_one(folder: &Path) -> io::Result<()> {
    use std::os::unix::fs::{DirBuilderExt, PermissionsExt};
    fs::DirBuilder::new().mode(0o700).create(folder)?;
    fs::set_permissions(folder, fs::Permissions::from_mode(0o700))
}

#[cfg(not(unix))]
fn create_one(folder: &Path) -> io::Result<()> {
    fs::create_dir(folder)
}

/// Syncs the names in a folder, such as that of a new file. Only where folders can be opened like files.
///
/// # Errors
/// When the system refuses.
pub fn sync_folder(folder: &Path) -> io::Result<()> {
    if cfg!(unix) {
        File::open(folder)?.sync_all()
    } else {
        Ok(())
    }
}
