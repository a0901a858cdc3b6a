//! `figure`: one calculation with its working, or the catalog of all of them.

use std::io::{self, BufRead, IsTerminal, Write};

use clap::Args;
use clap::builder::{PossibleValue, PossibleValuesParser};
use serde_json::{Map, Value as Json, json};

use crate::knowledge::nearest::did_you_mean;
use crate::quantity::{Quantity, Value, ValueKind};
use crate::standards::registry::{self, CANNOT_TELL, Calculation, Input, InputError, Inputs, Report};

use super::{Done, Format, Problem};

/// Shown below the help of the command.
pub const EXAMPLES: &str = "\
Examples:
  lineside figure                                   list the calculations
  lineside figure heater-current                    be asked for its inputs
  lineside figure heater-current --set heater-power='9.6 kW' --set heater-rated-voltage='240 V' \\
      --set supply-voltage='208 V'                  answer at once
  lineside figure --format json                     the whole catalog, for a program

Exit code: 0 worked out, whatever the verdict; 1 inputs that contradict each other or are out of
range; 2 wrong usage.";

/// Width the text is wrapped to.
const WIDTH: usize = 80;

const DEFER: &str = "Local codes, the equipment's own instructions and licensed practice come first.";

/// Work one thing out against published limits, with its working
#[derive(Args, Clone, Debug, Default)]
pub struct FigureArgs {
    /// Calculation to make; left out, all are listed
    #[arg(value_name = "NAME", value_parser = names(), hide_possible_values = false)]
    pub name: Option<String>,
    /// An input and its value with its unit, such as `supply-voltage=208 V` (may be repeated)
    #[arg(long = "set", value_name = "INPUT=VALUE")]
    pub set: Vec<String>,
    /// How to print
    #[arg(long, value_enum, default_value_t)]
    pub format: Format,
}

/// Every calculation, for the help and for the check of what was typed.
fn names() -> PossibleValuesParser {
    PossibleValuesParser::new(
        registry::all()
            .iter()
            .map(|calculation| PossibleValue::new(calculation.name).help(calculation.title)),
    )
}

/// Runs the command: prints the catalog, what one calculation takes, or its result.
///
/// With a name and no `--set`, asks at the keyboard when there is one, and otherwise prints what it takes.
///
/// # Errors
/// [`Problem`] with exit code 2 for a name or text that cannot be understood, 1 for values that contradict each
/// other or lie outside what is possible.
pub fn run(args: &FigureArgs, out: &mut dyn Write) -> Result<Done, Problem> {
    let Some(name) = &args.name else {
        if let Some(set) = args.set.first() {
            return Err(
                Problem::usage(format!("`--set {set}` without a calculation to set it for"))
                    .hint("name one first: `lineside figure` lists them"),
            );
        }
        return put(out, &catalog(args.format)?);
    };
    let calculation = find(name)?;
    if args.set.is_empty() {
        let stdin = io::stdin();
        if args.format == Format::Text && stdin.is_terminal() && io::stderr().is_terminal() {
            let inputs = ask(calculation, &mut stdin.lock(), &mut io::stderr())?;
            return answer(calculation, &inputs, args.format, out);
        }
        return put(out, &entry(calculation, args.format)?);
    }
    let inputs = given(calculation, &args.set)?;
    answer(calculation, &inputs, args.format, out)
}

fn find(name: &str) -> Result<&'static Calculation, Problem> {
    registry::find(name).ok_or_else(|| {
        let known = registry::all().iter().map(|calculation| calculation.name);
        Problem::usage(format!("no calculation `{name}`")).hint(did_you_mean(
            name,
            known,
            "`lineside figure` lists them",
        ))
    })
}

fn given(calculation: &Calculation, set: &[String]) -> Result<Inputs, Problem> {
    let mut inputs = Inputs::default();
    for pair in set {
        let (name, text) = pair.split_once('=').ok_or_else(|| {
            Problem::usage(format!("`--set {pair}` has no `=`")).hint("write `--set input=value`")
        })?;
        let name = name.trim();
        if inputs.get(name).is_some() {
            return Err(Problem::usage(format!("`{name}` is set twice")));
        }
        inputs
            .parse(calculation, name, text)
            .map_err(|error| refused(calculation, error))?;
    }
    Ok(inputs)
}

/// Turns a refused input into a problem with the next thing to do.
fn refused(calculation: &Calculation, error: InputError) -> Problem {
    match &error {
        InputError::Unknown {
            input,
            calculation: name,
            ..
        } => {
            let known = calculation.inputs.iter().map(|input| input.name);
            let all = known.clone().collect::<Vec<_>>().join(", ");
            Problem::usage(format!("no input `{input}` in `{name}`")).hint(did_you_mean(
                input,
                known,
                &format!("it takes {all}"),
            ))
        }
        InputError::Missing { input, .. } => {
            Problem::usage(error.to_string()).hint(format!("add `--set {input}=VALUE`"))
        }
        InputError::Unreadable { .. } | InputError::WrongKind { .. } => Problem::usage(error.to_string()),
        InputError::OutOfRange { .. } | InputError::Contradiction { .. } => Problem::data(error.to_string()),
    }
}

fn answer(
    calculation: &Calculation,
    inputs: &Inputs,
    format: Format,
    out: &mut dyn Write,
) -> Result<Done, Problem> {
    let report = (calculation.run)(inputs).map_err(|error| refused(calculation, error))?;
    let text = match format {
        Format::Text => report_text(calculation, &report),
        Format::Json => pretty(&report_json(calculation, inputs, &report))?,
    };
    put(out, &text)
}

/// Asks for every input of a calculation; an empty line leaves an optional one out.
///
/// # Errors
/// When the input ends or the screen cannot be written to.
pub fn ask(
    calculation: &Calculation,
    keyboard: &mut dyn BufRead,
    screen: &mut dyn Write,
) -> Result<Inputs, Problem> {
    let broken = |error: io::Error| Problem::data(format!("cannot ask: {error}"));
    let mut inputs = Inputs::default();
    writeln!(screen, "{}", calculation.title).map_err(broken)?;
    for input in calculation.inputs {
        loop {
            writeln!(screen, "\n{}", wrapped(input.meaning, "", "")).map_err(broken)?;
            write!(screen, "{} ({}): ", input.name, wanted(input)).map_err(broken)?;
            screen.flush().map_err(broken)?;
            let mut line = String::new();
            if keyboard.read_line(&mut line).map_err(broken)? == 0 {
                return Err(Problem::data(
                    "the input ended before every question was answered",
                ));
            }
            let line = line.trim();
            if line.is_empty() && !input.required {
                break;
            }
            match inputs.parse(calculation, input.name, line) {
                Ok(()) => break,
                Err(error) => writeln!(screen, "{error}").map_err(broken)?,
            }
        }
    }
    writeln!(screen).map_err(broken)?;
    Ok(inputs)
}

/// What an input takes, in a few words for a prompt.
fn wanted(input: &Input) -> String {
    let mut words = match input.kind {
        ValueKind::Choice => input.choices.join(", "),
        _ if input.symbol.is_empty() => input.kind.wanted(),
        _ => input.symbol.to_owned(),
    };
    if let Some(default) = input.default {
        words.push_str(&format!("; Enter for {default}"));
    } else if !input.required {
        words.push_str("; Enter to leave out");
    }
    words
}

fn catalog(format: Format) -> Result<String, Problem> {
    match format {
        Format::Json => {
            let all: Vec<_> = registry::all().iter().map(calculation_json).collect();
            pretty(&json!({ "calculations": all }))
        }
        Format::Text => {
            let mut text = String::new();
            for calculation in registry::all() {
                let first = format!("{:<27}", calculation.name);
                text.push_str(&wrapped(calculation.title, &first, &" ".repeat(27)));
                text.push('\n');
            }
            text.push_str("\nBe asked for the inputs of one with `lineside figure NAME`.\n");
            Ok(text)
        }
    }
}

fn entry(calculation: &Calculation, format: Format) -> Result<String, Problem> {
    if format == Format::Json {
        return pretty(&calculation_json(calculation));
    }
    let mut text = format!("{}\n{}\n\nInputs\n", calculation.name, calculation.title);
    for input in calculation.inputs {
        let need = if input.required { "required" } else { "optional" };
        text.push_str(&format!("  {:<34} {}, {need}", input.name, takes(input)));
        if let Some(default) = input.default {
            text.push_str(&format!(", {default} when left out"));
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
    Ok(text)
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
            } else {
                format!(" in {}", input.symbol)
            };
            format!("{list}{}{unit}", kind.name())
        }
    }
}

fn report_text(calculation: &Calculation, report: &Report) -> String {
    let violates = verdict_violates(calculation, report);
    let mut text = format!("{}: {}", report.calculation, report.verdict);
    if violates {
        text.push_str(" (a published limit is broken)");
    }
    text.push('\n');
    text.push_str(&wrapped(&sentence(&report.finding), "", ""));
    text.push_str("\n\n");
    if !report.outputs.is_empty() {
        text.push_str("Results\n");
        for (name, value) in &report.outputs {
            text.push_str(&format!("  {name:<34} {value}\n"));
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

fn verdict_violates(calculation: &Calculation, report: &Report) -> bool {
    calculation
        .verdicts
        .iter()
        .any(|verdict| verdict.id == report.verdict && verdict.violates)
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

fn wrapped(text: &str, first: &str, later: &str) -> String {
    let options = textwrap::Options::new(WIDTH)
        .initial_indent(first)
        .subsequent_indent(later)
        .break_words(false)
        // At spaces only, so that an address is never cut.
        .word_separator(textwrap::WordSeparator::AsciiSpace)
        .word_splitter(textwrap::WordSplitter::NoHyphenation);
    textwrap::fill(text, options)
}

fn report_json(calculation: &Calculation, inputs: &Inputs, report: &Report) -> Json {
    let values = |all: &mut dyn Iterator<Item = (String, &Value)>| -> Map<String, Json> {
        all.map(|(name, value)| (name, value_json(value))).collect()
    };
    json!({
        "calculation": report.calculation,
        "inputs": values(&mut inputs.0.iter().map(|(name, value)| (name.clone(), value))),
        "outputs": values(&mut report.outputs.iter().map(|(name, value)| ((*name).to_owned(), value))),
        "verdict": report.verdict,
        "violates": verdict_violates(calculation, report),
        "finding": report.finding,
        "margin": report.limits.iter().map(|limit| limit.margin).reduce(f64::min),
        "working": report.working,
        "limits": report.limits,
        "assumptions": report.assumptions,
        "notes": report.notes,
        "sources": report.sources,
    })
}

/// A value for a program: what is shown, and the amount in its base unit where it has one.
fn value_json(value: &Value) -> Json {
    let amount = |quantity: &Quantity| json!({ "shown": quantity.to_string(), "value": quantity.base, "unit": quantity.kind.base_symbol() });
    match value {
        Value::Quantity(quantity) => amount(quantity),
        Value::Quantities(all) => Json::Array(all.iter().map(amount).collect()),
        Value::Loads(loads) => json!(loads),
        Value::Size(_) | Value::Choice(_) => {
            json!({ "shown": value.to_string(), "value": value.to_string() })
        }
    }
}

fn calculation_json(calculation: &Calculation) -> Json {
    let inputs: Vec<_> = calculation
        .inputs
        .iter()
        .map(|input| {
            let range = match (input.range, input.kind) {
                (Some((low, high)), ValueKind::Quantity(kind) | ValueKind::Quantities(kind)) => {
                    json!({ "lowest": low, "highest": high, "unit": kind.base_symbol() })
                }
                _ => Json::Null,
            };
            json!({
                "name": input.name,
                "takes": kind_name(input.kind),
                "unit": input.symbol,
                "choices": input.choices,
                "range": range,
                "default": input.default,
                "required": input.required,
                "measured": input.measured,
                "meaning": input.meaning,
            })
        })
        .collect();
    let outputs: Vec<_> = calculation
        .outputs
        .iter()
        .map(|output| {
            let unit = match output.kind {
                ValueKind::Quantity(kind) | ValueKind::Quantities(kind) => kind.base_symbol(),
                ValueKind::Size | ValueKind::Choice | ValueKind::Loads => "",
            };
            json!({ "name": output.name, "takes": kind_name(output.kind), "unit": unit, "meaning": output.meaning })
        })
        .collect();
    let verdicts: Vec<_> = calculation
        .verdicts
        .iter()
        .map(|verdict| json!({ "id": verdict.id, "meaning": verdict.meaning, "violates": verdict.violates }))
        .chain([json!({ "id": CANNOT_TELL, "meaning": "Always possible; the finding says what would tell.", "violates": false })])
        .collect();
    json!({
        "name": calculation.name,
        "title": calculation.title,
        "inputs": inputs,
        "outputs": outputs,
        "verdicts": verdicts,
    })
}

fn kind_name(kind: ValueKind) -> String {
    match kind {
        ValueKind::Quantity(kind) => kind.name().to_owned(),
        ValueKind::Quantities(kind) => format!("list of {}", kind.name()),
        ValueKind::Size => "conductor-size".to_owned(),
        ValueKind::Choice => "choice".to_owned(),
        ValueKind::Loads => "loads".to_owned(),
    }
}

fn pretty(json: &Json) -> Result<String, Problem> {
    serde_json::to_string_pretty(json)
        .map(|text| text + "\n")
        .map_err(|error| Problem::data(format!("cannot make JSON: {error}")))
}

fn put(out: &mut dyn Write, text: &str) -> Result<Done, Problem> {
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        // A reader that closed its end has what it wanted.
        Err(error) if error.kind() != io::ErrorKind::BrokenPipe => {
            Err(Problem::data(format!("cannot write the result: {error}")))
        }
        _ => Ok(Done::Well),
    }
}
