//! What a case file says beside what can be worked out anew from it, and what else about it a reader must know.

use std::fmt;

use serde_json::Value as Json;

use crate::walk::{Event, Walk, follow};

use super::Case;

/// Something about a case file that its reader must know. Shown, it is a sentence.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Remark {
    /// The line it is about, from 1.
    pub line: usize,
    /// The sentence.
    pub text: String,
    /// Somebody must have changed the file; otherwise it is only worth knowing.
    pub grave: bool,
}

impl fmt::Display for Remark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "line {}: {}", self.line, self.text)
    }
}

/// Numbers worked out twice may differ by this much, relative to the larger or absolute below 1: mathematical libraries
/// of different systems differ in the last places.
const NUMBERS_AGREE: f64 = 1e-9;

/// What can be said without working anything out: lines without a link, a clock that went backward, lines that stand
/// behind the closing, a torn last line.
#[must_use]
pub fn remarks(case: &Case) -> Vec<Remark> {
    let mut remarks = Vec::new();
    let mut remark = |line, text: String, grave| remarks.push(Remark { line, text, grave });
    if let Some(what) = &case.header.mended {
        remark(
            1,
            format!("this file was put together again from a damaged one: {what}"),
            false,
        );
    }
    if case.unchained() > 0 {
        let lines = case.unchained();
        remark(
            lines,
            format!(
                "up to here an earlier program wrote lines without a chain ({lines}); a change to them cannot be noticed"
            ),
            false,
        );
    }
    let mut last = case.header.opened;
    for (number, record) in case.records.iter().enumerate() {
        if record.at < last {
            remark(
                number + 2,
                format!("the clock went backward, from {last} to {}", record.at),
                false,
            );
        }
        last = record.at;
    }
    let closings = case
        .records
        .iter()
        .position(|record| matches!(record.event, Event::Closed { .. }));
    if let Some(closed) = closings
        && let Some(behind) = case.records[closed..]
            .iter()
            .position(|record| !matches!(record.event, Event::Closed { .. }))
    {
        remark(
            closed + behind + 2,
            "it stands behind the closing".to_owned(),
            case.unchained() == 0,
        );
    }
    if case.torn > 0 {
        remark(
            case.links.len() + 1,
            format!("it breaks off after {} bytes and is left out", case.torn),
            false,
        );
    }
    remarks
}

/// How the derived lines of a case were held against the replay.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Comparison {
    /// Derived lines that were worked out anew.
    pub compared: usize,
    /// Derived lines that another program or other knowledge had worked out, which cannot be held against this one.
    pub not_compared: usize,
    /// Lines that say something else than what was worked out.
    pub differences: Vec<Remark>,
}

/// Holds every derived line against what `walk`, a new one, works out from the given ones.
///
/// Only lines are compared that this program wrote from this knowledge, with the same learned frequencies. Lines may
/// miss where a run ended before it had written all that followed from an answer.
#[must_use]
pub fn compare(case: &Case, walk: &mut Walk<'_>) -> Comparison {
    let mut comparison = Comparison::default();
    let own = |program: &str, knowledge: &str| {
        program == env!("CARGO_PKG_VERSION") && knowledge == walk.knowledge().fingerprint
    };
    let mut same = own(&case.header.program, &case.header.knowledge) && walk.counts().is_none();
    let segments: Vec<bool> = case
        .records
        .iter()
        .map(|record| {
            if let Event::Visit {
                program,
                knowledge,
                learned,
                ..
            } = &record.event
            {
                same = own(program, knowledge) && *learned == walk.learned_from();
            }
            same
        })
        .collect();
    let mut expected = Vec::new().into_iter();
    for (number, (record, same)) in case.records.iter().zip(segments).enumerate() {
        if record.event.is_given() {
            // An answer whose id the knowledge has lost is left out, as it is when the case goes on.
            expected = follow(walk, &record.event).unwrap_or_default().into_iter();
        } else if same {
            comparison.compared += 1;
            let difference = match expected.next() {
                Some(event) => difference(&record.event, &event, case.header.anonymous),
                None => Some("nothing of the kind follows from the answers before it".to_owned()),
            };
            comparison.differences.extend(difference.map(|text| Remark {
                line: number + 2,
                text,
                grave: true,
            }));
        } else {
            comparison.not_compared += 1;
        }
    }
    comparison
}

/// In what the line and what was worked out differ.
fn difference(kept: &Event, worked_out: &Event, anonymous: bool) -> Option<String> {
    let (mut kept, mut worked_out) = (json(kept), json(worked_out));
    if anonymous {
        // The finding can name loads in the person's words, so a copy without them has none.
        for side in [&mut kept, &mut worked_out] {
            if let Some(object) = side.as_object_mut() {
                object.remove("finding");
            }
        }
    }
    (!agree(&kept, &worked_out)).then(|| format!("it says {kept}, and from the answers follows {worked_out}"))
}

fn json(event: &Event) -> Json {
    // An event always has its JSON.
    serde_json::to_value(event).unwrap_or_default()
}

fn agree(one: &Json, other: &Json) -> bool {
    match (one, other) {
        (Json::Number(one), Json::Number(other)) => match (one.as_f64(), other.as_f64()) {
            (Some(one), Some(other)) => {
                (one - other).abs() <= NUMBERS_AGREE * one.abs().max(other.abs()).max(1.0)
            }
            _ => one == other,
        },
        (Json::Array(one), Json::Array(other)) => {
            one.len() == other.len() && one.iter().zip(other).all(|(one, other)| agree(one, other))
        }
        (Json::Object(one), Json::Object(other)) => {
            one.len() == other.len()
                && one
                    .iter()
                    .all(|(key, value)| other.get(key).is_some_and(|other| agree(value, other)))
        }
        _ => one == other,
    }
}
