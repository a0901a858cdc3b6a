//! States that are untrue: a test said to be told, or made in any state or locked out, whose words switch, start or
//! light something.
//!
//! The rule reads words, so it sees only what is written: what it cannot see is left to the reader of the test.

use crate::knowledge::document::Section;
use crate::knowledge::fields::keys::test as keys;
use crate::knowledge::finding::Code;
use crate::knowledge::model::{State, Test, TestKind};

use super::scope::Scope;

/// Words that bring power or flame on now.
const TRIES: &[&str] = &[
    "switch it on",
    "switch the unit on",
    "switch the power on",
    "switch power on",
    "switched on for",
    "turn it on",
    "turn the unit on",
    "turn power on",
    "power it up",
    "call for heat",
    "call for cooling",
    "call for the",
    "make a call",
    "start a call",
    "with a call on",
    "with the call on",
    "let it run",
    "let the unit run",
    "run it for",
    "run the unit",
    "while it runs",
    "while the unit runs",
    "with it running",
    "with the unit running",
    "unit running",
    "compressor running",
    "blower running",
    "start it",
    "start the unit",
    "press reset",
    "press the reset",
    "push reset",
    "push the reset",
    "close the breaker",
    "close it once",
    "light the pilot",
    "pilot held lit",
    "hold the pilot",
    "try for flame",
    "while it burns",
    "on a call:",
    "a call made",
    "minutes into",
    "does it run again",
    "hold the same load",
    "run the same load",
    "trial for ignition:",
    "watch one trial",
    "light the burner",
    "light it and",
    "the fan switch to on",
    "fan to on",
    "current rise once",
    "with the burner on",
];

/// Words before one of these, in the same sentence, that turn it round: it is told, forbidden, or comes after the test.
const TURNED: &[&str] = &[
    "not ",
    "never ",
    "no ",
    "nothing ",
    "before ",
    "until ",
    "without ",
    "told",
    "later",
    "after the look",
];

pub(super) fn check(scope: &Scope<'_>) {
    for test in &scope.knowledge.tests {
        if test.state.is_powered() || matches!(test.kind, TestKind::Calculation { .. }) {
            continue;
        }
        let Some(words) = tries(test) else { continue };
        scope.sink.error(
            Code::UntrueState,
            scope.documents.key(Section::Test, &test.id, keys::STATE),
            format!("test `{}` says `{words}`, and its state says nothing is on for it", test.id),
            "make it `running`, `energised` or `firing`; or ask only what is remembered (`told`), and try it in a test of \
             its own with `outcomes-of`",
        );
    }
}

/// The words of a test that bring something on. What is told may speak of it in the question; the steps may not.
fn tries(test: &Test) -> Option<&'static str> {
    let ask = (test.state != State::Told).then_some(&test.ask);
    ask.into_iter().chain(&test.how).find_map(|text| {
        let text = text.to_lowercase();
        text.split(['.', ';', '!'])
            .find_map(|sentence| TRIES.iter().find(|tries| is_said(sentence, tries)).copied())
    })
}

fn is_said(sentence: &str, words: &str) -> bool {
    sentence
        .find(words)
        .is_some_and(|at| !TURNED.iter().any(|turned| sentence[..at].contains(turned)))
}

#[cfg(test)]
mod tests {
    use super::is_said;

    #[test]
    fn what_is_forbidden_or_told_is_no_try() {
        assert!(is_said("then call for heat and look", "call for heat"));
        assert!(!is_said("do not call for heat", "call for heat"));
        assert!(!is_said(
            "told, not tried: did it start when someone let it run",
            "let it run"
        ));
    }
}
