//! What the tests of a tree cost on some equipment, before anything is known.

use crate::inference::gain::hazard_charge;
use crate::inference::score::TestCost;
use crate::knowledge::model::{EquipmentIndex, InputFrom, Knowledge, TestIndex, TestKind};

/// Minutes to look up one fact.
const FACT_MINUTES: f64 = 0.5;

/// Costs of the tests that apply, in the order given. A calculation costs what its readings and facts cost.
#[must_use]
pub fn test_costs(knowledge: &Knowledge, equipment: EquipmentIndex, order: &[TestIndex]) -> Vec<TestCost> {
    let equipment = &knowledge.equipment[equipment];
    order
        .iter()
        .filter(|test| knowledge.tests[**test].applies_to(equipment))
        .map(|index| {
            let test = &knowledge.tests[*index];
            let mut cost = TestCost {
                test: *index,
                minutes: test.minutes,
                charge: hazard_charge(test.hazard),
                state: test.state,
                first: test.safety && order.first() == Some(index),
            };
            if let TestKind::Calculation { inputs, .. } = &test.kind {
                for input in inputs.values() {
                    match input {
                        InputFrom::Fact(_) => cost.minutes += FACT_MINUTES,
                        InputFrom::Reading(reading) => {
                            let reading = &knowledge.tests[*reading];
                            cost.minutes += reading.minutes;
                            cost.charge = cost.charge.max(hazard_charge(reading.hazard));
                            cost.state = cost.state.max(reading.state);
                        }
                        InputFrom::Fixed(_) => {}
                    }
                }
            }
            cost
        })
        .collect()
}
