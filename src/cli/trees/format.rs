//! In which form `trees` prints.

use clap::ValueEnum;

/// How to print.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum Format {
    /// For a person
    #[default]
    Text,
    /// One line for each finding or entry
    Short,
    /// For a program
    Json,
}
