//! Probabilities in words: the one table.

/// Says a probability in words; always shown beside the figure.
#[must_use]
pub fn in_words(probability: f64) -> &'static str {
    match probability {
        p if p >= 0.99 => "all but certain",
        p if p >= 0.80 => "very likely",
        p if p >= 0.55 => "likely",
        p if p >= 0.30 => "quite possible",
        p if p >= 0.10 => "possible",
        p if p >= 0.03 => "not likely",
        _ => "very unlikely",
    }
}

/// Says a probability as a percentage; never as certainty or impossibility, which no answers can give.
#[must_use]
pub fn percent(probability: f64) -> String {
    match probability * 100.0 {
        percent if percent < 1.0 => "under 1 %".to_owned(),
        percent if percent > 99.0 => "over 99 %".to_owned(),
        percent => format!("{percent:.0} %"),
    }
}

#[cfg(test)]
mod tests {
    use super::{in_words, percent};

    #[test]
    fn nothing_is_certain_or_impossible() {
        assert_eq!(percent(1.0), "over 99 %");
        assert_eq!(percent(0.0), "under 1 %");
        assert_eq!(percent(0.505), "50 %");
        assert_eq!(in_words(1.0), "all but certain");
    }
}
