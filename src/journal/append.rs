//! Writing a case file, one synced line at a time.

use std::fs::{File, OpenOptions, TryLockError};
use std::io::{self, Read, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};

use jiff::Timestamp;
use serde::Serialize;

use crate::walk::Event;

use super::{Case, Header, JournalError, Record, SCHEMA, replay};

/// An open case file, locked for this process.
#[derive(Debug)]
pub struct Journal {
    path: PathBuf,
    file: File,
    /// End of the last line that counts.
    end: u64,
    /// Folder to sync before the next line, since it got this file's name.
    fresh_in: Option<PathBuf>,
}

impl Journal {
    /// Creates a case file, with the folders above it, and writes its header.
    ///
    /// # Errors
    /// When the file exists already or cannot be written.
    pub fn create(path: &Path, knowledge: &str, now: Timestamp) -> Result<Self, JournalError> {
        let failed = |source| JournalError::Io {
            doing: "create",
            path: path.to_owned(),
            source,
        };
        let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty());
        if let Some(folder) = folder {
            std::fs::create_dir_all(folder).map_err(failed)?;
        }
        let file = OpenOptions::new()
            .read(true)
            .write(true)
            .create_new(true)
            .open(path)
            .map_err(failed)?;
        lock(&file, path)?;
        let folder = folder.unwrap_or(Path::new(".")).to_owned();
        let mut journal = Self {
            path: path.to_owned(),
            file,
            end: 0,
            fresh_in: Some(folder),
        };
        // No answer hangs on the header yet, so it is synced with the first event and the first prompt comes sooner.
        journal.write(
            &Header {
                schema: SCHEMA,
                program: env!("CARGO_PKG_VERSION").to_owned(),
                knowledge: knowledge.to_owned(),
                opened: now,
            },
            false,
        )?;
        Ok(journal)
    }

    /// Opens a case file and reads what it holds. A torn last line is cut off, so that the next line starts clean.
    ///
    /// # Errors
    /// When it cannot be opened, is in use, is no case file, is newer, or is damaged in the middle.
    pub fn open(path: &Path) -> Result<(Self, Case), JournalError> {
        let failed = |doing| {
            move |source| JournalError::Io {
                doing,
                path: path.to_owned(),
                source,
            }
        };
        let mut file = OpenOptions::new()
            .read(true)
            .write(true)
            .open(path)
            .map_err(failed("open"))?;
        lock(&file, path)?;
        let mut bytes = Vec::new();
        file.read_to_end(&mut bytes).map_err(failed("read"))?;
        let case = replay::read(&bytes, path)?;
        let mut journal = Self {
            path: path.to_owned(),
            file,
            end: case.whole,
            fresh_in: None,
        };
        if case.torn > 0 {
            journal.cut().map_err(failed("repair"))?;
        }
        Ok((journal, case))
    }

    /// The file.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Appends an event. When this returns, the event is on the disk.
    ///
    /// # Errors
    /// When it cannot be written whole; the file is then as it was before.
    pub fn append(&mut self, event: &Event, now: Timestamp) -> Result<(), JournalError> {
        let record = Record {
            at: now,
            event: event.clone(),
        };
        // First the name, then the line: when either fails, the event is not in the file.
        if let Some(folder) = &self.fresh_in {
            sync_folder(folder).map_err(|source| JournalError::Write {
                path: self.path.clone(),
                source,
            })?;
            self.fresh_in = None;
        }
        self.write(&record, true)
    }

    fn write(&mut self, line: &impl Serialize, sync: bool) -> Result<(), JournalError> {
        let written = serde_json::to_vec(line)
            .map_err(io::Error::from)
            .and_then(|mut bytes| {
                bytes.push(b'\n');
                self.file.seek(SeekFrom::Start(self.end))?;
                self.file.write_all(&bytes)?;
                if sync {
                    self.file.sync_data()?;
                }
                Ok(bytes.len() as u64)
            });
        match written {
            Ok(length) => {
                self.end += length;
                Ok(())
            }
            Err(source) => {
                // A full disk can leave half a line. Cutting needs no room; if it fails too, the next opening cuts.
                let _ = self.cut();
                Err(JournalError::Write {
                    path: self.path.clone(),
                    source,
                })
            }
        }
    }

    fn cut(&mut self) -> io::Result<()> {
        self.file.set_len(self.end)?;
        self.file.sync_data()
    }
}

fn lock(file: &File, path: &Path) -> Result<(), JournalError> {
    match file.try_lock() {
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

/// Syncs the name of a new file, which is in its folder. Only where folders can be opened like files.
fn sync_folder(folder: &Path) -> io::Result<()> {
    if cfg!(unix) {
        File::open(folder)?.sync_all()
    } else {
        Ok(())
    }
}
