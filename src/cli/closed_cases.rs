//! The closed cases of a shop: found in folders, read under their lock, each counted once.

use std::collections::btree_map::Entry;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use jiff::Timestamp;

use crate::journal::{self, Case};
use crate::walk::Event;

/// A closed case.
pub(super) struct Closed {
    pub(super) complaint: String,
    pub(super) cause: Option<String>,
    pub(super) proved: bool,
    pub(super) at: Timestamp,
}

/// What was found under the paths given.
#[derive(Default)]
pub(super) struct Gathered {
    pub(super) closed: Vec<Closed>,
    /// Cases that were never closed.
    pub(super) open: usize,
    /// What was not counted, a sentence for each.
    pub(super) left_out: Vec<String>,
}

/// Reads every case under the paths given. What cannot be read is left out and said, and the others are read on.
///
/// Links are not followed. A case counts once, by its id: of several copies the one that was closed last.
pub(super) fn gather(paths: &[PathBuf]) -> Gathered {
    let mut gathered = Gathered::default();
    let mut cases: BTreeMap<String, (PathBuf, Option<Closed>)> = BTreeMap::new();
    let mut comes_after: BTreeMap<String, (Timestamp, String)> = BTreeMap::new();
    let mut invented = 0;
    for path in files(paths, &mut gathered.left_out) {
        let case = match journal::read_file(&path) {
            Ok(case) => case,
            Err(error) => {
                gathered.left_out.push(error.to_string());
                continue;
            }
        };
        if case.header.invented {
            invented += 1;
            continue;
        }
        let identity = case.header.identity();
        if let Some(before) = before(&case) {
            let this = (case.header.opened, identity.clone());
            // Of several callbacks the first, as in the review.
            let first = comes_after.entry(before).or_insert_with(|| this.clone());
            if this < *first {
                *first = this;
            }
        }
        let mut found = (path, last_closing(case));
        match cases.entry(identity) {
            Entry::Vacant(place) => {
                place.insert(found);
            }
            Entry::Occupied(mut place) => {
                let at = |case: &Option<Closed>| case.as_ref().map(|closed| closed.at);
                if at(&found.1) > at(&place.get().1) {
                    std::mem::swap(&mut found, place.get_mut());
                }
                gathered.left_out.push(format!(
                    "`{}` is a copy of the case in `{}`",
                    found.0.display(),
                    place.get().0.display()
                ));
            }
        }
    }
    if invented > 0 {
        gathered
            .left_out
            .push(format!("{invented} invented cases: nobody was there"));
    }
    let disproved: Vec<String> = comes_after
        .into_iter()
        .filter(|(id, (_, callback))| {
            let closed = |id: &str| cases.get(id).and_then(|(_, closed)| closed.as_ref());
            closed(id)
                .zip(closed(callback))
                .is_some_and(|(before, now)| now.proved && now.cause != before.cause)
        })
        .map(|(id, _)| id)
        .collect();
    if !disproved.is_empty() {
        gathered.left_out.push(format!(
            "{} cases that came back, and were then proved to have been something else",
            disproved.len()
        ));
    }
    for (id, (_, closed)) in cases {
        match closed {
            Some(_) if disproved.contains(&id) => {}
            Some(closed) => gathered.closed.push(closed),
            None => gathered.open += 1,
        }
    }
    gathered
}

/// The files given and those of the folders given that have the ending of a case, in the order of their names.
pub(super) fn files(paths: &[PathBuf], left_out: &mut Vec<String>) -> Vec<PathBuf> {
    // By their real places, so that a file under two of the paths is no copy of itself.
    let mut found: BTreeMap<PathBuf, PathBuf> = BTreeMap::new();
    let mut folders: BTreeSet<PathBuf> = BTreeSet::new();
    let real = |path: &Path| fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
    // Taken from its end, hence the first path given last.
    let mut to_see: Vec<(PathBuf, bool)> = paths.iter().rev().map(|path| (path.clone(), true)).collect();
    while let Some((path, named)) = to_see.pop() {
        let is_case = path.extension().is_some_and(|ending| ending == "jsonl");
        match look(&path) {
            Ok(Found::Link) => left_out.push(format!("`{}` is a link and is not followed", path.display())),
            Ok(Found::Folder(_)) if !folders.insert(real(&path)) => {}
            Ok(Found::Folder(inside)) => to_see.extend(inside.into_iter().map(|path| (path, false))),
            Ok(Found::Other) if named || is_case => {
                found.entry(real(&path)).or_insert(path);
            }
            Ok(Found::Other) => {}
            Err(error) => left_out.push(format!("cannot read `{}`: {error}", path.display())),
        }
    }
    let mut files: Vec<PathBuf> = found.into_values().collect();
    files.sort();
    left_out.sort();
    left_out.dedup();
    files
}

enum Found {
    Link,
    Folder(Vec<PathBuf>),
    Other,
}

fn look(path: &Path) -> std::io::Result<Found> {
    let about = fs::symlink_metadata(path)?;
    if about.is_symlink() {
        return Ok(Found::Link);
    }
    if !about.is_dir() {
        return Ok(Found::Other);
    }
    let inside: Result<_, _> = fs::read_dir(path)?
        .map(|entry| entry.map(|entry| entry.path()))
        .collect();
    Ok(Found::Folder(inside?))
}

/// The case this one is a callback of.
fn before(case: &Case) -> Option<String> {
    case.records.iter().find_map(|record| match &record.event {
        Event::Callback { case, .. } => Some(case.clone()),
        _ => None,
    })
}

/// The last closing of a case, or nothing when it was never closed.
fn last_closing(case: Case) -> Option<Closed> {
    let mut complaint = None;
    let mut closed = None;
    for record in case.records {
        match record.event {
            Event::Complaint { complaint: given } => complaint = Some(given),
            Event::Closed { cause, proved, .. } => closed = Some((cause, proved, record.at)),
            _ => {}
        }
    }
    complaint
        .zip(closed)
        .map(|(complaint, (cause, proved, at))| Closed {
            complaint,
            cause,
            proved,
            at,
        })
}
