//! What happens in an exercise, in words.

use crate::inference::words::percent;
use crate::knowledge::model::{Hazard, State, Test};
use crate::practice::{Debrief, Happened, Session, Unsafe};
use crate::report::layout;

/// What a run has cost so far.
pub(super) fn cost(session: &Session<'_>) -> String {
    let mut words = format!("{:.0} min", session.minutes());
    match session.live() {
        0 => {}
        1 => words.push_str(", 1 live step"),
        live => words.push_str(&format!(", {live} live steps")),
    }
    match session.wrong().len() {
        0 => {}
        stopped => words.push_str(&format!(", {stopped} stopped")),
    }
    words
}

/// What a test takes.
pub(super) fn takes(test: &Test) -> String {
    let mut words = vec![
        state(test.state).to_owned(),
        format!("{:.0} min", test.minutes.max(1.0)),
    ];
    if test.hazard > Hazard::None {
        words.push(test.hazard.in_words().to_owned());
    }
    words.join(", ")
}

/// The state a test is made in.
pub(super) const fn state(state: State) -> &'static str {
    match state {
        State::Told => "asked",
        State::Any => "from outside",
        State::LockedOut => "locked out",
        State::Running => "RUNNING",
        State::Energised => "ENERGIZED",
        State::Firing => "BURNER ON",
    }
}

/// Over the steps that come before a state.
pub(super) const fn steps(state: State) -> &'static str {
    match state {
        State::Energised => "what comes next is ENERGIZED",
        State::Running => "what comes next is RUNNING",
        State::Firing => "what comes next has the BURNER ON",
        _ => "what comes next is LOCKED OUT",
    }
}

/// What would have happened without the steps.
const fn without_steps(state: State) -> &'static str {
    match state {
        State::LockedOut => {
            "Hands would have gone into a unit that nobody had locked out, proved dead and discharged. It can start by \
             itself, and a capacitor holds its charge with the power off."
        }
        State::Energised => {
            "Probes would have gone to live parts with nobody geared up for it: leads not looked at, no gloves, the wrong \
             meter, other people near."
        }
        State::Running => {
            "It would have been switched on with covers off or somebody close by. Stand aside, covers on, then close the \
             switch."
        }
        State::Firing => "The burner would have been lit with fuel, air and vent not cleared.",
        State::Told | State::Any => "",
    }
}

/// How it came out, in a few words.
pub(super) fn verdict(debrief: &Debrief) -> &'static str {
    match (debrief.named.is_some(), debrief.is_right()) {
        (true, true) => "named right",
        (true, false) => "named wrong",
        (false, _) => "not named",
    }
}

/// One thing that happened, as lines of a width.
#[must_use]
pub fn happened_lines(session: &Session<'_>, happened: &Happened, width: usize) -> Vec<String> {
    let knowledge = session.walk().knowledge();
    let test = |test: &crate::knowledge::model::TestIndex| &knowledge.tests[*test];
    let line = |lead: &str, text: &str| wrapped(lead, text, width);
    match happened {
        Happened::Made {
            test: made,
            found,
            minutes,
        } => {
            let lead = if test(made).state == State::Told {
                "  customer: "
            } else {
                "  found: "
            };
            line(lead, &format!("{found} ({minutes:.0} min)"))
        }
        Happened::Again { found, minutes, .. } => line(
            "  the same as before: ",
            &format!("{found} ({minutes:.0} min gone)"),
        ),
        Happened::Read { fact, value } => {
            let name = &knowledge.facts[*fact].name;
            line("  read: ", &format!("{name}: {value}"))
        }
        Happened::Calculated { finding, .. } => line("  calculated: ", finding),
        Happened::Defect { name } => line("  DEFECT, to be corrected whatever the cause: ", name),
        Happened::StepsFirst { test: waits, .. } => line("  steps come first: ", &test(waits).name),
        Happened::Prepared { state: now, minutes } => {
            let done = match now {
                State::LockedOut => "locked out, proved dead, discharged",
                State::Energised => "geared up, leads looked at, energized",
                State::Running => "covers on, people clear, switched on",
                _ => "fuel, air and vent clear; called for heat",
            };
            if *minutes >= 1.0 {
                line("  done: ", &format!("{done} ({minutes:.0} min)"))
            } else {
                line("  done: ", done)
            }
        }
        Happened::LetRun { minutes } => {
            let run = format!("let run for {minutes:.0} min: what comes with the run is not there before");
            line("  first: ", &run)
        }
        Happened::Stopped(wrong) => stopped(session, wrong, width),
        Happened::Lacks { test: of, readings } => {
            let names: Vec<&str> = readings.iter().map(|one| test(one).name.as_str()).collect();
            line(
                "  first: ",
                &format!("{} takes these readings: {}", test(of).name, names.join("; ")),
            )
        }
        Happened::Leads { leaders } => leaders
            .iter()
            .flat_map(|(cause, share)| {
                line(
                    "  leads: ",
                    &format!("{}: {}", percent(*share), knowledge.causes[*cause].name),
                )
            })
            .collect(),
        Happened::Over(_) => Vec::new(),
    }
}

/// Why a choice was stopped, and what comes first.
pub(super) fn stopped(session: &Session<'_>, wrong: &Unsafe, width: usize) -> Vec<String> {
    let knowledge = session.walk().knowledge();
    let known = &knowledge.tests[wrong.test];
    let mut lines = wrapped(
        "chosen  ",
        &format!("{} ({})", known.name, state(known.state)),
        width,
    );
    match wrong.hold {
        Some(hold) => {
            let hold = &knowledge.holds[hold];
            lines.extend(wrapped("stands  ", &hold.name, width));
            lines.extend(wrapped("why     ", &hold.says, width));
            if let Some(first) = wrong.first {
                lines.extend(wrapped("first   ", &knowledge.tests[first].name, width));
            }
        }
        None => lines.extend(wrapped("why     ", without_steps(known.state), width)),
    }
    lines
}

/// Text behind a lead, further lines set in by it.
pub(super) fn wrapped(lead: &str, words: &str, width: usize) -> Vec<String> {
    let rest = " ".repeat(console::measure_text_width(lead));
    let options = layout::plain_wrap(width)
        .initial_indent(lead)
        .subsequent_indent(&rest);
    let words = crate::report::visible::visible(words).replace(" %", "\u{a0}%");
    textwrap::wrap(&words, options)
        .into_iter()
        .map(|line| line.replace('\u{a0}', " "))
        .collect()
}
