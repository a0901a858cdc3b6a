//! The words the reader does not use: British spelling and wording, in everything a person reads here.
//!
//! Ids stay as they were given, for kept cases hold them; a source keeps its own title and address. Spelling after
//! American dictionaries; "trips" of a breaker and "spade terminal" are trade words (common practice, no source).

use std::fs;
use std::path::{Path, PathBuf};

/// Beginnings of words that must not come back.
const STEMS: [&str; 17] = [
    "aluminium",
    "analyser",
    "behaviour",
    "catalogue",
    "colour",
    "discolour",
    "draught",
    "energis",
    "equalis",
    "favour",
    "judgement",
    "labour",
    "neighbour",
    "normalis",
    "oxidis",
    "recognis",
    "telephone",
];

/// Whole words that must not come back.
const WORDS: [&str; 30] = [
    "afterwards",
    "amongst",
    "backwards",
    "centre",
    "centred",
    "centres",
    "earthed",
    "earthing",
    "grey",
    "labelled",
    "leant",
    "learnt",
    "licence",
    "licences",
    "megger",
    "mend",
    "mended",
    "mending",
    "mends",
    "metre",
    "metres",
    "outwards",
    "petrol",
    "push-on",
    "push-ons",
    "rcd",
    "slack",
    "smelt",
    "spanner",
    "whilst",
];

/// Phrases that must not come back.
const PHRASES: [&str; 7] = [
    "breaker opens",
    "breakers open ",
    "device opens",
    "fifth in hand",
    "twist-on",
    "way round",
    "within a hand",
];

/// What is wrong with a text, if anything.
fn wrong(text: &str) -> Option<&'static str> {
    let text = text.to_lowercase();
    let words = || {
        text.split(|c: char| !(c.is_alphanumeric() || c == '-' || c == '_' || c == '\''))
            .filter(|word| !word.contains('_'))
    };
    STEMS
        .into_iter()
        .find(|stem| words().any(|word| word.starts_with(stem) && !word.contains('-')))
        .or_else(|| {
            WORDS
                .into_iter()
                .find(|wanted| words().any(|word| word.trim_end_matches("'s") == *wanted))
        })
        .or_else(|| PHRASES.into_iter().find(|phrase| text.contains(phrase)))
}

/// A text without code in backticks, ids in quotes and addresses.
fn prose(text: &str) -> String {
    let spoken: String = text.split('`').step_by(2).collect::<Vec<_>>().join(" ");
    spoken
        .split_whitespace()
        .filter(|word| {
            !word.contains("://") && !word.trim_matches([',', ';', ':', '[', ']']).starts_with('"')
        })
        .collect::<Vec<_>>()
        .join(" ")
}

/// Whether a value of a data file is an id or a word of the format, not something a person reads.
fn is_id(key: &str, text: &str) -> bool {
    key != "words"
        && key != "instrument"
        && !text.contains(' ')
        && text.chars().all(|c| c.is_lowercase() || c == '-')
}

/// The texts of a TOML value that a person reads, sources apart.
fn texts_of(value: &toml::Value, key: &str, into: &mut Vec<String>) {
    match value {
        toml::Value::String(text) if !is_id(key, text) => into.push(text.clone()),
        toml::Value::Array(items) => items.iter().for_each(|item| texts_of(item, key, into)),
        toml::Value::Table(table) => {
            for (key, value) in table {
                if !["source", "sources", "rule"].contains(&key.as_str()) {
                    texts_of(value, key, into);
                }
            }
        }
        _ => {}
    }
}

/// The comments and the strings of a Rust file; a string that is one word is an id.
fn texts_of_code(code: &str) -> Vec<String> {
    let mut texts = Vec::new();
    let mut rest = code;
    while let Some(at) = rest.find(['"', '\'']).into_iter().chain(rest.find("//")).min() {
        let from = &rest[at..];
        if let Some(comment) = from.strip_prefix("//") {
            let end = comment.find('\n').unwrap_or(comment.len());
            // A source in a comment keeps its own words.
            texts.push(comment[..end].to_owned());
            rest = &comment[end..];
        } else if from.starts_with('\'') {
            // A character such as '"', or a lifetime.
            let quoted = from.char_indices().skip(1).take(4).find(|(_, c)| *c == '\'');
            rest = &from[quoted.map_or(1, |(end, _)| end + 1)..];
        } else {
            let mut end = 1;
            while let Some(c) = from[end..].chars().next().filter(|c| *c != '"') {
                end += c.len_utf8();
                if c == '\\' {
                    end += from[end..].chars().next().map_or(0, char::len_utf8);
                }
            }
            let text = &from[1..end];
            if text.contains(' ') {
                texts.push(text.to_owned());
            }
            rest = from.get(end + 1..).unwrap_or_default();
        }
    }
    texts
}

fn files(folder: &Path, into: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder)
        .expect("a folder")
        .map(|entry| entry.expect("an entry").path())
    {
        if entry.is_dir() {
            files(&entry, into);
        } else {
            into.push(entry);
        }
    }
}

#[test]
fn nothing_a_person_reads_is_in_british_words() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut all = vec![root.join("README.md"), root.join("DEVELOPERS.md")];
    for folder in ["trees", "src", "examples"] {
        files(&root.join(folder), &mut all);
    }
    let mut findings = Vec::new();
    for file in &all {
        let text = fs::read_to_string(file).unwrap();
        let texts: Vec<String> = match file.extension().and_then(|ending| ending.to_str()) {
            Some("toml") => {
                let mut texts = Vec::new();
                texts_of(
                    &toml::Value::Table(toml::from_str(&text).unwrap()),
                    "",
                    &mut texts,
                );
                texts.extend(
                    text.lines()
                        .filter(|line| line.starts_with('#'))
                        .map(str::to_owned),
                );
                texts
            }
            Some("rs") => texts_of_code(&text),
            _ => text.lines().map(str::to_owned).collect(),
        };
        for text in texts {
            if let Some(word) = wrong(&prose(&text)) {
                findings.push(format!(
                    "{}: {word}: {text}",
                    file.strip_prefix(root).unwrap().display()
                ));
            }
        }
    }
    assert!(
        findings.is_empty(),
        "{} findings:\n{}",
        findings.len(),
        findings.join("\n")
    );
}

#[test]
fn british_words_are_seen_and_ids_are_not() {
    for text in [
        "Discoloured or loose",
        "The breaker opens",
        "an aluminium lug",
        "keep a fifth in hand",
        "Grey",
    ] {
        assert!(wrong(&prose(text)).is_some(), "{text}");
    }
    for text in [
        "see `neighbours-dim-too`",
        "gray, colored, mended-by-hand",
        "https://a.example/grey",
        "the fuse opens",
    ] {
        assert_eq!(wrong(&prose(text)), None, "{text}");
    }
    assert!(is_id("id", "backwards") && !is_id("label", "Grey") && !is_id("words", "petrol"));
    assert_eq!(
        texts_of_code("let a = \"energised\"; // grey\nlet b = \"a \\\"b\"; '\"'"),
        [" grey", "a \\\"b"]
    );
}
