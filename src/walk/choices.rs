//! What is offered at a question: only what the equipment at hand can have.
//!
//! The complaint is asked first, since it is what the person comes with, and a kept case or an answer file begins with
//! it; so the equipment is offered by the complaint, and never the other way around. What does not fit is not offered,
//! but an answer file that gives it is taken, and told so: whoever wrote it saw something, and one of its lines is wrong.

use crate::knowledge::model::{EquipmentIndex, FactChoice, FactIndex, OutcomeIndex, TestIndex};

use super::Walk;

impl Walk<'_> {
    /// The kinds of equipment that can have the complaint; all of them when the complaint is not known.
    #[must_use]
    pub fn equipment_offered(&self) -> Vec<EquipmentIndex> {
        let fit = self.complaint().map(|tree| &self.knowledge.trees[tree].fit);
        self.knowledge
            .equipment
            .indices()
            .filter(|kind| fit.is_none_or(|fit| fit.fits(&self.knowledge.equipment[*kind])))
            .collect()
    }

    /// The choices of a fact that this equipment can have.
    #[must_use]
    pub fn choices_offered(&self, fact: FactIndex) -> Vec<&FactChoice> {
        let own = self.installation();
        self.knowledge.facts[fact]
            .choices
            .iter()
            .filter(|choice| own.is_none_or(|own| choice.fit.fits(own)))
            .collect()
    }

    /// The outcomes of a test that can be found on this equipment.
    #[must_use]
    pub fn outcomes_offered(&self, test: TestIndex) -> Vec<OutcomeIndex> {
        let outcomes = &self.knowledge.tests[test].outcomes;
        let own = self.installation();
        outcomes
            .indices()
            .filter(|outcome| own.is_none_or(|own| outcomes[*outcome].fit.fits(own)))
            .collect()
    }

    /// Says that something given is not offered for this equipment.
    pub(super) fn misfit(&self, what: &str, label: &str) -> String {
        let own = self
            .installation()
            .map_or("this equipment", |own| own.name.as_str());
        format!(
            "{what}: `{label}` is not offered for `{own}`; it is taken as given, so check which of the two is wrong"
        )
    }
}
