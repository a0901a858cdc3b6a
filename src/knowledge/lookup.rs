//! Finding things in the valid form by id, in either spelling, and what applies to which equipment.

use super::indexed::{Indexed, Ordinal};
use super::model::{
    Accessory, BoundOf, Cause, CauseIndex, Commonness, Effect, EffectIndex, EffectState, Equipment,
    EquipmentIndex, Fact, FactIndex, Family, Fit, Frequency, Hold, Knowledge, Node, Outcome, OutcomeIndex,
    Requirement, State, Test, TestIndex, Tree, TreeIndex,
};
use super::spelling;
use crate::quantity::{ReadError, Value};

/// Share of its callbacks from which a cause means that nothing is wrong. Our choice, no source.
const MOSTLY_NO_FAULT: f64 = 0.5;

impl Knowledge {
    /// Finds a cause by id, or by one it had before: kept cases name it so.
    #[must_use]
    pub fn cause(&self, id: &str) -> Option<CauseIndex> {
        let formerly = || {
            let named = |cause: &Cause| cause.formerly.iter().any(|earlier| earlier == id);
            self.causes.iter().position(named).map(CauseIndex::at)
        };
        find(&self.causes, id).or_else(formerly)
    }

    /// The id a cause has now; what the knowledge does not list keeps its own.
    #[must_use]
    pub fn cause_id<'a>(&'a self, id: &'a str) -> &'a str {
        self.cause(id).map_or(id, |cause| &self.causes[cause].id)
    }

    /// Whether a cause mostly means that nothing is wrong: half its callbacks or more bring a state that says so.
    #[must_use]
    pub fn is_all_clear(&self, cause: CauseIndex) -> bool {
        self.causes[cause].does.iter().any(|does| {
            let states = self.effects[does.effect].states.iter().zip(&does.shares);
            let clear = states.filter(|(state, _)| state.all_clear);
            clear.map(|(_, share)| share).sum::<f64>() >= MOSTLY_NO_FAULT
        })
    }

    /// Finds a test by id.
    #[must_use]
    pub fn test(&self, id: &str) -> Option<TestIndex> {
        find(&self.tests, id)
    }

    /// The looks whose first outcome answers this one at once.
    pub(crate) fn answered_at_once_by(&self, test: TestIndex) -> impl Iterator<Item = TestIndex> {
        let answers = move |look: &Test| look.at_once.iter().any(|(other, _)| *other == test);
        let looks = self.tests.indexed().filter(move |(_, look)| answers(look));
        looks.map(|(index, _)| index)
    }

    /// Finds a fact by id.
    #[must_use]
    pub fn fact(&self, id: &str) -> Option<FactIndex> {
        find(&self.facts, id)
    }

    /// Finds a tree by id.
    #[must_use]
    pub fn tree(&self, id: &str) -> Option<TreeIndex> {
        find(&self.trees, id)
    }

    /// The complaints in the order a person is offered them: by rank, then by id. Each with its words.
    #[must_use]
    pub fn complaints(&self) -> Vec<(&Tree, &str)> {
        let mut complaints: Vec<_> = self
            .trees
            .iter()
            .filter_map(|tree| Some((tree, tree.complaint.as_deref()?)))
            .collect();
        complaints.sort_by(|(one, _), (other, _)| (one.rank, &one.id).cmp(&(other.rank, &other.id)));
        complaints
    }

    /// Finds an accessory by id.
    #[must_use]
    pub fn accessory(&self, id: &str) -> Option<&Accessory> {
        self.accessories.iter().find(|accessory| accessory.id == id)
    }

    /// Finds an equipment by id.
    #[must_use]
    pub fn equipment(&self, id: &str) -> Option<EquipmentIndex> {
        find(&self.equipment, id)
    }
}

impl Test {
    /// Finds an outcome by id.
    #[must_use]
    pub fn outcome(&self, id: &str) -> Option<OutcomeIndex> {
        find(&self.outcomes, id)
    }
}

impl Fact {
    /// Reads what was typed for it.
    ///
    /// # Errors
    /// When it is no such value.
    pub fn read(&self, typed: &str) -> Result<Value, ReadError> {
        let choices: Vec<&str> = self.choices.iter().map(|choice| choice.id.as_str()).collect();
        let unit = (!self.unit.is_empty()).then_some(self.unit.as_str());
        Value::parse(typed, self.kind, unit, &choices)
    }
}

impl Test {
    /// The facts that figures of its outcomes multiply, once for each outcome.
    pub fn bound_facts(&self) -> impl Iterator<Item = FactIndex> {
        let bounds = self.outcomes.iter().filter_map(|outcome| outcome.bound.as_ref());
        bounds.filter_map(|bound| match bound.of? {
            BoundOf::Fact(fact) => Some(fact),
            BoundOf::Reading(_) => None,
        })
    }

    /// The effects its outcomes show states of, once for each outcome.
    pub fn effects(&self) -> impl Iterator<Item = EffectIndex> {
        let shown = self.outcomes.iter().flat_map(|outcome| &outcome.shows);
        shown.map(|shown| shown.effect)
    }
}

impl Outcome {
    /// P(this outcome | cause), where it finds the cause.
    #[must_use]
    pub fn finding(&self, cause: CauseIndex) -> Option<f64> {
        let found = self.finds.iter().find(|(known, _)| *known == cause);
        found.map(|(_, chance)| *chance)
    }
}

impl Hold {
    /// Whether it can hold on equipment with these parts.
    #[must_use]
    pub fn applies_to(&self, equipment: &Equipment) -> bool {
        self.fit.fits(equipment)
    }

    /// Whether a test is not made while it is up. Heat is called wherever the equipment is used: what nobody looked at yet stops a
    /// call only where the hold says so, a danger that was met always.
    #[must_use]
    pub fn keeps_from(&self, index: TestIndex, test: &Test) -> bool {
        let calls = !self.from_start || self.calls_heat;
        let lights = test.calls_heat && calls && self.stops.contains(&State::Firing);
        lights || self.stops.contains(&test.state) || self.stops_tests.contains(&index)
    }
}

impl Commonness {
    /// On one equipment.
    #[must_use]
    pub fn on(&self, equipment: &Equipment) -> Frequency {
        self.with
            .iter()
            .find(|(part, _)| equipment.parts.iter().any(|own| own == *part))
            .map_or(self.usual, |(_, word)| *word)
    }
}

/// What has an id of its own.
pub(super) trait Named {
    /// Kebab-case id.
    fn id(&self) -> &str;
}

macro_rules! entries {
    ($($entry:ident)+) => {
        $(
            impl Named for $entry {
                fn id(&self) -> &str {
                    &self.id
                }
            }
        )+
    };
}
entries! {
    Accessory Cause Effect EffectState Equipment Fact Family Hold Node Outcome Requirement Test Tree
}

/// The entry with an id, in either spelling.
fn find<I: Ordinal, T: Named>(list: &Indexed<I, T>, id: &str) -> Option<I> {
    spelling::position(list.iter().map(Named::id), id).map(I::at)
}

macro_rules! applies {
    ($($entry:ident)+) => {
        $(
            impl $entry {
                /// Whether it applies to equipment with these parts.
                #[must_use]
                pub fn applies_to(&self, equipment: &Equipment) -> bool {
                    has_all(&equipment.parts, &self.parts)
                }
            }
        )+
    };
}
applies! { Cause Fact Requirement Test }

impl Fit {
    /// Whether equipment with these parts is offered it.
    #[must_use]
    pub fn fits(&self, equipment: &Equipment) -> bool {
        has_all(&equipment.parts, &self.parts)
            && !self.without.iter().any(|part| equipment.parts.contains(part))
    }
}

fn has_all(has: &[String], needs: &[String]) -> bool {
    needs.iter().all(|part| has.contains(part))
}
