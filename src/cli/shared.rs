//! The options every command takes.

use std::path::PathBuf;

use clap::Args;

use super::options::Color;
use super::settings;

/// Options every command takes.
#[derive(Args, Clone, Debug, Default)]
pub struct Shared {
    /// Read the knowledge from this folder instead of the one compiled in
    #[arg(long, value_name = "DIR")]
    pub trees: Option<PathBuf>,
    /// Color: auto, always or never; auto obeys NO_COLOR
    #[arg(long, value_enum, value_name = "WHEN", hide_possible_values = true)]
    pub color: Option<Color>,
}

impl Shared {
    /// Whether to color what goes to a stream that is or is not a terminal: by the option, else by the settings.
    #[must_use]
    pub fn colors(&self, is_terminal: bool) -> bool {
        Color::held(self.color).decide(is_terminal)
    }
}

impl Color {
    /// What was given as an option, else what the settings say.
    #[must_use]
    pub fn held(given: Option<Self>) -> Self {
        given.or(settings::held().color).unwrap_or_default()
    }
}
