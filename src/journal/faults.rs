//! Tests: every call to the disk fails once, and what was called kept is kept all the same.

use std::path::Path;

use jiff::Timestamp;

use crate::walk::Event;

use super::disk::fault;
use super::{Journal, JournalError, read};

fn now() -> Timestamp {
    "2026-02-03T04:05:06Z".parse().expect("a valid time")
}

/// A case of some lines into a file, up to the first that cannot be kept; gives back those that were called kept.
fn written(path: &Path) -> (Vec<Event>, Option<JournalError>) {
    let mut kept = Vec::new();
    let mut journal = match Journal::create(path, "x", "an-id", now()) {
        Ok(journal) => journal,
        Err(error) => return (kept, Some(error)),
    };
    for number in 0..8 {
        let event = Event::Note {
            text: format!("remark {number}"),
        };
        if let Err(error) = journal.append(&event, now()) {
            return (kept, Some(error));
        }
        kept.push(event);
    }
    (kept, None)
}

fn assert_kept(path: &Path, kept: &[Event], call: usize) {
    let (mut journal, case) = match Journal::open(path) {
        Ok(opened) => opened,
        // Nothing was ever called kept, and the file is begun anew.
        Err(JournalError::NoHeader { .. } | JournalError::Read(_)) if kept.is_empty() => return,
        Err(error) => panic!("call {call}: {error}"),
    };
    let there: Vec<Event> = case.records.into_iter().map(|record| record.event).collect();
    assert!(
        there.len() <= kept.len() + 1,
        "call {call}: more than one line too many"
    );
    assert_eq!(there[..kept.len()], *kept, "call {call}");
    journal.append(&Event::Stopped, now()).expect("it goes on");
    drop(journal);
    let bytes = std::fs::read(path).expect("it can be read");
    assert_eq!(
        read(&bytes, path).expect("it is whole").records.len(),
        there.len() + 1,
        "call {call}"
    );
}

#[test]
fn whatever_call_to_the_disk_fails_what_was_called_kept_is_there_and_the_case_goes_on() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let path = |name: String| folder.path().join(name).join("case.jsonl");
    fault::at(0..0);
    let (whole, error) = written(&path("whole".to_owned()));
    let calls = fault::end();
    assert!(error.is_none(), "{error:?}");
    assert!(
        calls > 2 * whole.len(),
        "a write and a sync for each of {}",
        whole.len()
    );
    // Once, and from then on: a disk that stays full also fails when the half line is cut off.
    for lasting in [false, true] {
        for call in 0..calls {
            let path = path(format!("{call}-{lasting}"));
            fault::at(call..if lasting { usize::MAX } else { call + 1 });
            let (kept, error) = written(&path);
            fault::end();
            assert!(
                error.is_some(),
                "call {call} of {calls} failed, and nothing was said"
            );
            assert_eq!(kept, whole[..kept.len()]);
            assert_kept(&path, &kept, call);
        }
    }
}
