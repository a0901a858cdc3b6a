//! The pieces a question is shown as, and earlier steps in a few words.

use std::io;

use crate::inference::words;
use crate::knowledge::indexed::Indexed;
use crate::knowledge::model::{CauseIndex, FactIndex, Hazard, Knowledge, State, Test, TestIndex, TestKind};
use crate::quantity::{Value, choice_among};
use crate::walk::{Because, Event, Given, Walk, caution, sayings};

use super::screen::{Mark, Screen};

/// Shown once, before the first question: the rule is written, the lines are for the caller to show.
/// Whoever goes on with a case has read the statement: what stands of the case needs its lines.
pub(super) fn opening(screen: &mut Screen, goes_on: bool) -> io::Result<Vec<String>> {
    screen.rule("before you start")?;
    let mut lines = if goes_on {
        Vec::new()
    } else {
        screen.wrap("", caution::STANDING_STATEMENT)
    };
    let danger = screen.wrap(
        "",
        "If anything smokes, smells burnt, tingles or stands in water: hands off, power off at the panel if you \
         can do so safely, people away, call for help first. Gas or fumes: touch no switch, all out, call from outside.",
    );
    lines.extend(danger.iter().map(|line| screen.mark(line, Some(Mark::Danger))));
    Ok(lines)
}

/// The head of a question about a test: state and cost, the question, its caution, why it was chosen.
pub(super) fn test_head(
    screen: &mut Screen,
    walk: &Walk<'_>,
    index: TestIndex,
    because: &Because,
) -> io::Result<()> {
    let test = &walk.knowledge().tests[index];
    screen.rule(&format!("question {}: {}", walk.steps() + 1, cost_words(test)))?;
    screen.wrapped("", &test.ask, Some(Mark::Strong))?;
    if !test.caution.is_empty() && (test.state.is_prepared() || test.hazard > Hazard::Low) {
        screen.wrapped("  ! caution: ", &test.caution, Some(Mark::Danger))?;
    }
    match because {
        Because::Authored | Because::Taken => Ok(()),
        Because::MakesSure => screen.wrapped(
            "  chosen: ",
            "it makes sure of the cause that leads",
            Some(Mark::Quiet),
        ),
        Because::WhyFirst => screen.wrapped(
            "  chosen: ",
            "why it burnt or failed: without that it comes again",
            Some(Mark::Quiet),
        ),
        Because::Clears(hold) => {
            let name = &walk.knowledge().holds[*hold].name;
            // Once one of its proofs is there, the name of the hold may no longer be true.
            let first = match walk.proofs_given(*hold) {
                0 => format!("nothing goes on before this: {name}"),
                _ => format!("nothing goes on before this is proved too: {}", test.name),
            };
            screen.wrapped("  first: ", &first, Some(Mark::Danger))
        }
        Because::InputOf(other) => {
            let wanted = format!("needed to calculate: {}", walk.knowledge().tests[*other].name);
            screen.wrapped("  chosen: ", &wanted, Some(Mark::Quiet))
        }
        Because::Gain { line, .. } => screen.wrapped("  chosen: ", line, Some(Mark::Quiet)),
    }
}

fn cost_words(test: &Test) -> String {
    let mut words = Vec::new();
    if test.state.is_prepared() {
        words.push(test.state.in_words().to_owned());
    }
    if test.minutes >= 1.0 {
        words.push(format!("{:.0} min", test.minutes));
    }
    if test.hazard > Hazard::None {
        words.push(test.hazard.in_words().to_owned());
    }
    if words.is_empty() {
        "a moment".to_owned()
    } else {
        words.join(", ")
    }
}

/// The head of a question about a fact.
pub(super) fn fact_head(screen: &mut Screen, walk: &Walk<'_>, fact: FactIndex) -> io::Result<()> {
    let fact = &walk.knowledge().facts[fact];
    screen.rule(&format!("question {}: from the plate or panel", walk.steps() + 1))?;
    screen.wrapped("", &fact.ask, Some(Mark::Strong))?;
    screen.wrapped("  where: ", &fact.find, None)
}

/// The facts of the equipment, and each as a line to pick from; none before its equipment is known.
pub(super) fn facts(walk: &Walk<'_>) -> (Vec<FactIndex>, Vec<String>) {
    let known = walk.knowledge().facts.indexed();
    known
        .filter(|(_, fact)| walk.installation().is_some_and(|own| fact.applies_to(own)))
        .map(|(index, fact)| {
            let said = match walk.fact(index) {
                Some(Some(value)) => value.to_string(),
                Some(None) => "not found".to_owned(),
                None => "not asked yet".to_owned(),
            };
            (index, format!("{}: {said}", fact.name))
        })
        .unzip()
}

/// Why a test is asked and how it is done, and what does instead without its instrument.
pub(super) fn why(screen: &Screen, knowledge: &Knowledge, test: &Test) -> Vec<String> {
    let mut lines = screen.wrap("why       ", &test.why);
    for (number, step) in test.how.iter().enumerate() {
        let lead = format!("step {:<5}", number + 1);
        lines.extend(screen.wrap(&lead, step));
    }
    if let TestKind::Reading {
        probes, range, unit, ..
    } = &test.kind
    {
        lines.extend(screen.wrap("probes    ", probes));
        let ends = [range.0, range.1].map(|base| {
            crate::quantity::Quantity::new(*unit, base).map_or_else(String::new, |end| end.to_string())
        });
        lines.extend(screen.wrap("accepted  ", &format!("{} to {}", ends[0], ends[1])));
        let said = sayings(test)
            .into_iter()
            .zip(&test.outcomes)
            .map(|(word, outcome)| format!("{word} = {}", outcome.label));
        lines.extend(screen.wrap("or words  ", &said.collect::<Vec<_>>().join("; ")));
        lines.extend(screen.wrap("          ", "With \"likely \" before it, you think so."));
    }
    for (label, text) in [("meter     ", &test.instrument), ("caution   ", &test.caution)] {
        if !text.is_empty() {
            lines.extend(screen.wrap(label, text));
        }
    }
    for stand_in in &test.stand_in {
        let name = &knowledge.tests[*stand_in].name;
        lines.extend(screen.wrap("without it", &format!(" answer x here, and make instead: {name}")));
    }
    for source in &test.source {
        lines.extend(screen.wrap("source    ", &source.text));
    }
    lines
}

/// What a state of the equipment is called above its cautions.
pub(super) fn state_ahead(state: State) -> &'static str {
    match state {
        State::Energised => "the next tests are made ENERGIZED",
        State::Running => "the next tests are made with it RUNNING",
        State::Firing => "the next tests are made with the BURNER ON",
        _ => "the next tests are made LOCKED OUT",
    }
}

/// The cautions for a state, before the first test that needs it.
pub(super) fn cautions(screen: &Screen, walk: &Walk<'_>, state: State, next: TestIndex) -> Vec<String> {
    let mut lines: Vec<String> = caution::cautions(state)
        .iter()
        .flat_map(|caution| screen.wrap("  ! ", caution))
        .map(|line| screen.mark(&line, Some(Mark::Danger)))
        .collect();
    lines.extend(screen.wrap("  next: ", &walk.knowledge().tests[next].name));
    lines
}

/// What leads, and what the last answer did to it, in few lines.
///
/// No name is cut: the leader is always said, the next two where they fit.
pub(super) fn standing(screen: &Screen, walk: &Walk<'_>, before: &Indexed<CauseIndex, f64>) -> Vec<String> {
    /// Lines taken, and on a narrow screen.
    const LINES: usize = 4;
    const NARROW_LINES: usize = 6;
    let Some(standing) = walk.standing() else {
        return Vec::new();
    };
    let most = if screen.is_narrow() { NARROW_LINES } else { LINES };
    let mut lines = Vec::new();
    for (place, (cause, probability)) in standing.ranked().into_iter().take(3).enumerate() {
        let moved = before.get(cause).map_or_else(String::new, |old| {
            let points = (probability - old) * 100.0;
            if points.abs() < 0.5 {
                String::new()
            } else {
                format!(" ({points:+.0})")
            }
        });
        let lead = if place == 0 { "  leads: " } else { "         " };
        // As the result says it, which never says 100 %.
        let share = match probability * 100.0 {
            sure if sure > 99.0 => words::percent(probability),
            percent => format!("{percent:.0} %"),
        };
        let said = format!(
            "{share}{moved} {}: {}",
            words::in_words(probability),
            walk.knowledge().causes[cause].name
        );
        let wrapped = screen.wrap(lead, &said);
        // One line is left for what is not listed.
        if place > 0 && lines.len() + wrapped.len() >= most {
            break;
        }
        lines.extend(wrapped);
    }
    lines.extend(screen.wrap(
        "         ",
        &format!("{} something not listed", words::percent(standing.remainder())),
    ));
    lines
        .iter()
        .map(|line| screen.mark(line, Some(Mark::Quiet)))
        .collect()
}

/// A derived event, as it happens.
pub(super) fn happened(screen: &mut Screen, walk: &Walk<'_>, event: &Event) -> io::Result<()> {
    match event {
        Event::Calculated { test, finding, .. } => {
            let knowledge = walk.knowledge();
            let said = match knowledge.test(test) {
                Some(index) => format!("{}: {finding}", knowledge.tests[index].name),
                None => finding.clone(),
            };
            screen.wrapped("  calculated: ", &said, None)?;
            let limits = walk
                .calculated()
                .iter()
                .filter(|made| walk.knowledge().tests[made.test].id == *test)
                .filter_map(|made| made.result.as_ref().ok())
                .flat_map(|report| &report.limits);
            for limit in limits {
                let line = format!(
                    "{}; margin {:+.0} % ({})",
                    limit.text,
                    limit.margin * 100.0,
                    limit.source
                );
                screen.wrapped("  limit: ", &line, Some(Mark::Quiet))?;
            }
            Ok(())
        }
        Event::DefectFound { name, .. } => screen.wrapped(
            "  DEFECT, to be corrected whatever the cause: ",
            name,
            Some(Mark::Danger),
        ),
        _ => Ok(()),
    }
}

/// What is on hold since the last answer, said at once: who stands before it with power on must not read it later. `known` is
/// what was said before, by id.
pub(super) fn held_since(screen: &mut Screen, walk: &Walk<'_>, known: &mut Vec<String>) -> io::Result<()> {
    let standing = walk.holds();
    // One that ends the walk is a page of its own.
    let told = standing
        .iter()
        .filter(|hold| hold.call.is_none() && !known.contains(&hold.id));
    for hold in told {
        screen.wrapped("  ! ", &hold.says, Some(Mark::Danger))?;
    }
    *known = standing.iter().map(|hold| hold.id.clone()).collect();
    Ok(())
}

/// The working of every calculation made so far.
pub(super) fn working(screen: &Screen, walk: &Walk<'_>) -> Vec<String> {
    let mut lines = Vec::new();
    for made in walk.calculated() {
        lines.extend(screen.wrap("* ", &walk.knowledge().tests[made.test].name));
        match &made.result {
            Err(error) => lines.extend(screen.wrap("  cannot tell: ", &error.to_string())),
            Ok(report) => {
                lines.extend(screen.wrap("  finding   ", &report.finding));
                for step in &report.working {
                    lines.extend(screen.wrap("  formula   ", &step.formula));
                    if !step.substituted.is_empty() {
                        lines.extend(screen.wrap("  numbers   ", &step.substituted));
                    }
                    lines.extend(screen.wrap("  result    ", &step.result));
                }
                for assumption in &report.assumptions {
                    lines.extend(screen.wrap("  assumed   ", assumption));
                }
                for source in &report.sources {
                    lines.extend(screen.wrap("  source    ", source));
                }
            }
        }
    }
    if lines.is_empty() {
        lines.push("Nothing is calculated yet.".to_owned());
    }
    lines
}

/// What a person who comes back must not take for granted: the state the equipment was left in.
pub(super) fn state_again(screen: &Screen, walk: &Walk<'_>) -> Vec<String> {
    let text = match walk.state() {
        Some(State::LockedOut) => {
            "The last tests were made locked out. Prove every conductor dead again before you touch anything."
        }
        Some(State::Running | State::Energised | State::Firing) => {
            "The last tests were made with power on. Take every part for live until you have proved it dead."
        }
        _ => return Vec::new(),
    };
    screen
        .wrap("  ! ", text)
        .into_iter()
        .map(|line| screen.mark(&line, Some(Mark::Danger)))
        .collect()
}

/// The dangers that stand, in full, as the result has them; at a stop for safety its own orders say the one that stops.
pub(super) fn dangers(screen: &Screen, walk: &Walk<'_>) -> Vec<String> {
    let stops = walk
        .ending_hold()
        .map(|hold| walk.knowledge().holds[hold].id.as_str());
    let others = walk
        .holds()
        .into_iter()
        .filter(|hold| Some(hold.id.as_str()) != stops);
    others
        .flat_map(|hold| screen.wrap("  ! ", &hold.says))
        .map(|line| screen.mark(&line, Some(Mark::Danger)))
        .collect()
}

/// An earlier step in a few words.
pub(super) fn step_words(walk: &Walk<'_>, entry: &Event) -> String {
    let knowledge = walk.knowledge();
    match entry {
        Event::Complaint { complaint } => knowledge
            .tree(complaint)
            .and_then(|tree| knowledge.trees[tree].complaint.clone())
            .unwrap_or_else(|| complaint.clone()),
        Event::Equipment { equipment } => knowledge.equipment(equipment).map_or_else(
            || equipment.clone(),
            |kind| knowledge.equipment[kind].name.clone(),
        ),
        Event::Accessories { fitted: None } => "Accessories: not known".to_owned(),
        Event::Accessories { fitted: Some(fitted) } if fitted.is_empty() => "Accessories: none".to_owned(),
        Event::Accessories { fitted: Some(fitted) } => {
            let names: Vec<&str> = fitted
                .iter()
                .map(|id| knowledge.accessory(id).map_or(id.as_str(), |known| &known.name))
                .collect();
            format!("Accessories: {}", names.join("; "))
        }
        Event::Offered { taken, .. } if taken.is_empty() => "Of these: none".to_owned(),
        Event::Offered { taken, .. } => {
            let names: Vec<&str> = taken
                .iter()
                .map(|id| {
                    knowledge
                        .test(id)
                        .map_or(id.as_str(), |test| knowledge.tests[test].name.as_str())
                })
                .collect();
            format!("Of these: {}", names.join("; "))
        }
        Event::Able { to } if to.is_empty() => "What can be done now: nothing more".to_owned(),
        Event::Able { to } => {
            let words: Vec<&str> = to.iter().map(|ability| ability.in_words()).collect();
            format!("What can be done now: {}", words.join("; "))
        }
        Event::Further => "You went on asking".to_owned(),
        Event::Sizing => "The repair is sized".to_owned(),
        Event::Fact { fact, value, .. } => {
            let name = knowledge
                .fact(fact)
                .map_or(fact.as_str(), |fact| knowledge.facts[fact].name.as_str());
            let label = |id: &String| {
                let fact = &knowledge.facts[knowledge.fact(fact)?];
                // A kept case may hold another spelling of the choice.
                let choice = fact
                    .choices
                    .iter()
                    .find(|choice| choice_among(id, &[&choice.id]).is_some())?;
                Some(choice.label.clone())
            };
            match value {
                Some(Value::Choice(id)) => format!("{name}: {}", label(id).unwrap_or_else(|| id.clone())),
                Some(value) => format!("{name}: {value}"),
                None => format!("{name}: not found"),
            }
        }
        Event::Answer { test, given, .. } => {
            let Some(test) = knowledge.test(test).map(|test| &knowledge.tests[test]) else {
                return test.clone();
            };
            let answer = match given {
                Given::Leaning(id) => test.outcome(id).map_or_else(
                    || id.clone(),
                    |outcome| format!("{} (thought so)", test.outcomes[outcome].label),
                ),
                Given::Outcome(id) => test
                    .outcome(id)
                    .map_or_else(|| id.clone(), |outcome| test.outcomes[outcome].label.clone()),
                Given::Outcomes(ids) => {
                    let labels = ids.iter().map(|id| {
                        let known = test.outcome(id);
                        known.map_or(id.as_str(), |outcome| &test.outcomes[outcome].label)
                    });
                    labels.collect::<Vec<_>>().join("; ")
                }
                Given::Reading(quantity) => quantity.to_string(),
                Given::CouldNotCheck => "could not check".to_owned(),
            };
            format!("{}: {answer}", test.name)
        }
        _ => String::new(),
    }
}
