//! `case list` and `case find`: which cases there are.

use std::fmt::Write as _;
use std::path::PathBuf;
use std::sync::atomic::{AtomicUsize, Ordering};

use clap::Args;
use jiff::civil::Date;
use jiff::tz::TimeZone;
use serde_json::{Value as Json, json};

use crate::cli::Problem;
use crate::cli::options::{Format, Printed, word};
use crate::cli::places::usual_folder;
use crate::cli::printing::{self, print};
use crate::cli::problem::Done;
use crate::cli::shared::Shared;
use crate::journal::life::{Reached, Stage};
use crate::knowledge::model::Knowledge;
use crate::knowledge::search;

use super::scan::{Listed, Scanned, say_every, say_left_out, scan};
use super::{named, words};

/// Shown at the end of the command's help.
pub(super) const FIND_EXAMPLES: &str = "\
Examples:
  lineside case find freezer breaker           cases that speak of both
  lineside case find --place 'Oak Rd' --closed
  lineside case find --cause lug --since 2026-01-01 --until 2026-06-30
  lineside case find --stage guessed           closed by a guess";

/// What was typed after `list`.
#[derive(Args, Clone, Debug)]
pub(super) struct ListArgs {
    #[command(flatten)]
    filter: Filter,
    /// Files of cases, or folders of them; without, the folder of cases
    #[arg(value_name = "CASES")]
    cases: Vec<PathBuf>,
}

/// What was typed after `find`.
#[derive(Args, Clone, Debug)]
pub(super) struct FindArgs {
    /// Words that a case must all have, anywhere: place, note, cause, repair, technician
    #[arg(value_name = "WORD")]
    words: Vec<String>,
    #[command(flatten)]
    filter: Filter,
    /// File of a case, or a folder of them, in place of the folder of cases
    #[arg(long = "in", value_name = "CASES")]
    cases: Vec<PathBuf>,
}

/// Which cases to keep.
#[derive(Args, Clone, Debug, Default)]
struct Filter {
    /// Only cases at this place, by words of it
    #[arg(long, value_name = "WORDS")]
    place: Option<String>,
    /// Only cases of this unit, by words of it
    #[arg(long, value_name = "WORDS")]
    unit: Option<String>,
    /// Only cases this technician was on
    #[arg(long, value_name = "WORDS")]
    technician: Option<String>,
    /// Only cases closed as this cause, or led by it, by its id or words of its name
    #[arg(long, value_name = "WORDS")]
    cause: Option<String>,
    /// Only cases that were worked on or closed on this day or later
    #[arg(long, value_name = "DATE")]
    since: Option<Date>,
    /// Only cases that were opened on this day or earlier
    #[arg(long, value_name = "DATE")]
    until: Option<Date>,
    /// Only cases that are not closed
    #[arg(long, conflicts_with = "closed")]
    open: bool,
    /// Only closed cases
    #[arg(long)]
    closed: bool,
    /// How far it got
    #[arg(long, value_parser = word::<Reached>(), value_name = "STAGE", conflicts_with_all = ["open", "closed"])]
    stage: Option<Reached>,
    /// Name every file that could not be read, however many there are
    #[arg(long)]
    every_problem: bool,
    #[command(flatten)]
    print: Printed,
    #[command(flatten)]
    shared: Shared,
}

impl Filter {
    fn keeps(&self, knowledge: &Knowledge, case: &Listed) -> bool {
        let life = &case.life;
        let stage = life.stage();
        let day = |at: jiff::Timestamp| at.to_zoned_datetime(TimeZone::system()).date();
        let last = life.last().unwrap_or(case.opened).max(case.opened);
        let named = |wanted: &Option<String>, text: Option<&str>| match wanted {
            None => true,
            Some(wanted) => text.is_some_and(|text| search::has_all(text, wanted)),
        };
        named(&self.place, life.place.as_deref())
            && named(&self.unit, life.unit.as_deref())
            && self.technician.as_ref().is_none_or(|wanted| {
                let names = life.visits.iter().filter_map(|visit| visit.technician.as_deref());
                names.clone().any(|name| search::has_all(name, wanted))
            })
            && named(&self.cause, self.causes(knowledge, case).as_deref())
            && self.since.is_none_or(|since| day(last) >= since)
            && self.until.is_none_or(|until| day(case.opened) <= until)
            && !(self.open && stage == Stage::Closed)
            && !(self.closed && stage != Stage::Closed)
            && self.stage.is_none_or(|wanted| {
                let proved = life.closing.as_ref().map(|closing| closing.what.proved);
                wanted.takes(stage, proved, words::is_stopped(life))
            })
    }

    /// The cause a case was closed as, else the one that led, by id and name.
    fn causes(&self, knowledge: &Knowledge, case: &Listed) -> Option<String> {
        let life = &case.life;
        let closing = life.closing.as_ref().filter(|_| life.stage() == Stage::Closed);
        let (id, not_listed) = match closing {
            Some(closing) => (closing.what.cause.clone(), closing.what.not_listed.clone()),
            None => {
                let concluded = life.concluded.as_ref()?.what.as_ref()?;
                (Some(concluded.leader.as_ref()?.cause.clone()), None)
            }
        };
        let name = words::cause(knowledge, id.as_deref(), not_listed.as_deref());
        Some(format!("{} {name}", id.unwrap_or_default()))
    }
}

/// Runs `case list`.
pub(super) fn run(args: &ListArgs) -> Result<Done, Problem> {
    answer(&args.filter, &args.cases, "")
}

/// Runs `case find`.
pub(super) fn find(args: &FindArgs) -> Result<Done, Problem> {
    answer(&args.filter, &args.cases, &args.words.join(" "))
}

fn answer(filter: &Filter, cases: &[PathBuf], query: &str) -> Result<Done, Problem> {
    let knowledge = filter.shared.knowledge.load()?;
    let paths = if cases.is_empty() {
        vec![usual_folder()?]
    } else {
        cases.to_vec()
    };
    // Who never kept a case has no folder, and no cases; a folder that was named must be there.
    if cases.is_empty() && !paths[0].exists() {
        return Err(
            Problem::data(format!("there is no case yet in `{}`", paths[0].display()))
                .hint("`lineside` starts one"),
        );
    }
    // How many of the cases each word is in: with none found, a word too many is seen.
    let wanted: Vec<(&str, AtomicUsize)> = query
        .split_whitespace()
        .map(|word| (word, AtomicUsize::new(0)))
        .collect();
    let Scanned { kept, of, problems } = scan(&paths, &|listed, case| {
        if !filter.keeps(knowledge, listed) {
            return false;
        }
        if wanted.is_empty() {
            return true;
        }
        let all = words::all(knowledge, &listed.life, case);
        for (word, cases) in &wanted {
            cases.fetch_add(usize::from(search::has_all(&all, word)), Ordering::Relaxed);
        }
        search::has_all(&all, query)
    });
    let text = match filter.print.form {
        Format::Json => data(knowledge, &kept, &problems)?,
        _ if kept.is_empty() && wanted.len() > 1 => {
            let each: Vec<String> = wanted
                .iter()
                .map(|(word, cases)| format!("`{word}` is in {}", cases.load(Ordering::Relaxed)))
                .collect();
            format!(
                "{}No case has all of these words: {}.\n",
                text(knowledge, &kept, of),
                each.join(", ")
            )
        }
        _ => text(knowledge, &kept, of),
    };
    print(&text)?;
    if filter.every_problem {
        say_every(&problems);
    } else {
        say_left_out(&problems);
    }
    Ok(if problems.is_empty() {
        Done::Well
    } else {
        Done::Findings
    })
}

/// Columns of a line of the list; words that do not fit are left out.
const WIDTH: usize = 80;

/// Two lines for each case, a third where a danger was left standing, and a last one with the count, so that it stands where the eye is: when, which file and how far
/// it got; then where, and what it was or, until that is said, what the trouble is.
fn text(knowledge: &Knowledge, cases: &[Listed], of: usize) -> String {
    let mut text = String::new();
    for case in cases {
        let life = &case.life;
        let mut state = vec![words::stage(life)];
        if life.before.is_some() {
            state.push("a callback");
        }
        if words::is_stopped(life) {
            state.push(words::STOPPED);
        }
        if case.busy {
            state.push("open elsewhere now");
        }
        if case.damage.is_some() {
            state.push("damaged");
        }
        let mut what: Vec<String> = life.place.iter().chain(&life.unit).cloned().collect();
        what.push(words::outcome(knowledge, life).unwrap_or_else(|| words::complaint(knowledge, life)));
        // Writing into a string cannot fail.
        let _ = writeln!(
            text,
            "{}  {}  {}\n    {}",
            words::clock(case.opened),
            named::called(&case.path),
            state.join(", "),
            shortened(&what.join("; "), WIDTH - 4),
        );
        if let Some(left) = words::left_standing(knowledge, life) {
            let _ = writeln!(text, "  ! {}", shortened(&left, WIDTH - 4));
        }
    }
    let _ = writeln!(text, "{} of {of} cases.", cases.len());
    text
}

/// A text within so many columns, shortened behind a word.
fn shortened(text: &str, width: usize) -> String {
    let lines = textwrap::wrap(text, width - 4);
    match lines.as_slice() {
        [] => String::new(),
        [line] => line.to_string(),
        _ if textwrap::core::display_width(text) <= width => text.to_owned(),
        [line, ..] => format!("{line} ..."),
    }
}

fn data(knowledge: &Knowledge, cases: &[Listed], problems: &[String]) -> Result<String, Problem> {
    let cases: Vec<Json> = cases.iter().map(|case| entry(knowledge, case)).collect();
    printing::as_json(&json!({ "cases": cases, "left-out": problems }))
}

fn entry(knowledge: &Knowledge, case: &Listed) -> Json {
    let life = &case.life;
    let closing = life.closing.as_ref().filter(|_| life.stage() == Stage::Closed);
    json!({
        "file": case.path.display().to_string(),
        "id": case.id,
        "opened": case.opened,
        "last": life.last(),
        "stage": life.stage().word(),
        "complaint": life.complaint,
        "equipment": life.equipment,
        "place": life.place,
        "unit": life.unit,
        "technicians": life.visits.iter().filter_map(|visit| visit.technician.as_ref()).collect::<Vec<_>>(),
        "visits": life.visits.len(),
        "callback-of": life.before.as_ref().map(|before| &before.case),
        "cause": closing.and_then(|closing| closing.what.cause.as_ref()),
        "proved": closing.map(|closing| closing.what.proved),
        "standing": closing.map(|closing| closing.what.left_standing().collect::<Vec<_>>()),
        "outcome": words::outcome(knowledge, life),
        "head": case.head,
        "damage": case.damage,
    })
}
