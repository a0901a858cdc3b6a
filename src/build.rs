//! Compiles the knowledge in: every file under `trees/`, so that none can be forgotten, and what they come to once they
//! are checked, so that the program need neither parse nor check them at every start.
//!
//! The rooms below are those of the program itself, compiled a second time for this.

#![allow(
    dead_code,
    unreachable_pub,
    unused_imports,
    reason = "the program uses the rest of these rooms"
)]

mod electrical;
mod quantity;
mod standards;

/// What of the room makes knowledge out of files.
mod knowledge {
    pub mod chance;
    pub mod cited;
    mod document;
    pub mod exposure;
    mod fields;
    pub mod files;
    pub mod finding;
    pub mod indexed;
    mod lookup;
    pub mod model;
    pub mod nearest;
    mod raw;
    pub mod spelling;
    mod threads;
    mod validate;

    /// The knowledge, or the first fault of the files.
    pub(super) fn checked(files: &files::Files) -> Result<model::Knowledge, String> {
        let mut findings = Vec::new();
        let documents = document::Documents::parse(files, &mut findings);
        let catalog = crate::standards::registry::all();
        let knowledge = validate::validate(&documents, catalog, &mut findings);
        let errors = findings
            .iter()
            .filter(|it| it.severity == finding::Severity::Error);
        match errors.into_iter().next() {
            None => Ok(knowledge),
            Some(first) => {
                let file = &files.list[first.primary.place.file].name;
                Err(format!("trees/{file}: {}", first.message))
            }
        }
    }
}

use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::{env, fs};

fn main() {
    let root = PathBuf::from(env::var("CARGO_MANIFEST_DIR").unwrap_or_default()).join("trees");
    println!("cargo::rerun-if-changed=trees");
    let mut names = Vec::new();
    collect(&root, "", &mut names);
    names.sort();
    let mut list = String::from("&[\n");
    for name in &names {
        let path = root.join(name).display().to_string();
        let _ = writeln!(list, "    ({name:?}, include_str!({path:?})),");
    }
    list.push_str("]\n");
    write("trees.rs", list.as_bytes());
    let texts = names.into_iter().map(|name| {
        let text = fs::read_to_string(root.join(&name)).unwrap_or_default();
        (name, text)
    });
    let made = knowledge::checked(&knowledge::files::Files::in_memory(texts));
    let bytes = made.and_then(|known| postcard::to_allocvec(&known).map_err(|error| error.to_string()));
    // With a fault the program checks the files itself, and says more of it than fits here.
    write(
        "knowledge.bin",
        &bytes.unwrap_or_else(|fault| {
            println!("cargo::warning=the knowledge has a fault: {fault}");
            Vec::new()
        }),
    );
}

fn write(name: &str, bytes: &[u8]) {
    let out = PathBuf::from(env::var("OUT_DIR").unwrap_or_default()).join(name);
    if let Err(error) = fs::write(&out, bytes) {
        println!("cargo::error=cannot write {}: {error}", out.display());
    }
}

fn collect(root: &Path, under: &str, names: &mut Vec<String>) {
    let Ok(entries) = fs::read_dir(root.join(under)) else {
        return;
    };
    for entry in entries.flatten() {
        let Ok(name) = entry.file_name().into_string() else {
            continue;
        };
        let name = if under.is_empty() {
            name
        } else {
            format!("{under}/{name}")
        };
        if entry.path().is_dir() {
            collect(root, &name, names);
        } else if name.ends_with(".toml") {
            names.push(name);
        }
    }
}
