//! No room for the case: every answer confirmed on the screen is in it, the error is said, and the case goes on.
//!
//! The system refuses to let a file grow beyond a limit of the process, at any byte of a line, as a full disk does; the
//! shell sets the limit and turns off the signal that would come before it.

#![cfg(unix)]

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

use lineside::journal::sound_file;
use lineside::walk::Event;

use crate::support::kept::{confirmed, kept};

/// Answers, remarks and a step back; in the end a stop.
const LINES: &str =
    "1\\n1\\nn\\nremark\\n1\\n7\\nx\\nx\\nb\\nx\\nx\\n1\\n1\\nn\\nanother\\n2\\nx\\n1\\n1\\n1\\n2\\ns\\n";

/// Runs the program where no file may have more than so many blocks of 512 bytes.
fn run(home: &Path, blocks: Option<u32>, lines: &str) -> Output {
    let limit = blocks.map_or_else(String::new, |blocks| {
        format!("trap '' XFSZ && ulimit -f {blocks} && ")
    });
    // Through a pipe: the limit holds for the screen too where that is a file.
    Command::new("sh")
        .arg("-c")
        .arg(format!("{limit}printf '{lines}' | \"$0\" --case case.jsonl"))
        .arg(env!("CARGO_BIN_EXE_lineside"))
        .env_clear()
        .env("PATH", "/usr/bin:/bin")
        .env("HOME", home)
        .current_dir(home)
        .output()
        .expect("the shell starts")
}

#[test]
fn without_room_nothing_confirmed_is_lost_the_error_is_said_and_the_case_goes_on() {
    let whole = tempfile::tempdir().expect("a temporary folder");
    assert!(run(whole.path(), None, LINES).status.success());
    let bytes = fs::metadata(whole.path().join("case.jsonl"))
        .expect("a case")
        .len();
    let all = u32::try_from(bytes.div_ceil(512)).expect("a small case");
    let mut refused = 0;
    for blocks in 0..=all {
        let home = tempfile::tempdir().expect("a temporary folder");
        let path = home.path().join("case.jsonl");
        let output = run(home.path(), Some(blocks), LINES);
        let screen = String::from_utf8_lossy(&output.stderr);
        let confirmed = confirmed(&screen);
        let before: Vec<Event> = sound_file(&path)
            .map(|sound| {
                sound
                    .case
                    .records
                    .into_iter()
                    .map(|record| record.event)
                    .collect()
            })
            .unwrap_or_default();
        assert!(
            kept(&before).starts_with(&confirmed),
            "{blocks} blocks: {confirmed:?} on the screen, {:?} in the file",
            kept(&before)
        );
        if !output.status.success() {
            refused += 1;
            assert!(screen.contains("error: cannot "), "{blocks} blocks: {screen}");
            assert!(screen.contains("case.jsonl"), "{blocks} blocks: {screen}");
            assert!(screen.contains("hint: "), "{blocks} blocks: {screen}");
        }
        // With room again it goes on where it stood.
        let output = run(home.path(), None, "s\\n");
        let screen = String::from_utf8_lossy(&output.stderr);
        assert!(output.status.success(), "{blocks} blocks: {screen}");
        assert!(
            screen.contains("everything answered is kept"),
            "{blocks} blocks: {screen}"
        );
        let after = sound_file(&path).expect("it goes on").case.records;
        let after: Vec<Event> = after.into_iter().map(|record| record.event).collect();
        assert!(after.starts_with(&before), "{blocks} blocks");
        assert_eq!(after.last(), Some(&Event::Stopped), "{blocks} blocks");
    }
    assert!(refused > 5, "{refused} of {all} blocks");
}
