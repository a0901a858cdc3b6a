//! A tree ready to be drawn.

use thiserror::Error;

use crate::knowledge::model::{Knowledge, TestIndex, Tree, TreeIndex};

use super::build::Builder;
use super::layers::{Laid, LayoutError, Size};
use super::measure::{Weight, widest};
use super::shape::Inset;
use super::step::{Shape, Step};
use super::{settle, words};

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
        let Builder {
            mut boxes,
            mut ways,
            pools,
            ..
        } = Builder::new(knowledge, tree);
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
        "A drawing of {} steps from top to bottom, beginning at {start}: {} tests, {} of them on energized \
         equipment, {} pools of tests, {} ways through shared trees, {} stops for safety.",
        tree.nodes.len(),
        count(&[Shape::Test, Shape::Energised]),
        count(&[Shape::Energised]),
        count(&[Shape::Pool]),
        count(&[Shape::Through]),
        count(&[Shape::Halt]),
    )
}
