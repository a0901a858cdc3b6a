//! Why a text is not the value asked for, and what would be.

use thiserror::Error;

use super::Kind;

/// Why a text is not the value asked for.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
#[allow(missing_docs, reason = "what a name leaves unsaid is added")]
pub enum ReadError {
    /// Nothing was typed.
    #[error("nothing was typed; expected {expected}")]
    Empty {
        /// What was wanted.
        expected: String,
    },
    /// No number at its start.
    #[error("`{text}` does not begin with a number; expected {expected}, such as `{example}`")]
    NoNumber {
        text: String,
        /// What was wanted.
        expected: String,
        /// A text that would have been taken.
        example: String,
    },
    /// The meter's sign for a reading off its range.
    #[error(
        "`{text}` is the meter's sign for off its range, not a number; choose a higher range and measure again. In ohms on the highest range type where it ends, such as 40 Mohm"
    )]
    OffRange { text: String },
    /// A number that can be read in two ways.
    #[error("`{text}` can be read in two ways; {fix}")]
    Ambiguous {
        text: String,
        /// How to write it clearly.
        fix: String,
    },
    /// The unit belongs to another kind of quantity.
    #[error("`{text}` is {found}, expected {expected}")]
    OtherKind {
        text: String,
        /// The kind it is, with its article.
        found: &'static str,
        /// What was wanted.
        expected: String,
    },
    /// No such unit.
    #[error("`{unit}` in `{text}` is not a unit of {kind}; expected {expected}")]
    UnknownUnit {
        text: String,
        /// The part taken for a unit.
        unit: String,
        /// The kind wanted.
        kind: &'static str,
        /// The units known.
        expected: String,
    },
    /// Below zero where that means nothing.
    #[error("`{text}` is below zero, which {kind} cannot be; leave the minus sign out")]
    Negative {
        text: String,
        /// The kind wanted, with its article.
        kind: &'static str,
    },
    /// Colder than anything can be.
    #[error("`{text}` is {value}, below absolute zero (-273.15 C, -459.67 F); check the figure and its unit")]
    BelowAbsoluteZero {
        text: String,
        /// As understood.
        value: String,
    },
    /// A sum of what cannot be added.
    #[error("`{text}` adds up temperatures, which gives no temperature; type the one that was read")]
    NoSum { text: String },
    /// Too large for a number.
    #[error("`{text}` is too large to be a number of anything")]
    NotFinite { text: String },
    /// A count that is not whole.
    #[error("`{text}` is not a whole number; expected a count such as `2`")]
    NotWhole { text: String },
    /// More than anyone would believe.
    #[error("`{value}` is above {limit}, the most that is believable here; check the figure and its unit")]
    Above {
        /// The value read.
        value: String,
        /// The most believed.
        limit: String,
    },
    /// Less than anyone would believe.
    #[error("`{value}` is below {limit}, the least that is believable here; check the figure and its unit")]
    Below {
        /// The value read.
        value: String,
        /// The least believed.
        limit: String,
    },
    /// Not a conductor size.
    #[error(
        "`{text}` is not a conductor size; expected a gauge such as `8` or `1/0`, or `250 kcmil`, or `10 mm2`"
    )]
    NotASize { text: String },
    /// A size the tables do not have.
    #[error("`{text}` is not a size of the conductor tables; the nearest are {nearest}")]
    NoSuchSize {
        text: String,
        /// The sizes on either side.
        nearest: String,
    },
    /// Not one of the choices.
    #[error("`{text}` is none of the choices; expected {choices}")]
    NoSuchChoice { text: String, choices: String },
    /// Several figures where one is asked.
    #[error(
        "`{text}` holds several figures and one is asked: give that of the circuit in question; what adds up is typed as a sum, such as `19.9+1.4`"
    )]
    Several { text: String },
    /// A reading that will not stand still.
    #[error(
        "`{text}` runs from one figure to another and one is asked: give the one the step asks for, else the one it shows most, and type the swing as a note"
    )]
    Swings { text: String },
    /// A load without a name or without a current.
    #[error("`{text}` is not a load; give a name and its amperes, such as `freezer 6 motor`")]
    NotALoad { text: String },
    /// A load in watts, which say nothing of its current without a voltage.
    #[error(
        "`{text}` gives power, and the current depends on the voltage; type amperes, which are watts divided by volts"
    )]
    LoadInWatts { text: String },
}

/// Says what was wanted, in the unit a bare number is in: `a voltage in V`.
pub(super) fn expected(kind: Kind, default_symbol: &str) -> String {
    match asked_in(kind, default_symbol) {
        "" => kind.with_article().to_owned(),
        symbol => format!("{} in {symbol}", kind.with_article()),
    }
}

/// The unit the question was asked in; where it named none, the one typed most.
fn asked_in(kind: Kind, default_symbol: &str) -> &str {
    if default_symbol == kind.base_symbol() {
        kind.usual_symbol()
    } else {
        default_symbol
    }
}

/// The kind without its article.
pub(super) fn noun(kind: Kind) -> &'static str {
    kind.with_article().split_once(' ').map_or("", |(_, noun)| noun)
}

/// Gives a text that would be taken, in the unit the question was asked in.
pub(super) fn example(kind: Kind, default_symbol: &str) -> String {
    let (usual, symbol) = (kind.example(), asked_in(kind, default_symbol));
    if symbol == kind.usual_symbol() || usual.ends_with(&format!(" {symbol}")) {
        usual.to_owned()
    } else {
        format!("12 {symbol}")
    }
}
