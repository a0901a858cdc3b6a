//! The chain of a case file: whatever is done to a closed case is noticed, at every place; what is only known to a later
//! reader is said; copies and the JSON Schema hold what they promise.
//!
//! `LINESIDE_EDITS=all cargo test --test all record::` edits every byte of a case of some fifty lines in place of a short one.

#![expect(clippy::print_stdout, reason = "figures are for whoever asks for them")]

use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use std::sync::LazyLock;

use jiff::Timestamp;
use lineside::journal::check::{compare, remarks};
use lineside::journal::life::{Life, Stage};
use lineside::journal::{
    self, Case, Found, Header, Journal, JournalError, Record, SCHEMA, anonymous, chained, find_head, mended,
    read,
};
use lineside::knowledge::{self, model::Knowledge};
use lineside::quantity::{Load, Value};
use lineside::walk::{self, Ability, AnswerFile, Event, Given, Proof, Stood, Walk};

static KNOWLEDGE: LazyLock<Knowledge> =
    LazyLock::new(|| knowledge::embedded().expect("the knowledge compiled in is sound"));

fn now() -> Timestamp {
    "2026-02-03T04:05:06Z".parse().expect("a valid time")
}

fn later(seconds: i64) -> Timestamp {
    Timestamp::from_second(now().as_second() + seconds).expect("a valid time")
}

fn name() -> &'static Path {
    Path::new("case.jsonl")
}

fn header() -> Header {
    Header {
        schema: SCHEMA,
        program: env!("CARGO_PKG_VERSION").to_owned(),
        knowledge: KNOWLEDGE.fingerprint.clone(),
        id: Some("0123456789abcdef".to_owned()),
        opened: now(),
        anonymous: false,
        invented: false,
        mended: None,
    }
}

fn visit(technician: &str) -> Event {
    Event::Visit {
        technician: Some(technician.to_owned()),
        program: env!("CARGO_PKG_VERSION").to_owned(),
        knowledge: KNOWLEDGE.fingerprint.clone(),
        learned: None,
    }
}

fn closed(cause: Option<&str>) -> Event {
    Event::Closed {
        cause: cause.map(str::to_owned),
        not_listed: None,
        proved: true,
        text: "invented: 9.8 A at the breaker".to_owned(),
        standing: Vec::new(),
    }
}

/// What a walk answered from a text comes to, with its derived lines.
fn walked(answers: &str) -> Vec<Event> {
    let mut answers = AnswerFile::parse(answers, &KNOWLEDGE).expect("sound answers");
    let mut walk = Walk::new(&KNOWLEDGE);
    let mut events = Vec::new();
    walk::drive(&mut walk, &mut answers, &mut |event: &Event| {
        events.push(event.clone());
        Ok::<(), JournalError>(())
    })
    .expect("it comes to its end");
    events
}

fn records(events: Vec<Event>) -> Vec<Record> {
    let at = |number: usize| later(i64::try_from(number).expect("few"));
    events
        .into_iter()
        .enumerate()
        .map(|(number, event)| Record {
            at: at(number),
            event,
        })
        .collect()
}

/// A closed case of ten lines.
fn short_case() -> Vec<u8> {
    let events = vec![
        visit("J. R."),
        Event::Site {
            place: Some("invented place \u{e9}".to_owned()),
            unit: Some("2".to_owned()),
        },
        Event::Complaint {
            complaint: "breaker-opens".to_owned(),
        },
        Event::Equipment {
            equipment: "room-unit".to_owned(),
        },
        Event::Note {
            text: "invented".to_owned(),
        },
        Event::Note {
            text: "invented".to_owned(),
        },
        Event::Repaired {
            text: "invented: a circuit of its own".to_owned(),
            by: None,
        },
        Event::Proved {
            by: Proof::Recheck {
                reading: "9.8 A".to_owned(),
            },
        },
        closed(Some("shared-circuit-overload")),
    ];
    chained(&header(), &records(events)).expect("it can be written")
}

/// A closed case walked from an example.
fn long_case() -> Vec<u8> {
    let mut events = vec![visit("J. R.")];
    events.extend(walked(include_str!("../examples/freezer-on-the-circuit.toml")));
    events.push(closed(Some("shared-circuit-overload")));
    chained(&header(), &records(events)).expect("it can be written")
}

fn case_for_edits() -> Vec<u8> {
    if std::env::var_os("LINESIDE_EDITS").is_some() {
        long_case()
    } else {
        short_case()
    }
}

fn lines(bytes: &[u8]) -> Vec<&[u8]> {
    bytes.split_inclusive(|byte| *byte == b'\n').collect()
}

/// How a reader who does not know the head notices a change; nothing when he does not.
fn noticed(bytes: &[u8]) -> Option<&'static str> {
    match read(bytes, name()) {
        Err(_) => Some("refused, with its line"),
        Ok(case) if case.torn > 0 => Some("its last line breaks off"),
        Ok(case) if !case.is_closed() => Some("it is no longer closed"),
        Ok(_) => None,
    }
}

#[test]
fn every_edit_of_a_byte_is_noticed() {
    let sound = case_for_edits();
    assert_eq!(noticed(&sound), None);
    let mut tried = 0;
    for place in 0..sound.len() {
        let old = sound[place];
        // The next byte, a bit flipped that makes another letter of the same kind, a line feed, a digit of a hash.
        for new in [old.wrapping_add(1), old ^ 0x20, b'\n', b'1'] {
            if new == old {
                continue;
            }
            let mut edited = sound.clone();
            edited[place] = new;
            assert!(noticed(&edited).is_some(), "byte {place}: {old} to {new}");
            tried += 1;
        }
        let mut shorter = sound.clone();
        shorter.remove(place);
        assert!(noticed(&shorter).is_some(), "byte {place} left out");
        let mut longer = sound.clone();
        longer.insert(place, b' ');
        assert!(noticed(&longer).is_some(), "a space put in at {place}");
        tried += 2;
    }
    println!("{tried} edits of {} bytes", sound.len());
}

#[test]
fn every_dropped_doubled_swapped_or_inserted_line_is_noticed() {
    let sound = case_for_edits();
    let all = lines(&sound);
    let last = all.len() - 1;
    let mut tried = 0;
    let mut check = |changed: &[&[u8]], what: String| {
        assert!(noticed(&changed.concat()).is_some(), "{what}");
        tried += 1;
    };
    for one in 0..all.len() {
        let mut dropped = all.clone();
        dropped.remove(one);
        check(&dropped, format!("line {one} dropped"));
        let mut doubled = all.clone();
        doubled.insert(one, all[one]);
        check(&doubled, format!("line {one} doubled"));
        for other in one + 1..all.len() {
            let mut swapped = all.clone();
            swapped.swap(one, other);
            check(&swapped, format!("lines {one} and {other} swapped"));
        }
        for place in 0..=all.len() {
            let mut inserted = all.clone();
            inserted.insert(place, all[one]);
            // The same file once more is no change.
            if inserted.concat() != sound {
                check(&inserted, format!("line {one} inserted at {place}"));
            }
        }
        let mut without_link = all.clone();
        let text = String::from_utf8(all[one].to_vec()).expect("text");
        let (object, _) = text.split_once(",\"chain\"").expect("a link");
        let bare = format!("{object}}}\n");
        without_link[one] = bare.as_bytes();
        check(&without_link, format!("the link of line {one} taken away"));
    }
    // Only lines cut off at the end leave a case that is whole, and that is open.
    for cut in 1..=last {
        let case = read(&all[..cut].concat(), name()).expect("it is whole");
        assert!(!case.is_closed(), "cut after line {cut}");
    }
    println!("{tried} changes of {} lines", all.len());
}

#[test]
fn the_printed_head_tells_whatever_was_cut_off_or_made_anew() {
    let sound = short_case();
    let case = read(&sound, name()).expect("it is whole");
    let printed = case.head().expect("a head").printed();
    assert_eq!(find_head(&case.links, &printed), Found::Head);
    let all = lines(&sound);
    for cut in 1..all.len() {
        let cut = read(&all[..cut].concat(), name()).expect("it is whole");
        assert_eq!(find_head(&cut.links, &printed), Found::Nowhere);
    }
    // Somebody who knows how can chain a changed case anew; the paper still has the old head.
    let mut changed = case.records.clone();
    changed.pop();
    changed.push(Record {
        at: case.records.last().expect("lines").at,
        event: closed(Some("locked-compressor")),
    });
    let forged = read(&chained(&header(), &changed).expect("written"), name()).expect("it is whole");
    assert!(forged.is_closed());
    assert_eq!(find_head(&forged.links, &printed), Found::Nowhere);
    // What was corrected after it was printed still shows where it was.
    let mut corrected = case.records.clone();
    corrected.push(Record {
        at: later(90),
        event: closed(None),
    });
    let corrected = read(&chained(&header(), &corrected).expect("written"), name()).expect("it is whole");
    assert_eq!(find_head(&corrected.links, &printed), Found::Earlier(10));
}

/// The check of `DEVELOPERS.md`, by the SHA-256 of coreutils in place of ours.
#[cfg(target_os = "linux")]
#[test]
fn another_program_finds_the_same_chain() {
    let guide = include_str!("../DEVELOPERS.md");
    let (_, rest) = guide
        .split_once("Checked without lineside:\n```\n")
        .expect("the check");
    let (script, _) = rest.split_once("```").expect("its end");
    let home = tempfile::tempdir().expect("a temporary folder");
    let check = |bytes: &[u8]| {
        std::fs::write(home.path().join("case.jsonl"), bytes).expect("written");
        let output = Command::new("sh")
            .args(["-c", script])
            .current_dir(home.path())
            .output()
            .expect("a shell");
        assert!(output.status.success(), "{output:?}");
        String::from_utf8(output.stdout).expect("text")
    };
    let sound = long_case();
    assert_eq!(check(&sound), "");
    let edited = String::from_utf8(sound)
        .expect("text")
        .replacen("room-unit", "rooms-unit", 1);
    assert!(check(edited.as_bytes()).contains("rooms-unit"));
}

#[test]
fn a_case_of_an_earlier_program_is_read_and_its_new_lines_hold_the_old_ones() {
    let sound = String::from_utf8(short_case()).expect("text");
    let earlier: String = sound
        .lines()
        .filter_map(|line| line.split_once(",\"chain\":"))
        .map(|(object, _)| format!("{object}}}\n"))
        .collect::<String>()
        .replacen(":2,", ":1,", 1);
    let open: String = earlier.lines().take(5).map(|line| format!("{line}\n")).collect();
    let home = tempfile::tempdir().expect("a temporary folder");
    let path = home.path().join("case.jsonl");
    std::fs::write(&path, &open).expect("written");
    let (mut journal, case) = Journal::open(&path).expect("it is read");
    assert_eq!((case.unchained(), case.head()), (5, None));
    let said = remarks(&case);
    assert!(said[0].to_string().contains("earlier program"), "{said:?}");
    for event in [visit("K. L."), closed(None)] {
        journal.append(&event, later(60)).expect("it is kept");
    }
    drop(journal);
    let bytes = std::fs::read(&path).expect("read");
    let case = read(&bytes, &path).expect("it is whole");
    assert_eq!((case.unchained(), case.links.len()), (5, 7));
    let all = lines(&bytes);
    for old in 0..5 {
        let mut dropped = all.clone();
        dropped.remove(old);
        assert!(
            read(&dropped.concat(), &path).is_err(),
            "line {old} of the old ones dropped"
        );
    }
    // A later case cannot be passed off as one of an earlier program.
    let renamed = sound.replacen(":2,", ":1,", 1);
    assert!(matches!(
        read(renamed.as_bytes(), &path),
        Err(JournalError::Changed { line: 1, .. })
    ));
}

fn case_of(bytes: &[u8]) -> Case {
    read(bytes, name()).expect("it is whole")
}

#[test]
fn derived_lines_are_held_against_what_follows_from_the_answers() {
    let sound = case_of(&long_case());
    let comparison = compare(&sound, &mut Walk::new(&KNOWLEDGE));
    assert!(comparison.compared >= 10, "{comparison:?}");
    assert_eq!(
        (comparison.not_compared, comparison.differences.len()),
        (0, 0),
        "{comparison:?}"
    );
    let mut told = 0;
    for (number, record) in sound.records.iter().enumerate() {
        let mut forged = sound.clone();
        let event = &mut forged.records[number].event;
        match event {
            Event::Standing { remainder, .. } | Event::Concluded { remainder, .. } => *remainder += 1e-6,
            Event::Calculated { finding, .. } => finding.push('!'),
            Event::DefectFound { name, .. } => name.push('!'),
            Event::Surprising { bits, .. } => *bits += 1e-6,
            _ => continue,
        }
        let found = compare(&forged, &mut Walk::new(&KNOWLEDGE)).differences;
        assert_eq!(found.len(), 1, "{record:?}");
        assert_eq!(found[0].line, number + 2);
        told += 1;
    }
    assert_eq!(told, comparison.compared);
    // An answer that was changed makes what follows from it disagree.
    let mut forged = sound.clone();
    let answer = forged
        .records
        .iter_mut()
        .find_map(|record| match &mut record.event {
            Event::Fact {
                value: Some(Value::Loads(loads)),
                ..
            } => Some(loads),
            _ => None,
        });
    answer.expect("loads").push(Load {
        name: "invented heater".to_owned(),
        amps: 12.0,
        continuous: false,
        motor: false,
    });
    assert!(
        !compare(&forged, &mut Walk::new(&KNOWLEDGE))
            .differences
            .is_empty()
    );
}

#[test]
fn lines_of_another_program_or_knowledge_are_not_held_against_this_one() {
    let mut case = case_of(&long_case());
    for record in &mut case.records {
        if let Event::Standing { remainder, .. } = &mut record.event {
            *remainder = 0.5;
        }
        if let Event::Visit { knowledge, .. } = &mut record.event {
            "another".clone_into(knowledge);
        }
    }
    let comparison = compare(&case, &mut Walk::new(&KNOWLEDGE));
    assert_eq!(
        (comparison.compared, comparison.differences.len()),
        (0, 0),
        "{comparison:?}"
    );
    assert!(comparison.not_compared >= 10);
}

#[test]
fn a_clock_that_went_backward_and_a_line_behind_the_closing_are_said() {
    let mut lines = case_of(&short_case()).records;
    lines[4].at = later(-100);
    lines.push(Record {
        at: later(200),
        event: Event::Note {
            text: "after".to_owned(),
        },
    });
    let case = case_of(&chained(&header(), &lines).expect("written"));
    let said: Vec<String> = remarks(&case).iter().map(ToString::to_string).collect();
    assert_eq!(said.len(), 2, "{said:?}");
    assert!(said[0].starts_with("line 6: the clock went backward"), "{said:?}");
    assert_eq!(said[1], "line 11: it stands behind the closing");
    assert!(remarks(&case)[1].grave && !case.is_closed());
}

#[test]
fn the_life_of_a_case_is_read_off_its_lines() {
    let mut events = vec![visit("J. R.")];
    events.extend(walked(include_str!("../examples/freezer-on-the-circuit.toml")));
    let stage = |events: &[Event]| {
        Life::of(&case_of(
            &chained(&header(), &records(events.to_vec())).expect("written"),
        ))
        .stage()
    };
    assert_eq!(stage(&events[..4]), Stage::Open);
    assert_eq!(stage(&events), Stage::Concluded);
    events.push(visit("K. L."));
    events.push(Event::Repaired {
        text: "invented".to_owned(),
        by: Some("K. L.".to_owned()),
    });
    assert_eq!(stage(&events), Stage::Repaired);
    let proof = Proof::CleanRun {
        ran: 80.0,
        needed: 71.9,
        between: 24.0,
    };
    events.push(Event::Proved { by: proof });
    assert_eq!(stage(&events), Stage::Proved);
    events.push(Event::Repaired {
        text: "invented: it came back, done again".to_owned(),
        by: None,
    });
    assert_eq!(
        stage(&events),
        Stage::Repaired,
        "the proof was before the last repair"
    );
    events.push(closed(None));
    assert_eq!(stage(&events), Stage::Closed);
    let life = Life::of(&case_of(&chained(&header(), &records(events)).expect("written")));
    assert_eq!(life.complaint.as_deref(), Some("breaker-opens"));
    assert_eq!(life.visits.len(), 2);
    let leader = life
        .concluded
        .expect("a conclusion")
        .what
        .expect("a leader")
        .leader;
    assert_eq!(leader.expect("a leader").cause, "shared-circuit-overload");
}

/// Every kind of event once, with something in every part.
fn every_kind() -> Vec<Event> {
    let secret = || "SECRET words".to_owned();
    let mut events = walked(include_str!("../examples/freezer-on-the-circuit.toml"));
    events.extend([
        visit("SECRET name"),
        Event::Site {
            place: Some(secret()),
            unit: Some(secret()),
        },
        Event::Callback {
            case: "fedcba".to_owned(),
            head: Some("5EC2E7".to_owned()),
        },
        Event::LeftStanding {
            test: "hazard-look".to_owned(),
            outcome: "shock-or-tingle".to_owned(),
        },
        Event::Photograph {
            path: secret(),
            sha256: "0".repeat(64),
            shows: Some(secret()),
        },
        Event::Accessories { fitted: None },
        Event::Offered {
            tests: vec!["what-changed".to_owned(), "sound-at-start".to_owned()],
            taken: vec!["sound-at-start".to_owned()],
        },
        Event::Able {
            to: vec![Ability::Ask, Ability::MeasureDead],
        },
        Event::Further,
        Event::Sizing,
        Event::Accessories {
            fitted: Some(vec!["condensate-pump".to_owned()]),
        },
        Event::Fact {
            fact: "other-loads".to_owned(),
            value: Some(Value::Loads(vec![Load {
                name: secret(),
                amps: 3.0,
                continuous: true,
                motor: false,
            }])),
            typed: secret(),
        },
        Event::Answer {
            test: "when-does-it-happen".to_owned(),
            given: Given::Leaning("after-minutes".to_owned()),
            volunteered: true,
            typed: secret(),
        },
        serde_json::from_str("{\"kind\":\"acknowledged\",\"state\":\"energised\"}").expect("an event"),
        Event::Note { text: secret() },
        Event::Undone { steps: 1 },
        Event::Stopped,
        Event::Finished,
        Event::Calculated {
            test: "a-test".to_owned(),
            verdict: "over".to_owned(),
            finding: secret(),
        },
        Event::Surprising {
            test: "a-test".to_owned(),
            bits: 5.0,
            expected: 1.0,
        },
        Event::DefectFound {
            test: "a-test".to_owned(),
            outcome: "over".to_owned(),
            name: "a defect".to_owned(),
        },
        Event::Repaired {
            text: secret(),
            by: Some(secret()),
        },
        Event::Proved {
            by: Proof::Recheck { reading: secret() },
        },
        Event::Proved {
            by: Proof::CleanRun {
                ran: 80.0,
                needed: 71.9,
                between: 24.0,
            },
        },
        Event::Closed {
            cause: None,
            not_listed: Some(secret()),
            proved: false,
            text: secret(),
            standing: vec![Stood {
                hold: "heat-damage".to_owned(),
                cleared: Some(secret()),
            }],
        },
    ]);
    events
}

#[test]
fn an_anonymous_copy_has_nothing_in_free_words_and_walks_the_same() {
    let case = case_of(&chained(&header(), &records(every_kind())).expect("written"));
    let (header, lines) = anonymous(&case);
    let bytes = chained(&header, &lines).expect("written");
    let text = String::from_utf8(bytes.clone()).expect("text");
    assert!(!text.contains("SECRET") && !text.contains("5EC2E7"), "{text}");
    for word in ["freezer", "Invented", "invented"] {
        assert!(!text.contains(word), "`{word}` is in: {text}");
    }
    let copy = case_of(&bytes);
    assert!(copy.header.anonymous);
    assert!(noticed(&bytes).is_none(), "it is whole and closed");
    // What was found out stays: the causes stand as they stood.
    let (mut whole, mut without) = (Walk::new(&KNOWLEDGE), Walk::new(&KNOWLEDGE));
    case.replay(&mut whole);
    copy.replay(&mut without);
    assert_eq!(whole.standing(), without.standing());
    assert!(
        compare(&case_of(&long_case()), &mut Walk::new(&KNOWLEDGE))
            .differences
            .is_empty()
    );
    let (header, lines) = anonymous(&case_of(&long_case()));
    let copy = case_of(&chained(&header, &lines).expect("written"));
    let comparison = compare(&copy, &mut Walk::new(&KNOWLEDGE));
    assert!(
        comparison.compared >= 10 && comparison.differences.is_empty(),
        "{comparison:?}"
    );
}

#[test]
fn a_damaged_case_is_put_together_again_and_says_so() {
    let sound = short_case();
    assert!(
        mended(&sound, name()).expect("a case").is_none(),
        "nothing is damaged"
    );
    let text = String::from_utf8(sound.clone()).expect("text");
    let by_hand = text.replace("\"unit\":\"2\"", "\"unit\":\"3\"");
    let broken = text.replace("\"kind\":\"repaired\"", "\"kind\":\"repaired");
    for (bytes, left_out, says) in [
        (by_hand, vec![], "its line 3 did not follow on the line before"),
        (broken, vec![8], "its line 8 could not be read"),
    ] {
        let mended = mended(bytes.as_bytes(), name()).expect("a case").expect("damage");
        assert_eq!(mended.left_out, left_out);
        assert_eq!(mended.header.mended.as_deref(), Some(says));
        let copy = case_of(&chained(&mended.header, &mended.records).expect("written"));
        assert_eq!(copy.links.len(), 10 - left_out.len());
        assert!(remarks(&copy)[0].text.contains(says));
        assert_ne!(copy.head(), case_of(&sound).head());
    }
}

fn valid(validator: &jsonschema::Validator, line: &str) -> bool {
    validator.is_valid(&serde_json::from_str(line).expect("JSON"))
}

#[test]
fn every_line_fits_the_schema_that_is_printed() {
    let output = lineside(Path::new("."), &["case", "schema"]);
    let schema: serde_json::Value = serde_json::from_slice(&output.stdout).expect("JSON");
    assert_eq!(schema["$schema"], "https://json-schema.org/draft/2020-12/schema");
    jsonschema::draft202012::meta::validate(&schema).expect("a schema of that draft");
    let validator = jsonschema::draft202012::new(&schema).expect("a usable schema");
    let mut kinds = std::collections::BTreeSet::new();
    for bytes in [
        short_case(),
        long_case(),
        chained(&header(), &records(every_kind())).expect("written"),
    ] {
        for line in String::from_utf8(bytes).expect("text").lines() {
            assert!(valid(&validator, line), "{line}");
            let value: serde_json::Value = serde_json::from_str(line).expect("JSON");
            kinds.extend(value["event"]["kind"].as_str().map(str::to_owned));
        }
    }
    // No kind of event is missing here, so that a new one is held against the schema too.
    let listed = schema["$defs"]["Event"]["oneOf"].as_array().expect("kinds");
    let listed: std::collections::BTreeSet<String> = listed
        .iter()
        .filter_map(|kind| kind["properties"]["kind"]["const"].as_str().map(str::to_owned))
        .collect();
    assert_eq!(kinds, listed);
    for wrong in [
        "{\"at\":\"2026-02-03T04:05:06Z\",\"event\":{\"kind\":\"no-such-kind\"}}",
        "{\"at\":\"2026-02-03T04:05:06Z\",\"event\":{\"kind\":\"complaint\"}}",
        "{\"event\":{\"kind\":\"stopped\"}}",
        "{\"at\":\"2026-02-03T04:05:06Z\",\"event\":{\"kind\":\"stopped\"},\"chain\":\"short\"}",
        "{\"lineside-case\":\"two\",\"program\":\"0\",\"knowledge\":\"x\",\"opened\":\"2026-02-03T04:05:06Z\"}",
        "{}",
    ] {
        assert!(!valid(&validator, wrong), "{wrong}");
    }
}

fn lineside(home: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_lineside"))
        .args(arguments)
        .env_clear()
        .env("HOME", home)
        .current_dir(home)
        .output()
        .expect("the program starts")
}

#[test]
fn the_head_stays_the_same_wherever_the_file_is() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let path: PathBuf = home.path().join("case.jsonl");
    std::fs::write(&path, short_case()).expect("written");
    let case = journal::read_file(&path).expect("it is read");
    assert_eq!(case.head(), case_of(&short_case()).head());
}
