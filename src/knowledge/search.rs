//! Finds a complaint, a test or a cause by words, for a technician who has seen something and wants to say so.

use super::model::{Cause, CauseIndex, Knowledge, NodeKind, OutcomeIndex, Test, TestIndex, TestKind, Tree};

/// Whether a text has every word of a query, in any order; capitals make no difference.
#[must_use]
pub fn has_all(text: &str, query: &str) -> bool {
    let text = text.to_lowercase();
    let query = query.to_lowercase();
    query.split_whitespace().all(|word| text.contains(word))
}

/// Complaints whose words fit a query, the best first; empty when no word of the query is met.
///
/// What a complaint is called counts most. What the tests of its own tree are called is a hint: it decides among complaints
/// that are called alike, and brings one up that no complaint is called by.
#[must_use]
pub fn complaints<'k>(knowledge: &'k Knowledge, query: &str) -> Vec<&'k Tree> {
    /// A complaint that fits less than this share of the best is left out: our choice, no source.
    const LEAST_SHARE: u32 = 3;
    /// What it counts that one phrase has another of the words, too: our choice, no source.
    const TOGETHER: u32 = 4;
    let said: Vec<String> = words(query).filter(|word| !is_filler(word)).collect();
    let wanted: Vec<&String> = said.iter().filter(|word| !is_empty_in_complaints(word)).collect();
    let mut ranked: Vec<(u32, &Tree)> = knowledge
        .complaints()
        .into_iter()
        .map(|(tree, complaint)| {
            let called = [(10, complaint)].into_iter();
            let called = called.chain(tree.words.iter().map(|text| (8, text.as_str())));
            let named: Vec<(u32, Vec<String>)> = called
                .chain([(6, tree.id.as_str())])
                .map(|(weight, text)| (weight, words(text).collect()))
                .collect();
            let hints = hints(knowledge, tree);
            let score = |word: &str| best(word, &named).max(best(word, &hints));
            let score: u32 = wanted.iter().map(|word| score(word)).sum();
            if score == 0 {
                return (0, tree);
            }
            (score + TOGETHER * met_together(&said, &named), tree)
        })
        .collect();
    let highest = ranked.iter().map(|(score, _)| *score).max().unwrap_or(0);
    ranked.retain(|(score, _)| *score > 0 && *score * LEAST_SHARE >= highest);
    // Those that fit alike stay in the order of the list.
    ranked.sort_by_key(|(score, _)| std::cmp::Reverse(*score));
    ranked.into_iter().map(|(_, tree)| tree).collect()
}

/// How many words besides the first one phrase has.
fn met_together(wanted: &[String], phrases: &[(u32, Vec<String>)]) -> u32 {
    let met = |phrase: &Vec<String>| -> usize {
        wanted
            .iter()
            .filter(|word| phrase.iter().any(|known| likeness(word, known) >= 2))
            .count()
    };
    let most = phrases.iter().map(|(_, phrase)| met(phrase)).max();
    most.map_or(0, |most| most.saturating_sub(1) as u32)
}

/// The words of the tests in a tree itself, as weak hints.
fn hints(knowledge: &Knowledge, tree: &Tree) -> Vec<(u32, Vec<String>)> {
    tree.nodes
        .iter()
        .filter_map(|node| match node.kind {
            NodeKind::Test { test, .. } => Some(&knowledge.tests[test]),
            _ => None,
        })
        .flat_map(|test| {
            let labels = test.outcomes.iter().map(|outcome| &outcome.label);
            [&test.name].into_iter().chain(&test.words).chain(labels)
        })
        .map(|text| (2, words(text).collect()))
        .collect()
}

/// Words of many complaints that tell none of them from another.
fn is_empty_in_complaints(word: &str) -> bool {
    [
        "no",
        "not",
        "for",
        "my",
        "when",
        "then",
        "does",
        "again",
        "t",
        "s",
        "won",
        // "comes back", never the start of "backup".
        "back",
        "unit",
        "system",
        "equipment",
    ]
    .contains(&word)
}

/// Tests whose words fit a query, the best first; empty when no word of the query is met.
///
/// Words count by where they stand: name and search words most, then the question, then outcomes. A test that meets more of
/// the query's words stands before one that meets fewer; in turn with these come those that meet the rarer words, so that the
/// one telling word of a whole sentence finds its test (inverse document frequency, Information Retrieval (1979), from memory). Beginnings of words count, so `melt` finds "melted"; case and hyphens do not.
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

/// Places of the labels that meet at least half of the words of a query, the best first.
#[must_use]
pub fn labels(labels: &[String], query: &str) -> Vec<usize> {
    let wanted: Vec<String> = wanted(query);
    let mut ranked: Vec<(usize, usize)> = labels
        .iter()
        .enumerate()
        .map(|(place, label)| (met(&wanted, label), place))
        .filter(|(met, _)| *met > 0 && met * 2 >= wanted.len())
        .collect();
    ranked.sort_by_key(|(met, place)| (std::cmp::Reverse(*met), *place));
    ranked.into_iter().map(|(_, place)| place).collect()
}

/// How many of the wanted words a label meets.
fn met(wanted: &[String], label: &str) -> usize {
    let label: Vec<String> = words(label).collect();
    let is_met = |word: &&String| label.iter().any(|known| likeness(word, known) >= 2);
    wanted.iter().filter(is_met).count()
}

/// The words of a query that can tell one thing from another.
fn wanted(query: &str) -> Vec<String> {
    words(query).filter(|word| !is_filler(word)).collect()
}

/// Places of the entries whose words fit a query, the best first.
fn ranked(query: &str, entries: impl Iterator<Item = Vec<(u32, Vec<String>)>>) -> Vec<usize> {
    let wanted = wanted(query);
    if wanted.is_empty() {
        return Vec::new();
    }
    let scores: Vec<Vec<u32>> = entries
        .map(|fields| wanted.iter().map(|word| best(word, &fields)).collect())
        .collect();
    let telling: Vec<f64> = (0..wanted.len())
        .map(|word| {
            let met = scores.iter().filter(|scores| scores[word] > 0).count();
            ((scores.len() + 1) as f64 / (met + 1) as f64).ln()
        })
        .collect();
    let met = |place: &usize| {
        let met = scores[*place].iter().filter(|score| **score > 0);
        (met.clone().count(), met.sum::<u32>())
    };
    let told = |place: &usize| -> f64 {
        let scores = scores[*place].iter().zip(&telling);
        scores.map(|(score, telling)| f64::from(*score) * telling).sum()
    };
    let mut by_count: Vec<usize> = (0..scores.len()).filter(|place| met(place).0 > 0).collect();
    let mut by_telling = by_count.clone();
    by_count.sort_by_key(|place| std::cmp::Reverse(met(place)));
    by_telling.sort_by(|a, b| told(b).total_cmp(&told(a)));
    let mut ranked = Vec::with_capacity(by_count.len());
    for place in by_count
        .into_iter()
        .zip(by_telling)
        .flat_map(|(one, other)| [one, other])
    {
        if !ranked.contains(&place) {
            ranked.push(place);
        }
    }
    ranked
}

fn fields_of_cause(cause: &Cause) -> Vec<(u32, Vec<String>)> {
    vec![
        (8, words(&cause.name).collect()),
        (6, words(&cause.id).collect()),
        (2, words(&cause.mechanism).collect()),
    ]
}

/// The outcome of a look that a query names: the one whose label, and no other as well, meets a third of the words that the
/// test's name does not have. One word of many can stand in a label that says the opposite.
#[must_use]
pub fn outcome(test: &Test, query: &str) -> Option<OutcomeIndex> {
    /// Of so many words one must be met: our choice, no source.
    const ONE_OF: usize = 3;
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
    let enough = |place: OutcomeIndex| met(&wanted, &test.outcomes[place].label) * ONE_OF >= wanted.len();
    let mut scores: Vec<(u32, OutcomeIndex)> = test
        .outcomes
        .indexed()
        // That there is nothing to tell is no sight that words could name.
        .filter(|(_, outcome)| !outcome.says_nothing || !outcome.raises.is_empty())
        .map(|(place, outcome)| (score(&outcome.label), place))
        .collect();
    scores.sort_by_key(|(score, _)| std::cmp::Reverse(*score));
    match scores.as_slice() {
        [(best, place), (second, _), ..] if best > second && enough(*place) => Some(*place),
        _ => None,
    }
}

/// The words of a test with the weight of where they stand.
fn fields(test: &Test) -> Vec<(u32, Vec<String>)> {
    let mut fields = vec![
        (8, words(&test.name).collect()),
        (8, test.words.iter().flat_map(|text| words(text)).collect()),
        (6, words(&test.id).collect()),
        (5, words(&test.ask).collect()),
    ];
    fields.extend(
        test.outcomes
            .iter()
            .map(|outcome| (4, words(&outcome.label).collect())),
    );
    fields.extend(
        test.outcomes
            .iter()
            .map(|outcome| (3, words(&outcome.id).collect())),
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
        "a", "an", "the", "is", "are", "be", "at", "on", "in", "of", "to", "and", "or", "it", "its",
        "itself", "i", "was", "with", "by", "some", "few", "that", "this", "there", "has", "have", "had",
        "so", "just", "very", "own",
    ]
    .contains(&word)
}

#[cfg(test)]
mod tests {
    use super::super::indexed::Indexed;
    use super::super::model::{Knowledge, Outcome, Test};

    fn test(id: &str, name: &str, words: &[&str], labels: &[&str]) -> Test {
        let outcome = |label: &&str| Outcome {
            id: label.to_lowercase().replace(' ', "-"),
            label: (*label).to_owned(),
            ..Outcome::default()
        };
        Test {
            id: id.to_owned(),
            name: name.to_owned(),
            ask: format!("What about it: {name}?"),
            words: words.iter().map(|word| (*word).to_owned()).collect(),
            outcomes: labels.iter().map(outcome).collect(),
            ..Test::blank()
        }
    }

    fn found(query: &str) -> Vec<String> {
        let knowledge = Knowledge {
            tests: Indexed::from(vec![
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
            ]),
            ..Knowledge::default()
        };
        super::tests(&knowledge, query)
            .into_iter()
            .map(|index| knowledge.tests[index].id.clone())
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
