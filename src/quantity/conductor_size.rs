//! Conductor sizes: American wire gauge and thousand circular mils.

use serde::{Deserialize, Serialize};

/// The size of one conductor.
///
/// Ordered from thin to thick, so that "smallest size that serves" is a minimum.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(into = "String", try_from = "String")]
pub enum ConductorSize {
    /// American wire gauge; `0` is 1/0, `-1` is 2/0, `-2` is 3/0, `-3` is 4/0.
    Awg(i8),
    /// Area in thousand circular mils, 250 and larger.
    Kcmil(u16),
}

impl From<ConductorSize> for String {
    fn from(size: ConductorSize) -> Self {
        size.to_string()
    }
}

impl TryFrom<String> for ConductorSize {
    type Error = super::ReadError;

    fn try_from(text: String) -> Result<Self, Self::Error> {
        Self::parse(&text)
    }
}
