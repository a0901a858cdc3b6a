//! What is told of an entry of each sort: its keys, and what the author wrote behind them.

use crate::knowledge::fields::Key;
use crate::knowledge::fields::keys::{
    accessory, cause, equipment, fact, hold, outcome, requirement, test, tree,
};
use crate::knowledge::lookup::Named;
use crate::knowledge::model::{
    Accessory, Cause, Effect, Equipment, Fact, Family, Fit, Hold, InputFrom, Knowledge, Outcome, Requirement,
    Test, TestKind, Tree,
};
use crate::knowledge::prose::{OF_CAUSE, OF_EQUIPMENT, OF_FACT, OF_TEST, Worded};
use crate::knowledge::saying::commonness;
use crate::quantity::Word;

use super::pieces::{ids, looked_up, texts};
use super::{Change, Sort};

/// A key whose value decides something, with what is written behind it.
type Setting<T> = (Key, fn(&Knowledge, &T) -> String);

/// What is told of one sort of entry.
pub(super) struct Told<T: 'static> {
    pub(super) sort: Sort,
    pub(super) list: fn(&Knowledge) -> &[T],
    settings: &'static [Setting<T>],
    words: &'static [Worded<T>],
    /// Whether other words than these differ.
    is_reworded: fn(&T, &T) -> bool,
}

impl<T: Named> Told<T> {
    /// Tells what differs between two entries of one id.
    pub(super) fn differences(
        &self,
        (before, old): (&Knowledge, &T),
        (after, new): (&Knowledge, &T),
        changes: &mut Vec<Change>,
    ) {
        self.settings_of(new.id(), (before, old), (after, new), changes);
        let is_reworded = self.words.iter().any(|(_, text)| text(old) != text(new));
        if is_reworded || (self.is_reworded)(old, new) {
            changes.push(Change::Reworded {
                sort: self.sort,
                id: new.id().to_owned(),
            });
        }
    }

    /// Tells which settings differ.
    pub(super) fn settings_of(
        &self,
        id: &str,
        (before, old): (&Knowledge, &T),
        (after, new): (&Knowledge, &T),
        changes: &mut Vec<Change>,
    ) {
        for (key, value) in self.settings {
            let (from, to) = (value(before, old), value(after, new));
            if from != to {
                changes.push(Change::Setting {
                    sort: self.sort,
                    id: id.to_owned(),
                    key: key.name,
                    from,
                    to,
                });
            }
        }
    }
}

pub(super) const EQUIPMENT: Told<Equipment> = Told {
    sort: Sort::Equipment,
    list: |all| &all.equipment,
    // Accessories that can be fitted are among the parts; they are told with the accessories.
    settings: &[(equipment::PARTS, |_, kind| {
        let own = kind.parts.iter().filter(|part| !kind.accessories.contains(part));
        own.map(String::as_str).collect::<Vec<_>>().join(", ")
    })],
    words: OF_EQUIPMENT,
    is_reworded: |_, _| false,
};

pub(super) const ACCESSORY: Told<Accessory> = Told {
    sort: Sort::Accessory,
    list: |all| &all.accessories,
    settings: &[(accessory::PARTS, |_, accessory| accessory.parts.join(", "))],
    words: &[(accessory::NAME, |accessory| &accessory.name)],
    is_reworded: |_, _| false,
};

pub(super) const FACT: Told<Fact> = Told {
    sort: Sort::Fact,
    list: |all| &all.facts,
    settings: &[
        (fact::PARTS, |_, fact| fact.parts.join(", ")),
        (fact::KIND, |_, fact| fact.kind.wanted()),
        (fact::RANGE, |_, fact| {
            let range = fact
                .range
                .map(|(low, high)| format!("{low} to {high} in base units"));
            range.unwrap_or_default()
        }),
        (fact::UNIT, |_, fact| fact.unit.clone()),
        (fact::OF_THE_TROUBLE, |_, fact| fact.of_the_trouble.to_string()),
    ],
    words: OF_FACT,
    is_reworded: |old, new| old.choices != new.choices,
};

pub(super) const REQUIREMENT: Told<Requirement> = Told {
    sort: Sort::Requirement,
    list: |all| &all.requirements,
    settings: &[
        (requirement::PARTS, |_, one| one.parts.join(", ")),
        (requirement::JOB, |_, one| one.job.word().to_owned()),
        (requirement::CALCULATION, |_, one| one.calculation.clone()),
        (requirement::INPUTS, |knowledge, one| {
            inputs(knowledge, &one.inputs)
        }),
    ],
    words: &[
        (requirement::NAME, |one| &one.name),
        (requirement::SAYS, |one| &one.says),
    ],
    is_reworded: |_, _| false,
};

pub(super) const HOLD: Told<Hold> = Told {
    sort: Sort::Hold,
    list: |all| &all.holds,
    settings: &[
        (hold::STOPS, |_, hold| {
            let states: Vec<&str> = hold.stops.iter().map(|state| state.word()).collect();
            states.join(", ")
        }),
        (hold::STOPS_TESTS, |knowledge, hold| {
            ids(&knowledge.tests, &hold.stops_tests)
        }),
        (hold::CLEARED_BY, |knowledge, hold| {
            let proofs = hold.cleared_by.iter().map(|(test, outcomes)| {
                let test = &knowledge.tests[*test];
                let outcomes = outcomes.iter().map(|outcome| test.outcomes[*outcome].id.as_str());
                format!("{} {}", test.id, outcomes.collect::<Vec<_>>().join(" or "))
            });
            proofs.collect::<Vec<_>>().join(", ")
        }),
        (hold::FROM_START, |_, hold| hold.from_start.to_string()),
        (hold::EACH_VISIT, |_, hold| hold.each_visit.to_string()),
        (hold::PROVED_ANEW, |_, hold| hold.proved_anew.to_string()),
        (hold::LATER, |_, hold| hold.later.to_string()),
        (hold::OF_THE_WORK, |_, hold| hold.of_the_work.to_string()),
        (hold::CALLS_HEAT, |_, hold| hold.calls_heat.to_string()),
        (hold::NOTED, |_, hold| hold.noted.to_string()),
        (hold::PARTS, |_, hold| hold.fit.parts.join(", ")),
        (hold::WITHOUT, |_, hold| hold.fit.without.join(", ")),
        (hold::CALL, |_, hold| {
            let ends = hold.call.is_some();
            if ends { "ends the walk" } else { "goes on" }.to_owned()
        }),
    ],
    words: &[(hold::NAME, |hold| &hold.name), (hold::SAYS, |hold| &hold.says)],
    is_reworded: |old, new| {
        (&old.call, &old.unlooked) != (&new.call, &new.unlooked) || texts(&old.source) != texts(&new.source)
    },
};

/// What its states say is told by state.
pub(super) const EFFECT: Told<Effect> = Told {
    sort: Sort::Effect,
    list: |all| &all.effects,
    settings: &[],
    words: &[],
    is_reworded: |_, _| false,
};

pub(super) const FAMILY: Told<Family> = Told {
    sort: Sort::Family,
    list: |all| &all.families,
    settings: &[],
    words: &[],
    is_reworded: |_, _| false,
};

pub(super) const CAUSE: Told<Cause> = Told {
    sort: Sort::Cause,
    list: |all| &all.causes,
    settings: &[
        (cause::PARTS, |_, cause| cause.parts.join(", ")),
        (cause::PLACE, |_, cause| cause.place.word().to_owned()),
        (cause::REQUIRES, |knowledge, cause| {
            ids(&knowledge.requirements, &cause.requires)
        }),
        (cause::WHY_FIRST, |knowledge, cause| {
            ids(&knowledge.tests, &cause.why_first)
        }),
        (cause::JOB, |_, cause| cause.job.word().to_owned()),
        (LOOKED_UP, |_, cause| looked_up(&cause.source)),
        (cause::BASE, |_, cause| {
            cause.base.as_ref().map(commonness).unwrap_or_default()
        }),
        (cause::FAMILY, |knowledge, cause| {
            ids(&knowledge.families, cause.family.as_slice())
        }),
        (cause::REPAIR_MINUTES, |_, cause| number(cause.repair_minutes)),
        (cause::FORMERLY, |_, cause| cause.formerly.join(", ")),
    ],
    words: OF_CAUSE,
    is_reworded: |old, new| old.prevent != new.prevent || texts(&old.source) != texts(&new.source),
};

pub(super) const TEST: Told<Test> = Told {
    sort: Sort::Test,
    list: |all| &all.tests,
    settings: &[
        (test::PARTS, |_, test| test.parts.join(", ")),
        (test::STATE, |_, test| test.state.word().to_owned()),
        (test::HAZARD, |_, test| test.hazard.word().to_owned()),
        (test::JOB, |_, test| {
            test.job.map(Word::word).unwrap_or_default().to_owned()
        }),
        (test::MINUTES, |_, test| test.minutes.to_string()),
        (test::SAFETY, |_, test| test.safety.to_string()),
        (test::FROM_START, |_, test| test.from_start.to_string()),
        (test::WHILE_IT_FAILS, |_, test| test.while_it_fails.to_string()),
        (test::SEVERAL, |_, test| test.several.to_string()),
        (test::TRIED_IN_VAIN, |_, test| test.tried_in_vain.to_string()),
        (test::CALLS_HEAT, |_, test| test.calls_heat.to_string()),
        (test::KIND, kind),
        (test::STAND_IN, |knowledge, test| {
            ids(&knowledge.tests, &test.stand_in)
        }),
        (test::COMPLAINTS, |knowledge, test| {
            ids(&knowledge.trees, &test.complaints)
        }),
        (test::OUTCOMES_OF, |knowledge, test| {
            ids(&knowledge.tests, test.outcomes_of.as_slice())
        }),
        (test::AT_ONCE, |knowledge, test| {
            let answers = test.at_once.iter().map(|(other, outcome)| {
                let other = &knowledge.tests[*other];
                format!("{} {}", other.id, other.outcomes[*outcome].id)
            });
            answers.collect::<Vec<_>>().join(", ")
        }),
        (test::SURENESS, |_, test| number(test.sureness)),
        (test::NEEDS, |knowledge, test| ids(&knowledge.facts, &test.needs)),
        (LOOKED_UP, |_, test| looked_up(&test.source)),
    ],
    words: OF_TEST,
    is_reworded: |old, new| {
        (&old.how, &old.words, &old.caution, &old.instrument)
            != (&new.how, &new.words, &new.caution, &new.instrument)
            || probes(old) != probes(new)
            || texts(&old.source) != texts(&new.source)
            || labels(old) != labels(new)
    },
};

pub(super) const OUTCOME: Told<Outcome> = Told {
    sort: Sort::Outcome,
    // They stand within their test, and are told with it.
    list: |_| &[],
    settings: &[
        (outcome::RAISES, |knowledge, outcome| {
            ids(&knowledge.holds, &outcome.raises)
        }),
        (outcome::UNHELD, |_, outcome| {
            outcome.unheld.clone().unwrap_or_default()
        }),
        (outcome::SAYS_NOTHING, |_, outcome| {
            outcome.says_nothing.to_string()
        }),
    ],
    words: &[],
    is_reworded: |_, _| false,
};

pub(super) const TREE: Told<Tree> = Told {
    sort: Sort::Tree,
    list: |all| &all.trees,
    settings: &[
        (tree::PARTS, |_, tree| tree.fit.parts.join(", ")),
        (tree::WITHOUT, |_, tree| tree.fit.without.join(", ")),
        (tree::RANK, |_, tree| tree.rank.to_string()),
        (tree::REQUIRES, |knowledge, tree| {
            ids(&knowledge.requirements, &tree.requires)
        }),
        (tree::IN_ORDER, |_, tree| tree.in_order.to_string()),
        (tree::RAISES, |knowledge, tree| {
            ids(&knowledge.holds, &tree.raises)
        }),
    ],
    words: &[],
    is_reworded: |old, new| (&old.complaint, &old.words) != (&new.complaint, &new.words),
};

/// What looking up the sources showed, told apart from their words.
const LOOKED_UP: Key = crate::knowledge::fields::keys::source::LOOKED_UP;

fn number(number: Option<f64>) -> String {
    number.map(|number| number.to_string()).unwrap_or_default()
}

/// What a person reads of the outcomes, and of which equipment.
fn labels(test: &Test) -> Vec<(&str, &Option<crate::knowledge::model::Defect>, &Fit)> {
    let outcomes = test.outcomes.iter();
    outcomes
        .map(|outcome| (outcome.label.as_str(), &outcome.defect, &outcome.fit))
        .collect()
}

fn probes(test: &Test) -> &str {
    match &test.kind {
        TestKind::Reading { probes, .. } => probes,
        _ => "",
    }
}

/// What makes the outcome: the sort of test, with the unit and range or the calculation and its inputs.
fn kind(knowledge: &Knowledge, test: &Test) -> String {
    match &test.kind {
        TestKind::Look => "look".to_owned(),
        TestKind::Reading { symbol, range, .. } => {
            format!("reading in {symbol}, {} to {} in base units", range.0, range.1)
        }
        TestKind::Calculation {
            calculation,
            inputs: taken,
        } => {
            format!("calculation {calculation} of {}", inputs(knowledge, taken))
        }
    }
}

/// Where the inputs of a calculation come from, as written in the files.
fn inputs(knowledge: &Knowledge, inputs: &indexmap::IndexMap<String, InputFrom>) -> String {
    let texts = inputs.iter().map(|(input, from)| {
        let from = match from {
            InputFrom::Fact(fact) => format!("fact:{}", knowledge.facts[*fact].id),
            InputFrom::Reading(test) => format!("test:{}", knowledge.tests[*test].id),
            InputFrom::Fixed(value) => format!("fixed:{value}"),
        };
        format!("{input} = {from}")
    });
    texts.collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    /// Every key of a table is told by the settings, by the words, or by hand.
    fn assert_told<T>(keys: &[Key], told: &Told<T>, by_hand: &[&'static str]) {
        let settings = told.settings.iter().map(|(key, _)| key.name);
        let words = told.words.iter().map(|(key, _)| key.name);
        let told: BTreeSet<&str> = settings
            .chain(words)
            .chain(by_hand.iter().copied())
            .filter(|name| *name != LOOKED_UP.name)
            .collect();
        let known: BTreeSet<&str> = keys.iter().map(|key| key.name).collect();
        assert_eq!(told, known);
    }

    #[test]
    fn every_key_is_told_when_it_changes() {
        assert_told(equipment::KEYS, &EQUIPMENT, &[]);
        assert_told(accessory::KEYS, &ACCESSORY, &[]);
        assert_told(fact::KEYS, &FACT, &["choices"]);
        assert_told(requirement::KEYS, &REQUIREMENT, &[]);
        assert_told(hold::KEYS, &HOLD, &["unlooked", "source"]);
        assert_told(
            cause::KEYS,
            &CAUSE,
            // What it exposes to is in its caution.
            &["does", "exposes", "prevent", "source"],
        );
        assert_told(
            test::KEYS,
            &TEST,
            &[
                // Told with the kind.
                "calculation",
                "inputs",
                "unit",
                "range",
                "how",
                "words",
                "caution",
                "exposes",
                "instrument",
                "probes",
                "source",
                "outcome",
            ],
        );
        assert_told(
            outcome::KEYS,
            &OUTCOME,
            &[
                "id",
                "below",
                "above",
                "of",
                "of-reading",
                "label",
                "usual",
                "shows",
                "finds",
                "parts",
                "without",
                "defect",
            ],
        );
        assert_told(tree::KEYS, &TREE, &["complaint", "words", "start"]);
    }
}
