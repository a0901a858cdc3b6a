//! Which habit to change, chosen from what a run shows: danger first, then a wrong name, then what was spent in vain.

use super::apart::tells_apart;
use super::debrief::Debrief;
use super::habit::{Habit, Kind};
use super::session::Session;
use super::step::Did;

/// Live steps over the engine's from which that is the habit to change. Our choice, no source.
const LIVE_MORE: usize = 2;

/// Tests in vain from which, and the share of all tests from which, that is the habit to change. Our choice, no source.
const VAIN: usize = 4;

const VAIN_SHARE: f64 = 0.5;

/// A test that moves the standing less than this told nothing. Our choice, no source.
const TOLD: f64 = 0.01;

/// The right cause below this was a lucky guess. Our choice, no source.
const SHOWN: f64 = 0.6;

/// Chooses the habit.
pub(super) fn of(session: &Session<'_>, debrief: &Debrief) -> Habit {
    let knowledge = session.walk().knowledge();
    let test = |test: crate::knowledge::model::TestIndex| &knowledge.tests[test].name;
    if let Some(wrong) = debrief.wrong.iter().find(|wrong| wrong.hold.is_some()) {
        let hold = wrong.hold.map_or("", |hold| &knowledge.holds[hold].name);
        let because = format!("You chose \"{}\" while this stood: {hold}.", test(wrong.test));
        return Habit::new(Kind::ClearDangersFirst, because);
    }
    if let Some(wrong) = debrief.wrong.first() {
        let because = format!("You went straight to \"{}\".", test(wrong.test));
        return Habit::new(Kind::DoTheStepsFirst, because);
    }
    if let Some(named) = debrief.named.filter(|_| !debrief.is_right()) {
        let name = &knowledge.causes[named].name;
        if let Some(pointer) = debrief.pointed.first().filter(|_| debrief.stood >= SHOWN) {
            let because = format!(
                "By what you had found the truth stood at {:.0} %. \"{}: {}\" spoke for it.",
                debrief.stood * 100.0,
                test(pointer.test),
                pointer.found
            );
            return Habit::new(Kind::WeighWhatYouFound, because);
        }
        let because = match tells_apart(session, knowledge, named, debrief.truth) {
            Some(other) => format!(
                "You named \"{name}\". What tells it from the truth and was not made: \"{}\".",
                test(other)
            ),
            None => format!("You named \"{name}\"."),
        };
        return Habit::new(Kind::ProveBeforeNaming, because);
    }
    let open = debrief.would_show.first();
    if debrief.named.is_none() {
        let because = match (debrief.pointed.first(), open) {
            (Some(pointer), _) if debrief.stood >= SHOWN => format!(
                "By what you had found it stood at {:.0} %: \"{}: {}\".",
                debrief.stood * 100.0,
                test(pointer.test),
                pointer.found
            ),
            (_, Some(open)) => format!(
                "\"{}\" would have shown it, in {:.0} min.",
                test(open.test),
                open.minutes.max(1.0)
            ),
            _ => "You asked for the truth before anything had shown it.".to_owned(),
        };
        return Habit::new(Kind::AskWhatWouldShowIt, because);
    }
    if let Some(open) = open.filter(|_| debrief.stood < SHOWN) {
        let because = format!(
            "You were right, but by what you had found it stood at {:.0} %. \"{}\" shows it.",
            debrief.stood * 100.0,
            test(open.test)
        );
        return Habit::new(Kind::SeeItBeforeNaming, because);
    }
    let (own, engine) = (&debrief.own, &debrief.engine);
    if own.live >= engine.live + LIVE_MORE {
        let because = format!("{} live steps; the engine needed {}.", own.live, engine.live);
        return Habit::new(Kind::DeadBeforeLive, because);
    }
    let hands = own.steps.iter().any(|step| step.state.is_prepared());
    if hands && !session.asked_first() {
        let because = "Nothing was asked of the customer before the first cover came off.".to_owned();
        return Habit::new(Kind::AskBeforeTools, because);
    }
    // A look for danger is never in vain.
    let vain = own.steps.iter().filter(|step| match step.did {
        Did::Test(test) => step.moved < TOLD && !knowledge.tests[test].safety && !step.followed,
        Did::Fact(_) => false,
    });
    let vain = vain.count();
    if vain >= VAIN && vain as f64 > VAIN_SHARE * own.tests as f64 {
        let because = format!("{vain} of your {} tests moved nothing.", own.tests);
        return Habit::new(Kind::KnowWhatEachAnswerChanges, because);
    }
    if debrief.hints > 0 {
        let because = match debrief.hints {
            1 => "You looked once at what leads.".to_owned(),
            hints => format!("You looked {hints} times at what leads."),
        };
        return Habit::new(Kind::SayTheLeadersYourself, because);
    }
    let because = format!(
        "Named right in {:.0} min; the engine took {:.0} min.",
        own.minutes, engine.minutes
    );
    Habit::new(Kind::KeepIt, because)
}
