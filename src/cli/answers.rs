//! A file of answers, read and checked.

use std::path::Path;

use crate::knowledge::model::Knowledge;
use crate::walk::AnswerFile;
use crate::{files, walk};

use super::Problem;

/// Reads and checks an answer file.
pub(super) fn read_answers(file: &Path, knowledge: &Knowledge) -> Result<AnswerFile, Problem> {
    let name = file.display();
    let text = files::read_text(file, walk::LARGEST_ANSWER_FILE)?;
    AnswerFile::parse(&text, knowledge).map_err(|errors| {
        let lines: Vec<String> = errors.iter().map(|error| format!("{name}: {error}")).collect();
        Problem::data(lines.join("\nerror: "))
            .hint("`lineside trees list` shows complaints, equipment, tests with outcomes, holds and facts")
    })
}
