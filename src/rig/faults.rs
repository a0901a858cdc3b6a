//! The causes of the knowledge as changes of an installation's values: `faults.toml`.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::Deserialize;

use super::installation::{Installation, Values};

/// A value and the range a fault may bring it to, slight first.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// Key of the value ([`Values::KEYS`]).
    pub key: String,
    /// At the slightest and at the gravest.
    pub range: (f64, f64),
}

impl Change {
    /// The value at a severity from 0 to 1: by equal factors where the ends are more than eight times apart, else evenly.
    #[must_use]
    pub fn at(&self, severity: f64) -> f64 {
        let (low, high) = self.range;
        let ratio = if low > 0.0 && high > 0.0 {
            (high / low).max(low / high)
        } else {
            0.0
        };
        if ratio > 8.0 {
            low * (high / low).powf(severity)
        } else {
            low + (high - low) * severity
        }
    }
}

/// When a fault is there. Between times the installation is sound.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum When {
    /// All the time.
    #[default]
    Always,
    /// Once the part is warm: after minutes of running, the slight ones on a hot day only.
    Warm,
    /// When the unit shakes, or the place is moved by hand.
    Shaken,
    /// With rain, damp or the wash-down.
    Wet,
    /// While other large loads of the building are on.
    Loaded,
}

/// What the rig makes of a cause.
#[derive(Clone, Debug, PartialEq)]
pub enum Model {
    /// Values change; each entry is one way the cause can look.
    Changes(Vec<Vec<Change>>),
    /// A meter reads what it reads in a sound installation; why.
    Sound(String),
    /// There is no model; why.
    Nothing(String),
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct Table {
    fault: BTreeMap<String, Ways>,
    comes_and_goes: BTreeMap<String, BTreeMap<When, f64>>,
    sound: BTreeMap<String, String>,
    unmodeled: BTreeMap<String, String>,
}

#[derive(Deserialize)]
#[serde(untagged)]
enum Ways {
    One(BTreeMap<String, Range>),
    Several(Vec<BTreeMap<String, Range>>),
}

#[derive(Clone, Copy, Deserialize)]
#[serde(untagged)]
enum Range {
    Always(f64),
    Between([f64; 2]),
}

fn changes(way: &BTreeMap<String, Range>) -> Vec<Change> {
    way.iter()
        .map(|(key, range)| Change {
            key: key.clone(),
            range: match range {
                Range::Always(value) => (*value, *value),
                Range::Between([low, high]) => (*low, *high),
            },
        })
        .collect()
}

/// The table; or why it cannot be read.
static TABLE: LazyLock<Result<Table, String>> =
    LazyLock::new(|| toml::from_str(include_str!("faults.toml")).map_err(|error| error.to_string()));

/// Every cause of the table; or why it cannot be read, which `tests/rig.rs` would show.
static MODELS: LazyLock<Result<BTreeMap<String, Model>, String>> = LazyLock::new(|| {
    let table = TABLE.as_ref().map_err(Clone::clone)?;
    let mut models = BTreeMap::new();
    for (cause, ways) in &table.fault {
        let ways = match ways {
            Ways::One(way) => vec![changes(way)],
            Ways::Several(ways) => ways.iter().map(changes).collect(),
        };
        for change in ways.iter().flatten() {
            if Values::default().get(&change.key).is_none() {
                return Err(format!("`{cause}` changes `{}`, which is no value", change.key));
            }
        }
        models.insert(cause.clone(), Model::Changes(ways));
    }
    let sound = table.sound.iter();
    models.extend(sound.map(|(cause, why)| (cause.clone(), Model::Sound(why.clone()))));
    let none = table.unmodeled.iter();
    models.extend(none.map(|(cause, why)| (cause.clone(), Model::Nothing(why.clone()))));
    for (cause, shares) in &table.comes_and_goes {
        if !table.fault.contains_key(cause) || shares.values().sum::<f64>() > 1.0 {
            return Err(format!(
                "`{cause}` comes and goes, and changes nothing or too often"
            ));
        }
    }
    Ok(models)
});

/// How often the fault of a cause is there only at times, by when; else it is there always.
#[must_use]
pub fn comes_and_goes(cause: &str) -> Vec<(When, f64)> {
    let shares = TABLE
        .as_ref()
        .ok()
        .and_then(|table| table.comes_and_goes.get(cause));
    shares
        .into_iter()
        .flatten()
        .map(|(when, share)| (*when, *share))
        .collect()
}

/// Every cause with its model, by id.
///
/// # Errors
/// When the table compiled in cannot be read: which line.
pub fn all() -> Result<&'static BTreeMap<String, Model>, &'static str> {
    MODELS.as_ref().map_err(String::as_str)
}

/// The model of a cause by its id; nothing where the table does not name it.
#[must_use]
pub fn of(cause: &str) -> Option<&'static Model> {
    all().ok()?.get(cause)
}

impl Installation {
    /// The same installation with values changed at a severity from 0 (slight) to 1 (grave), on a leg from 1.
    #[must_use]
    pub fn with(mut self, changes: &[Change], severity: f64, leg: usize) -> Self {
        self.leg = leg;
        for change in changes {
            self.values.set(&change.key, change.at(severity));
        }
        self
    }
}
