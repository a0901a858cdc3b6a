//! Invented cases: the same for one seed, sound, and marked.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::{Command, Output};

use lineside::invented;
use lineside::journal;
use lineside::knowledge;
use lineside::walk::{Event, Walk};
use tempfile::TempDir;

fn home() -> TempDir {
    tempfile::tempdir().expect("a folder can be made")
}

fn invent(home: &TempDir, args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_lineside"))
        .arg("invent")
        .args(args)
        .env_clear()
        .env("HOME", home.path())
        .current_dir(home.path())
        .output()
        .expect("the program starts")
}

/// Every file of a folder by name.
fn files(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    fs::read_dir(folder)
        .expect("it was made")
        .map(|entry| {
            let path = entry.expect("it can be read").path();
            let name = path
                .file_name()
                .expect("it has one")
                .to_string_lossy()
                .into_owned();
            (name, fs::read(path).expect("it can be read"))
        })
        .collect()
}

#[test]
fn one_seed_gives_the_same_bytes_and_another_one_others() {
    let home = home();
    for (folder, seed) in [("a", "7"), ("b", "7"), ("c", "8")] {
        let run = invent(&home, &["6", "--walks", "3", "--out", folder, "--seed", seed]);
        assert!(run.status.success(), "{}", String::from_utf8_lossy(&run.stderr));
    }
    let [a, b, c] = ["a", "b", "c"].map(|folder| files(&home.path().join(folder)));
    assert_eq!(a.len(), 6);
    assert_eq!(a, b);
    assert!(a.iter().all(|(name, bytes)| c.get(name) != Some(bytes)));
    // A folder that has them is not written over.
    let again = invent(&home, &["6", "--walks", "3", "--out", "a"]);
    assert_eq!(again.status.code(), Some(1));
    assert_eq!(files(&home.path().join("a")), a);
}

#[test]
fn every_invented_case_is_sound_says_so_and_can_be_gone_on_with() {
    let knowledge = knowledge::embedded().expect("the knowledge compiled in is sound");
    let plans = invented::plan(3, 9);
    assert_eq!(plans.iter().map(|plan| plan.cases).sum::<usize>(), 9);
    // A unit that came back, and what is made of it once more.
    let unit = *plans
        .iter()
        .max_by_key(|plan| plan.cases)
        .expect("there are some");
    let walked = invented::unit(&knowledge, 3, unit);
    let repeated = invented::again(&walked, 4, unit);
    let mut ids = Vec::new();
    for cases in [&walked, &repeated] {
        let mut before: Option<String> = None;
        for (number, bytes) in invented::files(cases).expect("they can be written") {
            let case = journal::read(&bytes, Path::new("invented")).expect("it is a sound case");
            assert!(case.header.invented, "{number}");
            let mut walk = Walk::new(&knowledge);
            assert!(case.replay(&mut walk).is_empty(), "{number}: an unknown id");
            assert!(walk.complaint().is_some() && walk.equipment().is_some());
            assert!(walk.notes().iter().any(|note| note.contains("Invented")));
            let follows = case.records.iter().find_map(|record| match &record.event {
                Event::Callback { case, .. } => Some(case.clone()),
                _ => None,
            });
            assert_eq!(
                follows, before,
                "{number}: a callback of the case before, the first of none"
            );
            let times: Vec<_> = case.records.iter().map(|record| record.at).collect();
            assert!(times.is_sorted(), "{number}: time goes on");
            assert!(times[0] >= case.header.opened);
            before = Some(case.header.identity());
            ids.push(case.header.identity());
        }
    }
    ids.sort();
    ids.dedup();
    assert_eq!(ids.len(), 2 * unit.cases, "every case has an id of its own");
}

/// Frequencies learned from what was sampled from the frequencies would confirm themselves.
#[test]
fn nothing_is_learned_from_invented_cases() {
    let home = home();
    assert!(invent(&home, &["2", "--out", "a"]).status.success());
    let run = Command::new(env!("CARGO_BIN_EXE_lineside"))
        .args(["learn", "a", "--out", "shop.toml"])
        .env_clear()
        .env("HOME", home.path())
        .current_dir(home.path())
        .output()
        .expect("the program starts");
    assert_eq!(run.status.code(), Some(1));
    let said = String::from_utf8_lossy(&run.stderr);
    assert!(said.contains("2 invented cases"), "{said}");
    assert!(!home.path().join("shop.toml").exists());
}
