//! Telling a file from every other by its bytes.

use std::fmt::Write as _;

use sha2::{Digest, Sha256};

/// SHA-256 (FIPS 180-4) of some bytes, as 64 hexadecimal digits.
#[must_use]
pub fn sha256(bytes: &[u8]) -> String {
    Sha256::digest(bytes)
        .iter()
        .fold(String::new(), |mut text, byte| {
            // Writing into a string cannot fail.
            let _ = write!(text, "{byte:02x}");
            text
        })
}
