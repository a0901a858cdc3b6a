//! The case a command looks at and leaves as it is: one that is kept, or the answers of a file.

use std::convert::Infallible;
use std::path::PathBuf;

use clap::Args;

use crate::journal::check::{self, Remark};
use crate::journal::{self, Case};
use crate::knowledge::model::Knowledge;
use crate::walk::{self, Event, Walk};

use super::Problem;
use super::answers::read_answers;
use super::case::named_file;
use super::learn::Shop;
use super::printing::remark;

#[derive(Args, Clone, Debug)]
pub(super) struct CaseTyped {
    /// The case: a file, its name in the folder of cases, the beginning of an id, or `last`
    #[arg(
        long,
        value_name = "NAME",
        conflicts_with = "answers",
        required_unless_present = "answers"
    )]
    case: Option<PathBuf>,
    /// Answer from this file instead; nothing is kept
    #[arg(long, value_name = "FILE.toml")]
    answers: Option<PathBuf>,
    #[command(flatten)]
    shop: Shop,
}

/// A walk as far as it came.
pub(super) struct Taken<'k> {
    pub(super) walk: Walk<'k>,
    /// The file and what it holds, where one keeps it.
    pub(super) kept: Option<(PathBuf, Case)>,
    /// What is odd about the file; it is said already.
    pub(super) remarks: Vec<Remark>,
}

impl CaseTyped {
    /// Walks it, and says what is odd about its file.
    ///
    /// # Errors
    /// When the case, the answers or what the shop has learned cannot be used.
    pub(super) fn take<'k>(&self, knowledge: &'k Knowledge) -> Result<Taken<'k>, Problem> {
        let mut walk = self.shop.walk(knowledge)?;
        if let Some(file) = &self.answers {
            let mut answers = read_answers(file, knowledge)?;
            walk::drive::<Infallible>(&mut walk, &mut answers, &mut |_: &Event| Ok(()))
                .map_err(|error| Problem::data(format!("{}: {error}", file.display())))?;
        }
        let Some(name) = &self.case else {
            return Ok(Taken {
                walk,
                kept: None,
                remarks: Vec::new(),
            });
        };
        let path = named_file(name)?;
        // Whoever only reads need not wait for whoever writes.
        let sound = journal::sound_file(&path)?;
        if let Some(damage) = sound.damage {
            return Err(damage.into());
        }
        if sound.busy {
            remark("somebody has it open; what was kept so far is read");
        }
        let case = sound.case;
        let mut again = walk.clone();
        for unknown in case.replay(&mut walk) {
            remark(&format!("an earlier answer is left out: {unknown}"));
        }
        let mut remarks = check::remarks(&case);
        remarks.extend(check::compare(&case, &mut again).differences);
        for said in &remarks {
            remark(&format!("{}: {said}", path.display()));
        }
        Ok(Taken {
            walk,
            kept: Some((path, case)),
            remarks,
        })
    }
}
