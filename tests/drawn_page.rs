//! The page of the whole knowledge: all of it is there, every link leads somewhere, and nothing comes from outside.

#![expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use std::collections::{BTreeMap, BTreeSet};

use lineside::drawing::page;
use lineside::knowledge::behind::COMPLAINT;
use lineside::knowledge::cited::Source;
use lineside::knowledge::embedded;
use lineside::knowledge::model::{CauseIndex, EffectIndex, Knowledge, NodeKind};
use roxmltree::{Document, ParsingOptions};

/// Bytes of the page for each statement, which it tells from both its sides, and for all else together. A page that says
/// everything three times goes over it.
const MOST_BYTES_FOR_A_STATEMENT: usize = 360;
const MOST_BYTES_BESIDES: usize = 3_100_000;

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
    entries.extend(knowledge.effects.iter().map(|one| format!("effect-{}", one.id)));
    entries.extend(knowledge.families.iter().map(|one| format!("family-{}", one.id)));
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

#[test]
fn links_lead_from_cause_to_effect_to_test_and_back() {
    let knowledge = embedded().unwrap();
    let page = page::write(&knowledge).unwrap();
    let links = links_of(&parse(&page));
    let both_ways = |one: &str, other: &str| {
        assert!(links[one].contains(other), "{one} to {other}");
        assert!(links[other].contains(one), "{other} to {one}");
    };
    let effect = |effect: EffectIndex| format!("effect-{}", knowledge.effects[effect].id);
    for test in &knowledge.tests {
        let id = format!("test-{}", test.id);
        for outcome in &test.outcomes {
            for shown in &outcome.shows {
                both_ways(&id, &effect(shown.effect));
            }
            for (cause, _) in &outcome.finds {
                both_ways(&id, &format!("cause-{}", knowledge.causes[*cause].id));
            }
        }
    }
    for (place, cause) in knowledge.causes.iter().enumerate() {
        let id = format!("cause-{}", cause.id);
        if let Some(family) = cause.family {
            both_ways(&id, &format!("family-{}", knowledge.families[family].id));
        }
        for does in &cause.does {
            let is_linked = !does.from_family && knowledge.effects[does.effect].id != COMPLAINT;
            assert_eq!(links[&id].contains(&effect(does.effect)), is_linked, "{id}");
            if is_linked {
                both_ways(&id, &effect(does.effect));
            }
        }
        for (tree, _) in knowledge.complaints_of(CauseIndex(place)) {
            both_ways(&id, &format!("tree-{}", knowledge.trees[tree].id));
        }
    }
    for family in &knowledge.families {
        for does in &family.does {
            both_ways(&format!("family-{}", family.id), &effect(does.effect));
        }
    }
    for (place, known) in knowledge.effects.iter().enumerate() {
        if let Some(follows) = &known.follows {
            both_ways(&effect(EffectIndex(place)), &effect(follows.effect));
        }
    }
}

/// The figures beside a direct finding are those of the model, not those of the file, which leave out what the other
/// outcomes need.
#[test]
fn what_finds_a_cause_is_said_with_both_figures() {
    let knowledge = embedded().unwrap();
    let page = page::write(&knowledge).unwrap();
    let document = parse(&page);
    let cause = document
        .descendants()
        .find(|element| element.attribute("id") == Some("cause-loose-disconnect-lug"));
    let texts: Vec<String> = cause
        .unwrap()
        .descendants()
        .filter(|element| element.tag_name().name() == "li")
        .map(|element| element.descendants().filter_map(|part| part.text()).collect())
        .collect();
    let under = lineside::inference::under::Under::new(&knowledge, None, None);
    let index = knowledge.cause("loose-disconnect-lug").unwrap();
    let mut said = 0;
    for (place, test) in knowledge.tests.iter().enumerate() {
        let test_index = lineside::knowledge::model::TestIndex(place);
        for (number, outcome) in test.outcomes.iter().enumerate() {
            if outcome.finds.iter().any(|(of, _)| *of == index) {
                let share = |row: &[f64]| lineside::knowledge::saying::percent(row[number]);
                let with = share(under.row(Some(index), test_index));
                let otherwise = share(under.row(None, test_index));
                let wanted = format!("{}: {with}, otherwise {otherwise}", outcome.label);
                assert!(texts.iter().any(|text| text.contains(&wanted)), "{wanted}");
                said += 1;
            }
        }
    }
    assert!(said > 2);
}

#[test]
fn links_lead_from_tree_to_test_and_back() {
    let knowledge = embedded().unwrap();
    let page = page::write(&knowledge).unwrap();
    let links = links_of(&parse(&page));
    for tree in &knowledge.trees {
        let id = format!("tree-{}", tree.id);
        let from_tree = &links[&id];
        for node in &tree.nodes {
            let tests = match &node.kind {
                NodeKind::Test { test, .. } => vec![*test],
                NodeKind::Narrow { pool, all: false, .. } => pool.clone(),
                NodeKind::Through { start, .. } => {
                    let shared = format!("tree-{}", knowledge.trees[start.tree].id);
                    assert!(from_tree.contains(&shared), "{id} to {shared}");
                    assert!(links[&shared].contains(&id), "{shared} to {id}");
                    Vec::new()
                }
                _ => Vec::new(),
            };
            for test in tests {
                let test = format!("test-{}", knowledge.tests[test].id);
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
    let outcomes = || knowledge.tests.iter().flat_map(|test| &test.outcomes);
    let said: usize = outcomes()
        .map(|outcome| outcome.shows.len() + outcome.finds.len())
        .sum();
    let done: usize = knowledge.causes.iter().map(|cause| cause.does.len()).sum();
    assert!(
        page.len() < (said + done) * MOST_BYTES_FOR_A_STATEMENT + MOST_BYTES_BESIDES,
        "{} bytes for {} statements",
        page.len(),
        said + done
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
    for effect in &mut knowledge.effects {
        HOSTILE.clone_into(&mut effect.name);
        for state in &mut effect.states {
            HOSTILE.clone_into(&mut state.says);
        }
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
