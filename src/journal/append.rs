//! Writing a case file, one synced line at a time.

use std::fs::{File, OpenOptions};
use std::io;
use std::path::{Path, PathBuf};

use jiff::Timestamp;
use serde::Serialize;

use crate::files::{self, Links, ReadError};
use crate::walk::Event;

use super::anew::{self, Moved};
use super::chain::{self, Link};
use super::change::Change;
use super::{Case, Header, JournalError, LARGEST, Record, SCHEMA, disk, lock, replay};

/// An open case file, locked for this process.
#[derive(Debug)]
pub struct Journal {
    path: PathBuf,
    file: File,
    /// Every line that counts, as it stands in the file: what is written anew when the file is lost.
    lines: Vec<u8>,
    /// The link of the last line; nothing in a case of an earlier program that has no links yet.
    head: Option<Link>,
    /// The case is closed: only another closing may follow.
    closed: bool,
    /// Folder to sync before the next line, since it got this file's name.
    fresh_in: Option<PathBuf>,
    /// Where the case went since this was last asked for.
    moved: Vec<Moved>,
}

impl Journal {
    /// Creates a case file, with the folders above it, for this person alone, and writes its header.
    ///
    /// `id` tells this case from every other, so that a copy of its file is known as one.
    ///
    /// # Errors
    /// When the file exists already or cannot be written.
    pub fn create(path: &Path, knowledge: &str, id: &str, now: Timestamp) -> Result<Self, JournalError> {
        let failed = |source| JournalError::Io {
            doing: "create",
            path: path.to_owned(),
            source,
        };
        let folder = anew::folder_of(path);
        disk::create_folder(folder).map_err(failed)?;
        let file = disk::create(path).map_err(failed)?;
        // An empty file would be in the way of the next attempt, and name a case that never was. It is ours, and new.
        let emptied = |error| {
            let _ = std::fs::remove_file(path);
            error
        };
        lock::alone(&file, path).map_err(emptied)?;
        let mut journal = Self {
            path: path.to_owned(),
            file,
            lines: Vec::new(),
            head: None,
            closed: false,
            fresh_in: Some(folder.to_owned()),
            moved: Vec::new(),
        };
        let header = Header {
            schema: SCHEMA,
            program: env!("CARGO_PKG_VERSION").to_owned(),
            knowledge: knowledge.to_owned(),
            id: Some(id.to_owned()),
            opened: now,
            anonymous: false,
            invented: false,
            mended: None,
        };
        // No answer hangs on the header yet, so it is synced with the first event and the first prompt comes sooner.
        journal.write(&header, false).map_err(failed).map_err(emptied)?;
        Ok(journal)
    }

    /// Opens a case file and reads what it holds. A torn last line is cut off, so that the next line starts clean.
    ///
    /// # Errors
    /// When it cannot be opened, is in use, is no case file, is newer, or is damaged in the middle.
    pub fn open(path: &Path) -> Result<(Self, Case), JournalError> {
        let mut options = OpenOptions::new();
        options.read(true).append(true);
        let mut file = files::open(path, &options, Links::Refuse).map_err(|error| match error {
            ReadError::Io { path, source } if source.kind() == io::ErrorKind::ReadOnlyFilesystem => {
                JournalError::ReadOnly { path, source }
            }
            error => error.into(),
        })?;
        lock::alone(&file, path)?;
        let mut lines = files::read_within(&mut file, path, LARGEST)?;
        let case = replay::read(&lines, path)?;
        lines.truncate(lines.len() - usize::try_from(case.torn).unwrap_or(0));
        let journal = Self {
            path: path.to_owned(),
            file,
            lines,
            head: case.head(),
            closed: case.is_closed(),
            fresh_in: None,
            moved: Vec::new(),
        };
        if case.torn > 0 {
            journal.cut().map_err(|source| JournalError::Io {
                doing: "repair",
                path: path.to_owned(),
                source,
            })?;
        }
        Ok((journal, case))
    }

    /// The file.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// The link of the last line; nothing while a case of an earlier program has none.
    #[must_use]
    pub fn head(&self) -> Option<Link> {
        self.head
    }

    /// Whether the case is closed: only another closing may follow.
    #[must_use]
    pub fn is_closed(&self) -> bool {
        self.closed
    }

    /// Where the case went since this was last asked for, to be told to the person.
    pub fn take_moved(&mut self) -> Vec<Moved> {
        std::mem::take(&mut self.moved)
    }

    /// Appends an event. When this returns, the event is on the disk, in the file that [`Journal::path`] leads to.
    ///
    /// # Errors
    /// When it cannot be written whole; the file is then as it was before. When the file was lost and could not be
    /// written anew. When the case is closed and the event is not another closing: the closing stays the last line.
    pub fn append(&mut self, event: &Event, now: Timestamp) -> Result<(), JournalError> {
        let closes = matches!(event, Event::Closed { .. });
        if self.closed && !closes {
            return Err(JournalError::Closed {
                path: self.path.clone(),
            });
        }
        // Before, since what was cut short would else be filled up; after, since a line in a file that has lost its
        // name is not kept.
        self.secure()?;
        self.append_line(event, now)
            .map_err(|source| JournalError::Write {
                path: self.path.clone(),
                source,
                lost: lost_with(event),
            })?;
        self.closed = closes;
        self.secure()
    }

    /// Makes sure that everything appended is in the file of this name. When somebody deleted, replaced or changed
    /// it, writes the whole case anew beside it, under a new name.
    ///
    /// # Errors
    /// When it cannot be written anew.
    pub fn secure(&mut self) -> Result<(), JournalError> {
        let Some(change) = Change::of(&self.path, &self.file, self.lines.len() as u64) else {
            return Ok(());
        };
        let (path, file) = anew::write(&self.path, &self.lines).map_err(|source| JournalError::Lost {
            path: self.path.clone(),
            change,
            source,
        })?;
        self.file = file;
        self.fresh_in = None;
        let from = std::mem::replace(&mut self.path, path.clone());
        self.moved.push(Moved {
            from,
            to: path,
            change,
        });
        Ok(())
    }

    fn append_line(&mut self, event: &Event, now: Timestamp) -> io::Result<()> {
        let record = Record {
            at: now,
            event: event.clone(),
        };
        // First the name, then the line: when either fails, the event is not in the file.
        if let Some(folder) = &self.fresh_in {
            disk::sync_folder(folder)?;
            self.fresh_in = None;
        }
        self.write(&record, true)
    }

    fn write(&mut self, object: &impl Serialize, sync: bool) -> io::Result<()> {
        let mut line = serde_json::to_vec(object).map_err(io::Error::from)?;
        // A case of an earlier program has no links: its first one follows on all that stands there.
        let old = || (!self.lines.is_empty()).then(|| Link::after(None, &self.lines));
        let link = chain::close(&mut line, self.head.or_else(old));
        if (self.lines.len() + line.len()) as u64 > LARGEST.bytes {
            // What is written must be read again.
            return Err(io::Error::other(format!(
                "it would have more than {} bytes",
                LARGEST.bytes
            )));
        }
        let written = disk::write(&self.file, &line).and_then(|()| {
            if sync {
                disk::sync(&self.file)?;
            }
            Ok(())
        });
        match written {
            Ok(()) => {
                self.lines.extend_from_slice(&line);
                self.head = Some(link);
            }
            // A full disk can leave half a line. Cutting needs no room; if it fails too, the next opening cuts.
            Err(_) => drop(self.cut()),
        }
        written
    }

    fn cut(&self) -> io::Result<()> {
        disk::cut(&self.file, self.lines.len() as u64)?;
        disk::sync(&self.file)
    }
}

/// What is lost when an event cannot be written.
fn lost_with(event: &Event) -> &'static str {
    match event {
        Event::Closed { .. } => "the closing was not kept, everything before it was",
        Event::Photograph { .. } | Event::Repaired { .. } | Event::Proved { .. } => {
            "this entry was not kept, everything before it was"
        }
        event if event.is_given() => "the last answer was not kept, all before it were",
        _ => {
            "the last answer is kept; only what follows from it was not written, and that is worked out anew when \
             the case goes on"
        }
    }
}
