//! A tree ready to be drawn.

use thiserror::Error;

use crate::knowledge::model::{Knowledge, Tree, TreeIndex};

use super::build::{Builder, PoolList};
use super::layers::{Laid, LayoutError};
use super::step::{Shape, Step};
use super::way::Way;
use super::{settle, words};

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
    /// Those drawn from box to box; others are named in their box.
    pub ways: Vec<Way>,
    /// Pools listed under the picture.
    pub pools: Vec<PoolList>,
    /// Where everything lies.
    pub laid: Laid,
}

/// Why a tree cannot be drawn.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[expect(missing_docs, reason = "what a name leaves unsaid is added")]
pub enum FigureError {
    /// Its routes go round.
    #[error(
        "the routes of `{tree}` go round by way of `{node}` (see the round with `lineside trees check --only cycle`)"
    )]
    Round {
        tree: String,
        /// A node on the round.
        node: String,
    },
    /// A defect of this program.
    #[error("`{tree}` cannot be laid out: {source}")]
    Layout {
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
        let known = &knowledge.trees[tree];
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

fn describe(tree: &Tree, boxes: &[Step]) -> String {
    let count = |shapes: &[Shape]| boxes.iter().filter(|one| shapes.contains(&one.shape)).count();
    let start = tree
        .nodes
        .get(tree.start)
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
