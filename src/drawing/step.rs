//! What a box of a drawing is and says.

use super::measure::{Weight, width};

/// Widest line in a box, in pixels.
pub(super) const BOX_WIDTH: f64 = 150.0;

/// What kind of step a box is, which its outline tells.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Shape {
    /// A test with the equipment off, or one for which its state does not matter.
    Test,
    /// A test on energized equipment.
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
    /// A test of a pool that is made on energized equipment: the same after a bolt.
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
            Self::Small
            | Self::Listed
            | Self::ListedEnergised
            | Self::Outcome
            | Self::Goal
            | Self::GoalMore => 15.0,
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
    /// As shown, nothing escaped yet.
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
    /// What touching it opens.
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
