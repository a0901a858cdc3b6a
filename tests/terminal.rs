//! The real program on a pseudo-terminal, driven by real keys; what is checked is what the screen shows.

use crate::support::{Session, case_file};

const DOWN: &str = "\x1b[B";

#[test]
fn a_callback_by_keys_alone_with_back_why_volunteer_stop_and_continue() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let case = case_file(&home);
    let mut session = Session::start(80, home.path(), &["--case", &case]);
    session.complain("breaker-opens");
    session.wait_for("What equipment is it?");
    // By arrow keys: the second kind is the heat pump; then back, and the first by its digit.
    session.press(DOWN);
    session.press("\r");
    // Two accessories are marked and one of them is taken back.
    session.wait_for("What else is fitted to it?");
    session.press("2\r");
    session.wait_for("That is all");
    session.press("3\r");
    session.press("2\r");
    session.wait_for("[ ] Humidifier");
    session.wait_for("[x] Condensate pump");
    session.press("1\r");
    session.wait_for("answer: Accessories: Condensate pump");
    session.wait_for("What is known of it?");
    session.press("b");
    session.wait_for("Back to where?");
    session.press("2");
    session.wait_for("2 taken back.");
    session.equip("split-air-conditioner");
    session.wait_for("Give the first true one.");
    session.press("?");
    session.wait_for("why");
    session.wait_for("step 1");
    session.wait_for("back to the question");
    session.press("1");
    session.press("8");
    session.wait_for("None of these");
    session.wait_for("Which device tripped");
    session.press("v");
    session.wait_for("words for what you saw");
    session.press("when opens\r");
    session.wait_for("none of these");
    session.press("1");
    session.press("1\r");
    session.wait_for("answer: When it opens");
    session.press("r");
    session.wait_for("result so far");
    // Its own key shows it again, and says so.
    session.press("r");
    session.wait_for("again, result so far");
    session.wait_for("cautions before any of it is done: key !");
    // A part by itself, and back; Esc and q leave the part and the result.
    session.press("w");
    session.wait_for("FOR AND AGAINST");
    session.press("q");
    session.wait_for("Go on with the questions.");
    session.press("\x1b");
    // The result names this test as well, but not by its question.
    session.wait_for("Which device tripped, blew or was found open, now");
    session.press("n");
    session.wait_for("note >");
    session.press("owner says it began in May\r");
    session.wait_for("Note kept.");
    session.stop();
    session.wait_for("go on with: lineside --case");
    session.ends_with(0);

    let kept = std::fs::read_to_string(&case).expect("the case is kept");
    for part in [
        "\"undone\"",
        "\"volunteered\":true",
        "owner says it began in May",
        "\"stopped\"",
    ] {
        assert!(kept.contains(part), "{part} is not in the case:\n{kept}");
    }

    let mut session = Session::start(80, home.path(), &["--case", &case]);
    session.wait_for("Going on with the case");
    session.wait_for("so far");
    session.wait_for("1 go on");
    session.press("\r");
    session.wait_for("Which device tripped");
    session.stop();
    session.wait_for("go on with: lineside --case");
    session.ends_with(0);
}

#[test]
fn ctrl_c_keeps_the_case_in_a_list_and_in_a_text_prompt() {
    for to_text in [false, true] {
        let home = tempfile::tempdir().expect("a temporary folder");
        let case = case_file(&home);
        let mut session = Session::start(80, home.path(), &["--case", &case]);
        session.complain("breaker-opens");
        session.wait_for("What equipment is it?");
        if to_text {
            session.press("n");
            session.wait_for("note >");
        }
        session.press("\x03");
        session.wait_for("go on with: lineside --case");
        session.ends_with(0);
        let kept = std::fs::read_to_string(&case).expect("the case is kept");
        assert!(kept.contains("breaker-opens"), "{kept}");
    }
}

#[test]
fn at_60_columns_no_line_is_cut() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let mut session = Session::start(60, home.path(), &["--case", &case_file(&home)]);
    session.complain("breaker-opens");
    session.equip("split-air-conditioner");
    session.wait_for("Give the first true one.");
    // The terminal wraps what is too wide; then a line would be full to the last column.
    for line in session.contents().lines() {
        assert!(line.trim_end().chars().count() < 60, "too wide: {line}");
    }
    session.stop();
    session.ends_with(0);
}

#[test]
fn a_reading_is_understood_or_refused_and_asked_again() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let mut session = Session::start(80, home.path(), &["--case", &case_file(&home)]);
    session.complain("breaker-opens");
    session.equip("split-air-conditioner");
    session.wait_for("Give the first true one.");
    session.press("f");
    session.wait_for("leave them as they are");
    session.press("1\r");
    session.wait_for("value in A, or x when it is not known");
    session.press("24 V\r");
    session.wait_for("not taken:");
    session.wait_for("Give the first true one.");
    session.press("f");
    session.wait_for("leave them as they are");
    session.press("1\r");
    session.wait_for("value in A, or x when it is not known");
    session.press("0.04 kA\r");
    session.wait_for("understood: Breaker or fuse rating: 40 A");
    session.stop();
    session.ends_with(0);
}

/// What is told unasked can be thought so as well.
#[test]
fn what_is_told_unasked_can_be_thought_so() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let case = case_file(&home);
    let mut session = Session::start(80, home.path(), &["--case", &case]);
    session.complain("does-not-run");
    session.equip("split-air-conditioner");
    session.wait_for("Give the first true one.");
    session.press("v");
    session.wait_for("words for what you saw");
    session.press("breaker trips in rain\r");
    session.wait_for("none of these, or no more");
    let screen = session.contents();
    let recorder = screen
        .lines()
        .find_map(|line| line.split_once("  Recorder on the breaker until it trips"))
        .expect("it is found");
    session.press(recorder.0.trim_start_matches('>').trim());
    session.wait_for("t think so");
    session.press("t");
    session.wait_for("it counts less");
    session.press("1");
    session.wait_for("(thought so)");
    session.stop();
    session.ends_with(0);
    let kept = std::fs::read_to_string(&case).expect("the case is kept");
    assert!(kept.contains("\"leaning\""), "{kept}");
}

/// Whoever meant a danger must not lose it to a figure that could not be taken.
#[test]
fn a_refused_figure_of_what_was_seen_is_asked_again() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let mut session = Session::start(80, home.path(), &["--case", &case_file(&home)]);
    session.complain("does-not-run");
    session.equip("split-air-conditioner");
    session.wait_for("Give the first true one.");
    session.press("v");
    session.wait_for("words for what you saw");
    session.press("voltage on the metal, unit off\r");
    session.wait_for("none of these");
    session.press("1");
    session.wait_for("reading in V, ? why, empty to leave");
    session.press("-80 V\r");
    session.wait_for("not taken:");
    session.wait_for("reading in V, ? why, empty to leave");
    session.press("80 V\r");
    session.wait_for("understood: Voltage on the metal, unit off: 80 V");
    session.wait_for("STOP");
    session.stop();
    session.ends_with(0);
}

#[test]
fn a_signal_leaves_the_terminal_as_it_was_and_the_case_kept() {
    // 128 and the number of the signal is what shells have (POSIX.1-2017, Shell and Utilities 2.8.2: greater than 128).
    for (signal, code) in [("TERM", 143), ("HUP", 129)] {
        for to_text in [false, true] {
            let home = tempfile::tempdir().expect("a temporary folder");
            let case = case_file(&home);
            let mut session = Session::start(80, home.path(), &["--case", &case]);
            let before = session.modes();
            session.complain("breaker-opens");
            session.wait_for("What equipment is it?");
            if to_text {
                session.press("n");
                session.wait_for("note >");
            }
            while session.modes() == before {
                std::thread::sleep(std::time::Duration::from_millis(5));
            }
            session.signal(signal);
            session.ends_with(code);
            session.wait_for("go on with: lineside --case");
            assert_eq!(session.modes(), before, "SIG{signal}");
            assert!(!session.cursor_is_hidden(), "SIG{signal}");
            let kept = std::fs::read_to_string(&case).expect("the case is kept");
            assert!(kept.contains("breaker-opens"), "{kept}");
        }
    }
}

#[test]
fn the_signal_of_ctrl_c_means_what_ctrl_c_means() {
    for to_text in [false, true] {
        let home = tempfile::tempdir().expect("a temporary folder");
        let case = case_file(&home);
        let mut session = Session::start(80, home.path(), &["--case", &case]);
        let before = session.modes();
        session.complain("breaker-opens");
        session.wait_for("What equipment is it?");
        if to_text {
            session.press("n");
            session.wait_for("note >");
        }
        while session.modes() == before {
            std::thread::sleep(std::time::Duration::from_millis(5));
        }
        session.signal("INT");
        session.ends_with(0);
        assert_eq!(session.modes(), before);
        assert!(!session.cursor_is_hidden());
        let kept = std::fs::read_to_string(&case).expect("the case is kept");
        assert!(kept.contains("\"stopped\""), "{kept}");
    }
}

#[test]
fn a_complaint_is_found_by_words_and_the_words_by_what_was_told() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let case = case_file(&home);
    let mut session = Session::start(80, home.path(), &["--case", &case]);
    session.read_opening();
    session.press("zebra\r");
    session.wait_for("No complaint fits");
    session.press("breaker trips in rain\r");
    session.wait_for("These fit");
    session.wait_for("1 A breaker trips or a fuse blows for no clear reason");
    session.press("1");
    session.wait_for("What equipment is it?");
    session.press("1\r");
    session.wait_for("What else is fitted to it?");
    session.take_first();
    // What else the words say is offered until it is all; what needs a meter comes last.
    session.wait_for("none of these, or no more");
    session.wait_for("1 When it opens: In rain, dew or after the sprinkler");
    session.press("1");
    session.wait_for("nothing is switched on before the dead cable reads open too");
    session.wait_for("none of these, or no more");
    session.press("b");
    session.wait_for("Something else that was told or seen");
    session.press("2\r");
    session.wait_for("the 1 marked");
    session.kill();
    let kept = std::fs::read_to_string(&case).expect("the case is kept");
    assert!(kept.contains("\"volunteered\":true"), "{kept}");
}

#[test]
fn one_line_says_where_it_is_and_who_came_and_is_not_asked_where_options_say_it() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let case = case_file(&home);
    let mut session = Session::start(80, home.path(), &["--case", &case]);
    session.wait_for("read; go on");
    session.press("\r");
    session.wait_for("place / unit / technician >");
    session.press("?\r");
    session.wait_for("A slash parts what is said");
    session.press("14 Oak St / RTU 2 / first shift\r");
    session.wait_for("place: 14 Oak St; unit: RTU 2; technician: first shift");
    session.wait_for("What is the complaint?");
    session.press("2\r");
    session.wait_for("What equipment is it?");
    session.stop();
    session.ends_with(0);
    let kept = std::fs::read_to_string(&case).expect("the case is kept");
    for part in ["\"14 Oak St\"", "\"RTU 2\"", "\"technician\":\"first shift\""] {
        assert!(kept.contains(part), "{part}: {kept}");
    }
    let other = home.path().join("other.jsonl");
    let other = other.to_str().expect("it is text");
    let mut session = Session::start(80, home.path(), &["--case", other, "--place", "14 Oak St"]);
    session.wait_for("read; go on");
    session.press("\r");
    session.wait_for("What is the complaint?");
    session.press("\x03");
    session.ends_with(0);
}

#[test]
fn numbers_of_a_long_list_wait_for_enter_and_keys_pressed_too_early_are_dropped() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let mut session = Session::start(80, home.path(), &["--case", &case_file(&home)]);
    session.read_opening();
    session.press("2");
    session.wait_for("number: 2_");
    // 25 is no entry: that is said, and the Enter of somebody who typed 25 takes nothing.
    session.press("5\r");
    session.wait_for("no 25 here: 1 to 19; Enter again takes the marked line");
    // The next digit begins a new number. Two digits are seen before they are taken.
    session.press("12");
    session.wait_for("number: 12_");
    session.wait_for("> 12 The same part fails again");
    session.press("\x1b[H5");
    session.wait_for("number: 5_");
    // What follows Enter at once is for a question nobody has seen.
    session.press("\r1\r1\r");
    session.wait_for("answer: Control fuse blows again");
    session.wait_for("What equipment is it?");
    session.wait_for("s stop and keep");
    std::thread::sleep(std::time::Duration::from_millis(300));
    assert!(session.contents().contains("What equipment is it?"));
    session.kill();
}

#[test]
fn a_number_no_entry_has_marks_nothing_in_a_list_to_mark() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let mut session = Session::start(80, home.path(), &["--case", &case_file(&home)]);
    session.complain("breaker-opens");
    session.wait_for("What equipment is it?");
    session.press("1\r");
    session.wait_for("What else is fitted to it?");
    session.take_first();
    session.wait_for("10 Something else that was told or seen");
    session.press("12\r");
    session.wait_for("no 12 here: 1 to 10; Enter again takes the marked line");
    assert!(!session.contents().contains("[x]"), "{}", session.contents());
    session.kill();
}

#[test]
fn an_enter_too_many_never_says_that_nothing_is_fitted() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let mut session = Session::start(80, home.path(), &["--case", &case_file(&home)]);
    session.complain("breaker-opens");
    session.wait_for("What equipment is it?");
    session.press("1\r");
    session.wait_for("What else is fitted to it?");
    session.press("\r");
    session.wait_for("nothing is marked; Enter again goes on so");
    session.press("\r");
    session.wait_for("answer: Accessories: none");
    // After the one digit that was enough, Enter answers nothing either.
    session.wait_for("What is known of it?");
    session.take_first();
    session.wait_for("Give the first true one.");
    session.press("8");
    session.wait_for("answer: Hazards");
    session.wait_for("question 6");
    session.press("\r");
    session.wait_for("the number was enough");
    session.kill();
}

#[test]
fn letters_of_typed_words_are_words_and_stopping_is_asked_once_more() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let case = case_file(&home);
    let mut session = Session::start(80, home.path(), &["--case", &case]);
    session.complain("breaker-opens");
    session.wait_for("What equipment is it?");
    session.wait_for("other letters: words");
    session.press("trips now and then\r");
    session.wait_for("Nothing fits \u{201c}trips now and then\u{201d}");
    session.press("split system\r");
    session.wait_for("These fit \u{201c}split system\u{201d}");
    session.press("b");
    session.wait_for("What equipment is it?");
    // Words that begin with the letter of a key are words all the same.
    session.press("no such thing\r");
    session.wait_for("Nothing fits \u{201c}no such thing\u{201d}");
    session.press("boiler\r");
    session.wait_for("These fit \u{201c}boiler\u{201d}");
    session.press("b");
    session.wait_for("What equipment is it?");
    session.wait_for("other letters: words");
    session.press("s");
    session.wait_for("stop here? s again or Enter; another letter begins words");
    session.press("\x1b[H");
    session.press("package\r");
    session.wait_for("These fit \u{201c}package\u{201d}");
    session.press("1");
    session.wait_for("answer:");
    session.stop();
    session.ends_with(0);
}

#[test]
fn a_digit_after_the_letter_that_stops_answers_nothing() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let mut session = Session::start(80, home.path(), &["--case", &case_file(&home)]);
    session.complain("breaker-opens");
    session.equip("split-air-conditioner");
    session.wait_for("Give the first true one.");
    session.press("s");
    session.wait_for("stop here?");
    session.press("7");
    session.wait_for("not stopped; now press the number");
    session.press("\r");
    session.wait_for("no number was taken; Enter again takes the marked line");
    assert!(
        !session.contents().contains("answer: Hazards"),
        "{}",
        session.contents()
    );
    session.press("7");
    session.wait_for("answer: Hazards");
    session.kill();
}

#[test]
fn escape_leaves_every_list_and_a_line_of_words_says_how_it_is_left() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let case = case_file(&home);
    let mut session = Session::start(60, home.path(), &["--case", &case]);
    session.complain("breaker-opens");
    session.equip("split-air-conditioner");
    session.wait_for("Give the first true one.");
    for (letter, shown) in [("b", "Back to where?"), ("f", "leave them as they are")] {
        session.press(letter);
        session.wait_for(shown);
        session.press("\x1b");
        session.wait_for("Give the first true one.");
        session.wait_for("s stop and keep");
    }
    session.press("f");
    session.wait_for("leave them as they are");
    session.press("1\r");
    session.wait_for("empty to leave >");
    session.press("\r");
    session.wait_for("Give the first true one.");
    session.press("v");
    session.wait_for("empty to leave >");
    session.press("which device opened\r");
    session.wait_for("none of these, or no more");
    session.press("\x1b");
    session.wait_for("Give the first true one.");
    session.press("v");
    session.press("breaker trips in rain\r");
    session.wait_for("none of these, or no more");
    // One whose outcome the words do not name is asked for it.
    let screen = session.contents();
    let recorder = screen
        .lines()
        .find_map(|line| line.split_once("  Recorder on the breaker until it trips"))
        .expect("it is found");
    session.press(recorder.0.trim_start_matches('>').trim());
    session.wait_for("seen or told");
    session.press("?");
    session.wait_for("why");
    session.press("\x1b");
    session.wait_for("seen or told");
    session.wait_for("? reason and steps");
    session.press("\x1b");
    session.wait_for("Give the first true one.");
    session.stop();
    session.ends_with(0);
    let kept = std::fs::read_to_string(&case).expect("the case is kept");
    assert!(
        !kept.contains("undone") && !kept.contains("volunteered\":true"),
        "{kept}"
    );
}

/// What was read before is taken; that it is not made now is said first, and why.
#[test]
fn a_held_test_told_out_of_its_turn_is_not_to_be_made_now() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let case = case_file(&home);
    let mut session = Session::start(80, home.path(), &["--case", &case]);
    session.complain("breaker-opens");
    session.equip("split-air-conditioner");
    session.wait_for("Give the first true one.");
    session.press("v");
    session.wait_for("empty to leave >");
    session.press("breaker trips in rain\r");
    session.wait_for("none of these, or no more");
    let screen = session.contents();
    let recorder = screen
        .lines()
        .find_map(|line| line.split_once("  Recorder on the breaker until it trips"))
        .expect("it is found");
    session.press(recorder.0.trim_start_matches('>').trim());
    session.wait_for("seen or told");
    session.wait_for("? reason and steps");
    let screen = session
        .contents()
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ");
    let knowledge = lineside::knowledge::embedded().expect("it is sound");
    let mut holds = knowledge.holds.iter();
    let hold = holds.find(|hold| hold.id == "not-looked").expect("it is there");
    let said = screen.find(&format!("Do not make it now: {}", hold.says));
    assert!(said.is_some() && said < screen.find("seen or told"), "{screen}");
    session.press("1");
    session.wait_for("Give the first true one.");
    session.stop();
    session.ends_with(0);
    let kept = std::fs::read_to_string(&case).expect("the case is kept");
    assert!(
        kept.contains("current-log") && kept.contains("volunteered\":true"),
        "{kept}"
    );
}

#[test]
fn after_reasons_and_lists_the_question_stands_whole_again() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let mut session = Session::start(80, home.path(), &["--case", &case_file(&home)]);
    session.complain("breaker-opens");
    session.equip("split-air-conditioner");
    session.wait_for("Give the first true one.");
    for (letter, shown, leave) in [
        ("?", "back to the question", "\r"),
        ("b", "Back to where?", "b"),
        ("f", "leave them as they are", "b"),
        ("r", "result so far ===", "q"),
    ] {
        session.press(letter);
        session.wait_for(shown);
        session.press(leave);
        let screen = session
            .prompt_where(|screen| screen.trim_end().ends_with("s stop and keep"))
            .expect("it asks");
        let last = question_on(&screen);
        assert!(last.starts_with("== question 5"), "{letter}: {screen}");
        assert!(last.contains("8  None of these"), "{letter}: {screen}");
    }
    session.kill();
}

#[test]
fn cautions_stand_again_above_what_accepts_them() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let mut session = Session::start(80, home.path(), &["--case", &case_file(&home)]);
    session.complain("part-burnt");
    session.equip("electric-air-handler");
    let mut screen = String::new();
    for _ in 0..40 {
        screen = session.next_prompt(&screen).expect("it asks");
        if screen.contains("LOCKED OUT") && screen.contains("Read, understood and done") {
            break;
        }
        if screen.trim_end().ends_with("then Enter >") {
            session.press("x\r");
        } else if screen.contains("== question 5") {
            session.press("8");
        } else {
            session.press("\x1b[F");
            session.press("\r");
        }
    }
    session.press("r");
    session.wait_for("result so far");
    session.press("q");
    session.wait_for("Read, understood and done");
    let screen = session
        .prompt_where(|screen| screen.contains("Read, understood and done"))
        .expect("it asks");
    let last = question_on(&screen);
    assert!(
        last.starts_with("== the next tests are made LOCKED OUT"),
        "{screen}"
    );
    assert!(last.contains("  ! "), "{screen}");
    session.kill();
}

#[test]
fn a_kind_of_equipment_keeps_its_number_whatever_the_complaint() {
    let knowledge = lineside::knowledge::embedded().expect("it is sound");
    let kind = knowledge.equipment("gas-furnace").expect("it is listed");
    let name = &knowledge.equipment[kind].name;
    let place = kind.place();
    for complaint in ["breaker-opens", "control-power-lost", "flame-lost"] {
        let home = tempfile::tempdir().expect("a temporary folder");
        let mut session = Session::start_as(
            "xterm-256color",
            40,
            80,
            home.path(),
            &["--case", &case_file(&home)],
        );
        session.complain(complaint);
        session.wait_for(&format!("{} {name}", place + 1));
        session.kill();
    }
}

#[test]
fn a_long_line_is_written_once() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let mut session = Session::start(60, home.path(), &["--case", &case_file(&home)]);
    session.read_opening();
    session.press("thermostat goes blank when the blower starts and the furnace begins anew\r");
    session.wait_for("These fit");
    let flat = session
        .contents()
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ");
    assert_eq!(
        flat.matches("words, then Enter; empty to leave >").count(),
        1,
        "{flat}"
    );
    assert_eq!(flat.matches("> thermostat goes blank").count(), 1, "{flat}");
    for line in session.contents().lines() {
        assert!(line.trim_end().chars().count() < 60, "too wide: {line}");
    }
    session.kill();
}

#[test]
fn a_letter_with_enter_answers_one_question_and_not_the_next() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let mut session = Session::start(80, home.path(), &["--case", &case_file(&home)]);
    session.complain("breaker-opens");
    session.wait_for("What equipment is it?");
    session.press("1\r");
    session.wait_for("What else is fitted to it?");
    session.press("x");
    session.wait_for("What is known of it?");
    session.press("\r");
    session.wait_for("the letter was enough");
    session.press("\r");
    session.wait_for("answer: Of these: none");
    session.kill();
}

#[test]
fn another_size_draws_question_and_answers_anew() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let mut session = Session::start(80, home.path(), &["--case", &case_file(&home)]);
    session.complain("breaker-opens");
    session.equip("split-air-conditioner");
    session.wait_for("Give the first true one.");
    session.next_prompt("").expect("it asks");
    session.resize(24, 60);
    session.wait_for("other letters: words s stop and keep");
    let screen = session
        .prompt_where(|screen| screen.starts_with("== "))
        .expect("it asks");
    assert_eq!(screen.matches("== question").count(), 1, "{screen}");
    for line in screen.lines() {
        assert!(line.trim_end().chars().count() < 60, "too wide: {line}");
    }
    // In a line that is being typed, what was typed stays.
    session.press("n");
    session.wait_for("note >");
    session.press("began in May");
    session.wait_for("began in May");
    session.resize(24, 80);
    session.wait_for("note > began in May");
    session.press("\r");
    session.wait_for("Note kept.");
    session.kill();
}

#[test]
fn a_simple_terminal_and_plain_lines_get_numbers_and_no_escape_sequence() {
    for (kind, option) in [("dumb", None), ("xterm", Some("--plain"))] {
        let home = tempfile::tempdir().expect("a temporary folder");
        let case = case_file(&home);
        let mut arguments = vec!["--case", &case];
        arguments.extend(option);
        let mut session = Session::start_as(kind, 60, 42, home.path(), &arguments);
        session.wait_for("place / unit / technician >");
        session.press("\n");
        session.wait_for("number, letter or words >");
        session.press("breaker trips in rain\n");
        session.wait_for("number or letter >");
        session.press("1\n");
        session.wait_for("What equipment is it?");
        session.press("s\n");
        session.ends_with(0);
        let written = session.written_to_the_end();
        assert!(!written.contains('\u{1b}'), "{kind}: {written:?}");
        let from = written.find("What is the complaint?").expect("it was asked");
        let to = written.find("everything answered").expect("it was said");
        // What is typed may go beyond the line.
        for line in written[from..to].lines().filter(|line| !line.contains(" > ")) {
            assert!(line.trim_end().chars().count() < 42, "{kind}: {line}");
        }
    }
}

/// The screen from its last heading on.
fn question_on(screen: &str) -> String {
    let lines: Vec<&str> = screen.lines().map(str::trim_end).collect();
    let from = lines
        .iter()
        .rposition(|line| line.starts_with("== "))
        .expect("a heading");
    lines[from..].join("\n")
}

#[test]
fn first_screen_offer_and_question_at_four_widths() {
    for (columns, rows) in [(42, 20), (60, 24), (80, 24), (120, 24)] {
        let home = tempfile::tempdir().expect("a temporary folder");
        let case = case_file(&home);
        let arguments = ["--case", case.as_str()];
        let mut session = Session::start_as("xterm-256color", rows, columns, home.path(), &arguments);
        session.read_opening();
        let mut shown = Vec::new();
        let first = session
            .prompt_where(|screen| screen.contains("the complaint"))
            .expect("it asks");
        shown.push(question_on(&first));
        session.press("1\r");
        session.wait_for("What equipment is it?");
        session.press("1\r");
        session.wait_for("What else is fitted to it?");
        session.take_first();
        session.wait_for("what is known already");
        let offer = session
            .prompt_where(|screen| screen.contains("[ ] "))
            .expect("it asks");
        shown.push(question_on(&offer));
        session.take_first();
        session.wait_for("Give the first true one.");
        let question = session
            .prompt_where(|screen| screen.contains("question 5"))
            .expect("it asks");
        shown.push(question_on(&question));
        session.kill();
        for line in shown.iter().flat_map(|screen| screen.lines()) {
            assert!(line.chars().count() < usize::from(columns), "{columns}: {line}");
        }
        insta::assert_snapshot!(format!("screens-at-{columns}-columns"), shown.join("\n\n"));
    }
}

#[test]
fn one_word_of_many_names_no_outcome_that_may_say_the_opposite() {
    use lineside::knowledge::search;
    let knowledge = lineside::knowledge::embedded().expect("it is sound");
    for words in [
        "sump pump dead with the breaker off",
        "sump pump shares the breaker",
    ] {
        for test in search::tests(&knowledge, words).into_iter().take(8) {
            let test = &knowledge.tests[test];
            let named = search::outcome(test, words).map(|outcome| test.outcomes[outcome].label.as_str());
            let opposite = named.is_some_and(|label| label.contains("Only the unit's own accessories"));
            assert!(!opposite, "{words}: {}: {named:?}", test.name);
        }
    }
    let test = knowledge.test("hazard-look").expect("it is there");
    let test = &knowledge.tests[test];
    let named = search::outcome(test, "felt a tingle").map(|outcome| test.outcomes[outcome].id.as_str());
    assert_eq!(named, Some("shock-or-tingle"));
}

#[test]
fn words_find_the_complaint_they_are_said_of() {
    let knowledge = lineside::knowledge::embedded().expect("it is sound");
    let mut wrong = Vec::new();
    for (words, first) in [
        ("breaker trips in rain", "breaker-opens"),
        ("BLANK thermostat", "display-blank"),
        ("lights flicker", "lights-dim"),
        ("heat strips no heat", "electric-heat"),
        ("GFCI trips", "ground-fault-device-opens"),
        ("contactor buzzing", "contactor-chatters"),
        ("compressor hums, won't start", "motor-will-not-start"),
        ("generator", "on-generator"),
        ("tingle", "shock-or-hot-metal"),
        ("melted wire", "part-burnt"),
        ("not cooling enough", "weak-cooling-or-heating"),
    ] {
        let found = lineside::knowledge::search::complaints(&knowledge, words);
        let ids: Vec<&str> = found.iter().map(|tree| tree.id.as_str()).collect();
        if ids.first() != Some(&first) {
            wrong.push(format!("{words}: {ids:?}"));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
    // No complaint is called by it; a test of its tree is.
    let found = lineside::knowledge::search::complaints(&knowledge, "rain");
    assert!(found.iter().any(|tree| tree.id == "breaker-opens"));
    // "comes back" is not the backup of a generator.
    for words in [
        "outdoor unit quits some mornings, back by itself",
        "furnace quits, comes back",
    ] {
        let found = lineside::knowledge::search::complaints(&knowledge, words);
        assert_ne!(found[0].id, "on-generator", "{words}");
    }
    for words in ["", "no", "zebra"] {
        assert!(
            lineside::knowledge::search::complaints(&knowledge, words).is_empty(),
            "{words}"
        );
    }
}

#[test]
fn parts_changed_in_vain_are_marked_in_one_list() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let case = case_file(&home);
    let mut session = Session::start(80, home.path(), &["--case", &case]);
    session.complain("motor-will-not-start");
    session.equip("gas-furnace");
    session.press("v");
    session.wait_for("words for what you saw");
    session.press("swapped\r");
    session.wait_for("found by words");
    session.press("1");
    session.wait_for("Mark all of them.");
    session.wait_for("[ ] The run or start capacitor");
    session.press("3\r");
    session.wait_for("[x] The run or start capacitor");
    session.press("2\r");
    session.wait_for("That is all: go on with the 2 marked");
    session.press("1\r");
    session.wait_for("The run or start capacitor; The breaker, or fuses");
    session.stop();
    session.ends_with(0);
    let kept = std::fs::read_to_string(&case).expect("the case is kept");
    assert!(
        kept.contains("{\"outcomes\":[\"capacitor\",\"breaker-or-fuse\"]}"),
        "{kept}"
    );
}
