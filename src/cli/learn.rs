//! `lineside learn`: cause frequencies from a shop's own closed cases.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use clap::Args;

use crate::files::{self, Limit};
use crate::inference::learn::{self, Counts, NOT_LISTED};
use crate::inference::prior;
use crate::knowledge::model::{Knowledge, TreeIndex};
use crate::walk::Walk;

use super::Problem;
use super::closed_cases::{self, Closed, Gathered};
use super::printing::print;
use super::problem::Done;
use super::settings;
use super::shared::Shared;

/// Shown at the end of the command's help.
pub(super) const EXAMPLES: &str = "\
Examples:
  lineside learn cases/ --out shop.toml               count the closed cases of a folder
  lineside learn cases/ --half-life 24 --out shop.toml   with older cases counting less
  lineside diagnose --shop shop.toml                  walk with what was learned

The authored frequencies weigh as 50 cases, so a shop with five cases cannot swamp them.";

/// Seconds in the mean month of the Gregorian calendar.
const MONTH_SECONDS: f64 = 365.2425 / 12.0 * 86_400.0;

/// Largest moves shown for a complaint.
const MOST_MOVES: usize = 10;

/// The largest file of learned frequencies read. One that knew every cause under every complaint there is now, some
/// 6,000 lines, would have about 250,000 bytes.
const LARGEST_SHOP: Limit = Limit {
    what: "a file of learned frequencies",
    bytes: 2_000_000,
};

/// What was typed.
#[derive(Args, Clone, Debug)]
pub(crate) struct LearnArgs {
    /// Case files, or folders of them
    #[arg(required = true, value_name = "CASES")]
    cases: Vec<PathBuf>,
    /// Write what was learned to this file
    #[arg(long, value_name = "FILE.toml")]
    out: PathBuf,
    /// Months in which a case loses half its weight, counted back from the newest case
    #[arg(long, value_name = "MONTHS")]
    half_life: Option<f64>,
    #[command(flatten)]
    shared: Shared,
}

/// Runs the command.
///
/// # Errors
/// When no case is closed, or the file cannot be written.
pub(super) fn run(args: &LearnArgs) -> Result<Done, Problem> {
    if let Some(months) = args.half_life
        && !(months.is_finite() && months > 0.0)
    {
        return Err(Problem::usage(format!(
            "a half-life of {months} months makes no sense, expected more than 0"
        )));
    }
    let knowledge = args.shared.knowledge.load()?;
    let Gathered {
        closed,
        open,
        left_out,
    } = closed_cases::gather(&args.cases);
    if closed.is_empty() {
        return Err(Problem::data(format!(
            "there is no closed case ({open} not closed){}",
            not_counted(&left_out)
        ))
        .hint("`lineside case close NAME` says what it was in the end"));
    }
    let counts = count(knowledge, &closed, args.half_life);
    let text = toml::to_string(&counts)
        .map_err(|error| Problem::data(format!("cannot write what was learned: {error}")))?;
    let head =
        "# Cause frequencies learned by `lineside learn`. Weights of closed cases by complaint and cause.\n";
    files::write_whole(&args.out, &format!("{head}{text}"))?;
    print(&report(knowledge, &counts, open, &left_out))?;
    Ok(Done::Well)
}

fn count(knowledge: &Knowledge, closed: &[Closed], half_life_months: Option<f64>) -> Counts {
    let newest = closed.iter().map(|case| case.at).max();
    let mut counts: BTreeMap<String, BTreeMap<String, f64>> = BTreeMap::new();
    for case in closed {
        // Age counts back from the newest case, not from today, so that the same cases give the same file.
        let seconds = newest.map_or(0.0, |newest| (newest.as_second() - case.at.as_second()) as f64);
        let weight =
            learn::case_weight(case.proved) * learn::decay(seconds / MONTH_SECONDS, half_life_months);
        let named = |id| knowledge.cause_id(id);
        let cause = case.cause.as_deref().map_or(NOT_LISTED, named).to_owned();
        *counts
            .entry(case.complaint.clone())
            .or_default()
            .entry(cause)
            .or_default() += weight;
    }
    Counts {
        schema: learn::SCHEMA,
        cases: closed.len(),
        half_life_months,
        counts,
    }
}

/// What was not counted and why, below the sentence that says what was.
fn not_counted(left_out: &[String]) -> String {
    if left_out.is_empty() {
        return String::new();
    }
    format!("\nNot counted:\n  {}", left_out.join("\n  "))
}

/// Before and after, for the causes that move most.
fn report(knowledge: &Knowledge, counts: &Counts, open: usize, left_out: &[String]) -> String {
    let mut text = String::new();
    // Writing into a string cannot fail.
    let _ = writeln!(
        text,
        "{} closed cases counted, {open} not closed and left out.{}",
        counts.cases,
        not_counted(left_out)
    );
    for (complaint, by_cause) in &counts.counts {
        let Some(tree) = knowledge.tree(complaint) else {
            let _ = writeln!(
                text,
                "\n{complaint}: the knowledge has no such complaint; left out."
            );
            continue;
        };
        let seen: f64 = by_cause.values().sum();
        let _ = writeln!(
            text,
            "\n{complaint}: cases weigh {seen:.1} against {:.0} of the authors",
            learn::AUTHORED_CASES
        );
        let _ = writeln!(text, "  {:<44} {:>8} {:>8}", "cause", "authored", "learned");
        for (name, before, after) in moves(knowledge, tree, by_cause) {
            let _ = writeln!(
                text,
                "  {name:<44} {:>7.1}% {:>7.1}%",
                before * 100.0,
                after * 100.0
            );
        }
    }
    text
}

fn moves(
    knowledge: &Knowledge,
    tree: TreeIndex,
    by_cause: &BTreeMap<String, f64>,
) -> Vec<(String, f64, f64)> {
    let authored = prior::of_complaint(knowledge, tree);
    let count = |id: &str| by_cause.get(id).copied().unwrap_or(0.0);
    let mut seen: Vec<f64> = knowledge.causes.iter().map(|cause| count(&cause.id)).collect();
    seen.push(count(NOT_LISTED));
    let learned = learn::shares(&authored, &seen, learn::AUTHORED_CASES);
    let names = knowledge
        .causes
        .iter()
        .map(|cause| cause.id.clone())
        .chain([NOT_LISTED.to_owned()]);
    let mut moves: Vec<(String, f64, f64)> = names
        .zip(authored)
        .zip(learned)
        .map(|((name, before), after)| (name, before, after))
        .collect();
    moves.sort_by(|a, b| {
        (b.2 - b.1)
            .abs()
            .total_cmp(&(a.2 - a.1).abs())
            .then(a.0.cmp(&b.0))
    });
    moves.truncate(MOST_MOVES);
    moves
}

/// What a shop has learned, as typed.
#[derive(Args, Clone, Debug, Default)]
pub(super) struct Shop {
    /// Use cause frequencies learned from a shop's cases by `lineside learn`
    #[arg(long, value_name = "FILE.toml")]
    shop: Option<PathBuf>,
}

impl Shop {
    /// A new walk, with what the shop has learned by the option, else by the settings.
    pub(super) fn walk<'k>(&self, knowledge: &'k Knowledge) -> Result<Walk<'k>, Problem> {
        let walk = Walk::new(knowledge);
        match self.shop.as_ref().or(settings::held().shop_file.as_ref()) {
            None => Ok(walk),
            Some(path) => Ok(walk.learned(counts(path)?)),
        }
    }
}

/// Reads what a shop has learned.
///
/// # Errors
/// When the file cannot be read or is not of this form.
pub(super) fn counts(path: &Path) -> Result<Counts, Problem> {
    let name = path.display();
    let text = files::read_text(path, LARGEST_SHOP)?;
    let counts: Counts = toml::from_str(&text).map_err(|error| {
        Problem::data(format!(
            "`{name}` is no file of learned frequencies: {}",
            error.message()
        ))
    })?;
    if counts.schema > learn::SCHEMA {
        return Err(Problem::data(format!(
            "`{name}` has schema {}, this program knows up to {}",
            counts.schema,
            learn::SCHEMA
        ))
        .hint("use the newer program"));
    }
    let sound = |weight: &f64| weight.is_finite() && *weight >= 0.0;
    match counts
        .counts
        .values()
        .flatten()
        .find(|(_, weight)| !sound(weight))
    {
        Some((cause, weight)) => Err(Problem::data(format!(
            "`{name}`: the weight of `{cause}` is {weight}, expected 0 or more"
        ))),
        None => Ok(counts),
    }
}
