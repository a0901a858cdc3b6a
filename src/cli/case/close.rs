//! `case close`: what it was in the end, so that a shop can learn from its cases.

use std::path::PathBuf;

use clap::Args;

use crate::cli::Problem;
use crate::cli::case_file::{CaseFile, TakenUp, Whereabouts, secured};
use crate::cli::learn::Shop;
use crate::cli::printing::print;
use crate::cli::problem::Done;
use crate::cli::shared::Shared;
use crate::inference::learn::NOT_LISTED;
use crate::inference::words::percent;
use crate::knowledge::model::{CauseIndex, Knowledge};
use crate::knowledge::nearest::unknown;
use crate::knowledge::search;
use crate::report::CaseResult;
use crate::walk::{Event, Proof, Stood, Walk};

use super::{ask::ask, dangers, named, words};

/// Shown at the end of the command's help.
pub(in crate::cli) const EXAMPLES: &str = "\
Examples:
  lineside case close last                              choose among what leads
  lineside case close last --cause 1                    the result's first cause
  lineside case close last --cause 'disconnect lug' --proved '12 mV at 21 A, as its twin'
  lineside case close last --cause 'not listed: mouse nest in the inducer' --text 'nest removed'
  lineside case close last --cause 1 --proved '2.1 A' --cleared 'heat-damage: lug and wire end made new'

Without a proof the case counts as a guess, and half; so it does while a danger stands by the answers
and nobody says what cleared it. A closed case stays as it is: when the trouble
comes back, `lineside case reopen` opens a callback.";

/// Leaders offered to choose from.
const MOST_OFFERED: usize = 5;

/// What was typed.
#[derive(Args, Clone, Debug)]
pub(crate) struct CloseArgs {
    /// The case
    #[arg(value_name = "NAME", required_unless_present = "case")]
    name: Option<PathBuf>,
    /// The case, by its file
    #[arg(long, value_name = "FILE", conflicts_with = "name")]
    case: Option<PathBuf>,
    /// What it was: its number in the result, words of its name, its id, or `not listed: WHAT`; without it, you choose
    #[arg(long, value_name = "CAUSE")]
    cause: Option<String>,
    /// The reading that proved the repair; without one the case counts as a guess, and half
    #[arg(long, value_name = "TEXT")]
    proved: Option<String>,
    /// What was done, where nothing proved it
    #[arg(long, value_name = "TEXT", conflicts_with = "proved")]
    text: Option<String>,
    /// What cleared a danger that stands: its id, a colon and what was done or read; once for each
    #[arg(long, value_name = "ID: TEXT")]
    cleared: Vec<String>,
    #[command(flatten)]
    who: Whereabouts,
    #[command(flatten)]
    shared: Shared,
}

/// What it was.
struct Confirmed {
    cause: Option<CauseIndex>,
    not_listed: Option<String>,
}

/// Runs the command.
///
/// # Errors
/// When the case cannot be used, has no complaint yet, or the cause is unknown.
pub(in crate::cli) fn run(args: &CloseArgs) -> Result<Done, Problem> {
    let knowledge = args.shared.knowledge.load()?;
    // Wrong words are told before the case is looked for.
    let number = args.cause.as_ref().and_then(|typed| typed.trim().parse().ok());
    let typed = args
        .cause
        .as_ref()
        .filter(|_| number.is_none())
        .map(|typed| confirmed(knowledge, typed))
        .transpose()?;
    let path = match (&args.case, &args.name) {
        (Some(file), _) => file.clone(),
        (None, Some(name)) => named::file(name)?,
        (None, None) => return Err(Problem::usage("no case was named")),
    };
    if !path.exists() {
        return Err(
            Problem::data(format!("there is no case file `{}`", path.display()))
                .hint("`lineside --case FILE` starts one"),
        );
    }
    let mut walk = Shop::default().walk(knowledge)?;
    let TakenUp { mut file, case, .. } = CaseFile::take_up(&path, &args.who, &mut walk)?;
    if walk.complaint().is_none() || walk.equipment().is_none() {
        return Err(Problem::data(format!(
            "the case `{}` has no complaint or equipment yet",
            path.display()
        ))
        .hint("go on with it first: `lineside --case FILE`"));
    }
    let mut proved = args.proved.clone();
    let mut standing = standing(&walk, &case);
    dangers::cleared(&args.cleared, &mut standing, &walk)?;
    let at_keyboard = args.cause.is_none();
    let what = match (typed, number) {
        (Some(what), _) => what,
        (None, Some(number)) => by_number(&walk, number)?,
        (None, None) => {
            let what = choose(&walk)?;
            if proved.is_none() && args.text.is_none() && !is_proved(&case) {
                proved = ask("What proved it? A reading; nothing typed: it is a guess.")?;
            }
            what
        }
    };
    // What was said at an earlier closing stays, where nothing new is said.
    let earlier = case.closing.as_ref().map(|closing| closing.what.text.clone());
    let said = proved.clone().or_else(|| args.text.clone());
    let text = said.or(earlier).unwrap_or_default();
    let has_proof = proved.is_some() || is_proved(&case);
    if let Some(reading) = proved {
        // A closed case stays as it is but for its closing, which carries the proof too.
        if !file.is_closed() {
            file.append(&Event::Proved {
                by: Proof::Recheck { reading },
            })?;
        }
    }
    if at_keyboard {
        // After the proof is kept: whoever breaks off here has lost nothing.
        ask_what_cleared(&walk, &mut standing)?;
    }
    let left: Vec<Stood> = standing
        .iter()
        .filter(|stood| stood.cleared.is_none())
        .cloned()
        .collect();
    let is_proved = has_proof && left.is_empty();
    let id = what.cause.map(|cause| knowledge.causes[cause].id.clone());
    let name = words::cause(knowledge, id.as_deref(), what.not_listed.as_deref());
    file.append(&Event::Closed {
        cause: id,
        not_listed: what.not_listed,
        proved: is_proved,
        text,
        standing,
    })?;
    secured(&mut file)?;
    let how = match (is_proved, left.is_empty()) {
        (true, _) => "proved",
        (false, true) => "a guess: nothing proved it, so it counts half",
        (false, false) => "a guess: a danger stands, so it counts half",
    };
    let head = file.journal().head().map_or(String::new(), |head| {
        format!("Head of the case, for the report on paper: {}\n", head.printed())
    });
    print(&format!("Closed: {name}, {how}.\n{head}"))?;
    for hold in walk.dangers() {
        if left.iter().any(|stood| stood.hold == hold.id) {
            print(&dangers::still_standing(hold))?;
        }
    }
    if let Some(first) = left.first() {
        print(&format!(
            "Once it is cleared, close it once more: lineside case close {} --cause ... --cleared '{}: WHAT CLEARED IT'\n",
            named::called(&path),
            first.hold
        ))?;
    }
    Ok(Done::Well)
}

/// The dangers that stand by the answers, with what an earlier closing said of them.
fn standing(walk: &Walk<'_>, case: &crate::journal::life::Life) -> Vec<Stood> {
    let earlier = case
        .closing
        .as_ref()
        .map_or(&[][..], |closing| &closing.what.standing);
    let dangers = walk.dangers().into_iter();
    let stood = dangers.map(|hold| Stood {
        hold: hold.id.clone(),
        cleared: earlier
            .iter()
            .find(|stood| stood.hold == hold.id)
            .and_then(|stood| stood.cleared.clone()),
    });
    stood.collect()
}

/// Asks of each danger that stands what cleared it.
fn ask_what_cleared(walk: &Walk<'_>, standing: &mut [Stood]) -> Result<(), Problem> {
    for hold in walk.dangers() {
        let stood = standing.iter_mut().find(|stood| stood.hold == hold.id);
        if let Some(stood) = stood.filter(|stood| stood.cleared.is_none()) {
            let question = dangers::wrapped(
                "What cleared it? A reading, or what was done; nothing typed: it still stands, and the case counts as a guess.",
            );
            stood.cleared = ask(&format!(
                "{}{}",
                dangers::still_standing(hold),
                question.trim_end()
            ))?;
        }
    }
    Ok(())
}

/// Whether a proof stands in the case after the last repair.
fn is_proved(case: &crate::journal::life::Life) -> bool {
    let repaired = case.repairs.last().map(|repair| repair.at);
    let proved = case.proofs.last().map(|proof| proof.at);
    proved.is_some() && proved >= repaired
}

/// What is meant by words: a cause by id or by words of its name, or something not listed.
fn confirmed(knowledge: &Knowledge, typed: &str) -> Result<Confirmed, Problem> {
    let typed = typed.trim();
    if let Some(what) = not_listed(typed) {
        return Ok(Confirmed {
            cause: None,
            not_listed: (!what.is_empty()).then(|| what.to_owned()),
        });
    }
    let by_id = knowledge.cause(typed);
    let by_words: Vec<CauseIndex> = knowledge
        .causes
        .indices()
        .filter(|cause| !typed.is_empty() && says(knowledge, *cause, typed))
        .collect();
    let only = by_id.or(match by_words.as_slice() {
        [cause] => Some(*cause),
        _ => None,
    });
    match (only, by_words.as_slice()) {
        (Some(cause), _) => Ok(Confirmed {
            cause: Some(cause),
            not_listed: None,
        }),
        (None, []) => {
            let known = knowledge.causes.iter().map(|cause| cause.id.as_str());
            Err(Problem::usage(unknown("cause", typed, known.chain([NOT_LISTED])))
                .hint("`lineside trees list causes` shows all; what is not among them is `not listed: WHAT`"))
        }
        (None, several) => {
            let names: Vec<String> = several
                .iter()
                .take(10)
                .map(|cause| {
                    let cause = &knowledge.causes[*cause];
                    format!("  {}  {}", cause.id, cause.name)
                })
                .collect();
            let more = several.len().saturating_sub(10);
            let rest = if more > 0 {
                format!("\n  and {more} more")
            } else {
                String::new()
            };
            Err(Problem::usage(format!(
                "`{typed}` fits {} causes:\n{}{rest}",
                several.len(),
                names.join("\n")
            ))
            .hint("give one more word, or the id"))
        }
    }
}

fn says(knowledge: &Knowledge, cause: CauseIndex, typed: &str) -> bool {
    let cause = &knowledge.causes[cause];
    search::has_all(&format!("{} {}", cause.id, cause.name), typed)
}

/// What stands behind `not listed`, however it is typed.
fn not_listed(typed: &str) -> Option<&str> {
    let head = typed.get(..NOT_LISTED.len())?;
    let says_so = head.eq_ignore_ascii_case(NOT_LISTED) || head.eq_ignore_ascii_case("not listed");
    let rest = typed[NOT_LISTED.len()..].trim_start();
    (says_so && (rest.is_empty() || rest.starts_with(':'))).then(|| rest.trim_start_matches(':').trim())
}

/// The cause that has this number among the leading causes of the result.
fn by_number(walk: &Walk<'_>, number: usize) -> Result<Confirmed, Problem> {
    let result = CaseResult::new(walk);
    let leaders = result.as_ref().map_or(&[][..], CaseResult::leaders);
    let named = number.checked_sub(1).and_then(|place| leaders.get(place));
    let cause = named.and_then(|leader| walk.knowledge().cause(&leader.cause));
    if cause.is_some() {
        return Ok(Confirmed {
            cause,
            not_listed: None,
        });
    }
    let listed: Vec<String> = leaders
        .iter()
        .enumerate()
        .map(|(place, leader)| format!("  {}. {}", place + 1, leader.name))
        .collect();
    let problem = Problem::usage(format!(
        "no leading cause has the number {number}; there are:\n{}",
        listed.join("\n")
    ));
    Err(problem.hint("give one of these numbers, words of another cause, or `not listed: WHAT`"))
}

/// Lets the person choose among what leads, or say it in words.
fn choose(walk: &Walk<'_>) -> Result<Confirmed, Problem> {
    let knowledge = walk.knowledge();
    let ranked = walk.ranked();
    let leaders: Vec<CauseIndex> = ranked
        .iter()
        .take(MOST_OFFERED)
        .map(|(cause, _)| *cause)
        .collect();
    let mut lines = vec!["What was it in the end?".to_owned()];
    for (number, (cause, probability)) in ranked.iter().take(MOST_OFFERED).enumerate() {
        lines.push(format!(
            "  {}. {} ({})",
            number + 1,
            knowledge.causes[*cause].name,
            percent(*probability)
        ));
    }
    lines.push("A number, words of another cause, or `not listed: WHAT`".to_owned());
    let mut question = lines.join("\n");
    loop {
        let Some(typed) = ask(&question)? else {
            return Err(Problem::data("nothing was chosen, and the case stays open"));
        };
        let number = typed.trim().parse::<usize>().ok();
        if let Some(cause) = number.and_then(|number| leaders.get(number.checked_sub(1)?)) {
            return Ok(Confirmed {
                cause: Some(*cause),
                not_listed: None,
            });
        }
        match confirmed(knowledge, &typed) {
            Ok(what) => return Ok(what),
            Err(problem) => question = problem.to_string().trim_end().to_owned(),
        }
    }
}
