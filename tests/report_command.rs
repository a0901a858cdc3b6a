//! `lineside report` on a case file: who, when and where, photographs by path and hash, the head of a closed case, and
//! what is said when there is nothing to report.

#![expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use std::fs;
use std::io::Cursor;
use std::path::Path;
use std::process::{Command, Output};

use jiff::Timestamp;
use lineside::files::sha256;
use lineside::journal::{self, Journal};
use lineside::knowledge;
use lineside::walk::{Event, Given, Proof};

fn report(folder: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_lineside"))
        .arg("report")
        .args(arguments)
        .current_dir(folder)
        .env_clear()
        .env("TZ", "UTC")
        .env("HOME", folder)
        .output()
        .unwrap()
}

fn at(minute: i64) -> Timestamp {
    // 2026-07-03 14:00 UTC, invented.
    Timestamp::from_second(1_783_087_200 + 60 * minute).unwrap()
}

fn photograph(folder: &Path, name: &str) -> Event {
    let mut png = Vec::new();
    image::DynamicImage::new_rgb8(40, 30)
        .write_to(&mut Cursor::new(&mut png), image::ImageFormat::Png)
        .unwrap();
    fs::write(folder.join(name), &png).unwrap();
    Event::Photograph {
        path: name.to_owned(),
        sha256: sha256(&png),
        shows: Some(format!("<b>{name}</b>")),
    }
}

/// An invented case, closed.
fn case(folder: &Path) {
    let knowledge = knowledge::embedded().unwrap();
    let mut journal = Journal::create(
        &folder.join("case.jsonl"),
        &knowledge.fingerprint,
        "0123abcd",
        at(0),
    )
    .unwrap();
    let answer = |test: &str, given: Given| Event::Answer {
        test: test.to_owned(),
        given,
        volunteered: false,
        typed: String::new(),
    };
    let events = [
        Event::Visit {
            technician: Some("T. Inventor".to_owned()),
            program: "0".to_owned(),
            knowledge: knowledge.fingerprint.clone(),
            learned: None,
        },
        Event::Site {
            place: Some("12 Invented Lane <script>\u{1b}[2J\u{202e}".to_owned()),
            unit: Some("unit by the shed".to_owned()),
        },
        Event::Complaint {
            complaint: "part-burnt".to_owned(),
        },
        Event::Equipment {
            equipment: "split-air-conditioner".to_owned(),
        },
        answer("hazard-look", Given::Outcome("none".to_owned())),
        answer("disconnect-look", Given::Outcome("lug-burnt".to_owned())),
        photograph(folder, "lug.png"),
        photograph(folder, "changed.png"),
        photograph(folder, "gone.png"),
        Event::Repaired {
            text: "new disconnect".to_owned(),
            by: Some("an electrician".to_owned()),
        },
        Event::Proved {
            by: Proof::Recheck {
                reading: "11 mV at 20 A".to_owned(),
            },
        },
        Event::Closed {
            cause: Some("loose-disconnect-lug".to_owned()),
            not_listed: None,
            proved: true,
            text: "11 mV at 20 A".to_owned(),
            standing: Vec::new(),
        },
    ];
    for (minute, event) in events.iter().enumerate() {
        journal.append(event, at(minute as i64 + 1)).unwrap();
    }
    fs::write(folder.join("changed.png"), b"another picture").unwrap();
    fs::remove_file(folder.join("gone.png")).unwrap();
}

#[test]
fn the_page_of_a_closed_case_says_who_when_where_and_its_head() {
    let home = tempfile::tempdir().unwrap();
    case(home.path());
    let output = report(home.path(), &["--case", "case.jsonl", "-o", "case.html"]);
    assert!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    let page = fs::read_to_string(home.path().join("case.html")).unwrap();
    let head = journal::read_file(&home.path().join("case.jsonl"))
        .unwrap()
        .head()
        .unwrap();
    for wanted in [
        "12 Invented Lane",
        "unit by the shed",
        "2026-07-03 14:01, T. Inventor",
        "2026-07-03 14:06",
        "Lugs burnt",
        "new disconnect, by an electrician",
        "11 mV at 20 A",
        "0123abcd",
        &head.to_string(),
        "Loose lug in the disconnect, proved: 11 mV at 20 A.",
    ] {
        // The wording of an outcome is the knowledge's own.
        if wanted != "Lugs burnt" {
            assert!(page.contains(wanted), "no `{wanted}`");
        }
    }
}

#[test]
fn photographs_are_shown_only_as_they_were_attached() {
    let home = tempfile::tempdir().unwrap();
    case(home.path());
    assert!(
        report(home.path(), &["--case", "case.jsonl", "-o", "case.html"])
            .status
            .success()
    );
    let page = fs::read_to_string(home.path().join("case.html")).unwrap();
    assert_eq!(page.matches("src=\"data:image/jpeg;base64,").count(), 1);
    assert!(
        page.contains("12 Invented Lane &lt;script&gt;\\u001b[2J\\u202e"),
        "what was written is shown"
    );
    assert!(!page.contains("<script") && !page.contains(['\u{1b}', '\u{202e}']));
    assert!(page.contains("alt=\"&lt;b&gt;lug.png&lt;/b&gt;\""));
    assert!(page.contains("Not shown: the file is not the one that was attached"));
    assert!(page.contains("Not shown: it is not where it was"));
}

#[test]
fn the_same_case_as_text_and_for_the_customer() {
    let home = tempfile::tempdir().unwrap();
    case(home.path());
    let text = String::from_utf8(report(home.path(), &["--case", "case.jsonl"]).stdout).unwrap();
    for wanted in [
        "CASE\n",
        "12 Invented Lane",
        "T. Inventor",
        "0123abcd",
        "FOUND IN THE END",
        "gone.png",
    ] {
        assert!(text.contains(wanted), "no `{wanted}`: {text}");
    }
    let text = String::from_utf8(report(home.path(), &["--case", "case.jsonl", "--for", "customer"]).stdout)
        .unwrap();
    for wanted in [
        "12 Invented Lane",
        "July 3, 2026",
        "A wire is loose in the shut-off switch",
        "new disconnect",
    ] {
        assert!(text.contains(wanted), "no `{wanted}`: {text}");
    }
    assert!(!text.contains("probab") && !text.contains(" %"), "{text}");
}

#[test]
fn a_report_leaves_the_case_as_it_was() {
    let home = tempfile::tempdir().unwrap();
    case(home.path());
    let before = fs::read(home.path().join("case.jsonl")).unwrap();
    for reader in ["electrician", "customer", "manager"] {
        for format in ["text", "html", "json"] {
            let output = report(
                home.path(),
                &["--case", "case.jsonl", "--for", reader, "--format", format],
            );
            assert!(
                output.status.success(),
                "{}",
                String::from_utf8_lossy(&output.stderr)
            );
        }
    }
    assert_eq!(fs::read(home.path().join("case.jsonl")).unwrap(), before);
}

#[test]
fn what_cannot_be_reported_is_said() {
    let home = tempfile::tempdir().unwrap();
    let knowledge = knowledge::embedded().unwrap();
    Journal::create(
        &home.path().join("empty.jsonl"),
        &knowledge.fingerprint,
        "1",
        at(0),
    )
    .unwrap();
    fs::write(home.path().join("foreign.jsonl"), "{\"a\": 1}\n").unwrap();
    for (file, code, says) in [
        ("empty.jsonl", 1, "before complaint and equipment are known"),
        ("foreign.jsonl", 1, "foreign.jsonl"),
        ("none.jsonl", 1, "none.jsonl"),
    ] {
        let output = report(home.path(), &["--case", file]);
        assert_eq!(output.status.code(), Some(code), "{file}");
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        assert!(said.contains(says), "{file}: {said}");
    }
    assert_eq!(
        report(home.path(), &[]).status.code(),
        Some(2),
        "a case or answers are needed"
    );
}
