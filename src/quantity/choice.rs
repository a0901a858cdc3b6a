//! Choices as people type them.

/// Ways to write one choice; whichever of them is on offer is meant by all.
///
/// Kept cases and answer files may hold either spelling of a metal, so both are read for good.
const ALIKE: &[&[&str]] = &[
    &["aluminum", "aluminium", "al", "alu"],
    &["copper", "cu"],
    &["single", "1", "one", "single-phase", "1-phase", "1ph"],
    &["three", "3", "three-phase", "3-phase", "3ph"],
    &["60", "60c", "60-c"],
    &["75", "75c", "75-c"],
    &["90", "90c", "90-c"],
    &["yes", "y"],
    &["no", "n"],
];

/// Finds the choice that is meant by what was typed: case, blanks and other usual spellings apart.
#[must_use]
pub fn choice_among<'c>(typed: &str, choices: &[&'c str]) -> Option<&'c str> {
    let typed = typed.trim().to_ascii_lowercase().replace([' ', '_'], "-");
    let offered = |wanted: &str| {
        choices
            .iter()
            .find(|choice| choice.eq_ignore_ascii_case(wanted))
            .copied()
    };
    offered(&typed).or_else(|| {
        ALIKE
            .iter()
            .filter(|ways| ways.contains(&typed.as_str()))
            .flat_map(|ways| ways.iter())
            .find_map(|way| offered(way))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn usual_spellings_are_understood() {
        let metals = ["copper", "aluminium"];
        for typed in ["aluminum", "Aluminium", " AL "] {
            assert_eq!(choice_among(typed, &metals), Some("aluminium"), "{typed}");
        }
        assert_eq!(
            choice_among("aluminium", &["copper", "aluminum"]),
            Some("aluminum")
        );
        assert_eq!(choice_among("3", &["single", "three"]), Some("three"));
        assert_eq!(choice_among("three phase", &["single", "three"]), Some("three"));
        assert_eq!(choice_among("75 C", &["60", "75", "90"]), Some("75"));
        // What is not on offer is not guessed.
        assert_eq!(choice_among("3", &["1", "2"]), None);
        assert_eq!(choice_among("tin", &metals), None);
        assert_eq!(choice_among("", &metals), None);
    }
}
