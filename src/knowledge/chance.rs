//! Words for chances, and how a few stated chances become a whole distribution.

/// Words and the chances they stand for.
///
/// The words and their order follow the common reading of verbal frequencies; the figures are our choice, no source.
pub const CHANCES: &[(&str, f64)] = &[
    ("always", 0.97),
    ("mostly", 0.8),
    ("often", 0.5),
    ("sometimes", 0.2),
    ("seldom", 0.05),
    ("never", 0.004),
];

/// The word nearest to a chance, by ratio of odds.
#[must_use]
pub fn word(chance: f64) -> &'static str {
    let odds = |chance: f64| (chance / (1.0 - chance)).ln();
    let wanted = odds(chance.clamp(1e-6, 1.0 - 1e-6));
    CHANCES
        .iter()
        .min_by(|a, b| (odds(a.1) - wanted).abs().total_cmp(&(odds(b.1) - wanted).abs()))
        .map_or("", |(word, _)| word)
}

/// Least left for what is not stated, when stated chances leave it nothing: an answer that was wrong must stay undoable.
/// Our choice, no source.
const LEAST: f64 = 0.005;

/// The whole distribution: stated chances as they stand, the rest shared as usual; sums to 1.
///
/// `usual` is above 0 everywhere. Stated chances that leave nothing are scaled down to leave a little.
#[must_use]
pub fn spread(usual: &[f64], stated: &[Option<f64>]) -> Vec<f64> {
    let named: f64 = stated.iter().flatten().sum();
    let unnamed: f64 = usual
        .iter()
        .zip(stated)
        .filter(|(_, stated)| stated.is_none())
        .map(|(usual, _)| usual)
        .sum();
    let left = if unnamed > 0.0 {
        (1.0 - named).max(LEAST)
    } else {
        0.0
    };
    let total = named + left;
    usual
        .iter()
        .zip(stated)
        .map(|(usual, stated)| stated.unwrap_or(left * usual / unnamed.max(f64::MIN_POSITIVE)) / total)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::{spread, word};

    #[test]
    fn the_rest_is_shared_as_usual() {
        let shares = spread(&[0.6, 0.3, 0.1], &[None, Some(0.7), None]);
        let expected = [0.3 * 6.0 / 7.0, 0.7, 0.3 / 7.0];
        for (share, expected) in shares.iter().zip(expected) {
            assert!((share - expected).abs() < 1e-12, "{shares:?}");
        }
    }

    #[test]
    fn nothing_becomes_impossible() {
        let shares = spread(&[0.5, 0.5], &[Some(1.0), None]);
        assert!(shares[1] > 0.004 && (shares.iter().sum::<f64>() - 1.0).abs() < 1e-12);
    }

    #[test]
    fn a_chance_gets_the_nearest_word() {
        assert_eq!(word(0.75), "mostly");
        assert_eq!(word(0.1), "seldom");
        assert_eq!(word(0.996), "always");
    }
}
