//! Bad input gets one clear message that names the thing and the fix, a non-zero exit, and no panic.

use std::fs;
use std::io::Write;
use std::path::Path;
use std::process::{Command, Output, Stdio};
use std::time::{Duration, Instant};

use lineside::journal::Record;
use lineside::walk::Event;
use tempfile::TempDir;

fn lineside(home: &TempDir, args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_lineside"))
        .args(args)
        .env_clear()
        .env("HOME", home.path())
        .current_dir(home.path())
        .stdin(Stdio::null())
        .output()
        .expect("the program starts")
}

/// Runs `diagnose --answers` on a text and gives back exit code and error output.
fn answers(text: &[u8]) -> (i32, String) {
    let home = tempfile::tempdir().expect("a temporary folder");
    fs::write(home.path().join("case.toml"), text).expect("the file can be written");
    let output = lineside(&home, &["diagnose", "--answers", "case.toml"]);
    let error = String::from_utf8(output.stderr).expect("errors are text");
    assert!(!error.contains("panicked"), "{error}");
    assert!(output.stdout.is_empty() || output.status.success());
    (output.status.code().expect("it ends by itself"), error)
}

const HEAD: &str = "complaint = \"breaker-opens\"\nequipment = \"split-air-conditioner\"\n";

#[test]
fn unknown_ids_are_named_with_the_nearest_valid_one() {
    let cases = [
        (
            "complaint = \"breaker-open\"\nequipment = \"heat-pump\"\n".to_owned(),
            ["line 1", "`breaker-open`", "`breaker-opens`"],
        ),
        (
            "complaint = \"breaker-opens\"\nequipment = \"heatpump\"\n".to_owned(),
            ["line 2", "`heatpump`", "`heat-pump`"],
        ),
        (
            format!("{HEAD}[facts]\nnameplate-volts = 230\n"),
            ["line 4", "`nameplate-volts`", "`nameplate-voltage`"],
        ),
        (
            format!("{HEAD}[answers]\nwhen-does-it-happn = \"x\"\n"),
            ["line 4", "`when-does-it-happn`", "`when-does-it-happen`"],
        ),
        (
            format!("{HEAD}[answers]\nwhen-does-it-happen = \"after-minute\"\n"),
            ["line 4", "`after-minute`", "`after-minutes`"],
        ),
        (
            format!("{HEAD}[expect]\ncause = \"locked-compresor\"\n"),
            ["line 4", "`locked-compresor`", "`locked-compressor`"],
        ),
    ];
    for (text, expected) in cases {
        let (code, error) = answers(text.as_bytes());
        assert_eq!(code, 1, "{error}");
        for part in expected {
            assert!(error.contains(part), "`{part}` is not in: {error}");
        }
    }
}

#[test]
fn readings_that_cannot_be_are_refused_with_the_reason() {
    for (value, reason) in [
        ("-12 V", "below zero"),
        ("5 MV", "700 V"),
        ("24 A", "current"),
        ("soon", "number"),
    ] {
        let (code, error) =
            answers(format!("{HEAD}[answers]\nvoltage-at-unit-running = \"{value}\"\n").as_bytes());
        assert_eq!(code, 1, "{error}");
        assert!(error.contains(reason), "`{reason}` is not in: {error}");
    }
}

#[test]
fn every_fault_of_a_file_is_told_at_once() {
    let (_, error) =
        answers(format!("{HEAD}[answers]\nfirst-thing = \"x\"\nsecond-thing = \"y\"\n").as_bytes());
    assert!(
        error.contains("first-thing") && error.contains("second-thing"),
        "{error}"
    );
}

#[test]
fn broken_files_are_refused() {
    for (text, reason) in [
        (
            b"complaint = \"breaker-opens\nequipment = \"x\"".to_vec(),
            "line 1",
        ),
        (b"complaint = 3\nequipment = \"heat-pump\"".to_vec(), "string"),
        (b"equipment = \"heat-pump\"".to_vec(), "complaint"),
        (b"\xff\xfe\x00c".to_vec(), "UTF-8"),
        (vec![b'#'; 10_000_000], "10000000 bytes"),
        (format!("{HEAD}colour = 1\n").into_bytes(), "colour"),
    ] {
        let (code, error) = answers(&text);
        assert_eq!(code, 1, "{error}");
        assert!(error.contains(reason), "`{reason}` is not in: {error}");
        assert!(error.lines().count() < 12, "{error}");
    }
}

#[test]
fn missing_files_and_folders_are_named() {
    let home = tempfile::tempdir().expect("a temporary folder");
    for args in [
        ["diagnose", "--answers", "nowhere.toml"],
        ["diagnose", "--trees", "nowhere"],
    ] {
        let output = lineside(&home, &args);
        let error = String::from_utf8(output.stderr).expect("errors are text");
        assert_eq!(output.status.code(), Some(1), "{error}");
        assert!(error.contains("nowhere"), "{error}");
    }
}

#[test]
fn wrong_usage_is_exit_code_2() {
    let home = tempfile::tempdir().expect("a temporary folder");
    for args in [["diagnose", "--answer", "x"], ["trees", "check", "--format=xml"]] {
        assert_eq!(lineside(&home, &args).status.code(), Some(2));
    }
}

#[test]
fn the_json_result_has_the_fields_that_are_promised() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let example = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/third-pull-out.toml");
    let example = example.to_str().expect("the path is text");
    let output = lineside(
        &home,
        &[
            "diagnose",
            "--answers",
            example,
            "--format",
            "json",
            "--all-causes",
        ],
    );
    assert!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    let result: serde_json::Value = serde_json::from_slice(&output.stdout).expect("the result is JSON");
    for field in [
        "schema",
        "standing",
        "defects",
        "next",
        "calculations",
        "cautions",
        "unexplained",
    ] {
        assert!(!result[field].is_null(), "no field `{field}`");
    }
    for field in ["cause", "probability", "where", "trade", "for", "against"] {
        assert!(
            !result["standing"][0][field].is_null(),
            "no field `standing[].{field}`"
        );
    }
    let standing = result["standing"].as_array().expect("a list");
    let total: f64 = standing
        .iter()
        .filter_map(|cause| cause["probability"].as_f64())
        .sum::<f64>()
        + result["unexplained"]["probability"].as_f64().expect("a number");
    assert!((total - 1.0).abs() < 1e-9, "{total}");
    // Nothing is left in the home of someone who only asked for a result.
    assert_eq!(fs::read_dir(home.path()).expect("it can be read").count(), 0);
}

/// Runs a case in lines, as through a pipe, in a shell that may limit it; gives back exit code and talk.
fn typed(home: &TempDir, limits: &str, lines: &str) -> (i32, String) {
    let mut child = Command::new("sh")
        .args([
            "-c",
            &format!("{limits} exec \"$0\" --case case.jsonl"),
            env!("CARGO_BIN_EXE_lineside"),
        ])
        .env_clear()
        .env("HOME", home.path())
        .current_dir(home.path())
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    let mut input = child.stdin.take().expect("its input");
    // The program may end before it has read everything; what it says then is what is tested.
    let _ = input.write_all(lines.as_bytes());
    drop(input);
    let output = child.wait_with_output().expect("it ends");
    let talk = String::from_utf8(output.stderr).expect("talk is text");
    assert!(!talk.contains("panicked"), "{talk}");
    (output.status.code().expect("it ends by itself"), talk)
}

#[test]
fn an_input_closed_in_the_middle_keeps_everything_answered() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let (code, talk) = typed(&home, "", "1\n1\n");
    assert_eq!(code, 1, "{talk}");
    assert!(
        talk.contains("error: the input ended in the middle of a question"),
        "{talk}"
    );
    assert!(talk.contains("go on with: lineside --case case.jsonl"), "{talk}");
    let kept = fs::read_to_string(home.path().join("case.jsonl")).expect("the case is kept");
    assert!(
        kept.contains("\"complaint\"") && kept.contains("\"equipment\""),
        "{kept}"
    );
}

/// A limit on the size of files makes writing fail in the middle of a line, as a full disk does.
#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_is_told_and_loses_nothing_confirmed() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let note = format!("n\n{}\n", "x".repeat(300));
    let (code, talk) = typed(
        &home,
        "trap '' XFSZ; ulimit -f 4;",
        &format!("1\n1\n{}", note.repeat(20)),
    );
    assert_eq!(code, 1, "{talk}");
    assert!(
        talk.contains("error: cannot write to the case file `case.jsonl`"),
        "{talk}"
    );
    assert!(talk.contains("all before it were"), "{talk}");
    let kept = fs::read_to_string(home.path().join("case.jsonl")).expect("the case is kept");
    assert!(kept.ends_with('\n'), "half a line is left: {kept}");
    // With room again, it goes on where it stood.
    let confirmed = kept.matches("\"note\"").count();
    assert!(confirmed >= 1, "{kept}");
    let (_, talk) = typed(&home, "", "s\n");
    assert!(talk.contains("Going on with the case"), "{talk}");
    assert!(!talk.contains("cut off"), "{talk}");
}

#[test]
fn a_case_that_cannot_be_kept_or_read_is_refused() {
    let home = tempfile::tempdir().expect("a temporary folder");
    fs::write(home.path().join("file"), "not a case").expect("it can be written");
    for (case, reason) in [
        ("file/case.jsonl", "cannot create the case file"),
        ("file", "is not a case file"),
        ("/proc/no/case.jsonl", "cannot create the case file"),
    ] {
        let output = lineside(&home, &["--case", case]);
        let error = String::from_utf8(output.stderr).expect("errors are text");
        assert_eq!(output.status.code(), Some(1), "{error}");
        assert!(
            error.contains(reason) && error.contains(case) && error.contains("hint: "),
            "{error}"
        );
    }
}

/// A limit on the size of files at every block makes the writing of every kind of event fail once.
#[cfg(target_os = "linux")]
#[test]
fn what_is_said_to_be_lost_is_what_is_lost() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let example = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/third-pull-out.toml");
    fs::copy(example, home.path().join("answers.toml")).expect("copied");
    let run = |limits: &str, case: &str| {
        let output = Command::new("sh")
            .args(["-c", &format!("{limits} exec \"$0\" \"$@\"")])
            .arg(env!("CARGO_BIN_EXE_lineside"))
            .args(["diagnose", "--answers", "answers.toml", "--case", case])
            .env_clear()
            .current_dir(home.path())
            .output()
            .expect("the program starts");
        let text = fs::read_to_string(home.path().join(case)).expect("the case is there");
        assert!(text.ends_with('\n'), "half a line is left: {text}");
        let events: Vec<Event> = text
            .lines()
            .skip(1)
            .map(|line| serde_json::from_str::<Record>(line).expect("a record").event)
            .collect();
        (events, String::from_utf8(output.stderr).expect("errors are text"))
    };
    let (whole, _) = run("", "whole.jsonl");
    let mut said = [0, 0];
    for blocks in 1..40 {
        let (kept, error) = run(
            &format!("trap '' XFSZ; ulimit -f {blocks};"),
            &format!("{blocks}.jsonl"),
        );
        let Some(failed) = whole.get(kept.len()) else {
            break;
        };
        assert_eq!(kept, whole[..kept.len()]);
        let given = failed.is_given();
        let words = if given {
            "the last answer was not kept, all before it were"
        } else {
            "the last answer is kept; only what follows from it was not written"
        };
        assert!(error.contains(words), "{failed:?}: {error}");
        said[usize::from(given)] += 1;
    }
    assert!(said.iter().all(|times| *times > 0), "{said:?}");
}

/// A case at the keyboard whose file somebody harms after the first answers, and that is then stopped or closed.
fn harmed(harm: impl Fn(&Path), rest: &str) -> (TempDir, i32, String) {
    let home = tempfile::tempdir().expect("a temporary folder");
    let case = home.path().join("cases/case.jsonl");
    let mut child = Command::new(env!("CARGO_BIN_EXE_lineside"))
        .args(["--case", "cases/case.jsonl"])
        .env_clear()
        .env("HOME", home.path())
        .current_dir(home.path())
        .stdin(Stdio::piped())
        .stdout(Stdio::null())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    let mut input = child.stdin.take().expect("its input");
    input.write_all(b"1\n1\n").expect("it reads");
    let started = Instant::now();
    while !fs::read_to_string(&case).is_ok_and(|text| text.contains("\"equipment\"") && text.ends_with('\n'))
    {
        assert!(started.elapsed() < Duration::from_secs(60), "no answer is kept");
        std::thread::sleep(Duration::from_millis(5));
    }
    harm(&case);
    input.write_all(rest.as_bytes()).expect("it reads");
    drop(input);
    let output = child.wait_with_output().expect("it ends");
    let talk = String::from_utf8(output.stderr).expect("talk is text");
    assert!(!talk.contains("panicked"), "{talk}");
    (home, output.status.code().expect("it ends by itself"), talk)
}

#[test]
fn a_case_file_lost_while_it_is_open_is_told_and_kept_elsewhere() {
    let cut = |case: &Path| fs::write(case, "").expect("cut");
    let delete = |case: &Path| fs::remove_file(case).expect("deleted");
    // Told before the next question, at a stop, and when the input ends.
    for (rest, code) in [("n\nin the attic\ns\n", 0), ("s\n", 0), ("", 1)] {
        for harm in [cut as fn(&Path), delete] {
            let (home, ended, talk) = harmed(harm, rest);
            assert_eq!(ended, code, "{talk}");
            assert!(
                talk.contains("The case file cases/case.jsonl ")
                    && talk.contains("written anew to cases/case-2.jsonl"),
                "{talk}"
            );
            assert!(
                talk.contains("go on with: lineside --case cases/case-2.jsonl"),
                "{talk}"
            );
            let kept = fs::read_to_string(home.path().join("cases/case-2.jsonl")).expect("written anew");
            assert!(
                kept.starts_with("{\"lineside-case\"") && kept.contains("\"equipment\""),
                "{kept}"
            );
        }
    }
}

#[test]
fn a_case_that_is_lost_for_good_is_not_called_kept() {
    let harm = |case: &Path| {
        let folder = case.parent().expect("a folder");
        fs::remove_dir_all(folder).expect("deleted");
        fs::write(folder, "no folder").expect("written");
    };
    for rest in ["n\nin the attic\n", "s\n", ""] {
        let (_, code, talk) = harmed(harm, rest);
        assert_eq!(code, 1, "{talk}");
        assert!(talk.contains("count none of the answers as kept"), "{talk}");
        assert!(!talk.contains("is kept"), "{talk}");
    }
}

#[test]
fn of_many_faults_the_first_are_shown_and_the_rest_counted() {
    let home = tempfile::tempdir().expect("a temporary folder");
    fs::create_dir(home.path().join("trees")).expect("made");
    fs::write(home.path().join("trees/many.toml"), "a = 1\n".repeat(300)).expect("written");
    let output = lineside(&home, &["trees", "check", "--trees", "trees"]);
    assert_eq!(output.status.code(), Some(1));
    let said = String::from_utf8(output.stdout).expect("text");
    let left_out: usize = said
        .lines()
        .find_map(|line| line.strip_suffix(" more findings not shown; fix these first."))
        .and_then(|number| number.parse().ok())
        .expect("it is said");
    assert_eq!(said.matches("error[").count(), 200);
    assert!(said.contains(&format!("{} errors", 200 + left_out)), "{said}");
}
