//! What is spoiled: case, answer, shop and knowledge files of the project, and inputs of calculations; and the commands
//! that read them.

use std::ffi::OsString;
use std::fs;
use std::os::unix::ffi::OsStringExt;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use fastrand::Rng;
use serde::Deserialize;
use tempfile::TempDir;

use super::small;
use super::spoil::spoil;

/// One input and the command that gets it.
pub(crate) struct Trial {
    pub(crate) kind: &'static str,
    pub(crate) arguments: Vec<OsString>,
    /// What is typed at its prompts.
    pub(crate) typed: Vec<u8>,
    spoiled: Option<Spoiled>,
}

/// A spoiled file.
struct Spoiled {
    /// Its path below the workshop.
    path: PathBuf,
    bytes: Vec<u8>,
    /// What stands there between trials.
    sound: Option<Vec<u8>>,
}

/// A folder with sound files to spoil.
pub(crate) struct Workshop {
    folder: TempDir,
    answers: Vec<Vec<u8>>,
    cases: Vec<Vec<u8>>,
    shop: Vec<u8>,
    /// Folder of a knowledge below the workshop, and its files.
    knowledges: Vec<(&'static str, Vec<PathBuf>)>,
    figures: Vec<(String, Vec<(String, String)>)>,
}

#[derive(Deserialize)]
struct Published {
    example: Vec<Example>,
}

#[derive(Deserialize)]
struct Example {
    #[serde(default)]
    run: Vec<Run>,
}

#[derive(Deserialize)]
struct Run {
    calculation: String,
    inputs: toml::Table,
}

impl Workshop {
    pub(crate) fn new(binary: &Path) -> Self {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let project = Path::new(env!("CARGO_MANIFEST_DIR"));
        let at = |name: &str| folder.path().join(name);
        let mut answers = Vec::new();
        fs::create_dir(at("cases")).expect("made");
        let mut examples = files(&project.join("examples"), "");
        examples.retain(|path| path.extension().is_some_and(|ending| ending == "toml"));
        for (number, path) in examples.iter().enumerate() {
            let path = project.join("examples").join(path);
            answers.push(fs::read(&path).expect("an example"));
            // The first few are enough to spoil, and a debug build takes its time.
            if number < 6 {
                let case = format!("cases/{number}.jsonl");
                sound(
                    binary,
                    &folder,
                    &["diagnose", "--case", &case, "--answers"],
                    &path,
                );
                sound(
                    binary,
                    &folder,
                    &["close", "--cause", "not-listed", "--case"],
                    Path::new(&case),
                );
            }
        }
        sound(
            binary,
            &folder,
            &["learn", "cases", "--out"],
            Path::new("shop.toml"),
        );
        fs::write(at("answers.toml"), &answers[0]).expect("written");
        fs::write(at("small.toml"), small::ANSWERS).expect("written");
        let mut knowledges = vec![("small", project.join("tests/bad-trees/sound"))];
        // A check of the whole knowledge takes a debug build more than the limit.
        let is_debug_build = cfg!(debug_assertions) && binary == Path::new(env!("CARGO_BIN_EXE_lineside"));
        if !is_debug_build {
            knowledges.push(("trees", project.join("trees")));
        }
        let knowledges: Vec<(&str, Vec<PathBuf>)> = knowledges
            .into_iter()
            .map(|(name, from)| {
                let list = files(&from, "");
                for file in &list {
                    let to = at(name).join(file);
                    fs::create_dir_all(to.parent().expect("a folder")).expect("made");
                    fs::copy(from.join(file), to).expect("copied");
                }
                (name, list)
            })
            .collect();
        small::mend(&at("small"));
        // What does not load unspoiled would never be read on when spoiled.
        let whole = ["diagnose", "--trees", "small", "--answers"];
        sound(binary, &folder, &whole, Path::new("small.toml"));
        sound(
            binary,
            &folder,
            &["trees", "check", "--trees"],
            Path::new("small"),
        );
        Self {
            cases: files(&at("cases"), "")
                .iter()
                .map(|case| fs::read(at("cases").join(case)).expect("a case"))
                .collect(),
            shop: fs::read(at("shop.toml")).expect("a shop file"),
            knowledges,
            figures: figures(&project.join("tests/published")),
            answers,
            folder,
        }
    }

    pub(crate) fn folder(&self) -> &Path {
        self.folder.path()
    }

    /// Input `number`, with its file in place.
    pub(crate) fn trial(&self, number: u64) -> Trial {
        let mut rng = Rng::with_seed(number.wrapping_mul(0x9e37_79b9_7f4a_7c15));
        let trial = match number % 5 {
            0 => self.case(&mut rng),
            1 => self.answer_file(&mut rng),
            2 => self.shop_file(&mut rng),
            3 => self.knowledge(&mut rng),
            _ => self.figure(&mut rng),
        };
        // What earlier trials made must not stand in the way of this one.
        for made in ["out", "made.jsonl"] {
            let _ = fs::remove_file(self.folder.path().join(made));
        }
        trial
    }

    /// Puts back what stood where the spoiled file is.
    pub(crate) fn restore(&self, trial: &Trial) {
        if let Some(spoiled) = &trial.spoiled
            && let Some(sound) = &spoiled.sound
        {
            fs::write(self.folder.path().join(&spoiled.path), sound).expect("put back");
        }
    }

    /// Copies what failed to where it outlives the run.
    pub(crate) fn keep(&self, number: u64, trial: &Trial, said: &str) -> PathBuf {
        let kept = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("mutation/{number}"));
        fs::create_dir_all(&kept).expect("made");
        if let Some(spoiled) = &trial.spoiled {
            let name = spoiled.path.file_name().expect("a name");
            fs::write(kept.join(name), &spoiled.bytes).expect("kept");
        }
        fs::write(kept.join("typed"), &trial.typed).expect("kept");
        fs::write(kept.join("said"), format!("{:?}\n{said}", trial.arguments)).expect("kept");
        kept
    }

    fn put(&self, path: PathBuf, bytes: Vec<u8>, sound: Option<Vec<u8>>) -> Option<Spoiled> {
        fs::write(self.folder.path().join(&path), &bytes).expect("written");
        Some(Spoiled { path, bytes, sound })
    }

    fn case(&self, rng: &mut Rng) -> Trial {
        let (text, other) = (pick(&self.cases, rng), pick(&self.cases, rng));
        let spoiled = self.put("case.jsonl".into(), spoil(text, other, rng), None);
        let commands: [&[&str]; 4] = [
            &["--case", "case.jsonl"],
            &["--format", "json", "--case", "case.jsonl"],
            &["close", "--case", "case.jsonl", "--cause", "not-listed"],
            &[
                "learn",
                "case.jsonl",
                "cases",
                "--out",
                "out",
                "--half-life",
                "12",
            ],
        ];
        Trial {
            kind: "case file",
            arguments: words(commands[rng.usize(..commands.len())]),
            typed: typed(rng),
            spoiled,
        }
    }

    fn answer_file(&self, rng: &mut Rng) -> Trial {
        let (text, other) = (pick(&self.answers, rng), pick(&self.answers, rng));
        let spoiled = self.put("spoiled.toml".into(), spoil(text, other, rng), None);
        let commands: [&[&str]; 3] = [
            &["diagnose", "--answers", "spoiled.toml"],
            &["diagnose", "--answers", "spoiled.toml", "--format", "json"],
            &["diagnose", "--answers", "spoiled.toml", "--case", "made.jsonl"],
        ];
        Trial {
            kind: "answer file",
            arguments: words(commands[rng.usize(..commands.len())]),
            typed: Vec::new(),
            spoiled,
        }
    }

    fn shop_file(&self, rng: &mut Rng) -> Trial {
        let spoiled = self.put(
            "spoiled.toml".into(),
            spoil(&self.shop, pick(&self.answers, rng), rng),
            None,
        );
        Trial {
            kind: "shop file",
            arguments: words(&["diagnose", "--answers", "answers.toml", "--shop", "spoiled.toml"]),
            typed: Vec::new(),
            spoiled,
        }
    }

    fn knowledge(&self, rng: &mut Rng) -> Trial {
        // The small one mostly: what it shows costs a fraction.
        let place = if rng.u8(..4) == 0 {
            self.knowledges.len() - 1
        } else {
            0
        };
        let (name, files) = &self.knowledges[place];
        let path = Path::new(name).join(&files[rng.usize(..files.len())]);
        let other = Path::new(name).join(&files[rng.usize(..files.len())]);
        let read = |path: &Path| fs::read(self.folder.path().join(path)).expect("a file of knowledge");
        let sound = read(&path);
        let bytes = spoil(&sound, &read(&other), rng);
        let spoiled = self.put(path, bytes, Some(sound));
        let commands: [&[&str]; 8] = [
            &["trees", "check"],
            &["trees", "check", "--format", "json"],
            &["trees", "list", "causes"],
            &["trees", "sources"],
            &["trees", "draw", "--all", "-o", "out"],
            &["diagnose", "--answers"],
            &["trees", "matrix"],
            &["trees", "score", "--cases", "3"],
        ];
        // The last two work on every pair of causes or on whole drawn cases: sound, the whole knowledge takes the one
        // two seconds and the other more than a minute.
        let (some, answers) = if *name == "small" {
            (8, "small.toml")
        } else {
            (6, "answers.toml")
        };
        let command = commands[rng.usize(..some)];
        let mut arguments = words(command);
        if command[0] == "diagnose" {
            arguments.push(answers.into());
        }
        arguments.extend(words(&["--trees", name]));
        Trial {
            kind: "knowledge",
            arguments,
            typed: Vec::new(),
            spoiled,
        }
    }

    fn figure(&self, rng: &mut Rng) -> Trial {
        let (calculation, inputs) = &self.figures[rng.usize(..self.figures.len())];
        let mut arguments = words(&["figure", calculation]);
        if rng.bool() {
            arguments.extend(words(&["--format", "json"]));
        }
        let spoiled = rng.usize(..inputs.len());
        for (place, (name, value)) in inputs.iter().enumerate() {
            let mut set = format!("{name}={value}").into_bytes();
            if place == spoiled || rng.u8(..4) == 0 {
                let other = &inputs[rng.usize(..inputs.len())].1;
                set = if rng.bool() {
                    [
                        name.as_bytes(),
                        b"=",
                        &spoil(value.as_bytes(), other.as_bytes(), rng),
                    ]
                    .concat()
                } else {
                    spoil(&set, other.as_bytes(), rng)
                };
            }
            // No command line holds these: a zero byte, or more than the system takes.
            set.retain(|byte| *byte != 0);
            set.truncate(100_000);
            arguments.push("--set".into());
            arguments.push(OsString::from_vec(set));
        }
        Trial {
            kind: "figure inputs",
            arguments,
            typed: Vec::new(),
            spoiled: None,
        }
    }
}

fn pick<'a>(texts: &'a [Vec<u8>], rng: &mut Rng) -> &'a [u8] {
    &texts[rng.usize(..texts.len())]
}

fn words(words: &[&str]) -> Vec<OsString> {
    words.iter().map(OsString::from).collect()
}

/// What somebody who hits keys at random types.
fn typed(rng: &mut Rng) -> Vec<u8> {
    const LINES: [&str; 14] = [
        "1", "2", "3", "12", "240 V", "-3", "1e999", "?", "n", "b", "b 99999", "f", "v", "",
    ];
    let lines: Vec<&str> = (0..rng.usize(..30))
        .map(|_| rng.choice(LINES).unwrap_or(""))
        .collect();
    let text = lines.join("\n");
    if rng.u8(..4) == 0 {
        spoil(text.as_bytes(), b"1\n2\n", rng)
    } else {
        text.into_bytes()
    }
}

/// Files below a folder, in the order of their names.
fn files(folder: &Path, under: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder.join(under)).expect("a folder") {
        let entry = entry.expect("an entry");
        let name = Path::new(under).join(entry.file_name());
        if entry.path().is_dir() {
            found.extend(files(folder, name.to_str().expect("text")));
        } else {
            found.push(name);
        }
    }
    found.sort();
    found
}

/// Runs the program on sound files.
fn sound(binary: &Path, folder: &TempDir, arguments: &[&str], file: &Path) {
    let status = Command::new(binary)
        .args(arguments)
        .arg(file)
        .env_clear()
        .env("HOME", folder.path())
        .current_dir(folder.path())
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .status()
        .expect("the program starts");
    assert!(status.success(), "{arguments:?} {file:?}");
}

/// The inputs of the published examples, by calculation.
fn figures(folder: &Path) -> Vec<(String, Vec<(String, String)>)> {
    let mut figures = Vec::new();
    for path in files(folder, "") {
        if path.extension().is_none_or(|ending| ending != "toml") {
            continue;
        }
        let text = fs::read_to_string(folder.join(path)).expect("text");
        let published: Published = toml::from_str(&text).expect("published examples");
        for run in published.example.into_iter().flat_map(|example| example.run) {
            let inputs: Vec<(String, String)> = run
                .inputs
                .iter()
                .map(|(name, value)| {
                    (
                        name.clone(),
                        value.as_str().map_or_else(|| value.to_string(), str::to_owned),
                    )
                })
                .collect();
            if !inputs.is_empty() {
                figures.push((run.calculation, inputs));
            }
        }
    }
    figures
}
