//! Keeping a case while a person answers: what is said to be kept is looked after first.

use std::cell::{RefCell, RefMut};
use std::path::{Path, PathBuf};

use crate::journal::{Journal, JournalError};
use crate::terminal::Person;
use crate::walk::{Event, Prompt, Question, Refusal, Reply, Respondent, RespondentError, Walk};

use super::Problem;
use super::case::Earlier;
use super::case_file::{AskedWhere, CaseFile};
use super::places::quoted;

/// A case file that the walk writes to, and whoever talks to the person looks after.
pub(super) struct Keeping(RefCell<CaseFile>);

impl Keeping {
    pub(super) fn new(file: CaseFile) -> Self {
        Self(RefCell::new(file))
    }

    pub(super) fn append(&self, event: &Event) -> Result<(), JournalError> {
        self.0.borrow_mut().append(event)
    }

    /// Makes sure of the file, and says that the case is kept and how to go on with it.
    pub(super) fn kept(&self) -> Result<String, Problem> {
        let mut journal = self.journal();
        journal.secure()?;
        let mut lines = moved(&mut journal);
        lines.push(how_to_go_on(journal.path()));
        Ok(lines.join("\n"))
    }

    /// Lets go of the file, and says where it is.
    pub(super) fn done(self) -> PathBuf {
        self.0.into_inner().done()
    }

    fn journal(&self) -> RefMut<'_, Journal> {
        RefMut::map(self.0.borrow_mut(), CaseFile::journal)
    }
}

/// Why it is asked where the case is.
const WHY_WHERE: &str = "By this you or the office find the case again, and it heads the report. A slash parts what is said; \
                         leave out what you like, as in `14 Oak St` or `job 7 / roof unit`.";

/// A person who is told before the next question when the case went to another file.
pub(super) struct Told<'a> {
    pub(super) person: &'a mut Person,
    pub(super) keeping: &'a Keeping,
    /// What is still to be asked of where the case is and who came.
    pub(super) asks: Option<AskedWhere>,
    /// The case before, of a callback that has only begun.
    pub(super) earlier: Option<Earlier>,
    /// What is taken over from it, once the person said that it is the same still.
    pub(super) taken: Option<Earlier>,
    /// The last reply was one of those.
    pub(super) telling: bool,
}

impl Told<'_> {
    /// What is taken over now instead of being asked.
    fn taken_over(&mut self, prompt: Prompt<'_, '_>) -> Option<Reply> {
        let taken = self.taken.as_mut()?;
        match prompt.question {
            Question::Complaint => None,
            Question::Equipment => taken.equipment.take(),
            Question::Accessories => taken.accessories.take(),
            _ => taken.facts.pop(),
        }
    }
}

impl Respondent for Told<'_> {
    fn respond(&mut self, prompt: Prompt<'_, '_>) -> Result<Reply, RespondentError> {
        if let Some(asks) = self.asks.take() {
            if let Some(reply) = self.person.open(prompt.walk)? {
                return Ok(reply);
            }
            let (ask, parts) = asks.in_words();
            let Some(line) =
                self.person
                    .one_line("so that this case is found again", ask, (parts, WHY_WHERE))?
            else {
                return Ok(Reply::Stop);
            };
            let who = asks.read(&line);
            if !who.is_empty() {
                self.person.say(&format!("  {}", who.in_words()))?;
                self.keeping.0.borrow_mut().say_where(&who);
            }
        }
        if let Some(earlier) = self.earlier.take() {
            if let Some(reply) = self.person.open(prompt.walk)? {
                return Ok(reply);
            }
            let same = self
                .person
                .visit_before(&earlier.lines, &earlier.dangers, &earlier.plate)?;
            match same {
                None => return Ok(Reply::Stop),
                Some(same) => self.taken = Some(earlier).filter(|_| same),
            }
        }
        if let Some(reply) = self.taken_over(prompt) {
            self.telling = true;
            return Ok(reply);
        }
        let moved = moved(&mut self.keeping.journal());
        for line in moved {
            self.person.say(&line)?;
        }
        self.person.respond(prompt)
    }

    fn refused(&mut self, refusal: &Refusal) {
        // What this knowledge does not take any more is asked as ever.
        if !std::mem::take(&mut self.telling) {
            self.person.refused(refusal);
        }
    }

    fn observe(&mut self, event: &Event, understood: Option<&str>, walk: &Walk<'_>) {
        self.telling = false;
        self.person.observe(event, understood, walk);
    }
}

fn moved(journal: &mut Journal) -> Vec<String> {
    journal.take_moved().iter().map(ToString::to_string).collect()
}

fn how_to_go_on(path: &Path) -> String {
    format!(
        "everything answered is kept; go on with: lineside --case {}",
        quoted(path)
    )
}
