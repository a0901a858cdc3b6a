//! From the bytes of a case file back to its events.

use std::fs::OpenOptions;
use std::path::Path;

use crate::files::{self, Links};
use crate::walk::{Event, UnknownId, Walk, standing};

use super::chain::{self, Link};
use super::{Header, JournalError, LARGEST, Record, SCHEMA, lock};

/// What a case file holds.
#[derive(Clone, Debug, PartialEq)]
pub struct Case {
    /// The first line.
    pub header: Header,
    /// Its events with their times, oldest first.
    pub records: Vec<Record>,
    /// The links of its lines, the header's first. Lines of an earlier program have none; they stand before all others.
    pub links: Vec<Option<Link>>,
    /// Bytes up to the end of the last whole line.
    pub whole: u64,
    /// Bytes after it: the torn last line of a run that was killed while it wrote. They are dropped.
    pub torn: u64,
}

impl Case {
    /// The head of its chain: the link of its last line.
    #[must_use]
    pub fn head(&self) -> Option<Link> {
        self.links.last().copied().flatten()
    }

    /// How many lines, from the first, an earlier program wrote without links.
    #[must_use]
    pub fn unchained(&self) -> usize {
        self.links.iter().take_while(|link| link.is_none()).count()
    }

    /// Whether it is closed: its last line says so.
    #[must_use]
    pub fn is_closed(&self) -> bool {
        matches!(self.records.last(), Some(record) if matches!(record.event, Event::Closed { .. }))
    }

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
        // Where a visit stands among the steps, `standing` keeps.
        let lasting = given().filter(|event| event.is_lasting() && !event.stays_among_steps());
        let end = given()
            .rfind(|event| !event.is_of_record())
            .filter(|event| event.is_end());
        walk.apply_all(standing(given()).into_iter().chain(lasting).chain(end))
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

/// A case file as far as it is sound, for whoever only looks.
#[derive(Debug)]
pub struct Sound {
    /// What it holds up to the first line that is damaged.
    pub case: Case,
    /// What is wrong with that line.
    pub damage: Option<JournalError>,
    /// The whole file as read, damage and torn line among it.
    pub bytes: Vec<u8>,
    /// Somebody is writing it now: a last line may be on its way.
    pub busy: bool,
}

/// Reads a case file as far as it is sound, also while somebody is writing it. A link is not followed.
///
/// # Errors
/// When it is no case file, comes from a newer program, has a damaged header, or cannot be read.
pub fn sound_file(path: &Path) -> Result<Sound, JournalError> {
    let (bytes, busy) = look(path)?;
    let (mut case, damage) = read_sound(&bytes, path)?;
    if busy {
        case.torn = 0;
    }
    Ok(Sound {
        case,
        damage,
        bytes,
        busy,
    })
}

/// The bytes of a case file, whatever stands in it.
///
/// # Errors
/// When it cannot be read, is no regular file or too large for a case.
pub fn bytes(path: &Path) -> Result<Vec<u8>, JournalError> {
    Ok(look(path)?.0)
}

/// The bytes of a case file, and whether somebody is writing it now.
fn look(path: &Path) -> Result<(Vec<u8>, bool), JournalError> {
    let mut file = files::open(path, OpenOptions::new().read(true), Links::Refuse)?;
    let busy = match lock::together(&file, path) {
        Ok(()) => false,
        Err(JournalError::InUse { .. }) => true,
        Err(error) => return Err(error),
    };
    Ok((files::read_within(&mut file, path, LARGEST)?, busy))
}

/// Reads the bytes of a case file. `path` is only for messages.
///
/// # Errors
/// When it is no case file, comes from a newer program, or is damaged anywhere but in its last line.
pub fn read(bytes: &[u8], path: &Path) -> Result<Case, JournalError> {
    let (case, damage) = read_sound(bytes, path)?;
    damage.map_or(Ok(case), Err)
}

/// Reads the bytes of a case file as far as they are sound, and says what is wrong with the line after.
///
/// # Errors
/// When it is no case file or comes from a newer program, or its header is damaged.
pub fn read_sound(bytes: &[u8], path: &Path) -> Result<(Case, Option<JournalError>), JournalError> {
    // What follows the last line feed was being written when the program ended; it never counted.
    let whole = bytes
        .iter()
        .rposition(|byte| *byte == b'\n')
        .map_or(0, |last| last + 1);
    let mut lines = bytes[..whole].split_inclusive(|byte| *byte == b'\n');
    let Some(first) = lines.next() else {
        let path = path.to_owned();
        return Err(if bytes.is_empty() || is_torn_header(bytes) {
            JournalError::NoHeader { path }
        } else {
            JournalError::NotACase { path }
        });
    };
    let header = header(first, path)?;
    let mut reader = Reader {
        bytes,
        path,
        chained: header.schema >= CHAINED,
        read: 0,
        links: Vec::new(),
    };
    reader.link(first)?;
    let mut records = Vec::new();
    let damage = lines.find_map(|line| match reader.record(line) {
        Ok(record) => {
            records.push(record);
            None
        }
        Err(error) => Some(error),
    });
    let case = Case {
        header,
        records,
        links: reader.links,
        whole: reader.read as u64,
        torn: (bytes.len() - whole) as u64,
    };
    Ok((case, damage))
}

/// The schema from which every line has a link.
const CHAINED: u32 = 2;

/// Reads line after line and follows the chain.
struct Reader<'b> {
    bytes: &'b [u8],
    path: &'b Path,
    /// Every line must have a link.
    chained: bool,
    /// Bytes of the lines read.
    read: usize,
    links: Vec<Option<Link>>,
}

impl Reader<'_> {
    fn record(&mut self, line: &[u8]) -> Result<Record, JournalError> {
        let number = self.links.len() + 1;
        // What cannot be read tells more than that it is not what was written.
        let record = serde_json::from_slice(line).map_err(|error| JournalError::Damaged {
            path: self.path.to_owned(),
            line: number,
            reason: error.to_string(),
        })?;
        self.link(line)?;
        Ok(record)
    }

    /// Takes in a line when it follows on the one before.
    fn link(&mut self, line: &[u8]) -> Result<(), JournalError> {
        let before = self.links.last().copied();
        let link = match (chain::open(line), before) {
            // A case begun by an earlier program: its lines have no links up to the first that a later one wrote.
            (None, None | Some(None)) if !self.chained => None,
            // The header of an earlier program had none.
            (Some((hashed, link)), None) if self.chained => Some((link, Link::after(None, hashed))),
            (Some((hashed, link)), Some(before)) => {
                let before = before.unwrap_or_else(|| Link::after(None, &self.bytes[..self.read]));
                Some((link, Link::after(Some(before), hashed)))
            }
            _ => return Err(self.changed()),
        };
        if link.is_some_and(|(carried, worked_out)| carried != worked_out) {
            return Err(self.changed());
        }
        self.read += line.len();
        self.links.push(link.map(|(carried, _)| carried));
        Ok(())
    }

    fn changed(&self) -> JournalError {
        JournalError::Changed {
            path: self.path.to_owned(),
            line: self.links.len() + 1,
        }
    }
}

/// Whether this could be the beginning of a header whose writing broke off.
fn is_torn_header(bytes: &[u8]) -> bool {
    const BEGINNING: &[u8] = b"{\"lineside-case\":";
    let length = bytes.len().min(BEGINNING.len());
    bytes[..length] == BEGINNING[..length]
}

pub(super) fn header(line: &[u8], path: &Path) -> Result<Header, JournalError> {
    let not_a_case = || JournalError::NotACase {
        path: path.to_owned(),
    };
    let value: serde_json::Value = serde_json::from_slice(line).map_err(|_| not_a_case())?;
    // The schema comes first: the rest of a newer header may be of a form not known here.
    let schema = value
        .get("lineside-case")
        .and_then(serde_json::Value::as_u64)
        .ok_or_else(not_a_case)?;
    if schema == 0 {
        return Err(not_a_case());
    }
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
