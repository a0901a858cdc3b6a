//! From the bytes of a case file back to its events.

use std::fs::OpenOptions;
use std::path::Path;

use crate::files::{self, Links};
use crate::walk::{Event, UnknownId, Walk, take_back};

use super::{Header, JournalError, LARGEST, Record, SCHEMA, lock};

/// What a case file holds.
#[derive(Clone, Debug, PartialEq)]
pub struct Case {
    /// Its header.
    pub header: Header,
    /// Its events with their times, oldest first.
    pub records: Vec<Record>,
    /// Bytes up to the end of the last whole line.
    pub whole: u64,
    /// Bytes after it: the torn last line of a run that was killed while it wrote. They are dropped.
    pub torn: u64,
}

impl Case {
    /// Brings a new walk to where this case stood, and gives back the ids its knowledge does not have.
    ///
    /// What was taken back is left out before anything is applied. An answer the knowledge has lost is still a
    /// step, so a later "back" takes that one and not the one before it.
    pub fn replay(&self, walk: &mut Walk<'_>) -> Vec<UnknownId> {
        let given = || {
            self.records
                .iter()
                .map(|record| &record.event)
                .filter(|event| event.is_given())
        };
        let mut standing: Vec<&Event> = Vec::new();
        let mut lasting: Vec<&Event> = Vec::new();
        // Every kind is named, so that a new one has to be thought about here.
        for event in given() {
            match event {
                Event::Undone { steps } => take_back(&mut standing, *steps),
                Event::Complaint { .. }
                | Event::Equipment { .. }
                | Event::Accessories { .. }
                | Event::Fact { .. }
                | Event::Answer { .. }
                | Event::Acknowledged { .. } => standing.push(event),
                Event::Note { .. } | Event::Closed { .. } => lasting.push(event),
                Event::Stopped
                | Event::Finished
                | Event::Calculated { .. }
                | Event::DefectFound { .. }
                | Event::Surprising { .. }
                | Event::Standing { .. } => {}
            }
        }
        let end = given()
            .next_back()
            .filter(|event| matches!(event, Event::Stopped | Event::Finished));
        walk.apply_all(standing.into_iter().chain(lasting).chain(end))
    }
}

/// Reads a case file without going on with it, under the lock that writers hold alone. A link is not followed.
///
/// # Errors
/// As for [`read`], when somebody is writing it, or when it is no file or too large for a case.
pub fn read_file(path: &Path) -> Result<Case, JournalError> {
    let mut file = files::open(path, OpenOptions::new().read(true), Links::Refuse)?;
    lock::together(&file, path)?;
    read(&files::read_within(&mut file, path, LARGEST)?, path)
}

/// Reads the bytes of a case file. `path` is only for messages.
///
/// # Errors
/// When it is no case file, comes from a newer program, or is damaged anywhere but in its last line.
pub fn read(bytes: &[u8], path: &Path) -> Result<Case, JournalError> {
    // What follows the last line feed was being written when the program ended; it never counted.
    let whole = bytes
        .iter()
        .rposition(|byte| *byte == b'\n')
        .map_or(0, |last| last + 1);
    let mut lines = bytes[..whole].split_inclusive(|byte| *byte == b'\n').enumerate();
    let header = match lines.next() {
        Some((_, line)) => header(line, path)?,
        None if bytes.is_empty() || is_torn_header(bytes) => {
            return Err(JournalError::NoHeader {
                path: path.to_owned(),
            });
        }
        None => {
            return Err(JournalError::NotACase {
                path: path.to_owned(),
            });
        }
    };
    let mut records = Vec::new();
    for (number, line) in lines {
        let record: Record = serde_json::from_slice(line).map_err(|error| JournalError::Damaged {
            path: path.to_owned(),
            line: number + 1,
            reason: error.to_string(),
        })?;
        records.push(record);
    }
    Ok(Case {
        header,
        records,
        whole: whole as u64,
        torn: (bytes.len() - whole) as u64,
    })
}

/// Whether this could be the beginning of a header whose writing broke off.
fn is_torn_header(bytes: &[u8]) -> bool {
    const BEGINNING: &[u8] = b"{\"lineside-case\":";
    let length = bytes.len().min(BEGINNING.len());
    bytes[..length] == BEGINNING[..length]
}

fn header(line: &[u8], path: &Path) -> Result<Header, JournalError> {
    let not_a_case = || JournalError::NotACase {
        path: path.to_owned(),
    };
    let value: serde_json::Value = serde_json::from_slice(line).map_err(|_| not_a_case())?;
    // The schema comes first: the rest of a newer header may be of a form not known here.
    let schema = value
        .get("lineside-case")
        .and_then(serde_json::Value::as_u64)
        .ok_or_else(not_a_case)?;
    if schema > u64::from(SCHEMA) {
        return Err(JournalError::Newer {
            path: path.to_owned(),
            found: schema,
        });
    }
    serde_json::from_value(value).map_err(|error| JournalError::Damaged {
        path: path.to_owned(),
        line: 1,
        reason: error.to_string(),
    })
}
