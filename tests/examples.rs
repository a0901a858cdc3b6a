//! Every answer file under `examples/` is a callback of our own invention with its intended cause: the walk must
//! find it.

use std::convert::Infallible;
use std::fs;
use std::path::{Path, PathBuf};

use lineside::knowledge;
use lineside::report::CaseResult;
use lineside::walk::{AnswerFile, End, Event, Walk, drive};

fn examples() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples");
    let mut files: Vec<PathBuf> = fs::read_dir(folder)
        .expect("there is a folder of examples")
        .map(|entry| entry.expect("it can be read").path())
        .filter(|path| path.extension().is_some_and(|extension| extension == "toml"))
        .collect();
    files.sort();
    files
}

#[test]
fn every_example_ends_with_its_intended_cause() {
    let knowledge = knowledge::embedded().expect("the knowledge compiled in is sound");
    let mut wrong = Vec::new();
    let mut not_first = Vec::new();
    for path in examples() {
        let name = path
            .file_stem()
            .expect("a file has a name")
            .to_string_lossy()
            .into_owned();
        let text = fs::read_to_string(&path).expect("an example is text");
        let mut answers = match AnswerFile::parse(&text, &knowledge) {
            Ok(answers) => answers,
            Err(errors) => {
                wrong.extend(errors.iter().map(|error| format!("{name}: {error}")));
                continue;
            }
        };
        let mut walk = Walk::new(&knowledge);
        let end = drive::<Infallible>(&mut walk, &mut answers, &mut |_: &Event| Ok(()));
        if !matches!(end, Ok(End::Finished | End::Halted)) {
            wrong.push(format!("{name}: ended as {end:?}"));
            continue;
        }
        let expect = answers.expect().cloned().unwrap_or_default();
        let Some(cause) = expect.cause else {
            wrong.push(format!("{name}: states no intended cause"));
            continue;
        };
        let result = CaseResult::new(&walk).expect("complaint and equipment are known");
        let rank = result
            .standing
            .iter()
            .position(|standing| standing.cause == cause)
            .map(|place| place + 1);
        if rank != Some(1) {
            let leaders: Vec<String> = result
                .standing
                .iter()
                .take(4)
                .map(|standing| format!("{} {:.2}", standing.cause, standing.probability))
                .collect();
            let line = format!(
                "{name}: `{cause}` is at {rank:?}; leading: {}",
                leaders.join(", ")
            );
            if rank.is_none_or(|rank| rank > expect.within.unwrap_or(3)) {
                wrong.push(line.clone());
            }
            not_first.push(line);
        }
        for test in expect.defects {
            if result.defects.iter().all(|defect| defect.test != test) {
                wrong.push(format!("{name}: no defect from `{test}`"));
            }
        }
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
    // Nobody looked at the trees while writing them, so not all can be first; all are among the first three.
    let all = examples().len();
    assert!(
        not_first.len() * 10 <= all,
        "{} of {all} are not first:\n{}",
        not_first.len(),
        not_first.join("\n")
    );
}

#[test]
fn there_are_at_least_forty_examples() {
    assert!(examples().len() >= 40, "{}", examples().len());
}

#[test]
fn every_example_is_marked_invented() {
    for path in examples() {
        let text = fs::read_to_string(&path).expect("an example is text");
        assert!(text.starts_with("# Invented case"), "{}", path.display());
        assert!(text.contains("note = \"Invented case"), "{}", path.display());
    }
}

#[test]
fn there_are_examples_of_every_complaint_and_of_the_hard_kinds() {
    let knowledge = knowledge::embedded().expect("the knowledge compiled in is sound");
    let texts: Vec<String> = examples()
        .iter()
        .map(|path| fs::read_to_string(path).expect("an example is text"))
        .collect();
    assert!(texts.len() >= 6);
    for tree in knowledge.trees.iter().filter(|tree| tree.complaint.is_some()) {
        let line = format!("complaint = \"{}\"", tree.id);
        assert!(
            texts.iter().any(|text| text.contains(&line)),
            "no example of `{}`",
            tree.id
        );
    }
}

#[test]
fn the_case_that_is_not_electrical_says_so_and_blames_no_breaker() {
    let knowledge = knowledge::embedded().expect("the knowledge compiled in is sound");
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/clean-breaker-dirty-coil.toml");
    let text = fs::read_to_string(path).expect("an example is text");
    let mut answers = AnswerFile::parse(&text, &knowledge).expect("the example is valid");
    let mut walk = Walk::new(&knowledge);
    drive::<Infallible>(&mut walk, &mut answers, &mut |_: &Event| Ok(()))
        .expect("an answer file never stalls");
    let result = CaseResult::new(&walk).expect("complaint and equipment are known");
    assert!(
        result.conclusion.text.contains("ot electrical"),
        "{}",
        result.conclusion.text
    );
    let breaker = result
        .standing
        .iter()
        .find(|standing| standing.cause == "weak-or-worn-breaker");
    assert!(
        breaker.is_some_and(|breaker| breaker.probability < 0.1),
        "{breaker:?}"
    );
}
