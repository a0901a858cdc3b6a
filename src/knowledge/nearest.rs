//! "Did you mean": the known word nearest to one that is not known.

/// Below this likeness a suggestion puzzles more than it helps (Jaro-Winkler; 1 is equal). Ids here are long and
/// share words, so unrelated ones already reach 0.75. Common practice, no source.
const LIKE_ENOUGH: f64 = 0.84;

/// Bytes beyond which a text is no id with a slip in it. Comparing takes as long as the one text times the other.
const LONGEST: usize = 200;

/// Findings among which each gets its suggestion. Nobody reads more at once, and comparing each of a hundred thousand
/// unknown ids with every known one takes minutes; five hundred took a second.
const MOST_SUGGESTED: usize = 100;

/// The nearest of some ids, when one is near enough to be a slip of the finger.
pub fn nearest<'a>(id: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    if id.len() > LONGEST {
        return None;
    }
    known
        .into_iter()
        .filter(|candidate| candidate.len() <= LONGEST)
        .map(|candidate| (strsim::jaro_winkler(id, candidate), candidate))
        .filter(|(likeness, _)| *likeness >= LIKE_ENOUGH)
        // Of equally near ones the first by alphabet, so that the answer does not depend on their order.
        .max_by(|a, b| a.0.total_cmp(&b.0).then_with(|| b.1.cmp(a.1)))
        .map(|(_, candidate)| candidate)
}

/// Says that an id is unknown, with the nearest known one when there is one, or all when they are few.
pub fn unknown<'a>(what: &str, id: &str, known: impl Iterator<Item = &'a str> + Clone) -> String {
    const FEW: usize = 8;
    match nearest(id, known.clone()) {
        Some(near) => format!("unknown {what} `{id}`; did you mean `{near}`?"),
        None if known.clone().count() <= FEW => {
            let all: Vec<String> = known.map(|id| format!("`{id}`")).collect();
            format!("unknown {what} `{id}`, expected {}", all.join(", "))
        }
        None => format!("unknown {what} `{id}`; `lineside trees list` shows what there is"),
    }
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

/// As [`did_you_mean`], for one more finding after `found` others: beyond the first hundred it is the fallback.
pub(crate) fn did_you_mean_after<'a>(
    found: usize,
    word: &str,
    known: impl IntoIterator<Item = &'a str>,
    fallback: &str,
) -> String {
    if found < MOST_SUGGESTED {
        did_you_mean(word, known, fallback)
    } else {
        fallback.to_owned()
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
    use super::{did_you_mean, did_you_mean_after, nearest, one_of};

    #[test]
    fn nearest_takes_a_slip_and_leaves_a_stranger() {
        let known = ["locked-compressor", "loose-splice", "pitted-contactor"];
        assert_eq!(nearest("loose-splise", known), Some("loose-splice"));
        assert_eq!(nearest("gas-valve", known), None);
    }

    #[test]
    fn what_is_too_long_for_an_id_or_one_of_thousands_gets_no_suggestion() {
        let (long, known) = ("x".repeat(201), "x".repeat(200));
        assert_eq!(nearest(&long, [known.as_str()]), None);
        assert_eq!(nearest(&known, [long.as_str()]), None);
        assert_eq!(nearest(&known, [known.as_str()]), Some(known.as_str()));
        let after = |found| did_you_mean_after(found, "any-time", ["any-times"], "look");
        assert_eq!(after(99), "did you mean `any-times`?");
        assert_eq!(after(100), "look");
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
