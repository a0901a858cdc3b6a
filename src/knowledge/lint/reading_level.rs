//! Questions a tired person has to read twice.

use crate::knowledge::fields::keys::test::ASK;
use crate::knowledge::finding::Code;
use crate::knowledge::readability::measure;

use super::scope::Scope;

/// Words of one sentence. Plain-language guidance asks for about 20 on average; this is the most for any.
/// Common practice, no source.
const MOST_WORDS: usize = 25;

/// Highest Flesch-Kincaid grade of a question: the ninth school year, trade terms apart. Our choice, no source.
const HIGHEST_GRADE: f64 = 9.0;

/// Below this many words the grade hangs on a single long word and says nothing about the question.
const FEWEST_WORDS: usize = 8;

/// Beginnings of words the reader uses every day, and for which a shorter one would be worse.
const TRADE_TERMS: &[&str] = &[
    "accessor",
    "aluminum",
    "ampacit",
    "amper",
    "armature",
    "capacitor",
    "code",
    "compressor",
    "condensate",
    "conductor",
    "connector",
    "contactor",
    "current-carrying",
    "dehumidifier",
    "disconnect",
    "electric",
    "energiz",
    "evaporator",
    "generator",
    "humidifier",
    "igniter",
    "insulat",
    "inverter",
    "locked-rotor",
    "microamp",
    "microfarad",
    "milliamp",
    "millivolt",
    "motor",
    "nameplate",
    "neutral",
    "ohmmeter",
    "primary",
    "protector",
    "receptacle",
    "rectifier",
    "refrigerant",
    "resistance",
    "secondary",
    "sequencer",
    "subcooling",
    "superheat",
    "temperature",
    "terminal",
    "thermostat",
    "transfer",
    "transformer",
    "utility",
    "voltage",
];

fn is_trade_term(word: &str) -> bool {
    TRADE_TERMS.iter().any(|term| word.starts_with(term))
}

pub(super) fn check(scope: &Scope<'_>) {
    for (section, id, ask) in scope.questions() {
        let reading = measure(ask, is_trade_term);
        let message = if reading.longest_sentence > MOST_WORDS {
            format!(
                "the question has a sentence of {} words, expected at most {MOST_WORDS}",
                reading.longest_sentence
            )
        } else if reading.words >= FEWEST_WORDS && reading.grade > HIGHEST_GRADE {
            format!(
                "the question reads like school year {:.1}, expected at most {HIGHEST_GRADE:.0}",
                reading.grade
            )
        } else {
            continue;
        };
        scope.sink.warning(
            Code::HardToRead,
            scope.documents.key(section, id, ASK),
            message,
            "use shorter words and sentences; move the rest to `how`, `why` or `find`",
        );
    }
}

#[cfg(test)]
mod tests {
    use super::is_trade_term;

    #[test]
    fn forms_of_a_trade_term_are_known_too() {
        assert!(is_trade_term("capacitor's") && is_trade_term("terminals") && is_trade_term("energized"));
        assert!(!is_trade_term("simultaneously"));
    }
}
