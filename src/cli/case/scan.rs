//! Reads many cases, one after another, and leaves out and says what cannot be read.

use std::path::{Path, PathBuf};

use crate::cli::closed_cases::files;
use crate::cli::remark;
use crate::journal::life::Life;
use crate::journal::{self, Case, Sound};

/// A case that was read, without its lines: thousands of them are held at once.
pub(super) struct Listed {
    pub(super) path: PathBuf,
    pub(super) life: Life,
    pub(super) id: Option<String>,
    /// When it was opened.
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

/// The cases under the paths given that `keeps` wants. One is held at a time besides those.
pub(super) fn scan(paths: &[PathBuf], keeps: &dyn Fn(&Listed, &Case) -> bool) -> Scanned {
    let mut problems = Vec::new();
    let (mut kept, mut of) = (Vec::new(), 0);
    for path in files(paths, &mut problems) {
        match journal::sound_file(&path) {
            Ok(sound) => {
                let case = Listed::of(&path, &sound);
                problems.extend(case.damage.clone());
                of += 1;
                if keeps(&case, &sound.case) {
                    kept.push(case);
                }
            }
            Err(error) => problems.push(error.to_string()),
        }
    }
    kept.sort_by(|a, b| (a.opened, &a.path).cmp(&(b.opened, &b.path)));
    Scanned { kept, of, problems }
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
