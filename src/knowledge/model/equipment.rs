//! Equipment, what is fitted to it, and the facts of one installation.

use serde::{Deserialize, Serialize};

use crate::quantity::ValueKind;

/// A kind of equipment, told apart by the parts it has.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Equipment {
    /// Kebab-case id.
    pub id: String,
    /// Name shown to a person.
    pub name: String,
    /// Parts it has or, as accessories, may have; a cause or test that needs a part it lacks does not apply.
    pub parts: Vec<String>,
    /// Those of its parts that are accessories: one installation has them, another not.
    pub accessories: Vec<String>,
}

impl Equipment {
    /// This kind of equipment as it stands in one installation, with only the accessories that are fitted.
    #[must_use]
    pub fn fitted_with(&self, fitted: &[String]) -> Self {
        let mut own = self.clone();
        own.parts
            .retain(|part| !self.accessories.contains(part) || fitted.contains(part));
        own.accessories.retain(|accessory| fitted.contains(accessory));
        own
    }
}

/// Something fitted to equipment that some installations have, such as a humidifier. Its id is the name of a part.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Accessory {
    /// Kebab-case id.
    pub id: String,
    /// Name shown to a person.
    pub name: String,
    /// Parts the equipment must have for it to be fitted.
    pub parts: Vec<String>,
}

/// The equipment something is offered for.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Fit {
    /// Parts the equipment must have, all of them.
    pub parts: Vec<String>,
    /// Parts the equipment must not have, none of them.
    pub without: Vec<String>,
}

/// A choice offered for a fact.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct FactChoice {
    /// Kebab-case id.
    pub id: String,
    /// What is shown.
    pub label: String,
    /// The equipment it is offered for.
    pub fit: Fit,
}

/// A known value of an installation.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Fact {
    /// Kebab-case id.
    pub id: String,
    /// Short name.
    pub name: String,
    /// The question.
    pub ask: String,
    /// The plate, label or paper that tells it.
    pub find: String,
    /// What it takes.
    pub kind: ValueKind,
    /// Unit of a number typed without one, such as `A`; empty when the kind has none.
    pub unit: String,
    /// Lowest and highest amount accepted, in base units.
    pub range: Option<(f64, f64)>,
    /// Choices, when `kind` is a choice.
    pub choices: Vec<FactChoice>,
    /// It tells of the trouble and not of plate or circuit: a callback asks it anew.
    pub of_the_trouble: bool,
    /// Parts the equipment must have for the fact to make sense.
    pub parts: Vec<String>,
}
