//! Pictures of trees: all of a tree is in them, nothing lies on anything else, and they are what they say they are.
//!
//! The layout is held against random graphs too, since the trees of today are few and of one kind.

#![expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use std::collections::BTreeSet;

use lineside::drawing::layers::{Area, Laid, LayoutError, Link, Plan, Size, lay_out};
use lineside::drawing::{Figure, FigureError, Shape, dot, svg, text_area};
use lineside::knowledge::embedded;
use lineside::knowledge::model::{At, Knowledge, NodeKind, TreeIndex};
use proptest::prelude::*;

fn figures(knowledge: &Knowledge) -> Vec<Figure> {
    (0..knowledge.trees.len())
        .map(|tree| Figure::new(knowledge, TreeIndex(tree)).unwrap())
        .collect()
}

fn overlap(one: Area, other: Area) -> bool {
    one.left < other.right()
        && other.left < one.right()
        && one.top < other.bottom()
        && other.top < one.bottom()
}

/// Every fault of a layout, in words.
fn faults(plan: &Plan, laid: &Laid) -> Vec<String> {
    let mut faults = Vec::new();
    let mut areas: Vec<(String, Area)> = Vec::new();
    for (number, area) in laid.boxes.iter().enumerate() {
        areas.push((format!("box {number}"), *area));
    }
    for (number, area) in laid.labels.iter().enumerate() {
        if let Some(area) = area {
            areas.push((format!("label {number}"), *area));
        }
    }
    for (place, (name, area)) in areas.iter().enumerate() {
        let page = Area {
            left: 0.0,
            top: 0.0,
            width: laid.size.width,
            height: laid.size.height,
        };
        if area.left < -1e-6 || area.right() > page.right() + 1e-6 || area.bottom() > page.bottom() + 1e-6 {
            faults.push(format!("{name} lies outside the page"));
        }
        for (other_name, other) in &areas[place + 1..] {
            if overlap(*area, *other) {
                faults.push(format!("{name} lies on {other_name}"));
            }
        }
    }
    for (number, link) in plan.links.iter().enumerate() {
        let route = &laid.routes[number];
        if !link.drawn {
            if !route.is_empty() || laid.labels[number].is_some() {
                faults.push(format!("way {number} is drawn and should not be"));
            }
            continue;
        }
        if link.label.is_some() != laid.labels[number].is_some() {
            faults.push(format!("way {number} lost its label"));
        }
        let (from, to) = (laid.boxes[link.from], laid.boxes[link.to]);
        let same = |one: f64, other: f64| (one - other).abs() < 1e-6;
        let (first, last) = (route.first().unwrap(), route.last().unwrap());
        if !(same(first.from.x, from.middle()) && same(first.from.y, from.bottom())) {
            faults.push(format!("way {number} does not leave its box"));
        }
        if !(same(last.to.x, to.middle()) && same(last.to.y, to.top)) {
            faults.push(format!("way {number} does not reach its box"));
        }
        for pair in route.windows(2) {
            let (end, begin) = (pair[0].to, pair[1].from);
            let over_label = laid.labels[number].is_some_and(|label| {
                same(end.y, label.top) && same(begin.y, label.bottom()) && same(end.x, begin.x)
            });
            let goes_on = same(end.x, begin.x) && same(end.y, begin.y);
            if !over_label && !goes_on {
                faults.push(format!("way {number} is broken"));
            }
        }
        for piece in route {
            if piece.to.y < piece.from.y {
                faults.push(format!("way {number} leads up"));
            }
            // A piece as the picture draws it: a cubic curve whose handles stand half way down.
            for step in 1..20 {
                let t = f64::from(step) / 20.0;
                let bend = t * t * (3.0 - 2.0 * t);
                let x = piece.from.x + (piece.to.x - piece.from.x) * bend;
                let half = f64::midpoint(piece.from.y, piece.to.y);
                let y =
                    (1.0 - t).powi(3) * piece.from.y + 3.0 * t * (1.0 - t) * half + t.powi(3) * piece.to.y;
                for (name, area) in &areas {
                    let inside = x > area.left + 0.5
                        && x < area.right() - 0.5
                        && y > area.top + 0.5
                        && y < area.bottom() - 0.5;
                    if inside {
                        faults.push(format!("way {number} passes through {name}"));
                    }
                }
            }
        }
    }
    faults
}

fn plan_of(figure: &Figure) -> Plan {
    Plan {
        boxes: figure
            .laid
            .boxes
            .iter()
            .map(|area| Size {
                width: area.width,
                height: area.height,
            })
            .collect(),
        links: figure
            .ways
            .iter()
            .map(|way| Link {
                from: way.from,
                to: way.to,
                label: (way.drawn && !way.label.is_empty()).then(Size::default),
                drawn: way.drawn,
            })
            .collect(),
    }
}

#[test]
fn in_every_tree_nothing_lies_on_anything_else() {
    let knowledge = embedded().unwrap();
    for figure in figures(&knowledge) {
        let faults = faults(&plan_of(&figure), &figure.laid);
        assert!(faults.is_empty(), "{}: {}", figure.tree, faults.join("\n"));
    }
}

/// Names of a node as a figure gives them: its id, with its tree when that is another one.
fn name(knowledge: &Knowledge, tree: TreeIndex, at: At) -> String {
    let other = &knowledge.trees[at.tree];
    let node = &other.nodes[at.node].id;
    if at.tree == tree {
        node.clone()
    } else {
        format!("{}/{node}", other.id)
    }
}

/// Every way of a tree as its file says it: from, to, and the outcomes that take it.
fn ways_of(knowledge: &Knowledge, tree: TreeIndex) -> BTreeSet<(String, String, Vec<String>)> {
    let mut ways = BTreeSet::new();
    for node in &knowledge.trees[tree].nodes {
        let from = node.id.clone();
        match &node.kind {
            NodeKind::Test {
                test,
                to,
                unknown,
                absent,
            } => {
                let outcomes = &knowledge.tests[*test].outcomes;
                let goals: BTreeSet<At> = to.iter().copied().chain([*unknown, *absent]).collect();
                for goal in goals {
                    let mut labels: Vec<String> = outcomes
                        .iter()
                        .zip(to)
                        .filter(|(_, at)| **at == goal)
                        .map(|(outcome, _)| outcome.label.clone())
                        .collect();
                    if goal == *absent && absent != unknown {
                        labels.push("not fitted here".to_owned());
                    }
                    ways.insert((from.clone(), name(knowledge, tree, goal), labels));
                }
            }
            NodeKind::Narrow { then, .. } | NodeKind::Through { then, .. } => {
                ways.insert((from, name(knowledge, tree, *then), Vec::new()));
            }
            _ => {}
        }
    }
    ways
}

#[test]
fn every_node_and_every_way_is_in_the_figure() {
    let knowledge = embedded().unwrap();
    for (tree, figure) in knowledge.trees.indices().zip(&figures(&knowledge)) {
        let drawn: BTreeSet<_> = figure.boxes.iter().map(|step| step.id.as_str()).collect();
        for node in &knowledge.trees[tree].nodes {
            assert!(drawn.contains(node.id.as_str()), "{}/{}", figure.tree, node.id);
        }
        let ways: BTreeSet<_> = figure
            .ways
            .iter()
            .map(|way| {
                let id = |place: usize| figure.boxes[place].id.clone();
                (id(way.from), id(way.to), way.outcomes.clone())
            })
            .collect();
        assert_eq!(ways, ways_of(&knowledge, tree), "{}", figure.tree);
        for (place, step) in figure.boxes.iter().enumerate() {
            let has_line = figure.ways.iter().any(|way| way.to == place && way.drawn);
            let is_met = figure.ways.iter().any(|way| way.to == place);
            assert!(
                has_line || !is_met,
                "no line leads to {}/{}",
                figure.tree,
                step.id
            );
        }
    }
}

/// The picture itself, read as XML: boxes, lines and exits carry the ids they stand for.
#[test]
fn every_node_and_every_way_is_in_the_picture() {
    let knowledge = embedded().unwrap();
    for (tree, figure) in knowledge.trees.indices().zip(&figures(&knowledge)) {
        let picture = svg::write(&knowledge, figure, svg::For::File);
        let document = roxmltree::Document::parse(&picture).unwrap();
        let boxes: Vec<&str> = document
            .descendants()
            .filter_map(|element| element.attribute("data-node"))
            .collect();
        let ids: Vec<&str> = figure.boxes.iter().map(|step| step.id.as_str()).collect();
        assert_eq!(boxes, ids, "{}", figure.tree);
        let mut ways = BTreeSet::new();
        for element in document.descendants() {
            let class = element.attribute("class").unwrap_or_default();
            if class == "d-ways" || class == "d-exit" {
                let to = element.attribute("data-to").unwrap();
                for from in element.attribute("data-from").unwrap().split(' ') {
                    ways.insert((from.to_owned(), to.to_owned()));
                }
            }
        }
        let expected: BTreeSet<_> = ways_of(&knowledge, tree)
            .into_iter()
            .map(|(from, to, _)| (from, to))
            .collect();
        assert_eq!(ways, expected, "{}", figure.tree);
        let texts: Vec<&str> = document
            .descendants()
            .filter(|element| element.has_tag_name(("http://www.w3.org/2000/svg", "text")))
            .filter_map(|element| element.text())
            .collect();
        for line in figure.boxes.iter().flat_map(lineside::drawing::Step::all_lines) {
            assert!(
                texts.contains(&line.text.as_str()),
                "`{}` is not drawn",
                line.text
            );
        }
        for pool in &figure.pools {
            let of = &figure.boxes[pool.of].id;
            assert!(texts.contains(&format!("{}: {of}", pool.letter).as_str()));
            for test in &pool.tests {
                // A long name goes on in the next line, so its first word is looked for.
                let name = &knowledge.tests[*test].name;
                let first = name.split(' ').next().unwrap();
                assert!(
                    texts.iter().any(|text| text.starts_with(first)),
                    "`{name}` is not listed"
                );
            }
        }
    }
}

#[test]
fn a_picture_says_what_it_is_to_whoever_cannot_see_it() {
    let knowledge = embedded().unwrap();
    for figure in figures(&knowledge) {
        let picture = svg::write(&knowledge, &figure, svg::For::File);
        let document = roxmltree::Document::parse(&picture).unwrap();
        let root = document.root_element();
        assert_eq!(root.attribute("role"), Some("img"));
        let text_of = |id: &str| {
            document
                .descendants()
                .find(|element| element.attribute("id") == Some(id))
                .and_then(|element| element.text())
                .map(str::to_owned)
        };
        let named: Vec<String> = root
            .attribute("aria-labelledby")
            .unwrap()
            .split(' ')
            .map(|id| text_of(id).unwrap())
            .collect();
        assert_eq!(named, [figure.title.clone(), figure.description.clone()]);
        assert!(picture.contains("prefers-color-scheme: dark"));
        for forbidden in ["http://", "https://", "url(", "@import", "<image", "<script"] {
            let others = picture.replace("xmlns=\"http://www.w3.org/2000/svg\"", "");
            assert!(!others.contains(forbidden), "{}: {forbidden}", figure.tree);
        }
    }
}

#[test]
fn text_fits_its_box() {
    let knowledge = embedded().unwrap();
    for figure in figures(&knowledge) {
        for (step, area) in figure.boxes.iter().zip(&figure.laid.boxes) {
            let room = text_area(step.shape, *area);
            let mut high = 0.0;
            for line in step.all_lines() {
                assert!(
                    line.width() <= room.width + 1e-6,
                    "`{}` in {}/{}",
                    line.text,
                    figure.tree,
                    step.id
                );
                high += line.style.leading();
            }
            assert!(high <= room.height + 1e-6, "{}/{}", figure.tree, step.id);
            assert!(room.left >= area.left && room.right() <= area.right());
            assert!(room.top >= area.top && room.bottom() <= area.bottom());
        }
    }
}

/// Black and white print keeps words and outlines, so the mark must be a word.
#[test]
fn tests_on_energised_equipment_are_marked_by_a_word() {
    let knowledge = embedded().unwrap();
    for (tree, figure) in knowledge.trees.indices().zip(&figures(&knowledge)) {
        let picture = svg::write(&knowledge, figure, svg::For::File);
        let document = roxmltree::Document::parse(&picture).unwrap();
        for (place, node) in knowledge.trees[tree].nodes.iter().enumerate() {
            let NodeKind::Test { test, .. } = &node.kind else {
                continue;
            };
            let live = knowledge.tests[*test].state.is_powered();
            assert_eq!(figure.boxes[place].shape == Shape::Energised, live);
            let drawn = document
                .descendants()
                .find(|element| element.attribute("data-node") == Some(&node.id))
                .unwrap();
            let says = drawn
                .descendants()
                .any(|element| element.text() == Some("ENERGIZED"));
            assert_eq!(says, live, "{}/{}", figure.tree, node.id);
        }
    }
}

/// One drawn way: the two boxes it joins, the wider and higher sizes of its label, and whether it is a line.
type Drawn = (usize, usize, Option<(u8, u8)>, bool);

fn random_plan(boxes: &[(u8, u8)], ways: &[Drawn]) -> Plan {
    let size = |(width, height): (u8, u8)| Size {
        width: f64::from(width) + 1.0,
        height: f64::from(height) + 1.0,
    };
    let number = boxes.len();
    Plan {
        boxes: boxes.iter().copied().map(size).collect(),
        links: ways
            .iter()
            .filter(|(one, other, ..)| one % number != other % number)
            .map(|(one, other, label, drawn)| {
                let (one, other) = (one % number, other % number);
                Link {
                    from: one.min(other),
                    to: one.max(other),
                    label: label.map(size),
                    drawn: *drawn,
                }
            })
            .collect(),
    }
}

proptest! {
    #[test]
    fn in_any_graph_nothing_lies_on_anything_else(
        boxes in prop::collection::vec(any::<(u8, u8)>(), 1..24),
        ways in prop::collection::vec((0usize..24, 0usize..24, prop::option::of(any::<(u8, u8)>()), prop::bool::weighted(0.8)), 0..40),
    ) {
        let plan = random_plan(&boxes, &ways);
        let laid = lay_out(&plan).unwrap();
        let faults = faults(&plan, &laid);
        prop_assert!(faults.is_empty(), "{}", faults.join("\n"));
        for link in &plan.links {
            prop_assert!(laid.rows[link.from] < laid.rows[link.to]);
        }
        prop_assert_eq!(lay_out(&plan).unwrap(), laid);
    }

    #[test]
    fn a_round_is_refused(number in 2usize..8, more in 0usize..8) {
        let mut ways: Vec<Link> = (0..number)
            .map(|from| Link { from, to: (from + 1) % number, label: None, drawn: true })
            .collect();
        ways.push(Link { from: number + more, to: 0, label: None, drawn: true });
        let plan = Plan { boxes: vec![Size::default(); number + more + 1], links: ways };
        let on_it = (0..number).any(|box_on_it| lay_out(&plan) == Err(LayoutError::Round { box_on_it }));
        prop_assert!(on_it);
    }
}

#[test]
fn a_way_to_no_box_is_refused() {
    let plan = Plan {
        boxes: vec![Size::default()],
        links: vec![Link {
            from: 0,
            to: 1,
            label: None,
            drawn: true,
        }],
    };
    assert_eq!(lay_out(&plan), Err(LayoutError::NoSuchBox { link: 0 }));
}

#[test]
fn a_tree_that_goes_round_is_refused_by_name() {
    let mut knowledge = embedded().unwrap();
    let tree = knowledge.tree("protection").unwrap();
    let start = knowledge.trees[tree].start;
    let back = At { tree, node: start };
    for node in knowledge.trees[tree].nodes.indices() {
        if let NodeKind::Test { to, unknown, .. } = &mut knowledge.trees[tree].nodes[node].kind
            && node != start
        {
            *unknown = back;
            to.fill(back);
        }
    }
    let error = Figure::new(&knowledge, tree).unwrap_err();
    assert!(
        matches!(&error, FigureError::Round { tree, .. } if tree == "protection"),
        "{error}"
    );
    assert!(error.to_string().contains("lineside trees check --only cycle"));
}

/// A name of many pieces, none of which may end an element, an attribute or a string.
const HOSTILE: &str = "</title><script>alert(\"1\")</script> & 'x' ]]> \\\" \u{0} end";

#[test]
fn what_the_knowledge_says_is_escaped() {
    let mut knowledge = embedded().unwrap();
    for test in &mut knowledge.tests {
        HOSTILE.clone_into(&mut test.name);
        for outcome in &mut test.outcomes {
            HOSTILE.clone_into(&mut outcome.label);
        }
    }
    for tree in &mut knowledge.trees {
        tree.complaint = Some(HOSTILE.to_owned());
    }
    for figure in figures(&knowledge) {
        let picture = svg::write(&knowledge, &figure, svg::For::File);
        let document = roxmltree::Document::parse(&picture).unwrap();
        assert!(
            !document
                .descendants()
                .any(|one| one.tag_name().name() == "script")
        );
        check_dot(&dot::write(&figure));
    }
}

/// Reads a DOT text: each statement on its line, made of words, quoted strings and signs; the answer is its quoted
/// strings line by line.
fn check_dot(text: &str) -> Vec<Vec<String>> {
    text.lines()
        .map(|line| {
            let mut strings = Vec::new();
            let mut letters = line.chars();
            while let Some(letter) = letters.next() {
                if letter == '"' {
                    let mut string = String::new();
                    loop {
                        match letters.next() {
                            Some('"') => break,
                            Some('\\') => {
                                let next = letters.next().unwrap();
                                string.push(if next == 'n' { '\n' } else { next });
                            }
                            Some(letter) => string.push(letter),
                            None => panic!("a string does not end: {line}"),
                        }
                    }
                    strings.push(string);
                } else {
                    assert!(
                        letter.is_ascii_alphanumeric() || " {}[]=,->.".contains(letter),
                        "`{letter}` in {line}"
                    );
                }
            }
            strings
        })
        .collect()
}

#[test]
fn dot_names_every_node_and_every_way() {
    let knowledge = embedded().unwrap();
    for (tree, figure) in knowledge.trees.indices().zip(&figures(&knowledge)) {
        let text = dot::write(figure);
        check_dot(&text);
        for step in &figure.boxes {
            assert!(text.contains(&format!("\n  \"{}\" [", step.id)), "{}", step.id);
        }
        for (from, to, _) in ways_of(&knowledge, tree) {
            assert!(
                text.contains(&format!("\n  \"{from}\" -> \"{to}\"")),
                "{from} -> {to}"
            );
        }
    }
}
