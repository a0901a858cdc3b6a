//! What is wrong with a file of the knowledge, and where.

use std::cell::RefCell;
use std::fmt;
use std::ops::Range;

use serde::Serialize;

macro_rules! codes {
    ($($name:ident $text:literal),+ $(,)?) => {
        /// The rule a finding comes from. The table in [`crate::knowledge::lint`] says what each means.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub enum Code {
            $(#[doc = concat!("`", $text, "`")] $name,)+
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
    NoFiles "no-files",
    UnreadableFile "unreadable-file",
    NotUtf8 "not-utf-8",
    FileTooLarge "file-too-large",
    MisplacedFile "misplaced-file",
    TomlSyntax "toml-syntax",
    // The values.
    UnknownKey "unknown-key",
    MissingKey "missing-key",
    WrongType "wrong-type",
    BadId "bad-id",
    DuplicateId "duplicate-id",
    UnknownWord "unknown-word",
    BadFigure "bad-figure",
    // The ids.
    UnknownPart "unknown-part",
    UnknownFact "unknown-fact",
    UnknownRequirement "unknown-requirement",
    UnknownHold "unknown-hold",
    UnknownCause "unknown-cause",
    UnknownEffect "unknown-effect",
    UnknownState "unknown-state",
    UnknownFamily "unknown-family",
    EffectCircle "effect-circle",
    SilentAndSpeaking "silent-and-speaking",
    UnknownTest "unknown-test",
    UnknownTree "unknown-tree",
    UnknownNode "unknown-node",
    UnknownOutcome "unknown-outcome",
    // The tests.
    UsualSum "usual-sum",
    TooFewOutcomes "too-few-outcomes",
    OpenOutcome "open-outcome",
    HiddenBound "hidden-bound",
    BoundOutOfRange "bound-out-of-range",
    LabelAgainstBound "label-against-bound",
    ChanceSum "chance-sum",
    KindMismatch "kind-mismatch",
    UnknownCalculation "unknown-calculation",
    UnknownInput "unknown-input",
    MissingInput "missing-input",
    UnknownVerdict "unknown-verdict",
    MissingVerdict "missing-verdict",
    UnknownOutput "unknown-output",
    UndeclaredDefect "undeclared-defect",
    // The routes.
    NodeKind "node-kind",
    MissingRoute "missing-route",
    DeadEnd "dead-end",
    NotShared "not-shared",
    // The deeper rules.
    Cycle "cycle",
    UnreachableNode "unreachable-node",
    UnusedTree "unused-tree",
    EndsWithoutClose "ends-without-close",
    NoCaution "no-caution",
    EnergisedBeforeSafety "energised-before-safety",
    HoldStopsItsProof "hold-stops-its-proof",
    UntrueState "untrue-state",
    InseparableCauses "inseparable-causes",
    UnreachableCause "unreachable-cause",
    UnusedTest "unused-test",
    UnusedFact "unused-fact",
    UnusedRequirement "unused-requirement",
    UnusedHold "unused-hold",
    UnusedPart "unused-part",
    TellsNothing "tells-nothing",
    OneSided "one-sided",
    NoDirectFinding "no-direct-finding",
    IdleFinding "idle-finding",
    IdleStatement "idle-statement",
    UnreadEffect "unread-effect",
    UnshownState "unshown-state",
    UnlistedComplaint "unlisted-complaint",
    IdleChoice "idle-choice",
    SpecialInstrument "special-instrument",
    NeverJudged "never-judged",
    NoSource "no-source",
    ContradictedSource "contradicted-source",
    EmptyProse "empty-prose",
    PromptTooLong "prompt-too-long",
    HardToRead "hard-to-read",
    TextTooWide "text-too-wide",
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
    /// Where.
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

    /// Says something beside the underlined fault.
    #[must_use]
    pub fn label(mut self, text: impl Into<String>) -> Self {
        self.primary.text = text.into();
        self
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
