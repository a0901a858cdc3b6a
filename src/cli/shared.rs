//! The options every command takes.

use clap::Args;

use super::knowledge::Folder;
use super::options::Color;
use super::settings;

/// Options every command takes.
#[derive(Args, Clone, Debug, Default)]
pub struct Shared {
    /// Where the knowledge is read from.
    #[command(flatten)]
    pub knowledge: Folder,
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

/// Whether to ask in plain lines.
#[derive(Args, Clone, Copy, Debug, Default)]
pub(super) struct Plain {
    /// Plain lines in place of lists to move in
    #[arg(
        long,
        value_name = "YES",
        num_args = 0..=1,
        require_equals = true,
        default_missing_value = "true",
        hide_possible_values = true
    )]
    plain: Option<bool>,
}

impl Plain {
    /// By the option, else by the settings.
    pub(super) fn is_wanted(self) -> bool {
        self.plain.or(settings::held().plain_screen).unwrap_or_default()
    }
}
