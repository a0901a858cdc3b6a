//! Where cases are kept, and how that is said.

use std::path::{Path, PathBuf};

use etcetera::BaseStrategy;
use jiff::Timestamp;
use jiff::tz::TimeZone;

use super::{Problem, settings};

/// The folder of cases of the settings, else where the platform keeps such data.
pub(super) fn usual_folder() -> Result<PathBuf, Problem> {
    match &settings::held().cases_folder {
        Some(folder) => Ok(folder.clone()),
        None => platform_folder(),
    }
}

/// Where cases are kept by the conventions of the platform.
fn platform_folder() -> Result<PathBuf, Problem> {
    let hint = "say where to keep the case with `--case FILE`";
    kept("cases", hint, hint)
}

/// A folder by the conventions of the platform; hints say what to do without a home, and where it is a link.
pub(super) fn kept(name: &str, homeless: &str, linked: &str) -> Result<PathBuf, Problem> {
    let strategy = etcetera::choose_base_strategy()
        .map_err(|error| Problem::data(format!("cannot find the home folder: {error}")).hint(homeless))?;
    let own = strategy.data_dir().join("lineside");
    let inner = own.join(name);
    // What is kept there is private, and a link could lead it to a place that is not.
    for folder in [&own, &inner] {
        if folder.is_symlink() {
            let message = format!("`{}` is a link and is not followed", folder.display());
            return Err(Problem::data(message).hint(linked));
        }
    }
    Ok(inner)
}

/// A file name that is not taken, made of the local date and time.
pub(super) fn new_path(folder: &Path) -> PathBuf {
    let time = Timestamp::now()
        .to_zoned_datetime(TimeZone::system())
        .strftime("%Y-%m-%d-%H%M%S")
        .to_string();
    let plain = folder.join(format!("{time}.jsonl"));
    if !plain.exists() {
        return plain;
    }
    (2..)
        .map(|number| folder.join(format!("{time}-{number}.jsonl")))
        .find(|path| !path.exists())
        .unwrap_or(plain)
}

/// A path as it is typed at a command.
pub(super) fn quoted(path: &Path) -> String {
    let shown = path.display().to_string();
    if shown.contains(char::is_whitespace) {
        format!("\"{shown}\"")
    } else {
        shown
    }
}
