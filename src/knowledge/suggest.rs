//! "Did you mean": the known word nearest to one that is not known.

/// Below this likeness a suggestion would puzzle more than help (Jaro-Winkler, 1 is equal). From memory of
/// what reads well; common practice, no source.
const LIKE_ENOUGH: f64 = 0.84;

/// The known word most like the given one, if any is like enough.
#[must_use]
pub fn nearest<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    known
        .into_iter()
        .map(|candidate| (strsim::jaro_winkler(word, candidate), candidate))
        .filter(|(likeness, _)| *likeness >= LIKE_ENOUGH)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, candidate)| candidate)
}

/// A hint for an unknown word: the nearest one, or the whole list when it is short, or the fallback.
#[must_use]
pub fn did_you_mean<'a>(word: &str, known: impl IntoIterator<Item = &'a str>, fallback: &str) -> String {
    let known: Vec<&str> = known.into_iter().collect();
    if let Some(near) = nearest(word, known.iter().copied()) {
        return format!("did you mean `{near}`?");
    }
    match known.as_slice() {
        few @ [_, ..] if few.len() <= 10 => format!("use {}", one_of(few)),
        _ => fallback.to_owned(),
    }
}

/// Lists words as "`a`, `b` or `c`".
#[must_use]
pub fn one_of(words: &[&str]) -> String {
    match words {
        [] => String::new(),
        [one] => format!("`{one}`"),
        [most @ .., last] => {
            let most: Vec<_> = most.iter().map(|word| format!("`{word}`")).collect();
            format!("{} or `{last}`", most.join(", "))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{did_you_mean, nearest, one_of};

    #[test]
    fn nearest_takes_a_slip_and_leaves_a_stranger() {
        let known = ["locked-compressor", "loose-splice", "pitted-contactor"];
        assert_eq!(nearest("loose-splise", known), Some("loose-splice"));
        assert_eq!(nearest("gas-valve", known), None);
    }

    #[test]
    fn hint_falls_back_to_the_list_then_to_the_words() {
        assert_eq!(
            did_you_mean("x", ["any", "locked-out"], "look"),
            "use `any` or `locked-out`"
        );
        assert_eq!(did_you_mean("x", [], "look"), "look");
        assert_eq!(one_of(&["a", "b", "c"]), "`a`, `b` or `c`");
    }
}
