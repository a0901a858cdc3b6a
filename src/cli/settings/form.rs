//! What a file of settings can say.

use std::path::PathBuf;

use crate::cli::options::Color;

/// What the settings say. What is not there is as it is built in.
#[derive(Clone, Debug, Default, PartialEq)]
pub(in crate::cli) struct Settings {
    /// Where cases are kept.
    pub(in crate::cli) cases_folder: Option<PathBuf>,
    /// Cause frequencies learned from a shop's cases.
    pub(in crate::cli) shop_file: Option<PathBuf>,
    /// Edition of the code in force.
    pub(in crate::cli) edition: Option<String>,
    /// Who makes the cases.
    pub(in crate::cli) technician: Option<String>,
    /// Lines in place of lists to move in.
    pub(in crate::cli) plain_screen: Option<bool>,
    /// When to color.
    pub(in crate::cli) color: Option<Color>,
}
