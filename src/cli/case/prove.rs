//! `case repaired` and `case proved`: what was done, and what showed that it held.

use std::path::PathBuf;

use clap::Args;

use crate::cli::Problem;
use crate::cli::case_file::{CaseFile, TakenUp, Whereabouts, secured};
use crate::cli::printing::print;
use crate::cli::problem::Done;
use crate::cli::shared::Shared;
use crate::knowledge::model::Knowledge;
use crate::quantity::Value;
use crate::standards::calculation::Inputs;
use crate::standards::registry;
use crate::walk::{Event, Proof, Walk};

use super::{ask::ask, dangers, named};

/// Shown at the end of the command's help.
pub(super) const EXAMPLES: &str = "\
Examples:
  lineside case proved last --reading '12 mV across the lug at 21 A, as its twin'
  lineside case proved last --ran '80 h' --between '24 h'   it used to fail about once a day

How long it must run clean is worked out as `lineside figure clean-run` does: 95 % sure unless told.";

/// What was typed after `repaired`.
#[derive(Args, Clone, Debug)]
pub(super) struct RepairedArgs {
    /// The case
    #[arg(value_name = "NAME")]
    name: PathBuf,
    /// What was done
    #[arg(value_name = "TEXT")]
    text: String,
    /// By whom
    #[arg(long, value_name = "NAME")]
    by: Option<String>,
    #[command(flatten)]
    who: Whereabouts,
    #[command(flatten)]
    shared: Shared,
}

/// What was typed after `proved`.
#[derive(Args, Clone, Debug)]
pub(super) struct ProvedArgs {
    /// The case
    #[arg(value_name = "NAME")]
    name: PathBuf,
    /// What was read again, with its figure
    #[arg(long, value_name = "TEXT", required_unless_present = "ran")]
    reading: Option<String>,
    /// How long it has run without the trouble since
    #[arg(long, value_name = "TIME", conflicts_with = "reading")]
    ran: Option<String>,
    /// Usual time between two failures before; without it, what the case says
    #[arg(long, value_name = "TIME", requires = "ran")]
    between: Option<String>,
    /// How sure to be
    #[arg(long, value_name = "PERCENT", requires = "ran")]
    sure: Option<String>,
    #[command(flatten)]
    who: Whereabouts,
    #[command(flatten)]
    shared: Shared,
}

/// Runs `case repaired`.
pub(super) fn repaired(args: &RepairedArgs) -> Result<Done, Problem> {
    if args.text.trim().is_empty() {
        return Err(Problem::usage("it is not said what was done"));
    }
    let knowledge = args.shared.knowledge.load()?;
    let mut walk = Walk::new(knowledge);
    let path = named::file(&args.name)?;
    let mut file = CaseFile::take_up(&path, &args.who, &mut walk)?.file;
    let event = Event::Repaired {
        text: args.text.clone(),
        by: args.by.clone(),
    };
    file.append(&event)?;
    secured(&mut file)?;
    dangers::print_all(&walk)?;
    let name = named::called(&path);
    print(&format!(
        "Kept: repaired. When it is read again: lineside case proved {name} --reading TEXT\n"
    ))?;
    Ok(Done::Well)
}

/// Runs `case proved`.
pub(super) fn proved(args: &ProvedArgs) -> Result<Done, Problem> {
    let knowledge = args.shared.knowledge.load()?;
    let mut walk = Walk::new(knowledge);
    let path = named::file(&args.name)?;
    let TakenUp { mut file, .. } = CaseFile::take_up(&path, &args.who, &mut walk)?;
    let (by, said) = match (&args.reading, &args.ran) {
        (Some(reading), _) if !reading.trim().is_empty() => (
            Proof::Recheck {
                reading: reading.clone(),
            },
            "proved by a reading".to_owned(),
        ),
        (_, Some(ran)) => clean_run(args, ran, knowledge, &walk)?,
        _ => return Err(Problem::usage("it is not said what was read")),
    };
    file.append(&Event::Proved { by })?;
    secured(&mut file)?;
    dangers::print_all(&walk)?;
    if let Some(line) = dangers::of_a_run(&walk, args.ran.is_some()) {
        print(&dangers::wrapped(line))?;
    }
    let name = named::called(&path);
    print(&format!(
        "Kept: {said}. To close it: lineside case close {name}\n"
    ))?;
    Ok(Done::Well)
}

/// The calculation that says how long is long enough.
const CALCULATION: &str = "clean-run";

/// The fact of the case that says how often it failed.
const FACT: &str = "time-between-failures";

/// Asks how often it failed, which a case seldom says; nobody is there to ask where the input has ended.
fn ask_between(ran: &str) -> Result<String, Problem> {
    let question =
        "How long did it usually run between two failures before the repair? Such as 24 h or 3 days.";
    ask(question)?.ok_or_else(|| {
        Problem::usage("the case does not say how often it failed").hint(format!(
            "add `--between TIME`, the usual time between two failures before the repair: --ran '{ran}' --between '24 h'"
        ))
    })
}

/// Works out whether it ran long enough.
fn clean_run(
    args: &ProvedArgs,
    ran: &str,
    knowledge: &Knowledge,
    walk: &Walk<'_>,
) -> Result<(Proof, String), Problem> {
    let calculation = registry::find(CALCULATION)
        .ok_or_else(|| Problem::data(format!("there is no calculation `{CALCULATION}`")))?;
    let mut inputs = Inputs::default();
    let mut give = |input: &str, text: &str| {
        inputs
            .parse(calculation, input, text)
            .map_err(|error| Problem::usage(error.to_string()))
    };
    give("clean-time", ran)?;
    if let Some(sure) = &args.sure {
        give("confidence", sure)?;
    }
    if let Some(between) = &args.between {
        give("mean-time-between", between)?;
    } else {
        let known = knowledge.fact(FACT).and_then(|fact| walk.fact(fact)).flatten();
        match known.cloned() {
            Some(known) => {
                inputs.0.insert("mean-time-between".to_owned(), known);
            }
            None => {
                let typed = ask_between(ran)?;
                inputs
                    .parse(calculation, "mean-time-between", &typed)
                    .map_err(|error| Problem::usage(error.to_string()))?;
            }
        }
    }
    let report = (calculation.run)(&inputs).map_err(|error| Problem::data(error.to_string()))?;
    if report.verdict != "enough" {
        return Err(Problem::data(format!("not proved yet: {}", report.finding))
            .hint("nothing was added to the case; let it run on, or prove it by a reading"));
    }
    let hours = |value: Option<&Value>| match value {
        Some(Value::Quantity(quantity)) => quantity.base / 3600.0,
        _ => 0.0,
    };
    let needed = report
        .outputs
        .iter()
        .find(|(name, _)| **name == "clean-time-needed")
        .map(|(_, value)| value);
    let proof = Proof::CleanRun {
        ran: hours(inputs.get("clean-time")),
        needed: hours(needed),
        between: hours(inputs.get("mean-time-between")),
    };
    Ok((proof, format!("proved: {}", report.finding)))
}
