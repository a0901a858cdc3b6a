//! From files to knowledge.

use std::path::Path;

use thiserror::Error;

use crate::standards::calculation::Calculation;
use crate::standards::registry;

use super::compiled_in;
use super::document::Documents;
use super::files::Files;
use super::finding::{Code, Finding, Severity, Sink};
use super::folder::FolderError;
use super::lint;
use super::model::Knowledge;
use super::render;
use super::validate;

/// Why there is no knowledge to work with.
#[derive(Debug, Error)]
pub enum LoadError {
    /// The folder could not be read.
    #[error(transparent)]
    Folder(#[from] FolderError),
    /// The files have faults.
    #[error(
        "the knowledge has {} (see {} with `lineside trees check`)\n{first}{}",
        render::count(*.errors, "error"),
        if *.errors == 1 { "it" } else { "them all" },
        waiting_words(*.waiting).map_or_else(String::new, |words| format!("\n{words}"))
    )]
    Faulty {
        /// At least 1.
        errors: usize,
        /// The first one, with its place.
        first: String,
        /// How many more wait until a file can be read.
        waiting: usize,
    },
}

/// Everything found in some files.
pub struct Checked {
    /// The files, which the findings point into.
    pub files: Files,
    /// What was found: first by file, then by place.
    pub findings: Vec<Finding>,
    /// The knowledge, when no finding is an error.
    pub knowledge: Option<Knowledge>,
    /// Rules that need sound ids were left out because some ids are not.
    pub partial: bool,
    /// Findings that may only follow from a file that cannot be read, and are told once it can be.
    pub waiting: usize,
}

/// Says that findings wait until a file can be read; nothing when none do.
#[must_use]
pub fn waiting_words(waiting: usize) -> Option<String> {
    match waiting {
        0 => None,
        1 => Some("1 further finding waits until it can be read".to_owned()),
        many => Some(format!("{many} further findings wait until it can be read")),
    }
}

/// Takes out what may only follow from a file that cannot be read: ids that it may define, and whatever else is said
/// about what could be made out of it. Gives back how many findings that were.
fn set_aside(findings: &mut Vec<Finding>) -> usize {
    let unread: Vec<usize> = findings
        .iter()
        .filter(|finding| finding.code.is_unread())
        .map(|finding| finding.primary.place.file)
        .collect();
    if unread.is_empty() {
        return 0;
    }
    let all = findings.len();
    findings.retain(|finding| {
        finding.code.is_unread()
            || !(finding.code.may_follow_from_unread() || unread.contains(&finding.primary.place.file))
    });
    // The cause first, whatever its file is called.
    findings.sort_by_key(|finding| !finding.code.is_unread());
    all - findings.len()
}

/// The knowledge of a folder, or the one compiled in, which was checked against the calculations of this program when
/// it was built.
///
/// # Errors
/// When the folder cannot be read or the files have faults that keep them from being used.
pub fn load(folder: Option<&Path>, catalog: &'static [Calculation]) -> Result<Knowledge, LoadError> {
    let files = match folder {
        Some(folder) => Files::read(folder)?,
        None => match compiled_in::built() {
            Some(knowledge) => return Ok(knowledge),
            None => Files::embedded(),
        },
    };
    let mut findings = Vec::new();
    let documents = Documents::parse(&files, &mut findings);
    let knowledge = validate::validate(&documents, catalog, &mut findings);
    let waiting = set_aside(&mut findings);
    let errors = || {
        findings
            .iter()
            .filter(|finding| finding.severity == Severity::Error)
    };
    // What was not read comes before all that may follow from it, then the order of the lines.
    let first = errors().min_by_key(|finding| (!finding.code.is_unread(), place(finding)));
    match first {
        None => Ok(knowledge),
        Some(first) => Err(LoadError::Faulty {
            errors: errors().count(),
            first: render::line(&files, first),
            waiting,
        }),
    }
}

/// The knowledge compiled in.
///
/// # Errors
/// When the files compiled in have faults, which the tests exclude.
pub fn embedded() -> Result<Knowledge, LoadError> {
    load(None, registry::all())
}

/// Findings about values and ids after which the rules about each entry are left out, too: they look every entry up
/// in its file, and with a hundred thousand entries that takes minutes. Nobody reads more before correcting some.
const MANY: usize = 5_000;

/// Checks files with every rule.
///
/// The rules about routes, reach and effects need sound ids; they are left out while some are not, so that one unknown id
/// does not bring a hundred findings with it.
#[must_use]
pub fn check(files: Files, catalog: &'static [Calculation]) -> Checked {
    let mut findings = Vec::new();
    let (knowledge, partial) = {
        let documents = Documents::parse(&files, &mut findings);
        let knowledge = validate::validate(&documents, catalog, &mut findings);
        let partial = has_error(&findings);
        let sink = Sink::default();
        if findings.len() <= MANY {
            lint::each_entry(&knowledge, &documents, &sink);
        }
        if !partial {
            lint::whole(&knowledge, &documents, catalog, &sink);
        }
        findings.append(&mut sink.into_findings());
        (knowledge, partial)
    };
    findings.sort_by_key(place);
    let waiting = set_aside(&mut findings);
    let knowledge = (!has_error(&findings)).then_some(knowledge);
    Checked {
        files,
        findings,
        knowledge,
        partial,
        waiting,
    }
}

/// Where a finding stands among others.
fn place(finding: &Finding) -> (usize, usize, usize, Code) {
    let place = &finding.primary.place;
    (place.file, place.span.start, place.span.end, finding.code)
}

fn has_error(findings: &[Finding]) -> bool {
    findings.iter().any(|finding| finding.severity == Severity::Error)
}
