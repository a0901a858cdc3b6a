//! The letters beside every question, and what they mean.

use crate::walk::Question;

/// Said once the person only thinks so.
pub(super) const THINKS_SO: &str = "Pick what you think; it counts less.";

/// What is offered beside a question.
const OFFERS: [(char, &str); 10] = [
    ('x', "cannot check"),
    ('t', "think so, not sure"),
    ('?', "reason and steps"),
    ('b', "back"),
    ('n', "note"),
    ('v', "saw something else"),
    ('f', "facts"),
    ('c', "calculations"),
    ('r', "result so far"),
    ('s', "stop and keep"),
];

/// A letter with what it means.
pub(super) type Offer = (char, &'static str);

/// The letters that mean something at a question. Thinking so without being sure makes sense for what is seen only.
pub(super) fn offers(question: &Question) -> Vec<Offer> {
    OFFERS
        .into_iter()
        .filter(|(letter, _)| match question {
            Question::Complaint => matches!(letter, '?' | 'n' | 's'),
            Question::Equipment => matches!(letter, '?' | 'b' | 'n' | 's'),
            Question::Halt { .. } | Question::Finish => !matches!(letter, 'x' | 't' | '?'),
            Question::Test { .. } => true,
            _ => *letter != 't',
        })
        .map(|(letter, words)| match (letter, question) {
            ('x', Question::Caution { .. }) => (letter, "leave that test out"),
            ('x', Question::Fact { .. } | Question::Accessories) => (letter, "not known"),
            ('x', Question::Offer { .. } | Question::Able { .. }) => (letter, "none of these"),
            ('?', Question::Test { .. } | Question::Caution { .. }) => (letter, words),
            ('?', _) => (letter, "reason"),
            _ => (letter, words),
        })
        .collect()
}

/// What a letter means, where five lines of letters would leave no room for the answers.
pub(super) fn in_few_words(letter: char, words: &'static str) -> &'static str {
    match letter {
        't' => "not sure",
        '?' => "why",
        'v' => "saw other",
        'c' => "figures",
        'r' => "result",
        _ => words,
    }
}

/// Whether a typed line says what `b` says in a list; so does an empty one.
pub(super) fn is_back(typed: &str) -> bool {
    typed.is_empty() || typed.eq_ignore_ascii_case("b")
}
