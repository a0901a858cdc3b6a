//! One difference between two knowledges.

#![expect(missing_docs, reason = "what the names of the fields leave unsaid is added")]

use serde::Serialize;

/// A sort of entry.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Sort {
    Equipment,
    Accessory,
    Fact,
    Requirement,
    Hold,
    Effect,
    /// A state of an effect, as `effect/state`.
    State,
    Family,
    Cause,
    Test,
    /// An outcome, as `test/outcome`.
    Outcome,
    Tree,
    /// A node, as `tree/node`.
    Node,
}

/// One difference. Nothing stands for "not there".
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case", tag = "change")]
pub enum Change {
    /// Something there was not before.
    Added { sort: Sort, id: String },
    /// Something there is no more.
    Removed { sort: Sort, id: String },
    /// A way on leads elsewhere, or a node does something else.
    Route {
        tree: String,
        /// The node; the tree itself for its start.
        node: String,
        /// Which way: an outcome, `then`, `start`, `pool TEST`, or what the node does.
        way: String,
        /// Where it led.
        from: Option<String>,
        /// Where it leads.
        to: Option<String>,
    },
    /// A cause or a family brings other states of an effect, or an effect follows otherwise from another one.
    Shares {
        /// Whose: a cause, a family or an effect.
        sort: Sort,
        id: String,
        /// The effect; for what follows, the state it follows from as `effect/state`.
        of: String,
        /// The states that differ, with what they had.
        from: Option<String>,
        /// The same states, with what they have.
        to: Option<String>,
    },
    /// An outcome shows other states.
    Shows {
        test: String,
        outcome: String,
        effect: String,
        /// The states it showed.
        from: Option<String>,
        /// The states it shows.
        to: Option<String>,
    },
    /// An outcome finds a cause more or less often.
    Finds {
        test: String,
        outcome: String,
        cause: String,
        /// P(outcome | cause) as it was.
        from: Option<String>,
        to: Option<String>,
    },
    /// The usual share of an outcome is another.
    Usual {
        test: String,
        outcome: String,
        from: f64,
        to: f64,
    },
    /// The bound of an outcome is another.
    Bound {
        test: String,
        outcome: String,
        from: Option<String>,
        to: Option<String>,
    },
    /// Another of an entry's values decides when it counts, what it costs or how far it is proved: parts, state,
    /// minutes, how common a cause is, what looking its sources up showed, and so on.
    Setting {
        sort: Sort,
        id: String,
        key: &'static str,
        from: String,
        to: String,
    },
    /// Only what a person reads is other: name, question, steps, remedy, source and so on.
    Reworded { sort: Sort, id: String },
}
