//! Code sections that the knowledge names, as they stand in the edition in force.
//!
//! The knowledge names sections as the newest edition checked numbers them (`NEC 422.12, 210.23(B)`); the map of the
//! rules says what they are called in another edition, and what was not checked for it.

use crate::quantity::Word;

use super::rule::{Edition, RULES, Rule};

/// The edition where none is given: a newer one is in force in few places yet.
const USUAL: Edition = Edition::E2023;

/// What a text of the knowledge that names the code begins with.
const CODE: &str = "NEC ";

/// Words a list of code sections for an edition; a text that names no code stays as it is.
///
/// *Arguments* `edition` in force; not given, it is 2023, for which nearly every rule was established.
/// *Returns* for example `NEC 2020 422.12, 210.23(A)`; sections that were not checked for the edition say so.
#[must_use]
pub fn in_edition(text: &str, edition: Option<Edition>) -> String {
    let Some(list) = text.strip_prefix(CODE) else {
        return text.to_owned();
    };
    let named: Vec<(&str, Option<&Rule>)> = list
        .split(", ")
        .map(|section| (section, rule_of(section)))
        .collect();
    let edition = edition.unwrap_or(USUAL);
    let mut established: Vec<String> = Vec::new();
    let mut others: Vec<String> = Vec::new();
    let mut remarks: Vec<&str> = Vec::new();
    for (section, rule) in named {
        let Some(rule) = rule else {
            others.push(format!("{CODE}{section}, edition not checked"));
            continue;
        };
        if rule.since.is_some_and(|since| edition < since) {
            let since = rule.since.unwrap_or(edition);
            others.push(format!(
                "{CODE}{section}, which {edition} does not have: it is new in {since}"
            ));
            continue;
        }
        if rule.editions.contains(&edition) {
            let there = rule.section_in(section, edition);
            if !established.contains(&there) {
                established.push(there);
            }
        } else {
            let newest = rule.editions.iter().max().copied().unwrap_or(Edition::E2023);
            let there = rule.section_in(section, newest);
            others.push(format!("{CODE}{there} as of {newest}, not checked for {edition}"));
        }
        if let Some(remark) = rule.says.get(edition.word()) {
            remarks.push(remark);
        }
        if rule.checked == "from memory" && !remarks.contains(&MEMORY) {
            remarks.push(MEMORY);
        }
    }
    let mut parts = Vec::new();
    if !established.is_empty() {
        parts.push(format!("{CODE}{edition} {}", established.join(", ")));
    }
    parts.append(&mut others);
    parts.extend(remarks.into_iter().map(str::to_owned));
    parts.join("; ")
}

/// Words the sections a source begins with as they stand in an edition, and leaves the rest of it.
///
/// *Returns* the text as it is where it names no code first, or a section the map does not have.
#[must_use]
pub fn source_in_edition(text: &str, edition: Option<Edition>) -> String {
    let is_section = |part: &str| part.starts_with(|first: char| first.is_ascii_digit());
    let Some(list) = text.strip_prefix(CODE) else {
        return text.to_owned();
    };
    // Sections end at a semicolon, or at the first part that is none.
    let mut end = CODE.len();
    let mut at = CODE.len();
    for part in list.split(';').next().unwrap_or(list).split(", ") {
        if !is_section(part) {
            break;
        }
        end = at + part.len();
        at = end + ", ".len();
    }
    let (sections, rest) = text.split_at(end);
    if sections.len() <= CODE.len() || !unknown_sections(sections).is_empty() {
        return text.to_owned();
    }
    let cited = in_edition(sections, edition);
    // The source says for itself that it is from memory.
    let cited = if rest.contains(MEMORY) {
        cited.replace(&format!("; {MEMORY}"), "")
    } else {
        cited
    };
    format!("{cited}{rest}")
}

/// Said of a rule that no source was looked up for.
const MEMORY: &str = "from memory";

/// Says which sections named in a text the map does not have.
#[must_use]
pub fn unknown_sections(text: &str) -> Vec<String> {
    text.strip_prefix(CODE)
        .into_iter()
        .flat_map(|list| list.split(", "))
        .filter(|section| rule_of(section).is_none())
        .map(str::to_owned)
        .collect()
}

/// The rule a section belongs to: by its own number, else by a subsection of it.
fn rule_of(section: &str) -> Option<&'static Rule> {
    let named = |rule: &Rule, fits: &dyn Fn(&str) -> bool| rule.section.split(", ").any(fits);
    let below = format!("{section}(");
    RULES
        .rule
        .iter()
        .find(|rule| named(rule, &|own| own == section))
        .or_else(|| {
            RULES
                .rule
                .iter()
                .find(|rule| named(rule, &|own| own.starts_with(&below)))
        })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sections_are_those_of_the_edition() {
        let cited = |text, edition| in_edition(text, Some(edition));
        // 210.23(A) became (B) in 2023 (electricallicenserenewal.com, NEC content 1432); Article 220 became 120 in
        // 2026 (1841); 424.3(B) became 424.4(B) in 2020 (codebookcity.com, article 424).
        assert_eq!(cited("NEC 210.23(B)", Edition::E2020), "NEC 2020 210.23(A)");
        assert_eq!(cited("NEC 210.23(B)", Edition::E2023), "NEC 2023 210.23(B)");
        assert_eq!(cited("NEC 424.4(B)", Edition::E2017), "NEC 2017 424.3(B)");
        assert!(cited("NEC 120 Part III", Edition::E2023).starts_with("NEC 2023 220 Part III"));
        assert!(cited("NEC 120 Part III", Edition::E2026).starts_with("NEC 2026 120 Part III"));
        assert_eq!(
            cited("NEC 424.4(B)", Edition::E2026),
            "NEC 424.4(B) as of 2023, not checked for 2026"
        );
        assert_eq!(
            cited("NEC 422.12, 210.23(B)", Edition::E2020),
            "NEC 2020 422.12, 210.23(A)"
        );
    }

    #[test]
    fn what_an_edition_does_not_have_is_said() {
        assert_eq!(
            in_edition("NEC 110.14(D)", Some(Edition::E2014)),
            "NEC 110.14(D), which 2014 does not have: it is new in 2017"
        );
        assert!(in_edition("NEC 210.8(F)", Some(Edition::E2017)).contains("new in 2020"));
        let newest = in_edition("NEC 210.8(F)", Some(Edition::E2026));
        assert!(
            newest.starts_with("NEC 2026 210.8(F); ") && newest.contains("60 A"),
            "{newest}"
        );
        assert!(in_edition("NEC 210.8(F)", Some(Edition::E2023)).contains("September 1, 2026"));
        // Limited-energy circuits stand in Articles 720 to 723 in 2026 (lowvoltagenation.com, articles 721-723).
        let control = in_edition("NEC 725.136", Some(Edition::E2026));
        assert!(
            control.contains("not checked for 2026") && control.contains("720 to 723"),
            "{control}"
        );
    }

    #[test]
    fn the_sections_a_source_begins_with_follow_the_edition() {
        let cited = |text| source_in_edition(text, Some(Edition::E2017));
        assert_eq!(cited("NEC 110.3(B), 424.4(B)"), "NEC 2017 110.3(B), 424.3(B)");
        assert_eq!(
            cited("NEC 110.14(D), https://example.org/page"),
            "NEC 2017 110.14(D), https://example.org/page"
        );
        assert_eq!(
            cited("NEC 210.63(A), from memory; local"),
            "NEC 2017 210.63, from memory; local"
        );
        assert_eq!(cited("NEC 210.8, from memory"), "NEC 2017 210.8, from memory");
        assert_eq!(
            cited("NEC 440.4(B), 440.22; for electric heat 424.4(B)"),
            "NEC 2017 440.4(B), 440.22; for electric heat 424.4(B)"
        );
        for kept in [
            "NEC 999.9, from memory",
            "NETA MTS Table 100.18",
            "common practice, no source",
        ] {
            assert_eq!(cited(kept), kept);
        }
    }

    #[test]
    fn what_names_no_code_stays_and_what_is_unknown_is_said() {
        assert_eq!(in_edition("nameplate of the unit", None), "nameplate of the unit");
        assert_eq!(
            in_edition("NEC 999.9", Some(Edition::E2023)),
            "NEC 999.9, edition not checked"
        );
        assert_eq!(in_edition("NEC 110.14(D)", None), "NEC 2023 110.14(D)");
        assert_eq!(unknown_sections("NEC 999.9, 422.12"), ["999.9"]);
    }
}
