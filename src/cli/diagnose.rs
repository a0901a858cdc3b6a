//! `lineside diagnose`: one case, from the complaint to the result.

use std::io::IsTerminal;
use std::path::{Path, PathBuf};

use clap::Args;
use jiff::tz::TimeZone;

use crate::files;
use crate::journal;
use crate::knowledge::model::Knowledge;
use crate::report::first::{self, Below};
use crate::report::{CaseResult, text};
use crate::standards::rule::Edition;
use crate::walk::{self, AnswerFile, DriveError, End, Event, Walk};

use super::beforehand::Beforehand;
use super::case_file::{CaseFile, Whereabouts, secured};
use super::{
    Done, Format, Problem, Shared, interview, keeping, knowledge, learn, print, print_marked, settings,
};

/// Shown at the end of the command's help.
pub(super) const EXAMPLES: &str = "\
Examples:
  lineside diagnose                                   start a new case
  lineside diagnose --case FILE                       go on with a case where it stood
  lineside diagnose --answers examples/NAME.toml      answer from a file
  lineside diagnose --answers FILE --format json      the result for another program";

/// What was typed.
#[derive(Args, Clone, Debug, Default)]
pub(crate) struct DiagnoseArgs {
    /// Keep the case in this file, or go on with it when it exists
    #[arg(long, value_name = "FILE")]
    case: Option<PathBuf>,
    /// Keep a new case in this folder
    #[arg(long, value_name = "DIR", conflicts_with = "case")]
    cases: Option<PathBuf>,
    /// Take the answers from this file instead of asking
    #[arg(long, value_name = "FILE.toml")]
    answers: Option<PathBuf>,
    /// Use cause frequencies learned from a shop's cases by `lineside learn`
    #[arg(long, value_name = "FILE.toml")]
    shop: Option<PathBuf>,
    /// Edition of the code in force: 2014, 2017, 2020, 2023 or 2026
    #[arg(long, value_name = "YEAR", value_parser = Edition::IDS, hide_possible_values = true)]
    edition: Option<String>,
    /// Plain lines in place of lists to move in
    #[arg(
        long,
        value_name = "YES",
        num_args = 0..=1,
        require_equals = true,
        default_missing_value = "true",
        hide_possible_values = true
    )]
    plain: Option<bool>,
    /// Form of the result
    #[arg(
        long,
        value_enum,
        value_name = "FORM",
        default_value = "text",
        hide_default_value = true
    )]
    format: Format,
    /// In JSON, list every cause and not only those of 1 % and more, ten at most
    #[arg(long)]
    all_causes: bool,
    #[command(flatten)]
    who: Whereabouts,
    #[command(flatten)]
    shared: Shared,
}

/// Runs the command.
///
/// # Errors
/// When the knowledge, the answers or the case cannot be used, or the case broke off.
pub(super) fn run(args: &DiagnoseArgs) -> Result<Done, Problem> {
    // Before a person answers forty questions for a result that cannot be shown.
    super::can_print()?;
    let knowledge = knowledge::load(args.shared.trees.as_deref())?;
    match &args.answers {
        Some(file) => from_answers(args, &knowledge, file),
        None => interview::run(args, &knowledge),
    }
}

fn from_answers(args: &DiagnoseArgs, knowledge: &Knowledge, answer_file: &Path) -> Result<Done, Problem> {
    let mut answers = read_answers(answer_file, knowledge)?;
    for misfit in answers.misfits() {
        super::remark(&format!("{}: {misfit}", answer_file.display()));
    }
    let mut walk = args.walk(knowledge)?;
    let mut file = match &args.case {
        None => None,
        Some(path) if path.exists() => {
            return Err(
                Problem::data(format!("the case file `{}` exists already", path.display()))
                    .hint("answers from a file start a new case; give a name that does not exist yet"),
            );
        }
        Some(path) => Some(CaseFile::take_up(path, &args.who, &mut walk)?.file),
    };
    let mut told = Beforehand::new(&mut answers, args.edition());
    let end = walk::drive(&mut walk, &mut told, &mut |event: &Event| match &mut file {
        Some(file) => file.append(event),
        None => Ok(()),
    });
    if let Some(file) = file.as_mut().filter(|_| end.is_ok()) {
        secured(file)?;
    }
    let kept = file.map(CaseFile::done);
    match end {
        Ok(End::Finished | End::Halted | End::Stopped) => show(args, &walk, kept.as_deref()),
        Err(DriveError::Respondent(error)) => {
            Err(Problem::data(format!("{}: {error}", answer_file.display())))
        }
        Err(DriveError::Keep(error)) => Err(keeping::problem(&error)),
    }
}

/// Reads and checks an answer file.
pub(super) fn read_answers(file: &Path, knowledge: &Knowledge) -> Result<AnswerFile, Problem> {
    let name = file.display();
    let text = files::read_text(file, walk::LARGEST_ANSWER_FILE)?;
    AnswerFile::parse(&text, knowledge).map_err(|errors| {
        let lines: Vec<String> = errors.iter().map(|error| format!("{name}: {error}")).collect();
        Problem::data(lines.join("\nerror: "))
            .hint("`lineside trees list` shows complaints, equipment, tests with outcomes and facts")
    })
}

/// Prints the result of a walk in the form asked for; `kept` is the file of the case, which nobody holds open any more.
pub(super) fn show(args: &DiagnoseArgs, walk: &Walk<'_>, kept: Option<&Path>) -> Result<Done, Problem> {
    let Some(result) = result(walk, kept) else {
        return Ok(Done::Well);
    };
    match args.format {
        Format::Json => print(&json(result, args.all_causes)?)?,
        Format::Text => print_marked(&text::render(&result, layout(&args.shared)))?,
    }
    Ok(Done::Well)
}

/// Prints what fits one screen where a person reads it there, so that nothing scrolls the cause away; elsewhere the whole.
pub(super) fn show_first(args: &DiagnoseArgs, walk: &Walk<'_>, kept: &Path) -> Result<Done, Problem> {
    /// Rows left for what is said of the file below it.
    const LEFT: usize = 7;
    let rows = console::Term::stdout()
        .size_checked()
        .map(|(rows, _)| usize::from(rows));
    let (Format::Text, false, Some(rows)) = (args.format, args.plain(), rows) else {
        return show(args, walk, Some(kept));
    };
    if let Some(result) = result(walk, Some(kept)) {
        let mut text = first::lines(
            &result,
            layout(&args.shared),
            rows.saturating_sub(LEFT),
            Below::OnPaper,
        )
        .join("\n");
        text.push('\n');
        print_marked(&text)?;
    }
    Ok(Done::Well)
}

/// The result of a walk, with who, when and where if a file keeps it.
fn result(walk: &Walk<'_>, kept: Option<&Path>) -> Option<CaseResult> {
    // The answers are there in any case; a file that cannot be read once more only lacks its times, and that is said.
    let case = kept.and_then(|path| {
        journal::read_file(path)
            .map_err(|error| super::remark(&format!("the result lacks who, when and where: {error}")))
            .ok()
    });
    match case {
        Some(case) => CaseResult::of_case(walk, &case, TimeZone::system()),
        None => CaseResult::new(walk),
    }
}

/// The result as JSON, cut to the causes that count unless all are asked for.
pub(super) fn json(result: CaseResult, all_causes: bool) -> Result<String, Problem> {
    let result = if all_causes { result } else { result.shortened() };
    let mut json = serde_json::to_string_pretty(&result)
        .map_err(|error| Problem::data(format!("cannot write the result as JSON: {error}")))?;
    json.push('\n');
    Ok(json)
}

/// The layout of text for the standard output.
pub(super) fn layout(shared: &Shared) -> text::Layout {
    let out = console::Term::stdout();
    // Lines longer than this are hard to read whatever the screen.
    const WIDEST: u16 = 100;
    let width = out
        .size_checked()
        .map_or(80, |(_, columns)| columns.clamp(40, WIDEST));
    text::Layout {
        width: usize::from(width),
        color: shared.colors(std::io::stdout().is_terminal()),
    }
}

impl DiagnoseArgs {
    /// The case file given.
    pub(super) fn case(&self) -> Option<&Path> {
        self.case.as_deref()
    }

    /// The folder given for a new case.
    pub(super) fn cases(&self) -> Option<&Path> {
        self.cases.as_deref()
    }

    /// Whether to ask in plain lines.
    pub(super) fn plain(&self) -> bool {
        self.plain.or(settings::held().plain_screen).unwrap_or_default()
    }

    /// The edition of the code in force, as an option or in the settings.
    pub(super) fn edition(&self) -> Option<&str> {
        self.edition.as_deref().or(settings::held().edition.as_deref())
    }

    /// Who works on the case, and where.
    pub(super) fn who(&self) -> &Whereabouts {
        &self.who
    }

    /// A new walk, with what the shop has learned where that is asked for.
    pub(super) fn walk<'k>(&self, knowledge: &'k Knowledge) -> Result<Walk<'k>, Problem> {
        let walk = Walk::new(knowledge);
        match self.shop.as_ref().or(settings::held().shop_file.as_ref()) {
            None => Ok(walk),
            Some(path) => Ok(walk.learned(learn::counts(path)?)),
        }
    }

    /// The options every command takes.
    pub(super) fn shared(&self) -> &Shared {
        &self.shared
    }
}
