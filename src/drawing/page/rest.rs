//! Equipment and facts.

use crate::drawing::escape::escape;
use crate::knowledge::model::Knowledge;

use super::links::Links;
use super::markup;

/// Writes the section of the equipment.
pub(super) fn equipment(page: &mut String, knowledge: &Knowledge) {
    page.push_str("<section id=\"equipment\"><h2>Equipment</h2>\n");
    for equipment in &knowledge.equipment {
        markup::open(page, &format!("equipment-{}", equipment.id), &equipment.name, "", "");
        markup::part(page, "Parts it has", &equipment.parts.join(", "), true);
        markup::foot(page, &equipment.id, &[]);
        markup::close(page);
    }
    page.push_str("</section>\n");
}

/// Writes the section of the facts.
pub(super) fn facts(page: &mut String, knowledge: &Knowledge, links: &Links) {
    page.push_str("<section id=\"facts\"><h2>Facts of an installation</h2>\n");
    for (place, fact) in knowledge.facts.iter().enumerate() {
        markup::open(page, &format!("fact-{}", fact.id), &fact.name, "", "");
        markup::part(page, "Asked as", &fact.ask, true);
        markup::part(page, "Where to find it", &fact.find, false);
        let choices: Vec<String> = fact.choices.iter().map(|choice| escape(&choice.label)).collect();
        markup::list(page, "Choices", markup::List::Points, &choices);
        let tests: Vec<String> = links.tests_of_fact[place]
            .iter()
            .map(|test| markup::test_link(knowledge, *test))
            .collect();
        markup::links(page, "Tests that use it", &tests);
        markup::foot(page, &fact.id, &[]);
        markup::close(page);
    }
    page.push_str("</section>\n");
}
