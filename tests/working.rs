//! Every line of working can be keyed in again: the numbers as printed, put into the formula as printed, give the
//! result as printed.
//!
//! Read over the published examples and over seeded inputs for every calculation. What a number may be off is half
//! of its last printed digit, carried through the formula. A line is arithmetic, a comparison, or names the table it
//! was read from; anything else fails.

#![expect(clippy::unwrap_used, reason = "a failed unwrap fails the test")]

use std::collections::{BTreeMap, BTreeSet};

use lineside::standards::calculation::{Inputs, Report, Working};
use lineside::standards::registry;
use serde::Deserialize;

#[path = "working_lines/cases.rs"]
mod cases;
#[path = "working_lines/expression.rs"]
mod expression;

use expression::{parse, unit};

/// Cases drawn for each calculation.
const TRIES: usize = 300;

/// How far the rounding of what is printed may move a result before the line says too little to be keyed in again:
/// 1 %, our choice, a tenth of what a hand-held meter is off.
const COARSE: f64 = 0.01;

/// Half of the last digit kept by the printing: four figures, or as many as stand there; none before the point is lost.
fn half_digit(number: &str) -> f64 {
    let size = number.parse::<f64>().unwrap().abs();
    if size == 0.0 {
        return 0.0;
    }
    if let Some((_, power)) = number.split_once('e') {
        return 0.5 * 10f64.powi(power.parse::<i32>().unwrap() - 3);
    }
    let decimals = number.split_once('.').map_or(0, |parts| parts.1.len() as i32);
    0.5 * 10f64.powi(-decimals.max(3 - size.log10().floor() as i32).max(0))
}

/// A printed result: the number in base units and half of its last digit.
fn result(text: &str) -> Option<(f64, f64)> {
    // The same amount in another unit may follow in parentheses.
    let text = text.split_once(" (").map_or(text, |parts| parts.0);
    let (number, symbol) = text.split_once(' ').unwrap_or((text, ""));
    let value = number.trim_start_matches('+').parse::<f64>().ok()? * unit(symbol)?;
    let half = half_digit(number.trim_start_matches(['+', '-'])) * unit(symbol)?;
    Some((value, half))
}

/// The value of a printed number without its rounding; 1.732 is known to be the root of 3.
fn exact(number: &str, symbol: &str) -> f64 {
    if number == "1.732" && symbol.is_empty() {
        return 3f64.sqrt();
    }
    number.parse::<f64>().unwrap() * unit(symbol).unwrap()
}

/// What stands right of the equals sign; a remark behind a comma is for the reader.
fn right_side(line: &Working) -> &str {
    let formula = line
        .formula
        .split_once(", ")
        .map_or(line.formula.as_str(), |parts| parts.0);
    formula.rsplit_once(" = ").map_or(formula, |parts| parts.1)
}

/// Says what is wrong with a line that claims to be arithmetic.
fn arithmetic(line: &Working) -> Option<String> {
    let formula = right_side(line);
    let put_in = match parse(&line.substituted) {
        Ok(found) => found,
        Err(why) => return Some(why),
    };
    match parse(formula) {
        Ok(formula) => {
            if let Some(why) = formula.differs(&put_in, &mut Vec::new()) {
                return Some(why);
            }
        }
        Err(why) => return Some(why),
    }
    let Some((shown, half)) = result(&line.result) else {
        return Some("the result is no number".to_owned());
    };
    let mut rounding = Vec::new();
    let value = put_in.value(&mut |number, symbol| {
        // A plain number of four figures or more was rounded; `0.9` and `1.25` are what they say.
        let figures = number.chars().filter(char::is_ascii_digit).count();
        let is_exact = symbol.is_empty() && (figures < 5 || number == "1.732");
        rounding.push(if is_exact {
            0.0
        } else {
            half_digit(number) * unit(symbol).unwrap()
        });
        exact(number, symbol)
    });
    let value = match value {
        Ok(value) => value,
        Err(why) => return Some(why),
    };
    let mut allowed = half;
    for (at, half) in rounding.iter().enumerate() {
        let moved = |by: f64| {
            let mut seen = 0;
            put_in
                .value(&mut |number, symbol| {
                    seen += 1;
                    exact(number, symbol) + if seen == at + 1 { by } else { 0.0 }
                })
                .unwrap_or(value)
        };
        allowed += (moved(*half) - value).abs().max((moved(-half) - value).abs());
    }
    let off = (value - shown).abs();
    let most = allowed * (1.0 + 1e-6) + 1e-12 * value.abs();
    // What is no number is wrong, too.
    if off > most || off.is_nan() {
        return Some(format!("gives {value}, printed {shown}, {allowed} allowed"));
    }
    if off > 2.1 * half && off > COARSE * shown.abs() {
        return Some(format!(
            "gives {value}, printed {shown}: too few digits to be keyed in again"
        ));
    }
    None
}

/// Says what is wrong with `a <= b` that holds or is broken.
fn comparison(line: &Working) -> Option<String> {
    let (sign, (left, right)) = ["<=", ">="]
        .into_iter()
        .find_map(|sign| Some((sign, line.substituted.split_once(&format!(" {sign} "))?)))?;
    let value = |text: &str| parse(text).and_then(|found| found.value(&mut exact));
    match (value(left), value(right), line.result.as_str()) {
        (Ok(left), Ok(right), "holds" | "broken") => {
            let holds = if sign == "<=" {
                left <= right
            } else {
                left >= right
            };
            // Amounts that print alike may lie on either side.
            let alike = (left - right).abs() <= 1e-3 * right.abs();
            (!alike && holds != (line.result == "holds")).then(|| "the comparison is wrong".to_owned())
        }
        (Err(why), ..) | (_, Err(why), _) => Some(why),
        _ => Some("a comparison holds or is broken".to_owned()),
    }
}

/// Says whether a line names a table or rule that stands among the sources of its report.
fn is_read_off(line: &Working, report: &Report) -> bool {
    let label = right_side(line);
    let is_label = !label.contains(['+', '/', '^', '(']) && !label.contains(" x ");
    is_label
        && report.sources.iter().any(|source| {
            let name = source.split([':', ',']).next().unwrap_or(source);
            !name.is_empty() && line.substituted.contains(name)
        })
}

fn wrong(line: &Working, report: &Report) -> Option<String> {
    let long = [&line.formula, &line.substituted, &line.result]
        .into_iter()
        .flat_map(|text| text.split(|c: char| !c.is_ascii_digit()))
        .find(|digits| digits.len() > 9);
    if let Some(digits) = long {
        return Some(format!("nobody keys in {digits}"));
    }
    if is_read_off(line, report) {
        None
    } else if ["<=", ">="].iter().any(|sign| line.formula.contains(sign)) {
        comparison(line)
    } else {
        arithmetic(line)
    }
}

#[derive(Default)]
struct Findings {
    by_line: BTreeMap<String, (usize, String)>,
    formulas: BTreeSet<(String, String)>,
    lines: usize,
}

impl Findings {
    fn read(&mut self, report: &Report, typed: &str) {
        for line in &report.working {
            self.lines += 1;
            self.formulas
                .insert((report.calculation.to_owned(), line.formula.clone()));
            if let Some(why) = wrong(line, report) {
                let entry = self
                    .by_line
                    .entry(format!("{}: {}", report.calculation, line.formula))
                    .or_insert_with(|| {
                        let said =
                            format!("{} -> {}: {why}\n      of {typed}", line.substituted, line.result);
                        (0, said)
                    });
                entry.0 += 1;
            }
        }
    }

    fn demand_none(&self) {
        let said: Vec<_> = self
            .by_line
            .iter()
            .map(|(line, (times, example))| format!("{line}  [{times} times]\n    {example}"))
            .collect();
        assert!(
            said.is_empty(),
            "{} of {} formulas cannot be keyed in again ({} lines read):\n{}",
            said.len(),
            self.formulas.len(),
            self.lines,
            said.join("\n")
        );
    }
}

#[derive(Deserialize)]
struct File {
    example: Vec<Example>,
}

#[derive(Deserialize)]
struct Example {
    run: Vec<Run>,
}

#[derive(Deserialize)]
struct Run {
    calculation: String,
    inputs: BTreeMap<String, String>,
}

#[test]
fn the_working_of_every_published_example_can_be_keyed_in_again() {
    let mut findings = Findings::default();
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/published");
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|extension| extension != "toml") {
            continue;
        }
        let file: File = toml::from_str(&std::fs::read_to_string(&path).unwrap()).unwrap();
        for run in file.example.iter().flat_map(|example| &example.run) {
            let calculation = registry::find(&run.calculation).unwrap();
            let mut inputs = Inputs::default();
            for (name, text) in &run.inputs {
                inputs.parse(calculation, name, text).unwrap();
            }
            findings.read(&(calculation.run)(&inputs).unwrap(), &format!("{:?}", run.inputs));
        }
    }
    assert!(findings.lines > 150, "{}", findings.lines);
    findings.demand_none();
}

/// A seed by name (FNV-1a), so that a new calculation draws no other cases for those beside it.
fn seed(name: &str) -> u64 {
    name.bytes().fold(0xcbf2_9ce4_8422_2325, |hash, byte| {
        (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3)
    })
}

#[test]
fn the_working_of_drawn_cases_can_be_keyed_in_again() {
    let mut findings = Findings::default();
    for calculation in registry::all() {
        let cases = cases::draw(calculation, TRIES, seed(calculation.name));
        assert!(
            cases.len() >= 20,
            "{}: only {} cases",
            calculation.name,
            cases.len()
        );
        for case in cases {
            findings.read(&case.report, &case.typed);
        }
    }
    findings.demand_none();
}
