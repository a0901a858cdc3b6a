//! The debrief as lines: the truth and the habit first, the rest in parts.

use crate::inference::words::percent;
use crate::knowledge::model::{Hazard, Knowledge};
use crate::knowledge::render::count;
use crate::practice::{Debrief, Did, Session, Step, Way};

use super::words::{stopped, wrapped};

/// A part of the debrief.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// What it was, how it went, the habit to change.
    Truth,
    /// What was found that spoke for it or against it, and what would have shown it.
    Pointed,
    /// The way taken beside the engine's.
    Ways,
    /// What each step told and cost.
    Told,
    /// Unsafe choices.
    Unsafe,
    /// Mechanism, repair and proof.
    Repair,
}

impl Part {
    /// All parts, in the order of a page.
    pub const ALL: [Self; 6] = [
        Self::Truth,
        Self::Pointed,
        Self::Ways,
        Self::Told,
        Self::Unsafe,
        Self::Repair,
    ];

    /// What it is, short.
    #[must_use]
    pub const fn title(self) -> &'static str {
        match self {
            Self::Truth => "what it was",
            Self::Pointed => "what pointed to it",
            Self::Ways => "your way and the engine's",
            Self::Told => "what each step told and cost",
            Self::Unsafe => "stopped choices",
            Self::Repair => "repair and proof",
        }
    }

    pub(super) const fn key(self) -> char {
        match self {
            Self::Truth => 'q',
            Self::Pointed => 'p',
            Self::Ways => 'w',
            Self::Told => 't',
            Self::Unsafe => 'u',
            Self::Repair => 'r',
        }
    }
}

/// One part of the debrief, as lines of a width; none where there is nothing to say. `again` says how the exercise is had again.
#[must_use]
pub fn debrief_lines(
    session: &Session<'_>,
    debrief: &Debrief,
    part: Part,
    again: &str,
    width: usize,
) -> Vec<String> {
    let page = Page {
        session,
        knowledge: session.walk().knowledge(),
        debrief,
        width,
    };
    match part {
        Part::Truth => page.truth(again),
        Part::Pointed => page.pointed(),
        Part::Ways => page.ways(),
        Part::Told => page.told(),
        Part::Unsafe => page.stopped(),
        Part::Repair => page.repair(),
    }
}

struct Page<'a> {
    session: &'a Session<'a>,
    knowledge: &'a Knowledge,
    debrief: &'a Debrief,
    width: usize,
}

impl Page<'_> {
    fn line(&self, lead: &str, text: &str) -> Vec<String> {
        wrapped(lead, text, self.width)
    }

    fn test(&self, test: crate::knowledge::model::TestIndex) -> &str {
        &self.knowledge.tests[test].name
    }

    fn cause(&self, cause: crate::knowledge::model::CauseIndex) -> &str {
        &self.knowledge.causes[cause].name
    }

    fn truth(&self, again: &str) -> Vec<String> {
        let debrief = self.debrief;
        let truth = &self.knowledge.causes[debrief.truth];
        let mut lines = self.line("IT WAS    ", &truth.name);
        lines.extend(self.line("  ", truth.place.in_words()));
        let named = match debrief.named {
            Some(_) if debrief.is_right() => "the same: right".to_owned(),
            Some(named) => format!("{}: wrong", self.cause(named)),
            None => "nothing; you asked for the truth".to_owned(),
        };
        lines.extend(self.line("you named ", &named));
        let stood = match debrief.named_stood.filter(|_| !debrief.is_right()) {
            Some(named) => format!(
                "by what you had found it stood at {}, the truth at {}",
                percent(named),
                percent(debrief.stood)
            ),
            None => format!("by what you had found it stood at {}", percent(debrief.stood)),
        };
        lines.extend(self.line("          ", &stood));
        lines.extend(self.line("your way  ", &way_words(&debrief.own)));
        let named = match debrief.engine.named {
            Some(cause) if cause == debrief.truth => "named the same".to_owned(),
            Some(cause) => format!("ended with {}", self.cause(cause)),
            None => "ended with nothing".to_owned(),
        };
        lines.extend(self.line("engine    ", &format!("{}; {named}", way_words(&debrief.engine))));
        lines.extend(self.line("parted    ", &self.parted()));
        if !debrief.wrong.is_empty() {
            let times = count(debrief.wrong.len(), "unsafe choice");
            lines.extend(self.line("stopped   ", &format!("{times}, none carried out")));
        }
        lines.extend(self.line("HABIT     ", &debrief.habit.says));
        if !debrief.habit.because.is_empty() {
            lines.extend(self.line("          ", &debrief.habit.because));
        }
        if let Some(why) = self.session.why_drawn() {
            let drawn =
                format!("drawn from what the cause does; no simulated installation gives them: {why}");
            lines.extend(self.line("readings  ", &drawn));
        }
        lines.extend(self.line("again     ", &format!("lineside practice {again}")));
        lines
    }

    fn parted(&self) -> String {
        let Some(parted) = self.debrief.parted else {
            return "nowhere: the same tests in the same order".to_owned();
        };
        let after = match parted.after {
            0 => "at the first step".to_owned(),
            after => format!("after {}", count(after, "test")),
        };
        match (parted.own, parted.engine) {
            (Some(own), Some(engine)) => {
                format!(
                    "{after}: you \"{}\", the engine \"{}\"",
                    self.test(own),
                    self.test(engine)
                )
            }
            (None, Some(engine)) => format!("{after}: you ended, the engine \"{}\"", self.test(engine)),
            (Some(own), None) => format!("{after}: the engine ended, you \"{}\"", self.test(own)),
            (None, None) => after,
        }
    }

    fn pointed(&self) -> Vec<String> {
        let debrief = self.debrief;
        let mut lines = Vec::new();
        for pointer in &debrief.pointed {
            let text = format!("{}: {}", self.test(pointer.test), pointer.found);
            lines.extend(self.line("+ ", &format!("{text} ({})", times(pointer.times))));
        }
        if debrief.pointed.is_empty() {
            lines.extend(self.line("", "Nothing you had found pointed to it."));
        }
        for pointer in &debrief.away {
            let text = format!("{}: {}", self.test(pointer.test), pointer.found);
            let away = times(1.0 / pointer.times);
            lines.extend(self.line("- ", &format!("{text} (pointed away, {away})")));
        }
        for shows in &debrief.would_show {
            let text = format!(
                "{}: {}, {:.0} min",
                self.test(shows.test),
                shows.found,
                shows.minutes.max(1.0)
            );
            lines.extend(self.line("not made, shows it: ", &text));
        }
        lines
    }

    /// Two columns, each test in the order made.
    fn ways(&self) -> Vec<String> {
        let column = self.width.saturating_sub(3) / 2;
        let cells = |way: &Way| -> Vec<Vec<String>> {
            let made = way.tests_made().into_iter().enumerate();
            made.map(|(place, test)| wrapped(&format!("{:>2} ", place + 1), self.test(test), column))
                .collect()
        };
        let (own, engine) = (cells(&self.debrief.own), cells(&self.debrief.engine));
        let mut lines = vec![beside("YOUR WAY", "THE ENGINE'S", column)];
        for place in 0..own.len().max(engine.len()) {
            if self.debrief.parted.is_some_and(|parted| parted.after == place) {
                lines.push(beside("-- here they part --", "", column));
            }
            let empty = Vec::new();
            let (left, right) = (
                own.get(place).unwrap_or(&empty),
                engine.get(place).unwrap_or(&empty),
            );
            for row in 0..left.len().max(right.len()) {
                let cell = |lines: &Vec<String>| lines.get(row).cloned().unwrap_or_default();
                lines.push(beside(&cell(left), &cell(right), column));
            }
        }
        lines.push(beside(
            &way_words(&self.debrief.own),
            &way_words(&self.debrief.engine),
            column,
        ));
        lines
    }

    fn told(&self) -> Vec<String> {
        let steps = self.debrief.own.steps.iter().enumerate();
        steps.flat_map(|(place, step)| self.step(place, step)).collect()
    }

    fn step(&self, place: usize, step: &Step) -> Vec<String> {
        let name = match step.did {
            Did::Test(test) => self.test(test),
            Did::Fact(fact) => &self.knowledge.facts[fact].name,
        };
        let lead = format!("{:>2} ", place + 1);
        let mut lines = self.line(&lead, &format!("{name}: {}", step.found));
        let mut words = vec![format!("{:.0} min", step.minutes.max(1.0))];
        if step.is_live() {
            words.push("live".to_owned());
        }
        if step.hazard > Hazard::Low {
            words.push(step.hazard.in_words().to_owned());
        }
        let (before, after) = step.truth;
        words.push(if before == after && step.moved < 0.005 {
            "told nothing".to_owned()
        } else if percent(before) == percent(after) {
            format!("the truth stays at {}", percent(after))
        } else {
            format!("the truth {} to {}", percent(before), percent(after))
        });
        lines.extend(self.line("     ", &words.join(", ")));
        lines
    }

    fn stopped(&self) -> Vec<String> {
        let mut lines = Vec::new();
        for wrong in &self.debrief.wrong {
            if !lines.is_empty() {
                lines.push(String::new());
            }
            lines.extend(stopped(self.session, wrong, self.width));
        }
        lines
    }

    fn repair(&self) -> Vec<String> {
        let truth = &self.knowledge.causes[self.debrief.truth];
        let mut lines = self.line("how it does it  ", &truth.mechanism);
        lines.extend(self.line("repair          ", &truth.remedy));
        lines.extend(self.line("whose job       ", truth.job.in_words()));
        lines.extend(self.line("proof           ", &truth.proof));
        if !truth.caution.is_empty() {
            lines.extend(self.line("! caution       ", &truth.caution));
        }
        lines
    }
}

fn beside(left: &str, right: &str, column: usize) -> String {
    let left = console::truncate_str(left, column, "");
    let right = console::truncate_str(right, column, "");
    let room = column.saturating_sub(console::measure_text_width(&left));
    format!("{left}{} | {right}", " ".repeat(room))
        .trim_end()
        .to_owned()
}

/// What a way cost.
fn way_words(way: &Way) -> String {
    let tests = count(way.tests, "test");
    let live = match way.live {
        0 => "none live".to_owned(),
        live => format!("{live} live"),
    };
    let stopped = if way.halted { ", stopped for safety" } else { "" };
    format!("{tests}, {:.0} min, {live}{stopped}", way.minutes)
}

/// How many times likelier, in words that promise no more than the figure.
fn times(times: f64) -> String {
    match times {
        times if times >= 100.0 => "over 100 times likelier".to_owned(),
        times if times >= 10.0 => format!("about {times:.0} times likelier"),
        times => format!("{times:.1} times likelier"),
    }
}
