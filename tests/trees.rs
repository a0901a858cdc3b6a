//! The rules on the knowledge: what is sound passes, and every rule has a bad example it finds.
//!
//! A bad example is a folder `tests/bad-trees/CODE/` laid over `tests/bad-trees/sound/`, so that only the fault is
//! to be read. The fault's line stands below a comment `# bad: CODE: why`; `# bad file: CODE: why` marks a fault of
//! the file as a whole, which is reported on line 1. A folder without such a comment is expected in the code below.

#![expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use lineside::knowledge::model::{TestIndex, TreeIndex};
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use lineside::knowledge::finding::{Code, Severity};
use lineside::knowledge::{Checked, Files, check, load, render};

use crate::support::bad_trees::{CATALOG, bad_trees, laid_over};

fn checked(folder: &Path) -> Checked {
    check(Files::read(folder).unwrap(), CATALOG)
}

/// What a finding is compared by: code, file, line.
type Seen = (String, String, usize);

fn seen(checked: &Checked) -> BTreeSet<Seen> {
    checked
        .findings
        .iter()
        .map(|finding| {
            let (line, _) = render::position(&checked.files, &finding.primary.place);
            let file = &checked.files.list[finding.primary.place.file].name;
            (finding.code.as_str().to_owned(), file.clone(), line)
        })
        .collect()
}

fn expected(example: &Path) -> BTreeSet<Seen> {
    let mut expected = BTreeSet::new();
    let files = Files::read(example).unwrap();
    for file in &files.list {
        for (index, line) in file.text.lines().enumerate() {
            if let Some(rest) = line.strip_prefix("# bad: ") {
                let code = rest.split(':').next().unwrap().to_owned();
                // Several faults may stand above one line.
                let below = file
                    .text
                    .lines()
                    .skip(index)
                    .position(|line| !line.starts_with('#'))
                    .unwrap();
                expected.insert((code, file.name.clone(), index + below + 1));
            } else if let Some(rest) = line.strip_prefix("# bad file: ") {
                expected.insert((rest.split(':').next().unwrap().to_owned(), file.name.clone(), 1));
            }
        }
    }
    expected
}

#[test]
fn sound_folder_is_clean() {
    let checked = checked(&bad_trees().join("sound"));
    assert_eq!(seen(&checked), BTreeSet::new());
    let knowledge = checked.knowledge.unwrap();
    assert_eq!(
        (
            knowledge.causes.len(),
            knowledge.tests.len(),
            knowledge.trees.len()
        ),
        (2, 4, 2)
    );
}

#[test]
fn every_bad_example_gives_its_findings_and_no_other() {
    let mut wrong = Vec::new();
    for entry in fs::read_dir(bad_trees()).unwrap() {
        let example = entry.unwrap().path();
        let name = example.file_name().unwrap().to_str().unwrap().to_owned();
        if name == "sound" || MADE_BELOW.contains(&name.as_str()) {
            continue;
        }
        let expected = expected(&example);
        let seen = seen(&checked(laid_over(&example).path()));
        if !expected.iter().any(|(code, ..)| *code == name) {
            wrong.push(format!("{name}: no comment in it expects its own code"));
        }
        if expected != seen {
            wrong.push(format!("{name}:\n  expected {expected:?}\n  found    {seen:?}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// One snapshot for each rule: what an author reads of its bad example.
#[test]
fn what_every_rule_says() {
    let mut different = Vec::new();
    for entry in fs::read_dir(bad_trees()).unwrap() {
        let example = entry.unwrap().path();
        let name = example.file_name().unwrap().to_str().unwrap().to_owned();
        if name == "sound" || MADE_BELOW.contains(&name.as_str()) {
            continue;
        }
        let mut checked = checked(laid_over(&example).path());
        for file in &mut checked.files.list {
            file.shown.clone_from(&file.name);
        }
        let said: Vec<String> = checked
            .findings
            .iter()
            .map(|finding| render::snippet(&checked.files, finding, false))
            .collect();
        let text = said.join("\n\n");
        let compared = std::panic::catch_unwind(|| insta::assert_snapshot!(format!("rule-{name}"), text));
        if compared.is_err() {
            different.push(name);
        }
    }
    assert!(different.is_empty(), "what these say changed: {different:?}");
}

/// Codes whose example cannot stand in a repository as text, and is made by a test of its own.
const MADE_BELOW: &[&str] = &["no-files", "unreadable-file", "not-utf-8", "file-too-large"];

#[test]
fn every_code_has_a_bad_example() {
    for code in Code::ALL {
        let name = code.as_str();
        assert!(
            MADE_BELOW.contains(&name) || bad_trees().join(name).is_dir(),
            "no bad example for `{name}` under tests/bad-trees"
        );
    }
}

#[test]
fn folder_without_files_says_what_it_should_hold() {
    let folder = tempfile::tempdir().unwrap();
    let checked = checked(folder.path());
    assert_eq!(checked.findings.len(), 1);
    assert_eq!(checked.findings[0].code, Code::NoFiles);
    assert!(
        checked.findings[0]
            .message
            .contains(&folder.path().display().to_string())
    );
}

#[test]
fn folder_that_is_not_there_is_named() {
    let missing = bad_trees().join("not-there");
    let error = load(Some(&missing), CATALOG).unwrap_err().to_string();
    assert!(error.contains("not-there"), "{error}");
}

#[test]
fn file_that_is_not_text_is_named_and_the_others_are_read() {
    let folder = laid_over(&bad_trees().join("sound"));
    fs::write(folder.path().join("causes/latin.toml"), b"# caf\xe9\n").unwrap();
    let checked = checked(folder.path());
    assert_eq!(
        seen(&checked),
        BTreeSet::from([("not-utf-8".into(), "causes/latin.toml".into(), 1)])
    );
    assert!(
        checked.findings[0].message.contains("byte 6"),
        "{}",
        checked.findings[0].message
    );
}

#[test]
fn file_that_is_too_large_is_not_read() {
    let folder = laid_over(&bad_trees().join("sound"));
    let file = fs::File::create(folder.path().join("causes/huge.toml")).unwrap();
    file.set_len(lineside::knowledge::folder::LARGEST_FILE.bytes + 1)
        .unwrap();
    assert_eq!(
        seen(&checked(folder.path())),
        BTreeSet::from([("file-too-large".into(), "causes/huge.toml".into(), 1)])
    );
}

#[cfg(unix)]
#[test]
fn link_that_leads_nowhere_is_a_finding() {
    let folder = laid_over(&bad_trees().join("sound"));
    std::os::unix::fs::symlink("nowhere", folder.path().join("causes/gone.toml")).unwrap();
    assert_eq!(
        seen(&checked(folder.path())),
        BTreeSet::from([("unreadable-file".into(), "causes/gone.toml".into(), 1)])
    );
}

#[test]
fn faulty_knowledge_is_refused_with_the_place_of_the_first_fault() {
    let folder = laid_over(&bad_trees().join("unknown-cause"));
    let error = load(Some(folder.path()), CATALOG).unwrap_err().to_string();
    assert!(error.contains("1 error"), "{error}");
    assert!(error.contains("bench.toml:"), "{error}");
    assert!(error.contains("did you mean `loose-joint`?"), "{error}");
}

#[test]
fn what_only_the_lint_refuses_can_still_be_used() {
    let folder = laid_over(&bad_trees().join("prompt-too-long"));
    assert!(load(Some(folder.path()), CATALOG).is_ok());
    assert!(
        checked(folder.path())
            .findings
            .iter()
            .any(|finding| finding.severity == Severity::Error)
    );
}

#[test]
fn finding_shows_the_line_the_rule_and_the_fix() {
    let checked = checked(laid_over(&bad_trees().join("unknown-cause")).path());
    let text = render::snippet(&checked.files, &checked.findings[0], false);
    let text = text
        .lines()
        .filter(|line| !line.contains("-->"))
        .collect::<Vec<_>>()
        .join("\n");
    insta::assert_snapshot!(text);
    let color = render::snippet(&checked.files, &checked.findings[0], true);
    assert!(color.contains("\u{1b}["), "no color in {color}");
}

/// A file cut anywhere, as an editor or a full disk may leave it, gives findings that can be shown, and no panic.
#[test]
fn file_cut_at_any_byte_is_reported() {
    let sound = Files::read(&bad_trees().join("sound")).unwrap();
    for cut_file in &sound.list {
        for end in (0..cut_file.text.len()).step_by(3) {
            let texts = sound.list.iter().map(|file| {
                let text = if file.name == cut_file.name {
                    &file.text[..end]
                } else {
                    &file.text[..]
                };
                (file.name.clone(), text.to_owned())
            });
            let checked = check(Files::in_memory(texts), CATALOG);
            for finding in &checked.findings {
                assert!(!render::snippet(&checked.files, finding, false).is_empty());
                assert!(!render::data(&checked.files, finding).fix.is_empty());
            }
        }
    }
}

/// Findings that point into text beyond ASCII must not split a character.
#[test]
fn findings_in_text_beyond_ascii_are_shown() {
    let files = Files::in_memory([(
        "causes/x.toml",
        "[cause.\"größe\"]\nnäme = \"Ω\"\nplace = \"öde\"\n",
    )]);
    let checked = check(files, CATALOG);
    let shown: Vec<String> = checked
        .findings
        .iter()
        .map(|finding| render::snippet(&checked.files, finding, false))
        .collect();
    assert!(shown.iter().any(|text| text.contains("näme")), "{shown:?}");
}

/// Order in the files is the order in the knowledge: screens and pools rely on it.
#[test]
fn order_of_the_file_is_kept() {
    let knowledge = checked(&bad_trees().join("sound")).knowledge.unwrap();
    let tests: Vec<&str> = knowledge.tests.iter().map(|test| test.id.as_str()).collect();
    assert_eq!(
        tests,
        [
            "burnt-smell",
            "joint-drop",
            "element-current",
            "current-against-rating"
        ]
    );
    let outcomes: Vec<&str> = knowledge.tests[TestIndex(1)]
        .outcomes
        .iter()
        .map(|outcome| outcome.id.as_str())
        .collect();
    assert_eq!(outcomes, ["bad", "raised", "good"]);
    let nodes: Vec<&str> = knowledge.trees[TreeIndex(1)]
        .nodes
        .iter()
        .map(|node| node.id.as_str())
        .collect();
    assert_eq!(nodes, ["first", "current", "pick", "end"]);
}

/// The matrix and the lint agree on what no test tells apart, and the written reason is kept for whoever shows it.
#[test]
fn matrix_finds_the_pair_the_lint_refuses() {
    use lineside::inference::matrix::{BAR, Field, Matrix};
    let none = |example: &str| {
        let folder = laid_over(&bad_trees().join(example));
        let knowledge = load(Some(folder.path()), CATALOG).unwrap();
        let pairs = Matrix::new(&knowledge, Field::default()).pairs(BAR);
        let without = pairs.iter().filter(|pair| pair.best.is_none()).count();
        (without, knowledge)
    };
    assert_eq!(none("sound").0, 0);
    assert!(none("inseparable-causes").0 > 0);
}

/// A test that stands beside one with a special instrument helps only where both are asked, and must do without one.
#[test]
fn an_ordinary_test_stands_beside_a_special_one_in_each_complaint() {
    let with = |stand_in: &str, other_tree: bool| -> Vec<String> {
        let sound = Files::read(&bad_trees().join("sound")).unwrap();
        let mut files: Vec<(String, String)> = sound
            .list
            .iter()
            .map(|file| {
                let text = file.text.replacen(
                    "instrument = \"multimeter, CAT III\"",
                    &format!("instrument = \"recording voltmeter\"\nstand-in = [\"{stand_in}\"]"),
                    1,
                );
                (file.name.clone(), text)
            })
            .collect();
        if other_tree {
            for (_, text) in &mut files {
                *text = text.replace(
                    "does.element",
                    "does.complaint = { weak-heat = 0.995 }\ndoes.element",
                );
            }
            let text = "[effect.complaint]\nname = \"What it was called in for\"\n\
                 states.weak-heat = { usual = 0.6, says = \"the heat is weak\" }\n\
                 states.cold-room = { usual = 0.4, says = \"the room is cold\" }\n";
            files.push(("effects/complaint.toml".to_owned(), text.to_owned()));
            let text = "[tree]\ncomplaint = \"The room is cold\"\nstart = \"first\"\n\n\
                 [node.first]\nthrough = \"safety\"\nthen = \"pick\"\n\n[node.pick]\nnarrow = [\"joint-drop\"]\nthen = \"end\"\n\n\
                 [node.end]\nclose = true\n";
            files.push(("cold-room.toml".to_owned(), text.to_owned()));
        }
        let checked = check(Files::in_memory(files), CATALOG);
        checked
            .findings
            .iter()
            .map(|finding| format!("{}: {}", finding.code, finding.message))
            .collect()
    };
    assert_eq!(with("element-current", false), Vec::<String>::new());
    // The safety look is asked in both.
    assert_eq!(with("burnt-smell", true), Vec::<String>::new());
    let found = with("element-current", true);
    assert_eq!(found.len(), 1, "{found:?}");
    assert!(
        found[0].starts_with("special-instrument: `cold-room` asks `joint-drop`"),
        "{found:?}"
    );
    let found = with("joint-drop", false);
    assert_eq!(
        found,
        ["special-instrument: `joint-drop` needs a special instrument itself"]
    );
}

/// The rules about each entry wait while there are thousands of faults: with what they add, one file took minutes.
#[test]
fn of_thousands_of_faults_those_of_values_and_ids_come_first() {
    let codes = |causes: usize| -> BTreeSet<&str> {
        let long = "wide ".repeat(30);
        let text: String = (0..causes)
            .map(|cause| format!("[cause.c-{cause}]\nname = \"{long}\"\n"))
            .collect();
        let checked = check(Files::in_memory([("causes/many.toml", text)]), CATALOG);
        checked
            .findings
            .iter()
            .map(|finding| finding.code.as_str())
            .collect()
    };
    let (few, many) = (codes(3), codes(6_000));
    assert!(few.contains("missing-key") && many.contains("missing-key"));
    assert!(many.is_subset(&few) && many.len() < few.len(), "{few:?} {many:?}");
}
