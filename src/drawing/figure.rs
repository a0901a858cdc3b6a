//! A tree ready to be drawn.

use thiserror::Error;

use crate::knowledge::model::{At, Knowledge, NodeKind, State, Test, TestIndex, Tree, TreeIndex};

use super::layers::{Laid, LayoutError, Size};
use super::measure::{Weight, widest, width, wrap, wrap_even};
use super::shape::Inset;
use super::{settle, words};

/// Pools of at most this many tests list them in their box; longer ones are listed under the picture.
const MOST_LISTED: usize = 5;
/// Widest line in a box, in pixels.
pub(super) const BOX_WIDTH: f64 = 150.0;

/// What kind of step a box is, which its outline tells.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Shape {
    /// A test with the equipment off, or one for which its state does not matter.
    Test,
    /// A test on energised equipment.
    Energised,
    /// A pool the engine picks from.
    Pool,
    /// A way through a shared tree and back.
    Through,
    /// A stop for safety.
    Halt,
    /// The end of a walk.
    Close,
    /// The end of a shared tree.
    Leave,
    /// The walk goes on in another tree.
    Elsewhere,
}

/// How a line is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Style {
    /// Id of the node, small and pale.
    Id,
    /// What the box is about, bold.
    Name,
    /// Anything else.
    Small,
    /// A test of a pool: small, set in.
    Listed,
    /// A test of a pool that is made on energised equipment: the same after a bolt.
    ListedEnergised,
    /// Outcomes of a way that is named in the box instead of drawn.
    Outcome,
    /// Id of the node where these lead, after an arrow.
    Goal,
    /// The rest of an id that is too long for a line.
    GoalMore,
}

impl Style {
    /// Font size in pixels.
    #[must_use]
    pub fn size(self) -> f64 {
        match self {
            Self::Id => 11.0,
            Self::Name => 14.0,
            Self::Small
            | Self::Listed
            | Self::ListedEnergised
            | Self::Outcome
            | Self::Goal
            | Self::GoalMore => 12.0,
        }
    }

    /// Weight it is measured in.
    #[must_use]
    pub fn weight(self) -> Weight {
        match self {
            Self::Name | Self::Goal | Self::GoalMore => Weight::Bold,
            _ => Weight::Plain,
        }
    }

    /// From one base line to the next.
    #[must_use]
    pub fn leading(self) -> f64 {
        match self {
            Self::Id => 15.0,
            Self::Name => 18.0,
            Self::Small | Self::Listed | Self::ListedEnergised | Self::Outcome => 15.0,
            Self::Goal | Self::GoalMore => 18.0,
        }
    }

    /// Pixels before the text, where a bolt or an arrow stands.
    #[must_use]
    pub fn indent(self) -> f64 {
        match self {
            Self::Listed | Self::ListedEnergised => 12.0,
            Self::Goal | Self::GoalMore => 15.0,
            _ => 0.0,
        }
    }
}

/// One line of text in a box.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// The text.
    pub text: String,
    /// How it is written.
    pub style: Style,
}

impl Line {
    /// Width in pixels with what stands before it.
    #[must_use]
    pub fn width(&self) -> f64 {
        self.style.indent() + width(&self.text, self.style.size(), self.style.weight())
    }
}

/// Where a box leads to when it is touched on the page.
#[derive(Clone, Debug, PartialEq)]
pub enum Leads {
    /// To a test, by id.
    Test(String),
    /// To a tree, by id.
    Tree(String),
    /// To the step itself in the list under the picture.
    Step,
}

/// One box: a node, or the way into another tree.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// Id of the node; `tree/node` for one of another tree.
    pub id: String,
    /// What kind of step it is.
    pub shape: Shape,
    /// Its text, line by line.
    pub lines: Vec<Line>,
    /// Ways that are named under the text instead of drawn.
    pub exits: Vec<Exit>,
    /// The same in one sentence, for whoever cannot see the picture.
    pub told: String,
    /// Where it leads.
    pub leads: Leads,
}

/// A way that is named in the box it leaves.
#[derive(Clone, Debug, PartialEq)]
pub struct Exit {
    /// Place of the box it leads to.
    pub to: usize,
    /// Its outcomes, then the id of the node it leads to.
    pub lines: Vec<Line>,
}

impl Step {
    /// All lines in the box: its text, then its exits.
    pub fn all_lines(&self) -> impl Iterator<Item = &Line> {
        self.lines
            .iter()
            .chain(self.exits.iter().flat_map(|exit| &exit.lines))
    }
}

/// One way from a box to another.
#[derive(Clone, Debug, PartialEq)]
pub struct Way {
    /// Place of the box it leaves.
    pub from: usize,
    /// Place of the box it leads to.
    pub to: usize,
    /// Outcomes that lead there; none when all do.
    pub outcomes: Vec<String>,
    /// Whether every outcome not named on another way leads there, and "could not check".
    pub otherwise: bool,
    /// What is written on it, line by line; nothing when all outcomes lead there.
    pub label: Vec<String>,
    /// Whether it is a line; a far one is named in the box it leaves instead.
    pub drawn: bool,
}

/// A pool too long for its box.
#[derive(Clone, Debug, PartialEq)]
pub struct PoolList {
    /// Letter that box and list share.
    pub letter: String,
    /// Place of its box.
    pub of: usize,
    /// Its tests.
    pub tests: Vec<TestIndex>,
}

/// A tree ready to be drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// Id of the tree.
    pub tree: String,
    /// What it is about.
    pub title: String,
    /// What it holds, in a few sentences.
    pub description: String,
    /// Boxes: the tree's nodes in their order, then those of other trees it leads into.
    pub boxes: Vec<Step>,
    /// Ways.
    pub ways: Vec<Way>,
    /// Pools listed under the picture.
    pub pools: Vec<PoolList>,
    /// Where everything lies.
    pub laid: Laid,
}

/// Why a tree cannot be drawn.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum FigureError {
    /// Its routes go round.
    #[error(
        "the routes of `{tree}` go round by way of `{node}` (see the round with `lineside trees check --only cycle`)"
    )]
    Round {
        /// The tree.
        tree: String,
        /// A node on the round.
        node: String,
    },
    /// A defect of this program.
    #[error("`{tree}` cannot be laid out: {source}")]
    Layout {
        /// The tree.
        tree: String,
        /// What is wrong.
        source: LayoutError,
    },
}

impl Figure {
    /// Makes the figure of a tree.
    ///
    /// # Errors
    /// When the tree's own routes go round, which `lineside trees check` reports and loading does not refuse.
    pub fn new(knowledge: &Knowledge, tree: TreeIndex) -> Result<Self, FigureError> {
        let known = &knowledge.trees[tree.0];
        let mut builder = Builder {
            knowledge,
            tree,
            boxes: Vec::new(),
            ways: Vec::new(),
            pools: Vec::new(),
            elsewhere: Vec::new(),
        };
        for node in 0..known.nodes.len() {
            builder.add_box(node);
        }
        for node in 0..known.nodes.len() {
            builder.add_ways(node);
        }
        let Builder {
            mut boxes,
            mut ways,
            pools,
            ..
        } = builder;
        let laid = settle::settle(&mut boxes, &mut ways).map_err(|source| match source {
            LayoutError::Round { box_on_it } => FigureError::Round {
                tree: known.id.clone(),
                node: boxes[box_on_it].id.clone(),
            },
            source @ LayoutError::NoSuchBox { .. } => FigureError::Layout {
                tree: known.id.clone(),
                source,
            },
        })?;
        Ok(Self {
            tree: known.id.clone(),
            title: words::name_of(known),
            description: describe(known, &boxes),
            boxes,
            ways,
            pools,
            laid,
        })
    }
}

/// Font size of a label on a way, in pixels.
pub(super) const LABEL_SIZE: f64 = 12.0;
/// From one line of a label to the next.
pub(super) const LABEL_LEADING: f64 = 15.0;
/// Clear pixels around a label.
pub(super) const LABEL_INSET: Inset = Inset { x: 4.0, y: 3.0 };

/// Room for a label; none for a way without one.
pub(super) fn label_size(lines: &[String]) -> Option<Size> {
    (!lines.is_empty()).then(|| Size {
        width: widest(lines, LABEL_SIZE, Weight::Plain) + 2.0 * LABEL_INSET.x,
        height: LABEL_LEADING * lines.len() as f64 + 2.0 * LABEL_INSET.y,
    })
}

fn describe(tree: &Tree, boxes: &[Step]) -> String {
    let count = |shapes: &[Shape]| boxes.iter().filter(|one| shapes.contains(&one.shape)).count();
    let start = tree
        .nodes
        .get(tree.start.0)
        .map_or("nothing", |node| node.id.as_str());
    format!(
        "A drawing of {} steps from top to bottom, beginning at {start}: {} tests, {} of them on energised \
         equipment, {} pools of tests, {} ways through shared trees, {} stops for safety.",
        tree.nodes.len(),
        count(&[Shape::Test, Shape::Energised]),
        count(&[Shape::Energised]),
        count(&[Shape::Pool]),
        count(&[Shape::Through]),
        count(&[Shape::Halt]),
    )
}

struct Builder<'k> {
    knowledge: &'k Knowledge,
    tree: TreeIndex,
    boxes: Vec<Step>,
    ways: Vec<Way>,
    pools: Vec<PoolList>,
    elsewhere: Vec<At>,
}

impl Builder<'_> {
    fn add_box(&mut self, node: usize) {
        let tree = &self.knowledge.trees[self.tree.0];
        let node = &tree.nodes[node];
        let mut text = Text::default();
        text.add(Style::Id, &node.id);
        let (shape, told, leads) = match &node.kind {
            NodeKind::Test { test, .. } => {
                let test = &self.knowledge.tests[test.0];
                text.add(Style::Name, &test.name);
                text.add(Style::Small, &words::manner(test, false));
                let told = format!("{}. {}", test.name, test.ask);
                (shape_of(test), told, Leads::Test(test.id.clone()))
            }
            NodeKind::Narrow { pool, .. } => {
                let count = format!("Pool of {}", crate::knowledge::render::count(pool.len(), "test"));
                text.add(Style::Name, &count);
                if pool.len() <= MOST_LISTED {
                    for test in pool {
                        let test = &self.knowledge.tests[test.0];
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
                let shared = &self.knowledge.trees[start.tree.0];
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

    fn add_ways(&mut self, node: usize) {
        let knowledge = self.knowledge;
        match &knowledge.trees[self.tree.0].nodes[node].kind {
            NodeKind::Test { test, to, unknown } => {
                // Outcomes by where they lead, in the order in which they are asked.
                let mut goals: Vec<(At, Vec<usize>)> = Vec::new();
                for (outcome, at) in to.iter().enumerate() {
                    match goals.iter_mut().find(|(goal, _)| goal == at) {
                        Some((_, outcomes)) => outcomes.push(outcome),
                        None => goals.push((*at, vec![outcome])),
                    }
                }
                if !goals.iter().any(|(goal, _)| goal == unknown) {
                    goals.push((*unknown, Vec::new()));
                }
                let alone = goals.len() == 1;
                for (goal, outcomes) in goals {
                    let test = &knowledge.tests[test.0];
                    let outcomes: Vec<String> = outcomes
                        .into_iter()
                        .map(|outcome| test.outcomes[outcome].label.clone())
                        .collect();
                    let otherwise = goal == *unknown;
                    let label = match (alone, otherwise) {
                        (true, _) => Vec::new(),
                        (false, true) => wrap("otherwise", BOX_WIDTH, LABEL_SIZE, Weight::Plain),
                        (false, false) => label(&outcomes),
                    };
                    let to = self.place(goal);
                    self.ways.push(Way {
                        from: node,
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
                    from: node,
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
        let own = self.knowledge.trees[self.tree.0].nodes.len();
        if at.tree == self.tree {
            return at.node.0;
        }
        if let Some(place) = self.elsewhere.iter().position(|known| *known == at) {
            return own + place;
        }
        self.elsewhere.push(at);
        let tree = &self.knowledge.trees[at.tree.0];
        let node = &tree.nodes[at.node.0];
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
    match test.state {
        State::Energised => Shape::Energised,
        State::Any | State::LockedOut => Shape::Test,
    }
}

/// How a test is written in a list.
pub(super) fn style_in_pool(test: &Test) -> Style {
    match test.state {
        State::Energised => Style::ListedEnergised,
        State::Any | State::LockedOut => Style::Listed,
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
