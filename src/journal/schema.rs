//! The form of a case file as JSON Schema, made from the types that read and write it.

use schemars::{JsonSchema, Schema, schema_for};
use serde::Serialize;

use super::{Header, Record};

/// One line of a case file. The first is the header; every further line is an event and its time.
#[derive(Serialize, JsonSchema)]
#[serde(untagged)]
#[schemars(title = "One line of a lineside case file")]
#[expect(dead_code, reason = "it is there for its form")]
enum Line {
    /// The first line: what the file is.
    Header(Chained<Header>),
    /// Any further line.
    Record(Chained<Record>),
}

/// A line with its link.
#[derive(Serialize, JsonSchema)]
#[schemars(rename = "{T}Line")]
struct Chained<T> {
    #[serde(flatten)]
    line: T,
    /// SHA-256 of the chain of the line before (64 digits; nothing for the first line) followed by this line's bytes up to
    /// `,"chain":"`. It is the last member of every line; lines of schema 1 have none.
    #[schemars(extend("pattern" = "^[0-9a-f]{64}$"))]
    chain: Option<String>,
}

/// JSON Schema (draft 2020-12) of one line of a case file.
#[must_use]
pub fn schema() -> Schema {
    schema_for!(Line)
}
