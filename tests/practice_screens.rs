//! `lineside practice` as an apprentice sees it: by keys on a pseudo-terminal, by plain lines, and played again from a file.

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use crate::support::Session;
use lineside::practice::{Choice, Session as Run, catalog};
use lineside::walk::Question;
use tempfile::TempDir;

fn home() -> TempDir {
    tempfile::tempdir().expect("a temporary folder")
}

fn lineside(home: &Path, args: &[&str], typed: &str) -> Output {
    let mut child = Command::new(env!("CARGO_BIN_EXE_lineside"))
        .args(args)
        .env_clear()
        .env("HOME", home)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    let mut input = child.stdin.take().expect("its input");
    // It may end before it has read everything.
    let _ = input.write_all(typed.as_bytes());
    drop(input);
    child.wait_with_output().expect("it ends")
}

fn out(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).expect("it is text")
}

fn talk(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).expect("it is text")
}

fn runs(home: &Path) -> PathBuf {
    home.join(".local/share/lineside/practice/runs.jsonl")
}

/// The last screen drawn: from the last rule on.
fn moment(screen: &str) -> String {
    let lines: Vec<&str> = screen.lines().map(str::trim_end).collect();
    let from = lines
        .iter()
        .rposition(|line| line.starts_with("== "))
        .unwrap_or(0);
    lines[from..].join("\n").trim_end().to_owned()
}

/// Waits for a screen other than this one on which the program waits for a key, and checks what holds for every screen.
fn next(session: &mut Session, before: &str, columns: usize) -> String {
    let waits = |screen: &str| {
        screen
            .lines()
            .any(|line| line.starts_with(">  ") || line.ends_with(" >"))
    };
    let screen = loop {
        let screen = session.shown_where(|screen| screen != before && waits(screen));
        // It may be half drawn.
        std::thread::sleep(std::time::Duration::from_millis(60));
        if session.contents() == screen {
            break screen;
        }
    };
    let last = moment(&screen);
    assert!(
        last.starts_with("== EXERCISE"),
        "not marked as an exercise:\n{screen}"
    );
    for line in screen.lines() {
        assert!(line.trim_end().chars().count() < columns, "too wide: {line}");
    }
    screen
}

/// What came of the last choice: the lines with two blanks before them above the last rule, behind the question's own.
fn answers(screen: &str) -> String {
    const LEADS: [&str; 6] = [
        "customer: ",
        "found: ",
        "that says: ",
        "read: ",
        "done: ",
        "DEFECT",
    ];
    let lines: Vec<&str> = screen.lines().map(str::trim_end).collect();
    let to = lines
        .iter()
        .rposition(|line| line.starts_with("== "))
        .unwrap_or(0);
    let from = lines[..to]
        .iter()
        .rposition(|line| line.starts_with("== "))
        .unwrap_or(0);
    let above = &lines[from..to];
    let first = above
        .iter()
        .position(|line| LEADS.iter().any(|lead| line.trim_start().starts_with(lead)));
    first.map_or_else(String::new, |first| {
        above[first..].join("\n").trim_end().to_owned()
    })
}

/// A screen for the record: what came of the last choice, and the moment.
fn shown(screen: &str) -> String {
    match answers(screen).as_str() {
        "" => moment(screen),
        answers => format!("{answers}\n\n{}", moment(screen)),
    }
}

/// Keys that go with the walk to its end, asking the first two things of the customer, and then name the truth by words.
fn with_the_walk(session: &mut Session, columns: usize, words: &str, name: &str, screens: &mut Vec<String>) {
    let mut screen = next(session, "", columns);
    screens.push(moment(&screen));
    session.press("\r");
    for _ in 0..40 {
        screen = next(session, &screen, columns);
        let last = moment(&screen);
        screens.push(shown(&screen));
        if last.contains("What do you ask first?") {
            // The first two, then that is all; Enter, where a longer number could be meant.
            let enter = if last.contains("\n  10  ") { "\r" } else { "" };
            for number in ["2", "3"] {
                session.press(&format!("{number}{enter}"));
                screen = next(session, &screen, columns);
            }
            assert_eq!(screen.matches("[x]").count(), 2, "{screen}");
            session.press(&format!("1{enter}"));
        } else if last.contains("nothing more to ask") {
            session.press("2");
            session.wait_for("words for what is wrong >");
            session.press(&format!("{words}\r"));
            session.wait_for("Which of these is it?");
            screen = next(session, &screen, columns);
            screens.push(moment(&screen));
            let place = screen.lines().find_map(|line| {
                let (number, text) = line.trim_start_matches('>').trim_start().split_once("  ")?;
                // On a narrow screen the name goes on in the next line.
                (text.len() > 15 && name.starts_with(text.trim())).then(|| number.parse::<usize>().ok())?
            });
            session.press(&place.expect("the truth is among them").to_string());
            return;
        } else {
            session.press("1");
        }
    }
    panic!("it does not end:\n{screen}");
}

const WORDS: &str = "float switch drain";

fn truth() -> (String, String) {
    let knowledge = lineside::knowledge::embedded().expect("it is sound");
    let listed = catalog::find(&knowledge, "first-walk").expect("it is listed");
    let cause = &knowledge.causes[listed.exercise.truth];
    (cause.id.clone(), cause.name.clone())
}

#[test]
fn the_first_exercise_by_keys_is_short_marked_and_recorded() {
    for columns in [80, 60] {
        let home = home();
        let mut session = Session::start(
            columns,
            home.path(),
            &["practice", "first-walk", "--technician", "first shift"],
        );
        let mut screens = Vec::new();
        let (id, name) = truth();
        with_the_walk(&mut session, usize::from(columns), WORDS, &name, &mut screens);
        assert!(
            screens.len() <= 18,
            "{} screens:\n{}",
            screens.len(),
            screens.join("\n\n")
        );
        session.wait_for("EXERCISE over: named right");
        session.wait_for("again lineside practice first-walk");
        screens.push(moment(&session.contents()));
        for (key, title) in [
            ("p", "what pointed to it"),
            ("w", "YOUR WAY"),
            ("t", "the truth"),
            ("r", "repair"),
        ] {
            let before = session.contents();
            session.press(key);
            let screen = next(&mut session, &before, usize::from(columns));
            assert!(moment(&screen).contains(title), "{screen}");
            screens.push(moment(&screen));
            session.press("b");
            next(&mut session, &screen, usize::from(columns));
        }
        session.press("1");
        session.wait_for("how it went is kept in");
        session.ends_with(0);
        let kept = fs::read_to_string(runs(home.path())).expect("it is recorded");
        assert_eq!(kept.lines().count(), 1);
        for part in [
            "\"kind\":\"practice\"",
            "\"by\":\"first shift\"",
            "\"exercise\":\"first-walk\"",
            &format!("\"truth\":\"{id}\""),
            "\"right\":true",
        ] {
            assert!(kept.contains(part), "{part} is not in {kept}");
        }
        // Nothing is where cases are.
        assert!(!home.path().join(".local/share/lineside/cases").exists());
        if columns == 80 {
            insta::assert_snapshot!("first-walk-opening", screens[0]);
            insta::assert_snapshot!("first-walk-customer", screens[1]);
            insta::assert_snapshot!(
                "first-walk-debrief",
                screens
                    .iter()
                    .find(|screen| screen.contains("EXERCISE over"))
                    .expect("it was shown")
            );
            recorded(&screens);
        }
    }
}

/// The recorded session in `examples/` is what the keys give; `LINESIDE_RECORD=1` writes it anew.
fn recorded(screens: &[String]) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/practice/first-walk-by-keys.md");
    let mut text = String::from(
        "# The first exercise by keys, 80 columns and 24 lines\n\nAn invented fault. `lineside practice first-walk`, then \
         Enter, 2, 3 and 1 for what to ask, each with\nEnter, 1 each time to go with the walk, 2 to name the cause by words; in the debrief \
         p, w, t and r. Each screen as it stood.\n",
    );
    for screen in screens {
        text.push_str(&format!("\n```\n{screen}\n```\n"));
    }
    if std::env::var_os("LINESIDE_RECORD").is_some() {
        fs::write(&path, &text).expect("it can be written");
    }
    let kept = fs::read_to_string(&path).expect("there is a recorded session");
    assert!(
        kept == text,
        "record it anew with LINESIDE_RECORD=1 and read it: {}",
        path.display()
    );
}

#[test]
fn an_unsafe_choice_is_stopped_on_a_screen_of_its_own() {
    let home = home();
    let mut session = Session::start(80, home.path(), &["practice", "hums-and-quits"]);
    let mut screen = next(&mut session, "", 80);
    session.press("\r");
    screen = next(&mut session, &screen, 80);
    session.press("o");
    session.wait_for("words for what to look at or measure >");
    session.press("contactor pole drop\r");
    session.wait_for("none of these");
    session.press("1");
    session.wait_for("STOPPED, not carried out");
    screen = next(&mut session, &screen, 80);
    insta::assert_snapshot!("hums-stopped", moment(&screen));
    session.press("\r");
    session.wait_for("0 min, 1 stopped: the customer");
    // A look without power, locked out first: the steps are shown; straight to it is stopped too.
    session.press("o");
    session.wait_for("words for what to look at or measure >");
    session.press("capacitor bench\r");
    session.wait_for("none of these");
    session.press("1");
    session.wait_for("what comes next is LOCKED OUT");
    screen = next(&mut session, &screen, 80);
    insta::assert_snapshot!("hums-steps-first", moment(&screen));
    session.press("2");
    session.wait_for("nobody had locked out");
    session.press("\r");
    session.wait_for("0 min, 2 stopped: the customer");
    session.stop();
    session.wait_for("not ended, so nothing is recorded; the same again: lineside practice hums-and-quits");
    session.ends_with(0);
    assert!(!runs(home.path()).exists());
}

/// Named at once and wrong, on a narrow screen: the truth and the habit are read, nothing scrolls away.
#[test]
fn a_wrong_name_at_60_columns_shows_truth_and_habit_whole() {
    let home = home();
    let mut session = Session::start(60, home.path(), &["practice", "hums-and-quits", "--no-record"]);
    let screen = next(&mut session, "", 60);
    session.press("\r");
    let screen = next(&mut session, &screen, 60);
    let place = screen
        .lines()
        .find_map(|line| line.trim().strip_suffix("  I know what it is"));
    let place = place
        .expect("it can be named at any time")
        .trim()
        .trim_start_matches('>');
    session.press(&format!("{}\r", place.trim()));
    session.wait_for("words for what is wrong >");
    session.press("compressor grounded winding\r");
    let screen = next(&mut session, &screen, 60);
    session.press("1");
    let mut seen = String::new();
    let mut screen = next(&mut session, &screen, 60);
    loop {
        seen.push_str(&moment(&screen));
        seen.push('\n');
        if screen.contains("End here") {
            break;
        }
        session.press("\r");
        screen = next(&mut session, &screen, 60);
    }
    for part in ["IT WAS", "you named", "engine", "parted", "HABIT", "again"] {
        assert!(seen.contains(part), "`{part}` is not in:\n{seen}");
    }
    insta::assert_snapshot!("hums-wrong-name-60", seen);
    session.press("1");
    session.ends_with(0);
    assert!(!runs(home.path()).exists());
}

#[test]
fn plain_lines_walk_it_too_and_ctrl_c_and_the_end_of_the_input_leave_nothing() {
    let home = home();
    let typed = "o\nhazards first\n1\nl\ng\n1\n";
    let run = lineside(
        home.path(),
        &["practice", "--seed", "7", "--level", "1", "--plain"],
        typed,
    );
    let said = talk(&run);
    assert_eq!(run.status.code(), Some(0), "{said}");
    for part in [
        "EXERCISE: invented",
        "again      lineside practice --level 1 --seed 7",
        "found: ",
        "leads: ",
        "IT WAS ",
        "HABIT ",
        "how it went is kept in",
    ] {
        assert!(said.contains(part), "`{part}` is not in:\n{said}");
    }
    assert_eq!(out(&run), "");
    for line in said
        .lines()
        .filter(|line| !line.contains(" > ") && !line.contains("runs.jsonl"))
    {
        assert!(line.chars().count() <= 80, "too wide: {line}");
    }
    let kept = fs::read_to_string(runs(home.path())).expect("it is recorded");
    assert!(
        kept.contains("\"seed\":7") && kept.contains("\"hints\":1") && !kept.contains("\"named\""),
        "{kept}"
    );
    let cut = lineside(home.path(), &["practice", "first-walk"], "1\n");
    assert_eq!(cut.status.code(), Some(1));
    assert!(
        talk(&cut).contains("nothing of the exercise was written"),
        "{}",
        talk(&cut)
    );
    assert_eq!(fs::read_to_string(runs(home.path())).expect("it is there"), kept);
    let mut session = Session::start(80, home.path(), &["practice", "first-walk"]);
    session.wait_for("1 go on");
    session.press("\x03");
    session.wait_for("not ended");
    session.ends_with(0);
}

/// A run as a file: the engine's way through an exercise, and the truth named.
fn file_of(home: &Path, exercise: &str, first: &[&str]) -> PathBuf {
    let knowledge = lineside::knowledge::embedded().expect("it is sound");
    let listed = catalog::find(&knowledge, exercise).expect("it is listed");
    let engine = Run::by_the_engine(&knowledge, &listed.exercise).expect("it can be walked");
    assert!(matches!(engine.question(), Question::Finish));
    let truth = knowledge.causes[listed.exercise.truth].id.clone();
    let lines: Vec<String> = first
        .iter()
        .map(|line| (*line).to_owned())
        .chain(engine.choices().iter().map(Choice::to_string))
        .chain([Choice::Name(truth).to_string()])
        .map(|line| format!("  {line:?},\n"))
        .collect();
    let path = home.join(format!("{exercise}.toml"));
    fs::write(
        &path,
        format!("exercise = \"{exercise}\"\nchoices = [\n{}]\n", lines.concat()),
    )
    .expect("it can be written");
    path
}

#[test]
fn a_run_from_a_file_is_the_same_each_time_and_is_recorded_only_where_asked() {
    let home = home();
    let file = file_of(home.path(), "hums-and-quits", &["test contactor-pole-drop"]);
    let path = file.to_str().expect("the path is text");
    let run = || lineside(home.path(), &["practice", "--answers", path], "");
    let (first, second) = (run(), run());
    assert_eq!(first.status.code(), Some(0), "{}", talk(&first));
    assert_eq!(out(&first), out(&second));
    let said = out(&first);
    for part in [
        "EXERCISE: invented",
        "stands  hazards nobody has looked for",
        "you named the same: right",
        "1 unsafe choice, none carried out",
        "Before anything has power",
    ] {
        assert!(said.contains(part), "`{part}` is not in:\n{said}");
    }
    assert!(said.lines().all(|line| line.chars().count() <= 80), "{said}");
    assert!(
        !runs(home.path()).exists(),
        "a run played again is not recorded by itself"
    );
    let own = home.path().join("own.jsonl");
    let own_path = own.to_str().expect("the path is text");
    for _ in 0..2 {
        let run = lineside(
            home.path(),
            &[
                "practice",
                "--answers",
                path,
                "--record",
                own_path,
                "--technician",
                "second shift",
            ],
            "",
        );
        assert_eq!(run.status.code(), Some(0), "{}", talk(&run));
    }
    // A line that a crash cut off does not take the next one with it.
    let whole = fs::read_to_string(&own).expect("it is there");
    fs::write(&own, &whole[..whole.len() - 20]).expect("it can be written");
    lineside(
        home.path(),
        &["practice", "--answers", path, "--record", own_path],
        "",
    );
    let read = lineside(home.path(), &["practice", "record", own_path], "");
    assert_eq!(read.status.code(), Some(1), "one line cannot be read");
    assert!(
        talk(&read).contains("line 2: no run this program can read"),
        "{}",
        talk(&read)
    );
    let table = out(&read);
    for part in [
        "PRACTICE: exercises, no real case",
        "second shift",
        "not said",
        "motor-will-not-start",
        "Before anything has power",
    ] {
        assert!(table.contains(part), "`{part}` is not in:\n{table}");
    }
    let one = out(&lineside(
        home.path(),
        &[
            "practice",
            "record",
            own_path,
            "--technician",
            "second",
            "--format",
            "json",
        ],
        "",
    ));
    assert_eq!(one.lines().count(), 1, "{one}");
    // A review of real cases counts none of it.
    let review = lineside(home.path(), &["review", own_path], "");
    assert_ne!(review.status.code(), Some(0), "{}", out(&review));
}

#[test]
fn a_choice_that_cannot_be_taken_is_named_by_its_number() {
    let home = home();
    let file = home.path().join("run.toml");
    fs::write(
        &file,
        "exercise = \"first-walk\"\nchoices = [\"ask none\", \"straight\"]\n",
    )
    .expect("it can be written");
    let run = lineside(
        home.path(),
        &["practice", "--answers", file.to_str().expect("it is text")],
        "",
    );
    assert_eq!(run.status.code(), Some(1));
    assert!(
        talk(&run).contains("choice 2 is not taken: no steps come before this"),
        "{}",
        talk(&run)
    );
    let run = lineside(home.path(), &["practice", "frist-walk"], "");
    assert_eq!(run.status.code(), Some(2));
    assert!(talk(&run).contains("first-walk"), "{}", talk(&run));
}

#[test]
fn the_list_names_every_topic_and_what_each_exercise_teaches() {
    let home = home();
    let list = out(&lineside(home.path(), &["practice", "list"], ""));
    let knowledge = lineside::knowledge::embedded().expect("it is sound");
    for (_, complaint) in knowledge.complaints() {
        assert!(list.contains(complaint), "{complaint}");
    }
    assert!(list.lines().all(|line| line.chars().count() <= 80), "{list}");
    for listed in catalog::all(&knowledge) {
        assert!(list.contains(&listed.id), "{}", listed.id);
    }
    // What it is stands nowhere in the list.
    let all = list.split_whitespace().collect::<Vec<_>>().join(" ");
    for listed in catalog::all(&knowledge) {
        let name = &knowledge.causes[listed.exercise.truth].name;
        assert!(
            !all.contains(name.as_str()),
            "{}: the list gives it away",
            listed.id
        );
    }
}
