//! The entry of a tree: its picture, its steps in words, and the causes behind it.

use std::fmt::Write as _;

use crate::drawing::escape::escape;
use crate::drawing::{Figure, FigureError, Shape, Way, marks, svg, words};
use crate::inference::under::behind;
use crate::knowledge::model::{Knowledge, NodeIndex, NodeKind, Tree, TreeIndex};
use crate::knowledge::render::count;

use super::links::Links;
use super::{markup, rest};

/// Writes the entry.
///
/// # Errors
/// When the routes of the tree go round.
pub(super) fn write(
    page: &mut String,
    knowledge: &Knowledge,
    links: &Links<'_>,
    index: TreeIndex,
) -> Result<(), FigureError> {
    let tree = &knowledge.trees[index];
    let figure = Figure::new(knowledge, index)?;
    markup::open(
        page,
        &format!("tree-{}", tree.id),
        &words::name_of(tree),
        false,
        &count(tree.nodes.len(), "step"),
    );
    markup::words(page, &tree.words);
    let users = links.trees_of_tree[index].iter();
    let users = users.map(|user| markup::tree_link(knowledge, *user));
    markup::links(page, "Entered from", users);
    picture(page, knowledge, tree, &figure);
    steps(page, knowledge, tree, &figure);
    causes(page, knowledge, index);
    rest::required(page, knowledge, rest::MUST_COME_TO, &tree.requires);
    markup::foot(page, &tree.id, &[]);
    markup::close(page);
    Ok(())
}

fn picture(page: &mut String, knowledge: &Knowledge, tree: &Tree, figure: &Figure) {
    let start = marks::MARGIN
        + figure
            .laid
            .boxes
            .get(tree.start.place())
            .map_or(0.0, |area| area.middle());
    let _ = writeln!(
        page,
        "<h4>The way through it</h4><p class=\"said\">Move the drawing to see all of it. A box leads to its test, \
         and an arrow in a box to the step it names; the same steps stand below in words, with the lists of the pools.</p>\n\
         <div class=\"picture\" tabindex=\"0\" data-start=\"{start:.0}\">{}</div>",
        svg::write(knowledge, figure, svg::For::Page)
    );
}

fn steps(page: &mut String, knowledge: &Knowledge, tree: &Tree, figure: &Figure) {
    page.push_str("<h4>Its steps in words</h4><ol class=\"steps\">\n");
    let mut order: Vec<NodeIndex> = tree.nodes.indices().collect();
    // The start first; the rest as the author wrote them, which is the order in which a person thinks of them.
    order.sort_by_key(|node| *node != tree.start);
    for index in order {
        let kind = &tree.nodes[index].kind;
        // The box of a node has the node's place.
        let node = index.place();
        let step = &figure.boxes[node];
        let _ = write!(
            page,
            "<li id=\"step-{}.{}\"><p><code>{}</code> ",
            escape(&tree.id),
            escape(&step.id),
            escape(&step.id)
        );
        what(page, knowledge, figure, node, kind);
        page.push_str("</p>\n");
        if let NodeKind::Narrow { pool, all: false, .. } = kind {
            let tests: Vec<String> = pool
                .iter()
                .map(|test| markup::test_link(knowledge, *test))
                .collect();
            let _ = writeln!(page, "<p class=\"links\">{}</p>", tests.join(" "));
        }
        let ways: Vec<&Way> = figure.ways.iter().filter(|way| way.from == node).collect();
        if !ways.is_empty() {
            page.push_str("<ul class=\"ways\">");
            for way in ways {
                let _ = write!(
                    page,
                    "<li>{} {}</li>",
                    escape(&when(way)),
                    goal(tree, figure, way.to)
                );
            }
            page.push_str("</ul>\n");
        }
        page.push_str("</li>\n");
    }
    page.push_str("</ol>\n");
}

fn what(page: &mut String, knowledge: &Knowledge, figure: &Figure, node: usize, kind: &NodeKind) {
    let text = match kind {
        NodeKind::Test { test, .. } => markup::test_link(knowledge, *test),
        NodeKind::Narrow { all: true, .. } => {
            "<b>All tests of this complaint</b>: the next best is picked until one cause leads".to_owned()
        }
        NodeKind::Narrow { pool, .. } => {
            // The drawing sends the reader of a long pool to this list by its letter.
            let list = figure
                .pools
                .iter()
                .find(|list| list.of == node)
                .map_or_else(String::new, |list| format!(", list {}", list.letter));
            format!(
                "<b>Pool of {}{list}</b>: the next best is picked until one cause leads",
                count(pool.len(), "test")
            )
        }
        NodeKind::Through { start, .. } => {
            format!("Through {} and back", markup::tree_link(knowledge, start.tree))
        }
        NodeKind::Leave => "Back to where this tree was entered".to_owned(),
        NodeKind::Halt { advice, call } => format!(
            "<b class=\"stop\">STOP</b> {} <b>Call:</b> {}",
            escape(advice),
            escape(call)
        ),
        NodeKind::Close => "Conclude from what was found".to_owned(),
    };
    page.push_str(&text);
}

/// When a way is taken, in words.
fn when(way: &Way) -> String {
    match (way.label.is_empty(), way.otherwise, way.outcomes.is_empty()) {
        (true, ..) => "then".to_owned(),
        (false, true, true) => "otherwise".to_owned(),
        // On the page there is room to say which outcomes the rest are.
        (false, true, false) => format!("{}; or could not check", way.outcomes.join("; ")),
        (false, false, _) => way.outcomes.join("; "),
    }
}

/// A link to the step a way leads to, with an arrow before it.
fn goal(tree: &Tree, figure: &Figure, to: usize) -> String {
    let step = &figure.boxes[to];
    let (goal, name) = match (step.shape, step.id.split_once('/')) {
        (Shape::Elsewhere, Some((other, node))) => (
            format!("tree-{other}"),
            format!("{} at {node}", words::spoken(other)),
        ),
        _ => {
            let ends = match step.shape {
                Shape::Halt => " (STOP)",
                Shape::Close => " (conclude)",
                Shape::Leave => " (back)",
                _ => "",
            };
            (
                format!("step-{}.{}", tree.id, step.id),
                format!("{}{ends}", step.id),
            )
        }
    };
    format!(
        "<a href=\"#{}\">{} {}</a>",
        escape(&goal),
        markup::ARROW,
        escape(&name)
    )
}

/// How large a share of the causes behind a complaint one must have to stand under a heading.
const HEADINGS: [(&str, f64); 4] = [
    ("most often", 0.02),
    ("often", 0.008),
    ("now and then", 0.003),
    ("seldom", 0.0),
];

fn causes(page: &mut String, knowledge: &Knowledge, tree: TreeIndex) {
    if !knowledge.trees[tree].is_complaint() {
        return;
    }
    let listed = behind(knowledge, tree);
    let mut below = f64::INFINITY;
    for (often, least) in HEADINGS {
        let here: Vec<String> = listed
            .iter()
            .filter(|(_, share)| (least..below).contains(share))
            .map(|(cause, _)| markup::cause_link(knowledge, *cause))
            .collect();
        below = least;
        let heading = format!(
            "Causes behind it {often} <span class=\"number\">{}</span>",
            here.len()
        );
        markup::links(page, &heading, here);
    }
}
