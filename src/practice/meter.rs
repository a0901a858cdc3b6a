//! Who knows the figures of an installation.

use crate::knowledge::model::{FactIndex, TestIndex};
use crate::quantity::{Quantity, Value};

/// Who knows the figures of the installation: readings and what stands on its plates.
///
/// The one place where a simulated installation can take over; until then `values.rs` samples them inside the sampled
/// outcomes.
pub trait Meter {
    /// What a meter reads at a test; nothing where there is no figure.
    fn reading(&self, test: TestIndex) -> Option<Quantity>;
    /// What a fact is; nothing where it is not to be found.
    fn fact(&self, fact: FactIndex) -> Option<&Value>;
}
