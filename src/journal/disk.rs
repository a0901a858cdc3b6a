//! The calls by which a case file is made and written, each of which can fail. In tests any of them is made to.

use std::fs::File;
use std::io::{self, Write};
use std::path::Path;

use crate::files;

pub(super) fn create_folder(folder: &Path) -> io::Result<()> {
    may_fail()?;
    files::create_private_folder(folder)
}

pub(super) fn create(path: &Path) -> io::Result<File> {
    may_fail()?;
    files::create_private(path)
}

pub(super) fn write(mut file: &File, bytes: &[u8]) -> io::Result<()> {
    #[cfg(test)]
    if let Err(error) = may_fail() {
        // What a full disk does: some of it is written.
        file.write_all(&bytes[..bytes.len() / 2])?;
        return Err(error);
    }
    file.write_all(bytes)
}

pub(super) fn sync(file: &File) -> io::Result<()> {
    may_fail()?;
    file.sync_data()
}

pub(super) fn cut(file: &File, bytes: u64) -> io::Result<()> {
    may_fail()?;
    file.set_len(bytes)
}

pub(super) fn sync_folder(folder: &Path) -> io::Result<()> {
    may_fail()?;
    files::sync_folder(folder)
}

#[cfg(not(test))]
#[expect(clippy::unnecessary_wraps, reason = "in tests it fails")]
fn may_fail() -> io::Result<()> {
    Ok(())
}

#[cfg(test)]
use fault::may_fail;

#[cfg(test)]
pub(super) mod fault {
    use std::cell::Cell;
    use std::io;

    thread_local! {
        static CALLS: Cell<usize> = const { Cell::new(0) };
        static FAILS: Cell<Option<(usize, usize)>> = const { Cell::new(None) };
    }

    /// Makes these calls fail, counted from 0 and from now on.
    pub(in crate::journal) fn at(calls: std::ops::Range<usize>) {
        CALLS.set(0);
        FAILS.set(Some((calls.start, calls.end)));
    }

    /// Makes nothing fail any more, and says how many calls there were.
    pub(in crate::journal) fn end() -> usize {
        FAILS.set(None);
        CALLS.get()
    }

    pub(super) fn may_fail() -> io::Result<()> {
        let call = CALLS.replace(CALLS.get() + 1);
        match FAILS.get() {
            Some((first, end)) if (first..end).contains(&call) => {
                Err(io::Error::new(io::ErrorKind::StorageFull, "injected: no room"))
            }
            _ => Ok(()),
        }
    }
}
