//! `lineside practice record`: what was practiced and how it went, for who teaches.
//!
//! A command of its own and no table of `lineside review`: there every figure counts real cases, and an exercise must never
//! slip into one. The end of the text names the command that shows the real
//! cases of the same people.

use std::fmt::Write;
use std::path::PathBuf;

use clap::Args;

use crate::cli::Problem;
use crate::cli::options::{Format, Printed};
use crate::cli::printing::{print, remark};
use crate::cli::problem::Done;
use crate::cli::shared::Shared;
use crate::knowledge::model::Knowledge;
use crate::knowledge::search;
use crate::practice::{Entry, HabitKind, Record, Sum};

use super::kept;

/// Shown at the end of the command's help.
pub(super) const EXAMPLES: &str = "\
Examples:
  lineside practice record                                   everybody, every topic, the last runs
  lineside practice record --technician 'first shift'        one person
  lineside practice record a/runs.jsonl b/runs.jsonl         the files of several people together
  lineside practice record --format json                     every run, for a program
  lineside review --table technician                         the real cases, to read beside it";

/// Runs shown one by one.
const LAST: usize = 10;

/// What was typed.
#[derive(Args, Clone, Debug)]
pub(super) struct RecordArgs {
    /// Files of runs; left out, the usual one
    #[arg(value_name = "FILES")]
    files: Vec<PathBuf>,
    /// Runs of this person, by words of the name
    #[arg(long, value_name = "NAME")]
    technician: Option<String>,
    /// Runs with this complaint
    #[arg(long, value_name = "ID")]
    complaint: Option<String>,
    #[command(flatten)]
    print: Printed,
    #[command(flatten)]
    shared: Shared,
}

pub(super) fn run(args: &RecordArgs) -> Result<Done, Problem> {
    let knowledge = args.shared.knowledge.load()?;
    let files = if args.files.is_empty() {
        vec![kept::usual_file()?]
    } else {
        args.files.clone()
    };
    let mut record = Record::default();
    let mut unread = 0;
    for file in &files {
        if !args.files.is_empty() && !file.exists() {
            return Err(Problem::data(format!("there is no file `{}`", file.display())));
        }
        let own = kept::read(file)?;
        unread += own.unread.len();
        for line in &own.unread {
            remark(&format!(
                "`{}`, line {line}: no run this program can read; left out",
                file.display()
            ));
        }
        record.entries.extend(own.entries);
    }
    record.entries.retain(|entry| fits(args, entry));
    record.entries.sort_by_key(|entry| entry.at);
    match args.print.form {
        Format::Json => {
            let lines: Result<String, _> = record.entries.iter().map(Entry::line).collect();
            print(&lines.map_err(|error| Problem::data(format!("cannot write the runs: {error}")))?)?;
        }
        _ => print(&text(knowledge, &record))?,
    }
    Ok(if unread == 0 { Done::Well } else { Done::Findings })
}

fn fits(args: &RecordArgs, entry: &Entry) -> bool {
    let by = entry.by.as_deref().unwrap_or_default();
    let words = args.technician.as_ref();
    words.is_none_or(|words| search::has_all(by, words))
        && args.complaint.as_ref().is_none_or(|id| *id == entry.complaint)
}

fn text(knowledge: &Knowledge, record: &Record) -> String {
    let mut text = String::from("PRACTICE: exercises, no real case\n");
    if record.entries.is_empty() {
        text.push_str("No run is recorded. Walk one: lineside practice\n");
        return text;
    }
    let by_person = record.by(|entry| entry.by.clone().unwrap_or_else(|| "not said".to_owned()));
    table(&mut text, "who", &by_person);
    let by_topic = record.by(|entry| entry.complaint.clone());
    table(&mut text, "topic", &by_topic);
    text.push_str("\nhabits to change, oftenest first\n");
    for (kind, times) in habits(record) {
        let _ = writeln!(text, "{times:>4}  {}", kind.in_words());
    }
    text.push_str("\nlast runs\n");
    for entry in record.entries.iter().rev().take(LAST) {
        let truth = knowledge.cause(&entry.truth);
        let truth = truth.map_or(entry.truth.as_str(), |cause| {
            knowledge.causes[cause].name.as_str()
        });
        let day = entry.at.strftime("%Y-%m-%d");
        let what = entry
            .exercise
            .clone()
            .unwrap_or_else(|| format!("seed {}", entry.seed));
        let how = match (&entry.named, entry.right) {
            (_, true) => "right",
            (Some(_), false) => "wrong",
            (None, false) => "not named",
        };
        let line = format!(
            "{day} {} level {} {what}: {how}",
            entry.by.as_deref().unwrap_or("not said"),
            u8::from(entry.level)
        );
        let _ = writeln!(text, "{}", console::truncate_str(&line, WIDTH, "..."));
        let line = format!(
            "     {} tests, {:.0} min (engine {:.0}), {} live, {} stopped; it was: {truth}",
            entry.tests,
            entry.minutes,
            entry.engine.minutes,
            entry.live,
            entry.wrong.len()
        );
        let _ = writeln!(text, "{}", console::truncate_str(&line, WIDTH, "..."));
    }
    text.push_str(
        "\nright: the truth was named; stopped: unsafe choices, none carried out, and those of the last 5\n\
         runs; pace: minutes over the engine's in the middle run. Real cases: lineside review --table technician\n",
    );
    text
}

/// Columns of what is printed.
const WIDTH: usize = 80;

fn table(text: &mut String, head: &str, rows: &[(String, Sum)]) {
    let _ = writeln!(
        text,
        "\n{head:<28} {:>5} {:>6} {:>8} {:>7} {:>6} {:>5}",
        "runs", "right", "stopped", "lately", "hints", "pace"
    );
    for (name, sum) in rows {
        let name = console::truncate_str(name, 28, "...");
        let _ = writeln!(
            text,
            "{name:<28} {:>5} {:>4} % {:>8} {:>7} {:>6} {:>5.1}",
            sum.runs,
            100 * sum.right / sum.runs.max(1),
            sum.wrong,
            sum.wrong_lately,
            sum.hints,
            sum.pace
        );
    }
}

/// Habits to change with how often, the gravest first among equals.
fn habits(record: &Record) -> Vec<(HabitKind, usize)> {
    let mut counts: Vec<(HabitKind, usize)> = Vec::new();
    for entry in record
        .entries
        .iter()
        .filter(|entry| entry.habit != HabitKind::KeepIt)
    {
        match counts.iter_mut().find(|(kind, _)| *kind == entry.habit) {
            Some((_, count)) => *count += 1,
            None => counts.push((entry.habit, 1)),
        }
    }
    counts.sort_by(|a, b| b.1.cmp(&a.1).then(a.0.cmp(&b.0)));
    counts
}
