//! The page of the whole knowledge: all of it is there, every link leads somewhere, and nothing comes from outside.

#![expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use std::collections::{BTreeMap, BTreeSet};

use lineside::drawing::page;
use lineside::knowledge::cited::Source;
use lineside::knowledge::embedded;
use lineside::knowledge::model::{Knowledge, NodeKind, Sign, Strength};
use roxmltree::{Document, ParsingOptions};

/// Bytes of the page for each sign of a test on a cause, which most of the page tells twice over, and for all else
/// together. A page that says everything three times goes over it.
const MOST_BYTES_FOR_A_SIGN: usize = 160;
const MOST_BYTES_BESIDES: usize = 2_500_000;

fn parse(page: &str) -> Document<'_> {
    let options = ParsingOptions {
        allow_dtd: true,
        ..ParsingOptions::default()
    };
    Document::parse_with_options(page, options).unwrap()
}

fn ids<'a>(document: &'a Document<'a>) -> Vec<&'a str> {
    document
        .descendants()
        .filter_map(|element| element.attribute("id"))
        .collect()
}

fn entries(knowledge: &Knowledge) -> Vec<String> {
    let mut entries: Vec<String> = Vec::new();
    entries.extend(knowledge.causes.iter().map(|one| format!("cause-{}", one.id)));
    entries.extend(knowledge.tests.iter().map(|one| format!("test-{}", one.id)));
    entries.extend(knowledge.facts.iter().map(|one| format!("fact-{}", one.id)));
    entries.extend(
        knowledge
            .equipment
            .iter()
            .map(|one| format!("equipment-{}", one.id)),
    );
    entries.extend(
        knowledge
            .requirements
            .iter()
            .map(|one| format!("requirement-{}", one.id)),
    );
    entries.extend(
        knowledge
            .accessories
            .iter()
            .map(|one| format!("accessory-{}", one.id)),
    );
    for tree in &knowledge.trees {
        entries.push(format!("tree-{}", tree.id));
        for node in &tree.nodes {
            entries.push(format!("step-{}.{}", tree.id, node.id));
            entries.push(format!("box-{}.{}", tree.id, node.id));
        }
    }
    entries
}

#[test]
fn everything_known_has_its_entry_and_every_id_is_there_once() {
    let knowledge = embedded().unwrap();
    let page = page::write(&knowledge).unwrap();
    let document = parse(&page);
    let all = ids(&document);
    let once: BTreeSet<&str> = all.iter().copied().collect();
    assert_eq!(all.len(), once.len(), "an id is given twice");
    for entry in entries(&knowledge) {
        assert!(once.contains(entry.as_str()), "no {entry}");
    }
}

#[test]
fn every_link_leads_to_something_on_the_page() {
    let knowledge = embedded().unwrap();
    let page = page::write(&knowledge).unwrap();
    let document = parse(&page);
    let ids: BTreeSet<&str> = ids(&document).into_iter().collect();
    let mut number = 0;
    for element in document.descendants() {
        for attribute in ["href", "for", "aria-labelledby"] {
            for goal in element.attribute(attribute).unwrap_or_default().split(' ') {
                if !goal.is_empty() {
                    let goal = goal.strip_prefix('#').unwrap_or(goal);
                    assert!(ids.contains(goal), "{attribute} to {goal}");
                    number += 1;
                }
            }
        }
        let address = element.attribute("href").unwrap_or("#");
        assert!(address.starts_with('#'), "{address} leads out of the page");
    }
    assert!(number > 1000);
}

/// By id of an entry: the entries that it links to.
fn links_of(document: &Document<'_>) -> BTreeMap<String, BTreeSet<String>> {
    document
        .descendants()
        .filter(|element| element.tag_name().name() == "details")
        .filter_map(|entry| {
            let links = entry
                .descendants()
                .filter_map(|element| Some(element.attribute("href")?.strip_prefix('#')?.to_owned()))
                .collect();
            Some((entry.attribute("id")?.to_owned(), links))
        })
        .collect()
}

/// What only argues against a cause is most of all signs: it is named with its test and not linked.
fn is_linked(sign: Sign) -> bool {
    sign != Sign::Word(Strength::ArguesAgainst)
}

#[test]
fn links_lead_from_cause_to_test_to_tree_and_back() {
    let knowledge = embedded().unwrap();
    let page = page::write(&knowledge).unwrap();
    let links = links_of(&parse(&page));
    for test in &knowledge.tests {
        let id = format!("test-{}", test.id);
        let from_test = &links[&id];
        for (cause, sign) in test.outcomes.iter().flat_map(|outcome| &outcome.signs) {
            if !is_linked(*sign) {
                continue;
            }
            let cause = format!("cause-{}", knowledge.causes[cause.0].id);
            assert!(from_test.contains(&cause), "{id} to {cause}");
        }
    }
    for cause in &knowledge.causes {
        let id = format!("cause-{}", cause.id);
        let from_cause = &links[&id];
        for test in &knowledge.tests {
            let speaks = test
                .outcomes
                .iter()
                .flat_map(|outcome| &outcome.signs)
                .any(|(of, sign)| is_linked(*sign) && knowledge.causes[of.0].id == cause.id);
            assert_eq!(
                from_cause.contains(&format!("test-{}", test.id)),
                speaks,
                "{id} to {}",
                test.id
            );
        }
        for tree in cause.frequency.keys() {
            assert!(from_cause.contains(&format!("tree-{tree}")), "{id} to {tree}");
            assert!(links[&format!("tree-{tree}")].contains(&id));
        }
    }
    for tree in &knowledge.trees {
        let id = format!("tree-{}", tree.id);
        let from_tree = &links[&id];
        for node in &tree.nodes {
            let tests = match &node.kind {
                NodeKind::Test { test, .. } => vec![*test],
                NodeKind::Narrow { pool, .. } => pool.clone(),
                NodeKind::Through { start, .. } => {
                    let shared = format!("tree-{}", knowledge.trees[start.tree.0].id);
                    assert!(from_tree.contains(&shared), "{id} to {shared}");
                    assert!(links[&shared].contains(&id), "{shared} to {id}");
                    Vec::new()
                }
                _ => Vec::new(),
            };
            for test in tests {
                let test = format!("test-{}", knowledge.tests[test.0].id);
                assert!(from_tree.contains(&test), "{id} to {test}");
                assert!(links[&test].contains(&id), "{test} to {id}");
            }
        }
    }
}

#[test]
fn the_page_fetches_nothing_and_is_no_larger_than_need_be() {
    let knowledge = embedded().unwrap();
    let page = page::write(&knowledge).unwrap();
    let document = parse(&page);
    for element in document.descendants() {
        let name = element.tag_name().name();
        assert!(
            !matches!(
                name,
                "link" | "img" | "image" | "iframe" | "object" | "embed" | "base"
            ),
            "<{name}>"
        );
        assert!(element.attribute("src").is_none() && element.attribute("srcset").is_none());
        assert!(element.attribute("style").is_none());
        for attribute in element.attributes() {
            assert!(!attribute.name().starts_with("on"), "{}", attribute.name());
        }
        if name == "style" || name == "script" {
            let text = element.text().unwrap();
            for forbidden in ["http", "url(", "@import", "fetch", "XMLHttpRequest", "import("] {
                assert!(!text.contains(forbidden), "{forbidden} in <{name}>");
            }
        }
    }
    let signs: usize = knowledge
        .tests
        .iter()
        .flat_map(|test| &test.outcomes)
        .map(|outcome| outcome.signs.len())
        .sum();
    assert!(
        page.len() < signs * MOST_BYTES_FOR_A_SIGN + MOST_BYTES_BESIDES,
        "{} bytes for {signs} signs",
        page.len()
    );
}

#[test]
fn what_the_knowledge_says_is_escaped() {
    const HOSTILE: &str = "</title><script>alert(\"1\")</script> & 'x' ]]> \u{0} end";
    let mut knowledge = embedded().unwrap();
    for test in &mut knowledge.tests {
        for text in [
            &mut test.name,
            &mut test.ask,
            &mut test.why,
            &mut test.caution,
            &mut test.instrument,
        ] {
            HOSTILE.clone_into(text);
        }
        test.how = vec![HOSTILE.to_owned()];
        test.source = vec![Source::plain(HOSTILE)];
        test.words = vec![HOSTILE.to_owned()];
        for outcome in &mut test.outcomes {
            HOSTILE.clone_into(&mut outcome.label);
        }
    }
    for cause in &mut knowledge.causes {
        for text in [
            &mut cause.name,
            &mut cause.mechanism,
            &mut cause.remedy,
            &mut cause.proof,
            &mut cause.caution,
        ] {
            HOSTILE.clone_into(text);
        }
        cause.source = vec![Source::plain(HOSTILE)];
    }
    for tree in &mut knowledge.trees {
        tree.complaint = Some(HOSTILE.to_owned());
    }
    let page = page::write(&knowledge).unwrap();
    let document = parse(&page);
    let scripts = document
        .descendants()
        .filter(|element| element.tag_name().name() == "script")
        .count();
    assert_eq!(scripts, 1, "only the page's own");
    assert_eq!(page.matches("<script").count(), 1);
}
