//! The lines of a case file.

use jiff::Timestamp;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::walk::Event;

/// Version of the form of the file. Rises when an older program could misread a newer file.
///
/// 1: lines without links. 2: every line is chained to the one before, and a case has visits, place, photographs, repair
/// and proof.
pub const SCHEMA: u32 = 2;

/// First line: what the file is.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Header {
    /// Version of the form; the key says what the file is.
    #[serde(rename = "lineside-case")]
    pub schema: u32,
    /// Version of the program that opened the case.
    pub program: String,
    /// Fingerprint of the knowledge the case was opened with.
    pub knowledge: String,
    /// Tells the case from every other; files of earlier programs have none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub id: Option<String>,
    /// When it was opened, RFC 3339.
    #[schemars(with = "String", extend("format" = "date-time"))]
    pub opened: Timestamp,
    /// It is a copy without place, unit, technician, notes, photographs and whatever else was written in free words.
    #[serde(default, skip_serializing_if = "is_false")]
    pub anonymous: bool,
    /// Nobody was there: `lineside invent` made it up.
    #[serde(default, skip_serializing_if = "is_false")]
    pub invented: bool,
    /// It was put together again from a damaged file; what was wrong with that.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mended: Option<String>,
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde wants a reference")]
fn is_false(value: &bool) -> bool {
    !value
}

impl Header {
    /// What is the same in every copy of a case and in no other case: its id, or, in the file of an earlier program,
    /// the moment of its opening, which stands there to the nanosecond, with program and knowledge.
    #[must_use]
    pub fn identity(&self) -> String {
        match &self.id {
            Some(id) => id.clone(),
            None => format!("{} {} {}", self.opened, self.program, self.knowledge),
        }
    }
}

/// Any further line: an event and its time.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Record {
    /// When it happened, RFC 3339.
    #[schemars(with = "String", extend("format" = "date-time"))]
    pub at: Timestamp,
    /// What happened.
    pub event: Event,
}
