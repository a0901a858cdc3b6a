//! A session with the real program on a pseudo-terminal, shared by the tests that press keys.

use std::io::{Read, Write};
use std::num::NonZero;
use std::path::Path;
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};
use tempfile::TempDir;

/// Longer than any step takes on a loaded machine; a text that does not come in this time does not come.
const PATIENCE: Duration = Duration::from_secs(20);

pub struct Session {
    screen: Arc<Mutex<vt100::Parser>>,
    keys: Box<dyn Write + Send>,
    child: Box<dyn Child + Send + Sync>,
    master: Box<dyn MasterPty + Send>,
    /// Everything the program wrote, as it wrote it.
    written: Arc<Mutex<Vec<u8>>>,
    /// When keys were pressed last, and how much had been written by then.
    pressed: (Instant, usize),
    /// The complaint picked last.
    complaint: String,
}

impl Session {
    pub fn start(columns: u16, home: &Path, arguments: &[&str]) -> Self {
        Self::start_as("xterm-256color", 24, columns, home, arguments)
    }

    /// Starts on a terminal of another kind or height.
    pub fn start_as(kind: &str, rows: u16, columns: u16, home: &Path, arguments: &[&str]) -> Self {
        let pty = native_pty_system()
            .openpty(size(rows, columns))
            .expect("a pseudo-terminal");
        let mut command = CommandBuilder::new(env!("CARGO_BIN_EXE_lineside"));
        command.env_clear();
        command.env("HOME", home);
        command.env("TERM", kind);
        command.args(arguments);
        let child = pty.slave.spawn_command(command).expect("the program starts");
        drop(pty.slave);
        let mut output = pty.master.try_clone_reader().expect("its output");
        let keys = pty.master.take_writer().expect("its input");
        let (rows, width) = (
            NonZero::new(rows).expect("not zero"),
            NonZero::new(columns).expect("not zero"),
        );
        // Enough lines behind the screen to find what has scrolled away.
        let screen = Arc::new(Mutex::new(vt100::Parser::new(rows, width, 2000)));
        let shown = Arc::clone(&screen);
        let written = Arc::new(Mutex::new(Vec::new()));
        let kept = Arc::clone(&written);
        std::thread::spawn(move || {
            let mut buffer = [0; 4096];
            while let Ok(read @ 1..) = output.read(&mut buffer) {
                kept.lock().expect("what was written").extend(&buffer[..read]);
                shown.lock().expect("the screen").process(&buffer[..read]);
            }
        });
        Self {
            complaint: String::new(),
            pressed: (Instant::now(), 0),
            screen,
            keys,
            child,
            master: pty.master,
            written,
        }
    }

    /// Gives the terminal another size, as when its window is drawn wider.
    pub fn resize(&mut self, rows: u16, columns: u16) {
        {
            let mut parser = self.screen.lock().expect("the screen");
            parser.screen_mut().set_size(
                NonZero::new(rows).expect("not zero"),
                NonZero::new(columns).expect("not zero"),
            );
        }
        self.master.resize(size(rows, columns)).expect("another size");
    }

    pub fn contents(&self) -> String {
        self.screen.lock().expect("the screen").screen().contents()
    }

    /// Waits until the screen shows a text; breaks lines like the screen does. What the keys pressed last are answered
    /// with is waited for first: the text may have stood on the screen before, and a key that comes right behind an
    /// Escape is read as one key with it.
    pub fn wait_for(&self, text: &str) {
        let started = Instant::now();
        loop {
            let answered = self.answered();
            let screen = self.contents();
            let flat = screen.split_whitespace().collect::<Vec<_>>().join(" ");
            if answered && flat.contains(text) {
                return;
            }
            assert!(
                started.elapsed() < PATIENCE,
                "`{text}` does not come up; the screen shows:\n{screen}"
            );
            std::thread::sleep(Duration::from_millis(10));
        }
    }

    /// Whether something was written since keys were pressed last, and nothing more comes; keys that are dropped are
    /// answered with nothing, and that too has an end.
    fn answered(&self) -> bool {
        let (pressed, written_then) = self.pressed;
        let before = self.written_length();
        if before == written_then && pressed.elapsed() < Duration::from_secs(2) {
            return false;
        }
        std::thread::sleep(Duration::from_millis(20));
        self.written_length() == before
    }

    fn written_length(&self) -> usize {
        self.written.lock().expect("what was written").len()
    }

    /// Presses keys once the program waits for some: what is pressed before a question is shown is dropped.
    pub fn press(&mut self, keys: &str) {
        let started = Instant::now();
        while !self.waits() && started.elapsed() < Duration::from_secs(2) {
            std::thread::sleep(Duration::from_millis(5));
        }
        self.pressed = (Instant::now(), self.written_length());
        self.keys.write_all(keys.as_bytes()).expect("keys can be pressed");
        self.keys.flush().expect("keys can be pressed");
    }

    /// Whether a list is open, which hides the cursor, or a line is being typed.
    fn waits(&self) -> bool {
        let parser = self.screen.lock().expect("the screen");
        let screen = parser.screen().contents();
        let last = screen.lines().rfind(|line| !line.trim().is_empty());
        parser.screen().hide_cursor() || last.is_some_and(|line| format!("{line} ").contains(" > "))
    }

    /// Picks an entry of a list by its number, with Enter where the last number has two digits.
    pub fn pick(&mut self, number: usize, last: usize) {
        let enter = if last > 9 { "\r" } else { "" };
        self.press(&format!("{number}{enter}"));
    }

    /// Takes the first entry of a list, on purpose: an Enter that comes before any other key may be taken for one too many.
    pub fn take_first(&mut self) {
        self.press("\x1b[H");
        self.press("\r");
    }

    /// Stops, which is asked once more.
    pub fn stop(&mut self) {
        self.press("ss");
    }

    /// Reads what stands before the first question, leaves out where it is, and goes on.
    pub fn read_opening(&mut self) {
        self.wait_for("read; go on");
        self.press("\r");
        self.wait_for("place / unit / technician >");
        self.press("\r");
        self.wait_for("What is the complaint?");
    }

    /// Picks the complaint by its id.
    pub fn complain(&mut self, complaint: &str) {
        self.read_opening();
        let knowledge = lineside::knowledge::embedded().expect("it is sound");
        let complaints = knowledge.complaints();
        let place = complaints.iter().position(|(tree, _)| tree.id == complaint);
        self.pick(place.expect("it is listed") + 1, complaints.len());
        complaint.clone_into(&mut self.complaint);
    }

    /// Picks the equipment by its id, with nothing fitted besides and nothing known from the start.
    pub fn equip(&mut self, equipment: &str) {
        self.wait_for("What equipment is it?");
        let knowledge = lineside::knowledge::embedded().expect("it is sound");
        let kind = knowledge.equipment(equipment).expect("it is listed");
        // The list holds what the complaint can be told of.
        let mut walk = lineside::walk::Walk::new(&knowledge);
        let complaint = lineside::walk::Event::Complaint {
            complaint: self.complaint.clone(),
        };
        walk.apply(&complaint).expect("it is known");
        let offered = walk.equipment_offered();
        // A kind has its number whatever the complaint.
        let last = offered.last().expect("some can have it").0 + 1;
        self.pick(kind.place() + 1, last);
        if !knowledge.equipment[kind].accessories.is_empty() {
            self.wait_for("What else is fitted to it?");
            // The list shows one line more: that nothing is.
            self.pick(1, knowledge.equipment[kind].accessories.len() + 1);
        }
        self.wait_for("What is known of it?");
        self.take_first();
        self.wait_for("answer: Of these: none");
    }

    /// Waits until a prompt stands at the end of a screen other than this one, or the program has ended. A list drawn
    /// anew for another mark, some of its lines cleared and not yet written, is the same one.
    pub fn next_prompt(&mut self, before: &str) -> Option<String> {
        self.prompt_where(|screen| says_more(screen, before))
    }

    /// Waits until a prompt stands at the end of such a screen, or the program has ended.
    pub fn prompt_where(&mut self, fits: impl Fn(&str) -> bool) -> Option<String> {
        let started = Instant::now();
        loop {
            if self.child.try_wait().expect("it can be waited for").is_some() {
                return None;
            }
            let (screen, waits_for_key) = {
                let parser = self.screen.lock().expect("the screen");
                (parser.screen().contents(), parser.screen().hide_cursor())
            };
            if is_prompt(&screen, waits_for_key) && fits(&screen) {
                return Some(screen);
            }
            assert!(
                started.elapsed() < PATIENCE,
                "no prompt comes up; the screen shows:\n{screen}"
            );
            std::thread::sleep(Duration::from_millis(5));
        }
    }

    /// Waits for a screen like this and gives it back.
    pub fn shown_where(&self, fits: impl Fn(&str) -> bool) -> String {
        let started = Instant::now();
        loop {
            let screen = self.contents();
            if fits(&screen) {
                return screen;
            }
            assert!(
                started.elapsed() < PATIENCE,
                "no such screen comes up; it shows:\n{screen}"
            );
            std::thread::sleep(Duration::from_millis(10));
        }
    }

    /// Sends a signal such as `TERM`.
    pub fn signal(&mut self, name: &str) {
        let id = self.child.process_id().expect("it runs").to_string();
        let sent = std::process::Command::new("kill")
            .args([&format!("-{name}"), &id])
            .status();
        assert!(sent.expect("kill runs").success());
    }

    /// How the terminal treats what is typed: the four sets of its flags.
    pub fn modes(&self) -> String {
        let modes = self.master.get_termios().expect("a terminal has modes");
        format!(
            "{:?} {:?} {:?} {:?}",
            modes.input_flags, modes.output_flags, modes.control_flags, modes.local_flags
        )
    }

    pub fn cursor_is_hidden(&self) -> bool {
        self.screen.lock().expect("the screen").screen().hide_cursor()
    }

    /// Everything the program wrote, escape sequences and all.
    pub fn written(&self) -> String {
        String::from_utf8_lossy(&self.written.lock().expect("what was written")).into_owned()
    }

    /// Everything the ended program wrote, once all of it has come through.
    pub fn written_to_the_end(&mut self) -> String {
        let mut before = usize::MAX;
        loop {
            let written = self.written();
            if written.len() == before {
                return written;
            }
            before = written.len();
            std::thread::sleep(Duration::from_millis(100));
        }
    }

    /// Waits until the program has ended, whatever its exit code.
    pub fn ends_with_any(&mut self) {
        self.child.wait().expect("it ends");
    }

    /// Ends the program as a power cut would: it gets no chance to say or write anything.
    pub fn kill(&mut self) {
        let id = self.child.process_id().expect("it runs").to_string();
        let killed = std::process::Command::new("kill").args(["-KILL", &id]).status();
        assert!(killed.expect("kill runs").success());
        self.child.wait().expect("it ends");
    }

    /// Whether any cell on the screen is bold, dim or colored.
    pub fn has_attributes(&self) -> bool {
        let parser = self.screen.lock().expect("the screen");
        let screen = parser.screen();
        let (rows, columns) = screen.size();
        (0..rows.get())
            .flat_map(|row| (0..columns.get()).map(move |column| (row, column)))
            .any(|(row, column)| {
                screen
                    .cell(row, column)
                    .is_some_and(|cell| cell.bold() || cell.dim() || cell.fgcolor() != vt100::Color::Default)
            })
    }

    pub fn ends_with(&mut self, code: u32) {
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

fn size(rows: u16, cols: u16) -> PtySize {
    PtySize {
        rows,
        cols,
        pixel_width: 0,
        pixel_height: 0,
    }
}

/// Whether the last line of the screen is one where the program waits. A list hides the cursor when it is drawn; a
/// key pressed before that would be echoed into the list by the terminal.
fn is_prompt(screen: &str, waits_for_key: bool) -> bool {
    let last = screen
        .lines()
        .rfind(|line| !line.trim().is_empty())
        .unwrap_or("")
        .trim_end();
    let is_list = last.contains("stop and keep") || last.ends_with("1  go on");
    (is_list && waits_for_key) || last.ends_with("then Enter >")
}

/// Whether a screen has a line that does not stand on the one before, leaving aside which entry of a list is marked.
fn says_more(screen: &str, before: &str) -> bool {
    let unmarked = |line: &str| match line.strip_prefix('>') {
        Some(rest) => format!(" {rest}"),
        None => line.to_owned(),
    };
    let mut stood = before.lines().map(unmarked);
    screen
        .lines()
        .map(unmarked)
        .any(|line| Some(&line) != stood.next().as_ref() && !line.trim().is_empty())
}

/// A case file that does not exist yet.
pub fn case_file(home: &TempDir) -> String {
    home.path()
        .join("case.jsonl")
        .to_str()
        .expect("the path is text")
        .to_owned()
}
