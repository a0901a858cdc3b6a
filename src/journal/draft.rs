//! A case file in memory, for whoever writes one whole: chained and formed as the appended one.

use std::io;

use serde::Serialize;

use super::chain::{self, Link};
use super::{Header, Record};

/// The lines of a case that is not in a file yet.
#[derive(Clone, Debug)]
pub struct Draft {
    lines: Vec<u8>,
    head: Option<Link>,
}

impl Draft {
    /// Begins with the header.
    ///
    /// # Errors
    /// When it cannot be written as JSON.
    pub fn new(header: &Header) -> io::Result<Self> {
        let mut draft = Self {
            lines: Vec::new(),
            head: None,
        };
        draft.put(header)?;
        Ok(draft)
    }

    /// Adds a line.
    ///
    /// # Errors
    /// When it cannot be written as JSON.
    pub fn append(&mut self, record: &Record) -> io::Result<()> {
        self.put(record)
    }

    /// The link of the last line.
    #[must_use]
    pub fn head(&self) -> Option<Link> {
        self.head
    }

    /// The bytes of the file.
    #[must_use]
    pub fn into_bytes(self) -> Vec<u8> {
        self.lines
    }

    fn put(&mut self, object: &impl Serialize) -> io::Result<()> {
        let mut line = serde_json::to_vec(object).map_err(io::Error::from)?;
        self.head = Some(chain::close(&mut line, self.head));
        self.lines.append(&mut line);
        Ok(())
    }
}
