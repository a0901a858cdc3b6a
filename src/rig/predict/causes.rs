//! What is compared: the leading causes with a model in this installation, and the installation with nothing wrong.

use crate::knowledge::indexed::Indexed;
use crate::knowledge::model::{CauseIndex, FactIndex, Knowledge};
use crate::quantity::Value;
use crate::walk::Walk;

use super::super::case::{self, Fault, Site};
use super::super::faults::{self, Change, Model, When};
use super::super::installation::{Call, Plate};
use super::super::meter::Meters;
use super::super::plates;
use super::tuned::Tuning;
use super::{Aside, Foreseen, Taken, Tuned};

/// Causes with a model that are compared at most; and down to which standing, once three were looked at. Our choice, no source.
const MOST_CAUSES: usize = 5;
const LEAST: usize = 3;
const LEAST_SHARE: f64 = 0.02;

/// Severities a cause is read at: mild, typical, severe.
const SEVERITIES: [f64; 3] = [0.0, TYPICAL, 1.0];

/// The severity called typical: the middle of what the table of faults gives.
const TYPICAL: f64 = 0.5;

/// One way a cause can look on one leg, from mild to severe.
pub(super) struct Look {
    pub(super) mild: Site,
    pub(super) typical: Site,
    pub(super) severe: Site,
}

impl Look {
    fn of(plate: &Plate, fault: &Fault, mode: Call) -> Self {
        let [mild, typical, severe] = SEVERITIES.map(|severity| {
            let fault = Fault {
                severity,
                ..fault.clone()
            };
            Site::called(plate.clone(), fault, Meters::PERFECT, mode)
        });
        Self {
            mild,
            typical,
            severe,
        }
    }

    pub(super) fn sites(&self) -> [&Site; 3] {
        [&self.mild, &self.typical, &self.severe]
    }
}

/// A cause, or nothing wrong, with every way it can look.
pub(super) struct Supposed {
    /// Nothing where nothing is wrong.
    pub(super) cause: Option<CauseIndex>,
    pub(super) weight: f64,
    pub(super) looks: Vec<Look>,
    /// What stands on the plates then, by fact.
    pub(super) facts: Indexed<FactIndex, Option<Value>>,
}

/// All that is compared; the first is nothing wrong.
pub(super) struct Compared {
    pub(super) mode: Call,
    pub(super) supposed: Vec<Supposed>,
    pub(super) as_sound: Vec<Aside>,
    pub(super) no_model: Vec<Aside>,
    pub(super) tuned: Vec<Tuned>,
    plate: Plate,
}

/// What is made of a leading cause.
enum Made {
    /// The ways it changes the installation.
    Ways(Vec<Vec<Change>>),
    AsSound(String),
    NoModel(String),
}

fn fault(cause: &str, changes: &[Change], leg: usize) -> Fault {
    Fault {
        cause: cause.to_owned(),
        changes: changes.to_vec(),
        severity: TYPICAL,
        leg,
        when: When::Always,
    }
}

/// A figure as it would stand on a plate.
fn shown(value: &Value) -> String {
    value
        .quantity()
        .map_or_else(|| value.to_string(), |quantity| quantity.keyed(3))
}

/// What the facts of the case leave of the model of a cause.
fn made(walk: &Walk<'_>, cause: &str) -> Made {
    let knowledge = walk.knowledge();
    let ways = match faults::of(cause) {
        Some(Model::Changes(ways)) => ways,
        Some(Model::Sound(why)) => return Made::AsSound(why.clone()),
        Some(Model::Nothing(why)) => return Made::NoModel(why.clone()),
        None => return Made::NoModel("the table of faults does not name it".to_owned()),
    };
    let mut said = None;
    let mut left: Vec<Vec<Change>> = Vec::new();
    for way in ways {
        let mut rest = way.clone();
        rest.retain(|change| {
            let fact = plates::said_by(cause, &change.key).and_then(|id| knowledge.fact(id));
            let given = fact.filter(|fact| matches!(walk.fact(*fact), Some(Some(_))));
            said = said.or(given);
            given.is_none()
        });
        if !rest.is_empty() {
            left.push(rest);
        }
    }
    match said {
        Some(fact) if left.is_empty() => Made::AsSound(format!(
            "what it would change is in the facts given: {}",
            knowledge.facts[fact].name
        )),
        _ => Made::Ways(left),
    }
}

impl Compared {
    /// Picks by standing; nothing before complaint and equipment are known.
    pub(super) fn of(walk: &Walk<'_>) -> Option<Self> {
        let knowledge = walk.knowledge();
        let standing = walk.standing()?;
        let known = |id: &str| walk.fact(knowledge.fact(id)?)?.cloned();
        let plate = case::plate(walk.installation()?, &known);
        let mut picked: Vec<(CauseIndex, f64, Vec<Vec<Change>>)> = Vec::new();
        let mut as_sound = Vec::new();
        let mut no_model = Vec::new();
        let mut nothing_wrong = standing.remainder();
        for (place, (cause, probability)) in standing.ranked().into_iter().enumerate() {
            if picked.len() == MOST_CAUSES || (place >= LEAST && probability < LEAST_SHARE) {
                break;
            }
            let known = &knowledge.causes[cause];
            let aside = |why| Aside {
                cause: known.id.clone(),
                name: known.name.clone(),
                probability,
                why,
            };
            match made(walk, &known.id) {
                Made::Ways(ways) => picked.push((cause, probability, ways)),
                Made::AsSound(why) => {
                    nothing_wrong += probability;
                    as_sound.push(aside(why));
                }
                Made::NoModel(why) => no_model.push(aside(why)),
            }
        }
        let first = picked.first().and_then(|(cause, _, ways)| {
            let changes = ways.first()?;
            Some(fault(&knowledge.causes[*cause].id, changes, 1))
        });
        // What leads is looked for; the others are read under the same call, or they would differ by that alone.
        let sound = fault("", &[], 1);
        let mode = first.as_ref().unwrap_or(&sound).mode(&plate);
        let tuning = Tuning::of(walk, &plate, mode);
        // What is settled comes first: a fault that changes the same value by itself has the last word.
        let tuned = |fault: Fault| Fault {
            changes: [tuning.changes(&fault.changes), fault.changes].concat(),
            ..fault
        };
        let mut supposed = vec![Supposed::of(
            walk,
            &plate,
            mode,
            None,
            nothing_wrong,
            &[tuned(sound)],
        )];
        for (cause, probability, ways) in picked {
            let id = &knowledge.causes[cause].id;
            let legs = 1..=case::hots(&plate);
            let faults: Vec<Fault> = ways
                .iter()
                .flat_map(|way| legs.clone().map(move |leg| fault(id, way, leg)))
                .map(tuned)
                .collect();
            supposed.push(Supposed::of(
                walk,
                &plate,
                mode,
                Some(cause),
                probability,
                &faults,
            ));
        }
        Some(Self {
            mode,
            supposed,
            as_sound,
            no_model,
            tuned: tuning.from,
            plate,
        })
    }

    /// Whether the installation has anything that draws current.
    pub(super) fn has_load(&self) -> bool {
        let plate = &self.plate;
        plate.rated_load + plate.fan + plate.blower + plate.draft + plate.heater > 0.0
    }

    pub(super) fn foreseen(&self, knowledge: &Knowledge) -> Vec<Foreseen> {
        let with_cause = |supposed: &Supposed| {
            let cause = &knowledge.causes[supposed.cause?];
            Some(Foreseen {
                cause: cause.id.clone(),
                name: cause.name.clone(),
                probability: supposed.weight,
            })
        };
        self.supposed.iter().filter_map(with_cause).collect()
    }

    /// The figures taken as typical, each as it would stand on its plate.
    pub(super) fn taken(&self, knowledge: &Knowledge) -> Vec<Taken> {
        let sound = &self.supposed[0];
        let assumed = self.plate.assumed.iter().map(|assumed| {
            let fact = knowledge.fact(assumed.what);
            let on_plate = fact.and_then(|fact| sound.facts[fact].as_ref());
            Taken {
                fact: assumed.what.to_owned(),
                name: fact
                    .map_or(assumed.what, |fact| &knowledge.facts[fact].name)
                    .to_owned(),
                value: on_plate.map_or_else(|| assumed.value.clone(), shown),
                why: assumed.why.to_owned(),
            }
        });
        assumed.collect()
    }
}

impl Supposed {
    /// Its name, as a person reads it.
    pub(super) fn name<'k>(&self, knowledge: &'k Knowledge) -> &'k str {
        self.cause
            .map_or("nothing wrong here", |cause| &knowledge.causes[cause].name)
    }

    fn of(
        walk: &Walk<'_>,
        plate: &Plate,
        mode: Call,
        cause: Option<CauseIndex>,
        weight: f64,
        faults: &[Fault],
    ) -> Self {
        let looks: Vec<Look> = faults.iter().map(|fault| Look::of(plate, fault, mode)).collect();
        let facts = looks.first().map_or_else(Indexed::default, |look| {
            plates::facts(walk, &look.typical.bench.installation, &look.typical.fault)
        });
        Self {
            cause,
            weight,
            looks,
            facts,
        }
    }
}
