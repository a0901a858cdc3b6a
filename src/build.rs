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
    for (number, name) in names.iter().enumerate() {
        let path = root.join(name);
        let parsed = format!("tree-{number}.bin");
        write(&parsed, &parse(&path));
        let _ = writeln!(
            list,
            "    ({name:?}, include_str!({:?}), include_bytes!(concat!(env!(\"OUT_DIR\"), \"/{parsed}\"))),",
            path.display().to_string()
        );
    }
    list.push_str("]\n");
    write("trees.rs", list.as_bytes());
}

fn write(name: &str, bytes: &[u8]) {
    let out = PathBuf::from(env::var("OUT_DIR").unwrap_or_default()).join(name);
    if let Err(error) = fs::write(&out, bytes) {
        println!("cargo::error=cannot write {}: {error}", out.display());
    }
}

/// A file parsed; nothing when it has a fault, so that the program parses and reports it.
fn parse(path: &Path) -> Vec<u8> {
    let text = fs::read_to_string(path).unwrap_or_default();
    let (table, errors) = raw::RawTable::parse(&text);
    if errors.is_empty() {
        postcard::to_allocvec(&table).unwrap_or_default()
    } else {
        Vec::new()
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
