//! The list of exercises: a file in the program, by topic and level, each with what it teaches.
//!
//! `exercises.toml` holds exercises (`[[exercise]]`: `id`, `title`, `teaches`, `complaint`, `equipment`, `accessories`, `cause`,
//! `seed`; `guided = true` where words are explained as they come), what the customer says by complaint (`[customer]`), and
//! words of the trade explained for who has not met them (`[words]`).

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::Deserialize;

use crate::knowledge::model::{Knowledge, TreeIndex};
use crate::knowledge::nearest::unknown;

use super::{Exercise, Level};

const TEXT: &str = include_str!("exercises.toml");

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Raw {
    exercise: Vec<RawExercise>,
    customer: BTreeMap<String, String>,
    words: BTreeMap<String, String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct RawExercise {
    id: String,
    title: String,
    teaches: String,
    complaint: String,
    equipment: String,
    #[serde(default)]
    accessories: Vec<String>,
    cause: String,
    seed: u64,
    #[serde(default)]
    guided: bool,
}

/// An exercise of the list.
#[derive(Clone, Debug, PartialEq)]
pub struct Listed {
    /// Kebab-case id.
    pub id: String,
    /// What it looks like from outside; gives nothing away.
    pub title: String,
    /// In one sentence, told before it begins.
    pub teaches: String,
    /// How hard.
    pub level: Level,
    /// Words are explained as they come.
    pub guided: bool,
    /// The fault, where it is, and the seed of all that follows.
    pub exercise: Exercise,
}

static RAW: LazyLock<Result<Raw, String>> =
    LazyLock::new(|| toml::from_str(TEXT).map_err(|error| error.to_string()));

fn raw() -> Option<&'static Raw> {
    // A test reads the file, so that a released one can be read.
    RAW.as_ref().ok()
}

/// What is wrong with the file in the program; nothing when all is well. For a test.
#[must_use]
pub fn fault() -> Option<&'static str> {
    RAW.as_ref().err().map(String::as_str)
}

/// Exercises of the list that this knowledge can have, easiest first, and within a level in the order of the file.
#[must_use]
pub fn all(knowledge: &Knowledge) -> Vec<Listed> {
    let raw = raw().map_or(&[][..], |raw| &raw.exercise);
    let mut listed: Vec<Listed> = raw.iter().filter_map(|raw| listed(knowledge, raw)).collect();
    listed.sort_by_key(|listed| (!listed.guided, listed.level));
    listed
}

/// Ids in the file that this knowledge has no fault for. Empty for the knowledge in the program.
#[must_use]
pub fn left_out(knowledge: &Knowledge) -> Vec<&'static str> {
    let raw = raw().map_or(&[][..], |raw| &raw.exercise);
    raw.iter()
        .filter(|raw| listed(knowledge, raw).is_none())
        .map(|raw| raw.id.as_str())
        .collect()
}

/// One exercise by its id or its number in the list.
///
/// # Errors
/// When there is none, with what is near.
pub fn find(knowledge: &Knowledge, name: &str) -> Result<Listed, String> {
    let mut all = all(knowledge);
    let place = match name.parse::<usize>() {
        Ok(number) => number.checked_sub(1).filter(|place| *place < all.len()),
        Err(_) => all.iter().position(|listed| listed.id == name),
    };
    match place {
        Some(place) => Ok(all.swap_remove(place)),
        None => Err(unknown(
            "exercise",
            name,
            all.iter().map(|listed| listed.id.as_str()),
        )),
    }
}

fn listed(knowledge: &Knowledge, raw: &RawExercise) -> Option<Listed> {
    let exercise = Exercise {
        complaint: knowledge.tree(&raw.complaint)?,
        equipment: knowledge.equipment(&raw.equipment)?,
        accessories: raw.accessories.clone(),
        truth: knowledge.cause(&raw.cause)?,
        seed: raw.seed,
    };
    if raw.accessories.iter().any(|id| knowledge.accessory(id).is_none()) {
        return None;
    }
    let walk = exercise.walk(knowledge);
    walk.model()?.place(exercise.truth)?;
    Some(Listed {
        id: raw.id.clone(),
        title: raw.title.clone(),
        teaches: raw.teaches.clone(),
        level: Level::of(&walk, exercise.truth),
        guided: raw.guided,
        exercise,
    })
}

/// What the customer says at the beginning; the complaint as the trade puts it where nothing stands for it.
#[must_use]
pub fn customer(knowledge: &Knowledge, complaint: TreeIndex) -> &str {
    let tree = &knowledge.trees[complaint];
    let said = raw().and_then(|raw| raw.customer.get(&tree.id));
    said.map_or_else(|| tree.complaint.as_deref().unwrap_or(&tree.id), String::as_str)
}

/// Words of the trade that stand in a text, each with what it means, in the order they come.
#[must_use]
pub fn explained(text: &str) -> Vec<(&'static str, &'static str)> {
    let lower = text.to_lowercase();
    let mut met: Vec<(usize, &str, &str)> = raw()
        .into_iter()
        .flat_map(|raw| &raw.words)
        .filter_map(|(word, meaning)| Some((place_of(&lower, word)?, word.as_str(), meaning.as_str())))
        .collect();
    met.sort_unstable();
    met.into_iter()
        .map(|(_, word, meaning)| (word, meaning))
        .collect()
}

/// Where a word begins in a text, by itself or with an ending of its own.
fn place_of(text: &str, word: &str) -> Option<usize> {
    text.match_indices(word).map(|(at, _)| at).find(|at| {
        let before = text[..*at].chars().next_back();
        let behind: String = text[at + word.len()..]
            .chars()
            .take_while(|c| c.is_alphanumeric())
            .collect();
        !before.is_some_and(char::is_alphanumeric) && matches!(behind.as_str(), "" | "s" | "es" | "ed")
    })
}
