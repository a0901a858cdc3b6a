//! The real program on a pseudo-terminal, driven by real keys; what is checked is what the screen shows.

mod support;

use support::{Session, case_file};

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
    session.press("2");
    session.wait_for("That is all");
    session.press("3");
    session.press("2");
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
    session.press("7");
    session.wait_for("None of these");
    session.wait_for("Which device tripped");
    session.press("v");
    session.wait_for("words for what you saw");
    session.press("when opens\r");
    session.wait_for("none of these");
    session.press("1");
    session.press("1");
    session.wait_for("answer:");
    session.press("r");
    session.wait_for("result so far");
    session.wait_for("cautions before any of it is done: key !");
    // A part by itself, and back; Esc and q leave the part and the result.
    session.press("w");
    session.wait_for("FOR AND AGAINST");
    session.press("q");
    session.wait_for("Go on with the questions.");
    session.press("\x1b");
    session.wait_for("Which device tripped");
    session.press("n");
    session.wait_for("note >");
    session.press("owner says it began in May\r");
    session.wait_for("Note kept.");
    session.press("s");
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
    session.press("s");
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
    session.press("s");
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
    session.wait_for("value, or x when it is not known");
    session.press("24 V\r");
    session.wait_for("not taken:");
    session.wait_for("Give the first true one.");
    session.press("f");
    session.wait_for("leave them as they are");
    session.press("1\r");
    session.wait_for("value, or x when it is not known");
    session.press("0.04 kA\r");
    session.wait_for("understood: Breaker or fuse rating: 40 A");
    session.press("s");
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
