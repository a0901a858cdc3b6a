//! The whole knowledge as one page of HTML: trees with their pictures, causes, tests, equipment and facts.
//!
//! The page is read on a phone without a network, so it fetches nothing: style, script and pictures stand in it. Without
//! the script everything can be read and every link works; the script only searches, opens what a link leads to and
//! brings the start of a picture into view. The page is well-formed XML too, so that a test can read it.
//!
//! Ids: `tree-ID`, `cause-ID`, `effect-ID`, `family-ID`, `test-ID`, `fact-ID`, `requirement-ID`, `equipment-ID`, `accessory-ID`, and in a tree `step-TREE.NODE` in its list and
//! `box-TREE.NODE` in its picture; groups are `causes-PLACE` and `tests-STATE`, which no id of a cause or test can
//! be, since those begin with `cause-` and `test-`. Only links within a tree lead to steps and boxes, since what is inside a folded
//! entry is out of reach where a browser does not unfold it.

mod cause;
mod effect;
mod family;
mod links;
mod markup;
mod rest;
mod test;
mod tree;

use std::fmt::Write as _;

use crate::knowledge::model::{CauseIndex, Knowledge, Place, State, TestKind, Tree};
use crate::knowledge::render::count;

use super::FigureError;
use super::escape::escape;
use super::svg;
use links::Links;

const STYLE: &str = include_str!("page.css");
const SCRIPT: &str = include_str!("page.js");

/// Writes the page.
///
/// # Errors
/// When the routes of a tree go round.
pub fn write(knowledge: &Knowledge) -> Result<String, FigureError> {
    let links = Links::new(knowledge);
    let mut page = head(knowledge);
    trees(&mut page, knowledge, &links)?;
    causes(&mut page, knowledge, &links);
    effects(&mut page, knowledge, &links);
    tests(&mut page, knowledge, &links);
    rest::requirements(&mut page, knowledge, &links);
    rest::equipment(&mut page, knowledge);
    rest::facts(&mut page, knowledge, &links);
    // A comment hides the marks of the section from what does not read XML.
    let _ = writeln!(
        page,
        "</main>\n<script>/*<![CDATA[*/\n{SCRIPT}/*]]>*/</script>\n</body>\n</html>"
    );
    Ok(page)
}

fn head(knowledge: &Knowledge) -> String {
    let complaints = knowledge.trees.iter().filter(|tree| tree.is_complaint()).count();
    let shared = knowledge.trees.len() - complaints;
    let mut page = String::new();
    // Writing to a string cannot fail, here and in the other files of this room.
    let _ = writeln!(
        page,
        "<!DOCTYPE html>\n<html xmlns=\"http://www.w3.org/1999/xhtml\" lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n\
         <meta name=\"color-scheme\" content=\"light dark\"/>\n\
         <title>lineside: causes, tests and trees</title>\n<style>/*<![CDATA[*/\n{STYLE}{}/*]]>*/</style>\n</head>\n<body>\n\
         <header><h1>lineside</h1>\n<p>What it knows about electrical causes of heating and air-conditioning callbacks: \
         {}, {}, {}, {} and {}. Knowledge {}.</p>\n\
         <p class=\"mind\">Local codes, the equipment's own instructions and licensed practice come first. Only \
         qualified people work on energized parts. A bolt marks a \
         <span class=\"live\">test on energized equipment</span>.</p></header>\n\
         <nav aria-label=\"Parts of the page\"><a href=\"#trees\">Complaints</a> <a href=\"#shared\">Shared trees</a> \
         <a href=\"#causes\">Causes</a> <a href=\"#effects\">Effects</a> <a href=\"#families\">Families</a> <a href=\"#tests\">Tests</a> <a href=\"#requirements\">Repairs in \
         figures</a> <a href=\"#equipment\">Equipment</a> \
         <a href=\"#facts\">Facts</a></nav>\n\
         <form id=\"search\" role=\"search\" hidden=\"hidden\"><label for=\"words\">Search</label> \
         <input id=\"words\" type=\"search\" autocomplete=\"off\" placeholder=\"capacitor, lug, chatters\"/> \
         <output for=\"words\" id=\"found\"></output></form>\n<main>",
        svg::style(),
        count(complaints, "complaint"),
        count(shared, "shared tree"),
        count(knowledge.causes.len(), "cause"),
        count(knowledge.effects.len(), "effect"),
        count(knowledge.tests.len(), "test"),
        escape(&knowledge.fingerprint),
    );
    page
}

fn trees(page: &mut String, knowledge: &Knowledge, links: &Links<'_>) -> Result<(), FigureError> {
    let complaints = knowledge.complaints().into_iter().map(|(tree, _)| tree).collect();
    let shared = knowledge
        .trees
        .iter()
        .filter(|tree| !tree.is_complaint())
        .collect();
    let parts: [(&str, &str, Vec<&Tree>); 2] = [
        ("trees", "Complaints", complaints),
        ("shared", "Shared trees", shared),
    ];
    for (id, title, trees) in parts {
        let _ = writeln!(page, "<section id=\"{id}\"><h2>{title}</h2>");
        for tree in trees {
            if let Some(place) = knowledge.tree(&tree.id) {
                tree::write(page, knowledge, links, place)?;
            }
        }
        page.push_str("</section>\n");
    }
    Ok(())
}

/// Places from the utility to the load, as headings.
const PLACES: [(Place, &str, &str); 9] = [
    (Place::Utility, "causes-utility", "Utility, beyond the meter"),
    (
        Place::Service,
        "causes-service",
        "Service: meter, main and their conductors",
    ),
    (Place::Panel, "causes-panel", "Panel"),
    (Place::Branch, "causes-branch", "Circuit from panel to disconnect"),
    (Place::Disconnect, "causes-disconnect", "Disconnect or plug"),
    (Place::Unit, "causes-unit", "Line voltage inside the equipment"),
    (Place::Load, "causes-load", "Motors, compressor and heaters"),
    (Place::Control, "causes-control", "24 V controls"),
    (
        Place::NotElectrical,
        "causes-not-electrical",
        "Not electrical: air, refrigerant, water, fuel",
    ),
];

/// A heading with the entries under it.
struct Group<I> {
    id: &'static str,
    title: &'static str,
    here: Vec<I>,
}

fn causes(page: &mut String, knowledge: &Knowledge, links: &Links<'_>) {
    page.push_str("<section id=\"causes\"><h2>Causes</h2>\n<p>From the utility to the load.</p>\n");
    let groups: Vec<Group<CauseIndex>> = PLACES
        .map(|(place, id, title)| Group {
            id,
            title,
            here: knowledge
                .causes
                .indices()
                .filter(|cause| knowledge.causes[*cause].place == place)
                .collect(),
        })
        .into();
    write_groups(page, groups, |page, one| {
        cause::write(page, knowledge, links, one);
    });
    page.push_str("</section>\n");
}

/// What can be found out about a fault, and what kinds of causes have in common.
fn effects(page: &mut String, knowledge: &Knowledge, links: &Links<'_>) {
    page.push_str("<section id=\"effects\"><h2>Effects</h2>\n<p>What can be found out about a fault: causes bring states, tests show them.</p>\n");
    for effect in knowledge.effects.indices() {
        effect::write(page, knowledge, links, effect);
    }
    page.push_str("</section>\n<section id=\"families\"><h2>Families of causes</h2>\n");
    for family in knowledge.families.indices() {
        family::write(page, knowledge, family);
    }
    page.push_str("</section>\n");
}

fn tests(page: &mut String, knowledge: &Knowledge, links: &Links<'_>) {
    page.push_str("<section id=\"tests\"><h2>Tests</h2>\n");
    let mut groups = [
        ("tests-any", "Asked, or looked at with nothing to open"),
        ("tests-locked-out", "Made with the equipment locked out"),
        ("tests-energised", "Made on energized equipment"),
        ("tests-worked-out", "Worked out from facts and readings"),
    ]
    .map(|(id, title)| Group {
        id,
        title,
        here: Vec::new(),
    });
    for (index, test) in knowledge.tests.indexed() {
        let group = match (&test.kind, test.state) {
            (TestKind::Calculation { .. }, _) => 3,
            (_, State::Told | State::Any) => 0,
            (_, State::LockedOut) => 1,
            (_, State::Running | State::Energised | State::Firing) => 2,
        };
        groups[group].here.push(index);
    }
    write_groups(page, groups.into(), |page, one| {
        test::write(page, knowledge, links, one);
    });
    page.push_str("</section>\n");
}

/// Writes the groups that hold something, after links to each, since the list is long on a phone.
fn write_groups<I>(page: &mut String, groups: Vec<Group<I>>, mut entry: impl FnMut(&mut String, I)) {
    let groups: Vec<Group<I>> = groups
        .into_iter()
        .filter(|group| !group.here.is_empty())
        .collect();
    page.push_str("<div class=\"jump\">");
    for Group { id, title, here } in &groups {
        let _ = write!(page, "<a href=\"#{id}\">{title} ({})</a> ", here.len());
    }
    page.push_str("</div>\n");
    for Group { id, title, here } in groups {
        let _ = writeln!(
            page,
            "<div class=\"group\" id=\"{id}\"><h3>{title} <span class=\"number\">{}</span></h3>",
            here.len()
        );
        for one in here {
            entry(page, one);
        }
        page.push_str("</div>\n");
    }
}
