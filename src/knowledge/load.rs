//! From files to knowledge.

use std::path::Path;

use thiserror::Error;

use crate::standards::registry::{self, Calculation};

use super::document::Documents;
use super::files::{Files, FolderError};
use super::finding::{Finding, Severity};
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
    #[error("the knowledge has {} (see them all with `lineside trees check`)\n{first}", render::count(*.errors, "error"))]
    Faulty {
        /// How many.
        errors: usize,
        /// The first one, with its place.
        first: String,
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
}

/// The knowledge of a folder, or the one compiled in.
///
/// # Errors
/// When the folder cannot be read or the files have faults that keep them from being used.
pub fn load(folder: Option<&Path>, catalog: &'static [Calculation]) -> Result<Knowledge, LoadError> {
    let files = folder.map_or_else(|| Ok(Files::embedded()), Files::read)?;
    let mut findings = Vec::new();
    let documents = Documents::parse(&files, &mut findings);
    let knowledge = validate::validate(&documents, catalog, &mut findings);
    match findings
        .iter()
        .find(|finding| finding.severity == Severity::Error)
    {
        None => Ok(knowledge),
        Some(first) => Err(LoadError::Faulty {
            errors: findings
                .iter()
                .filter(|finding| finding.severity == Severity::Error)
                .count(),
            first: render::line(&files, first),
        }),
    }
}

/// The knowledge compiled in, checked against the calculations of this program.
///
/// # Errors
/// When the files compiled in have faults, which the tests exclude.
pub fn embedded() -> Result<Knowledge, LoadError> {
    load(None, registry::all())
}

/// Checks files with every rule.
///
/// The rules about routes and signs need sound ids; they are left out while some are not, so that one unknown id
/// does not bring a hundred findings with it.
#[must_use]
pub fn check(files: Files, catalog: &'static [Calculation]) -> Checked {
    let mut findings = Vec::new();
    let (knowledge, partial) = {
        let documents = Documents::parse(&files, &mut findings);
        let knowledge = validate::validate(&documents, catalog, &mut findings);
        let partial = has_error(&findings);
        lint::each_entry(&knowledge, &documents, &mut findings);
        if !partial {
            lint::whole(&knowledge, &documents, catalog, &mut findings);
        }
        (knowledge, partial)
    };
    findings.sort_by_key(|finding| {
        let place = &finding.primary.place;
        (place.file, place.span.start, place.span.end, finding.code)
    });
    let knowledge = (!has_error(&findings)).then_some(knowledge);
    Checked {
        files,
        findings,
        knowledge,
        partial,
    }
}

fn has_error(findings: &[Finding]) -> bool {
    findings.iter().any(|finding| finding.severity == Severity::Error)
}
