//! What was typed at `lineside diagnose`.

use std::path::{Path, PathBuf};

use clap::Args;
use clap::builder::PossibleValuesParser;

use crate::quantity::Word;
use crate::standards::rule::Edition;

use super::case_file::Whereabouts;
use super::learn::Shop;
use super::options::Printed;
use super::settings;
use super::shared::{Plain, Shared};

/// What was typed.
#[derive(Args, Clone, Debug, Default)]
pub(crate) struct DiagnoseArgs {
    /// Go on with this case (its file, its name, the beginning of its id, or `last`), or keep a new one in this file
    #[arg(long, value_name = "NAME")]
    case: Option<PathBuf>,
    /// Keep a new case in this folder
    #[arg(long, value_name = "DIR", conflicts_with = "case")]
    cases: Option<PathBuf>,
    /// Take the answers from this file instead of asking
    #[arg(long, value_name = "FILE.toml")]
    pub(super) answers: Option<PathBuf>,
    #[command(flatten)]
    pub(super) shop: Shop,
    /// Edition of the code in force: 2014, 2017, 2020, 2023 or 2026
    #[arg(long, value_name = "YEAR", value_parser = PossibleValuesParser::new(Edition::WORDS), hide_possible_values = true)]
    edition: Option<String>,
    #[command(flatten)]
    plain: Plain,
    #[command(flatten)]
    pub(super) print: Printed,
    /// In JSON, list every cause and not only those of 1 % and more, ten at most
    #[arg(long)]
    pub(super) all_causes: bool,
    #[command(flatten)]
    pub(super) who: Whereabouts,
    #[command(flatten)]
    pub(super) shared: Shared,
}

impl DiagnoseArgs {
    /// The case file given, or what calls a case.
    pub(super) fn case(&self) -> Option<&Path> {
        self.case.as_deref()
    }

    /// The folder given for a new case.
    pub(super) fn cases(&self) -> Option<&Path> {
        self.cases.as_deref()
    }

    /// Whether to ask in plain lines.
    pub(super) fn plain(&self) -> bool {
        self.plain.is_wanted()
    }

    /// The edition of the code in force, as an option or in the settings.
    pub(super) fn edition(&self) -> Option<&str> {
        self.edition.as_deref().or(settings::held().edition.as_deref())
    }

    /// Who works on the case, and where.
    pub(super) fn who(&self) -> &Whereabouts {
        &self.who
    }

    /// The options every command takes.
    pub(super) fn shared(&self) -> &Shared {
        &self.shared
    }
}
