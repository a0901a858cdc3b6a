//! What every claim of the knowledge rests on, sorted by kind of source.
//!
//! A claim is a cause, a test, a defect or an advice. It may name several sources and counts once, by the best of
//! them. One source that mixes kinds ("NEC 424.19, from memory") counts as the weaker: that is what it admits.

use serde::{Deserialize, Serialize};

use super::cited::{self, LookedUp, not_looked_up};
use super::model::Knowledge;
use crate::quantity::words;

words! {
    /// Kind of a source, the best first.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
    pub enum SourceKind {
        /// A standard, code or regulation with its section
        Standard = "standard" => "standard with its section",
        /// The maker's instructions, manual, nameplate or label
        Maker = "maker" => "maker's instructions",
        /// A publication or page with its address.
        Publication = "publication" => "publication with address",
        /// Arithmetic anybody can repeat.
        Arithmetic = "arithmetic" => "arithmetic",
        /// Something named that cannot be looked up
        Unplaced = "unplaced" => "named, no section or address",
        /// Common practice, no source.
        CommonPractice = "common-practice" => "common practice, no source",
        /// From memory.
        FromMemory = "from-memory" => "from memory",
    }
}

impl SourceKind {
    /// Sorts one source by its words.
    #[must_use]
    pub fn of(source: &str) -> Self {
        let text = source.to_lowercase();
        // What stands in brackets explains a source and what follows the address is its place; neither says what
        // it is.
        let name = text.split(['(', '<']).next().unwrap_or_default();
        let name = name.split("http").next().unwrap_or_default();
        if text.contains("from memory") {
            Self::FromMemory
        } else if text.contains("common practice") {
            Self::CommonPractice
        } else if text.starts_with("arithmetic") {
            Self::Arithmetic
        } else if is_standard(source) {
            Self::Standard
        } else if MAKER_WORDS.iter().any(|word| name.contains(word))
            && !REPORT_WORDS.iter().any(|word| name.contains(word))
        {
            Self::Maker
        } else if cited::has_address(source) {
            Self::Publication
        } else {
            Self::Unplaced
        }
    }
}

/// Bodies and books whose rules are cited by section; what begins with one and has a number is a standard.
const STANDARDS: &[&str] = &[
    "NEC", "NFPA", "ANSI", "UL", "IEEE", "NEMA", "NETA", "IEC", "ISO", "CSA", "OSHA", "CFR", "29 CFR",
    "AHRI", "ASHRAE", "ASTM", "IRC", "IMC", "IFGC", "EN", "ICEA", "SAE",
];

const MAKER_WORDS: &[&str] = &[
    "instructions",
    "instruction sheet",
    "manual",
    "bulletin",
    "handbook of the maker",
    "service handbook",
    "nameplate",
    "label",
    "data sheet",
    "maker's",
];

/// Somebody writes about a label, a manual or a standard: a publication, not the thing itself.
const REPORT_WORDS: &[&str] = &[
    "forum",
    "thread",
    "article",
    "blog",
    "magazine",
    "newsletter",
    "paper",
];

fn is_standard(source: &str) -> bool {
    let text = source.to_lowercase();
    let name = text.split("http").next().unwrap_or_default();
    if REPORT_WORDS.iter().any(|word| name.contains(word)) {
        return false;
    }
    STANDARDS.iter().any(|body| {
        source.strip_prefix(body).is_some_and(|rest| {
            rest.starts_with([' ', '/'])
                && rest
                    .split("http")
                    .next()
                    .unwrap_or_default()
                    .contains(char::is_numeric)
        })
    })
}

words! {
    /// What a claim is about.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
    pub enum ClaimOf {
        /// What can be wrong
        Cause = "cause",
        /// What an outcome says
        Test = "test",
        /// Limits broken and damage, with what they must become
        Defect = "defect",
        /// What keeps a trouble from coming back
        Advice = "advice",
    }
}

/// One source as written, with its kind.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Source<'k> {
    /// As written; for an advice without a rule, the words it stands for.
    pub text: &'k str,
    /// What kind of source the words name.
    pub kind: SourceKind,
    /// What looking it up showed.
    #[serde(rename = "looked-up")]
    pub looked_up: LookedUp,
}

/// One claim with its sources.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Claim<'k> {
    /// What it is about.
    pub of: ClaimOf,
    /// Where it stands: a cause, a test, or `test/outcome`.
    pub id: String,
    /// What it says, short.
    pub says: &'k str,
    /// Kind of its best source.
    pub kind: SourceKind,
    /// In the order they are written.
    pub sources: Vec<Source<'k>>,
}

impl Claim<'_> {
    /// Whether none of its sources has an address.
    #[must_use]
    pub fn has_no_address(&self) -> bool {
        self.sources.iter().all(|source| !cited::has_address(source.text))
    }
}

impl<'k> Claim<'k> {
    fn new(of: ClaimOf, id: String, says: &'k str, texts: impl Iterator<Item = (&'k str, LookedUp)>) -> Self {
        let sources: Vec<Source<'k>> = texts
            .map(|(text, looked_up)| Source {
                text,
                kind: SourceKind::of(text),
                looked_up,
            })
            .collect();
        Self {
            of,
            id,
            says,
            // Without any source at all, which the lint refuses, it has the worst.
            kind: sources
                .iter()
                .map(|source| source.kind)
                .min()
                .unwrap_or(SourceKind::FromMemory),
            sources,
        }
    }
}

fn as_cited(source: &cited::Source) -> (&str, LookedUp) {
    (&source.text, source.looked_up)
}

/// Every claim, causes first, in the order of the files.
#[must_use]
pub fn claims(knowledge: &Knowledge) -> Vec<Claim<'_>> {
    let mut claims = Vec::new();
    for cause in &knowledge.causes {
        let sources = cause.source.iter().map(as_cited);
        claims.push(Claim::new(ClaimOf::Cause, cause.id.clone(), &cause.name, sources));
    }
    for test in &knowledge.tests {
        let sources = test.source.iter().map(as_cited);
        claims.push(Claim::new(ClaimOf::Test, test.id.clone(), &test.name, sources));
    }
    for test in &knowledge.tests {
        for outcome in &test.outcomes {
            if let Some(defect) = &outcome.defect {
                claims.push(Claim::new(
                    ClaimOf::Defect,
                    format!("{}/{}", test.id, outcome.id),
                    &defect.name,
                    std::iter::once((defect.source.as_str(), not_looked_up(&defect.source))),
                ));
            }
        }
    }
    for cause in &knowledge.causes {
        for advice in &cause.prevent {
            // The format: an advice without a rule is good practice.
            let rule = advice.rule.as_deref().unwrap_or("common practice, no source");
            claims.push(Claim::new(
                ClaimOf::Advice,
                cause.id.clone(),
                &advice.text,
                std::iter::once((rule, not_looked_up(rule))),
            ));
        }
    }
    claims
}

#[cfg(test)]
mod tests {
    use super::SourceKind;

    #[test]
    fn sources_are_sorted_by_what_they_admit() {
        for (text, kind) in [
            ("NEC 110.14(D)", SourceKind::Standard),
            (
                "NEC 440.12(A), https://example.org/article_440.html",
                SourceKind::Standard,
            ),
            (
                "NETA MTS/ATS Table 100.18, as given in a page, https://example.org/",
                SourceKind::Standard,
            ),
            ("NEC 424.19 (125 %), from memory", SourceKind::FromMemory),
            (
                "ANSI C84.1, Range A; common practice, no source",
                SourceKind::CommonPractice,
            ),
            ("the unit's instructions", SourceKind::Maker),
            (
                "Air handler manual p.12 (two circuits), https://example.org/manual",
                SourceKind::Maker,
            ),
            (
                "A school's article (citing a bulletin), https://example.org/manuals/1",
                SourceKind::Publication,
            ),
            (
                "A forum quoting NEC 440.22, https://example.org/",
                SourceKind::Publication,
            ),
            (
                "A society's forum, a 50 A label with a 125 A breaker, https://example.org/",
                SourceKind::Publication,
            ),
            (
                "IEEE 1995 paper on inrush, https://example.org/",
                SourceKind::Publication,
            ),
            ("arithmetic (power over voltage)", SourceKind::Arithmetic),
            ("A book on motors", SourceKind::Unplaced),
            ("ENGINEERS' pocket book 1999", SourceKind::Unplaced),
            ("NEC", SourceKind::Unplaced),
        ] {
            assert_eq!(SourceKind::of(text), kind, "{text}");
        }
    }
}
