//! Callbacks that were reported publicly with the cause that was found, as a measure of the knowledge.
//!
//! Every file under `callbacks/` names its source at its head and answers only what that account states. A file
//! `ID-asked.toml` adds what the account says was found once somebody looked there. What no file covers stands in
//! `callbacks/README.md`. To see the table: `cargo test --test callbacks -- --nocapture`.

#![expect(clippy::unwrap_used, reason = "a failed unwrap fails the test")]
#![expect(clippy::print_stdout, reason = "the table is what the measure is read from")]

use std::convert::Infallible;
use std::fs;
use std::path::Path;

use lineside::knowledge::{self, model::Knowledge};
use lineside::report::CaseResult;
use lineside::walk::{AnswerFile, End, Event, Walk, drive};

/// Measured on 25 November 2026: accounts right in first place, and within the first three places.
const AS_REPORTED: [usize; 2] = [8, 14];
/// The same with what was found when asked.
const WHEN_ASKED: [usize; 2] = [11, 16];
/// One account may be lost to a change that is right in general, no more.
const SLACK: usize = 1;

/// One account, run.
struct Account {
    name: String,
    expected: String,
    /// Place of the best acceptable cause, from 1.
    place: Option<usize>,
    leaders: Vec<String>,
    /// Test of what was found when asked, and its place among what the walk asks without it.
    decisive: Vec<(String, Option<usize>)>,
}

impl Account {
    fn within(&self, places: usize) -> bool {
        self.place.is_some_and(|place| place <= places)
    }
}

fn files() -> Vec<(String, String)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/callbacks");
    let mut files: Vec<(String, String)> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|extension| extension == "toml"))
        .map(|path| {
            let name = path.file_stem().unwrap().to_string_lossy().into_owned();
            (name, fs::read_to_string(&path).unwrap())
        })
        .collect();
    files.sort();
    files
}

/// Ids after `# acceptable:`, which the account's own note calls as good as the expected cause.
fn acceptable(text: &str) -> Vec<String> {
    text.lines()
        .filter_map(|line| line.strip_prefix("# acceptable:"))
        .flat_map(|ids| ids.split(','))
        .map(|id| id.trim().to_owned())
        .collect()
}

/// Runs an answer file to its end and gives the result and the tests asked for, in order.
fn run(knowledge: &Knowledge, name: &str, text: &str) -> (CaseResult, Vec<String>, AnswerFile) {
    let mut answers = AnswerFile::parse(text, knowledge).unwrap_or_else(|errors| {
        panic!(
            "{name}: {}",
            errors
                .iter()
                .map(|error| format!("\n{error}"))
                .collect::<String>()
        )
    });
    let mut walk = Walk::new(knowledge);
    let mut asked = Vec::new();
    let end = drive::<Infallible>(&mut walk, &mut answers, &mut |event: &Event| {
        if let Event::Answer {
            test,
            volunteered: false,
            ..
        } = event
        {
            asked.push(test.clone());
        }
        Ok(())
    });
    assert!(matches!(end, Ok(End::Finished | End::Halted)), "{name}: {end:?}");
    assert!(answers.refusal().is_none(), "{name}: {:?}", answers.refusal());
    (CaseResult::new(&walk).unwrap(), asked, answers)
}

/// The same account with the look for hazards answered, so that the walk goes on past it and asks.
fn made_safe(text: &str) -> String {
    let mut added = String::from("[answers]\nmade-safe = \"safe\"\n");
    if !text.contains("\nhazard-look") {
        added.push_str("hazard-look = \"none\"\n");
    }
    text.replacen("[answers]\n", &added, 1)
}

fn account(knowledge: &Knowledge, name: &str, text: &str, files: &[(String, String)]) -> Account {
    let (result, _, answers) = run(knowledge, name, text);
    let expected = answers.expect().and_then(|expect| expect.cause.clone()).unwrap();
    let mut right = acceptable(text);
    for id in &right {
        assert!(knowledge.cause(id).is_some(), "{name}: no cause `{id}`");
    }
    right.push(expected.clone());
    let place = result
        .standing
        .iter()
        .position(|standing| right.contains(&standing.cause));
    let leaders = result
        .standing
        .iter()
        .take(3)
        .map(|standing| format!("{} {:.2}", standing.cause, standing.probability))
        .collect();
    let asked_name = format!("{name}-asked");
    let decisive = match files.iter().find(|(other, _)| *other == asked_name) {
        None => Vec::new(),
        Some((_, with_asked)) => {
            let added = AnswerFile::parse(with_asked, knowledge).unwrap();
            for (test, answer) in answers.answers() {
                assert_eq!(added.answers().get(test), Some(answer), "{asked_name}: `{test}`");
            }
            let (_, order, _) = run(knowledge, name, &made_safe(text));
            added
                .answers()
                .keys()
                .filter(|test| !answers.answers().contains_key(*test))
                .map(|test| {
                    (
                        test.clone(),
                        order
                            .iter()
                            .position(|other| other == test)
                            .map(|place| place + 1),
                    )
                })
                .collect()
        }
    };
    Account {
        name: name.to_owned(),
        expected,
        place: place.map(|place| place + 1),
        leaders,
        decisive,
    }
}

fn print_table(title: &str, accounts: &[&Account]) {
    println!("\n{title}");
    for account in accounts {
        let place = account
            .place
            .map_or_else(|| "-".to_owned(), |place| place.to_string());
        println!(
            "{place:>3}  {:<13} {:<32} {}",
            account.name,
            account.expected,
            account.leaders.join(", ")
        );
        for (test, place) in &account.decisive {
            println!(
                "{:>19}asked `{test}`: {}",
                "",
                place.map_or("never".to_owned(), |place| format!("{place}."))
            );
        }
    }
    println!(
        "first {} / first three {} / of {}",
        first(accounts, 1),
        first(accounts, 3),
        accounts.len()
    );
}

fn first(accounts: &[&Account], places: usize) -> usize {
    accounts.iter().filter(|account| account.within(places)).count()
}

#[test]
fn public_accounts_are_found_as_often_as_before() {
    let knowledge = knowledge::embedded().unwrap();
    let files = files();
    let accounts: Vec<Account> = files
        .iter()
        .map(|(name, text)| account(&knowledge, name, text, &files))
        .collect();
    let as_reported: Vec<&Account> = accounts
        .iter()
        .filter(|account| !account.name.ends_with("-asked"))
        .collect();
    // Where there is a file with more, that one stands for the account; all others count as they are.
    let when_asked: Vec<&Account> = accounts
        .iter()
        .filter(|account| account.decisive.is_empty())
        .collect();
    assert_eq!(
        as_reported.len(),
        when_asked.len(),
        "a file `ID-asked` adds nothing, or has no `ID`"
    );
    print_table("as reported", &as_reported);
    print_table("with what was found when asked", &when_asked);
    for (measured, before) in [(&as_reported, AS_REPORTED), (&when_asked, WHEN_ASKED)] {
        for (places, before) in [1, 3].into_iter().zip(before) {
            let now = first(measured, places);
            assert!(
                now + SLACK >= before,
                "within {places}: {now} of {}, was {before}; see the table with --nocapture",
                measured.len()
            );
        }
    }
}

#[test]
fn every_file_names_its_source_and_how_sure_it_is() {
    for (name, text) in files() {
        let mut lines = text.lines();
        let source = lines.next().unwrap();
        assert!(
            source.starts_with("# ") && source.contains("://"),
            "{name}: {source}"
        );
        let confirmed = lines.next().unwrap();
        assert!(
            confirmed == "# confirmed: strong" || confirmed == "# confirmed: likely",
            "{name}: {confirmed}"
        );
    }
}
