//! Why a circuit has no solution.

use thiserror::Error;

/// Why a circuit has no solution. Every variant names where.
#[derive(Clone, Debug, Error, PartialEq)]
#[expect(missing_docs, reason = "what a name leaves unsaid is added")]
pub enum SolveError {
    /// Nothing ties the node to the rest, or ideal sources around it contradict each other.
    #[error(
        "the circuit is singular at node `{node}`: nothing ties its voltage down, or two sources fight over it"
    )]
    Singular { node: String },
    /// The solution does not satisfy Kirchhoff's law of currents well enough.
    #[error(
        "the circuit is ill-conditioned at node `{node}`: {missing:.1e} of the current there is lost in rounding"
    )]
    IllConditioned {
        /// The one with the largest mismatch.
        node: String,
        /// Share of the current that is missing.
        missing: f64,
    },
    /// A load of constant power found no voltage at which it stands still.
    #[error(
        "load `{load}` at node `{node}` takes more than the circuit can give: no steady voltage in {rounds} rounds"
    )]
    NoSteadyLoad {
        load: String,
        /// Its first one.
        node: String,
        /// Rounds tried.
        rounds: usize,
    },
    /// An element with a value that has no meaning.
    #[error("element `{element}` at node `{node}` has no usable value")]
    BadValue {
        element: String,
        /// Its first one.
        node: String,
    },
}
