//! Files on the person's disk: read within a limit, written whole, kept private.
//!
//! Everything that comes from outside is read through [`read`] or [`read_text`], which take regular files only and stop
//! at a stated size: a named pipe would make the technician wait for ever, a device has no end. What replaces a file
//! goes through [`write_whole`]. What a person would not want others to read is made by [`create_private`].

mod hash;
mod private;
mod read;
mod write;

pub use hash::sha256;
pub use private::{create_private, create_private_folder, sync_folder};
pub use read::{Limit, Links, ReadError, open, read, read_text, read_within};
pub use write::{WriteError, write_bytes_whole, write_whole};

use std::fs::FileType;
use std::path::Path;

/// The folder a file is in, or is to be in: `.` for a name alone.
#[must_use]
pub fn folder_of(path: &Path) -> &Path {
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty());
    folder.unwrap_or(Path::new("."))
}

/// What a thing that is no regular file is, in words.
fn kind_of(kind: FileType) -> &'static str {
    #[cfg(unix)]
    {
        use std::os::unix::fs::FileTypeExt;
        if kind.is_fifo() {
            return "a pipe";
        }
        if kind.is_socket() {
            return "a socket";
        }
        if kind.is_char_device() || kind.is_block_device() {
            return "a device";
        }
    }
    if kind.is_dir() {
        "a folder"
    } else if kind.is_symlink() {
        "a link"
    } else {
        "no regular file"
    }
}
