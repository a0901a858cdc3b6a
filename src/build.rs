//! Lists every file under `trees/` so that the crate can compile it in; no file can be forgotten.

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
    let out = PathBuf::from(env::var("OUT_DIR").unwrap_or_default()).join("trees.rs");
    if let Err(error) = fs::write(&out, list) {
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
