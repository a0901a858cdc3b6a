//! What a repair must come to, equipment with accessories, and facts.

use std::fmt::Write as _;

use crate::drawing::escape::escape;
use crate::drawing::words;
use crate::knowledge::model::{InputFrom, Knowledge, RequirementIndex};

use super::links::Links;
use super::markup;

/// Heading over the requirements of a cause or tree.
pub(super) const MUST_COME_TO: &str = "What the repair must come to";

/// Links to requirements.
pub(super) fn required(
    page: &mut String,
    knowledge: &Knowledge,
    heading: &str,
    required: &[RequirementIndex],
) {
    let links = required.iter().map(|one| {
        let requirement = &knowledge.requirements[*one];
        markup::link("requirement", &requirement.id, &requirement.name)
    });
    markup::links(page, heading, links);
}

/// Writes the section of the requirements.
pub(super) fn requirements(page: &mut String, knowledge: &Knowledge, links: &Links<'_>) {
    page.push_str("<section id=\"requirements\"><h2>What a repair must come to</h2>\n");
    for (index, requirement) in knowledge.requirements.indexed() {
        let id = format!("requirement-{}", requirement.id);
        markup::open(page, &id, &requirement.name, false, requirement.job.in_words());
        markup::part(page, "It must be", &words::with_places(&requirement.says), true);
        let _ = writeln!(
            page,
            "<h4>Calculation</h4><p><code>lineside figure {}</code></p>",
            escape(&requirement.calculation)
        );
        let inputs = requirement.inputs.values().filter_map(|from| match from {
            InputFrom::Fact(fact) => Some(markup::fact_link(knowledge, *fact)),
            InputFrom::Reading(test) => Some(markup::test_link(knowledge, *test)),
            InputFrom::Fixed(_) => None,
        });
        markup::links(page, "Rests on", inputs);
        let causes = links.causes_of_requirement[index].iter();
        let causes = causes.map(|cause| markup::cause_link(knowledge, *cause));
        markup::links(page, "Asked by these causes", causes);
        let trees = links.trees_of_requirement[index].iter();
        let trees = trees.map(|tree| markup::tree_link(knowledge, *tree));
        markup::links(page, "Asked by these complaints", trees);
        markup::foot(page, &requirement.id, &[]);
        markup::close(page);
    }
    page.push_str("</section>\n");
}

/// Writes the section of the equipment, with the accessories.
pub(super) fn equipment(page: &mut String, knowledge: &Knowledge) {
    page.push_str("<section id=\"equipment\"><h2>Equipment</h2>\n");
    for equipment in &knowledge.equipment {
        let id = format!("equipment-{}", equipment.id);
        markup::open(page, &id, &equipment.name, false, "");
        let parts: Vec<&str> = equipment
            .parts
            .iter()
            .filter(|part| !equipment.accessories.contains(part))
            .map(String::as_str)
            .collect();
        markup::part(page, "Parts it has", &parts.join(", "), true);
        let accessories = equipment.accessories.iter();
        let accessories = accessories
            .filter_map(|id| knowledge.accessory(id))
            .map(|accessory| markup::link("accessory", &accessory.id, &accessory.name));
        markup::links(page, "Accessories it may have", accessories);
        markup::foot(page, &equipment.id, &[]);
        markup::close(page);
    }
    for accessory in &knowledge.accessories {
        let id = format!("accessory-{}", accessory.id);
        markup::open(page, &id, &accessory.name, false, "accessory");
        markup::part(
            page,
            "Fitted to equipment with",
            &accessory.parts.join(", "),
            false,
        );
        markup::foot(page, &accessory.id, &[]);
        markup::close(page);
    }
    page.push_str("</section>\n");
}

/// Writes the section of the facts.
pub(super) fn facts(page: &mut String, knowledge: &Knowledge, links: &Links<'_>) {
    page.push_str("<section id=\"facts\"><h2>Facts of an installation</h2>\n");
    for (index, fact) in knowledge.facts.indexed() {
        markup::open(page, &format!("fact-{}", fact.id), &fact.name, false, "");
        markup::part(page, "Asked as", &fact.ask, true);
        markup::part(page, "Where to find it", &fact.find, false);
        let choices = fact.choices.iter().map(|choice| escape(&choice.label));
        markup::list(page, "Choices", markup::List::Points, choices);
        let tests = links.tests_of_fact[index].iter();
        let tests = tests.map(|test| markup::test_link(knowledge, *test));
        markup::links(page, "Tests that use it", tests);
        let used = &links.requirements_of_fact[index];
        required(page, knowledge, "Repairs worked out from it", used);
        markup::foot(page, &fact.id, &[]);
        markup::close(page);
    }
    page.push_str("</section>\n");
}
