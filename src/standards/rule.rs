//! Code rules by id and edition, so that a citation names the section of the edition in force.

use std::collections::BTreeMap;
use std::fmt;
use std::sync::LazyLock;

use serde::{Deserialize, Serialize};

use super::table::read;
use crate::quantity::{Word, words};

words! {
    /// An edition of the National Electrical Code (NFPA 70).
    #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
    pub enum Edition {
        /// 2014.
        E2014 = "2014",
        /// 2017.
        E2017 = "2017",
        /// 2020.
        E2020 = "2020",
        /// 2023.
        E2023 = "2023",
        /// 2026.
        E2026 = "2026",
    }
}

impl Edition {
    /// Returns the newest edition for which every one of these rules was checked against a source.
    ///
    /// The newest for which they were established at all, when some rest on memory alone.
    #[must_use]
    pub fn newest_checked(rules: &[&str]) -> Self {
        Self::ALL
            .iter()
            .copied()
            .rev()
            .find(|edition| {
                rules
                    .iter()
                    .all(|id| find(id).is_none_or(|rule| rule.editions.contains(edition)))
            })
            .unwrap_or(Self::E2023)
    }
}

impl fmt::Display for Edition {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}

/// One rule.
#[derive(Clone, Debug, Deserialize)]
pub struct Rule {
    /// Kebab-case id.
    pub id: String,
    /// Section as numbered in the newest edition checked.
    pub section: String,
    /// What it is about.
    pub title: String,
    /// Editions it was established for.
    pub editions: Vec<Edition>,
    /// Sections of older editions, by year.
    #[serde(default)]
    pub older: BTreeMap<String, String>,
    /// The first edition that has it, where older ones do not.
    #[serde(default)]
    pub since: Option<Edition>,
    /// What to know of an edition, by year, in a few words.
    #[serde(default)]
    pub says: BTreeMap<String, String>,
    /// Titles and addresses.
    #[serde(default)]
    pub source: Vec<String>,
    /// `two sources`, `one source` or `from memory`.
    pub checked: String,
    /// What to mind.
    #[serde(default)]
    pub note: String,
}

/// `rules.toml`.
#[derive(Clone, Debug, Deserialize)]
pub struct Rules {
    /// The rules.
    pub rule: Vec<Rule>,
}

/// Code rules.
pub static RULES: LazyLock<Rules> = LazyLock::new(|| read(include_str!("tables/rules.toml"), "rules.toml"));

/// Finds a rule by id.
#[must_use]
pub fn find(id: &str) -> Option<&'static Rule> {
    RULES.rule.iter().find(|rule| rule.id == id)
}

impl Rule {
    /// Returns what one of its sections, as the newest edition numbers it, is called in an edition.
    #[must_use]
    pub fn section_in(&self, section: &str, edition: Edition) -> String {
        let at = self.section.split(", ").position(|own| own == section);
        match (self.older.get(edition.word()), at) {
            // The older list names the same sections in the same order; what it lacks stood with the last.
            (Some(older), Some(at)) => {
                let all: Vec<&str> = older.split(", ").collect();
                all.get(at)
                    .or(all.last())
                    .map_or_else(|| section.to_owned(), |one| (*one).to_owned())
            }
            _ => section.to_owned(),
        }
    }

    /// Names the rule in an edition: `NEC 2023 440.4(B)`, or with a warning when it was not checked for it.
    #[must_use]
    pub fn cite(&self, edition: Edition) -> String {
        if self.editions.is_empty() {
            return self.section.clone();
        }
        let section = self.older.get(edition.word()).unwrap_or(&self.section);
        if self.editions.contains(&edition) {
            format!("NEC {edition} {section}")
        } else {
            let newest = self.editions.iter().max().copied().unwrap_or(Edition::E2023);
            format!("NEC {section} as of {newest}, not checked for {edition}")
        }
    }

    /// Cites the rule for the list of sources.
    #[must_use]
    pub fn citation(&self, edition: Edition) -> String {
        let pages = if self.source.is_empty() {
            String::new()
        } else {
            format!("; {}", self.source.join("; "))
        };
        format!(
            "{}: {} (checked: {}{pages})",
            self.cite(edition),
            self.title,
            self.checked
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_rule_is_cited_in_the_edition_asked_for() {
        let rule = find("electric-heat-125").unwrap();
        assert_eq!(rule.cite(Edition::E2023), "NEC 2023 424.4(B)");
        assert_eq!(rule.cite(Edition::E2017), "NEC 2017 424.3(B)");
        assert_eq!(
            rule.cite(Edition::E2026),
            "NEC 424.4(B) as of 2023, not checked for 2026"
        );
    }

    #[test]
    fn the_default_edition_is_the_newest_that_all_rules_were_established_for() {
        assert_eq!(Edition::newest_checked(&["nameplate-mca-mop"]), Edition::E2023);
        assert_eq!(Edition::newest_checked(&["furnace-own-circuit"]), Edition::E2026);
        assert_eq!(
            Edition::newest_checked(&["furnace-own-circuit", "nameplate-mca-mop"]),
            Edition::E2023
        );
        assert_eq!(Edition::newest_checked(&[]), Edition::E2026);
    }

    #[test]
    fn ids_are_unique_and_every_rule_says_how_it_was_checked() {
        let mut ids: Vec<_> = RULES.rule.iter().map(|rule| &rule.id).collect();
        ids.sort_unstable();
        let count = ids.len();
        ids.dedup();
        assert_eq!(ids.len(), count);
        for rule in &RULES.rule {
            assert!(
                ["two sources", "one source", "from memory"].contains(&rule.checked.as_str()),
                "{}",
                rule.id
            );
            assert!(
                rule.checked != "two sources" || rule.source.len() >= 2,
                "{} names too few sources",
                rule.id
            );
        }
    }
}
