//! The life of one unit: its cases, one after another, and how each ended.

use std::convert::Infallible;
use std::rc::Rc;

use fastrand::Rng;
use jiff::Timestamp;

use crate::inference::shares::pick;
use crate::journal::{Draft, Header, Link, Record, SCHEMA};
use crate::knowledge::model::Knowledge;
use crate::walk::{self, End, Event, Proof, Walk};

use super::person::{Habits, Person};
use super::words::{NOT_LISTED, STREETS, UNITS, WAYS, first_sentence};

/// A case that was invented.
#[derive(Clone, Debug, PartialEq)]
pub struct InventedCase {
    /// Its number, from 1.
    pub number: usize,
    pub(super) header: Header,
    pub(super) records: Vec<Record>,
}

/// The bytes of the case files of one unit, oldest first. A callback is given the head of the case before.
///
/// # Errors
/// When an event cannot be written as JSON, which no event of a walk is known to do.
pub fn files(cases: &[InventedCase]) -> std::io::Result<Vec<(usize, Vec<u8>)>> {
    let mut before: Option<Link> = None;
    let mut files = Vec::new();
    for case in cases {
        let mut draft = Draft::new(&case.header)?;
        for record in &case.records {
            match &record.event {
                Event::Callback { case, .. } => draft.append(&Record {
                    at: record.at,
                    event: Event::Callback {
                        case: case.clone(),
                        head: before.map(|head| head.to_string()),
                    },
                })?,
                _ => draft.append(record)?,
            }
        }
        before = draft.head();
        files.push((case.number, draft.into_bytes()));
    }
    Ok(files)
}

/// What is settled about a unit before its first case.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct UnitPlan {
    /// Its number, from 0.
    pub number: usize,
    /// Number of its first case, from 1.
    pub first: usize,
    /// How many cases it has: 1 to 3. Each but the last comes back.
    pub cases: usize,
    /// Size of the crew that shares the cases, 1 or more.
    pub technicians: usize,
}

/// The units behind so many cases. Four of five have one case; the others come back once or twice.
#[must_use]
pub fn plan(seed: u64, cases: usize) -> Vec<UnitPlan> {
    let mut rng = Rng::with_seed(seed);
    let technicians = (6 + cases / 2_000).min(40);
    let mut plans = Vec::new();
    let mut planned = 0;
    while planned < cases {
        let wanted = [1, 2, 3][pick(&mut rng, &[0.81, 0.14, 0.05])];
        let own = wanted.min(cases - planned);
        plans.push(UnitPlan {
            number: plans.len(),
            first: planned + 1,
            cases: own,
            technicians,
        });
        planned += own;
    }
    plans
}

/// 2024-01-01T00:00:00Z, in seconds.
const FIRST_DAY: i64 = 1_704_067_200;

/// Days over which first cases are spread.
const DAYS: i64 = 640;

const HOUR: i64 = 3_600_000;
const DAY: i64 = 24 * HOUR;

/// What a unit keeps from case to case.
struct Unit<'k> {
    knowledge: &'k Knowledge,
    rng: Rng,
    plan: UnitPlan,
    place: String,
    name: &'static str,
    equipment: Option<String>,
    complaint: String,
    technician: usize,
    /// Milliseconds since 1970.
    clock: i64,
    /// Lines of the case at hand.
    lines: Vec<Record>,
}

/// How one case ended, for the next.
struct Ended {
    id: String,
    /// The true cause, when it is still there.
    still: Option<String>,
}

/// The drawing of one unit.
pub(super) fn rng_of(seed: u64, plan: UnitPlan) -> Rng {
    Rng::with_seed(seed ^ (plan.number as u64 + 1).wrapping_mul(0x9e37_79b9_7f4a_7c15))
}

/// An invented place.
pub(super) fn place(rng: &mut Rng) -> String {
    format!(
        "{} {} {} (invented)",
        rng.usize(1..400),
        STREETS[rng.usize(..STREETS.len())],
        WAYS[rng.usize(..WAYS.len())]
    )
}

/// An invented technician.
pub(super) fn technician(number: usize) -> String {
    format!("Invented {:02}", number + 1)
}

/// Every case of one unit, oldest first.
#[must_use]
pub fn unit(knowledge: &Knowledge, seed: u64, plan: UnitPlan) -> Vec<InventedCase> {
    let mut rng = rng_of(seed, plan);
    let complaints = knowledge.complaints();
    let complaint = complaints[rng.usize(..complaints.len())].0.id.clone();
    let place = place(&mut rng);
    let mut unit = Unit {
        knowledge,
        plan,
        place,
        name: UNITS[rng.usize(..UNITS.len())],
        equipment: None,
        complaint,
        technician: rng.usize(..plan.technicians),
        clock: FIRST_DAY * 1000 + rng.i64(0..DAYS) * DAY + rng.i64(13..21) * HOUR + rng.i64(0..HOUR),
        lines: Vec::new(),
        rng,
    };
    let mut cases = Vec::new();
    let mut before = None;
    for number in 0..plan.cases {
        let (header, ended) = unit.case(number, before.take());
        cases.push(InventedCase {
            number: plan.first + number,
            header,
            records: std::mem::take(&mut unit.lines),
        });
        before = Some(ended);
        unit.clock += unit.rng.i64(2..45) * DAY;
    }
    cases
}

impl Unit<'_> {
    fn happens(&mut self, chance: f64) -> bool {
        self.rng.f64() < chance
    }

    fn case(&mut self, number: usize, before: Option<Ended>) -> (Header, Ended) {
        if before.is_some() && self.happens(0.5) {
            self.technician = self.rng.usize(..self.plan.technicians);
        }
        let id = format!("{:032x}", self.rng.u128(..));
        let header = Header {
            schema: SCHEMA,
            program: env!("CARGO_PKG_VERSION").to_owned(),
            knowledge: self.knowledge.fingerprint.clone(),
            id: Some(id.clone()),
            opened: at(self.clock),
            anonymous: false,
            invented: true,
            mended: None,
        };
        self.put(self.visit());
        let site = Event::Site {
            place: Some(self.place.clone()),
            unit: Some(self.name.to_owned()),
        };
        self.put(site);
        if let Some(before) = &before {
            let callback = Event::Callback {
                case: before.id.clone(),
                head: None,
            };
            self.put(callback);
        }
        let note = Event::Note {
            text: "Invented case: nobody was there.".to_owned(),
        };
        self.put(note.clone());

        let mut walk = Walk::new(self.knowledge);
        // The note belongs to the walk as well; it names no id.
        let _ = walk.apply(&note);
        let habits = Habits::of(self.technician);
        let mut person = Person::new(self.rng.fork(), habits, self.complaint.clone());
        person.equipment.clone_from(&self.equipment);
        person.wanted = before.and_then(|before| before.still);
        let end = self.walk(&mut walk, &mut person);
        self.equipment = walk
            .equipment()
            .map(|kind| self.knowledge.equipment[kind].id.clone());
        let truth = person.truth.and_then(|place| {
            let cause = *walk.model()?.causes().get(place)?;
            Some(self.knowledge.causes[cause].id.clone())
        });
        let last = number + 1 == self.plan.cases;
        let still = match end {
            Some(End::Finished | End::Halted) => self.close(&walk, truth, last),
            _ => truth,
        };
        (header, Ended { id, still })
    }

    /// Walks to the end, with the visits in between; nothing when nobody came again.
    fn walk(&mut self, walk: &mut Walk<'_>, person: &mut Person) -> Option<End> {
        let minutes = Rc::clone(&person.clock);
        for _ in 0..3 {
            let end = walk::drive::<Infallible>(walk, person, &mut |event| {
                self.clock += 1 + (minutes.take() * 60_000.0) as i64;
                self.lines.push(Record {
                    at: at(self.clock),
                    event: event.clone(),
                });
                Ok(())
            });
            match end {
                Ok(End::Stopped) if self.happens(0.7) => self.comes_again(),
                Ok(End::Stopped) | Err(_) => return None,
                Ok(end) => return Some(end),
            }
        }
        None
    }

    /// Another visit, hours or days later.
    fn comes_again(&mut self) {
        self.clock += if self.happens(0.4) {
            self.rng.i64(2..5) * HOUR
        } else {
            self.rng.i64(1..6) * DAY + self.rng.i64(0..2 * HOUR)
        };
        let visit = self.visit();
        self.put(visit);
    }

    /// Repair, proof and closing; gives back the cause that is still there.
    fn close(&mut self, walk: &Walk<'_>, truth: Option<String>, last: bool) -> Option<String> {
        if last && self.happens(0.12) {
            return truth;
        }
        if self.happens(0.4) {
            self.comes_again();
        }
        let id = |cause: crate::knowledge::model::CauseIndex| self.knowledge.causes[cause].id.clone();
        let ranked = walk.ranked();
        let leader = ranked.first().map(|(cause, _)| id(*cause));
        // What was repaired in place of the true cause, where the trouble comes back.
        let wrong = ranked
            .iter()
            .map(|(cause, _)| id(*cause))
            .find(|other| Some(other) != truth.as_ref());
        let (cause, proved) = if last {
            match pick(&mut self.rng, &[0.62, 0.18, 0.2]) {
                0 => (truth.clone(), true),
                1 => (truth.clone(), false),
                _ => (leader.or_else(|| truth.clone()), false),
            }
        } else {
            match pick(&mut self.rng, &[0.2, 0.55, 0.25]) {
                0 => (wrong.or_else(|| truth.clone()), true),
                1 => (wrong.or_else(|| truth.clone()), false),
                _ => (truth.clone(), true),
            }
        };
        let known = cause
            .as_deref()
            .and_then(|id| self.knowledge.cause(id))
            .map(|cause| &self.knowledge.causes[cause]);
        let not_listed = known
            .is_none()
            .then(|| NOT_LISTED[self.rng.usize(..NOT_LISTED.len())].to_owned());
        let done = known.map_or_else(
            || format!("Put right: {}", not_listed.clone().unwrap_or_default()),
            |cause| first_sentence(&cause.remedy).to_owned(),
        );
        self.clock += self.rng.i64(15..120) * 60_000;
        let by = self.happens(0.3).then(|| "licensed electrician".to_owned());
        self.put(Event::Repaired {
            text: done.clone(),
            by,
        });
        let mut text = done;
        if proved {
            let reading = known.map_or("ran the day out, then a week", |cause| {
                first_sentence(&cause.proof)
            });
            let by = if self.happens(0.25) {
                self.clock += 6 * DAY;
                Proof::CleanRun {
                    ran: 144.0,
                    needed: 108.0,
                    between: 36.0,
                }
            } else {
                Proof::Recheck {
                    reading: reading.to_owned(),
                }
            };
            self.put(Event::Proved { by });
            text = reading.to_owned();
        }
        self.clock += 60_000;
        let held = cause == truth;
        let closed = Event::Closed {
            cause,
            not_listed,
            proved,
            text,
            standing: Vec::new(),
        };
        self.put(closed);
        if held { None } else { truth }
    }

    fn visit(&self) -> Event {
        Event::Visit {
            technician: Some(technician(self.technician)),
            program: env!("CARGO_PKG_VERSION").to_owned(),
            knowledge: self.knowledge.fingerprint.clone(),
            learned: None,
        }
    }

    fn put(&mut self, event: Event) {
        self.clock += 1;
        self.lines.push(Record {
            at: at(self.clock),
            event,
        });
    }
}

/// A moment from milliseconds; those of this room lie within some years of 2024.
fn at(milliseconds: i64) -> Timestamp {
    Timestamp::from_millisecond(milliseconds).unwrap_or(Timestamp::UNIX_EPOCH)
}
