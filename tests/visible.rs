//! What comes from elsewhere and steers a terminal is shown, not obeyed; and a result that cannot be written is said.

use std::fs;
use std::process::{Command, Output};

use crate::support::{Session, case_file};

/// Renames the window, rings, clears the screen, goes back over the line, turns figures around, hides.
const STEERS: &str = "\\u001b]0;own\\u0007\\u001b[2Jlost\\rover\\u202e021\\u200b\\u009b5m";

/// What a terminal was sent holds nothing of it: our own sequences set weight and color, or move the cursor between
/// lines of a list.
fn assert_harmless(written: &str) {
    for (raw, what) in [
        ("\u{1b}]", "an operating-system command"),
        ("\u{7}", "a bell"),
        ("\u{1b}[2J", "clearing the screen"),
        ("\u{202e}", "a change of direction"),
        ("\u{200b}", "what has no width"),
        ("\u{9b}", "a C1 control"),
        ("lost\r", "a carriage return"),
    ] {
        assert!(!written.contains(raw), "{what}: {written:?}");
    }
}

#[test]
fn a_note_of_an_answer_file_cannot_steer_the_terminal() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let file = home.path().join("case\u{1b}[2J.toml");
    let text = format!(
        "complaint = \"part-burnt\"\nequipment = \"boiler\"\nnote = \"{STEERS}\"\n[answers]\nhazard-look = \
         \"none\"\nwhat-runs = \"electric-heat-dead\"\n"
    );
    fs::write(&file, text).expect("it can be written");
    let arguments = ["diagnose", "--answers", file.to_str().expect("it is text")];
    let mut session = Session::start(80, home.path(), &arguments);
    session.ends_with(0);
    let written = session.written_to_the_end();
    assert_harmless(&written);
    assert!(written.contains("\\u001b]0;own\\u0007"), "{written:?}");
    assert!(written.contains("case\\u001b[2J.toml: line 6"), "{written:?}");
    assert!(
        written.contains("\u{1b}[1mNOTES\u{1b}[0m"),
        "our own marks stay: {written:?}"
    );
}

#[test]
fn a_kept_note_and_the_name_of_a_case_cannot_steer_the_terminal() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let case = home.path().join("case\u{1b}]0;own\u{7}.jsonl");
    let case = case.to_str().expect("it is text");
    let mut session = Session::start(80, home.path(), &["--case", case]);
    session.complain("part-burnt");
    session.equip("boiler");
    session.wait_for("question 5");
    session.press("n");
    session.wait_for("note >");
    session.press("12\u{202e}34\r");
    session.wait_for("Note kept.");
    session.press("r");
    session.wait_for("c facts, working");
    session.press("c");
    session.wait_for("NOTES");
    session.press("q");
    session.wait_for("c facts, working");
    session.press("q");
    session.stop();
    session.wait_for("go on with: lineside --case");
    session.ends_with(0);
    let written = session.written_to_the_end();
    // What is typed is shown as it is typed; from Enter on it is data.
    let from = written.find("Note kept.").expect("it was said");
    assert_harmless(&written[from..]);
    assert!(written.contains("case\\u001b]0;own\\u0007.jsonl"), "{written:?}");
}

#[test]
fn what_was_typed_wrongly_cannot_steer_the_terminal() {
    let home = tempfile::tempdir().expect("a temporary folder");
    for arguments in [
        ["--format", "\u{1b}]0;own\u{7}", ""],
        ["--no\u{1b}[2Jsuch", "", ""],
        ["figure", "volts\u{1b}[2J\u{202e}", ""],
        ["trees", "draw", "safe\u{7}"],
        ["close", "nowhere\u{1b}[2J", "--cause=not-listed"],
    ] {
        let arguments: Vec<&str> = arguments.into_iter().filter(|part| !part.is_empty()).collect();
        let mut session = Session::start(80, home.path(), &arguments);
        session.ends_with_any();
        let written = session.written_to_the_end();
        assert_harmless(&written);
        assert!(written.contains("\\u"), "{written:?}");
    }
}

#[test]
fn knowledge_cannot_steer_the_terminal() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let folder = home.path().join("trees");
    fs::create_dir_all(folder.join("causes")).expect("it can be made");
    let text = format!("[cause.bad]\nname = \"{STEERS}\"\nplace = \"{STEERS}\"\n\u{1b}[2J\n");
    fs::write(folder.join("causes/a\u{1b}[2J\u{7}.toml"), text).expect("it can be written");
    let folder = folder.to_str().expect("it is text");
    for arguments in [
        &["trees", "check", "--trees", folder][..],
        &["trees", "check", "--trees", folder, "--format", "short"],
        &["trees", "list", "causes", "--trees", folder],
        &["diagnose", "--trees", folder],
    ] {
        let mut session = Session::start(80, home.path(), arguments);
        session.ends_with(1);
        assert_harmless(&session.written_to_the_end());
    }
}

fn without_output(arguments: &[&str]) -> Output {
    Command::new("sh")
        .args(["-c", "exec \"$0\" \"$@\" >&-", env!("CARGO_BIN_EXE_lineside")])
        .args(arguments)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .expect("sh runs")
}

#[cfg(any(target_os = "linux", target_os = "macos"))]
#[test]
fn a_closed_output_is_said_and_is_no_success() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let case = case_file(&home);
    let answers = "tests/callbacks/int-05.toml";
    for arguments in [
        &["diagnose", "--answers", answers][..],
        &["diagnose", "--answers", answers, "--format", "json"],
        &["--case", &case],
        &["figure"],
        &["trees", "list", "complaints"],
        &["trees", "check"],
        &["--version"],
        &["trees", "--help"],
    ] {
        let output = without_output(arguments);
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(output.status.code(), Some(1), "{arguments:?}: {said}");
        assert!(
            said.contains("the standard output is closed"),
            "{arguments:?}: {said}"
        );
    }
    // What goes to a file needs no output.
    let picture = home.path().join("safety.svg");
    let output = without_output(&[
        "trees",
        "draw",
        "safety",
        "-o",
        picture.to_str().expect("it is text"),
    ]);
    assert_eq!(output.status.code(), Some(0), "{output:?}");
}
