//! What was typed at `lineside diagnose`.

use std::path::{Path, PathBuf};

use clap::Args;

use crate::knowledge::model::Knowledge;
use crate::standards::rule::Edition;
use crate::walk::Walk;

use super::case_file::Whereabouts;
use super::options::Format;
use super::shared::Shared;
use super::{Problem, learn, settings};

/// What was typed.
#[derive(Args, Clone, Debug, Default)]
pub(crate) struct DiagnoseArgs {
    /// Keep the case in this file, or go on with it when it exists
    #[arg(long, value_name = "FILE")]
    pub(super) case: Option<PathBuf>,
    /// Keep a new case in this folder
    #[arg(long, value_name = "DIR", conflicts_with = "case")]
    cases: Option<PathBuf>,
    /// Take the answers from this file instead of asking
    #[arg(long, value_name = "FILE.toml")]
    pub(super) answers: Option<PathBuf>,
    /// Use cause frequencies learned from a shop's cases by `lineside learn`
    #[arg(long, value_name = "FILE.toml")]
    shop: Option<PathBuf>,
    /// Edition of the code in force: 2014, 2017, 2020, 2023 or 2026
    #[arg(long, value_name = "YEAR", value_parser = Edition::IDS, hide_possible_values = true)]
    edition: Option<String>,
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
    /// Form of the result
    #[arg(
        long,
        value_enum,
        value_name = "FORM",
        default_value = "text",
        hide_default_value = true
    )]
    pub(super) format: Format,
    /// In JSON, list every cause and not only those of 1 % and more, ten at most
    #[arg(long)]
    pub(super) all_causes: bool,
    #[command(flatten)]
    pub(super) who: Whereabouts,
    #[command(flatten)]
    pub(super) shared: Shared,
}

impl DiagnoseArgs {
    /// The case file given.
    pub(super) fn case(&self) -> Option<&Path> {
        self.case.as_deref()
    }

    /// The folder given for a new case.
    pub(super) fn cases(&self) -> Option<&Path> {
        self.cases.as_deref()
    }

    /// Whether to ask in plain lines.
    pub(super) fn plain(&self) -> bool {
        self.plain.or(settings::held().plain_screen).unwrap_or_default()
    }

    /// The edition of the code in force, as an option or in the settings.
    pub(super) fn edition(&self) -> Option<&str> {
        self.edition.as_deref().or(settings::held().edition.as_deref())
    }

    /// Who works on the case, and where.
    pub(super) fn who(&self) -> &Whereabouts {
        &self.who
    }

    /// A new walk, with what the shop has learned where that is asked for.
    pub(super) fn walk<'k>(&self, knowledge: &'k Knowledge) -> Result<Walk<'k>, Problem> {
        let walk = Walk::new(knowledge);
        match self.shop.as_ref().or(settings::held().shop_file.as_ref()) {
            None => Ok(walk),
            Some(path) => Ok(walk.learned(learn::counts(path)?)),
        }
    }

    /// The options every command takes.
    pub(super) fn shared(&self) -> &Shared {
        &self.shared
    }
}
