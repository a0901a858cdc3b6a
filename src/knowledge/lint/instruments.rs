//! Special instruments without an ordinary way beside them.

use crate::knowledge::document::Section;
use crate::knowledge::fields::keys::test as keys;
use crate::knowledge::finding::{Code, Finding};
use crate::knowledge::model::{EffectIndex, Test, TestIndex};

use super::scope::Scope;

/// Instruments a technician may well not have in the van. An ordinary multimeter with a clamp, thermometer and gauges
/// are taken as there. Common practice, no source.
const SPECIAL: &[&str] = &[
    "insulation tester",
    "megohm",
    "infrared camera",
    "thermal imager",
    "capacitance meter",
    "recording voltmeter",
    "recording clamp",
    "recording meter",
    "recorder",
    "logger",
    "phase meter",
    "phase-rotation meter",
    "phase rotation meter",
    "phase-sequence",
    "phase sequence",
    "leakage clamp",
    "milliamp clamp",
    "milliohm meter",
    "inrush",
    "oscilloscope",
    "power analyzer",
    "power-quality analyzer",
    "ground-resistance tester",
];

/// Words that say it does without: "ohmmeter, insulation tester if there is one".
const OPTIONAL: &[&str] = &[
    "if there is one",
    "is better",
    "or ohmmeter",
    "or meter",
    "or a meter",
    "or logger",
];

pub(super) fn check(scope: &Scope<'_>) {
    for (index, test) in scope.knowledge.tests.iter().enumerate() {
        let Some(special) = special(&test.instrument) else {
            continue;
        };
        let place = scope.documents.key(Section::Test, &test.id, keys::INSTRUMENT);
        let needs_one_too = test
            .stand_in
            .iter()
            .find(|other| self::special(&scope.knowledge.tests[**other].instrument).is_some());
        if let Some(stand_in) = needs_one_too {
            scope.sink.push(
                Finding::warning(
                    Code::SpecialInstrument,
                    scope.documents.key(Section::Test, &test.id, keys::STAND_IN),
                    format!(
                        "`{}` needs a special instrument itself",
                        scope.knowledge.tests[*stand_in].id
                    ),
                    "name a test an ordinary meter, eyes or ears can make",
                )
                .also(place, "instead of this"),
            );
            continue;
        }
        let beside = ordinary_beside(scope, test);
        if beside.is_empty() {
            scope.sink.warning(
                Code::SpecialInstrument,
                place,
                format!("`{}` needs a special instrument ({special}), and no test stands beside it", test.id),
                "name in `stand-in` the test an ordinary meter, eyes or ears can make, or let both show one effect",
            );
            continue;
        }
        for (complaint, reached) in &scope.reached {
            let asked = reached.tests(scope.knowledge);
            if asked.contains(&TestIndex(index)) && !beside.iter().any(|other| asked.contains(other)) {
                scope.sink.warning(
                    Code::SpecialInstrument,
                    place,
                    format!(
                        "`{}` asks `{}` with a special instrument ({special}), and none of the tests beside it",
                        scope.knowledge.trees[*complaint].id, test.id
                    ),
                    format!(
                        "put `{}` into a pool of that tree too",
                        scope.knowledge.tests[beside[0]].id
                    ),
                );
                // Said once for a test; the others are seen once this is fixed.
                break;
            }
        }
    }
}

/// The special instrument a test cannot do without.
fn special(instrument: &str) -> Option<&'static str> {
    let text = instrument.to_lowercase();
    if OPTIONAL.iter().any(|words| text.contains(words)) {
        return None;
    }
    SPECIAL.iter().copied().find(|words| text.contains(words))
}

/// Tests without a special instrument that stand in for it, by declaration or because they show the same effect, on
/// some equipment both apply to.
fn ordinary_beside(scope: &Scope<'_>, test: &Test) -> Vec<TestIndex> {
    let shares_equipment = |other: &Test| {
        scope
            .knowledge
            .equipment
            .iter()
            .any(|equipment| test.applies_to(equipment) && other.applies_to(equipment))
    };
    let own: Vec<EffectIndex> = test.effects().collect();
    let alike = scope
        .knowledge
        .tests
        .iter()
        .enumerate()
        .filter(|(_, other)| {
            other.id != test.id
                && other.effects().any(|effect| own.contains(&effect))
                && special(&other.instrument).is_none()
                && shares_equipment(other)
        })
        .map(|(index, _)| TestIndex(index));
    test.stand_in.iter().copied().chain(alike).collect()
}

#[cfg(test)]
mod tests {
    use super::special;

    #[test]
    fn an_instrument_that_may_be_left_out_is_not_special() {
        assert_eq!(special("Insulation tester, 500 V"), Some("insulation tester"));
        assert_eq!(special("ohmmeter, insulation tester if there is one"), None);
        assert_eq!(special("true-RMS clamp meter, CAT III"), None);
    }
}
