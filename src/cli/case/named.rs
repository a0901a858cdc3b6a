//! Which case is meant: a file, a name in the folder of cases, the beginning of an id, or the last one.

use std::fs;
use std::path::{Path, PathBuf};
use std::time::SystemTime;

use crate::cli::Problem;
use crate::cli::closed_cases::files;
use crate::cli::places::usual_folder;
use crate::journal;

/// The word for the case that was written last.
const LAST: &str = "last";

/// A shorter beginning of an id fits by chance.
const SHORTEST_ID: usize = 4;

/// The file of the case that is meant.
pub(in crate::cli) fn file(name: &Path) -> Result<PathBuf, Problem> {
    if is_there(name) {
        return Ok(name.to_owned());
    }
    find(name, &usual_folder()?)?.ok_or_else(|| {
        Problem::data(format!("there is no case `{}`", name.display()))
            .hint("`lineside case list` shows the cases there are; or give the file of one")
    })
}

/// The file of the case that is meant, or of a new one where no case is called so. A path is taken as it is.
pub(in crate::cli) fn or_new(name: &Path) -> Result<PathBuf, Problem> {
    let is_word = name.file_name() == Some(name.as_os_str());
    if is_there(name) || !is_word {
        return Ok(name.to_owned());
    }
    match usual_folder() {
        Ok(folder) => Ok(find(name, &folder)?.unwrap_or_else(|| name.to_owned())),
        // Nobody begins a case and calls it the last one.
        Err(problem) if name.as_os_str() == LAST => Err(problem),
        // Without a folder of cases no word calls one, and a new file can be named all the same.
        Err(_) => Ok(name.to_owned()),
    }
}

/// Whether there is such a file. A link that leads nowhere is there, too; opening says what it is.
fn is_there(name: &Path) -> bool {
    fs::symlink_metadata(name).is_ok()
}

/// The case of the folder that is called so, if one is.
fn find(name: &Path, folder: &Path) -> Result<Option<PathBuf>, Problem> {
    let Some(text) = name.to_str() else {
        return Ok(None);
    };
    if text == LAST {
        return last(folder).map(Some);
    }
    for ending in ["", ".jsonl"] {
        let path = folder.join(format!("{text}{ending}"));
        if fs::symlink_metadata(&path).is_ok_and(|about| about.is_file()) {
            return Ok(Some(path));
        }
    }
    let is_id = text.len() >= SHORTEST_ID && text.chars().all(|c| c.is_ascii_hexdigit());
    if !is_id {
        return Ok(None);
    }
    let mut with_id: Vec<PathBuf> = cases(folder)
        .into_iter()
        .filter(|path| has_id(path, &text.to_ascii_lowercase()))
        .collect();
    match (with_id.pop(), with_id.len()) {
        (None, _) => Ok(None),
        (Some(path), 0) => Ok(Some(path)),
        (Some(_), more) => Err(Problem::usage(format!(
            "{} cases have an id that begins with `{text}`",
            more + 1
        ))
        .hint("give more of it")),
    }
}

fn cases(folder: &Path) -> Vec<PathBuf> {
    let mut left_out = Vec::new();
    files(&[folder.to_owned()], &mut left_out)
}

fn has_id(path: &Path, beginning: &str) -> bool {
    let id = journal::sound_file(path)
        .ok()
        .and_then(|sound| sound.case.header.id);
    id.is_some_and(|id| id.starts_with(beginning))
}

/// The case whose file was written last.
fn last(folder: &Path) -> Result<PathBuf, Problem> {
    cases(folder)
        .into_iter()
        .filter_map(|path| Some((written(&path)?, path)))
        .max()
        .map(|(_, path)| path)
        .ok_or_else(|| {
            Problem::data(format!("there is no case in `{}`", folder.display())).hint("`lineside` starts one")
        })
}

fn written(path: &Path) -> Option<SystemTime> {
    fs::metadata(path).ok()?.modified().ok()
}

/// The name by which a person calls a case again: that of its file in the folder of cases, else the whole path.
pub(super) fn called(path: &Path) -> String {
    let in_folder = usual_folder()
        .ok()
        .as_deref()
        .is_some_and(|folder| path.parent() == Some(folder));
    match path.file_stem() {
        Some(stem) if in_folder => stem.to_string_lossy().into_owned(),
        _ => path.display().to_string(),
    }
}
