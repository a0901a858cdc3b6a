//! A calculation and its result for people.

use std::collections::BTreeMap;

use crate::quantity::{Quantity, Value, ValueKind, Word};
use crate::standards::calculation::{CANNOT_TELL, Calculation, Input, Inputs, Report};

const DEFER: &str = "Local codes, the equipment's own instructions and licensed practice come first.";

/// What one calculation takes and gives.
pub(super) fn entry_text(calculation: &Calculation) -> String {
    let mut text = format!("{}\n{}\n\nInputs\n", calculation.name, calculation.title);
    for input in calculation.inputs {
        let need = if input.is_required() {
            "required"
        } else {
            "optional"
        };
        text.push_str(&format!("  {:<34} {}, {need}", input.name, takes(input)));
        if let Some(default) = input.default {
            text.push_str(&format!(", {default} when left out"));
        }
        if let Some(other) = input.same_as {
            text.push_str(&format!(", as `{other}` when left out"));
        }
        text.push('\n');
        text.push_str(&wrapped(input.meaning, "      ", "      "));
        text.push('\n');
    }
    text.push_str("\nOutputs\n");
    for output in calculation.outputs {
        text.push_str(&format!("  {:<34} {}\n", output.name, output.meaning));
    }
    text.push_str("\nVerdicts\n");
    for verdict in calculation.verdicts {
        let broken = if verdict.violates {
            " (a limit is broken)"
        } else {
            ""
        };
        text.push_str(&format!("  {:<34} {}{broken}\n", verdict.id, verdict.meaning));
    }
    text.push_str(&format!(
        "  {CANNOT_TELL:<34} Always possible; the finding says what would tell.\n"
    ));
    text
}

fn takes(input: &Input) -> String {
    match input.kind {
        ValueKind::Choice => input.choices.join(" or "),
        ValueKind::Size => "conductor size".to_owned(),
        ValueKind::Loads => "loads".to_owned(),
        ValueKind::Quantity(kind) | ValueKind::Quantities(kind) => {
            let list = if matches!(input.kind, ValueKind::Quantities(_)) {
                "list of "
            } else {
                ""
            };
            let unit = if input.symbol.is_empty() {
                String::new()
            } else if input.symbol == "C" {
                " in C (write F behind Fahrenheit)".to_owned()
            } else {
                format!(" in {}", input.symbol)
            };
            format!("{list}{}{unit}", kind.word())
        }
    }
}

/// A result with everything needed to check it by hand, first of all what was understood.
pub(super) fn report_text(
    calculation: &Calculation,
    inputs: &Inputs,
    typed: &Typed,
    report: &Report,
) -> String {
    let violates = calculation.is_violated_by(report);
    let mut text = format!("{}: {}", report.calculation, report.verdict);
    if violates {
        text.push_str(" (a published limit is broken)");
    }
    text.push('\n');
    text.push_str(&wrapped(&sentence(&report.finding), "", ""));
    text.push_str("\n\n");
    if !inputs.0.is_empty() {
        text.push_str("Understood\n");
        for (name, value) in &inputs.0 {
            let sum = typed.get(name).filter(|typed| typed.contains('+'));
            let sum = sum
                .map(|typed| format!(", from {}", typed.trim()))
                .unwrap_or_default();
            text.push_str(&format!("  {name:<34} {}{sum}\n", understood(value)));
        }
        text.push('\n');
    }
    if !report.outputs.is_empty() {
        text.push_str("Results\n");
        for (name, value) in &report.outputs {
            text.push_str(&format!("  {name:<34} {}\n", understood(value)));
        }
    }
    if !report.working.is_empty() {
        text.push_str("\nWorking\n");
        for line in &report.working {
            text.push_str(&wrapped(&format!("{}:", line.formula), "  ", "    "));
            text.push('\n');
            text.push_str(&wrapped(
                &format!("{}  ->  {}", line.substituted, line.result),
                "      ",
                "        ",
            ));
            text.push('\n');
        }
    }
    if !report.limits.is_empty() {
        text.push_str("\nLimits\n");
        for limit in &report.limits {
            let margin = Quantity::ratio(limit.margin);
            text.push_str(&wrapped(
                &format!("{} (margin {margin}): {}", limit.text, limit.source),
                "  ",
                "      ",
            ));
            text.push('\n');
        }
    }
    for (head, lines) in [
        ("Assumed", &report.assumptions),
        ("To mind", &report.notes),
        ("Sources", &report.sources),
    ] {
        if !lines.is_empty() {
            text.push_str(&format!("\n{head}\n"));
            for line in lines {
                text.push_str(&wrapped(line, "  - ", "    "));
                text.push('\n');
            }
        }
    }
    text.push_str(&format!("\n{DEFER}\n"));
    text
}

/// A value with its unit, temperatures in both scales.
pub(super) fn understood(value: &Value) -> String {
    match value {
        Value::Quantity(quantity) => quantity.in_both_scales(),
        Value::Quantities(all) => all
            .iter()
            .map(Quantity::in_both_scales)
            .collect::<Vec<_>>()
            .join(", "),
        other => other.to_string(),
    }
}

/// Makes a finding a sentence: findings begin in lowercase where a number or name does not come first.
fn sentence(finding: &str) -> String {
    let mut letters = finding.chars();
    let first = letters
        .next()
        .map(|letter| letter.to_uppercase().to_string())
        .unwrap_or_default();
    format!("{first}{}.", letters.as_str().trim_end_matches('.'))
}

/// Wraps to the width of the page; nothing is cut inside a word.
pub(super) fn wrapped(text: &str, first: &str, later: &str) -> String {
    let options = textwrap::Options::new(WIDTH)
        .initial_indent(first)
        .subsequent_indent(later)
        .break_words(false)
        // At spaces only, so that an address is never cut.
        .word_separator(textwrap::WordSeparator::AsciiSpace)
        .word_splitter(textwrap::WordSplitter::NoHyphenation);
    textwrap::fill(text, options)
}

/// What was typed for each input, by its name.
pub type Typed = BTreeMap<String, String>;

/// Width the text is wrapped to.
const WIDTH: usize = 80;
