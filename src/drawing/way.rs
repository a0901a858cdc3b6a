//! The way from a box to another, and the label on it.

use super::layers::Size;
use super::measure::{Weight, widest};
use super::shape::Inset;

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
