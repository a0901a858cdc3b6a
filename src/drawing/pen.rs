//! Writing elements of SVG.

use std::fmt::Write as _;

use super::escape::escape;

/// Elements written one after another.
#[derive(Default)]
pub(super) struct Pen {
    /// What is written so far.
    pub(super) text: String,
}

impl Pen {
    /// Writes as is.
    pub(super) fn raw(&mut self, text: &str) {
        self.text.push_str(text);
    }

    /// Writes a path.
    pub(super) fn path(&mut self, class: &str, data: &str) {
        // Writing to a string cannot fail.
        let _ = write!(self.text, "<path class=\"{class}\" d=\"{data}\"/>");
    }

    /// Writes a line of text that begins at `x` on the base line `y`.
    pub(super) fn text(&mut self, class: &str, x: f64, y: f64, text: &str) {
        let _ = write!(
            self.text,
            "<text class=\"d-text {class}\" x=\"{x:.1}\" y=\"{y:.1}\">{}</text>",
            escape(text)
        );
    }

    /// Writes a line of text with its middle at `x`; `free` is the room it leaves, for whoever reads the code.
    pub(super) fn centered(&mut self, class: &str, x: f64, y: f64, text: &str, free: f64) {
        debug_assert!(free >= 0.0, "`{text}` is wider than its place");
        let _ = write!(
            self.text,
            "<text class=\"d-text {class}\" text-anchor=\"middle\" x=\"{x:.1}\" y=\"{y:.1}\">{}</text>",
            escape(text)
        );
    }
}
