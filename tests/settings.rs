//! The file of settings, what it changes and what overrides it; completions and manual pages.

use std::fs;
use std::io::Write;
use std::process::{Command, Output, Stdio};

use tempfile::TempDir;

fn home() -> TempDir {
    tempfile::tempdir().expect("a folder can be made")
}

/// Where the settings stand on this platform, asked of the program itself.
fn settings(home: &TempDir, text: &str) {
    let shown = lineside(home, &["settings", "--format", "json"], "");
    let shown: serde_json::Value = serde_json::from_slice(&shown.stdout).expect("it prints JSON");
    let file = std::path::PathBuf::from(shown["file"].as_str().expect("there is a home"));
    assert!(file.starts_with(home.path()), "{}", file.display());
    fs::create_dir_all(file.parent().expect("it is in a folder")).expect("it can be made");
    fs::write(file, text).expect("it can be written");
}

fn lineside(home: &TempDir, args: &[&str], typed: &str) -> Output {
    let mut child = Command::new(env!("CARGO_BIN_EXE_lineside"))
        .args(args)
        .env_clear()
        .env("HOME", home.path())
        .current_dir(home.path())
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    // A program that asks nothing closes its input.
    let _ = child
        .stdin
        .take()
        .expect("it is piped")
        .write_all(typed.as_bytes());
    child.wait_with_output().expect("it ends")
}

fn said(output: &Output) -> String {
    format!(
        "{}{}",
        String::from_utf8_lossy(&output.stdout),
        String::from_utf8_lossy(&output.stderr)
    )
}

/// Inputs of a calculation that takes the edition of the code.
const FIGURE: [&str; 8] = [
    "figure",
    "shared-circuit-load",
    "--set",
    "unit-running-current=9.8 A",
    "--set",
    "protective-device-rating=15 A",
    "--set",
    "circuit-loads=lamp 2 A",
];

#[test]
fn a_new_case_goes_to_the_folder_of_the_settings_and_an_option_overrides_it() {
    let home = home();
    settings(&home, "cases-folder = \"~/kept\"\n");
    lineside(&home, &[], "1\n1\ns\n");
    assert_eq!(
        fs::read_dir(home.path().join("kept"))
            .expect("it was made")
            .count(),
        1
    );
    lineside(&home, &["--cases", "other"], "1\n1\ns\n");
    assert_eq!(
        fs::read_dir(home.path().join("other"))
            .expect("it was made")
            .count(),
        1
    );
    lineside(&home, &["--no-settings"], "1\n1\ns\n");
    assert_eq!(
        fs::read_dir(home.path().join("kept"))
            .expect("it is there")
            .count(),
        1
    );
}

#[test]
fn the_edition_of_the_settings_is_told_to_a_case_once() {
    let home = home();
    settings(&home, "edition = 2020\n");
    let answers = "complaint = \"breaker-opens\"\nequipment = \"split-air-conditioner\"\n[answers]\nhazard-look = \"none\"\n";
    fs::write(home.path().join("a.toml"), answers).expect("it can be written");
    let editions = |args: &[&str]| {
        let _ = fs::remove_file(home.path().join("c.jsonl"));
        let mut all = vec!["diagnose", "--answers", "a.toml", "--case", "c.jsonl"];
        all.extend(args);
        let run = lineside(&home, &all, "");
        assert!(run.status.success(), "{}", said(&run));
        let case = fs::read_to_string(home.path().join("c.jsonl")).expect("it was kept");
        case.lines()
            .filter(|line| line.contains("\"code-edition\""))
            .map(|line| {
                ["2014", "2020", "2023"]
                    .into_iter()
                    .find(|year| line.contains(&format!("\"{year}\"")))
            })
            .collect::<Vec<_>>()
    };
    assert_eq!(editions(&[]), [Some("2020")]);
    assert_eq!(editions(&["--edition", "2014"]), [Some("2014")]);
    assert!(editions(&["--no-settings"]).is_empty());
    // What the file of answers says of its own case outranks both.
    fs::write(
        home.path().join("a.toml"),
        format!("{answers}[facts]\ncode-edition = \"2023\"\n"),
    )
    .expect("it can be written");
    assert_eq!(editions(&[]).last(), Some(&Some("2023")));
}

#[test]
fn a_calculation_takes_the_edition_too() {
    let home = home();
    settings(&home, "edition = \"2020\"\n");
    let run = lineside(&home, &FIGURE, "");
    assert!(
        said(&run).contains("code edition 2020 as given"),
        "{}",
        said(&run)
    );
    let mut all = FIGURE.to_vec();
    all.extend(["--set", "code-edition=2023"]);
    assert!(said(&lineside(&home, &all, "")).contains("code edition 2023 as given"));
    assert!(
        !said(&lineside(
            &home,
            &["figure", "ohms-law", "--set", "voltage=9 V"],
            ""
        ))
        .contains("2020")
    );
}

#[test]
fn a_shop_file_that_is_not_there_is_no_silent_default() {
    let home = home();
    settings(&home, "shop-file = \"gone.toml\"\n");
    let run = lineside(&home, &["diagnose"], "1\n1\ns\n");
    assert_eq!(run.status.code(), Some(1));
    assert!(said(&run).contains("gone.toml"), "{}", said(&run));
}

#[test]
fn every_command_that_weighs_a_case_takes_the_shop_file() {
    let home = home();
    settings(&home, "shop-file = \"gone.toml\"\n");
    let answers = "complaint = \"breaker-opens\"\nequipment = \"split-air-conditioner\"\n[answers]\nhazard-look = \"none\"\n";
    fs::write(home.path().join("answers.toml"), answers).expect("it can be written");
    for command in ["diagnose", "report", "predict"] {
        let run = lineside(&home, &[command, "--answers", "answers.toml"], "");
        assert_eq!(run.status.code(), Some(1), "{command}: {}", said(&run));
        assert!(said(&run).contains("gone.toml"), "{command}: {}", said(&run));
    }
}

#[test]
fn colors_follow_the_settings_unless_an_option_is_given() {
    let home = home();
    settings(&home, "color = \"always\"\n");
    fs::write(
        home.path().join("a.toml"),
        "complaint = \"breaker-opens\"\nequipment = \"split-air-conditioner\"\n",
    )
    .expect("it can be written");
    let marked = |args: &[&str]| {
        let mut all = vec!["diagnose", "--answers", "a.toml"];
        all.extend(args);
        lineside(&home, &all, "").stdout.contains(&0x1b)
    };
    assert!(marked(&[]));
    assert!(!marked(&["--color", "never"]));
    assert!(!marked(&["--no-settings"]));
}

#[test]
fn an_unknown_key_is_said_by_line_and_a_wrong_value_ends_the_run() {
    let home = home();
    settings(&home, "\ncolour = \"never\"\n");
    let run = lineside(&home, &FIGURE, "");
    assert!(run.status.success());
    assert!(
        said(&run).contains("line 2: unknown key `colour`"),
        "{}",
        said(&run)
    );
    assert!(said(&run).contains("did you mean `color`?"), "{}", said(&run));

    settings(&home, "plain-screen = 3\n");
    let run = lineside(&home, &FIGURE, "");
    assert_eq!(run.status.code(), Some(1));
    assert!(
        said(&run).contains("line 1: `plain-screen` takes"),
        "{}",
        said(&run)
    );
    // What shows the settings still works, and tells by its exit code.
    let shown = lineside(&home, &["settings"], "");
    assert_eq!(shown.status.code(), Some(1));
    assert!(
        said(&shown).contains("line 1: `plain-screen` takes"),
        "{}",
        said(&shown)
    );
}

#[test]
fn the_template_is_a_file_of_settings_that_says_nothing() {
    let home = home();
    let template = lineside(&home, &["settings", "--template"], "");
    let text = String::from_utf8(template.stdout).expect("it is text");
    settings(&home, &text);
    assert!(lineside(&home, &["settings"], "").status.success());
    // With every key in use it is one still.
    let used: String = text
        .lines()
        .map(|line| match line.strip_prefix("# ") {
            Some(rest) if rest.contains(" = ") => format!("{rest}\n"),
            _ => String::new(),
        })
        .collect();
    assert_eq!(used.lines().count(), 6, "{used}");
    settings(&home, &used);
    assert!(lineside(&home, &["settings"], "").status.success());
}

/// Names of all commands, from the help.
fn commands(home: &TempDir) -> Vec<String> {
    let help = lineside(home, &["--help"], "");
    String::from_utf8_lossy(&help.stdout)
        .lines()
        .skip_while(|line| *line != "Commands:")
        .skip(1)
        .take_while(|line| !line.is_empty())
        .filter_map(|line| line.split_whitespace().next().map(str::to_owned))
        .collect()
}

#[test]
fn every_command_is_completed_and_has_its_page() {
    let home = home();
    let commands = commands(&home);
    assert!(commands.iter().any(|name| name == "diagnose"), "{commands:?}");
    for shell in ["bash", "zsh", "fish", "powershell", "elvish"] {
        let script = said(&lineside(&home, &["completions", shell], ""));
        for name in &commands {
            assert!(script.contains(name.as_str()), "{shell}: {name}");
        }
        assert!(script.contains("answers"), "{shell}");
    }
    let run = lineside(&home, &["manual", "--out", "man"], "");
    assert!(run.status.success(), "{}", said(&run));
    for name in commands.iter().filter(|name| *name != "help") {
        let page = home.path().join(format!("man/lineside-{name}.1"));
        let text = fs::read_to_string(&page).expect("it is there");
        assert!(text.contains(".TH"), "{name}");
    }
    assert!(home.path().join("man/lineside.1").exists());
}

/// The shell itself judges its script.
#[test]
fn bash_takes_the_completions() {
    let home = home();
    let script = lineside(&home, &["completions", "bash"], "");
    fs::write(home.path().join("c.sh"), &script.stdout).expect("it can be written");
    let asked = Command::new("bash")
        .args([
            "-c",
            "source ./c.sh; COMP_WORDS=(lineside diagnose --ans); COMP_CWORD=2; \
             _lineside lineside --ans diagnose; echo \"${COMPREPLY[*]}\"",
        ])
        .current_dir(home.path())
        .output();
    // Where there is no bash, nobody needs its completions.
    if let Ok(asked) = asked {
        assert_eq!(
            String::from_utf8_lossy(&asked.stdout).trim(),
            "--answers",
            "{}",
            said(&asked)
        );
    }
}
