//! From files to rows: in parallel, some files at a time, each let go before the next.

use std::collections::HashMap;
use std::collections::hash_map::Entry;
use std::path::{Path, PathBuf};

use rayon::prelude::*;

use crate::journal;
use crate::knowledge::model::Knowledge;

use super::facts::Facts;
use super::index::{Index, Stamp};
use super::names::{Name, Names};
use super::row::Row;

/// Files read before their facts are put in rows: enough for every core, and few enough to hold.
const AT_ONCE: usize = 512;

/// A file that was not counted, and why; the sentence names the file and, where one is damaged, the line.
#[derive(Clone, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "what a name leaves unsaid is added")]
pub struct Broken {
    pub path: PathBuf,
    pub why: String,
}

/// Every case that could be read.
#[derive(Default)]
pub struct Gathered {
    pub(super) names: Names,
    pub(super) rows: Vec<Row>,
    /// Files that were not counted: broken, foreign, or copies of another.
    pub broken: Vec<Broken>,
    /// How many rows came from the index.
    pub from_index: usize,
    /// The bytes of an index for the next run; nothing when the old one is as good.
    pub index: Option<Vec<u8>>,
}

/// Is told of files that are done.
pub type Told<'a> = &'a (dyn Fn(usize) + Sync);

/// What became of one file.
enum Seen {
    Known(Stamp, Box<Row>),
    New(Option<Stamp>, Box<Facts>),
    Broken(String),
}

/// Reads every file. What cannot be read is listed and the others are read on. A case counts once, by its id: of several
/// copies the one that was closed last.
#[must_use]
pub fn read(files: &[PathBuf], index: Index, told: Told<'_>) -> Gathered {
    let mut gathered = Gathered {
        names: index.names.clone(),
        ..Gathered::default()
    };
    let mut stored: Vec<(PathBuf, Stamp, Row)> = Vec::new();
    let mut by_id: HashMap<Name, (usize, &Path)> = HashMap::new();
    for some in files.chunks(AT_ONCE) {
        let seen: Vec<Seen> = some
            .par_iter()
            .map(|path| {
                let seen = look(path, &index);
                told(1);
                seen
            })
            .collect();
        for (path, seen) in some.iter().zip(seen) {
            let (stamp, row) = match seen {
                Seen::Broken(why) => {
                    gathered.broken.push(Broken {
                        path: path.clone(),
                        why,
                    });
                    continue;
                }
                Seen::Known(stamp, row) => {
                    gathered.from_index += 1;
                    (Some(stamp), *row)
                }
                Seen::New(stamp, facts) => (stamp, Row::new(&facts, &mut gathered.names)),
            };
            if let Some(stamp) = stamp {
                stored.push((path.clone(), stamp, row.clone()));
            }
            gathered.keep(path, row, &mut by_id);
        }
    }
    let unchanged = gathered.from_index == stored.len() && stored.len() == index.files.len();
    if !unchanged {
        gathered.index = index.to_bytes(&gathered.names, stored);
    }
    gathered
}

impl Gathered {
    /// Calls every cause by the id it has now, so that one that was merged into another counts with it.
    pub(super) fn call_as_now(&mut self, knowledge: &Knowledge) {
        let Self { names, rows, .. } = self;
        let mut now = |name: &mut Name| {
            let id = names.text(*name);
            let new = knowledge.cause_id(id);
            if new != id {
                let new = new.to_owned();
                *name = names.of(&new);
            }
        };
        for row in rows {
            row.leader.iter_mut().for_each(|(cause, _)| now(cause));
            let closed = row
                .closing
                .iter_mut()
                .filter_map(|closing| closing.cause.as_mut());
            closed.for_each(&mut now);
        }
    }

    fn keep<'p>(&mut self, path: &'p Path, row: Row, by_id: &mut HashMap<Name, (usize, &'p Path)>) {
        let (copy, of) = match by_id.entry(row.id) {
            Entry::Vacant(free) => {
                free.insert((self.rows.len(), path));
                self.rows.push(row);
                return;
            }
            Entry::Occupied(mut taken) => {
                let (place, kept) = *taken.get();
                let closed = |row: &Row| row.closing.map(|closing| closing.at);
                if closed(&row) > closed(&self.rows[place]) {
                    self.rows[place] = row;
                    taken.insert((place, path));
                    (kept, path)
                } else {
                    (path, kept)
                }
            }
        };
        self.broken.push(Broken {
            path: copy.to_owned(),
            why: format!("`{}` is a copy of the case in `{}`", copy.display(), of.display()),
        });
    }

    /// How many cases there are.
    #[must_use]
    pub fn cases(&self) -> usize {
        self.rows.len()
    }
}

fn look(path: &Path, index: &Index) -> Seen {
    // Before the file is read: when it changes meanwhile, the next run reads it again.
    let stamp = std::fs::symlink_metadata(path)
        .ok()
        .map(|about| Stamp::of(&about));
    if let Some(stamp) = stamp
        && let Some(row) = index.row(path, stamp)
    {
        return Seen::Known(stamp, Box::new(row.clone()));
    }
    match journal::read_file(path) {
        Ok(case) => Seen::New(stamp, Box::new(Facts::of(&case, &index.tried_in_vain))),
        Err(error) => Seen::Broken(error.to_string()),
    }
}
