//! Whole callbacks by keys: every screen fits, no energized test comes before its cautions, and a program that is
//! killed at any prompt goes on at that prompt.

use std::path::Path;

use crate::support::{Session, case_file};
use jiff::Timestamp;
use lineside::journal::Journal;

/// No callback asks more than this; a walk that goes on longer is in a circle.
const MOST_PROMPTS: usize = 150;

/// The heading of the question on the screen.
fn heading(screen: &str) -> &str {
    screen
        .lines()
        .rfind(|line| line.starts_with("== "))
        .unwrap_or("(no heading on the screen)")
}

/// Answers the prompt on the screen, differently from question to question.
fn answer(session: &mut Session, screen: &str, again: bool, number: usize, seed: usize) {
    let heading = heading(screen);
    if screen.trim_end().ends_with("then Enter >") {
        // A figure that was refused brings the same question again.
        let typed = if again || (number + seed).is_multiple_of(4) {
            "x"
        } else {
            "30"
        };
        session.press(typed);
        session.press("\r");
    } else if heading.contains("question") {
        let entries = entries(screen);
        let place = if heading.starts_with("== question 5:") {
            // "None of these hazards" is the last; anything else ends in a halt.
            entries
        } else {
            1 + (number * 7 + seed * 3) % entries
        };
        session.pick(place, entries);
    } else {
        session.take_first();
    }
}

/// How many entries the list on the screen has, those on its other pages too.
fn entries(screen: &str) -> usize {
    let since = screen.rsplit("== ").next().unwrap_or("");
    let shown = since
        .lines()
        .filter_map(|line| {
            line.get(1..)?
                .trim_start()
                .split_once("  ")?
                .0
                .parse::<usize>()
                .ok()
        })
        .max()
        .expect("a list stands on the screen");
    let below = since.lines().find_map(|line| {
        let (count, _) = line.trim().strip_prefix('(')?.split_once(" more below")?;
        count.parse::<usize>().ok()
    });
    shown + below.unwrap_or(0)
}

fn check_screen(screen: &str, columns: usize) {
    for line in screen.lines() {
        let width = console::measure_text_width(line.trim_end());
        assert!(width < columns, "{width} columns: {line}\nin\n{screen}");
    }
    assert!(
        heading(screen).starts_with("== "),
        "the question has scrolled away under its answers:\n{screen}"
    );
}

/// Walks to the end and gives back the headings in order.
fn whole(columns: u16, complaint: &str, equipment: &str, seed: usize) -> Vec<String> {
    let home = tempfile::tempdir().expect("a temporary folder");
    let mut session = Session::start(columns, home.path(), &["--case", &case_file(&home)]);
    session.complain(complaint);
    session.equip(equipment);
    session.wait_for("question 5");
    let mut screen = String::new();
    let mut headings: Vec<String> = Vec::new();
    for number in 0.. {
        let Some(next) = session.next_prompt(&screen) else {
            break;
        };
        screen = next;
        check_screen(&screen, usize::from(columns));
        let again = headings.last().is_some_and(|last| last == heading(&screen));
        headings.push(heading(&screen).to_owned());
        assert!(number < MOST_PROMPTS, "it does not end: {headings:#?}");
        answer(&mut session, &screen, again, number, seed);
    }
    session.ends_with(0);
    headings
}

/// No question is asked energized or locked out unless the cautions of that state were the last ones accepted.
fn check_cautions(headings: &[String]) {
    let mut accepted = "";
    for heading in headings {
        for (state, words) in [
            ("ENERGIZED", "the next tests are made ENERGIZED"),
            ("locked out", "the next tests are made LOCKED OUT"),
        ] {
            if heading.contains(words) {
                accepted = state;
            } else if heading.contains("question") && heading.contains(state) {
                assert_eq!(
                    accepted, state,
                    "`{heading}` comes without its cautions: {headings:#?}"
                );
            }
        }
    }
}

#[test]
fn whole_callbacks_fit_80_and_60_columns_with_cautions_first() {
    let mut energised = 0;
    let cases = [
        ("breaker-opens", "split-air-conditioner"),
        ("equipment-resets", "heat-pump"),
        ("part-burnt", "electric-air-handler"),
    ];
    for (number, (complaint, equipment)) in cases.into_iter().enumerate() {
        for columns in [80, 60] {
            let headings = whole(columns, complaint, equipment, usize::from(columns) / 20 + number);
            assert!(headings.len() > 5, "{headings:#?}");
            check_cautions(&headings);
            energised += headings
                .iter()
                .filter(|heading| heading.contains("ENERGIZED"))
                .count();
        }
    }
    assert!(
        energised > 0,
        "no walk came to an energized test, so nothing was checked"
    );
}

#[test]
fn killed_at_any_prompt_it_goes_on_at_that_prompt() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let case = case_file(&home);
    let mut session = Session::start(80, home.path(), &["--case", &case]);
    session.complain("breaker-opens");
    session.wait_for("What equipment is it?");
    let mut screen = String::new();
    let mut headings: Vec<String> = Vec::new();
    for number in 0..15 {
        let before = session
            .next_prompt(&screen)
            .unwrap_or_else(|| panic!("it ended early: {headings:#?}"));
        session.kill();
        session = Session::start(80, home.path(), &["--case", &case]);
        let reminder = session.next_prompt("").expect("it says where it stands");
        assert!(reminder.contains("Going on with the case"), "{reminder}");
        session.take_first();
        // What was accepted before is read once more.
        let again = |screen: &str| screen.contains("accepted before this sitting");
        let shown = session.shown_where(|screen| heading(screen) == heading(&before) || again(screen));
        if heading(&shown) != heading(&before) {
            session.take_first();
        }
        screen = session
            .prompt_where(|screen| heading(screen) == heading(&before))
            .expect("it asks what it asked before");
        let again = headings.last().is_some_and(|last| last == heading(&screen));
        headings.push(heading(&screen).to_owned());
        answer(&mut session, &screen, again, number, 2);
    }
    session.kill();
}

#[test]
fn ctrl_c_in_a_list_within_a_question_keeps_the_case() {
    for (letter, shown) in [
        ("b", "Back to where?"),
        ("f", "leave them as they are"),
        ("?", "back to the question"),
    ] {
        let home = tempfile::tempdir().expect("a temporary folder");
        let mut session = Session::start(80, home.path(), &["--case", &case_file(&home)]);
        session.complain("breaker-opens");
        session.equip("split-air-conditioner");
        session.wait_for("question 5");
        session.press(letter);
        session.wait_for(shown);
        session.press("\x03");
        session.wait_for("go on with: lineside --case");
        session.ends_with(0);
    }
}

#[test]
fn going_on_says_what_case_it_is() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let case = case_file(&home);
    let mut session = Session::start(60, home.path(), &["--case", &case]);
    session.complain("breaker-opens");
    session.equip("split-air-conditioner");
    session.wait_for("question 5");
    session.press("5");
    session.wait_for("question 6");
    session.stop();
    session.ends_with(0);
    let mut session = Session::start(60, home.path(), &["--case", &case]);
    session.wait_for("so far");
    session.wait_for("Split air conditioner");
    session.wait_for("1 answer, the last:");
    session.press("\r");
    session.wait_for("something not listed");
    session.press("\r");
    session.wait_for("question 6");
    session.kill();
}

#[test]
fn going_on_shows_the_dangers_that_stand_before_anything_is_asked() {
    for columns in [80, 60] {
        let home = tempfile::tempdir().expect("a temporary folder");
        let case = case_file(&home);
        let mut session = Session::start(columns, home.path(), &["--case", &case]);
        session.complain("breaker-opens");
        session.equip("split-air-conditioner");
        session.wait_for("question 5");
        session.stop();
        session.ends_with(0);
        let mut session = Session::start(columns, home.path(), &["--case", &case]);
        session.wait_for("so far");
        session.wait_for("! A breaker tripped, a fuse blew, or it banged");
        session.kill();
    }
}

/// Runs a command in this home.
fn run(home: &tempfile::TempDir, arguments: &[&str]) {
    let output = std::process::Command::new(env!("CARGO_BIN_EXE_lineside"))
        .args(arguments)
        .env_clear()
        .env("HOME", home.path())
        .current_dir(home.path())
        .output()
        .expect("the program starts");
    assert!(output.status.success(), "{output:?}");
}

/// A danger that was told is taken back only as a slip of the finger, and the case says so.
#[test]
fn a_danger_is_taken_back_only_as_a_slip_of_the_finger() {
    let home = tempfile::tempdir().expect("a temporary folder");
    std::fs::write(
        home.path().join("answers.toml"),
        "complaint = \"does-not-run\"\nequipment = \"gas-furnace\"\n[answers]\nfuel-hazard-look = \"none\"\nhazard-look = \"none\"\n\
         safety-bridged-look = \"bridged\"\n",
    )
    .expect("written");
    let case = case_file(&home);
    run(&home, &["diagnose", "--answers", "answers.toml", "--case", &case]);
    let kept = || std::fs::read_to_string(&case).expect("kept");
    let mut session = Session::start(80, home.path(), &["--case", &case]);
    session.wait_for("so far");
    session.press("\r");
    session.wait_for("NEXT");
    session.press("b");
    session.wait_for("Back to where?");
    session.press("5");
    session.wait_for("That takes back a danger");
    session.press("2");
    session.wait_for("NEXT");
    assert!(!kept().contains("undone"));
    session.press("b");
    session.wait_for("Back to where?");
    session.press("5");
    session.wait_for("That takes back a danger");
    session.press("1");
    session.wait_for("taken back.");
    session.kill();
    assert!(kept().contains("Taken back as a slip of the finger: a safety that is bridged"));
    assert!(kept().contains("undone"));
}

/// What the visit before came to is read first, and what does not change is taken over by one key.
#[test]
fn a_callback_shows_the_visit_before_and_takes_over_equipment_and_plate() {
    for columns in [80, 60] {
        let home = tempfile::tempdir().expect("a temporary folder");
        std::fs::write(
            home.path().join("answers.toml"),
            "complaint = \"breaker-opens\"\nequipment = \"split-air-conditioner\"\naccessories = [\"humidifier\"]\n\
             [facts]\nrated-load-current = \"14.1 A\"\n[answers]\nhazard-look = \"none\"\n",
        )
        .expect("written");
        let case = case_file(&home);
        run(&home, &["diagnose", "--answers", "answers.toml", "--case", &case]);
        run(&home, &["case", "repaired", &case, "invented: new device"]);
        run(&home, &["case", "close", &case, "--cause", "gfci-device-bad"]);
        let callback = home.path().join("callback.jsonl");
        let callback = callback.to_str().expect("text");
        run(&home, &["case", "reopen", &case, "-o", callback]);
        let mut session = Session::start(columns, home.path(), &["--case", callback]);
        session.wait_for("before you start");
        session.press("1");
        session.wait_for("the visit before");
        session.wait_for("invented: new device");
        session.press("1");
        session.wait_for("take all of it over");
        session.wait_for("14.1 A");
        session.press("1");
        session.wait_for("What is the complaint");
        session.kill();
    }
}

#[test]
fn going_on_warns_of_the_state_the_equipment_was_left_in() {
    for (state, warning) in [
        ("energised", "Take every part for live"),
        ("locked-out", "Prove every conductor dead again"),
    ] {
        let home = tempfile::tempdir().expect("a temporary folder");
        let case = case_file(&home);
        let mut session = Session::start(80, home.path(), &["--case", &case]);
        session.complain("breaker-opens");
        session.equip("split-air-conditioner");
        session.wait_for("question 5");
        session.stop();
        session.ends_with(0);
        let kept = std::fs::read_to_string(&case).expect("the case is kept");
        assert!(
            !kept.contains("acknowledged"),
            "no cautions were accepted yet:\n{kept}"
        );
        let accepted = format!("{{\"kind\":\"acknowledged\",\"state\":\"{state}\"}}");
        let accepted = serde_json::from_str(&accepted).expect("an event");
        let (mut journal, _) = Journal::open(Path::new(&case)).expect("the case can be written");
        journal.append(&accepted, Timestamp::now()).expect("it is kept");
        drop(journal);
        let mut session = Session::start(80, home.path(), &["--case", &case]);
        session.wait_for("so far");
        session.wait_for(warning);
        session.kill();
    }
}

#[test]
fn color_is_used_only_when_it_may_be() {
    for (option, colored) in [("always", true), ("never", false)] {
        let home = tempfile::tempdir().expect("a temporary folder");
        let mut session = Session::start(80, home.path(), &["--color", option, "--case", &case_file(&home)]);
        session.read_opening();
        session.next_prompt("").expect("it asks");
        assert_eq!(session.has_attributes(), colored, "--color {option}");
        session.kill();
    }
}
