//! Copies of a case: chained anew, and without anything that tells whose it is.

use std::io;
use std::path::Path;

use crate::quantity::Value;
use crate::walk::{Event, Proof, Stood};

use super::chain::Link;
use super::{Case, Draft, Header, JournalError, Record, SCHEMA, replay};

/// The bytes of a case of these lines, each chained to the one before.
///
/// # Errors
/// When a line cannot be written as JSON.
pub fn chained(header: &Header, records: &[Record]) -> io::Result<Vec<u8>> {
    let mut draft = Draft::new(header)?;
    for record in records {
        draft.append(record)?;
    }
    Ok(draft.into_bytes())
}

/// The same case without place, unit, technician, notes, photographs and all else that somebody wrote in free words.
///
/// Its id stays, so that copies count once; it was drawn by chance and tells nothing. The head of the case itself does not
/// stand in it, nor that of a case before: who knows all other lines could try place names until the head comes out.
#[must_use]
pub fn anonymous(case: &Case) -> (Header, Vec<Record>) {
    let header = Header {
        schema: SCHEMA,
        anonymous: true,
        ..case.header.clone()
    };
    let records = case
        .records
        .iter()
        .filter_map(|record| {
            Some(Record {
                at: record.at,
                event: without_words(&record.event)?,
            })
        })
        .collect();
    (header, records)
}

/// The event without free words; nothing when nothing else is in it.
fn without_words(event: &Event) -> Option<Event> {
    // Every kind is named, so that a new one has to be thought about here.
    Some(match event.clone() {
        Event::Note { .. } | Event::Site { .. } | Event::Photograph { .. } => return None,
        Event::Visit {
            program,
            knowledge,
            learned,
            ..
        } => Event::Visit {
            technician: None,
            program,
            knowledge,
            learned,
        },
        Event::Callback { case, .. } => Event::Callback { case, head: None },
        Event::Repaired { .. } => Event::Repaired {
            text: String::new(),
            by: None,
        },
        Event::Proved {
            by: Proof::Recheck { .. },
        } => Event::Proved {
            by: Proof::Recheck {
                reading: String::new(),
            },
        },
        Event::Closed {
            cause,
            proved,
            standing,
            ..
        } => Event::Closed {
            cause,
            not_listed: None,
            proved,
            text: String::new(),
            standing: standing.into_iter().map(unworded).collect(),
        },
        Event::Fact { fact, value, .. } => Event::Fact {
            fact,
            value: value.map(unnamed),
            typed: String::new(),
        },
        Event::Answer {
            test,
            given,
            volunteered,
            ..
        } => Event::Answer {
            test,
            given,
            volunteered,
            typed: String::new(),
        },
        // It can name loads in the person's words.
        Event::Calculated { test, verdict, .. } => Event::Calculated {
            test,
            verdict,
            finding: String::new(),
        },
        event @ (Event::Complaint { .. }
        | Event::Equipment { .. }
        | Event::Accessories { .. }
        | Event::Offered { .. }
        | Event::Able { .. }
        | Event::Further
        | Event::Sizing
        | Event::Acknowledged { .. }
        | Event::Undone { .. }
        | Event::LeftStanding { .. }
        | Event::Stopped
        | Event::Finished
        | Event::Proved { .. }
        | Event::DefectFound { .. }
        | Event::Surprising { .. }
        | Event::Standing { .. }
        | Event::Concluded { .. }) => event,
    })
}

/// Loads by number instead of by name.
fn unnamed(value: Value) -> Value {
    match value {
        Value::Loads(mut loads) => {
            for (number, load) in loads.iter_mut().enumerate() {
                load.name = format!("load {}", number + 1);
            }
            Value::Loads(loads)
        }
        other => other,
    }
}

/// What can still be read of a damaged case.
#[derive(Debug)]
pub struct Mended {
    /// Its header, which says what was wrong.
    pub header: Header,
    /// The lines that can be read, whether or not they follow on each other.
    pub records: Vec<Record>,
    /// Lines that cannot be read, from 1.
    pub left_out: Vec<usize>,
}

/// Reads what can be read of a damaged case. That a line is as it was written is no longer looked at, and the header says
/// so.
///
/// # Errors
/// When nothing is damaged in it, or it is no case at all.
pub fn mended(bytes: &[u8], path: &Path) -> Result<Option<Mended>, JournalError> {
    let damage = match replay::read_sound(bytes, path) {
        Ok((_, None)) => return Ok(None),
        Ok((_, Some(damage))) => damage,
        // Its header does not follow from itself, but can perhaps be read.
        Err(damage @ JournalError::Changed { .. }) => damage,
        Err(error) => return Err(error),
    };
    let mut lines = bytes.split_inclusive(|byte| *byte == b'\n');
    let mut header = replay::header(lines.next().unwrap_or_default(), path)?;
    let (mut records, mut left_out) = (Vec::new(), Vec::new());
    for (number, line) in lines.enumerate() {
        match serde_json::from_slice(line) {
            Ok(record) => records.push(record),
            Err(_) => left_out.push(number + 2),
        }
    }
    header.schema = SCHEMA;
    header.mended = Some(match damage {
        JournalError::Damaged { line, .. } => format!("its line {line} could not be read"),
        JournalError::Changed { line, .. } => format!("its line {line} did not follow on the line before"),
        other => other.to_string(),
    });
    Ok(Some(Mended {
        header,
        records,
        left_out,
    }))
}

/// What stood at a closing, without the words of what cleared it: that something was said stays, since the proof hangs on it.
fn unworded(stood: Stood) -> Stood {
    Stood {
        cleared: stood.cleared.map(|_| String::new()),
        ..stood
    }
}

/// Where the digits of a head stand in a case.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Found {
    /// They are the head of the file as it is.
    Head,
    /// They were the head when this line was the last one.
    Earlier(usize),
    /// No line has them: the file was changed or cut since, or it is another case.
    Nowhere,
}

/// Looks for a head copied from a report.
#[must_use]
pub fn find_head(links: &[Option<Link>], digits: &str) -> Found {
    let place = links
        .iter()
        .rposition(|link| link.is_some_and(|link| link.begins_with(digits)));
    match place {
        Some(place) if place + 1 == links.len() => Found::Head,
        Some(place) => Found::Earlier(place + 1),
        None => Found::Nowhere,
    }
}
