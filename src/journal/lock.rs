//! One writer at a time, and no reader meanwhile.

use std::fs::{File, TryLockError};
use std::path::Path;

use super::JournalError;

/// Locks a file for whoever writes.
pub(super) fn alone(file: &File, path: &Path) -> Result<(), JournalError> {
    locked(file.try_lock(), path)
}

/// Locks a file for whoever only reads.
pub(super) fn together(file: &File, path: &Path) -> Result<(), JournalError> {
    locked(file.try_lock_shared(), path)
}

fn locked(tried: Result<(), TryLockError>, path: &Path) -> Result<(), JournalError> {
    match tried {
        Ok(()) => Ok(()),
        Err(TryLockError::WouldBlock) => Err(JournalError::InUse {
            path: path.to_owned(),
        }),
        Err(TryLockError::Error(source)) => Err(JournalError::Io {
            doing: "lock",
            path: path.to_owned(),
            source,
        }),
    }
}
