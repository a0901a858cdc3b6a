//! Lists every file under `trees/` so that the crate can compile it in; no file can be forgotten. It also parses them
//! once for all, so that the program need not at every start.

#[expect(dead_code, reason = "the program uses the rest of it")]
#[path = "knowledge/raw.rs"]
mod raw;

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
        let path = root.join(name);
        let _ = writeln!(
            list,
            "    ({name:?}, include_str!({:?})),",
            path.display().to_string()
        );
    }
    list.push_str("]\n");
    write("trees.rs", list.as_bytes());
    write("trees.bin", &parsed(&root, &names));
}

fn write(name: &str, bytes: &[u8]) {
    let out = PathBuf::from(env::var("OUT_DIR").unwrap_or_default()).join(name);
    if let Err(error) = fs::write(&out, bytes) {
        println!("cargo::error=cannot write {}: {error}", out.display());
    }
}

/// The files parsed; nothing when one of them has a fault, so that the program parses and reports it.
fn parsed(root: &Path, names: &[String]) -> Vec<u8> {
    let texts: Vec<String> = names
        .iter()
        .map(|name| fs::read_to_string(root.join(name)).unwrap_or_default())
        .collect();
    let mut tables = Vec::new();
    for text in &texts {
        let (table, errors) = raw::RawTable::parse(text);
        if !errors.is_empty() {
            return Vec::new();
        }
        tables.push(table);
    }
    postcard::to_allocvec(&tables).unwrap_or_default()
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
