//! Reads many cases, in parallel, and leaves out and says what cannot be read.

use std::path::{Path, PathBuf};

use rayon::prelude::*;

use crate::cli::closed_cases::files;
use crate::cli::printing::remark;
use crate::cli::progress::Progress;
use crate::journal::life::Life;
use crate::journal::{self, Case, Sound};

/// A case that was read, without its lines: thousands of them are held at once.
pub(super) struct Listed {
    pub(super) path: PathBuf,
    pub(super) life: Life,
    pub(super) id: Option<String>,
    pub(super) opened: jiff::Timestamp,
    /// The head of its chain.
    pub(super) head: Option<String>,
    /// Somebody is writing it now.
    pub(super) busy: bool,
    /// From here on it cannot be read.
    pub(super) damage: Option<String>,
}

impl Listed {
    /// What a read case comes to.
    pub(super) fn of(path: &Path, sound: &Sound) -> Self {
        Self {
            path: path.to_owned(),
            life: Life::of(&sound.case),
            id: sound.case.header.id.clone(),
            opened: sound.case.header.opened,
            head: sound.case.head().map(|link| link.to_string()),
            busy: sound.busy,
            damage: sound.damage.as_ref().map(ToString::to_string),
        }
    }
}

/// What was found under some paths.
#[derive(Default)]
pub(super) struct Scanned {
    /// The cases that were asked for, the oldest first.
    pub(super) kept: Vec<Listed>,
    /// How many cases there are.
    pub(super) of: usize,
    /// A sentence for each thing that is no case or is damaged.
    pub(super) problems: Vec<String>,
}

/// Files read before what was kept of them is put in its place: enough for every core, and few enough to hold.
const AT_ONCE: usize = 512;

/// Whether a case is one of those asked for.
pub(super) type Keeps<'a> = &'a (dyn Fn(&Listed, &Case) -> bool + Sync);

/// The cases under the paths given that `keeps` wants, read in parallel. Beside those, no more is held than each core
/// is reading.
pub(super) fn scan(paths: &[PathBuf], keeps: Keeps<'_>) -> Scanned {
    let mut problems = Vec::new();
    let (mut kept, mut of) = (Vec::new(), 0);
    let files = files(paths, &mut problems);
    let progress = Progress::new("cases read", files.len());
    for some in files.chunks(AT_ONCE) {
        let seen: Vec<Seen> = some
            .par_iter()
            .map(|path| {
                let seen = look(path, keeps);
                progress.more(1);
                seen
            })
            .collect();
        for seen in seen {
            match seen {
                Seen::Broken(why) => problems.push(why),
                Seen::Case { listed, damage } => {
                    of += 1;
                    problems.extend(damage);
                    kept.extend(listed.map(|listed| *listed));
                }
            }
        }
    }
    progress.finish();
    kept.sort_by(|a: &Listed, b: &Listed| (a.opened, &a.path).cmp(&(b.opened, &b.path)));
    Scanned { kept, of, problems }
}

/// What became of one file.
enum Seen {
    /// A case, held where it was asked for, and what is wrong with it.
    Case {
        listed: Option<Box<Listed>>,
        damage: Option<String>,
    },
    /// Why it is none.
    Broken(String),
}

fn look(path: &Path, keeps: Keeps<'_>) -> Seen {
    match journal::sound_file(path) {
        Ok(sound) => {
            let listed = Listed::of(path, &sound);
            let damage = listed.damage.clone();
            let listed = keeps(&listed, &sound.case).then(|| Box::new(listed));
            Seen::Case { listed, damage }
        }
        Err(error) => Seen::Broken(error.to_string()),
    }
}

/// More than these are counted, so that what was asked for is not lost among them.
const MOST_SAID: usize = 20;

/// Says what was left out, on the error stream.
pub(super) fn say_left_out(problems: &[String]) {
    for problem in problems.iter().take(MOST_SAID) {
        remark(problem);
    }
    if let Some(more) = problems.len().checked_sub(MOST_SAID + 1) {
        remark(&format!(
            "{} more files or folders could not be read; --every-problem names them",
            more + 1
        ));
    }
}

/// Says everything that was left out.
pub(super) fn say_every(problems: &[String]) {
    for problem in problems {
        remark(problem);
    }
}
