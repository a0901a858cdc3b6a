//! Commands: what was typed, and one small file per command.
//!
//! Each command returns a [`Done`] or a [`Problem`]; only this file turns them into exit codes:
//! 0 done, 1 the data or the case has a problem, 2 wrong usage.

mod answers;
mod beforehand;
mod case;
mod case_file;
mod closed_cases;
mod diagnose;
mod diagnose_args;
pub mod figure;
mod interview;
mod invent;
mod keeping;
mod knowledge;
mod learn;
mod options;
mod pages;
mod photographs;
mod places;
mod practice;
mod predict;
mod printing;
mod problem;
mod progress;
mod report;
mod result;
mod review;
mod settings;
mod shared;
mod taken;
pub mod trees;

use std::borrow::Cow;
use std::io::Write;
use std::process::ExitCode;
use std::sync::atomic::Ordering;

use clap::{ColorChoice, CommandFactory, Parser, Subcommand};
use printing::{OUTPUT_IS_CLOSED, can_print, print, print_marked};

use crate::report::visible::visible;

pub use options::{Color, Format, Printed};
pub use printing::output_is_closed;
pub use problem::{Done, Problem};
pub use shared::Shared;

const EXAMPLES: &str = "\
Examples:
  lineside                                 start a new case
  lineside --case last                     go on with a case where it stood
  lineside diagnose --answers FILE.toml    answer from a file, print the result
  lineside case list                       the cases that are kept
  lineside report --case FILE -o case.html a case as a page to hand over
  lineside practice                        exercises: find a hidden fault
  lineside figure                          calculations with their working
  lineside trees list complaints           what it can be asked about

Local codes, the equipment's own instructions and licensed practice come first.";

const TREES_EXAMPLES: &str = "\
Examples:
  lineside trees check                         check the knowledge compiled in
  lineside trees check --trees DIR             check an edited copy
  lineside trees list tests --format json      every test with its outcomes, for a program
  lineside trees about CAUSE                   all that is said of one cause
  lineside trees matrix CAUSE OTHER            which test tells two causes apart best
  lineside trees diff DIR                      what an edited copy changes, and in which cases
  lineside trees score --cases 1000            how well the causes can be told apart
  lineside trees draw safety -o safety.svg     a tree as a picture
  lineside trees draw --all -o lineside.html   everything on one page";

/// Find the electrical cause of a stubborn heating or air-conditioning callback
#[derive(Debug, Parser)]
#[command(
    name = "lineside",
    version,
    about,
    after_help = EXAMPLES,
    args_conflicts_with_subcommands = true,
    color = ColorChoice::Auto
)]
struct Cli {
    #[command(flatten)]
    diagnose: diagnose_args::DiagnoseArgs,
    #[command(flatten)]
    settings: settings::Choice,
    #[command(subcommand)]
    command: Option<Command>,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Lead a technician from a complaint to likely causes and next tests
    #[command(after_help = diagnose::EXAMPLES)]
    Diagnose(diagnose_args::DiagnoseArgs),
    /// Work one thing out against published limits, with its working
    #[command(after_help = figure::EXAMPLES)]
    Figure(figure::FigureArgs),
    /// List, find, show, close, reopen and hand over cases
    #[command(after_help = case::EXAMPLES)]
    Case(case::CaseArgs),
    /// Make a report of a case: for the electrician, the customer or the manager
    #[command(after_help = report::EXAMPLES)]
    Report(report::ReportArgs),
    /// Show what a meter would read under each leading cause at the tests not yet made
    #[command(after_help = predict::EXAMPLES)]
    Predict(predict::PredictArgs),
    /// Say what a case was found to be in the end
    #[command(after_help = case::CLOSE_EXAMPLES)]
    Close(case::CloseArgs),
    /// Learn cause frequencies from a shop's own closed cases
    #[command(after_help = learn::EXAMPLES)]
    Learn(learn::LearnArgs),
    /// Look at many cases together: what was found, what came back, what was skipped
    #[command(after_help = review::EXAMPLES)]
    Review(review::ReviewArgs),
    /// Practice on a hidden fault: exercises for the apprentice
    #[command(after_help = practice::EXAMPLES)]
    Practice(practice::PracticeArgs),
    /// Write invented cases, to try things with
    #[command(after_help = invent::EXAMPLES)]
    Invent(invent::InventArgs),
    /// Check, list, compare, draw or score the knowledge: causes, tests, facts and trees
    #[command(after_help = TREES_EXAMPLES)]
    Trees(trees::TreesArgs),
    /// Show where the settings stand, what they say and what else they can say
    #[command(after_help = settings::EXAMPLES)]
    Settings(settings::SettingsArgs),
    /// Print what a shell needs to complete the commands
    #[command(after_help = pages::COMPLETIONS_EXAMPLES)]
    Completions(pages::CompletionsArgs),
    /// Print the manual, or write its pages
    #[command(after_help = pages::MANUAL_EXAMPLES)]
    Manual(pages::ManualArgs),
}

/// Runs the command line of this process.
#[must_use]
pub fn main() -> ExitCode {
    let cli = match Cli::try_parse() {
        Ok(cli) => cli,
        Err(error) => {
            // Help and version come this way too; clap knows which stream and code they want.
            let code = u8::try_from(error.exit_code()).unwrap_or(2);
            if !error.use_stderr() && OUTPUT_IS_CLOSED.load(Ordering::Relaxed) {
                return ended(can_print().map(|()| Done::Well));
            }
            return match readable(error).print() {
                Ok(()) => ExitCode::from(code),
                Err(_) => ExitCode::from(2),
            };
        }
    };
    ended(run(&cli))
}

fn run(cli: &Cli) -> Result<Done, Problem> {
    // What says how the settings stand, and what needs none, works with a broken file too.
    if !matches!(
        cli.command,
        Some(Command::Settings(_) | Command::Completions(_) | Command::Manual(_))
    ) {
        settings::hold(&cli.settings)?;
    }
    match &cli.command {
        None => diagnose::run(&cli.diagnose),
        Some(Command::Diagnose(args)) => diagnose::run(args),
        Some(Command::Figure(args)) => run_figure(args),
        Some(Command::Close(args)) => case::run_close(args),
        Some(Command::Case(args)) => case::run(args),
        Some(Command::Report(args)) => report::run(args),
        Some(Command::Predict(args)) => predict::run(args),
        Some(Command::Learn(args)) => learn::run(args),
        Some(Command::Review(args)) => review::run(args),
        Some(Command::Practice(args)) => practice::run(args),
        Some(Command::Invent(args)) => invent::run(args),
        Some(Command::Trees(args)) => run_trees(args),
        Some(Command::Settings(args)) => settings::run(args, &cli.settings),
        Some(Command::Completions(args)) => pages::completions(args, Cli::command()),
        Some(Command::Manual(args)) => pages::manual(args, Cli::command()),
    }
}

/// The same error with what was typed made visible. The parser marks its own words, so what was typed is made visible
/// before it is read, and read again.
fn readable(error: clap::Error) -> clap::Error {
    let typed: Vec<String> = std::env::args_os()
        .map(|argument| argument.to_string_lossy().into_owned())
        .collect();
    if typed
        .iter()
        .all(|argument| matches!(visible(argument), Cow::Borrowed(_)))
    {
        return error;
    }
    let shown = typed.iter().map(|argument| visible(argument).into_owned());
    Cli::try_parse_from(shown).err().unwrap_or(error)
}

fn ended(outcome: Result<Done, Problem>) -> ExitCode {
    match outcome {
        Ok(Done::Well) => ExitCode::SUCCESS,
        Ok(Done::Findings) => ExitCode::from(1),
        Err(problem) => {
            // Nothing can be said about a closed error stream, and the exit code still tells.
            let _ = write!(std::io::stderr(), "{}", visible(&problem.to_string()));
            ExitCode::from(problem.exit_code())
        }
    }
}

fn run_figure(args: &figure::FigureArgs) -> Result<Done, Problem> {
    let mut out = Vec::new();
    let done = figure::run(args, &mut out)?;
    print(&String::from_utf8_lossy(&out))?;
    Ok(done)
}

fn run_trees(args: &trees::TreesArgs) -> Result<Done, Problem> {
    let mut out = Vec::new();
    let done = trees::run(args, &mut out)?;
    let text = String::from_utf8_lossy(&out);
    if args.is_marked() {
        print_marked(&text)?;
    } else {
        print(&text)?;
    }
    Ok(done)
}
