//! What is asked when.

use serde::{Deserialize, Serialize};

use super::equipment::Fit;
use super::index::{HoldIndex, NodeIndex, OutcomeIndex, RequirementIndex, TestIndex, TreeIndex};
use crate::knowledge::indexed::Indexed;

/// A place in the graph: which tree and which node.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[allow(missing_docs, reason = "what a name leaves unsaid is added")]
pub struct At {
    pub tree: TreeIndex,
    pub node: NodeIndex,
}

/// What happens at a node.
#[derive(Clone, Debug, Serialize, Deserialize)]
#[allow(missing_docs, reason = "what a name leaves unsaid is added")]
pub enum NodeKind {
    /// Make a test and go where its outcome leads.
    Test {
        test: TestIndex,
        /// Where each outcome leads.
        to: Indexed<OutcomeIndex, At>,
        /// Where "could not check" and "cannot tell" lead.
        unknown: At,
        /// Where it leads when the test does not apply to the equipment.
        absent: At,
    },
    /// Let the engine pick tests from a pool until a stopping rule holds.
    Narrow {
        /// Never empty; no test twice.
        pool: Vec<TestIndex>,
        /// It holds every test that belongs to the complaint.
        all: bool,
        /// Where to go then.
        then: At,
    },
    /// Go through a shared tree and come back.
    Through {
        /// Start of the shared tree.
        start: At,
        /// Where to go after it.
        then: At,
    },
    /// End of a shared tree: back to where it was entered.
    Leave,
    /// Stop for safety.
    Halt {
        /// What to do now.
        advice: String,
        /// Whom to call.
        call: String,
    },
    /// The end: conclude.
    Close,
}

/// A node of a tree.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Node {
    /// Kebab-case id, unique in its tree.
    pub id: String,
    /// What happens there.
    pub kind: NodeKind,
}

/// The routing for one complaint, or a part shared by several.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Tree {
    /// Kebab-case id, the file's name.
    pub id: String,
    /// The complaint in a technician's words; nothing for a shared tree.
    pub complaint: Option<String>,
    /// Other words a person may say.
    pub words: Vec<String>,
    /// The equipment that can have this complaint.
    pub fit: Fit,
    /// Where it stands in the list of complaints: low comes first.
    pub rank: u32,
    /// What a repair after this complaint must come to, whatever the cause.
    pub requires: Vec<RequirementIndex>,
    /// The holds this complaint raises from the start.
    pub raises: Vec<HoldIndex>,
    /// Every step is asked, also one that would tell nothing of the cause: a list to go through, or an order that guards life.
    pub in_order: bool,
    /// In the order of the file.
    pub nodes: Indexed<NodeIndex, Node>,
    /// Where it begins.
    pub start: NodeIndex,
}
