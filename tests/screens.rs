//! What a person sees, as snapshots: results at 80 and 60 columns, and the help of every command.

use std::convert::Infallible;
use std::fs;
use std::path::Path;
use std::process::Command;

use lineside::knowledge;
use lineside::report::CaseResult;
use lineside::report::first::{self, Below};
use lineside::report::layout::Layout;
use lineside::report::text::render;
use lineside::walk::{AnswerFile, Event, Walk, drive};

fn result_of(example: &str, width: usize) -> String {
    render(&case_of(example), Layout { width, color: false })
}

/// The result of an example.
pub(crate) fn case_of(example: &str) -> CaseResult {
    let knowledge = knowledge::embedded().expect("the knowledge compiled in is sound");
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("examples")
        .join(example);
    let text = fs::read_to_string(path).expect("an example is text");
    let mut answers = AnswerFile::parse(&text, &knowledge).expect("the example is valid");
    let mut walk = Walk::new(&knowledge);
    drive::<Infallible>(&mut walk, &mut answers, &mut |_: &Event| Ok(()))
        .expect("an answer file never stalls");
    CaseResult::new(&walk).expect("complaint and equipment are known")
}

#[test]
fn a_result_with_a_calculation_at_80_columns() {
    insta::assert_snapshot!(result_of("freezer-on-the-circuit.toml", 80));
}

#[test]
fn a_result_that_stops_for_safety_at_80_columns() {
    insta::assert_snapshot!(result_of("two-boards-later.toml", 80));
}

#[test]
fn a_result_with_few_checks_at_60_columns() {
    insta::assert_snapshot!(result_of("attic-at-noon.toml", 60));
}

#[test]
fn a_result_as_data() {
    let result = case_of("attic-at-noon.toml").shortened();
    let data = serde_json::to_string_pretty(&result).expect("it is data");
    let lines: Vec<String> = data.lines().map(form).collect();
    insta::assert_snapshot!(lines.join("\n"));
}

/// A line without what moves with every edit of the knowledge: its fingerprint, and every figure with a fraction.
fn form(line: &str) -> String {
    let Some((key, value)) = line.split_once("\": ") else {
        return line.to_owned();
    };
    let figure = value.trim_end_matches(',');
    let moves = key.ends_with("\"knowledge") || figure.contains('.') && figure.parse::<f64>().is_ok();
    if moves {
        format!("{key}\": {}", value.replace(figure, "..."))
    } else {
        line.to_owned()
    }
}

#[test]
fn no_line_is_wider_than_the_screen() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples");
    for entry in fs::read_dir(folder).expect("there is a folder of examples") {
        let name = entry
            .expect("it can be read")
            .file_name()
            .to_string_lossy()
            .into_owned();
        if !name.ends_with(".toml") {
            continue;
        }
        for width in [60, 80] {
            for line in result_of(&name, width).lines() {
                assert!(line.chars().count() <= width, "{name} at {width}: {line}");
            }
        }
    }
}

/// What stands on the first screen besides: the rule, two entries, the letters and the line of the cursor.
const BESIDES_AT_80: usize = 6;
const BESIDES_AT_60: usize = 7;

#[test]
fn the_first_screen_of_every_example_fits_with_the_dangers_the_cause_and_one_step() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples");
    let mut most = 0;
    for entry in fs::read_dir(folder).expect("there is a folder of examples") {
        let name = entry
            .expect("it can be read")
            .file_name()
            .to_string_lossy()
            .into_owned();
        if !name.ends_with(".toml") {
            continue;
        }
        let result = case_of(&name);
        for (width, besides) in [(79, BESIDES_AT_80), (59, BESIDES_AT_60)] {
            let layout = Layout { width, color: false };
            let lines = first::lines(&result, layout, 24 - besides, Below::OnKeys);
            let flat = lines.join(" ").split_whitespace().collect::<Vec<_>>().join(" ");
            // Safety is never cut: three holds and a stop take a narrow screen, and the first screen is longer then.
            let dangers: usize = result
                .held
                .iter()
                .map(|held| held.says.len() / (width - 8) + 1)
                .sum();
            assert!(
                lines.len() <= 24 - besides || dangers >= 4 || result.state == "halted",
                "{name} at {width}: {} lines\n{}",
                lines.len(),
                lines.join("\n")
            );
            most = most.max(lines.len());
            for held in &result.held {
                // Of many each stands by its name, and whole on its key.
                let named = flat.contains("each in full: key !") && flat.contains(&held.name);
                assert!(
                    flat.contains(held.says.trim()) || (held.off && named),
                    "{name}: `{}` is cut\n{flat}",
                    held.says
                );
            }
            assert!(flat.contains("NEXT"), "{name}: no next step\n{flat}");
            assert!(flat.contains("key !"), "{name}: no word of the cautions\n{flat}");
            assert!(!flat.contains(" bit"), "{name}: bits are for programs\n{flat}");
            let leader = &result.standing[0].name;
            if result.state != "halted" {
                assert!(
                    flat.contains(leader.as_str()),
                    "{name}: {leader} is missing\n{flat}"
                );
            }
        }
    }
    assert!(most > 10, "nothing was shown");
}

#[test]
fn color_changes_no_word() {
    let strip = |text: &str| console::strip_ansi_codes(text).into_owned();
    let plain = result_of("third-pull-out.toml", 80);
    let knowledge = knowledge::embedded().expect("the knowledge compiled in is sound");
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/third-pull-out.toml");
    let text = fs::read_to_string(path).expect("an example is text");
    let mut answers = AnswerFile::parse(&text, &knowledge).expect("the example is valid");
    let mut walk = Walk::new(&knowledge);
    drive::<Infallible>(&mut walk, &mut answers, &mut |_: &Event| Ok(()))
        .expect("an answer file never stalls");
    let result = CaseResult::new(&walk).expect("complaint and equipment are known");
    let colored = render(
        &result,
        Layout {
            width: 80,
            color: true,
        },
    );
    assert!(colored.contains('\u{1b}'));
    assert_eq!(strip(&colored), plain);
}

/// One snapshot for each command, so that two changes to the help of two commands do not meet in one file.
#[test]
fn help_of_every_command() {
    let mut different = Vec::new();
    for command in commands() {
        let output = Command::new(env!("CARGO_BIN_EXE_lineside"))
            .args(&command)
            .arg("--help")
            .env_clear()
            .env("COLUMNS", "80")
            .output()
            .expect("the program starts");
        assert!(output.status.success(), "{command:?}");
        let help = String::from_utf8(output.stdout).expect("help is text");
        let name = ["help", &command.join("-")].join("-");
        let compared = std::panic::catch_unwind(|| insta::assert_snapshot!(name.trim_end_matches('-'), help));
        if compared.is_err() {
            different.push(command.join(" "));
        }
    }
    assert!(
        different.is_empty(),
        "the help of these changed: {different:?}. Read each; to accept them: INSTA_UPDATE=always cargo test --test all screens::"
    );
}

/// Every command and every command below it, as the help lists them; the first is the program itself.
fn commands() -> Vec<Vec<String>> {
    let mut all: Vec<Vec<String>> = vec![Vec::new()];
    let mut next = 0;
    while let Some(command) = all.get(next).cloned() {
        let output = Command::new(env!("CARGO_BIN_EXE_lineside"))
            .args(&command)
            .arg("--help")
            .env_clear()
            .output()
            .expect("the program starts");
        let help = String::from_utf8(output.stdout).expect("help is text");
        let below = help
            .lines()
            .skip_while(|line| *line != "Commands:")
            .skip(1)
            .take_while(|line| line.starts_with("  "))
            .filter(|line| !line.starts_with("   "))
            .filter_map(|line| line.strip_prefix("  ")?.split_whitespace().next())
            .filter(|name| *name != "help" && name.chars().all(|c| c.is_ascii_lowercase()));
        all.extend(below.map(|name| {
            let mut longer = command.clone();
            longer.push(name.to_owned());
            longer
        }));
        next += 1;
    }
    assert!(all.len() > 20, "{all:?}");
    all
}
