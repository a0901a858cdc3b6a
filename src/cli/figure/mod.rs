//! `figure`: one calculation with its working, or the catalog of all of them.

mod ask;
mod json;
mod list;
mod text;

use std::io::{self, IsTerminal, Write};

use clap::Args;

use crate::cli::printing::as_json;
use crate::knowledge::nearest::did_you_mean;
use crate::standards::CODE_EDITION;
use crate::standards::calculation::{Calculation, InputError, Inputs};
use crate::standards::registry;

use super::options::{Format, Printed};
use super::problem::Done;
use super::{Problem, settings};

pub use ask::ask;
pub use text::Typed;

/// Shown below the help of the command.
pub const EXAMPLES: &str = "\
Examples:
  lineside figure                                   list the calculations
  lineside figure mca                               find those that speak of it
  lineside figure heater-current                    be asked for its inputs
  lineside figure heater-current --set heater-power='9.6 kW' --set heater-rated-voltage='240 V' \\
      --set supply-voltage='208 V'                  answer at once
  lineside figure --format json                     the whole catalog, for a program

Exit code: 0 worked out, whatever the verdict; 1 inputs that contradict each other or are out of
range; 2 wrong usage.";

/// Work one thing out against published limits, with its working
#[derive(Args, Clone, Debug, Default)]
pub struct FigureArgs {
    /// Calculation to make, or words to find one by; left out, all are listed
    #[arg(value_name = "NAME")]
    pub name: Vec<String>,
    /// An input and its value with its unit, such as `supply-voltage=208 V` (may be repeated)
    #[arg(long = "set", value_name = "INPUT=VALUE")]
    pub set: Vec<String>,
    /// The form.
    #[command(flatten)]
    pub print: Printed,
}

/// Runs the command: prints the catalog, what one calculation takes, or its result.
///
/// With a name and no `--set`, asks at the keyboard when there is one, and otherwise prints what it takes.
///
/// # Errors
/// [`Problem`] with exit code 2 for a name or text that cannot be understood, 1 for values that contradict each
/// other or lie outside what is possible.
pub fn run(args: &FigureArgs, out: &mut dyn Write) -> Result<Done, Problem> {
    if args.name.is_empty() {
        if let Some(set) = args.set.first() {
            return Err(
                Problem::usage(format!("`--set {set}` without a calculation to set it for"))
                    .hint("name one first: `lineside figure` lists them"),
            );
        }
        return put(out, &list::listed(args.print.form)?);
    }
    // `voltage drop` is the name `voltage-drop`; anything else is words to find by.
    let Some(calculation) = registry::find(&args.name.join("-").to_lowercase()) else {
        if !args.set.is_empty() {
            return Err(list::unknown(&args.name.join(" ")));
        }
        return put(out, &list::found(&args.name, args.print.form)?);
    };
    if args.set.is_empty() {
        let stdin = io::stdin();
        if args.print.form == Format::Text && stdin.is_terminal() && io::stderr().is_terminal() {
            let (inputs, typed) = ask(calculation, &mut stdin.lock(), &mut io::stderr())?;
            return answer(calculation, &inputs, &typed, args.print.form, out);
        }
        let entry = match args.print.form {
            Format::Json => as_json(&json::calculation_json(calculation))?,
            _ => text::entry_text(calculation),
        };
        return put(out, &entry);
    }
    let (inputs, typed) = given(calculation, &args.set)?;
    answer(calculation, &inputs, &typed, args.print.form, out)
}

fn given(calculation: &Calculation, set: &[String]) -> Result<(Inputs, Typed), Problem> {
    let mut inputs = Inputs::default();
    let mut typed = Typed::new();
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
        typed.insert(name.to_owned(), text.to_owned());
    }
    from_settings(calculation, &mut inputs, &mut typed)?;
    Ok((inputs, typed))
}

/// The edition of the settings, where the calculation takes one and none was given.
fn from_settings(calculation: &Calculation, inputs: &mut Inputs, typed: &mut Typed) -> Result<(), Problem> {
    let takes = calculation.inputs.iter().any(|input| input.name == CODE_EDITION);
    if let Some(year) = settings::held().edition.as_ref()
        && takes
        && inputs.get(CODE_EDITION).is_none()
    {
        inputs
            .parse(calculation, CODE_EDITION, year)
            .map_err(|error| refused(calculation, error))?;
        typed.insert(CODE_EDITION.to_owned(), year.clone());
    }
    Ok(())
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
        InputError::OutOfRange { .. } | InputError::Contradiction { .. } | InputError::Impossible { .. } => {
            Problem::data(error.to_string())
        }
    }
}

fn answer(
    calculation: &Calculation,
    inputs: &Inputs,
    typed: &Typed,
    format: Format,
    out: &mut dyn Write,
) -> Result<Done, Problem> {
    let report = (calculation.run)(inputs).map_err(|error| refused(calculation, error))?;
    let text = match format {
        Format::Json => as_json(&json::report_json(calculation, inputs, &report))?,
        _ => text::report_text(calculation, inputs, typed, &report),
    };
    put(out, &text)
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
