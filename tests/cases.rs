//! The commands for cases that are kept: list, find, show, label, prove, close, reopen, export, mend; and what they say of
//! files that are none.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use lineside::journal::{Journal, read_file};
use lineside::walk::{Event, Proof};
use tempfile::TempDir;

fn start(home: &Path, arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_lineside"));
    command
        .args(arguments)
        .env_clear()
        .env("HOME", home)
        .env("TZ", "UTC")
        .current_dir(home);
    command
}

fn lineside(home: &Path, arguments: &[&str]) -> Output {
    start(home, arguments)
        .stdin(Stdio::null())
        .output()
        .expect("the program starts")
}

/// Output and talk of a command that ends with this code.
fn said(home: &Path, code: i32, arguments: &[&str]) -> String {
    let output = lineside(home, arguments);
    let text = format!(
        "{}{}",
        String::from_utf8_lossy(&output.stdout),
        String::from_utf8_lossy(&output.stderr)
    );
    assert_eq!(output.status.code(), Some(code), "{arguments:?}: {text}");
    assert!(!text.contains("panicked"), "{text}");
    text
}

fn folder(home: &Path) -> PathBuf {
    home.join(".local/share/lineside/cases")
}

/// Answers for a case that takes little time.
const ANSWERS: &str = "complaint = \"breaker-opens\"\nequipment = \"split-air-conditioner\"\n\
                       [answers]\nhazard-look = \"none\"\n";

/// Walks a case of this name into the folder of cases.
fn walk(home: &Path, name: &str, options: &[&str]) -> PathBuf {
    fs::write(home.join("answers.toml"), ANSWERS).expect("written");
    let path = folder(home).join(format!("{name}.jsonl"));
    let mut arguments = vec!["diagnose", "--answers", "answers.toml", "--case"];
    arguments.push(path.to_str().expect("text"));
    arguments.extend(options);
    said(home, 0, &arguments);
    path
}

fn last(path: &Path) -> Event {
    let case = read_file(path).expect("it is whole");
    case.records.last().expect("lines").event.clone()
}

#[test]
fn a_case_lives_from_the_first_visit_to_the_callback() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let home = home.path();
    let path = walk(
        home,
        "one",
        &[
            "--technician",
            "J. R.",
            "--place",
            "12 Invented Rd",
            "--unit",
            "rear unit",
        ],
    );
    let listed = said(home, 0, &["case", "list"]);
    assert!(
        listed.contains("one  concluded") && listed.contains("12 Invented Rd"),
        "{listed}"
    );
    // Eleven cases stand on a screen of 24 lines.
    assert_eq!(listed.lines().count(), 3, "{listed}");
    assert!(listed.lines().all(|line| line.len() <= 80), "{listed}");
    said(
        home,
        0,
        &[
            "case",
            "repaired",
            "one",
            "invented: lug made new",
            "--by",
            "K. L.",
        ],
    );
    assert!(said(home, 0, &["case", "list", "--stage", "repaired"]).contains("1 of 1"));
    // Three hours tell nothing of what failed once a day; 72 do, for 95 % (0.95 = 1 - exp(-3.0)).
    let early = said(
        home,
        1,
        &["case", "proved", "one", "--ran", "3 h", "--between", "24 h"],
    );
    assert!(
        early.contains("not proved yet") && early.contains("nothing was added"),
        "{early}"
    );
    assert!(matches!(last(&path), Event::Repaired { .. }));
    said(
        home,
        0,
        &["case", "proved", "one", "--ran", "72 h", "--between", "24 h"],
    );
    let Event::Proved {
        by: Proof::CleanRun { ran, needed, between },
    } = last(&path)
    else {
        panic!("no proof")
    };
    assert!((ran - 72.0).abs() < 1e-9 && (between - 24.0).abs() < 1e-9);
    assert!(
        (needed - 24.0 * 20f64.ln()).abs() < 1e-6,
        "mean x ln(1 / 0.05): {needed}"
    );
    fs::write(home.join("lug.jpg"), "invented picture").expect("written");
    said(
        home,
        0,
        &["case", "photo", "one", "lug.jpg", "--shows", "burnt lug"],
    );
    let Event::Photograph {
        path: picture,
        sha256,
        ..
    } = last(&path)
    else {
        panic!("no photograph")
    };
    assert!(picture.ends_with("/lug.jpg"), "{picture}");
    assert_eq!(sha256.len(), 64);
    let closed = said(
        home,
        0,
        &[
            "case",
            "close",
            "one",
            "--cause",
            "gfci-device-bad",
            "--cleared",
            "opened-device: invented: open to ground",
        ],
    );
    assert!(
        closed.contains("proved.") && closed.contains("Head of the case"),
        "{closed}"
    );
    let bytes = fs::read(&path).expect("read");
    let refused = said(home, 1, &["case", "repaired", "one", "more"]);
    assert!(
        refused.contains("is closed") && refused.contains("case reopen"),
        "{refused}"
    );
    let refused = said(home, 1, &["case", "label", "one", "--place", "elsewhere"]);
    assert!(refused.contains("is closed"), "{refused}");
    let reopened = said(home, 0, &["case", "reopen", "one", "-o", "two.jsonl"]);
    // The unit was never read to ground by this program: whoever comes back must not take it for safe.
    assert!(
        reopened.contains("was said to be cleared: a trip") && reopened.contains("invented: open to ground"),
        "{reopened}"
    );
    assert_eq!(
        fs::read(&path).expect("read"),
        bytes,
        "the closed case stays as it is"
    );
    let before = read_file(&path).expect("whole");
    let callback = read_file(&home.join("two.jsonl")).expect("whole");
    let Event::Callback { case, head } = &callback.records.last().expect("lines").event else {
        panic!("{callback:?}")
    };
    assert_eq!(Some(case), before.header.id.as_ref());
    assert_eq!(*head, before.head().map(|head| head.to_string()));
    let listed = said(home, 0, &["case", "list", "two.jsonl"]);
    assert!(
        listed.contains("a callback") && listed.contains("12 Invented Rd"),
        "{listed}"
    );
    let refused = said(home, 1, &["case", "reopen", "two.jsonl"]);
    assert!(refused.contains("is not closed"), "{refused}");
}

#[test]
fn showing_a_case_leaves_its_file_as_it_was() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let home = home.path();
    let path = walk(home, "one", &[]);
    // A torn last line stays, too: only going on with a case cuts it off.
    let mut torn = fs::read(&path).expect("read");
    torn.extend_from_slice(b"{\"at\":\"2026-");
    fs::write(&path, &torn).expect("written");
    let about = || {
        let about = fs::metadata(&path).expect("there");
        (about.modified().expect("a time"), about.len())
    };
    let before = about();
    for arguments in [
        &["case", "show", "one"][..],
        &["case", "show", "last", "--format", "json"],
        &["case", "list"],
        &["case", "find", "breaker"],
        &["case", "export", "one", "-o", "copy.jsonl"],
        &["case", "export", "one", "--anonymous", "-o", "anonymous.jsonl"],
    ] {
        said(home, 0, arguments);
        assert_eq!(fs::read(&path).expect("read"), torn, "{arguments:?}");
        assert_eq!(about(), before, "{arguments:?}");
    }
    let shown = said(home, 0, &["case", "show", "one"]);
    assert!(
        shown.contains("breaks off after 12 bytes and is left out"),
        "{shown}"
    );
    assert!(shown.contains("each follows on the one before"), "{shown}");
    // Its folder has nothing new in it either.
    assert_eq!(fs::read_dir(folder(home)).expect("read").count(), 1);
    let copy = read_file(&home.join("copy.jsonl")).expect("whole");
    assert_eq!(copy.torn, 0);
    assert!(
        read_file(&home.join("anonymous.jsonl"))
            .expect("whole")
            .header
            .anonymous
    );
    let again = said(home, 1, &["case", "export", "one", "-o", "copy.jsonl"]);
    assert!(again.contains("cannot write `copy.jsonl`"), "{again}");
}

#[test]
fn a_case_is_shown_while_somebody_writes_it() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let path = walk(home.path(), "one", &[]);
    let (_journal, _) = Journal::open(&path).expect("opened");
    assert!(said(home.path(), 0, &["case", "show", "one"]).contains("somebody has it open"));
    assert!(said(home.path(), 0, &["case", "list"]).contains("open elsewhere now"));
    for command in ["report", "predict"] {
        let told = said(home.path(), 0, &[command, "--case", "one"]);
        assert!(told.contains("somebody has it open"), "{command}: {told}");
    }
    let refused = said(
        home.path(),
        1,
        &["case", "close", "one", "--cause", "not listed: x"],
    );
    assert!(refused.contains("is open in another process"), "{refused}");
}

#[test]
fn cases_are_found_by_words_place_unit_date_cause_and_stage() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let home = home.path();
    walk(
        home,
        "one",
        &["--place", "12 Invented Rd", "--technician", "J. R."],
    );
    walk(home, "two", &["--place", "9 Other St", "--unit", "roof, north"]);
    said(
        home,
        0,
        &["case", "repaired", "two", "invented: chafed cable replaced"],
    );
    said(
        home,
        0,
        &["case", "close", "two", "--cause", "not listed: Squirrel"],
    );
    let finds = |arguments: &[&str]| {
        let mut all = vec!["case", "find"];
        all.extend(arguments);
        let text = said(home, 0, &all);
        ["one", "two"].map(|name| text.contains(&format!("  {name}  ")))
    };
    for (arguments, found) in [
        (&["invented", "rd"][..], [true, false]),
        (&["CABLE"], [false, true]),
        (&["cable", "rd"], [false, false]),
        (&["--place", "other"], [false, true]),
        (&["--unit", "north roof"], [false, true]),
        (&["--technician", "j. r."], [true, false]),
        (&["--cause", "squirrel"], [false, true]),
        (&["--closed"], [false, true]),
        (&["--open"], [true, false]),
        (&["--stage", "concluded"], [true, false]),
        (&["--stage", "guessed"], [false, true]),
        (&["--stage", "halted"], [false, false]),
        (&["--since", "2000-01-01"], [true, true]),
        (&["--until", "2000-01-01"], [false, false]),
        (&["--since", "2999-01-01"], [false, false]),
        (&["breaker"], [true, true]),
    ] {
        assert_eq!(finds(arguments), found, "{arguments:?}");
    }
    let data = lineside(home, &["case", "list", "--closed", "--format", "json"]);
    let data: serde_json::Value = serde_json::from_slice(&data.stdout).expect("JSON");
    assert_eq!(data["cases"].as_array().expect("a list").len(), 1);
    assert_eq!(data["cases"][0]["proved"], false);
    assert_eq!(data["cases"][0]["outcome"], "not listed: Squirrel");
}

/// Types lines at a command.
fn typed(home: &Path, arguments: &[&str], lines: &str) -> (Option<i32>, String) {
    use std::io::Write as _;
    let mut child = start(home, arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    let mut input = child.stdin.take().expect("its input");
    input.write_all(lines.as_bytes()).expect("it reads");
    drop(input);
    let output = child.wait_with_output().expect("it ends");
    let text = format!(
        "{}{}",
        String::from_utf8_lossy(&output.stdout),
        String::from_utf8_lossy(&output.stderr)
    );
    (output.status.code(), text)
}

fn closing(path: &Path) -> (Option<String>, Option<String>, bool, String) {
    match last(path) {
        Event::Closed {
            cause,
            not_listed,
            proved,
            text,
            ..
        } => (cause, not_listed, proved, text),
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_case_is_closed_by_number_words_id_or_as_not_listed() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let home = home.path();
    let path = walk(home, "one", &[]);
    // Nothing typed leaves it open.
    let (code, text) = typed(home, &["case", "close", "one"], "\n");
    assert_eq!(code, Some(1), "{text}");
    assert!(text.contains("stays open") && text.contains("  1. "), "{text}");
    assert!(!read_file(&path).expect("whole").is_closed());
    // Too few words are asked again; the number is that of the list shown.
    let (code, text) = typed(home, &["case", "close", "one"], "breaker\n2\n\n");
    assert_eq!(code, Some(0), "{text}");
    let (_, rest) = text.split_once("  2. ").expect("a second one");
    let (name, _) = rest.split_once(" (").expect("its share");
    assert!(text.contains(&format!("Closed: {name}, a guess")), "{text}");
    assert!(text.contains("fits") && text.contains("causes"), "{text}");
    let (cause, not_listed, proved, _) = closing(&path);
    assert!(cause.is_some() && not_listed.is_none() && !proved);
    // A closing can be corrected, and stays the last line.
    for (cause, expected) in [
        ("gfci-device-bad", (Some("gfci-device-bad"), None)),
        ("not listed: mouse nest", (None, Some("mouse nest"))),
        ("NOT-LISTED", (None, None)),
    ] {
        said(
            home,
            0,
            &["case", "close", "one", "--cause", cause, "--text", "invented"],
        );
        let (id, not_listed, proved, text) = closing(&path);
        assert_eq!((id.as_deref(), not_listed.as_deref()), expected);
        assert!(!proved && text == "invented");
    }
    // The result's own number does, too, and the result says so.
    let report = said(home, 0, &["report", "--case", "one"]);
    assert!(!report.contains("TO CLOSE THE CASE"), "{report}");
    let path = walk(home, "three", &[]);
    let report = said(home, 0, &["report", "--case", "three"]);
    assert!(
        report.contains("lineside case close NAME --cause WHAT"),
        "{report}"
    );
    let (_, rest) = report.split_once("\n1. ").expect("a first cause");
    let (name, _) = rest.split_once(':').expect("its share");
    let closed = said(home, 0, &["case", "close", "three", "--cause", "1"]);
    assert!(closed.contains(&format!("Closed: {name}, a guess")), "{closed}");
    assert!(closing(&path).0.is_some());
    let beyond = said(home, 2, &["case", "close", "three", "--cause", "77"]);
    assert!(beyond.contains("no leading cause has the number 77"), "{beyond}");
    let unknown = said(home, 2, &["case", "close", "one", "--cause", "unicorn"]);
    assert!(unknown.contains("unknown cause `unicorn`"), "{unknown}");
    // With a reading the person gives at the question, it is proved.
    let path = walk(home, "two", &[]);
    let (code, text) = typed(
        home,
        &["case", "close", "two"],
        "1\n12 mV at 21 A\ninvented: open to ground\n",
    );
    assert_eq!(code, Some(0), "{text}");
    let (_, _, proved, reading) = closing(&path);
    assert!(proved && reading == "12 mV at 21 A");
}

#[test]
fn a_closing_with_a_danger_standing_is_a_guess_until_it_is_said_what_cleared_it() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let home = home.path();
    let path = walk(home, "one", &[]);
    let stands = "STILL STANDING: a trip";
    let repaired = said(home, 0, &["case", "repaired", "one", "invented: new device"]);
    assert!(
        repaired.contains(stands) && repaired.contains("Kept"),
        "{repaired}"
    );
    // A command is one line, to be copied.
    let fits = |text: &str| {
        let (_, from) = text.split_once(stands).expect("it stands");
        let mut lines = from.lines().filter(|line| !line.contains("lineside case"));
        lines.all(|line| line.len() <= 80)
    };
    assert!(fits(&repaired), "{repaired}");
    let ran = said(
        home,
        0,
        &["case", "proved", "one", "--ran", "72 h", "--between", "24 h"],
    );
    assert!(
        ran.contains(stands) && ran.contains("it proves nothing before") && fits(&ran),
        "{ran}"
    );
    for (cleared, why) in [
        ("opened-device:", "does not say what cleared it"),
        ("heat-damage: lug made new", "names no danger that stands"),
    ] {
        let wrong = said(
            home,
            2,
            &[
                "case",
                "close",
                "one",
                "--cause",
                "gfci-device-bad",
                "--cleared",
                cleared,
            ],
        );
        assert!(wrong.contains(why), "{wrong}");
    }
    let closed = said(home, 0, &["case", "close", "one", "--cause", "gfci-device-bad"]);
    assert!(
        closed.contains("a guess: a danger stands")
            && closed.contains("--cleared 'opened-device: ")
            && closed.contains(stands)
            && fits(&closed),
        "{closed}"
    );
    assert!(!closing(&path).2);
    let left = "closed with a danger standing: a trip";
    for arguments in [
        &["case", "list"][..],
        &["case", "show", "one"],
        &["report", "--case", "one"],
        &["case", "find", "danger", "standing"],
    ] {
        let text = said(home, 0, arguments);
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(text.contains(left), "{arguments:?}: {text}");
    }
    assert!(
        said(home, 0, &["case", "list"])
            .lines()
            .all(|line| line.len() <= 80)
    );
    let review = said(home, 0, &["review", path.to_str().expect("text")]);
    assert!(
        review.contains("of the closed, with a danger standing"),
        "{review}"
    );
    let reopened = said(home, 0, &["case", "reopen", "one", "-o", "two.jsonl"]);
    assert!(
        reopened.contains("Left standing when the case before was closed: a trip"),
        "{reopened}"
    );
    // What was typed at the first closing and before it counts at the second.
    let closed = said(
        home,
        0,
        &[
            "case",
            "close",
            "one",
            "--cause",
            "gfci-device-bad",
            "--cleared",
            "invented: open to ground",
        ],
    );
    assert!(closed.contains("proved.") && !closed.contains(stands), "{closed}");
    let again = said(home, 0, &["case", "close", "one", "--cause", "gfci-device-bad"]);
    assert!(again.contains("proved."), "{again}");
    assert!(!said(home, 0, &["case", "list"]).contains("danger"));
    assert!(said(home, 0, &["case", "show", "one"]).contains("Said to be cleared: a trip"));
}

#[test]
fn whoever_closes_at_the_keyboard_is_asked_what_cleared_each_danger_and_loses_nothing() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let home = home.path();
    let path = walk(home, "one", &[]);
    // The input ends at the danger: the proof is kept all the same.
    let (code, text) = typed(home, &["case", "close", "one"], "1\n12 mV at 21 A\n");
    assert_eq!(code, Some(0), "{text}");
    assert!(
        text.contains("What cleared it?") && text.contains("a danger stands"),
        "{text}"
    );
    let (_, _, proved, reading) = closing(&path);
    assert!(!proved && reading == "12 mV at 21 A");
    let case = read_file(&path).expect("whole");
    let proofs = case
        .records
        .iter()
        .filter(|record| matches!(record.event, Event::Proved { .. }));
    assert_eq!(proofs.count(), 1);
}

#[test]
fn a_callback_says_what_the_visit_before_came_to() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let home = home.path();
    walk(home, "one", &["--technician", "J. R."]);
    said(
        home,
        0,
        &["case", "repaired", "one", "invented: new device", "--by", "K. L."],
    );
    said(
        home,
        0,
        &["case", "proved", "one", "--reading", "invented: 9.8 A"],
    );
    said(home, 0, &["case", "close", "one", "--cause", "gfci-device-bad"]);
    said(home, 0, &["case", "reopen", "one"]);
    let shown = said(home, 0, &["case", "show", "last"]);
    for part in [
        "THE VISIT BEFORE",
        "J. R.",
        "invented: new device, by K. L.",
        "invented: 9.8 A",
        "as Ground-fault device worn or wet",
        "Left standing when the case before was closed: a trip",
        "Split air conditioner",
    ] {
        assert!(shown.contains(part), "{part}: {shown}");
    }
}

/// What raised a danger that nobody said was cleared opens the callback; what was said to be cleared does not.
#[test]
fn a_callback_opens_with_the_dangers_left_standing() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let home = home.path();
    fs::write(
        home.join("answers.toml"),
        "complaint = \"flame-lost\"\nequipment = \"gas-furnace\"\n[answers]\nfuel-hazard-look = \"none\"\n\
         hazard-look = \"none\"\nsafety-bridged-look = \"bridged\"\n",
    )
    .expect("written");
    let before = "one.jsonl";
    said(
        home,
        0,
        &["diagnose", "--answers", "answers.toml", "--case", before],
    );
    let opens = |name: &str| {
        let reopened = said(home, 0, &["case", "reopen", before, "-o", name]);
        assert!(
            reopened
                .lines()
                .all(|line| line.len() <= 80 || line.contains("lineside --case")),
            "{reopened}"
        );
        let case = read_file(&home.join(name)).expect("it is whole");
        let left: Vec<String> = case
            .records
            .iter()
            .map_while(|record| match &record.event {
                Event::LeftStanding { test, outcome } => Some(format!("{test}/{outcome}")),
                _ => None,
            })
            .collect();
        left
    };
    let close = ["case", "close", before, "--cause", "missing-equipment-ground"];
    said(home, 0, &close);
    assert_eq!(opens("two.jsonl"), ["safety-bridged-look/bridged"]);
    said(
        home,
        0,
        &[&close[..], &["--cleared", "bridged: invented: put back"]].concat(),
    );
    assert!(opens("three.jsonl").is_empty());
}

#[test]
fn words_that_no_case_has_together_are_told_one_by_one() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let home = home.path();
    walk(home, "one", &["--place", "12 Invented Rd"]);
    walk(home, "two", &["--place", "9 Other St"]);
    let text = said(home, 0, &["case", "find", "invented", "deli"]);
    assert!(text.contains("`invented` is in 1, `deli` is in 0"), "{text}");
    assert!(said(home, 0, &["case", "list"]).contains("concluded, not settled"));
}

#[test]
fn how_often_it_failed_is_asked_where_the_case_does_not_say_it() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let home = home.path();
    let path = walk(home, "one", &[]);
    let (code, text) = typed(home, &["case", "proved", "one", "--ran", "72 h"], "24 h\n");
    assert_eq!(code, Some(0), "{text}");
    assert!(matches!(last(&path), Event::Proved { .. }));
    let refused = said(home, 2, &["case", "proved", "one", "--ran", "72 h"]);
    assert!(refused.contains("--ran '72 h' --between"), "{refused}");
}

fn edited(path: &Path, old: &str, new: &str) -> PathBuf {
    let text = fs::read_to_string(path).expect("text");
    assert!(text.contains(old), "{text}");
    let other = path.with_file_name("edited.jsonl");
    fs::write(&other, text.replacen(old, new, 1)).expect("written");
    other
}

#[test]
fn a_case_edited_by_hand_or_cut_is_told_with_its_line_and_can_be_mended() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let home = home.path();
    let path = walk(home, "one", &["--place", "12 Invented Rd"]);
    let closed = said(
        home,
        0,
        &[
            "case",
            "close",
            "one",
            "--cause",
            "gfci-device-bad",
            "--text",
            "x",
        ],
    );
    let (_, head) = closed.split_once("on paper: ").expect("the head");
    let head = head.lines().next().expect("a line").trim();
    assert!(said(home, 0, &["case", "show", "one", "--head", head]).contains("as it was printed"));
    let other = edited(&path, "12 Invented Rd", "13 Invented Rd");
    let before = fs::read(&other).expect("read");
    let shown = said(home, 1, &["case", "show", "edited"]);
    assert!(
        shown.contains("line 3 of the case file") && shown.contains("edited.jsonl"),
        "{shown}"
    );
    assert!(shown.contains("case mend edited"), "{shown}");
    let refused = said(home, 1, &["--case", other.to_str().expect("text")]);
    assert!(
        refused.contains("line 3") && refused.contains("case mend"),
        "{refused}"
    );
    let refused = said(home, 1, &["case", "export", "edited", "-o", "x.jsonl"]);
    assert!(
        refused.contains("line 3") && refused.contains("case mend"),
        "{refused}"
    );
    let mended = said(home, 0, &["case", "mend", "edited", "-o", "mended.jsonl"]);
    assert!(mended.contains("none is left out"), "{mended}");
    assert_eq!(
        fs::read(&other).expect("read"),
        before,
        "the damaged file stays as it is"
    );
    let copy = read_file(&home.join("mended.jsonl")).expect("whole");
    assert_eq!(copy.links.len(), read_file(&path).expect("whole").links.len());
    let shown = said(home, 0, &["case", "show", "mended.jsonl"]);
    assert!(
        shown.contains("line 1: this file was put together again"),
        "{shown}"
    );
    let shown = said(home, 1, &["case", "show", "mended.jsonl", "--head", head]);
    assert!(shown.contains("HAS THE HEAD GIVEN"), "{shown}");
    // The closing cut off: whole, open, and not what was printed.
    let text = fs::read_to_string(&path).expect("text");
    let cut: String = text
        .split_inclusive('\n')
        .take(text.lines().count() - 1)
        .collect();
    fs::write(home.join("cut.jsonl"), cut).expect("written");
    let shown = said(home, 1, &["case", "show", "cut.jsonl", "--head", head]);
    assert!(
        shown.contains("stage       concluded") && shown.contains("HAS THE HEAD GIVEN"),
        "{shown}"
    );
    assert!(said(home, 2, &["case", "show", "one", "--head", "12"]).contains("expected 8 or more"));
    assert!(said(home, 1, &["case", "mend", "one", "-o", "y.jsonl"]).contains("nothing is damaged"));
}

/// A folder with everything in it that can go wrong, beside three cases.
fn trouble(home: &TempDir) {
    let home = home.path();
    for name in ["one", "two", "three"] {
        walk(home, name, &[]);
    }
    let at = |name: &str| folder(home).join(name);
    let text = fs::read_to_string(at("one.jsonl")).expect("text");
    fs::write(
        at("by-hand.jsonl"),
        text.replacen("breaker-opens", "breaker-shuts", 1),
    )
    .expect("written");
    fs::write(at("cut.jsonl"), &text[..text.len() - 9]).expect("written");
    fs::write(at("empty.jsonl"), "").expect("written");
    fs::write(at("newer.jsonl"), text.replacen(":2,", ":3,", 1)).expect("written");
    fs::write(at("foreign.jsonl"), "{\"a\":1}\n").expect("written");
    fs::write(at("binary.jsonl"), [0xff, 0xfe, 0, 10]).expect("written");
    fs::File::create(at("huge.jsonl"))
        .and_then(|file| file.set_len(100_000_000))
        .expect("a file of one line of 100 MB");
    fs::create_dir(at("folder.jsonl")).expect("made");
    #[cfg(unix)]
    {
        std::os::unix::fs::symlink(folder(home), at("round")).expect("linked");
        std::os::unix::fs::symlink(at("circle-2.jsonl"), at("circle.jsonl")).expect("linked");
        std::os::unix::fs::symlink(at("circle.jsonl"), at("circle-2.jsonl")).expect("linked");
    }
}

#[test]
fn what_is_no_sound_case_is_said_by_file_and_the_rest_goes_on() {
    let home = tempfile::tempdir().expect("a temporary folder");
    trouble(&home);
    let files = || {
        let mut all: Vec<(PathBuf, u64)> = fs::read_dir(folder(home.path()))
            .expect("read")
            .map(|entry| entry.expect("an entry"))
            .map(|entry| (entry.path(), entry.metadata().map_or(0, |about| about.len())))
            .collect();
        all.sort();
        all
    };
    let before = files();
    let text = said(home.path(), 1, &["case", "list"]);
    for part in [
        "  one  concluded",
        "  two  concluded",
        "  three  concluded",
        // What stands before the damage is listed.
        "  by-hand  open, damaged",
        "  cut  ",
        "line 3 of the case file",
        "empty.jsonl` breaks off in its first line",
        "newer.jsonl` has schema 3, this program knows up to 2",
        "foreign.jsonl` is not a case file",
        "binary.jsonl` is not a case file",
        "huge.jsonl` has 100000000 bytes or more",
        #[cfg(unix)]
        "round` is a link and is not followed",
        #[cfg(unix)]
        "circle.jsonl` is a link and is not followed",
    ] {
        assert!(text.contains(part), "no `{part}` in: {text}");
    }
    assert_eq!(files(), before, "nothing was touched");
}

#[test]
fn ten_thousand_foreign_files_do_not_hide_a_case() {
    let home = tempfile::tempdir().expect("a temporary folder");
    walk(home.path(), "one", &[]);
    for number in 0..10_000 {
        fs::write(folder(home.path()).join(format!("{number}.jsonl")), "{\"a\":1}\n").expect("written");
    }
    let output = lineside(home.path(), &["case", "list"]);
    let list = String::from_utf8(output.stdout).expect("text");
    let talk = String::from_utf8(output.stderr).expect("text");
    assert_eq!(output.status.code(), Some(1));
    assert!(
        list.contains("  one  concluded") && list.contains("1 of 1 cases"),
        "{list}"
    );
    assert_eq!(talk.lines().count(), 21, "{talk}");
    assert!(talk.contains("9980 more files"), "{talk}");
    let every = lineside(home.path(), &["case", "list", "--every-problem"]);
    assert_eq!(String::from_utf8_lossy(&every.stderr).lines().count(), 10_000);
}

#[cfg(unix)]
#[test]
fn a_folder_that_may_not_be_read_is_said_and_the_rest_goes_on() {
    use std::os::unix::fs::PermissionsExt;
    let home = tempfile::tempdir().expect("a temporary folder");
    walk(home.path(), "one", &[]);
    let closed = folder(home.path()).join("locked");
    fs::create_dir(&closed).expect("made");
    fs::set_permissions(&closed, fs::Permissions::from_mode(0o000)).expect("closed");
    // Whoever may read everything, as the root of a container, reads it all the same.
    let may_all = fs::read_dir(&closed).is_ok();
    let text = said(home.path(), i32::from(!may_all), &["case", "list"]);
    assert!(text.contains("  one  concluded"), "{text}");
    assert!(may_all || text.contains("locked`: "), "{text}");
    fs::set_permissions(&closed, fs::Permissions::from_mode(0o700)).expect("opened");
}

#[test]
fn a_case_is_named_by_file_name_beginning_of_its_id_or_as_the_last() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let home = home.path();
    let path = walk(home, "one", &[]);
    let id = read_file(&path).expect("whole").header.id.expect("an id");
    for name in [
        "one",
        "one.jsonl",
        &id[..6],
        &id,
        "last",
        path.to_str().expect("text"),
    ] {
        assert!(
            said(home, 0, &["case", "show", name]).contains("one.jsonl"),
            "{name}"
        );
    }
    for name in ["none", &id[..3], "ffffffffffffff"] {
        assert!(
            said(home, 1, &["case", "show", name]).contains("there is no case"),
            "{name}"
        );
    }
}

/// Going on takes the same names as every other command; only what calls no case begins a new one.
#[test]
fn going_on_takes_what_calls_a_case_and_begins_one_only_where_none_is_called_so() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let home = home.path();
    let none = said(home, 1, &["--case", "last"]);
    assert!(none.contains("there is no case"), "{none}");
    let path = walk(home, "one", &[]);
    let id = read_file(&path).expect("whole").header.id.expect("an id");
    let here = || -> Vec<_> {
        let entries = fs::read_dir(home).expect("a folder");
        entries
            .map(|entry| entry.expect("an entry").file_name())
            .collect()
    };
    let before = here();
    for name in ["last", "one", "one.jsonl", &id[..6], &id] {
        let going = said(home, 1, &["--case", name]);
        assert!(
            going.contains("Going on with the case of") && going.contains("one.jsonl"),
            "{name}: {going}"
        );
        assert_eq!(here(), before, "{name}");
        let refused = said(
            home,
            1,
            &["diagnose", "--answers", "answers.toml", "--case", name],
        );
        assert!(refused.contains("exists already"), "{name}: {refused}");
    }
    for name in ["two", "./last", "other.jsonl"] {
        let begun = said(home, 1, &["--case", name]);
        assert!(begun.contains("New case, kept in"), "{name}: {begun}");
    }
    // A folder of cases that cannot be used is no reason not to begin a case in a file.
    fs::remove_dir_all(home.join(".local")).expect("gone");
    #[cfg(unix)]
    {
        std::os::unix::fs::symlink(home, home.join(".local")).expect("linked");
        fs::create_dir(home.join("share")).expect("made");
        std::os::unix::fs::symlink(home, home.join("share/lineside")).expect("linked");
        let begun = said(home, 1, &["--case", "three"]);
        assert!(begun.contains("New case, kept in three"), "{begun}");
        fs::remove_file(home.join("last")).expect("it was begun above");
        let refused = said(home, 1, &["--case", "last"]);
        assert!(refused.contains("is not followed"), "{refused}");
    }
}
