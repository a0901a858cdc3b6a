//! Probabilities in words: the one table.

/// Says a probability in words; always shown beside the figure.
#[must_use]
pub fn in_words(probability: f64) -> &'static str {
    match probability {
        p if p >= 0.95 => "all but certain",
        p if p >= 0.80 => "very likely",
        p if p >= 0.55 => "likely",
        p if p >= 0.30 => "quite possible",
        p if p >= 0.10 => "possible",
        p if p >= 0.03 => "not likely",
        _ => "very unlikely",
    }
}
