//! Finds a test or a cause by words, for a technician who has seen something and wants to say so.

use super::model::{Cause, CauseIndex, Knowledge, OutcomeIndex, Test, TestIndex, TestKind};

/// Tests whose words fit a query, the best first; empty when no word of the query is met.
///
/// Words count by where they stand: name and search words most, then outcomes, then the question. A test that
/// meets more of the query's words stands before one that meets fewer. Beginnings of words count, so `melt` finds
/// "melted"; case and hyphens do not.
#[must_use]
pub fn tests(knowledge: &Knowledge, query: &str) -> Vec<TestIndex> {
    ranked(query, knowledge.tests.iter().map(fields))
        .into_iter()
        .map(TestIndex)
        .collect()
}

/// Causes whose words fit a query, the best first, likewise: the name counts most, then the id, then how it does what it does.
#[must_use]
pub fn causes(knowledge: &Knowledge, query: &str) -> Vec<CauseIndex> {
    ranked(query, knowledge.causes.iter().map(fields_of_cause))
        .into_iter()
        .map(CauseIndex)
        .collect()
}

/// Places of the entries whose words fit a query, the best first.
fn ranked(query: &str, entries: impl Iterator<Item = Vec<(u32, Vec<String>)>>) -> Vec<usize> {
    let wanted: Vec<String> = words(query).filter(|word| !is_filler(word)).collect();
    if wanted.is_empty() {
        return Vec::new();
    }
    let mut ranked: Vec<(usize, u32, usize)> = Vec::new();
    for (place, fields) in entries.enumerate() {
        let scores: Vec<u32> = wanted
            .iter()
            .map(|word| best(word, &fields))
            .filter(|score| *score > 0)
            .collect();
        if !scores.is_empty() {
            ranked.push((scores.len(), scores.iter().sum(), place));
        }
    }
    ranked.sort_by(|a, b| (b.0, b.1).cmp(&(a.0, a.1)).then(a.2.cmp(&b.2)));
    ranked.into_iter().map(|(_, _, place)| place).collect()
}

fn fields_of_cause(cause: &Cause) -> Vec<(u32, Vec<String>)> {
    vec![
        (8, words(&cause.name).collect()),
        (6, words(&cause.id).collect()),
        (2, words(&cause.mechanism).collect()),
    ]
}

/// The outcome of a look that a query names: the one whose label, and no other as well, meets a word that the test's name does
/// not have.
#[must_use]
pub fn outcome(test: &Test, query: &str) -> Option<OutcomeIndex> {
    if !matches!(test.kind, TestKind::Look) {
        return None;
    }
    let name: Vec<String> = words(&test.name).collect();
    let wanted: Vec<String> = words(query)
        .filter(|word| !is_filler(word) && name.iter().all(|known| likeness(word, known) < 2))
        .collect();
    let score = |label: &str| -> u32 {
        let label: Vec<String> = words(label).collect();
        let met = |word: &String| label.iter().map(|known| likeness(word, known)).max().unwrap_or(0);
        wanted.iter().map(met).filter(|likeness| *likeness >= 2).sum()
    };
    let mut scores: Vec<(u32, usize)> = test
        .outcomes
        .iter()
        .enumerate()
        .map(|(place, outcome)| (score(&outcome.label), place))
        .collect();
    scores.sort_by_key(|(score, _)| std::cmp::Reverse(*score));
    match scores.as_slice() {
        [(best, place), (second, _), ..] if best > second => Some(OutcomeIndex(*place)),
        _ => None,
    }
}

/// The words of a test with the weight of where they stand.
fn fields(test: &Test) -> Vec<(u32, Vec<String>)> {
    let mut fields = vec![
        (8, words(&test.name).collect()),
        (8, test.words.iter().flat_map(|text| words(text)).collect()),
        (6, words(&test.id).collect()),
        (2, words(&test.ask).collect()),
    ];
    fields.extend(
        test.outcomes
            .iter()
            .map(|outcome| (5, words(&outcome.label).collect())),
    );
    fields.extend(
        test.outcomes
            .iter()
            .map(|outcome| (4, words(&outcome.id).collect())),
    );
    fields
}

fn best(wanted: &str, fields: &[(u32, Vec<String>)]) -> u32 {
    fields
        .iter()
        .flat_map(|(weight, words)| words.iter().map(move |word| weight * likeness(wanted, word)))
        .max()
        .unwrap_or(0)
}

/// 3 for the same word, 2 for a beginning or a shared stem, 1 for a slip of the finger, 0 otherwise.
fn likeness(wanted: &str, word: &str) -> u32 {
    /// Shorter beginnings fit too much.
    const SHORTEST: usize = 3;
    if wanted == word {
        return 3;
    }
    if wanted.len() >= SHORTEST && word.starts_with(wanted) {
        return 2;
    }
    if word.len() > SHORTEST && wanted.starts_with(word) {
        return 2;
    }
    if wanted.len() > 4 && word.len() > 4 && strsim::osa_distance(wanted, word) <= 1 {
        return 1;
    }
    0
}

fn words(text: &str) -> impl Iterator<Item = String> + '_ {
    text.split(|c: char| !c.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .map(str::to_lowercase)
}

fn is_filler(word: &str) -> bool {
    [
        "a", "an", "the", "is", "at", "on", "in", "of", "to", "and", "or", "it", "i", "was", "with",
    ]
    .contains(&word)
}

#[cfg(test)]
mod tests {
    use super::super::model::{Hazard, Knowledge, Outcome, State, Test, TestKind};

    fn test(id: &str, name: &str, words: &[&str], labels: &[&str]) -> Test {
        let outcome = |label: &&str| Outcome {
            id: label.to_lowercase().replace(' ', "-"),
            label: (*label).to_owned(),
            usual: 0.5,
            bound: None,
            shows: Vec::new(),
            finds: Vec::new(),
            says_nothing: false,
            defect: None,
            raises: Vec::new(),
            fit: Default::default(),
        };
        Test {
            id: id.to_owned(),
            name: name.to_owned(),
            ask: format!("What about it: {name}?"),
            why: String::new(),
            how: Vec::new(),
            words: words.iter().map(|word| (*word).to_owned()).collect(),
            kind: TestKind::Look,
            state: State::Any,
            hazard: Hazard::None,
            caution: String::new(),
            instrument: String::new(),
            minutes: 1.0,
            parts: Vec::new(),
            needs: Vec::new(),
            sureness: None,
            stand_in: Vec::new(),
            safety: false,
            outcomes_of: None,
            complaints: Vec::new(),
            outcomes: labels.iter().map(outcome).collect(),
            source: Vec::new(),
        }
    }

    fn found(query: &str) -> Vec<String> {
        let knowledge = Knowledge {
            accessories: Vec::new(),
            requirements: Vec::new(),
            holds: Vec::new(),
            equipment: Vec::new(),
            facts: Vec::new(),
            effects: Vec::new(),
            families: Vec::new(),
            causes: Vec::new(),
            tests: vec![
                test(
                    "lights-when-load-starts",
                    "Lights when a load starts",
                    &["flicker"],
                    &["Some brighten", "None"],
                ),
                test(
                    "disconnect-look",
                    "Disconnect: lugs and jaws",
                    &["pull-out"],
                    &["Melted lug", "Clean"],
                ),
                test(
                    "contactor-look",
                    "Contactor contacts",
                    &["pitted"],
                    &["Insects in it", "Clean"],
                ),
            ],
            trees: Vec::new(),
            fingerprint: String::new(),
        };
        super::tests(&knowledge, query)
            .into_iter()
            .map(|index| knowledge.tests[index.0].id.clone())
            .collect()
    }

    #[test]
    fn finds_by_name_word_and_outcome() {
        assert_eq!(found("contactor"), ["contactor-look"]);
        assert_eq!(found("flickering"), ["lights-when-load-starts"]);
        assert_eq!(found("ants or insects"), ["contactor-look"]);
    }

    #[test]
    fn takes_beginnings_case_hyphens_and_a_slip() {
        assert_eq!(found("MELT"), ["disconnect-look"]);
        assert_eq!(found("pullout pull"), ["disconnect-look"]);
        assert_eq!(found("conactor"), ["contactor-look"]);
    }

    #[test]
    fn more_words_met_stand_first() {
        assert_eq!(found("clean contactor")[0], "contactor-look");
        assert_eq!(found("clean lug")[0], "disconnect-look");
    }

    #[test]
    fn nothing_for_nothing_and_for_strangers() {
        assert!(found("").is_empty());
        assert!(found("the of and").is_empty());
        assert!(found("zebra").is_empty());
    }
}
