//! What was practiced and how it went: one JSON line a run, in a file of its own, never where real cases are.
//!
//! ```json
//! {"schema":1,"kind":"practice","at":"2026-01-05T14:00:00Z","by":"first shift","program":"0.1.0","knowledge":"...",
//!  "exercise":"first-walk","seed":7,"level":1,"complaint":"breaker-opens","equipment":"split-air-conditioner",
//!  "truth":"...","named":"...","right":true,"stood":0.97,"halted":false,
//!  "tests":7,"minutes":24.5,"live":0,"unsafe":[{"test":"...","hold":"not-looked"}],"hints":0,
//!  "engine":{"tests":6,"minutes":20.0,"live":0},"habit":"keep-it"}
//! ```
//! `schema` rises when a field changes its meaning or goes; new fields may come without that. `kind` is always `practice`, so
//! that a line found elsewhere still says what it is. `exercise` and `by` are left out where there are none, `named` where
//! the truth was asked for, `hold` where the steps before a state were skipped. `minutes` are those of the exercise.

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use crate::knowledge::model::Knowledge;

use super::habit::Kind;
use super::{Debrief, Exercise, Level};

/// Schema of the lines written by this program.
pub const RECORD_SCHEMA: u32 = 1;

const KIND: &str = "practice";

/// One run.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Entry {
    /// Schema of the line.
    pub schema: u32,
    /// Always `practice`.
    pub kind: String,
    /// When it ended.
    pub at: Timestamp,
    /// Who, in free words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub by: Option<String>,
    /// Version of the program.
    pub program: String,
    /// Fingerprint of the knowledge.
    pub knowledge: String,
    /// Id in the list of exercises; nothing for a sampled one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub exercise: Option<String>,
    /// With complaint, equipment and level it gives the same exercise again.
    pub seed: u64,
    /// How hard, 1 to 3.
    pub level: Level,
    /// Id of the complaint.
    pub complaint: String,
    /// Id of the equipment.
    pub equipment: String,
    /// Id of the cause that was there.
    pub truth: String,
    /// Id of the cause that was named.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub named: Option<String>,
    /// It was the truth.
    pub right: bool,
    /// Probability of the truth by what was found, 0 to 1.
    pub stood: f64,
    /// The walk was stopped for safety.
    pub halted: bool,
    /// Looks, readings and told things.
    pub tests: usize,
    /// Minutes of the exercise.
    pub minutes: f64,
    /// Steps with live parts or flame.
    pub live: usize,
    /// Unsafe choices, none carried out.
    #[serde(rename = "unsafe")]
    pub wrong: Vec<Wrong>,
    /// Hints asked for.
    pub hints: usize,
    /// The engine on the same fault.
    pub engine: Engine,
    /// The habit to change.
    pub habit: Kind,
}

/// An unsafe choice.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Wrong {
    /// Id of the test that was picked.
    pub test: String,
    /// Id of the hold that stood; nothing where the steps before a state were skipped.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hold: Option<String>,
}

/// What the engine took.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Engine {
    /// Looks, readings and told things.
    pub tests: usize,
    /// Minutes of the exercise.
    pub minutes: f64,
    /// Steps with live parts or flame.
    pub live: usize,
}

impl Entry {
    /// The line of a run that ended.
    #[must_use]
    pub fn new(
        knowledge: &Knowledge,
        exercise: &Exercise,
        listed: Option<&str>,
        debrief: &Debrief,
        by: Option<&str>,
        at: Timestamp,
    ) -> Self {
        let tenth = |minutes: f64| (minutes * 10.0).round() / 10.0;
        let cause = |cause: crate::knowledge::model::CauseIndex| knowledge.causes[cause].id.clone();
        Self {
            schema: RECORD_SCHEMA,
            kind: KIND.to_owned(),
            at,
            by: by.map(str::to_owned),
            program: env!("CARGO_PKG_VERSION").to_owned(),
            knowledge: knowledge.fingerprint.clone(),
            exercise: listed.map(str::to_owned),
            seed: exercise.seed,
            level: Level::of(&exercise.walk(knowledge), exercise.truth),
            complaint: knowledge.trees[exercise.complaint].id.clone(),
            equipment: knowledge.equipment[exercise.equipment].id.clone(),
            truth: cause(debrief.truth),
            named: debrief.named.map(cause),
            right: debrief.is_right(),
            stood: (debrief.stood * 1000.0).round() / 1000.0,
            halted: debrief.own.halted,
            tests: debrief.own.tests,
            minutes: tenth(debrief.own.minutes),
            live: debrief.own.live,
            wrong: debrief
                .wrong
                .iter()
                .map(|wrong| Wrong {
                    test: knowledge.tests[wrong.test].id.clone(),
                    hold: wrong.hold.map(|hold| knowledge.holds[hold].id.clone()),
                })
                .collect(),
            hints: debrief.hints,
            engine: Engine {
                tests: debrief.engine.tests,
                minutes: tenth(debrief.engine.minutes),
                live: debrief.engine.live,
            },
            habit: debrief.habit.kind,
        }
    }

    /// The line, with its end.
    ///
    /// # Errors
    /// When it cannot be written as JSON, which no run is known to do.
    pub fn line(&self) -> Result<String, serde_json::Error> {
        Ok(serde_json::to_string(self)? + "\n")
    }
}

/// A file of runs, as far as it can be read.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Record {
    /// The runs, in the order of the file.
    pub entries: Vec<Entry>,
    /// Numbers of the lines that cannot be read, from 1: torn by a crash, of a newer program, or somebody else's.
    pub unread: Vec<usize>,
}

impl Record {
    /// Reads a file's text.
    #[must_use]
    pub fn read(text: &str) -> Self {
        let mut record = Self::default();
        for (number, line) in text
            .lines()
            .enumerate()
            .filter(|(_, line)| !line.trim().is_empty())
        {
            match serde_json::from_str::<Entry>(line) {
                Ok(entry) if entry.schema == RECORD_SCHEMA && entry.kind == KIND => {
                    record.entries.push(entry)
                }
                _ => record.unread.push(number + 1),
            }
        }
        record
    }

    /// How it goes by somebody or something: rows in the order of their first run.
    #[must_use]
    pub fn by(&self, key: impl Fn(&Entry) -> String) -> Vec<(String, Sum)> {
        let mut rows: Vec<(String, Vec<&Entry>)> = Vec::new();
        for entry in &self.entries {
            let name = key(entry);
            match rows.iter_mut().find(|(known, _)| *known == name) {
                Some((_, entries)) => entries.push(entry),
                None => rows.push((name, vec![entry])),
            }
        }
        rows.into_iter()
            .map(|(name, entries)| (name, Sum::of(&entries)))
            .collect()
    }
}

/// Many runs together.
#[derive(Clone, Debug, PartialEq)]
pub struct Sum {
    /// All that are counted here.
    pub runs: usize,
    /// Runs in which the truth was named.
    pub right: usize,
    /// Unsafe choices.
    pub wrong: usize,
    /// Unsafe choices in the last five runs.
    pub wrong_lately: usize,
    /// Asked for in all of them.
    pub hints: usize,
    /// Minutes over the engine's, in the middle of the runs: 1 is as quick.
    pub pace: f64,
    /// The habit named oftenest, the gravest among equals; nothing where there was never one to change.
    pub habit: Option<Kind>,
}

/// Runs that count as lately.
const LATELY: usize = 5;

impl Sum {
    fn of(entries: &[&Entry]) -> Self {
        let mut paces: Vec<f64> = entries
            .iter()
            .map(|entry| entry.minutes / entry.engine.minutes.max(1.0))
            .collect();
        paces.sort_by(f64::total_cmp);
        let mut habits: Vec<Kind> = entries
            .iter()
            .map(|entry| entry.habit)
            .filter(|kind| *kind != Kind::KeepIt)
            .collect();
        habits.sort_unstable();
        let oftenest = habits
            .iter()
            .map(|kind| habits.iter().filter(|other| *other == kind).count())
            .max();
        Self {
            runs: entries.len(),
            right: entries.iter().filter(|entry| entry.right).count(),
            wrong: entries.iter().map(|entry| entry.wrong.len()).sum(),
            wrong_lately: entries
                .iter()
                .rev()
                .take(LATELY)
                .map(|entry| entry.wrong.len())
                .sum(),
            hints: entries.iter().map(|entry| entry.hints).sum(),
            pace: paces.get(paces.len() / 2).copied().unwrap_or(1.0),
            habit: oftenest.and_then(|most| {
                let count = |kind: &Kind| habits.iter().filter(|other| *other == kind).count();
                habits.iter().find(|kind| count(kind) == most).copied()
            }),
        }
    }
}
