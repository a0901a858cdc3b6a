//! Kill -9 at any moment: every answer confirmed on the screen is in the case, and the case goes on.
//!
//! `LINESIDE_KILLS=1000 cargo test --test all killed:: -- --nocapture` kills a thousand cases, twice each, and prints figures.

#![expect(clippy::print_stdout, reason = "figures are for whoever asks for them")]
#![cfg(unix)]

use std::fs::{self, File};
use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use lineside::journal::{JournalError, sound_file};
use lineside::walk::Event;

use crate::support::kept::{confirmed, kept};

/// Cases without `LINESIDE_KILLS`.
const FEW: usize = 12;

/// Lines typed in one run; it ends with a stop, should nobody kill it before.
fn typed(chance: &mut fastrand::Rng, remarks: &mut usize) -> String {
    let mut lines = String::new();
    for _ in 0..chance.usize(5..40) {
        match chance.u8(0..20) {
            0..=3 => {
                lines.push_str(&format!("n\nremark {remarks}\n"));
                *remarks += 1;
            }
            4 => lines.push_str("b\n"),
            5..=8 => lines.push_str("x\n"),
            digit => lines.push_str(&format!("{}\n", digit % 3 + 1)),
        }
    }
    lines + "s\n"
}

/// Starts the program on the case, types the lines, kills it after a while; gives back what stood on the screen and
/// whether it was still running.
fn run(home: &Path, lines: &str, kill_after: Option<Duration>) -> (String, bool) {
    let screen = home.join("screen");
    let mut child = Command::new(env!("CARGO_BIN_EXE_lineside"))
        .args(["--case", "case.jsonl"])
        .env_clear()
        .env("HOME", home)
        .current_dir(home)
        .stdin(Stdio::piped())
        .stdout(Stdio::null())
        .stderr(File::create(&screen).expect("a file for the screen"))
        .spawn()
        .expect("the program starts");
    let mut input = child.stdin.take().expect("its input");
    // All fits the pipe; the program may have ended before it is written.
    let _ = input.write_all(lines.as_bytes());
    drop(input);
    let mut running = false;
    if let Some(after) = kill_after {
        std::thread::sleep(after);
        running = child.try_wait().expect("it can be asked").is_none();
        // SIGKILL, which nothing can catch.
        let _ = child.kill();
    }
    child.wait().expect("it ends");
    (fs::read_to_string(screen).expect("the screen"), running)
}

/// The events of the case; nothing when it broke off in its first line or was not even made.
fn events(path: &Path) -> Option<(Vec<Event>, u64)> {
    match sound_file(path) {
        Ok(sound) => {
            assert!(sound.damage.is_none(), "{:?}", sound.damage);
            let events = sound.case.records.into_iter().map(|record| record.event);
            Some((events.collect(), sound.case.torn))
        }
        Err(JournalError::NoHeader { .. }) => None,
        Err(JournalError::Read(_)) if !path.exists() => None,
        Err(error) => panic!("{error}"),
    }
}

#[derive(Debug, Default)]
struct Figures {
    kills_while_running: usize,
    ended_before: usize,
    before_the_first_line: usize,
    torn_lines: usize,
    answers_confirmed: usize,
    kept_and_not_yet_confirmed: usize,
}

#[test]
fn killed_at_any_moment_nothing_confirmed_is_lost_and_the_case_goes_on() {
    let cases = std::env::var("LINESIDE_KILLS")
        .ok()
        .and_then(|number| number.parse().ok())
        .unwrap_or(FEW);
    let seed = std::env::var("LINESIDE_SEED")
        .ok()
        .and_then(|number| number.parse().ok())
        .unwrap_or(12);
    let mut chance = fastrand::Rng::with_seed(seed);
    let home = tempfile::tempdir().expect("a temporary folder");
    // How long a whole run takes here and now, so that kills fall everywhere in it.
    let started = Instant::now();
    run(home.path(), &("1\n".repeat(20) + "s\n"), None);
    let whole = started.elapsed();
    let mut figures = Figures::default();
    for case in 0..cases {
        let home = tempfile::tempdir().expect("a temporary folder");
        let path = home.path().join("case.jsonl");
        let mut remarks = 0;
        let mut before: Vec<Event> = Vec::new();
        for _ in 0..2 {
            let lines = typed(&mut chance, &mut remarks);
            let after = whole.mul_f64(chance.f64() * 1.2);
            let (screen, running) = run(home.path(), &lines, Some(after));
            if running {
                figures.kills_while_running += 1;
            } else {
                figures.ended_before += 1;
            }
            let confirmed = confirmed(&screen);
            let Some((events, torn)) = events(&path) else {
                assert!(confirmed.is_empty() && before.is_empty(), "case {case}: {screen}");
                figures.before_the_first_line += 1;
                continue;
            };
            assert_eq!(
                events[..before.len()],
                before[..],
                "case {case}: earlier lines are gone"
            );
            let kept = kept(&events[before.len()..]);
            assert!(
                kept.len() >= confirmed.len() && kept[..confirmed.len()] == confirmed[..],
                "case {case}: {confirmed:?} on the screen, {kept:?} in the file:\n{screen}"
            );
            assert!(
                kept.len() <= confirmed.len() + 1,
                "case {case}: one answer at a time, yet {confirmed:?} and {kept:?}"
            );
            figures.torn_lines += usize::from(torn > 0);
            figures.answers_confirmed += confirmed.len();
            figures.kept_and_not_yet_confirmed += kept.len() - confirmed.len();
            before = events;
        }
        let (screen, _) = run(home.path(), "s\n", None);
        assert!(
            screen.contains("everything answered is kept"),
            "case {case}: {screen}"
        );
        assert!(
            screen.contains("Going on with the case") || before.is_empty(),
            "case {case}: {screen}"
        );
        let (events, torn) = events(&path).expect("it goes on");
        assert_eq!(torn, 0, "case {case}");
        assert_eq!(events[..before.len()], before[..], "case {case}");
        assert_eq!(events.last(), Some(&Event::Stopped), "case {case}");
    }
    println!("{cases} cases, a whole run takes {whole:?}: {figures:?}");
    assert!(
        figures.answers_confirmed > 0 && figures.kills_while_running > 0,
        "{figures:?}"
    );
}
