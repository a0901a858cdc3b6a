//! What the review keeps of one case, from its lines alone.

use std::collections::BTreeMap;

use jiff::Timestamp;

use crate::journal::Case;
use crate::journal::life::{Life, Stage};
use crate::knowledge::model::State;
use crate::walk::{Event, Given, Share};

/// Seconds between two lines up to which the time counts as worked. Longer ones are drives, nights and lunches. Our
/// choice, no source.
pub const SAME_SITTING: i64 = 3_600;

/// The longest text kept of one case, in characters.
const LONGEST: usize = 120;

/// How a case was closed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Closing {
    /// Id of the cause; nothing where the knowledge does not list it.
    pub cause: Option<String>,
    /// What it was in the person's words, where it is not listed.
    pub not_listed: Option<String>,
    /// It was proved; else it is a guess.
    pub proved: bool,
    /// A danger stood of which nobody said what cleared it.
    pub in_danger: bool,
    /// When, in seconds since 1970.
    pub at: i64,
}

/// What one of several people did in a case.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Hand {
    /// Who came; nothing for the visits on which nobody said so.
    pub technician: Option<String>,
    /// Tests whose last answer tells something and was given on a visit of this person.
    pub made: Vec<String>,
    /// Cautions accepted on those visits: locked out, running, energized, firing.
    pub accepted: [u32; 4],
}

/// What is kept of one case.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Facts {
    /// What tells it from every other case.
    pub id: String,
    /// When it was opened, in seconds since 1970.
    pub opened: i64,
    /// How far it got.
    pub stage: Stage,
    /// Nobody was there.
    pub invented: bool,
    /// Id of the complaint given last.
    pub complaint: Option<String>,
    /// Id of the equipment given last.
    pub equipment: Option<String>,
    /// Who came last, of those who said so.
    pub technician: Option<String>,
    /// Address or name of the place, as said last.
    pub place: Option<String>,
    /// Which unit there, as said last.
    pub unit: Option<String>,
    /// How often somebody came.
    pub visits: u32,
    /// Seconds worked: gaps between lines, those above [`SAME_SITTING`] apart.
    pub seconds: i64,
    /// Tests whose last answer tells something.
    pub made: Vec<String>,
    /// Tests that could not be checked in the end.
    pub skipped: Vec<String>,
    /// Tests whose answer was far from what was to be expected.
    pub surprising: Vec<String>,
    /// Cautions accepted: locked out, running, energized, firing.
    pub accepted: [u32; 4],
    /// Who of several did what of that; empty where one person did all.
    pub hands: Vec<Hand>,
    /// The last end of the walk was a stop for safety.
    pub halted: bool,
    /// Cause that led at the end, and its probability in millionths.
    pub leader: Option<(String, u32)>,
    /// Probability of something not listed at the end, in millionths.
    pub remainder: u32,
    /// Id of the case this one is a callback of.
    pub callback_of: Option<String>,
    /// What was done last.
    pub repaired: Option<String>,
    /// What had been replaced without a cure: test and outcome.
    pub replaced: Vec<(String, String)>,
    /// The last closing.
    pub closing: Option<Closing>,
    /// An earlier closing of the same case named another cause.
    pub closed_otherwise: bool,
}

/// Place of a state among the cautions counted; nothing for one that has none.
pub(super) fn caution_place(state: State) -> Option<usize> {
    match state {
        State::Told | State::Any => None,
        State::LockedOut => Some(0),
        State::Running => Some(1),
        State::Energised => Some(2),
        State::Firing => Some(3),
    }
}

/// A cause that led, with its probability in millionths.
fn led(share: &Share) -> (String, u32) {
    (share.cause.clone(), millionths(share.probability))
}

/// A probability in whole millionths, halves upward: sums of these are the same in any order.
#[must_use]
pub(super) fn millionths(probability: f64) -> u32 {
    // Between 0 and 1 by what it is; anything else in a file somebody altered is cut to that.
    (probability.clamp(0.0, 1.0) * 1e6 + 0.5).floor() as u32
}

/// The month of a moment in UTC, such as `2025-06`.
#[must_use]
pub(super) fn month(seconds: i64) -> String {
    Timestamp::from_second(seconds)
        .map_or_else(|_| "unknown".to_owned(), |at| at.strftime("%Y-%m").to_string())
}

impl Facts {
    /// Reads the facts off a case. Answers count as last given; one that was taken back and not given again counts. The tests that
    /// tell what was tried in vain are named by the knowledge.
    #[must_use]
    pub fn of(case: &Case, tried_in_vain: &[String]) -> Self {
        let mut facts = Self {
            id: case.header.identity(),
            opened: case.header.opened.as_second(),
            stage: Life::of(case).stage(),
            invented: case.header.invented,
            ..Self::default()
        };
        // By test, its last answer and on whose visit that was given; in order of the names, so that copies are alike.
        let mut answered: BTreeMap<&str, (&Given, Option<String>)> = BTreeMap::new();
        let mut hands: BTreeMap<Option<String>, Hand> = BTreeMap::new();
        let mut here: Option<String> = None;
        let mut before: Option<i64> = None;
        for record in &case.records {
            let now = record.at.as_second();
            if let Some(gap) = before.map(|before| now - before)
                && (0..=SAME_SITTING).contains(&gap)
            {
                facts.seconds += gap;
            }
            before = Some(now);
            match &record.event {
                Event::Visit { technician, .. } => here = technician.as_deref().map(short),
                Event::Answer { test, given, .. } => {
                    answered.insert(test, (given, here.clone()));
                }
                Event::Acknowledged { state, .. } => {
                    if let Some(place) = caution_place(*state) {
                        hands.entry(here.clone()).or_default().accepted[place] += 1;
                    }
                }
                _ => {}
            }
            facts.take(&record.event, now);
        }
        for (test, (given, by)) in answered {
            match given {
                Given::CouldNotCheck => facts.skipped.push(test.to_owned()),
                _ => {
                    facts.made.push(test.to_owned());
                    hands.entry(by).or_default().made.push(test.to_owned());
                }
            }
            let told = match given {
                Given::Outcome(outcome) | Given::Leaning(outcome) => std::slice::from_ref(outcome),
                Given::Outcomes(outcomes) => outcomes.as_slice(),
                Given::Reading(_) | Given::CouldNotCheck => &[],
            };
            if tried_in_vain.iter().any(|one| one == test) {
                let replaced = told.iter().map(|outcome| (test.to_owned(), outcome.clone()));
                facts.replaced.extend(replaced);
            }
        }
        let one_alone = hands.keys().all(|technician| *technician == facts.technician);
        if !one_alone {
            facts.hands = hands
                .into_iter()
                .map(|(technician, hand)| Hand { technician, ..hand })
                .collect();
        }
        facts.surprising.sort();
        facts.surprising.dedup();
        facts
    }

    fn take(&mut self, event: &Event, now: i64) {
        match event {
            Event::Complaint { complaint } => self.complaint = Some(complaint.clone()),
            Event::Equipment { equipment } => self.equipment = Some(equipment.clone()),
            Event::Visit { technician, .. } => {
                self.visits += 1;
                if let Some(technician) = technician {
                    self.technician = Some(short(technician));
                }
            }
            Event::Site { place, unit } => {
                if let Some(place) = place {
                    self.place = Some(short(place));
                }
                if let Some(unit) = unit {
                    self.unit = Some(short(unit));
                }
            }
            Event::Callback { case, .. } => self.callback_of = Some(case.clone()),
            Event::Acknowledged { state, .. } => {
                if let Some(place) = caution_place(*state) {
                    self.accepted[place] += 1;
                }
            }
            Event::Surprising { test, .. } => self.surprising.push(test.clone()),
            Event::Repaired { text, .. } => self.repaired = Some(short(text)),
            Event::Standing { leaders, remainder } => {
                self.leader = leaders.first().map(led);
                self.remainder = millionths(*remainder);
            }
            Event::Concluded {
                leader,
                remainder,
                halted,
            } => {
                self.leader = leader.as_ref().map(led);
                self.remainder = millionths(*remainder);
                self.halted = *halted;
            }
            Event::Closed {
                cause,
                not_listed,
                proved,
                text,
                standing,
            } => {
                let otherwise = self
                    .closing
                    .as_ref()
                    .is_some_and(|earlier| earlier.cause != *cause);
                self.closed_otherwise |= otherwise;
                let words = not_listed
                    .as_ref()
                    .or((cause.is_none() && !text.is_empty()).then_some(text));
                self.closing = Some(Closing {
                    cause: cause.clone(),
                    not_listed: words.filter(|_| cause.is_none()).map(|words| short(words)),
                    proved: *proved,
                    in_danger: standing.iter().any(|stood| stood.cleared.is_none()),
                    at: now,
                });
            }
            _ => {}
        }
    }
}

/// A text of a case, cut where it would fill a table, on one line.
fn short(text: &str) -> String {
    let one_line = text.split_whitespace().collect::<Vec<_>>().join(" ");
    match one_line.char_indices().nth(LONGEST) {
        Some((end, _)) => format!("{}...", &one_line[..end]),
        None => one_line,
    }
}

#[cfg(test)]
mod tests {
    use super::{millionths, month, short};

    #[test]
    fn a_probability_is_a_whole_number_of_millionths() {
        assert_eq!(millionths(0.5), 500_000);
        assert_eq!(millionths(1.0), 1_000_000);
        assert_eq!(millionths(0.000_000_5), 1);
        assert_eq!(millionths(7.0), 1_000_000);
        assert_eq!(millionths(f64::NAN), 0);
    }

    #[test]
    fn a_month_is_that_of_utc() {
        assert_eq!(month(1_704_067_199), "2023-12");
        assert_eq!(month(1_704_067_200), "2024-01");
    }

    #[test]
    fn a_long_text_is_cut_and_stays_on_one_line() {
        assert_eq!(short(" a\n b\t"), "a b");
        assert_eq!(short(&"ä".repeat(200)).chars().count(), 123);
    }
}
