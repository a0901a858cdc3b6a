//! What is laid out, and what comes of it: sizes, places and ways.

use thiserror::Error;

/// Width and height, in pixels.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Size {
    /// Across.
    pub width: f64,
    /// Down.
    pub height: f64,
}

/// One way from a box to another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Link {
    /// Place of the box it leaves.
    pub from: usize,
    /// Place of the box it leads to.
    pub to: usize,
    /// Size of its label, if it has one.
    pub label: Option<Size>,
    /// Whether it is drawn as a line; if not, it only keeps the box it leads to in a lower row.
    pub drawn: bool,
}

/// What is to be laid out.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Plan {
    /// Sizes of the boxes.
    pub boxes: Vec<Size>,
    /// Ways between them.
    pub links: Vec<Link>,
}

/// A rectangle on the page, in pixels from its upper left corner.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Area {
    /// Left edge.
    pub left: f64,
    /// Upper edge.
    pub top: f64,
    /// Across.
    pub width: f64,
    /// Down.
    pub height: f64,
}

impl Area {
    /// Right edge.
    #[must_use]
    pub fn right(self) -> f64 {
        self.left + self.width
    }

    /// Lower edge.
    #[must_use]
    pub fn bottom(self) -> f64 {
        self.top + self.height
    }

    /// Middle between left and right.
    #[must_use]
    pub fn middle(self) -> f64 {
        self.left + self.width / 2.0
    }
}

/// A point on the page.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// From the left.
    pub x: f64,
    /// From the top.
    pub y: f64,
}

/// A piece of a way. Between points of the same `x` it is straight down; else it swings over, leaving and arriving
/// straight down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Piece {
    /// Where it begins.
    pub from: Point,
    /// Where it ends, never above `from`.
    pub to: Point,
}

/// The finished layout.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Laid {
    /// Of the whole.
    pub size: Size,
    /// Where each box lies.
    pub boxes: Vec<Area>,
    /// Where the label of each way lies.
    pub labels: Vec<Option<Area>>,
    /// The pieces of each way, from its box to the next; a label stands between two of them. None for a way that is
    /// not drawn.
    pub routes: Vec<Vec<Piece>>,
    /// Row of each box, from 0 at the top.
    pub rows: Vec<usize>,
}

/// Why a plan cannot be laid out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum LayoutError {
    /// The ways go round.
    #[error("the ways from box {box_on_it} lead back to it")]
    Round {
        /// A box on the round.
        box_on_it: usize,
    },
    /// A way leads from or to a box that there is not.
    #[error("way {link} names a box that there is not")]
    NoSuchBox {
        /// Place of the way.
        link: usize,
    },
}
