//! The valid form of the knowledge: every id resolved, every number in range.
//!
//! Only the `validate` step of this room makes these values, so the rooms below need not check them again.

mod cause;
mod correction;
mod effect;
mod equipment;
mod index;
mod state;
mod test;
mod tree;

use serde::{Deserialize, Serialize};

use super::indexed::Indexed;

pub use cause::{Cause, Commonness, Frequency, Job, Place, Prevention};
pub use correction::{Defect, Hold, InputFrom, Requirement};
pub use effect::{COMPLAINT, Does, Effect, EffectState, Family, Follows, Shown};
pub use equipment::{Accessory, Equipment, Fact, FactChoice, Fit};
pub use index::{
    CauseIndex, EffectIndex, EquipmentIndex, FactIndex, FamilyIndex, HoldIndex, NodeIndex, OutcomeIndex,
    RequirementIndex, TestIndex, TreeIndex,
};
pub use state::{Hazard, State};
pub use test::{Bound, BoundOf, Outcome, Test, TestKind, bound_figure};
pub use tree::{At, Node, NodeKind, Tree};

/// Everything known, loaded and checked.
#[derive(Clone, Debug, Serialize, Deserialize)]
#[cfg_attr(test, derive(Default))]
pub struct Knowledge {
    /// Kinds of equipment.
    pub equipment: Indexed<EquipmentIndex, Equipment>,
    /// What can be fitted to them besides.
    pub accessories: Vec<Accessory>,
    /// Facts of an installation.
    pub facts: Indexed<FactIndex, Fact>,
    /// What a repair must come to, in figures.
    pub requirements: Indexed<RequirementIndex, Requirement>,
    /// What keeps steps from being taken until it is cleared.
    pub holds: Indexed<HoldIndex, Hold>,
    /// What can be found out about a fault.
    pub effects: Indexed<EffectIndex, Effect>,
    /// What is common to kinds of causes.
    pub families: Indexed<FamilyIndex, Family>,
    /// What can be wrong.
    pub causes: Indexed<CauseIndex, Cause>,
    /// Looks, readings, calculations.
    pub tests: Indexed<TestIndex, Test>,
    /// Trees: one per complaint, and shared ones.
    pub trees: Indexed<TreeIndex, Tree>,
    /// Hash of all files as read, so that a case can say which knowledge it was walked with.
    pub fingerprint: String,
}
