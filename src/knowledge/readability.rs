//! How hard a text is to read, by a published measure.
//!
//! *Formula* Flesch-Kincaid grade = 0.39 x words per sentence + 11.8 x syllables per word - 15.59; the result is the
//! school year in which the text is understood.
//!
//! *Source* J. P. Kincaid, R. P. Fishburne, R. L. Rogers, B. S. Chissom, "Derivation of new readability formulas
//! (Automated Readability Index, Fog Count and Flesch Reading Ease Formula) for Navy enlisted personnel", Research
//! Branch Report 8-75, Naval Technical Training, Memphis, 1975.
//!
//! *Limits* Syllables are counted by groups of vowels, silent endings left out; for single words the count may be one
//! off. The measure was made for whole pages: on a short question it tells long words and sentences from short
//! ones, no more.

/// Counts of one text.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// Words in its longest sentence.
    pub longest_sentence: usize,
    /// In all its sentences.
    pub words: usize,
    /// The Flesch-Kincaid grade; 0 for a text without words.
    pub grade: f64,
}

/// Syllables a trade term counts for, however long it is: a word its reader says every day.
const TRADE_TERM_SYLLABLES: usize = 2;

/// Measures a text. Words for which `is_trade_term` holds (given in lowercase) count as everyday words.
#[must_use]
pub fn measure(text: &str, is_trade_term: impl Fn(&str) -> bool) -> Reading {
    let sentences: Vec<Vec<String>> = sentences(text);
    let words: usize = sentences.iter().map(Vec::len).sum();
    if words == 0 {
        return Reading {
            longest_sentence: 0,
            words: 0,
            grade: 0.0,
        };
    }
    let syllables: usize = sentences
        .iter()
        .flatten()
        .map(|word| {
            let counted = syllables(word);
            if is_trade_term(word) {
                counted.min(TRADE_TERM_SYLLABLES)
            } else {
                counted
            }
        })
        .sum();
    let grade = 0.39 * words as f64 / sentences.len() as f64 + 11.8 * syllables as f64 / words as f64 - 15.59;
    Reading {
        longest_sentence: sentences.iter().map(Vec::len).max().unwrap_or(0),
        words,
        grade,
    }
}

/// The words of each sentence, in lowercase. A colon or semicolon ends a sentence too: a reader rests there.
fn sentences(text: &str) -> Vec<Vec<String>> {
    let mut sentences = vec![Vec::new()];
    for piece in text.split_whitespace() {
        let word: String = piece
            .chars()
            .filter(|c| c.is_alphanumeric() || matches!(c, '-' | '\'' | '\u{2019}'))
            .collect::<String>()
            .to_lowercase();
        if word.chars().any(char::is_alphanumeric)
            && let Some(last) = sentences.last_mut()
        {
            last.push(word);
        }
        let bare = piece.trim_end_matches(['"', ')']);
        if bare.ends_with(['.', '?', '!', ':', ';']) {
            sentences.push(Vec::new());
        }
    }
    sentences.retain(|sentence| !sentence.is_empty());
    sentences
}

/// Syllables of one word in lowercase, at least 1; the parts of a hyphenated one are added up. A figure counts as one.
fn syllables(word: &str) -> usize {
    word.split('-').map(syllables_of_part).sum::<usize>().max(1)
}

fn syllables_of_part(word: &str) -> usize {
    let letters: Vec<char> = word.chars().filter(char::is_ascii_alphabetic).collect();
    if letters.is_empty() {
        return usize::from(!word.is_empty());
    }
    let is_vowel = |letter: char| matches!(letter, 'a' | 'e' | 'i' | 'o' | 'u' | 'y');
    let mut groups = 0;
    let mut before = false;
    for letter in &letters {
        let vowel = is_vowel(*letter);
        if vowel && !before {
            groups += 1;
        }
        before = vowel;
    }
    let text: String = letters.iter().collect();
    let third_last = letters.len().checked_sub(3).map(|at| letters[at]);
    let silent = if text.ends_with('e') {
        // "cable" keeps its last syllable, "three" has its vowel counted once.
        let before = letters.len().checked_sub(2).map(|at| letters[at]);
        !(before == Some('l') && third_last.is_some_and(|letter| !is_vowel(letter)))
            && before.is_none_or(|letter| !is_vowel(letter))
    } else if text.ends_with("ed") {
        third_last.is_some_and(|letter| !matches!(letter, 't' | 'd') && !is_vowel(letter))
    } else if text.ends_with("es") {
        third_last
            .is_some_and(|letter| !matches!(letter, 's' | 'x' | 'z' | 'h' | 'c' | 'g') && !is_vowel(letter))
    } else {
        false
    };
    (groups - usize::from(silent && groups > 1)).max(1)
}

#[cfg(test)]
mod tests {
    use super::{measure, syllables};

    /// Published example: 13 words and 24 syllables give 11.3. Source: "Flesch-Kincaid readability tests",
    /// <https://en.wikipedia.org/wiki/Flesch-Kincaid_readability_tests>.
    #[test]
    fn published_sentence_has_its_published_grade() {
        let text = "The Australian platypus is seemingly a hybrid of a mammal and reptilian creature.";
        let reading = measure(text, |_| false);
        assert_eq!(reading.words, 13);
        assert!((reading.grade - 11.3).abs() < 0.05, "{reading:?}");
        let by_hand = 0.39 * 13.0 + 11.8 * 24.0 / 13.0 - 15.59;
        assert!((by_hand - 11.3_f64).abs() < 0.05);
    }

    /// Syllables as a dictionary parts the words.
    #[test]
    fn syllables_of_words_of_the_trade() {
        for (word, count) in [
            ("breaker", 2),
            ("voltage", 2),
            ("wires", 1),
            ("fuses", 2),
            ("cable", 2),
            ("three", 1),
            ("opened", 2),
            ("burnt", 1),
            ("heated", 2),
            ("disconnect", 3),
            ("compressor", 3),
            ("temperature", 4),
            ("run", 1),
            ("rated-load", 3),
            ("24", 1),
            ("edge", 1),
            ("since", 1),
        ] {
            assert_eq!(syllables(word), count, "{word}");
        }
    }

    #[test]
    fn sentences_end_where_a_reader_rests() {
        let reading = measure("Running: does the fan turn? And the right way too?", |_| false);
        assert_eq!((reading.words, reading.longest_sentence), (10, 5));
        assert_eq!(measure("", |_| false).words, 0);
    }

    #[test]
    fn trade_terms_count_as_everyday_words() {
        let with = measure("Is the transformer hot?", |word| word == "transformer");
        let without = measure("Is the transformer hot?", |_| false);
        assert!(with.grade < without.grade);
    }
}
