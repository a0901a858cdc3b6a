//! What the screen says was taken, beside what the case file says.

#![allow(unreachable_pub, reason = "included by several test files")]

use lineside::quantity::Value;
use lineside::walk::{Event, Given};

/// What the screen says was taken: answers, remarks and steps back, in order.
pub fn confirmed(screen: &str) -> Vec<&'static str> {
    screen
        .lines()
        .filter_map(|line| {
            let line = line.trim_start();
            if line.starts_with("answer: ") {
                Some("answer")
            } else if line.starts_with("Note kept.") {
                Some("remark")
            } else if line.ends_with(" taken back.") {
                Some("back")
            } else {
                None
            }
        })
        .collect()
}

/// What the case says was taken, in order; readings apart, which the screen confirms in other words.
pub fn kept(events: &[Event]) -> Vec<&'static str> {
    events
        .iter()
        .filter_map(|event| match event {
            Event::Note { .. } => Some("remark"),
            Event::Undone { .. } => Some("back"),
            Event::Answer {
                given: Given::Reading(_),
                ..
            } => None,
            Event::Fact {
                value: None | Some(Value::Choice(_)),
                ..
            } => Some("answer"),
            Event::Complaint { .. }
            | Event::Equipment { .. }
            | Event::Accessories { .. }
            | Event::Offered { .. }
            | Event::Able { .. }
            | Event::Answer { .. } => Some("answer"),
            _ => None,
        })
        .collect()
}
