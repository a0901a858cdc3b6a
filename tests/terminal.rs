//! The real program on a pseudo-terminal, driven by real keys; what is checked is what the screen shows.

use std::io::{Read, Write};
use std::num::NonZero;
use std::path::Path;
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};
use tempfile::TempDir;

/// Longer than any step takes on a loaded machine; a text that does not come in this time does not come.
const PATIENCE: Duration = Duration::from_secs(20);

struct Session {
    screen: Arc<Mutex<vt100::Parser>>,
    keys: Box<dyn Write + Send>,
    child: Box<dyn Child + Send + Sync>,
    _master: Box<dyn MasterPty + Send>,
}

impl Session {
    fn start(columns: u16, home: &Path, arguments: &[&str]) -> Self {
        let pty = native_pty_system()
            .openpty(PtySize {
                rows: 24,
                cols: columns,
                pixel_width: 0,
                pixel_height: 0,
            })
            .expect("a pseudo-terminal");
        let mut command = CommandBuilder::new(env!("CARGO_BIN_EXE_lineside"));
        command.env_clear();
        command.env("HOME", home);
        command.env("TERM", "xterm-256color");
        command.args(arguments);
        let child = pty.slave.spawn_command(command).expect("the program starts");
        drop(pty.slave);
        let mut output = pty.master.try_clone_reader().expect("its output");
        let keys = pty.master.take_writer().expect("its input");
        let (rows, width) = (
            NonZero::new(24).expect("not zero"),
            NonZero::new(columns).expect("not zero"),
        );
        // Enough lines behind the screen to find what has scrolled away.
        let screen = Arc::new(Mutex::new(vt100::Parser::new(rows, width, 2000)));
        let shown = Arc::clone(&screen);
        std::thread::spawn(move || {
            let mut buffer = [0; 4096];
            while let Ok(read @ 1..) = output.read(&mut buffer) {
                shown.lock().expect("the screen").process(&buffer[..read]);
            }
        });
        Self {
            screen,
            keys,
            child,
            _master: pty.master,
        }
    }

    fn contents(&self) -> String {
        self.screen.lock().expect("the screen").screen().contents()
    }

    /// Waits until the screen shows a text; breaks lines like the screen does.
    fn wait_for(&self, text: &str) {
        let started = Instant::now();
        loop {
            let screen = self.contents();
            let flat = screen.split_whitespace().collect::<Vec<_>>().join(" ");
            if flat.contains(text) {
                return;
            }
            assert!(
                started.elapsed() < PATIENCE,
                "`{text}` does not come up; the screen shows:\n{screen}"
            );
            std::thread::sleep(Duration::from_millis(10));
        }
    }

    fn press(&mut self, keys: &str) {
        self.keys.write_all(keys.as_bytes()).expect("keys can be pressed");
        self.keys.flush().expect("keys can be pressed");
    }

    fn ends_with(&mut self, code: u32) {
        let started = Instant::now();
        loop {
            if let Some(status) = self.child.try_wait().expect("it can be waited for") {
                assert_eq!(status.exit_code(), code, "{}", self.contents());
                return;
            }
            assert!(
                started.elapsed() < PATIENCE,
                "it does not end:\n{}",
                self.contents()
            );
            std::thread::sleep(Duration::from_millis(10));
        }
    }
}

fn case_file(home: &TempDir) -> String {
    home.path()
        .join("case.jsonl")
        .to_str()
        .expect("the path is text")
        .to_owned()
}

const DOWN: &str = "\x1b[B";

#[test]
fn a_callback_by_keys_alone_with_back_why_volunteer_stop_and_continue() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let case = case_file(&home);
    let mut session = Session::start(80, home.path(), &["--case", &case]);
    session.wait_for("What is the complaint?");
    session.press("1");
    session.wait_for("What equipment is it?");
    // By arrow keys: the second kind is the heat pump; then back, and the first by its digit.
    session.press(DOWN);
    session.press("\r");
    session.wait_for("question 3");
    session.press("b");
    session.wait_for("Back to where?");
    session.press("1");
    session.wait_for("1 taken back.");
    session.wait_for("What equipment is it?");
    session.press("1");
    session.wait_for("Give the first that is true.");
    session.press("?");
    session.wait_for("why");
    session.wait_for("step 1");
    session.wait_for("back to the question");
    session.press("1");
    session.press("5");
    session.wait_for("None of these");
    session.wait_for("Which device opened");
    session.press("v");
    session.wait_for("words for what you saw");
    session.press("when opens\r");
    session.wait_for("none of these");
    session.press("1");
    session.press("1");
    session.wait_for("answer:");
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
    session.wait_for("Which device opened");
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
        session.wait_for("What is the complaint?");
        session.press("1");
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
    session.wait_for("What is the complaint?");
    session.press("1");
    session.wait_for("What equipment is it?");
    session.press("1");
    session.wait_for("Give the first that is true.");
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
    session.wait_for("What is the complaint?");
    session.press("1");
    session.wait_for("What equipment is it?");
    session.press("1");
    session.wait_for("Give the first that is true.");
    session.press("f");
    session.wait_for("leave them as they are");
    session.press("1\r");
    session.wait_for("value, or x when it is not known");
    session.press("24 V\r");
    session.wait_for("not taken:");
    session.wait_for("Give the first that is true.");
    session.press("f");
    session.wait_for("leave them as they are");
    session.press("1\r");
    session.wait_for("value, or x when it is not known");
    session.press("0.04 kA\r");
    session.wait_for("understood: Breaker or fuse rating: 40 A");
    session.press("s");
    session.ends_with(0);
}
