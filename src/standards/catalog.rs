//! The calculations in groups, and finding them by the words of the trade.
//!
//! Finding looks at what a calculation says of itself (name, title, inputs, outputs), so that no list of search words
//! has to be kept beside it.

use super::calculation::Calculation;
pub use super::checks::GROUPS;
use super::registry;

/// What the trade's short words stand for.
const SHORT: &[(&str, &[&str])] = &[
    ("mca", &["minimum circuit ampacity"]),
    ("mocp", &["maximum overcurrent protection", "maximum protection"]),
    ("mop", &["maximum overcurrent protection", "maximum protection"]),
    ("mfs", &["maximum overcurrent protection", "maximum protection"]),
    ("rla", &["rated load"]),
    ("fla", &["full load"]),
    ("flc", &["full load"]),
    ("lra", &["locked rotor"]),
    ("lrc", &["locked rotor"]),
    ("bcsc", &["branch circuit selection current"]),
    ("egc", &["grounding conductor"]),
    ("gfci", &["ground fault"]),
    ("gfpe", &["ground fault"]),
    ("ocpd", &["protective device", "breaker"]),
    ("pf", &["power factor"]),
    ("va", &["volt amperes"]),
    ("kva", &["volt amperes", "kva"]),
    ("kw", &["watts", "power"]),
    ("kvar", &["reactive power"]),
    ("hp", &["horsepower"]),
    ("cmil", &["circular mil"]),
    ("kcmil", &["circular mil", "conductor size"]),
    ("awg", &["conductor size", "size of the conductor"]),
    ("wire", &["conductor"]),
    ("cap", &["capacitor"]),
    ("amps", &["current", "amperes"]),
    ("ampacity", &["ampacity"]),
    ("volts", &["voltage", "volts"]),
    ("ohms", &["resistance", "ohms"]),
    ("sag", &["sag"]),
    ("earth", &["ground"]),
    ("earthing", &["grounding"]),
];

/// Returns the heading a calculation stands under.
#[must_use]
pub fn group_of(name: &str) -> Option<&'static str> {
    GROUPS
        .iter()
        .find(|group| group.names.contains(&name))
        .map(|group| group.title)
}

/// Says what a short word of the trade stands for.
#[must_use]
pub fn stands_for(word: &str) -> Option<&'static str> {
    let word = plain(word);
    SHORT
        .iter()
        .find(|(short, _)| *short == word)
        .map(|(_, long)| long[0])
}

/// Finds the calculations that speak of every one of the words, the closest first.
///
/// A word in the name counts more than one in the title, that more than the name of an input or output, and that more
/// than what one of them means. Words match
/// from their beginning, so `ground` finds grounding and `rise` does not find enterprise.
#[must_use]
pub fn search(words: &[&str]) -> Vec<&'static Calculation> {
    let words: Vec<String> = words
        .iter()
        .map(|word| plain(word))
        .flat_map(|word| word.split(' ').map(str::to_owned).collect::<Vec<_>>())
        .filter(|word| !word.is_empty())
        .collect();
    if words.is_empty() {
        return Vec::new();
    }
    let mut found: Vec<(u32, &'static Calculation)> = registry::all()
        .iter()
        .filter_map(|calculation| {
            words
                .iter()
                .map(|word| weight(calculation, word))
                .sum::<Option<u32>>()
                .map(|weight| (weight, calculation))
        })
        .collect();
    // A stable sort: among equals the order of the list stays.
    found.sort_by_key(|(weight, _)| std::cmp::Reverse(*weight));
    found.into_iter().map(|(_, calculation)| calculation).collect()
}

/// How much a calculation has to do with a word; nothing when it does not speak of it.
fn weight(calculation: &Calculation, word: &str) -> Option<u32> {
    let one = [word];
    let phrases = SHORT
        .iter()
        .find(|(short, _)| *short == word)
        .map_or(&one[..], |(_, long)| *long);
    let says = |text: &str| phrases.iter().any(|phrase| speaks_of(text, phrase));
    let inputs = calculation.inputs;
    let outputs = calculation.outputs;
    match () {
        () if says(calculation.name) => Some(16),
        () if says(calculation.title) => Some(8),
        () if inputs.iter().any(|input| says(input.name)) => Some(4),
        () if outputs.iter().any(|output| says(output.name)) => Some(2),
        () if inputs.iter().any(|input| says(input.meaning))
            || outputs.iter().any(|output| says(output.meaning)) =>
        {
            Some(1)
        }
        () => None,
    }
}

/// Whether a text has a phrase at the beginning of a word.
fn speaks_of(text: &str, phrase: &str) -> bool {
    let text = plain(text);
    text.match_indices(phrase)
        .any(|(at, _)| !text[..at].chars().next_back().is_some_and(char::is_alphanumeric))
}

/// Lowercase, with blanks for hyphens, and one spelling.
fn plain(text: &str) -> String {
    text.trim()
        .to_lowercase()
        .replace(['-', '_'], " ")
        .replace("aluminium", "aluminum")
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn every_calculation_stands_in_one_group() {
        let names: BTreeSet<&str> = registry::all().iter().map(|one| one.name).collect();
        assert_eq!(
            names.len(),
            registry::all().len(),
            "none stands in two, and no name is taken twice"
        );
        assert!(names.iter().all(|name| group_of(name).is_some()));
    }

    #[test]
    fn short_words_of_the_trade_find_theirs() {
        for (word, wanted) in [
            ("mca", "protection-check"),
            ("MCA", "nameplate-rebuild"),
            ("mocp", "protection-check"),
            ("rla", "running-current-check"),
            ("rla", "compressor-device-limit"),
            ("fla", "motor-circuit"),
            ("lra", "locked-rotor"),
            ("lra", "starting-drop"),
            ("wire", "conductor-size-for"),
            ("kvar", "power"),
            ("cmil", "conductor-area"),
            ("aluminium", "resistance-at-temperature"),
        ] {
            let found: Vec<&str> = search(&[word])
                .iter()
                .map(|calculation| calculation.name)
                .collect();
            assert!(found.contains(&wanted), "{word} finds {found:?}");
        }
        assert_eq!(search(&["lra"])[0].name, "locked-rotor");
        assert_eq!(search(&["rla"])[1].name, "compressor-device-limit");
        assert_eq!(search(&["voltage", "drop"])[0].name, "voltage-drop");
        assert!(search(&["plumbing"]).is_empty());
        assert!(search(&[]).is_empty());
        assert!(search(&["  "]).is_empty());
    }
}
