//! The case file: what is kept, what is refused, and that a case continues wherever it was cut.

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};

use jiff::Timestamp;
use lineside::journal::{Case, Change, Header, Journal, JournalError, Record, SCHEMA, read};
use lineside::knowledge::{self, model::Knowledge};
use lineside::quantity::Word;
use lineside::walk::{Event, Question, Reply, Walk};
use proptest::prelude::*;
use std::sync::LazyLock;
use tempfile::TempDir;

static KNOWLEDGE: LazyLock<Knowledge> =
    LazyLock::new(|| knowledge::embedded().expect("the knowledge compiled in is sound"));

fn now() -> Timestamp {
    "2026-02-03T04:05:06Z".parse().expect("a valid time")
}

fn folder() -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let path = folder.path().join("cases").join("one.jsonl");
    (folder, path)
}

/// A short case with a correction, a step back, a note and a stop.
fn events() -> Vec<Event> {
    let replies = [
        Reply::Answer("breaker-opens".to_owned()),
        Reply::Answer("split-air-conditioner".to_owned()),
        Reply::Answer("none".to_owned()),
        Reply::Note("attic at \u{2265} 50 \u{b0}C, \"hot\"\nsecond line".to_owned()),
        Reply::Volunteer {
            test: "when-does-it-happen".to_owned(),
            answer: Some("after-minutes".to_owned()),
        },
        Reply::Back(1),
        Reply::Correct {
            fact: "nameplate-voltage".to_owned(),
            value: Some("230".to_owned()),
        },
        Reply::Correct {
            fact: "nameplate-voltage".to_owned(),
            value: Some("208 V".to_owned()),
        },
        Reply::Stop,
    ];
    let mut walk = Walk::new(&KNOWLEDGE);
    replies
        .iter()
        .map(|reply| {
            let taken = walk.receive(reply).expect("the reply fits");
            walk.apply(&taken.event).expect("known ids");
            taken.event
        })
        .collect()
}

fn written() -> (TempDir, PathBuf, Vec<Event>) {
    let (folder, path) = folder();
    let mut journal =
        Journal::create(&path, &KNOWLEDGE.fingerprint, "an-id", now()).expect("it can be created");
    let events = events();
    for event in &events {
        journal.append(event, now()).expect("it can be written");
    }
    (folder, path, events)
}

fn walked(events: &[Event]) -> Walk<'static> {
    let mut walk = Walk::new(&KNOWLEDGE);
    for event in events {
        walk.apply(event).expect("known ids");
    }
    walk
}

#[test]
fn what_is_written_is_read_back() {
    let (_folder, path, events) = written();
    let (_, case) = Journal::open(&path).expect("it can be opened");
    let back: Vec<Event> = case.records.into_iter().map(|record| record.event).collect();
    assert_eq!(back, events);
    assert_eq!(case.header.opened, now());
    assert_eq!(case.torn, 0);
    let text = fs::read_to_string(&path).expect("it is text");
    assert!(text.starts_with("{\"lineside-case\":2,"), "{text}");
    assert!(text.contains("\"at\":\"2026-02-03T04:05:06Z\""), "{text}");
    assert_eq!(text.lines().count(), events.len() + 1);
}

#[test]
fn cut_at_every_byte_it_keeps_every_whole_line_and_goes_on() {
    let (_folder, path, events) = written();
    let bytes = fs::read(&path).expect("it can be read");
    let header = bytes.iter().position(|byte| *byte == b'\n').expect("a header") + 1;
    for cut in 0..=bytes.len() {
        let (_other, path) = folder();
        fs::create_dir_all(path.parent().expect("a folder")).expect("it can be made");
        fs::write(&path, &bytes[..cut]).expect("it can be written");
        if cut < header {
            assert!(
                matches!(Journal::open(&path), Err(JournalError::NoHeader { .. })),
                "cut at {cut}"
            );
            continue;
        }
        let whole = bytes[header..cut].iter().filter(|byte| **byte == b'\n').count();
        let (mut journal, case) = Journal::open(&path).expect("a cut case can be continued");
        let kept: Vec<Event> = case.records.into_iter().map(|record| record.event).collect();
        assert_eq!(kept, events[..whole], "cut at {cut}");
        assert_eq!(walked(&kept).question(), walked(&events[..whole]).question());
        // What comes next starts on a clean line.
        journal.append(&Event::Stopped, now()).expect("it can be written");
        drop(journal);
        let again = read(&fs::read(&path).expect("it can be read"), &path).expect("it is whole");
        assert_eq!(again.records.len(), whole + 1);
        assert_eq!(again.torn, 0);
    }
}

#[test]
fn continued_at_every_line_the_walk_is_the_uninterrupted_one() {
    let (_folder, path, events) = written();
    let bytes = fs::read(&path).expect("it can be read");
    let ends: Vec<usize> = bytes
        .iter()
        .enumerate()
        .filter(|(_, byte)| **byte == b'\n')
        .map(|(place, _)| place + 1)
        .collect();
    for (number, end) in ends.iter().enumerate() {
        let case = read(&bytes[..*end], &path).expect("it is whole");
        let kept: Vec<Event> = case.records.into_iter().map(|record| record.event).collect();
        let mut continued = walked(&kept);
        for event in &events[number..] {
            continued.apply(event).expect("known ids");
        }
        let straight = walked(&events);
        assert_eq!(continued.question(), straight.question());
        assert_eq!(continued.standing(), straight.standing());
        assert_eq!(continued.entries(), straight.entries());
        assert_eq!(continued.notes(), straight.notes());
    }
}

fn opened(text: &[u8]) -> JournalError {
    let (_folder, path) = folder();
    fs::create_dir_all(path.parent().expect("a folder")).expect("it can be made");
    fs::write(&path, text).expect("it can be written");
    Journal::open(&path).expect_err("it must be refused")
}

#[test]
fn other_files_are_refused_and_left_alone() {
    for text in [
        &b"hello"[..],
        b"hello\n",
        b"{}\n",
        b"{\"lineside-case\":\"one\"}\n",
        b"\xff\xfe\n",
        b"complaint = 1\n",
    ] {
        assert!(matches!(opened(text), JournalError::NotACase { .. }), "{text:?}");
    }
    let newer = opened(b"{\"lineside-case\":999,\"something\":\"else\"}\n");
    assert!(matches!(newer, JournalError::Newer { found: 999, .. }));
    assert!(newer.to_string().contains("999") && newer.fix().contains("newer program"));
}

#[test]
fn damage_in_the_middle_is_refused_with_its_line() {
    let (_folder, path, _) = written();
    let text = fs::read_to_string(&path).expect("it is text");
    let damaged = text.replacen("split-air-conditioner\"", "split-air-", 1);
    match opened(damaged.as_bytes()) {
        JournalError::Damaged { line, .. } => assert_eq!(line, 3),
        other => panic!("{other}"),
    }
}

#[test]
fn a_case_is_open_in_one_process_only() {
    let (_folder, path, _) = written();
    let (_journal, _) = Journal::open(&path).expect("it can be opened");
    let error = Journal::open(&path).expect_err("it is in use");
    assert!(matches!(error, JournalError::InUse { .. }), "{error}");
}

#[test]
fn a_case_is_never_overwritten() {
    let (_folder, path, _) = written();
    let before = fs::read(&path).expect("it can be read");
    assert!(Journal::create(&path, "x", "an-id", now()).is_err());
    assert_eq!(fs::read(&path).expect("it can be read"), before);
}

#[test]
fn a_folder_that_cannot_be_made_is_named() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let file = folder.path().join("file");
    fs::write(&file, "").expect("it can be written");
    let error =
        Journal::create(&file.join("case.jsonl"), "x", "an-id", now()).expect_err("a file is no folder");
    assert!(error.to_string().contains("case.jsonl"), "{error}");
}

/// What somebody else does to the open file, and what it is called.
type Harm = (Change, fn(&Path));

const HARMS: [Harm; 5] = [
    (Change::Gone, |path| fs::remove_file(path).expect("deleted")),
    (Change::Gone, |path| {
        fs::remove_dir_all(path.parent().expect("a folder")).expect("deleted");
    }),
    (Change::Altered, |path| {
        let file = fs::File::options().write(true).open(path).expect("opened");
        file.set_len(0).expect("cut");
    }),
    (Change::Altered, |path| {
        let mut file = fs::File::options().append(true).open(path).expect("opened");
        file.write_all(b"more").expect("written");
    }),
    #[cfg(unix)]
    (Change::Replaced, |path| {
        let other = path.with_extension("other");
        fs::copy(path, &other).expect("copied");
        fs::rename(other, path).expect("replaced");
    }),
];

#[test]
fn a_file_lost_while_it_is_open_is_written_anew_beside_its_old_place() {
    for (number, (change, harm)) in HARMS.iter().enumerate() {
        for early in [true, false] {
            let (_folder, path) = folder();
            let mut journal =
                Journal::create(&path, &KNOWLEDGE.fingerprint, "an-id", now()).expect("it can be created");
            let events = events();
            for (place, event) in events.iter().enumerate() {
                if place == 3 && early {
                    harm(&path);
                }
                journal.append(event, now()).expect("it is kept");
            }
            if !early {
                harm(&path);
                journal.secure().expect("it is kept");
            }
            let moved = journal.take_moved();
            assert_eq!(moved.len(), 1, "harm {number}");
            assert_eq!(
                (&moved[0].from, moved[0].change),
                (&path, *change),
                "harm {number}"
            );
            assert_eq!(journal.path(), path.with_file_name("one-2.jsonl"));
            assert_eq!(journal.take_moved(), [], "it is told once");
            let beside = journal.path().to_owned();
            assert!(
                matches!(Journal::open(&beside), Err(JournalError::InUse { .. })),
                "the new file is locked"
            );
            drop(journal);
            let (_, case) = Journal::open(&beside).expect("it is whole");
            let kept: Vec<Event> = case.records.into_iter().map(|record| record.event).collect();
            assert_eq!(kept, events, "harm {number}");
        }
    }
}

#[test]
fn nothing_is_called_kept_when_the_case_cannot_be_written_anew() {
    let (folder, path) = folder();
    let mut journal = Journal::create(&path, "x", "an-id", now()).expect("it can be created");
    let cases = folder.path().join("cases");
    fs::remove_dir_all(&cases).expect("deleted");
    fs::write(&cases, "no folder").expect("written");
    for failed in [journal.append(&Event::Stopped, now()), journal.secure()] {
        let error = failed.expect_err("there is no place for it");
        assert!(
            matches!(
                error,
                JournalError::Lost {
                    change: Change::Gone,
                    ..
                }
            ),
            "{error}"
        );
        assert!(error.to_string().contains("none of the answers"), "{error}");
    }
    // With the folder back, it is all there again.
    fs::remove_file(&cases).expect("deleted");
    journal.append(&Event::Stopped, now()).expect("it is kept");
    let kept = read(&fs::read(journal.path()).expect("there"), &path).expect("it is whole");
    assert_eq!(kept.records.len(), 1);
}

#[test]
fn a_case_too_large_to_be_read_again_is_not_written() {
    let (_folder, path) = folder();
    let mut journal = Journal::create(&path, "x", "an-id", now()).expect("it can be created");
    let text = "x".repeat(3 << 20);
    let note = Event::Note { text };
    let kept = (0..9)
        .take_while(|_| journal.append(&note, now()).is_ok())
        .count();
    assert_eq!(kept, 5);
    let error = journal.append(&note, now()).expect_err("it is full");
    assert!(error.to_string().contains("16777216 bytes"), "{error}");
    drop(journal);
    assert_eq!(Journal::open(&path).expect("it can be read").1.records.len(), 5);
}

/// A case of these events, as if read from a file.
fn case(events: &[Event]) -> Case {
    Case {
        header: Header {
            schema: SCHEMA,
            program: "0".to_owned(),
            knowledge: "x".to_owned(),
            id: None,
            opened: now(),
            anonymous: false,
            invented: false,
            mended: None,
        },
        links: vec![],
        records: events
            .iter()
            .map(|event| Record {
                at: now(),
                event: event.clone(),
            })
            .collect(),
        whole: 0,
        torn: 0,
    }
}

fn assert_same(one: &Walk<'_>, other: &Walk<'_>) {
    assert_eq!(one.question(), other.question());
    assert_eq!(one.standing(), other.standing());
    assert_eq!(one.entries(), other.entries());
    assert_eq!(one.notes(), other.notes());
    assert_eq!(one.state(), other.state());
    assert_eq!(
        (one.is_stopped(), one.is_finished(), one.closing()),
        (other.is_stopped(), other.is_finished(), other.closing())
    );
}

#[test]
fn an_answer_the_knowledge_has_lost_is_said_and_its_taking_back_takes_no_other() {
    let events = events();
    let lost = Event::Answer {
        test: "a-test-of-an-earlier-year".to_owned(),
        given: lineside::walk::Given::CouldNotCheck,
        volunteered: false,
        typed: "could not check".to_owned(),
    };
    let straight = walked(&events[..3]);
    let mut with_lost = events[..3].to_vec();
    with_lost.push(lost.clone());
    let mut walk = Walk::new(&KNOWLEDGE);
    let unknown = case(&with_lost).replay(&mut walk);
    assert_eq!(unknown.len(), 1);
    assert_eq!(unknown[0].id, "a-test-of-an-earlier-year");
    assert_same(&walk, &straight);

    with_lost.push(Event::Undone { steps: 1 });
    let mut walk = Walk::new(&KNOWLEDGE);
    assert!(case(&with_lost).replay(&mut walk).is_empty());
    assert_same(&walk, &straight);
}

/// A file that somebody has altered can name any number. It takes back what there is, in a time that does not hang on
/// the number.
#[test]
fn more_steps_taken_back_than_there_are_take_all_of_them() {
    let events = events();
    let mut altered = events[..5].to_vec();
    altered.push(Event::Undone { steps: usize::MAX });
    let mut walk = Walk::new(&KNOWLEDGE);
    assert!(case(&altered).replay(&mut walk).is_empty());
    assert_eq!(walk.entries(), []);
    assert_eq!(walk.question(), &Question::Complaint);
    assert_eq!(walk.notes().len(), 1, "a note is no step and stays");
    assert_same(&walk, &walked(&altered));
}

/// Event `number` of a person who answers, takes back, notes, closes and stops by these numbers.
fn next_event(walk: &Walk<'_>, number: usize) -> Event {
    let knowledge = walk.knowledge();
    if number.is_multiple_of(17) {
        return Event::Closed {
            cause: None,
            not_listed: None,
            proved: false,
            text: format!("what was done, {number}"),
            standing: Vec::new(),
        };
    }
    let answers: Vec<String> = match walk.question() {
        Question::Complaint => vec!["breaker-opens".to_owned(), "part-burnt".to_owned()],
        Question::Equipment => knowledge.equipment.iter().map(|kind| kind.id.clone()).collect(),
        Question::Accessories => vec!["none".to_owned(), "condensate-pump".to_owned()],
        Question::Offer { tests, .. } => tests
            .iter()
            .map(|test| knowledge.tests[*test].id.clone())
            .chain(["none".to_owned()])
            .collect(),
        Question::Able { among } => among.iter().map(|ability| ability.word().to_owned()).collect(),
        Question::Test { test, .. } => {
            let test = &knowledge.tests[*test];
            test.outcomes.iter().map(|outcome| outcome.id.clone()).collect()
        }
        Question::Fact { fact, .. } => {
            let fact = &knowledge.facts[*fact];
            fact.choices.iter().map(|choice| choice.id.clone()).collect()
        }
        _ => Vec::new(),
    };
    let answer = (!answers.is_empty()).then(|| Reply::Answer(answers[number % answers.len()].clone()));
    [
        number.is_multiple_of(7).then_some(Reply::Back(1 + number % 3)),
        number
            .is_multiple_of(11)
            .then(|| Reply::Note(format!("remark {number}"))),
        number.is_multiple_of(13).then_some(Reply::Stop),
        answer,
        Some(Reply::Accept),
        Some(Reply::CouldNotCheck),
        Some(Reply::Stop),
    ]
    .into_iter()
    .flatten()
    .find_map(|reply| walk.receive(&reply).ok())
    .expect("stopping is always taken")
    .event
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// Kill and continue at every event of walks of any course.
    #[test]
    fn replayed_at_every_event_it_is_the_uninterrupted_walk(numbers in prop::collection::vec(0usize..1000, 1..40)) {
        let mut straight = Walk::new(&KNOWLEDGE);
        let mut events = Vec::new();
        for number in numbers {
            let event = next_event(&straight, number);
            straight.apply(&event).expect("known ids");
            events.push(event);
            let mut continued = Walk::new(&KNOWLEDGE);
            prop_assert!(case(&events).replay(&mut continued).is_empty());
            assert_same(&continued, &straight);
        }
    }
}

proptest! {
    #[test]
    fn an_event_and_its_line_are_the_same(text in any::<String>(), steps in 0usize..1000, number in any::<f64>()) {
        for event in [
            Event::Note { text: text.clone() },
            Event::Undone { steps },
            Event::Complaint { complaint: text.clone() },
            Event::Standing {
                leaders: vec![],
                remainder: if number.is_finite() { number } else { 0.5 },
            },
        ] {
            let line = serde_json::to_string(&event).expect("it can be written");
            prop_assert!(!line.contains('\n'));
            prop_assert_eq!(serde_json::from_str::<Event>(&line).expect("it can be read"), event);
        }
    }
}
