//! Finding things in the valid form by id, in either spelling, and what applies to which equipment.

use super::model::{
    Accessory, Cause, CauseIndex, Equipment, EquipmentIndex, Fact, FactIndex, Fit, Frequency, Hold,
    Knowledge, OutcomeIndex, Requirement, Test, TestIndex, Tree, TreeIndex,
};
use super::spelling;
use crate::knowledge::model::Commonness;

impl Knowledge {
    /// Finds a cause by id.
    #[must_use]
    pub fn cause(&self, id: &str) -> Option<CauseIndex> {
        spelling::position(self.causes.iter().map(|c| c.id.as_str()), id).map(CauseIndex)
    }

    /// Finds a test by id.
    #[must_use]
    pub fn test(&self, id: &str) -> Option<TestIndex> {
        spelling::position(self.tests.iter().map(|t| t.id.as_str()), id).map(TestIndex)
    }

    /// Finds a fact by id.
    #[must_use]
    pub fn fact(&self, id: &str) -> Option<FactIndex> {
        spelling::position(self.facts.iter().map(|f| f.id.as_str()), id).map(FactIndex)
    }

    /// Finds a tree by id.
    #[must_use]
    pub fn tree(&self, id: &str) -> Option<TreeIndex> {
        spelling::position(self.trees.iter().map(|t| t.id.as_str()), id).map(TreeIndex)
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
        spelling::position(self.equipment.iter().map(|e| e.id.as_str()), id).map(EquipmentIndex)
    }
}

impl Test {
    /// Finds an outcome by id.
    #[must_use]
    pub fn outcome(&self, id: &str) -> Option<OutcomeIndex> {
        spelling::position(self.outcomes.iter().map(|o| o.id.as_str()), id).map(OutcomeIndex)
    }

    /// Whether it applies to equipment with these parts.
    #[must_use]
    pub fn applies_to(&self, equipment: &Equipment) -> bool {
        has_all(&equipment.parts, &self.parts)
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

impl Cause {
    /// Whether it applies to equipment with these parts.
    #[must_use]
    pub fn applies_to(&self, equipment: &Equipment) -> bool {
        has_all(&equipment.parts, &self.parts)
    }
}

impl Requirement {
    /// Whether it applies to equipment with these parts.
    #[must_use]
    pub fn applies_to(&self, equipment: &Equipment) -> bool {
        has_all(&equipment.parts, &self.parts)
    }
}

impl Hold {
    /// Whether it applies to equipment with these parts.
    #[must_use]
    pub fn applies_to(&self, equipment: &Equipment) -> bool {
        has_all(&equipment.parts, &self.parts)
    }
}

impl Fact {
    /// Whether it applies to equipment with these parts.
    #[must_use]
    pub fn applies_to(&self, equipment: &Equipment) -> bool {
        has_all(&equipment.parts, &self.parts)
    }
}

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
