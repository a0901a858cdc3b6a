//! The rooms lean one way: each imports only from those above it in the list.

use std::fs;
use std::path::{Path, PathBuf};

/// From the top; a room may use those before it.
const ROOMS: [&str; 16] = [
    "files",
    "quantity",
    "electrical",
    "standards",
    "knowledge",
    "inference",
    "walk",
    "journal",
    "invented",
    "practice",
    "rig",
    "report",
    "drawing",
    "review",
    "terminal",
    "cli",
];

fn sources(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).expect("the room is a folder") {
        let path = entry.expect("the folder can be read").path();
        if path.is_dir() {
            sources(&path, found);
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            found.push(path);
        }
    }
}

/// Names of rooms mentioned as `crate::ROOM` in a source text, documentation links apart.
fn mentioned(text: &str) -> Vec<&str> {
    text.lines()
        .filter(|line| !line.trim_start().starts_with("//"))
        .flat_map(|line| line.split("crate::").skip(1))
        .filter_map(|rest| rest.split(|c: char| !c.is_alphanumeric() && c != '_').next())
        .filter(|name| ROOMS.contains(name))
        .collect()
}

fn files_of(room: &str) -> Vec<(PathBuf, String)> {
    let mut files = Vec::new();
    sources(
        &Path::new(env!("CARGO_MANIFEST_DIR")).join("src").join(room),
        &mut files,
    );
    files
        .into_iter()
        .map(|path| {
            let text = fs::read_to_string(&path).expect("sources are text");
            (path, text)
        })
        .collect()
}

#[test]
fn no_room_imports_from_one_below() {
    let mut wrong = Vec::new();
    for (place, room) in ROOMS.iter().enumerate() {
        for (path, text) in files_of(room) {
            for name in mentioned(&text) {
                if ROOMS[place + 1..].contains(&name) {
                    wrong.push(format!("{} uses crate::{name}", path.display()));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn the_core_is_mute() {
    let forbidden = [
        "println!",
        "eprintln!",
        "print!(",
        "std::io::stdin",
        "std::env::var",
        "SystemTime::now",
        "Timestamp::now",
    ];
    let mut wrong = Vec::new();
    for room in ROOMS.iter().take_while(|room| **room != "terminal") {
        for (path, text) in files_of(room) {
            for word in forbidden {
                if text
                    .lines()
                    .any(|line| !line.trim_start().starts_with("//") && line.contains(word))
                {
                    wrong.push(format!("{} has {word}", path.display()));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_folder_is_a_room_of_the_list() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut found: Vec<String> = fs::read_dir(folder)
        .expect("src is a folder")
        .filter_map(|entry| {
            let path = entry.expect("src can be read").path();
            path.is_dir()
                .then(|| path.file_name().map(|name| name.to_string_lossy().into_owned()))?
        })
        .collect();
    found.sort();
    let mut listed: Vec<String> = ROOMS.iter().map(|room| (*room).to_owned()).collect();
    listed.sort();
    assert_eq!(found, listed);
}
