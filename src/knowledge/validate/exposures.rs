//! What causes and tests expose a person to.

use crate::knowledge::exposure::Exposure;
use crate::knowledge::fields::{Fields, word_of};
use crate::knowledge::finding::Finding;

use super::words;

/// The caution of a cause or a test with those of what it exposes to.
pub(super) fn with_caution(own: String, fields: &mut Fields<'_>, findings: &mut Vec<Finding>) -> String {
    let exposures: Vec<Exposure> = fields
        .texts("exposes", findings)
        .iter()
        .filter_map(|word| word_of("exposure", word, words::EXPOSURES, findings))
        .collect();
    Exposure::after(own, &exposures)
}
