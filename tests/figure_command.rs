//! `lineside figure`: the catalog, one calculation from the command line, and what bad input gets.

#![expect(clippy::unwrap_used, reason = "a failed unwrap fails the test")]

use std::collections::BTreeSet;

use lineside::cli::figure::{FigureArgs, ask, run};
use lineside::cli::{Done, Format, Printed, Problem};
use lineside::standards::registry;
use serde_json::Value as Json;

fn figure(name: Option<&str>, set: &[&str], format: Format) -> Result<String, Problem> {
    let args = FigureArgs {
        name: name.map(str::to_owned).into_iter().collect(),
        set: set.iter().map(|pair| (*pair).to_owned()).collect(),
        print: Printed::of(format),
    };
    let mut out = Vec::new();
    assert_eq!(run(&args, &mut out)?, Done::Well);
    Ok(String::from_utf8(out).unwrap())
}

fn json(name: Option<&str>, set: &[&str]) -> Json {
    serde_json::from_str(&figure(name, set, Format::Json).unwrap()).unwrap()
}

#[track_caller]
fn refused(name: &str, set: &[&str], code: u8, parts: &[&str]) {
    let problem = figure(Some(name), set, Format::Text).expect_err("should be refused");
    let text = problem.to_string();
    assert_eq!(problem.exit_code(), code, "{text}");
    for part in parts {
        assert!(text.contains(part), "`{text}` does not say `{part}`");
    }
}

/// Splits a command as a shell would: at blanks, quotes taken off, a backslash at the end of a line joins lines.
fn words(command: &str) -> Vec<String> {
    let mut words = vec![String::new()];
    let mut quoted = false;
    for letter in command.replace("\\\n", " ").chars() {
        match letter {
            '\'' => quoted = !quoted,
            ' ' if !quoted => words.push(String::new()),
            other => words.last_mut().unwrap().push(other),
        }
    }
    words.retain(|word| !word.is_empty());
    words
}

/// A figure far outside says what to do now, and asks for nothing that makes it worse.
#[test]
fn what_is_dangerous_now_is_said_with_the_figure() {
    let said = |name: &str, set: &[&str]| {
        let text = figure(Some(name), set, Format::Text).unwrap();
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    for set in [
        ["leg-1-voltage=60V", "leg-2-voltage=120V"],
        ["leg-1-voltage=50V", "leg-2-voltage=190V"],
    ] {
        let text = said("leg-balance", &set);
        assert!(text.contains("load off") && text.contains("utility"), "{text}");
        assert!(!text.contains("read both again"), "{text}");
    }
    let joint = |volts: &str| {
        said(
            "joint-drop",
            &[volts, "load-current=20A", "joint-kind=screw-joint"],
        )
    };
    assert!(joint("joint-voltage=9V").contains("off now"));
    assert!(!joint("joint-voltage=0.2V").contains("off now"));
    let range = |measured: &str| said("voltage-range", &["rated-voltage=230V", measured]);
    assert!(range("measured-voltage=480V").contains("leave it off"));
    assert!(range("measured-voltage=120V").contains("leg may be missing"));
    assert!(!range("measured-voltage=258V").contains("leave it off"));
}

#[test]
fn every_block_of_the_examples_prints_what_it_says() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/examples/figures.md");
    let text = std::fs::read_to_string(path).unwrap();
    let mut shown = BTreeSet::new();
    for block in text
        .split("```\n")
        .filter(|block| block.starts_with("$ lineside figure "))
    {
        // The command goes on while its lines end in a backslash.
        let (mut command, mut printed) = block.split_once('\n').map(|(c, p)| (c.to_owned(), p)).unwrap();
        while command.ends_with('\\') {
            let (more, rest) = printed.split_once('\n').unwrap();
            command = format!("{command}\n{more}");
            printed = rest;
        }
        let words = words(&command);
        let name = words[3].clone();
        let set: Vec<&str> = words[4..]
            .iter()
            .filter(|word| *word != "--set")
            .map(String::as_str)
            .collect();
        let found =
            figure(Some(&name), &set, Format::Text).unwrap_or_else(|problem| panic!("{command}\n{problem}"));
        assert!(
            found.starts_with(printed),
            "{command}\nprints\n{found}\nand not\n{printed}"
        );
        shown.insert(name);
    }
    let all: BTreeSet<_> = registry::all()
        .iter()
        .map(|calculation| calculation.name.to_owned())
        .collect();
    assert_eq!(shown, all, "every calculation once in examples/figures.md");
}

#[test]
fn the_catalog_says_enough_to_use_every_calculation_without_the_source() {
    let catalog = json(None, &[]);
    let list = catalog["calculations"].as_array().unwrap();
    assert_eq!(list.len(), registry::all().len());
    for calculation in list {
        assert!(!calculation["title"].as_str().unwrap().is_empty());
        for input in calculation["inputs"].as_array().unwrap() {
            for key in [
                "name", "takes", "unit", "choices", "range", "default", "required", "meaning",
            ] {
                assert!(input.get(key).is_some(), "{} lacks {key}", input["name"]);
            }
            assert!(input["meaning"].as_str().unwrap().len() > 5);
        }
        assert!(
            calculation["verdicts"]
                .as_array()
                .unwrap()
                .iter()
                .any(|verdict| verdict["id"] == "cannot-tell")
        );
    }
    let text = figure(None, &[], Format::Text).unwrap();
    for calculation in registry::all() {
        assert!(text.contains(calculation.name));
    }
    assert!(
        text.lines().all(|line| line.chars().count() <= 80),
        "fits 80 columns"
    );
}

#[test]
fn the_list_is_grouped_and_words_of_the_trade_find_theirs() {
    let text = figure(None, &[], Format::Text).unwrap();
    let heading = text.lines().next().unwrap();
    assert!(heading.starts_with("Nameplate"), "{heading}");
    for (word, name) in [
        ("mca", "nameplate-rebuild"),
        ("mocp", "protection-check"),
        ("rla", "running-current-check"),
        ("fla", "motor-circuit"),
        ("LRA", "locked-rotor"),
    ] {
        let found = figure(Some(word), &[], Format::Text).unwrap();
        assert!(
            found.lines().any(|line| line.trim().starts_with(name)),
            "{word} finds\n{found}"
        );
    }
    let found = json(Some("lra"), &[]);
    assert_eq!(found["calculations"][0]["name"], "locked-rotor");
    refused("plumbing", &[], 2, &["no calculation `plumbing`"]);
    // A name typed in two words is that name.
    let args = FigureArgs {
        name: vec!["Voltage".to_owned(), "drop".to_owned()],
        set: Vec::new(),
        print: Printed::of(Format::Json),
    };
    let mut out = Vec::new();
    run(&args, &mut out).unwrap();
    let entry: Json = serde_json::from_slice(&out).unwrap();
    assert_eq!(entry["name"], "voltage-drop");
}

#[test]
fn what_was_understood_stands_with_its_unit_and_temperatures_in_both_scales() {
    let text = figure(
        Some("winding-temperature"),
        &[
            "cold-resistance=2",
            "hot-resistance=2.3+0.1",
            "cold-temperature=20",
        ],
        Format::Text,
    )
    .unwrap();
    for line in [
        "  cold-resistance                    2 ohm",
        "  hot-resistance                     2.4 ohm, from 2.3+0.1",
        "  cold-temperature                   20 C (68 F)",
    ] {
        assert!(text.contains(line), "{text}");
    }
    let result = text
        .lines()
        .find(|line| line.contains("  hot-temperature"))
        .unwrap();
    assert!(result.ends_with(" F)"), "{result}");
    // A figure that can only be Fahrenheit is refused with that hint.
    refused(
        "winding-temperature",
        &["cold-temperature=140"],
        1,
        &["140 C (284 F)", "write `F` behind"],
    );
}

#[test]
fn a_result_for_a_program_has_everything_in_it() {
    let set = [
        "protective-device-rating=50",
        "minimum-circuit-ampacity=31 A",
        "maximum-overcurrent-protection=40 A",
    ];
    let result = json(Some("protection-check"), &set);
    assert_eq!(result["verdict"], "above-maximum");
    assert_eq!(result["violates"], true);
    assert_eq!(result["inputs"]["protective-device-rating"]["shown"], "50 A");
    assert_eq!(result["outputs"]["allowed-maximum"]["value"], 40.0);
    assert_eq!(result["outputs"]["allowed-maximum"]["unit"], "A");
    assert!((result["margin"].as_f64().unwrap() + 0.25).abs() < 1e-12);
    assert!(
        result["working"]
            .as_array()
            .unwrap()
            .iter()
            .all(|line| line["formula"].is_string())
    );
    assert!(result["sources"].to_string().contains("440.22(C)"));
    assert!(
        result["assumptions"]
            .to_string()
            .contains("the local authority decides")
    );
}

#[test]
fn the_edition_given_is_the_edition_cited() {
    let cited = |edition: &str| {
        let edition = format!("code-edition={edition}");
        let set = [
            "heater-power=5 kW",
            "heater-rated-voltage=240",
            "protective-device-rating=30",
            &edition,
        ];
        json(Some("heat-circuit-size"), &set)["limits"].to_string()
    };
    assert!(cited("2017").contains("NEC 2017 424.3(B)"), "{}", cited("2017"));
    assert!(cited("2023").contains("NEC 2023 424.4(B)"));
    assert!(cited("2026").contains("not checked for 2026"));
}

#[test]
fn what_cannot_be_understood_is_wrong_usage_with_a_way_on() {
    refused(
        "heater-curent",
        &["heater-power=5 kW"],
        2,
        &["no calculation", "did you mean `heater-current`"],
    );
    refused(
        "heater-current",
        &["heater-power"],
        2,
        &["has no `=`", "--set input=value"],
    );
    refused(
        "heater-current",
        &["heater-pover=5 kW"],
        2,
        &["no input", "did you mean `heater-power`"],
    );
    refused(
        "heater-current",
        &["heater-power=5 V"],
        2,
        &["is a voltage, expected a power in kW"],
    );
    refused(
        "heater-current",
        &["heater-power=5 kW"],
        2,
        &["`heater-rated-voltage` is missing", "add `--set"],
    );
    refused(
        "heater-current",
        &["heater-power=5", "heater-power=6"],
        2,
        &["set twice"],
    );
    refused(
        "conductor-check",
        &["conductor-size=9 AWG"],
        2,
        &["the nearest are 10 AWG and 8 AWG"],
    );
    refused(
        "conductor-check",
        &["conductor-metal=tin"],
        2,
        &["`copper` or `aluminum`"],
    );
    let problem = figure(None, &["heater-power=5 kW"], Format::Text).expect_err("nothing to set it for");
    assert_eq!(problem.exit_code(), 2);
}

#[test]
fn values_that_cannot_be_are_a_problem_of_the_data() {
    refused(
        "protection-check",
        &[
            "protective-device-rating=40",
            "minimum-circuit-ampacity=45",
            "maximum-overcurrent-protection=40",
        ],
        1,
        &["`minimum-circuit-ampacity` 45 A is above `maximum-overcurrent-protection` 40 A"],
    );
    refused(
        "compressor-device-limit",
        &["rated-load-current=80", "locked-rotor-current=20"],
        1,
        &["the two have been swapped"],
    );
    refused(
        "heater-current",
        &["supply-voltage=5 MV"],
        1,
        &[
            "`supply-voltage` is 5 MV, expected 1 V to 1000 V",
            "rules of its own",
        ],
    );
    refused(
        "leg-balance",
        &["leg-1-voltage=480", "leg-2-voltage=480"],
        1,
        &["0 V to 300 V"],
    );
    refused(
        "ohms-law",
        &["voltage=1 V", "current=1 A", "power=1 W"],
        1,
        &["give any two"],
    );
}

#[test]
fn asking_repeats_what_it_cannot_read_and_leaves_out_what_may_be() {
    let calculation = registry::find("capacitor-under-load").unwrap();
    let mut typed = "much\n4.9\n352 V\n45\n\n\n\n".as_bytes();
    let mut screen = Vec::new();
    let (inputs, _) = ask(calculation, &mut typed, &mut screen).unwrap();
    let report = (calculation.run)(&inputs).unwrap();
    assert_eq!(report.verdict, "low");
    let screen = String::from_utf8(screen).unwrap();
    assert!(screen.contains("`much` does not begin with a number"), "{screen}");
    assert!(screen.contains("tolerance (%; Enter for 6 %)"), "{screen}");
    assert!(screen.contains("meter-error (%; Enter to leave out)"), "{screen}");

    // A bare number is said back with its unit; what was said in another way already is not asked again.
    let run = registry::find("longest-run").unwrap();
    let mut typed = "240\n\n7.2\n19.9+1.4\n10\n\n\n\n\n\n".as_bytes();
    let mut heard = Vec::new();
    let (inputs, _) = ask(run, &mut typed, &mut heard).unwrap();
    let heard = String::from_utf8(heard).unwrap();
    assert!(heard.contains("= 240 V") && heard.contains("= 21.3 A"), "{heard}");
    assert!(!heard.contains("out-ohms-per-km"), "{heard}");
    assert!((run.run)(&inputs).is_ok());

    let mut cut = "4.9\n".as_bytes();
    let problem = ask(calculation, &mut cut, &mut Vec::new()).expect_err("the input ends early");
    assert_eq!(problem.exit_code(), 1);
}

#[test]
fn without_a_keyboard_a_name_alone_shows_what_it_takes() {
    // Format JSON never asks, so this holds wherever the test runs.
    let entry = json(Some("leg-balance"), &[]);
    assert_eq!(entry["name"], "leg-balance");
    assert_eq!(entry["inputs"][0]["takes"], "voltage");
}

#[test]
fn a_long_source_is_wrapped_but_its_address_is_not_cut() {
    let text = figure(
        Some("conductor-check"),
        &[
            "minimum-circuit-ampacity=20",
            "conductor-size=10",
            "conductor-metal=copper",
        ],
        Format::Text,
    )
    .unwrap();
    assert!(
        text.contains("https://engineerboards.com/threads/nec-table-310-15-b-2-a-and-b.27269"),
        "{text}"
    );
    let is_address = |line: &str| line.trim().starts_with("http");
    assert!(
        text.lines()
            .all(|line| line.chars().count() <= 80 || is_address(line)),
        "{text}"
    );
    assert!(text.trim_end().ends_with("licensed practice come first."));
}
