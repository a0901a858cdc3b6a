//! The chain: every line carries a hash over itself and the line before, so that no line can be changed, dropped, added or
//! moved without the next one showing it.
//!
//! *Formula* link = SHA-256(previous link in 64 hexadecimal digits, nothing for the first line | the line's bytes up to,
//! not including, `,"chain":"`). What stands behind is always the link, `"}` and a line feed, so every byte of the file
//! is covered. In a case begun by an earlier program, whose lines have no links, the first link follows on the SHA-256
//! of all bytes before it.
//!
//! *Limits* A chain cannot know that lines were cut off at its end, nor that somebody computed it anew: for that the
//! head, the last link, is printed on the report of a closed case and can be compared with the file.
//!
//! *Source* SHA-256: FIPS 180-4, Secure Hash Standard, National Institute of Standards and Technology,
//! <https://doi.org/10.6028/NIST.FIPS.180-4>.

use std::fmt;

use sha2::{Digest, Sha256};

/// What stands between the hashed bytes of a line and its link.
const BEFORE: &[u8] = b",\"chain\":\"";

/// What ends a chained line.
const AFTER: &[u8] = b"\"}\n";

/// Hexadecimal digits of a link.
const DIGITS: usize = 64;

/// Digits of a link that are printed on paper: 64 bits, so that nobody meets the same ones twice by chance.
const PRINTED: usize = 16;

/// The hash a line carries. Shown, it is 64 hexadecimal digits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Link([u8; 32]);

impl Link {
    /// The link of a line after another one; `hashed` are its bytes before the link.
    pub(super) fn after(before: Option<Self>, hashed: &[u8]) -> Self {
        let mut hash = Sha256::new();
        if let Some(before) = before {
            hash.update(before.to_string().as_bytes());
        }
        hash.update(hashed);
        Self(hash.finalize().into())
    }

    /// Its first digits in groups of four, as printed on a report: `3fa9-12bc-77de-0a41`.
    #[must_use]
    pub fn printed(&self) -> String {
        let digits = self.to_string();
        let groups: Vec<&str> = (0..PRINTED).step_by(4).map(|at| &digits[at..at + 4]).collect();
        groups.join("-")
    }

    /// Whether these digits, copied from a report or written whole, are its beginning. Dashes, spaces and capitals make
    /// no difference; fewer than eight digits say nothing.
    #[must_use]
    pub fn begins_with(&self, digits: &str) -> bool {
        const FEWEST: usize = 8;
        let digits: String = digits
            .chars()
            .filter(|c| !c.is_whitespace() && *c != '-')
            .map(|c| c.to_ascii_lowercase())
            .collect();
        digits.len() >= FEWEST && self.to_string().starts_with(&digits)
    }

    fn parse(digits: &[u8]) -> Option<Self> {
        let mut bytes = [0; 32];
        for (byte, pair) in bytes.iter_mut().zip(digits.chunks_exact(2)) {
            let value = |digit: u8| match digit {
                b'0'..=b'9' => Some(digit - b'0'),
                b'a'..=b'f' => Some(digit - b'a' + 10),
                _ => None,
            };
            *byte = value(pair[0])? << 4 | value(pair[1])?;
        }
        Some(Self(bytes))
    }
}

impl fmt::Display for Link {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|byte| write!(f, "{byte:02x}"))
    }
}

/// Ends a line, given as a JSON object without its link, and gives back its link.
pub(super) fn close(object: &mut Vec<u8>, before: Option<Link>) -> Link {
    // The brace comes again behind the link.
    object.pop();
    let link = Link::after(before, object);
    object.extend_from_slice(BEFORE);
    object.extend_from_slice(link.to_string().as_bytes());
    object.extend_from_slice(AFTER);
    link
}

/// A line's hashed bytes and the link it carries; nothing when it carries none.
pub(super) fn open(line: &[u8]) -> Option<(&[u8], Link)> {
    let rest = line.strip_suffix(AFTER)?;
    let (rest, digits) = rest.split_at_checked(rest.len().checked_sub(DIGITS)?)?;
    Some((rest.strip_suffix(BEFORE)?, Link::parse(digits)?))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// FIPS 180-4's own example of one block, "abc", as published in the example values of NIST
    /// (<https://csrc.nist.gov/projects/cryptographic-standards-and-guidelines/example-values>).
    #[test]
    fn the_hash_is_the_published_one() {
        assert_eq!(
            Link::after(None, b"abc").to_string(),
            "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
        );
    }

    #[test]
    fn a_closed_line_opens_to_what_was_closed() {
        let mut line = b"{\"a\":1}".to_vec();
        let link = close(&mut line, None);
        assert_eq!(open(&line), Some((&b"{\"a\":1"[..], link)));
        assert_eq!(open(b"{\"a\":1}\n"), None);
        assert_eq!(open(b"\"}\n"), None);
    }

    #[test]
    fn a_head_is_known_by_what_is_printed_of_it() {
        let link = Link::after(None, b"abc");
        assert_eq!(link.printed(), "ba78-16bf-8f01-cfea");
        for digits in [
            "ba7816bf",
            "BA78 16BF 8F01 CFEA",
            &link.printed(),
            &link.to_string(),
        ] {
            assert!(link.begins_with(digits), "{digits}");
        }
        for digits in ["", "ba78-16b", "ba7816bf8f01cfeb"] {
            assert!(!link.begins_with(digits), "{digits}");
        }
    }
}
