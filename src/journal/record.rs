//! The lines of a case file.

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use crate::walk::Event;

/// Version of the form of the file. Rises when an older program could misread a newer file.
pub const SCHEMA: u32 = 1;

/// First line: what the file is.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Header {
    /// Version of the form; the key says what the file is.
    #[serde(rename = "lineside-case")]
    pub schema: u32,
    /// Version of the program that opened the case.
    pub program: String,
    /// Fingerprint of the knowledge the case was opened with.
    pub knowledge: String,
    /// When it was opened, RFC 3339.
    pub opened: Timestamp,
}

/// Any further line: an event and its time.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Record {
    /// When it happened, RFC 3339.
    pub at: Timestamp,
    /// What happened.
    pub event: Event,
}
