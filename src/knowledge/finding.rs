//! What is wrong with a file of the knowledge, and where.

use std::cell::RefCell;
use std::fmt;
use std::ops::Range;

use serde::Serialize;

macro_rules! codes {
    ($($name:ident = $text:literal, $means:literal;)+) => {
        /// The rule a finding comes from.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub enum Code {
            $(#[doc = concat!("`", $text, "`: ", $means, ".")] $name,)+
        }

        impl Code {
            /// Every code.
            pub const ALL: &[Self] = &[$(Self::$name,)+];

            /// The code as printed: kebab-case, stable.
            #[must_use]
            pub fn as_str(self) -> &'static str {
                match self { $(Self::$name => $text,)+ }
            }
        }
    };
}

codes! {
    // The files.
    NoFiles = "no-files", "the folder has no file to read";
    UnreadableFile = "unreadable-file", "a file that the system will not let us read";
    NotUtf8 = "not-utf-8", "a file that is not text in UTF-8";
    FileTooLarge = "file-too-large", "a file larger than any the format needs";
    MisplacedFile = "misplaced-file", "a file in a folder the format does not have";
    TomlSyntax = "toml-syntax", "text that is not TOML, a key written twice among it";
    // The values.
    UnknownKey = "unknown-key", "a key the format does not have there";
    MissingKey = "missing-key", "a key that must be written and is not";
    WrongType = "wrong-type", "a number where a text belongs, and the like";
    BadId = "bad-id", "an id that is not kebab-case";
    DuplicateId = "duplicate-id", "one id for two things of a kind, or a test twice in a pool";
    UnknownWord = "unknown-word", "a word that is none of the few that may stand there";
    BadFigure = "bad-figure", "a figure that cannot be read, has the wrong unit, or is out of range";
    // The ids.
    UnknownPart = "unknown-part", "a part no equipment has";
    UnknownFact = "unknown-fact", "a fact that is not defined";
    UnknownRequirement = "unknown-requirement", "a requirement that is not defined";
    UnknownHold = "unknown-hold", "a hold that is not defined";
    UnknownCause = "unknown-cause", "a cause that is not defined";
    UnknownEffect = "unknown-effect", "an effect that is not defined";
    UnknownState = "unknown-state", "a state the effect does not have";
    UnknownFamily = "unknown-family", "a family that is not defined";
    EffectCircle = "effect-circle", "an effect that follows from itself, or from two others";
    SilentAndSpeaking = "silent-and-speaking", "an outcome that says nothing and shows or finds something";
    UnknownTest = "unknown-test", "a test that is not defined";
    UnknownTree = "unknown-tree", "a route into a tree that does not exist";
    UnknownNode = "unknown-node", "a route to a node that does not exist";
    UnknownOutcome = "unknown-outcome", "a route for an outcome the test does not have";
    // The tests.
    UsualSum = "usual-sum", "shares of a test's outcomes that do not add up to 1";
    TooFewOutcomes = "too-few-outcomes", "a test with fewer than two outcomes";
    OpenOutcome = "open-outcome", "a reading with no outcome, or more than one, that takes the rest";
    HiddenBound = "hidden-bound", "an outcome never taken because others take all it would";
    BoundOutOfRange = "bound-out-of-range", "a bound no believed reading lies beyond";
    LabelAgainstBound = "label-against-bound", "a label that opens with another figure than its bound";
    NotTogether = "not-together", "outcomes said to be true together that show states, or without one that says none is";
    NotAtOnce = "not-at-once", "a look said to answer another one at once that cannot";
    ChanceSum = "chance-sum", "chances of one cause that cannot hold together";
    KindMismatch = "kind-mismatch", "volts where amperes belong, and the like";
    UnknownCalculation = "unknown-calculation", "a calculation that is not in the catalog";
    UnknownInput = "unknown-input", "an input the calculation does not take";
    MissingInput = "missing-input", "an input the calculation needs";
    UnknownVerdict = "unknown-verdict", "an outcome the calculation never reaches";
    MissingVerdict = "missing-verdict", "a verdict of the calculation without an outcome";
    UnknownOutput = "unknown-output", "a `{name}` that is no output of the calculation";
    UndeclaredDefect = "undeclared-defect", "a verdict that breaks a published limit without a `defect`";
    // The routes.
    NodeKind = "node-kind", "a node that does nothing, or two things";
    MissingRoute = "missing-route", "an outcome with no way on";
    DeadEnd = "dead-end", "a node with no way on, or a pool with no test";
    NotShared = "not-shared", "coming back from where nothing comes back";
    // The deeper rules.
    Cycle = "cycle", "a way that leads back to where it was";
    UnreachableNode = "unreachable-node", "a node no walk meets";
    UnusedTree = "unused-tree", "a shared tree no complaint leads into";
    EndsWithoutClose = "ends-without-close", "a complaint that can run into a `leave` with nowhere to come back to";
    NoCaution = "no-caution", "a test on live parts or stored energy without a word of caution";
    UnheldDanger = "unheld-danger", "a defect that says fire, shock or burst, with no hold and no reason why";
    EnergisedBeforeSafety = "energised-before-safety", "a test on live parts on a way without a safety look before it";
    HoldStopsItsProof = "hold-stops-its-proof", "a hold that keeps from being made what would clear one";
    EndsForTheWork = "ends-for-the-work", "a hold of the work alone that sends people out or calls somebody";
    UntrueState = "untrue-state", "a test whose words switch, start or light something its state says is off or only told";
    InseparableCauses = "inseparable-causes", "causes of which every test shows the same";
    UnreachableCause = "unreachable-cause", "a cause no test asked under a complaint it comes under can raise";
    UnusedTest = "unused-test", "a test no tree asks";
    UnusedFact = "unused-fact", "a fact no test uses";
    UnusedRequirement = "unused-requirement", "a requirement no cause and no complaint names";
    UnusedHold = "unused-hold", "a hold nothing raises";
    UnusedPart = "unused-part", "a part of some equipment that nothing asks about";
    TellsNothing = "tells-nothing", "a test that shows no effect, finds no cause, proves no defect and parts no ways";
    OneSided = "one-sided", "a test of which all outcomes but one say nothing";
    NoDirectFinding = "no-direct-finding", "a cause that no outcome finds";
    IdleFinding = "idle-finding", "an outcome that finds a cause no equipment shares with the test";
    IdleStatement = "idle-statement", "a share that says what follows anyway from family or usual";
    UnreadEffect = "unread-effect", "an effect no test shows anything of";
    UnshownState = "unshown-state", "a state of an effect that no outcome shows";
    IdleKey = "idle-key", "a key that can say nothing where it stands";
    UnlistedComplaint = "unlisted-complaint", "a complaint that is no state of the effect `complaint`, or the other way around";
    IdleChoice = "idle-choice", "a choice, an outcome or a complaint no equipment is offered";
    SpecialInstrument = "special-instrument", "a special instrument with no ordinary test beside it";
    NeverJudged = "never-judged", "a test that applies to equipment without what it is held against";
    NoSource = "no-source", "a claim without a source";
    ContradictedSource = "contradicted-source", "a source that was looked up and says otherwise than its claim";
    EmptyProse = "empty-prose", "words that must be there and are empty";
    PromptTooLong = "prompt-too-long", "a question beyond two lines of 60 columns";
    HardToRead = "hard-to-read", "a question with long sentences or long words, by [`readability`](crate::knowledge::readability)";
    TextTooWide = "text-too-wide", "a name or label that does not fit its line";
}

impl Code {
    /// A file, or the rest of one, could not be read, so that nothing is known of what stands in it.
    #[must_use]
    pub fn is_unread(self) -> bool {
        matches!(
            self,
            Self::UnreadableFile | Self::NotUtf8 | Self::FileTooLarge | Self::TomlSyntax
        )
    }

    /// An id that is not known, which may be because the file that defines it could not be read.
    #[must_use]
    pub fn may_follow_from_unread(self) -> bool {
        matches!(
            self,
            Self::UnknownPart
                | Self::UnknownFact
                | Self::UnknownRequirement
                | Self::UnknownHold
                | Self::UnknownCause
                | Self::UnknownTest
                | Self::UnknownEffect
                | Self::UnknownState
                | Self::UnknownFamily
                | Self::UnknownTree
                | Self::UnknownNode
                | Self::UnknownOutcome
        )
    }
}

impl fmt::Display for Code {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.as_str())
    }
}

/// How bad a finding is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Severity {
    /// The knowledge must not be used or released like this.
    Error,
    /// Worth a look; the knowledge works.
    Warning,
}

/// A stretch of one file.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Stretch {
    /// Place of the file in the list of files.
    pub file: usize,
    /// Bytes in it; empty when the finding is about the file as a whole.
    pub span: Range<usize>,
}

/// A place with what is to be said about it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Label {
    /// Pointed at in the text of the file.
    pub place: Stretch,
    /// What about it; may be empty.
    pub text: String,
}

/// One thing wrong.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// The rule.
    pub code: Code,
    /// How bad it is.
    pub severity: Severity,
    /// What is wrong: lowercase, no full stop, values in back-ticks.
    pub message: String,
    /// The fault.
    pub primary: Label,
    /// What it clashes with or belongs to.
    pub secondary: Vec<Label>,
    /// What to do about it.
    pub fix: String,
}

impl Finding {
    /// An error at a place, with what to do about it.
    #[must_use]
    pub fn error(code: Code, place: Stretch, message: impl Into<String>, fix: impl Into<String>) -> Self {
        Self {
            code,
            severity: Severity::Error,
            message: message.into(),
            primary: Label {
                place,
                text: String::new(),
            },
            secondary: Vec::new(),
            fix: fix.into(),
        }
    }

    /// A warning at a place, with what to do about it.
    #[must_use]
    pub fn warning(code: Code, place: Stretch, message: impl Into<String>, fix: impl Into<String>) -> Self {
        Self {
            severity: Severity::Warning,
            ..Self::error(code, place, message, fix)
        }
    }

    /// Points at a related place.
    #[must_use]
    pub fn also(mut self, place: Stretch, text: impl Into<String>) -> Self {
        self.secondary.push(Label {
            place,
            text: text.into(),
        });
        self
    }
}

/// Where findings go: whoever reads or checks holds it shared with all others.
#[derive(Debug, Default)]
pub(crate) struct Sink(RefCell<Vec<Finding>>);

impl Sink {
    pub(crate) fn push(&self, finding: Finding) {
        self.0.borrow_mut().push(finding);
    }

    pub(crate) fn error(
        &self,
        code: Code,
        place: Stretch,
        message: impl Into<String>,
        fix: impl Into<String>,
    ) {
        self.push(Finding::error(code, place, message, fix));
    }

    pub(crate) fn warning(
        &self,
        code: Code,
        place: Stretch,
        message: impl Into<String>,
        fix: impl Into<String>,
    ) {
        self.push(Finding::warning(code, place, message, fix));
    }

    /// What another sink has taken, behind what is here.
    pub(crate) fn append(&self, other: Self) {
        self.0.borrow_mut().append(&mut other.into_findings());
    }

    /// How many have come so far.
    pub(crate) fn count(&self) -> usize {
        self.0.borrow().len()
    }

    /// All that came, in order.
    pub(crate) fn into_findings(self) -> Vec<Finding> {
        self.0.into_inner()
    }
}

#[cfg(test)]
mod tests {
    use std::collections::HashSet;

    use super::Code;

    #[test]
    fn codes_are_unique_and_kebab_case() {
        let mut seen = HashSet::new();
        for code in Code::ALL {
            assert!(seen.insert(code.as_str()), "`{code}` stands twice");
            assert!(
                code.as_str()
                    .chars()
                    .all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-')
            );
        }
    }
}
