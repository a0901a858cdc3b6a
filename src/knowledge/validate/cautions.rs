//! What causes and tests expose a person to.

use crate::knowledge::exposure::Exposure;
use crate::knowledge::fields::{Fields, Key};

/// The caution of a cause or a test with those of what it exposes to.
pub(super) fn with_exposures(own: String, fields: &mut Fields<'_>, exposes: Key) -> String {
    Exposure::after(own, &fields.words(exposes, "exposure"))
}
