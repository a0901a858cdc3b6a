//! The cases of a unit once more, elsewhere, at another time and by other people: for many more cases than anybody would
//! wait for to be walked.

use std::collections::HashMap;

use jiff::{SignedDuration, Timestamp};

use crate::journal::Record;
use crate::walk::Event;

use super::story::{InventedCase, UnitPlan, place, rng_of, technician};

/// Days by which the time is moved, either way.
const DAYS: i64 = 60;

/// The cases of a unit with other ids, place, people and dates. Answers and conclusions stay.
#[must_use]
pub fn again(cases: &[InventedCase], seed: u64, plan: UnitPlan) -> Vec<InventedCase> {
    let mut rng = rng_of(seed, plan);
    let place = place(&mut rng);
    let moved = SignedDuration::from_secs(rng.i64(-DAYS * 86_400..DAYS * 86_400));
    let at = |at: Timestamp| at.checked_add(moved).unwrap_or(at);
    let shift = rng.usize(..plan.technicians);
    let mut people: HashMap<String, String> = HashMap::new();
    let mut ids: HashMap<String, String> = HashMap::new();
    cases
        .iter()
        .enumerate()
        .map(|(number, case)| {
            let mut header = case.header.clone();
            header.opened = at(header.opened);
            let id = format!("{:032x}", rng.u128(..));
            ids.insert(header.identity(), id.clone());
            header.id = Some(id);
            let records = case
                .records
                .iter()
                .map(|record| {
                    let mut event = record.event.clone();
                    match &mut event {
                        Event::Visit {
                            technician: Some(name),
                            ..
                        } => {
                            let next = people.len();
                            let other = people
                                .entry(name.clone())
                                .or_insert_with(|| technician((shift + next) % plan.technicians));
                            name.clone_from(other);
                        }
                        Event::Site { place: own, .. } => *own = Some(place.clone()),
                        Event::Callback { case, .. } => {
                            if let Some(other) = ids.get(case) {
                                case.clone_from(other);
                            }
                        }
                        _ => {}
                    }
                    Record {
                        at: at(record.at),
                        event,
                    }
                })
                .collect();
            InventedCase {
                number: plan.first + number,
                header,
                records,
            }
        })
        .collect()
}
