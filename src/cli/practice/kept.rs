//! The file of runs: where it is, adding to it, reading it.

use std::fs::OpenOptions;
use std::io::{self, Read, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};

use crate::cli::{Problem, places};
use crate::files::{self, Limit, Links};
use crate::practice::{Entry, Listed, Record};

/// Some hundred thousand runs.
const LARGEST: Limit = Limit {
    what: "a record of practice",
    bytes: 64 * 1024 * 1024,
};

/// Where runs are kept by the conventions of the platform: beside the folder of cases, never in it.
pub(super) fn usual_file() -> Result<PathBuf, Problem> {
    let folder = places::kept(
        "practice",
        "say where to write with `--record FILE`, or write nothing with `--no-record`",
        "say where to write with `--record FILE`",
    )?;
    Ok(folder.join("runs.jsonl"))
}

/// Adds a run, and syncs it.
pub(super) fn append(path: &Path, entry: &Entry) -> Result<(), Problem> {
    let line = entry
        .line()
        .map_err(|error| Problem::data(format!("cannot write the run: {error}")))?;
    if let Some(folder) = path.parent() {
        files::create_private_folder(folder).map_err(|error| cannot(folder, &error))?;
    }
    let mut file = match files::create_private(path) {
        Ok(file) => file,
        Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {
            files::open(path, OpenOptions::new().read(true).append(true), Links::Refuse)?
        }
        Err(error) => return Err(cannot(path, &error)),
    };
    let written = is_torn(&mut file)
        // The next line must not continue one that a crash cut off.
        .and_then(|torn| file.write_all(if torn { b"\n" } else { b"" }))
        .and_then(|()| file.write_all(line.as_bytes()))
        .and_then(|()| file.sync_all());
    written.map_err(|error| cannot(path, &error))
}

fn is_torn(file: &mut std::fs::File) -> io::Result<bool> {
    if file.metadata()?.len() == 0 {
        return Ok(false);
    }
    file.seek(SeekFrom::End(-1))?;
    let mut last = [0];
    file.read_exact(&mut last)?;
    Ok(last != [b'\n'])
}

fn cannot(path: &Path, error: &io::Error) -> Problem {
    Problem::data(format!("cannot write `{}`: {error}", path.display()))
        .hint("say where to write with `--record FILE`, or write nothing with `--no-record`")
}

/// Reads the runs; none where there is no file.
pub(super) fn read(path: &Path) -> Result<Record, Problem> {
    if !path.exists() {
        return Ok(Record::default());
    }
    let bytes = files::read(path, LARGEST)?;
    Ok(Record::read(&String::from_utf8_lossy(&bytes)))
}

/// How often each exercise of the list was walked to its end. What cannot be read counts as nothing: it only helps to choose.
pub(super) fn walked(path: Option<&Path>, listed: &[Listed]) -> Vec<usize> {
    let record = path.and_then(|path| read(path).ok()).unwrap_or_default();
    listed
        .iter()
        .map(|listed| {
            let of = |entry: &&Entry| entry.exercise.as_deref() == Some(&listed.id);
            record.entries.iter().filter(of).count()
        })
        .collect()
}
