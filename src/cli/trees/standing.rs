//! Where the intended cause of each example stands under two knowledges.

use std::convert::Infallible;
use std::fs;
use std::path::{Path, PathBuf};

use serde::Serialize;

use crate::cli::Problem;
use crate::files;
use crate::knowledge::model::Knowledge;
use crate::walk::{AnswerFile, Event, LARGEST_ANSWER_FILE, Walk, drive};

/// Points a probability must move before it is worth a line: less is not seen on the screen.
pub(super) const WORTH_SAYING: f64 = 0.01;

/// Where a case ends under one knowledge.
#[derive(Clone, Debug, Serialize)]
pub(super) struct EndsAt {
    /// The leader; nothing when no cause applies.
    pub(super) leader: Option<String>,
    pub(super) leader_probability: f64,
    /// Place of the intended cause, from 1.
    pub(super) place: Option<usize>,
    pub(super) probability: f64,
}

/// One example under both.
#[derive(Clone, Debug, Serialize)]
pub(super) struct Example {
    /// Name of the file without its ending.
    pub(super) name: String,
    /// The intended cause, if the file names one.
    pub(super) cause: Option<String>,
    /// Under the knowledge in use, or why it cannot be walked.
    pub(super) before: Result<EndsAt, String>,
    /// Under the edited one.
    pub(super) after: Result<EndsAt, String>,
}

impl Example {
    /// Whether the edit is seen in this case.
    pub(super) fn moved(&self) -> bool {
        match (&self.before, &self.after) {
            (Ok(before), Ok(after)) => {
                before.leader != after.leader
                    || before.place != after.place
                    || (before.probability - after.probability).abs() >= WORTH_SAYING
                    || (before.leader_probability - after.leader_probability).abs() >= WORTH_SAYING
            }
            (Err(before), Err(after)) => before != after,
            _ => true,
        }
    }
}

/// Walks every answer file of a folder twice.
pub(super) fn examples(
    folder: &Path,
    before: &Knowledge,
    after: &Knowledge,
) -> Result<Vec<Example>, Problem> {
    let unreadable = |path: &Path, source: std::io::Error| {
        Problem::data(format!("cannot read `{}`: {source}", path.display()))
    };
    let mut files: Vec<PathBuf> = Vec::new();
    for entry in fs::read_dir(folder).map_err(|error| unreadable(folder, error))? {
        let path = entry.map_err(|error| unreadable(folder, error))?.path();
        if path.extension().is_some_and(|extension| extension == "toml") {
            files.push(path);
        }
    }
    files.sort();
    files
        .iter()
        .map(|path| {
            let text = files::read_text(path, LARGEST_ANSWER_FILE)?;
            let name = path.file_stem().map(|name| name.to_string_lossy().into_owned());
            let (cause, before) = walked(&text, before);
            let (cause_after, after) = walked(&text, after);
            Ok(Example {
                name: name.unwrap_or_default(),
                cause: cause.or(cause_after),
                before,
                after,
            })
        })
        .collect()
}

/// Drives one answer file to its end: the intended cause, and where it stands.
fn walked(text: &str, knowledge: &Knowledge) -> (Option<String>, Result<EndsAt, String>) {
    let mut answers = match AnswerFile::parse(text, knowledge) {
        Ok(answers) => answers,
        Err(errors) => {
            let first = errors.first().map(ToString::to_string).unwrap_or_default();
            return (None, Err(first));
        }
    };
    let cause = answers.expect().and_then(|expect| expect.cause.clone());
    let mut walk = Walk::new(knowledge);
    if let Err(error) = drive::<Infallible>(&mut walk, &mut answers, &mut |_: &Event| Ok(())) {
        return (cause, Err(error.to_string()));
    }
    let ranked = walk.ranked();
    let id = |place: usize| knowledge.causes[ranked[place].0].id.as_str();
    let place = (0..ranked.len()).find(|place| Some(id(*place)) == cause.as_deref());
    let result = EndsAt {
        leader: (!ranked.is_empty()).then(|| id(0).to_owned()),
        leader_probability: ranked.first().map_or(0.0, |(_, probability)| *probability),
        place: place.map(|place| place + 1),
        probability: place.map_or(0.0, |place| ranked[place].1),
    };
    (cause, Ok(result))
}
