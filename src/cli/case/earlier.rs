//! The case before a callback: what came of it, and what of it can be taken over.

use std::path::Path;

use crate::cli::closed_cases::files;
use crate::cli::places::usual_folder;
use crate::journal::life::{Before, Closing, Life};
use crate::journal::{self, Case};
use crate::knowledge::model::Knowledge;
use crate::quantity::Value;
use crate::walk::{Event, Reply, Walk};

use super::words;

/// What the case before came to.
pub(in crate::cli) struct Earlier {
    /// What whoever comes back must know, a line each.
    pub(in crate::cli) lines: Vec<String>,
    /// What stood at its end, or was said to be cleared, a line each.
    pub(in crate::cli) dangers: Vec<String>,
    /// What can be taken over, for the person.
    pub(in crate::cli) plate: Vec<String>,
    /// The equipment and what is fitted to it, as replies to their questions.
    pub(in crate::cli) equipment: Option<Reply>,
    /// The same of the accessories.
    pub(in crate::cli) accessories: Option<Reply>,
    /// Facts of plate and circuit, each as a reply.
    pub(in crate::cli) facts: Vec<Reply>,
}

impl Earlier {
    /// Finds the case before in the folder of the callback or in the usual one; nothing where it is in neither.
    pub(in crate::cli) fn find(knowledge: &Knowledge, before: &Before, callback: &Path) -> Option<Self> {
        let beside = callback.parent().map(Path::to_owned);
        let mut folders: Vec<_> = beside.into_iter().chain(usual_folder().ok()).collect();
        folders
            .iter_mut()
            .filter(|folder| folder.as_os_str().is_empty())
            .for_each(|folder| *folder = ".".into());
        folders.retain(|folder| folder.is_dir());
        let mut left_out = Vec::new();
        let found = files(&folders, &mut left_out).into_iter().find_map(|path| {
            let case = journal::sound_file(&path).ok()?.case;
            (case.header.identity() == before.case).then_some(case)
        })?;
        Some(Self::of(knowledge, &found))
    }

    /// What a case came to.
    pub(in crate::cli) fn of(knowledge: &Knowledge, case: &Case) -> Self {
        let life = Life::of(case);
        let mut walk = Walk::new(knowledge);
        case.replay(&mut walk);
        let mut lines = vec![format!("trouble: {}", words::complaint(knowledge, &life))];
        for visit in &life.visits {
            let who = visit.technician.as_deref().unwrap_or("technician not named");
            lines.push(format!("visit: {}, {who}", words::clock(visit.began)));
        }
        for repair in &life.repairs {
            let by = repair
                .what
                .by
                .as_ref()
                .map_or_else(String::new, |by| format!(", by {by}"));
            lines.push(format!(
                "repaired: {}, {}{by}",
                words::clock(repair.at),
                repair.what.text
            ));
        }
        for proof in &life.proofs {
            lines.push(format!(
                "proved: {}, {}",
                words::clock(proof.at),
                words::proof(&proof.what)
            ));
        }
        if let Some(closing) = &life.closing {
            let what = words::outcome(knowledge, &life).unwrap_or_default();
            let how = words::stage(&life).trim_start_matches("closed, ");
            lines.push(format!("closed: {}, as {what}, {how}", words::clock(closing.at)));
            if !closing.what.text.is_empty() {
                lines.push(format!("said then: {}", closing.what.text));
            }
        }
        let mut earlier = Self {
            dangers: dangers(&walk, life.closing.as_ref().map(|closing| &closing.what)),
            lines,
            plate: Vec::new(),
            equipment: life.equipment.clone().map(Reply::Answer),
            accessories: None,
            facts: Vec::new(),
        };
        earlier.plate.extend(words::equipment(knowledge, &life));
        earlier.take_over(&walk);
        earlier
    }

    fn take_over(&mut self, walk: &Walk<'_>) {
        let knowledge = walk.knowledge();
        // What was corrected later stands once, as it was said last.
        let mut seen: Vec<&str> = Vec::new();
        for entry in walk.entries().iter().rev() {
            match entry {
                Event::Accessories { fitted } if self.accessories.is_none() => {
                    let fitted_ids = fitted.iter().flatten().map(String::as_str);
                    let names: Vec<&str> = fitted_ids
                        .clone()
                        .map(|id| knowledge.accessory(id).map_or(id, |known| &known.name))
                        .collect();
                    self.plate.push(match fitted {
                        None => "accessories: not known".to_owned(),
                        Some(_) if names.is_empty() => "accessories: none".to_owned(),
                        Some(_) => format!("accessories: {}", names.join("; ")),
                    });
                    self.accessories = Some(match fitted {
                        None => Reply::CouldNotCheck,
                        Some(_) => Reply::listed(fitted_ids),
                    });
                }
                Event::Fact { fact, value, typed } if !seen.contains(&fact.as_str()) => {
                    seen.push(fact);
                    let Some((value, index)) = value.as_ref().zip(knowledge.fact(fact)) else {
                        continue;
                    };
                    let known = &knowledge.facts[index];
                    if known.of_the_trouble || typed.is_empty() {
                        continue;
                    }
                    let said = match value {
                        Value::Choice(id) => {
                            let choice = known.choices.iter().find(|choice| choice.id == *id);
                            choice.map_or_else(|| id.clone(), |choice| choice.label.clone())
                        }
                        value => value.to_string(),
                    };
                    self.plate.push(format!("{}: {said}", known.name));
                    self.facts.push(Reply::Correct {
                        fact: fact.clone(),
                        value: Some(match value {
                            Value::Choice(id) => id.clone(),
                            _ => typed.clone(),
                        }),
                    });
                }
                _ => {}
            }
        }
    }
}

/// What raised the dangers that nobody said were cleared when a case was closed: they stand in the callback too.
pub(super) fn left_standing(walk: &Walk<'_>, closing: Option<&Closing>) -> Vec<Event> {
    let mut left = Vec::new();
    for hold in walk.dangers() {
        if cleared(closing, &hold.id).is_none() {
            let raised = walk.left_by(hold).into_iter();
            left.extend(raised.filter(|event| !left.contains(event)).collect::<Vec<_>>());
        }
    }
    left
}

/// What was said at the closing to have cleared a danger.
fn cleared(closing: Option<&Closing>, hold: &str) -> Option<String> {
    let mut standing = closing.iter().flat_map(|closing| &closing.standing);
    standing.find(|stood| stood.hold == hold)?.cleared.clone()
}

/// The dangers that stood by the answers of a case at its end, each with what was said of it.
pub(super) fn dangers(walk: &Walk<'_>, closing: Option<&Closing>) -> Vec<String> {
    let said = walk
        .dangers()
        .into_iter()
        .map(|hold| match cleared(closing, &hold.id) {
            Some(by) => format!(
                "Stood in the case before, and was said to be cleared: {}. By: {by}",
                hold.name
            ),
            None => format!(
                "Left standing when the case before was closed: {}. {}",
                hold.name, hold.says
            ),
        });
    said.collect()
}
