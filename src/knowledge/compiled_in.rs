//! The knowledge compiled in: `build.rs` has checked it and kept it as it then was, so that a technician waits neither
//! for the parser nor for the checks at every start.

use std::borrow::Cow;

use super::files::{Files, SourceFile};
use super::model::Knowledge;

/// Name and text of every file, for those who look into them.
static TEXTS: &[(&str, &str)] = include!(concat!(env!("OUT_DIR"), "/trees.rs"));

/// What they come to; empty when they have a fault, which is then told at the start.
static KNOWLEDGE: &[u8] = include_bytes!(concat!(env!("OUT_DIR"), "/knowledge.bin"));

/// The knowledge as it was made when the program was built; nothing when its files have faults.
pub(super) fn built() -> Option<Knowledge> {
    postcard::from_bytes(KNOWLEDGE).ok()
}

impl Files {
    /// The files compiled into the program.
    #[must_use]
    pub fn embedded() -> Self {
        let list = TEXTS
            .iter()
            .map(|(name, text)| SourceFile {
                name: (*name).to_owned(),
                shown: format!("trees/{name}"),
                text: Cow::Borrowed(text),
            })
            .collect();
        Self {
            list,
            findings: Vec::new(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Files, built};
    use crate::knowledge::document::Documents;
    use crate::knowledge::validate::validate;
    use crate::standards::registry;

    #[test]
    fn embedded_list_is_the_folder() {
        let folder = Files::read(std::path::Path::new(concat!(
            env!("CARGO_MANIFEST_DIR"),
            "/trees"
        )))
        .unwrap();
        let embedded = Files::embedded();
        let names = |files: &Files| files.list.iter().map(|f| f.name.clone()).collect::<Vec<_>>();
        assert_eq!(names(&folder), names(&embedded));
        assert_eq!(folder.fingerprint(), embedded.fingerprint());
    }

    #[test]
    fn what_was_made_at_build_is_what_the_files_say() {
        let files = Files::embedded();
        let mut findings = Vec::new();
        let now = validate(
            &Documents::parse(&files, &mut findings),
            registry::all(),
            &mut findings,
        );
        assert!(findings.is_empty(), "{findings:?}");
        let built = built().expect("a start would wait for the checks");
        assert!(postcard::to_allocvec(&now).unwrap() == postcard::to_allocvec(&built).unwrap());
    }
}
