//! Defaults that stay: a file of settings in the platform's place, read once when the program starts.
//!
//! Every key can be overridden by an option for one run. A key nobody knows is said with its line and left out; a value
//! that cannot be is refused, since going on without it could lead a case by other frequencies or to another folder.

mod form;
mod keys;
mod read;
mod show;

use std::path::PathBuf;
use std::sync::OnceLock;

use clap::Args;
use etcetera::BaseStrategy;
use form::Settings;

use super::Problem;

pub(super) use show::{EXAMPLES, SettingsArgs, run};

/// Which file of settings to read.
#[derive(Args, Clone, Debug, Default)]
pub(super) struct Choice {
    /// Read the settings from this file instead of the usual place
    #[arg(long, value_name = "FILE.toml", global = true, hide = true)]
    settings: Option<PathBuf>,
    /// Read no settings: everything as it is built in
    #[arg(long, global = true, hide = true, conflicts_with = "settings")]
    no_settings: bool,
}

impl Choice {
    /// The file, when one is to be read, and whether the person named it.
    fn file(&self) -> Result<Option<(PathBuf, bool)>, Problem> {
        if self.no_settings {
            return Ok(None);
        }
        if let Some(path) = &self.settings {
            return Ok(Some((path.clone(), true)));
        }
        Ok(usual_place().map(|path| (path, false)))
    }
}

/// The settings of this run.
static HELD: OnceLock<Settings> = OnceLock::new();

/// What holds in this run; before [`hold`], what is built in.
pub(super) fn held() -> &'static Settings {
    static BUILT_IN: Settings = Settings {
        cases_folder: None,
        shop_file: None,
        edition: None,
        technician: None,
        plain_screen: None,
        color: None,
    };
    HELD.get().unwrap_or(&BUILT_IN)
}

/// Reads the settings for this run, and says what in them nobody knows.
///
/// # Errors
/// When the file is no TOML, has a value that cannot be, or was named and is not there.
pub(super) fn hold(choice: &Choice) -> Result<(), Problem> {
    let Some((path, named)) = choice.file()? else {
        return Ok(());
    };
    if !named && std::fs::symlink_metadata(&path).is_err() {
        return Ok(());
    }
    let found = read::file(&path)?;
    for unknown in &found.unknown {
        super::printing::remark(&format!("{}: {unknown}", path.display()));
    }
    if let Some(wrong) = found.wrong.first() {
        return Err(Problem::data(format!("{}: {wrong}", path.display()))
            .hint("`lineside settings` shows every key and what it takes; `--no-settings` goes without"));
    }
    // The program reads its settings once.
    let _ = HELD.set(found.settings);
    Ok(())
}

/// Where the settings stand by the conventions of the platform; nothing without a home folder.
fn usual_place() -> Option<PathBuf> {
    let strategy = etcetera::choose_base_strategy().ok()?;
    Some(strategy.config_dir().join("lineside").join("settings.toml"))
}
