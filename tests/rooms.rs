//! The rooms lean one way: each imports only from those above it in the list, and inside a room no files use each other in
//! a circle.

use std::collections::{BTreeMap, BTreeSet};
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
    "rig",
    "practice",
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

/// Where a module or an item is: room, folders, file, and the item behind them.
type ModulePath = Vec<String>;

/// What is read of a file to find circles.
///
/// It is read as text, so it sees `use` lines and written-out paths, inside macros too, and follows a name that another file
/// only passes on. It does not see a method called on a value, a path that begins with an imported name (the import itself
/// counts), names from a `use x::*`, nor a `mod tests`; and a path in a string would count.
#[derive(Default)]
struct Read {
    /// What it imports or passes on, by the name it then has.
    names: BTreeMap<String, ModulePath>,
    /// What it uses. A parent that only passes a child's things on does not use it.
    uses: BTreeSet<ModulePath>,
}

fn split(path: &str) -> ModulePath {
    path.split("::").map(str::to_owned).collect()
}

/// The code without comments, tests, and the paths that only say who may see something.
fn code_of(text: &str) -> String {
    let text = text.split("#[cfg(test)]\nmod tests {").next().unwrap_or_default();
    let lines = text.lines().filter(|line| !line.trim_start().starts_with("//"));
    let code: Vec<&str> = lines.collect();
    code.join("\n").replace("pub(in crate::", "pub(")
}

/// The paths of `a::{b, c::{self, d}}`, one by one.
fn written_out(tree: &str) -> Vec<String> {
    let Some((before, inside)) = tree.split_once('{') else {
        return vec![tree.trim().trim_end_matches("::self").to_owned()];
    };
    let inside = inside.rsplit_once('}').map_or(inside, |(inside, _)| inside);
    let (mut parts, mut depth) = (vec![String::new()], 0);
    for letter in inside.chars() {
        depth += i32::from(letter == '{') - i32::from(letter == '}');
        match letter {
            ',' if depth == 0 => parts.push(String::new()),
            _ => parts.last_mut().expect("there is one").push(letter),
        }
    }
    let parts = parts.iter().filter(|part| !part.trim().is_empty());
    parts
        .flat_map(|part| written_out(&format!("{}{}", before.trim(), part.trim())))
        .collect()
}

/// A path from the crate on; nothing when it leads out of the crate or begins with an imported name.
fn absolute(path: &str, own: &[String], modules: &BTreeSet<ModulePath>) -> Option<ModulePath> {
    let mut rest = split(path);
    let mut base = own.to_vec();
    match rest[0].as_str() {
        "crate" => base.clear(),
        "self" => {}
        "super" => {
            while rest.get(1).is_some_and(|next| next == "super") {
                base.pop();
                rest.remove(0);
            }
            base.pop();
        }
        child => {
            base.push(child.to_owned());
            if !modules.contains(&base) {
                return None;
            }
        }
    }
    base.extend(rest.drain(1..));
    Some(base)
}

fn read(own: &ModulePath, text: &str, modules: &BTreeSet<ModulePath>) -> Read {
    let (mut read, mut rest) = (Read::default(), String::new());
    for statement in code_of(text).split_inclusive(';') {
        let before = |at: usize| statement[..at].rsplit('\n').next().unwrap_or_default().trim();
        let begins = |at: &usize| before(*at).is_empty() || before(*at).starts_with("pub");
        let Some(at) = statement.match_indices("use ").map(|(at, _)| at).find(begins) else {
            rest.push_str(statement);
            continue;
        };
        let passes_on = before(at).starts_with("pub");
        rest.push_str(&statement[..at]);
        for path in written_out(statement[at + 4..].trim_end_matches(';')) {
            let (path, name) = path
                .split_once(" as ")
                .unwrap_or((&path, path.rsplit("::").next().unwrap_or("")));
            if let Some(to) = absolute(path, own, modules) {
                if !(passes_on && to.starts_with(own)) {
                    read.uses.insert(to.clone());
                }
                read.names.insert(name.to_owned(), to);
            }
        }
    }
    let words = rest.split(|letter: char| !letter.is_alphanumeric() && !matches!(letter, '_' | ':'));
    for path in words
        .map(|word| word.trim_matches(':'))
        .filter(|word| word.contains("::"))
    {
        read.uses.extend(absolute(path, own, modules));
    }
    read
}

/// The file that what a path names stands in.
fn home(path: &[String], files: &BTreeMap<ModulePath, Read>, turns: usize) -> Option<ModulePath> {
    let module = (1..=path.len())
        .rev()
        .map(|length| &path[..length])
        .find(|part| files.contains_key(*part))?;
    let passed_on = path
        .get(module.len())
        .and_then(|name| files[module].names.get(name));
    match passed_on {
        Some(to) if turns > 0 => home(to, files, turns - 1),
        _ => Some(module.to_vec()),
    }
}

/// One circle of each folder that has any: which of its files and folders use each other, and by what.
fn circles(texts: &[(ModulePath, String)]) -> Vec<String> {
    let modules: BTreeSet<ModulePath> = texts.iter().map(|(own, _)| own.clone()).collect();
    let files: BTreeMap<ModulePath, Read> = texts
        .iter()
        .map(|(own, text)| (own.clone(), read(own, text, &modules)))
        .collect();
    let folders: BTreeSet<&[String]> = modules
        .iter()
        .map(|own| &own[..own.len() - 1])
        .filter(|own| !own.is_empty())
        .collect();
    folders
        .into_iter()
        .filter_map(|folder| circle_in(folder, &files))
        .collect()
}

fn circle_in(folder: &[String], files: &BTreeMap<ModulePath, Read>) -> Option<String> {
    // A folder inside is one with all its files; the code of the folder's own `mod.rs` is one of them.
    let part = |file: &[String]| -> Option<String> {
        let behind = file.strip_prefix(folder)?;
        Some(behind.first().map_or("mod.rs", String::as_str).to_owned())
    };
    let mut uses: BTreeMap<String, BTreeMap<String, String>> = BTreeMap::new();
    for (own, read) in files {
        for path in &read.uses {
            let to = home(path, files, 8).and_then(|file| part(&file));
            if let (Some(from), Some(to)) = (part(own), to)
                && from != to
            {
                uses.entry(from).or_default().insert(to, path.join("::"));
            }
        }
    }
    // What uses nothing that is left is on no circle.
    loop {
        let left: BTreeSet<String> = uses.keys().cloned().collect();
        uses.values_mut()
            .for_each(|to| to.retain(|to, _| left.contains(to)));
        uses.retain(|_, to| !to.is_empty());
        if uses.len() == left.len() {
            break;
        }
    }
    let mut way = vec![uses.keys().next()?.clone()];
    loop {
        let (next, _) = uses[way.last()?].first_key_value()?;
        if let Some(begin) = way.iter().position(|known| known == next) {
            way.drain(..begin);
            break;
        }
        way.push(next.clone());
    }
    let steps = way.iter().zip(way.iter().cycle().skip(1));
    let steps: Vec<String> = steps
        .map(|(from, to)| format!("{from} uses {to} ({})", uses[from][to]))
        .collect();
    Some(format!(
        "a circle in src/{}: {}",
        folder.join("/"),
        steps.join("; ")
    ))
}

#[test]
fn no_files_of_a_room_use_each_other_in_a_circle() {
    let source = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let texts: Vec<(ModulePath, String)> = ROOMS
        .iter()
        .flat_map(|room| files_of(room))
        .map(|(path, text)| {
            let own = path
                .strip_prefix(&source)
                .expect("it is inside")
                .with_extension("");
            let own = own.to_string_lossy().replace(['\\', '/'], "::");
            (split(own.strip_suffix("::mod").unwrap_or(&own)), text)
        })
        .collect();
    let found = circles(&texts);
    assert!(found.is_empty(), "{}", found.join("\n"));
}

#[test]
fn a_circle_of_any_sort_is_found() {
    let found = |files: &[(&str, &str)]| {
        let texts: Vec<(ModulePath, String)> = files
            .iter()
            .map(|(own, text)| (split(own), (*text).to_owned()))
            .collect();
        circles(&texts)
    };
    let parent = ("r", "mod a;\nmod b;\npub use a::One;\n");
    let one_way = [
        parent,
        ("r::a", "use super::b::Two;\n"),
        ("r::b", "// use super::a::One;\n"),
    ];
    assert_eq!(found(&one_way), Vec::<String>::new());
    let by_lines = [
        parent,
        ("r::a", "use super::{b::Two};\n"),
        ("r::b", "use crate::r::{a::{self, One}};\n"),
    ];
    let said = "a circle in src/r: a uses b (r::b::Two); b uses a (r::a::One)";
    assert_eq!(found(&by_lines), [said]);
    let passed_on = [
        parent,
        ("r::a", "use super::b::Two;\n"),
        ("r::b", "fn f() { super::One::g(); }\n"),
    ];
    assert_eq!(found(&passed_on).len(), 1);
    let with_parent = [
        ("r", "mod a;\nstruct Own;\nfn f() { a::g(); }\n"),
        ("r::a", "use super::Own;\n"),
    ];
    assert_eq!(
        found(&with_parent),
        ["a circle in src/r: a uses mod.rs (r::Own); mod.rs uses a (r::a::g)"]
    );
    let through_folder = [
        ("r", "mod a;\nmod b;\n"),
        ("r::a", "mod x;\nmod y;\n"),
        ("r::a::x", "use crate::r::b::Two;\n"),
        ("r::a::y", ""),
        ("r::b", "use super::a::y::Three;\n"),
    ];
    assert_eq!(found(&through_folder).len(), 1);
}
