//! The bad examples of the knowledge, each laid over the sound folder.

#![expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]
#![allow(dead_code, reason = "each test file that includes this uses a part of it")]
#![allow(unreachable_pub, reason = "included by several test files")]

use std::fs;
use std::path::{Path, PathBuf};

use lineside::quantity::{Kind, ValueKind};
use lineside::standards::calculation::{Calculation, Input, InputError, Inputs, Output, Report, VerdictKind};

fn never(_: &Inputs) -> Result<Report, InputError> {
    Err(InputError::Missing {
        input: "measured",
        meaning: "this catalog is for reading only",
    })
}

const fn input(name: &'static str, kind: ValueKind, required: bool) -> Input {
    Input {
        name,
        kind,
        symbol: "",
        measured: false,
        instead_of: &[],
        only_with: &[],
        same_as: None,
        choices: &[],
        range: None,
        default: None,
        required,
        meaning: "an input of a test",
    }
}

/// A catalog of our own, so that these tests do not change with the real one.
pub static CATALOG: &[Calculation] = &[Calculation {
    name: "share-check",
    title: "holds a current against a rating",
    inputs: &[
        input("measured", ValueKind::Quantity(Kind::Current), true),
        input("rated", ValueKind::Quantity(Kind::Current), true),
        Input {
            choices: &["copper"],
            ..input("metal", ValueKind::Choice, false)
        },
    ],
    outputs: &[Output {
        name: "limit",
        kind: ValueKind::Quantity(Kind::Current),
        meaning: "the limit",
    }],
    verdicts: &[
        VerdictKind {
            id: "within",
            meaning: "at or below",
            violates: false,
        },
        VerdictKind {
            id: "over",
            meaning: "above",
            violates: true,
        },
    ],
    rules: &[],
    run: never,
}];

pub fn bad_trees() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/bad-trees")
}

pub fn copy(from: &Path, to: &Path) {
    fs::create_dir_all(to).unwrap();
    for entry in fs::read_dir(from).unwrap() {
        let entry = entry.unwrap();
        let target = to.join(entry.file_name());
        if entry.path().is_dir() {
            copy(&entry.path(), &target);
        } else {
            fs::copy(entry.path(), target).unwrap();
        }
    }
}

/// The sound folder with another laid over it.
pub fn laid_over(example: &Path) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    copy(&bad_trees().join("sound"), folder.path());
    copy(example, folder.path());
    folder
}
