//! From the bytes of a case file back to its events.

use std::path::Path;

use super::{Header, JournalError, Record, SCHEMA};

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
