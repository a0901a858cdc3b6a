//! The result on one screen: what a tired technician needs to know what to do next.

use crate::inference::stop::{self, Reason};
use crate::inference::words;
use crate::knowledge::model::State;

use super::closed::how_proved;
use super::form::{Check, Ending, HeldShown, Step, made_safe_first};
use super::layout::{Layout, Page};
use super::repair::must;
use super::wording::lower_first;
use super::{CaseResult, CauseStanding, RequirementShown};

/// From this share on it is said how much is left for something not listed. Our choice, no source.
const UNLISTED: f64 = 0.05;

/// Columns from which the job has a line of its own.
const WIDE: usize = 68;

/// Where the full text stands, which the first screen points to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Below {
    /// Printed below it.
    Printed,
    /// On keys beside it.
    OnKeys,
    /// In the report of the case, made anew.
    OnPaper,
}

/// How much is cut so that it fits: each step cuts what hurts least. No danger is ever left out; many are named in fewer words
/// last.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Cut {
    Nothing,
    /// The job on the line of the place, no missing figures.
    Extras,
    /// First sentences only.
    Sentences,
    /// Counts in place of lists.
    Lists,
    /// Two lines of anything but a danger.
    Lines,
    /// Three dangers and more in one list, and one line of anything else.
    Dangers,
}

/// From so many on, what keeps it off is named in one list where it would push the result off the screen. Our choice, no source.
const MANY: usize = 3;

/// The first screen, in lines of the layout's width; cut to `room` lines where it can be.
#[must_use]
pub fn lines(result: &CaseResult, layout: Layout, room: usize, below: Below) -> Vec<String> {
    fitting(result, layout, room, below).1
}

/// Whether the repair of the first cause or its proof does not stand there whole.
#[must_use]
pub fn cuts_the_repair(result: &CaseResult, layout: Layout, room: usize, below: Below) -> bool {
    let ending = &result.ending;
    let repairs = ending.step == Step::Repair || (ending.likeliest && ending.step != Step::Call);
    let only_proves = matches!(ending.step, Step::Check | Step::Nothing) && ending.check.is_none();
    let (cut, _) = fitting(result, layout, room, below);
    let is_cut = |text: &str| sentence(text, layout, cut) != text;
    result.standing.first().is_some_and(|cause| {
        (repairs && is_cut(&cause.remedy)) || ((repairs || only_proves) && is_cut(&cause.proof))
    })
}

fn fitting(result: &CaseResult, layout: Layout, room: usize, below: Below) -> (Cut, Vec<String>) {
    let mut fitting = (Cut::Nothing, Vec::new());
    for cut in [
        Cut::Nothing,
        Cut::Extras,
        Cut::Sentences,
        Cut::Lists,
        Cut::Lines,
        Cut::Dangers,
    ] {
        fitting = (cut, cut_to(result, layout, below, cut));
        if fitting.1.len() <= room {
            break;
        }
    }
    fitting
}

fn cut_to(result: &CaseResult, layout: Layout, below: Below, cut: Cut) -> Vec<String> {
    let mut page = super::layout::Page::new(layout);
    dangers(&mut page, result, below, cut);
    if result.closed.is_some() {
        closed(&mut page, result);
    }
    match result.ending.step {
        Step::Repair => decided(&mut page, result, layout, cut),
        Step::Call if result.shows_causes() => standing_alone(&mut page, result, layout, cut),
        Step::Call => {}
        Step::GoOn | Step::Check | Step::Nothing if result.ending.likeliest => {
            likeliest(&mut page, result, layout, cut);
        }
        Step::GoOn | Step::Check | Step::Nothing => undecided(&mut page, result, cut),
    }
    figures(&mut page, result, layout, cut);
    defects(&mut page, result, cut);
    if result.closed.is_none() {
        next(&mut page, result, layout, cut);
    }
    cautions(&mut page, result, below);
    page.text.lines().map(str::to_owned).collect()
}

fn row(page: &mut Page, label: &str, text: &str) {
    page.behind(&format!("{label:<10}"), text);
}

/// The first sentence of a text where sentences are cut, and no more than fits about two lines where lines are.
fn sentence(text: &str, layout: Layout, cut: Cut) -> String {
    let first = match text.split_once(". ") {
        Some((first, _)) if cut >= Cut::Sentences => format!("{first}. ..."),
        _ => text.to_owned(),
    };
    // Behind the label, less what each broken line loses at its end; the whole is on its key.
    let lines = if cut < Cut::Dangers { 2 } else { 1 };
    let room = lines * layout.width.saturating_sub(17);
    if cut < Cut::Lines || first.chars().count() <= room {
        return first;
    }
    let kept: String = first.chars().take(room).collect();
    let whole_words = kept.rsplit_once(' ').map_or(kept.as_str(), |(words, _)| words);
    format!("{whole_words} ...")
}

/// A stop for safety and every hold that is up, before all else; each in full, or all that keep it off by name, where there are
/// many and little room.
fn dangers(page: &mut Page, result: &CaseResult, below: Below, cut: Cut) {
    if result.ending.step == Step::Call {
        page.item("!", &result.conclusion.text);
    }
    let (off, others): (Vec<_>, Vec<_>) = held(result).partition(|held| held.off);
    if cut < Cut::Dangers || off.len() < MANY {
        off.iter()
            .chain(&others)
            .for_each(|held| page.item("!", &held.says));
        return;
    }
    let names: Vec<&str> = off.iter().map(|held| held.name.as_str()).collect();
    let whole = match below {
        Below::Printed => "each in full below",
        Below::OnKeys => "each in full: key !",
        Below::OnPaper => "each in full in the report",
    };
    page.item(
        "!",
        &format!(
            "{} dangers; nothing is switched on before every one is made good ({whole}): {}.",
            names.len(),
            names.join("; ")
        ),
    );
    others.iter().for_each(|held| page.item("!", &held.says));
}

/// The holds that say what the stop does not say already.
fn held(result: &CaseResult) -> impl Iterator<Item = &HeldShown> {
    let said = |says: &str| result.ending.step == Step::Call && result.conclusion.text.contains(says);
    result.held.iter().filter(move |held| !said(&held.says))
}

fn closed(page: &mut Page, result: &CaseResult) {
    if let Some(closed) = &result.closed {
        row(
            page,
            "closed",
            &format!("{}, {}", closed.name, how_proved(result)),
        );
    }
}

/// The cause that is to be corrected, and how.
fn decided(page: &mut Page, result: &CaseResult, layout: Layout, cut: Cut) {
    standing_alone(page, result, layout, cut);
    let Some(cause) = result.standing.first() else {
        return;
    };
    if let Some(part) = &result.ending.changed_before {
        let again = "Find what keeps killing it, or what else gives the same, before it is changed again.";
        row(
            page,
            "but",
            &sentence(
                &format!("changed before, no cure: {}. {again}", lower_first(part)),
                layout,
                cut,
            ),
        );
    }
    let to_do = if result.ending.no_fault { "to do" } else { "repair" };
    row(page, to_do, &sentence(&cause.remedy, layout, cut));
    row(page, "proof", &sentence(&cause.proof, layout, cut));
}

/// The cause that leads far without being settled, its repair, and what is left beside it.
fn likeliest(page: &mut Page, result: &CaseResult, layout: Layout, cut: Cut) {
    page.strong(if result.ending.no_fault {
        "Not settled. Likeliest: nothing is wrong; prove it."
    } else {
        "Not settled. Likeliest: correct it, then prove it."
    });
    decided(page, result, layout, cut);
    let others: Vec<String> = result
        .ending
        .leaders
        .iter()
        .skip(1)
        .map(|leader| format!("{}: {}", leader.name, words::percent(leader.probability)))
        .collect();
    if !others.is_empty() && cut < Cut::Lists {
        row(page, "else", &others.join("; "));
    }
    if let Some(first) = result.ending.check.as_ref().filter(|_| cut < Cut::Lists) {
        row(page, "or first", &check(first));
    }
}

/// The first cause: what, where, whose job.
fn standing_alone(page: &mut Page, result: &CaseResult, layout: Layout, cut: Cut) {
    let Some(cause) = result.standing.first() else {
        return;
    };
    let percent = words::percent(cause.probability);
    // After a stop for safety one that is not settled is only where it stood.
    let halted = result.ending.step == Step::Call && cause.probability >= stop::STRONG_ENOUGH;
    let label = if result.ending.is_decided() && result.ending.no_fault {
        "NO FAULT  "
    } else if result.ending.is_decided() || halted {
        "CAUSE     "
    } else if result.ending.likeliest {
        "likeliest "
    } else {
        "so far    "
    };
    page.strong_behind(label, &format!("{}: {percent}, {}", cause.name, cause.words));
    if let Some(seen) = result.ending.seen.as_ref().filter(|_| cut < Cut::Lists) {
        row(page, "found", seen);
    }
    let at = cause.place.in_words();
    if cut == Cut::Nothing && layout.width >= WIDE {
        row(page, "where", at);
        row(page, "whose job", cause.trade.in_words());
    } else {
        row(page, "where", &format!("{at}; job: {}", whose(cause)));
    }
}

/// That it is not settled, and for each cause that leads the check that would tell best about it.
fn undecided(page: &mut Page, result: &CaseResult, cut: Cut) {
    let status = match (result.conclusion.kind, result.stop_reason) {
        ("unlisted", _) => format!(
            "Not settled: the answers do not fit the listed causes well ({} is left for something not listed).",
            words::percent(result.unexplained.probability)
        ),
        (_, Some(reason)) if result.ending.step != Step::GoOn => format!("Not settled: {}.", why(reason)),
        _ => "Not settled yet.".to_owned(),
    };
    page.strong(&status);
    for (number, leader) in result.ending.leaders.iter().enumerate() {
        let percent = words::percent(leader.probability);
        let of = |cause: &&CauseStanding| cause.cause == leader.cause;
        let cause = result.standing.iter().find(of);
        let beside = match (cut, cause) {
            (Cut::Lines | Cut::Dangers, Some(cause)) if number == 0 => {
                format!(", {}", cause.place.in_words())
            }
            (Cut::Lists | Cut::Lines | Cut::Dangers, _) => String::new(),
            _ => format!(", {}", words::in_words(leader.probability)),
        };
        page.strong(&format!("{}. {}: {percent}{beside}", number + 1, leader.name));
        if let Some(cause) = cause.filter(|_| cut < Cut::Lines) {
            page.behind(
                "   ",
                &format!("{}; job: {}", cause.place.in_words(), whose(cause)),
            );
        }
        let first = result
            .ending
            .leaders
            .first()
            .and_then(|first| first.check.as_ref());
        let same = |one: &Check| number > 0 && first.is_some_and(|first| first.test == one.test);
        let tells = match &leader.check {
            // What the questions still come to is not known here.
            None if result.ending.step == Step::GoOn => continue,
            _ if number > 0 && cut >= Cut::Dangers => continue,
            None => "no check left here; only its repair and proof".to_owned(),
            Some(one) if same(one) => "the same check".to_owned(),
            Some(one) => check(one),
        };
        page.behind("   tells: ", &tells);
    }
    let unlisted = result.unexplained.probability;
    if unlisted >= UNLISTED && result.conclusion.kind != "unlisted" {
        let percent = words::percent(unlisted);
        page.behind("   ", &format!("Something not listed here: {percent}."));
    }
}

/// Whose job it is, in a word.
fn whose(cause: &CauseStanding) -> &'static str {
    cause.trade.in_words().split(" (").next().unwrap_or_default()
}

/// Why the questions ended, where that is not said by what stands below.
const fn why(reason: Reason) -> &'static str {
    match reason {
        Reason::LongEnough => "enough was asked for one visit",
        Reason::NothingCanBeMade => "what would tell could not be checked today",
        Reason::Settled => "two neighbors are still to be told apart",
        other => other.in_words(),
    }
}

fn check(check: &Check) -> String {
    let minutes = check.minutes.round().max(1.0);
    let state = match check.state {
        State::Told | State::Any => "",
        State::LockedOut => ", locked out",
        State::Running => ", running, covers on",
        State::Energised => ", energized",
        State::Firing => ", burner on",
    };
    let before = if check.passed_by { "; not made so far" } else { "" };
    let first = check
        .made_safe_by
        .map_or_else(String::new, |by| format!("; {}", made_safe_first(by)));
    format!(
        "{} ({minutes:.0} min{state}; {}{before}{first})",
        check.name,
        check.by.in_words()
    )
}

/// What the repair must come to.
fn figures(page: &mut Page, result: &CaseResult, layout: Layout, cut: Cut) {
    let known: Vec<(&RequirementShown, &str)> = result
        .requirements
        .iter()
        .filter_map(|entry| Some((entry, entry.must_be.as_deref()?)))
        .collect();
    let most = if cut >= Cut::Lists { 1 } else { known.len() };
    for (entry, must_be) in known.iter().take(most) {
        // A size without what it is the size of can be taken for that of something else.
        let which = match known.len() {
            1 => String::new(),
            count if count > most => format!("1 of {count}: {}: ", entry.name),
            _ => format!("{}: ", entry.name),
        };
        row(
            page,
            must(entry),
            &sentence(&format!("{which}{must_be}"), layout, cut),
        );
    }
    let mut wanted: Vec<String> = Vec::new();
    for need in result.requirements.iter().flat_map(|entry| &entry.needs) {
        let need = lower_first(need);
        if !wanted.contains(&need) {
            wanted.push(need);
        }
    }
    let sizes = result.ending.step != Step::Call && !result.ending.no_fault;
    if !wanted.is_empty() && cut == Cut::Nothing && sizes {
        let yet = if known.is_empty() { "none yet" } else { "more" };
        row(
            page,
            "figures",
            &format!("{yet}; wanted for them: {}", wanted.join("; ")),
        );
    }
}

fn defects(page: &mut Page, result: &CaseResult, cut: Cut) {
    let mut names: Vec<String> = Vec::new();
    for defect in &result.defects {
        let doubt = if defect.sure { "" } else { " (check it first)" };
        let name = format!("{}{doubt}", lower_first(&defect.name));
        // Two legs can show the same.
        if !names.contains(&name) {
            names.push(name);
        }
    }
    if names.is_empty() {
        return;
    }
    let most = match cut {
        Cut::Lines | Cut::Dangers => 1,
        Cut::Lists => 2,
        _ => names.len(),
    };
    let mut said = names[..most.min(names.len())].join("; ");
    if names.len() > most {
        said.push_str(&format!("; {} more", names.len() - most));
    }
    row(page, "defects", &said);
}

/// The one step to take.
fn next(page: &mut Page, result: &CaseResult, layout: Layout, cut: Cut) {
    let ending = &result.ending;
    let said = match (ending.step, &ending.check) {
        (Step::Call, _) => "Make the call. Nothing is switched on or measured before.".to_owned(),
        (Step::Repair, _) => match &ending.make_sure {
            Some(sure) if cut >= Cut::Lists => {
                format!("{} Make sure first: {}.", carried(ending), sure.name)
            }
            Some(sure) => format!(
                "{} Make sure first: {}. Then {}. {}",
                carried(ending),
                check(sure),
                if ending.no_fault {
                    "prove it"
                } else {
                    "correct it, then prove it"
                },
                failing(result, cut)
            ),
            None => match &ending.why_first {
                Some(why) if cut >= Cut::Lists => format!("First why it burnt or failed: {}.", why.name),
                Some(why) => format!(
                    "First why it burnt or failed: {}. Then correct it, then prove it. {}",
                    check(why),
                    failing(result, cut)
                ),
                None if ending.no_fault => format!("Nothing to correct: prove it. {}", failing(result, cut)),
                None => format!("Correct it, then prove it. {}", failing(result, cut)),
            },
        },
        (Step::GoOn, _) => "Go on with the questions.".to_owned(),
        (Step::Check | Step::Nothing, _) if ending.likeliest => {
            let why = ending.why_first.as_ref();
            let why = why.map_or_else(String::new, |why| {
                format!("First why it burnt or failed: {}. ", why.name)
            });
            let correct = if ending.no_fault {
                "Nothing to correct"
            } else {
                "Correct it"
            };
            format!(
                "{why}{correct}; only its proof settles it. {}",
                failing(result, cut)
            )
        }
        (Step::Check, Some(best)) if cut >= Cut::Lists && best.made_safe_by.is_none() => {
            format!("Check: {}.", best.name)
        }
        (Step::Check, Some(best)) => format!("Check: {}.", check(best)),
        (Step::Check | Step::Nothing, _) => match result.standing.first() {
            Some(cause) => format!(
                "No check listed here would tell more. The first is proved or ruled out by: {}",
                sentence(&cause.proof, layout, cut)
            ),
            None => "No check listed here would tell more.".to_owned(),
        },
    };
    page.strong_behind("NEXT      ", &said);
}

/// What the first cause rests on, where it was not seen itself.
fn carried(ending: &Ending) -> &'static str {
    if ending.told_only {
        "Concluded from what was told; nothing seen or measured shows it yet."
    } else {
        "Concluded from what it does, not seen itself."
    }
}

fn failing(result: &CaseResult, cut: Cut) -> String {
    match &result.ending.failing {
        None => "If the proof fails, nothing listed here fits: begin anew with what was seen.".to_owned(),
        Some(then) => {
            let by = then
                .check
                .as_ref()
                .filter(|_| cut < Cut::Lines)
                .map_or_else(String::new, |best| format!("; check: {}", check(best)));
            format!("If the proof fails, next: {}{by}.", lower_first(&then.name))
        }
    }
}

fn cautions(page: &mut Page, result: &CaseResult, below: Below) {
    let shown: Vec<&str> = held(result).map(|held| held.says.as_str()).collect();
    let left = result
        .cautions
        .iter()
        .filter(|caution| !shown.contains(&caution.as_str()))
        .count();
    let text = match below {
        Below::Printed => format!("{left} cautions before any of it is done: read them below."),
        Below::OnKeys => format!("{left} cautions before any of it is done: key !"),
        Below::OnPaper => format!("{left} cautions before any of it is done: read them in the report."),
    };
    page.item("!", &text);
}
