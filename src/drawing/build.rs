//! From the nodes of a tree to boxes and the ways between them.

use crate::knowledge::model::{At, Knowledge, NodeIndex, NodeKind, OutcomeIndex, Test, TestIndex, TreeIndex};
use crate::knowledge::render::count;

use super::measure::{Weight, wrap, wrap_even};
use super::step::{BOX_WIDTH, Leads, Line, Shape, Step, Style};
use super::way::{LABEL_SIZE, Way};
use super::words;

/// Pools of at most this many tests list them in their box; longer ones are listed under the picture.
const MOST_LISTED: usize = 5;

/// A pool too long for its box.
#[derive(Clone, Debug, PartialEq)]
pub struct PoolList {
    /// Letter that box and list share.
    pub letter: String,
    /// Place of its box.
    pub of: usize,
    /// Those the engine may pick from.
    pub tests: Vec<TestIndex>,
}

/// Boxes, ways and long pools of a tree as they gather.
pub(super) struct Builder<'k> {
    knowledge: &'k Knowledge,
    tree: TreeIndex,
    /// The tree's nodes in their order, then those of other trees it leads into.
    pub(super) boxes: Vec<Step>,
    /// Ways between them.
    pub(super) ways: Vec<Way>,
    /// Pools too long for their box.
    pub(super) pools: Vec<PoolList>,
    elsewhere: Vec<At>,
}

impl<'k> Builder<'k> {
    /// Makes all boxes and ways of a tree.
    pub(super) fn new(knowledge: &'k Knowledge, tree: TreeIndex) -> Self {
        let mut builder = Self {
            knowledge,
            tree,
            boxes: Vec::new(),
            ways: Vec::new(),
            pools: Vec::new(),
            elsewhere: Vec::new(),
        };
        let nodes = knowledge.trees[tree].nodes.indices();
        // Boxes first, so that a node's box has the node's place.
        nodes.clone().for_each(|node| builder.add_box(node));
        nodes.for_each(|node| builder.add_ways(node));
        builder
    }

    fn add_box(&mut self, node: NodeIndex) {
        let tree = &self.knowledge.trees[self.tree];
        let node = &tree.nodes[node];
        let mut text = Text::default();
        text.add(Style::Id, &node.id);
        let (shape, told, leads) = match &node.kind {
            NodeKind::Test { test, .. } => {
                let test = &self.knowledge.tests[*test];
                text.add(Style::Name, &test.name);
                text.add(Style::Small, &words::manner(test, false));
                let told = format!("{}. {}", test.name, test.ask);
                (shape_of(test), told, Leads::Test(test.id.clone()))
            }
            NodeKind::Narrow { all: true, .. } => {
                text.add(Style::Name, "Whatever tells most");
                text.add(Style::Small, "of all tests of this complaint");
                let told = "Of all tests of this complaint the next best is picked until one cause leads."
                    .to_owned();
                (Shape::Pool, told, Leads::Step)
            }
            NodeKind::Narrow { pool, .. } => {
                let count = format!("Pool of {}", count(pool.len(), "test"));
                text.add(Style::Name, &count);
                if pool.len() <= MOST_LISTED {
                    for test in pool {
                        let test = &self.knowledge.tests[*test];
                        text.add(style_in_pool(test), &test.name);
                    }
                } else {
                    let letter = letter(self.pools.len());
                    text.add(Style::Small, &format!("list {letter} below the drawing"));
                    self.pools.push(PoolList {
                        letter,
                        of: self.boxes.len(),
                        tests: pool.clone(),
                    });
                }
                let told = format!("{count}, the next best picked from it until one cause leads.");
                (Shape::Pool, told, Leads::Step)
            }
            NodeKind::Through { start, .. } => {
                let shared = &self.knowledge.trees[start.tree];
                text.add(Style::Name, &words::spoken(&shared.id));
                text.add(Style::Small, "there and back");
                let told = format!("Through the tree {} and back.", shared.id);
                (Shape::Through, told, Leads::Tree(shared.id.clone()))
            }
            NodeKind::Leave => {
                text.add(Style::Name, "Back");
                text.add(Style::Small, "to where this tree was entered");
                let told = "Back to where this tree was entered.".to_owned();
                (Shape::Leave, told, Leads::Step)
            }
            NodeKind::Halt { advice, call } => {
                text.add(Style::Name, "STOP");
                text.add(Style::Small, advice);
                text.add(Style::Name, "Call");
                text.add(Style::Small, call);
                (Shape::Halt, format!("Stop. {advice} Call: {call}"), Leads::Step)
            }
            NodeKind::Close => {
                text.add(Style::Name, "Conclude");
                let told = "Conclude from what was found.".to_owned();
                (Shape::Close, told, Leads::Step)
            }
        };
        self.boxes.push(Step {
            id: node.id.clone(),
            shape,
            lines: text.lines,
            exits: Vec::new(),
            told,
            leads,
        });
    }

    fn add_ways(&mut self, node: NodeIndex) {
        let knowledge = self.knowledge;
        match &knowledge.trees[self.tree].nodes[node].kind {
            NodeKind::Test {
                test,
                to,
                unknown,
                absent,
            } => {
                // Outcomes by where they lead, in the order in which they are asked.
                let mut goals: Vec<(At, Vec<OutcomeIndex>)> = Vec::new();
                for (outcome, at) in to.indexed() {
                    match goals.iter_mut().find(|(goal, _)| goal == at) {
                        Some((_, outcomes)) => outcomes.push(outcome),
                        None => goals.push((*at, vec![outcome])),
                    }
                }
                if !goals.iter().any(|(goal, _)| goal == unknown) {
                    goals.push((*unknown, Vec::new()));
                }
                if !goals.iter().any(|(goal, _)| goal == absent) {
                    goals.push((*absent, Vec::new()));
                }
                let alone = goals.len() == 1;
                for (goal, outcomes) in goals {
                    let test = &knowledge.tests[*test];
                    let mut outcomes: Vec<String> = outcomes
                        .into_iter()
                        .map(|outcome| test.outcomes[outcome].label.clone())
                        .collect();
                    if goal == *absent && absent != unknown {
                        outcomes.push("not fitted here".to_owned());
                    }
                    let otherwise = goal == *unknown;
                    let label = match (alone, otherwise) {
                        (true, _) => Vec::new(),
                        (false, true) => wrap("otherwise", BOX_WIDTH, LABEL_SIZE, Weight::Plain),
                        (false, false) => label(&outcomes),
                    };
                    let to = self.place(goal);
                    self.ways.push(Way {
                        from: node.place(),
                        to,
                        outcomes,
                        otherwise,
                        label,
                        drawn: true,
                    });
                }
            }
            NodeKind::Narrow { then, .. } | NodeKind::Through { then, .. } => {
                let to = self.place(*then);
                self.ways.push(Way {
                    from: node.place(),
                    to,
                    outcomes: Vec::new(),
                    otherwise: true,
                    label: Vec::new(),
                    drawn: true,
                });
            }
            NodeKind::Leave | NodeKind::Halt { .. } | NodeKind::Close => {}
        }
    }

    /// Place of the box of a node, which is made when it belongs to another tree.
    fn place(&mut self, at: At) -> usize {
        let own = self.knowledge.trees[self.tree].nodes.len();
        if at.tree == self.tree {
            return at.node.0;
        }
        if let Some(place) = self.elsewhere.iter().position(|known| *known == at) {
            return own + place;
        }
        self.elsewhere.push(at);
        let tree = &self.knowledge.trees[at.tree];
        let node = &tree.nodes[at.node];
        let mut text = Text::default();
        text.add(Style::Small, "goes on in the tree");
        text.add(Style::Name, &words::spoken(&tree.id));
        text.add(Style::Small, &format!("at {}", node.id));
        self.boxes.push(Step {
            id: format!("{}/{}", tree.id, node.id),
            shape: Shape::Elsewhere,
            lines: text.lines,
            exits: Vec::new(),
            told: format!("Goes on in the tree {} at {}.", tree.id, node.id),
            leads: Leads::Tree(tree.id.clone()),
        });
        own + self.elsewhere.len() - 1
    }
}

/// Lines of a box as they gather.
#[derive(Default)]
struct Text {
    lines: Vec<Line>,
}

impl Text {
    fn add(&mut self, style: Style, text: &str) {
        let most = BOX_WIDTH - style.indent();
        let wrapped = match style {
            Style::Name => wrap_even(text, most, style.size(), style.weight()),
            _ => wrap(text, most, style.size(), style.weight()),
        };
        for (number, text) in wrapped.into_iter().enumerate() {
            // The bolt stands before the first line only.
            let style = match style {
                Style::ListedEnergised if number > 0 => Style::Listed,
                style => style,
            };
            self.lines.push(Line { text, style });
        }
    }
}

/// What is written on a way that these outcomes take: short ones narrow, many of them wider.
fn label(outcomes: &[String]) -> Vec<String> {
    let text = outcomes.join("; ");
    let most = match text.chars().count() {
        0..=60 => 140.0,
        61..=140 => 180.0,
        _ => 240.0,
    };
    wrap_even(&text, most, LABEL_SIZE, Weight::Plain)
}

fn shape_of(test: &Test) -> Shape {
    if test.is_powered() {
        Shape::Energised
    } else {
        Shape::Test
    }
}

/// How a test is written in a list.
pub(super) fn style_in_pool(test: &Test) -> Style {
    if test.is_powered() {
        Style::ListedEnergised
    } else {
        Style::Listed
    }
}

/// `A` to `Z`, then `AA`.
fn letter(number: usize) -> String {
    let mut rest = number;
    let mut letters = Vec::new();
    loop {
        letters.push(char::from(b'A' + u8::try_from(rest % 26).unwrap_or(0)));
        rest /= 26;
        if rest == 0 {
            break;
        }
        rest -= 1;
    }
    letters.into_iter().rev().collect()
}

#[cfg(test)]
mod tests {
    use super::letter;

    #[test]
    fn lists_run_out_of_letters_never() {
        assert_eq!(letter(0), "A");
        assert_eq!(letter(25), "Z");
        assert_eq!(letter(26), "AA");
        assert_eq!(letter(701), "ZZ");
        assert_eq!(letter(702), "AAA");
    }
}
