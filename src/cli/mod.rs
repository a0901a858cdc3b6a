//! Commands: what was typed, and one small file per command.
//!
//! Each command returns a [`Done`] or a [`Problem`]; only this file turns them into exit codes:
//! 0 done, 1 the data or the case has a problem, 2 wrong usage.

mod beforehand;
mod case;
mod case_file;
mod closed_cases;
mod diagnose;
pub mod figure;
mod interview;
mod invent;
mod keeping;
mod knowledge;
mod learn;
mod pages;
mod photographs;
mod practice;
mod predict;
mod problem;
mod progress;
mod report;
mod review;
mod settings;
pub mod trees;

use std::borrow::Cow;
use std::io::Write;
use std::path::PathBuf;
use std::process::ExitCode;
use std::sync::atomic::{AtomicBool, Ordering};

use clap::{Args, ColorChoice, CommandFactory, Parser, Subcommand, ValueEnum};

use crate::report::visible::{visible, visible_beside_marks};
use crate::standards::registry;

pub use problem::Problem;

/// How a command ended when nothing stood in its way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Done {
    /// All is well: exit code 0.
    Well,
    /// The command did its work and found problems in the data: exit code 1.
    Findings,
}

const EXAMPLES: &str = "\
Examples:
  lineside                                 start a new case
  lineside --case FILE                     go on with a case where it stood
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
    diagnose: diagnose::DiagnoseArgs,
    #[command(flatten)]
    settings: settings::Choice,
    #[command(subcommand)]
    command: Option<Command>,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Lead a technician from a complaint to likely causes and next tests
    #[command(after_help = diagnose::EXAMPLES)]
    Diagnose(diagnose::DiagnoseArgs),
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

/// Options every command takes.
#[derive(Args, Clone, Debug, Default)]
pub struct Shared {
    /// Read the knowledge from this folder instead of the one compiled in
    #[arg(long, value_name = "DIR")]
    pub trees: Option<PathBuf>,
    /// Color: auto, always or never; auto obeys NO_COLOR
    #[arg(long, value_enum, value_name = "WHEN", hide_possible_values = true)]
    pub color: Option<Color>,
}

impl Shared {
    /// Whether to color what goes to a stream that is or is not a terminal: by the option, else by the settings.
    #[must_use]
    pub fn colors(&self, is_terminal: bool) -> bool {
        Color::held(self.color).decide(is_terminal)
    }
}

/// When to color.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum Color {
    /// When the output goes to a terminal and `NO_COLOR` is not set.
    #[default]
    Auto,
    /// Always.
    Always,
    /// Never.
    Never,
}

impl Color {
    /// What was given as an option, else what the settings say.
    #[must_use]
    pub fn held(given: Option<Self>) -> Self {
        given.or(settings::held().color).unwrap_or_default()
    }

    /// Decides for a stream that is or is not a terminal.
    #[must_use]
    pub fn decide(self, is_terminal: bool) -> bool {
        match self {
            Self::Always => true,
            Self::Never => false,
            Self::Auto => is_terminal && std::env::var_os("NO_COLOR").is_none_or(|value| value.is_empty()),
        }
    }
}

/// Form of printed data.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum Format {
    /// For people.
    #[default]
    Text,
    /// For programs.
    Json,
}

/// There was no standard output when the program started.
static OUTPUT_IS_CLOSED: AtomicBool = AtomicBool::new(false);

/// Notes that the process was started without a standard output.
pub fn output_is_closed() {
    OUTPUT_IS_CLOSED.store(true, Ordering::Relaxed);
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
    let code = trees::run(args, registry::all(), &mut out).map_err(|error| {
        let problem = Problem::data(error.to_string());
        match error.hint() {
            Some(hint) => problem.hint(hint),
            None => problem,
        }
    })?;
    let text = String::from_utf8_lossy(&out);
    if args.is_marked() {
        print_marked(&text)?;
    } else {
        print(&text)?;
    }
    Ok(if code == 0 { Done::Well } else { Done::Findings })
}

/// Says something beside the result, on the error stream. Where that is closed, the result stands by itself.
fn remark(text: &str) {
    let _ = writeln!(std::io::stderr(), "note: {}", visible(text));
}

/// Makes sure that there is a standard output for the result.
fn can_print() -> Result<(), Problem> {
    if OUTPUT_IS_CLOSED.load(Ordering::Relaxed) {
        return Err(
            Problem::data("cannot write the result: the standard output is closed")
                .hint("start it without `>&-`, or send the output to a file with `> FILE`"),
        );
    }
    Ok(())
}

/// Writes data to the standard output.
///
/// A reader that closed its end has what it wanted, so that is no problem.
fn print(text: &str) -> Result<(), Problem> {
    write_out(&visible(text))
}

/// Writes data that carries marks of our own, and in which everything else went through [`visible`].
fn print_marked(text: &str) -> Result<(), Problem> {
    write_out(&visible_beside_marks(text))
}

fn write_out(text: &str) -> Result<(), Problem> {
    if !text.is_empty() {
        can_print()?;
    }
    let mut out = std::io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(error) if error.kind() != std::io::ErrorKind::BrokenPipe => {
            Err(Problem::data(format!("cannot write the result: {error}")))
        }
        _ => Ok(()),
    }
}
